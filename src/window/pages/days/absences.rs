//! Days on which nobody is there to work: each with its name, its first and last day, who waters
//! meanwhile, and whether it comes again every year.

use chrono::{Days, NaiveDate};
use egui::{Id, Ui};

use crate::season::{Away, AwayId, FieldId, Op, Season};
use crate::units::DateSpan;
use crate::words;

use super::{DaysPage, soft_ui};
use crate::window::action::Action;
use crate::window::kit::old_form::{Faults, Form, Lines, Reader};
use crate::window::kit::pick_ui;
use crate::window::kit::{FIELD_PT, WIDE_PT, button_ui, row_ui, small_button_ui};
use crate::window::scene::{Scene, counted};
use crate::window::theme;

const NAME: &str = words::field(FieldId::AwayName);
const FIRST: &str = words::field(FieldId::AwayFirst);
const LAST: &str = words::field(FieldId::AwayLast);
const WATERS: &str = "Who waters";

/// The names of the fields; each absence has its own.
struct Names {
    name: String,
    first: String,
    last: String,
    waters: String,
}

impl Names {
    /// Which of several it is that are alike in name and first day, from 0.
    fn of(away: &Away, number: usize) -> Self {
        let name = &away.name;
        let which = if number == 0 { name.clone() } else { format!("{name}, {}", number + 1) };
        Self {
            name: format!("{NAME}: {which}"),
            first: format!("{FIRST}: {which}"),
            last: format!("{LAST}: {which}"),
            waters: format!("{WATERS}: {which}"),
        }
    }

    fn of_new() -> Self {
        Self {
            name: format!("{NAME}, new"),
            first: format!("{FIRST}, new"),
            last: format!("{LAST}, new"),
            waters: format!("{WATERS}, new"),
        }
    }
}

/// What stands in the fields while nothing else is typed.
struct Shown {
    name: String,
    first: NaiveDate,
    last: NaiveDate,
    waters: String,
}

impl Shown {
    fn of(away: &Away) -> Self {
        let (first, last) = (away.span.from(), away.span.last());
        Self { name: away.name.clone(), first, last, waters: away.waters.clone() }
    }

    /// The days as they are typed, or what is wrong with each field.
    fn read(
        &self,
        form: &Form,
        names: &Names,
        (id, every_year): (AwayId, bool),
        season: &Season,
    ) -> Result<Away, Faults> {
        let mut reader = Reader::new(form);
        let name = reader.read(&names.name, &self.name, |text| Ok(text.to_owned())).unwrap_or_default();
        let waters = reader.read(&names.waters, &self.waters, |text| Ok(text.to_owned())).unwrap_or_default();
        let near = self.first.checked_sub_days(Days::new(183)).unwrap_or(self.first);
        let first = reader.date(&names.first, &day(self.first), near);
        let last = reader.date(&names.last, &day(self.last), first.unwrap_or(self.last));
        let span = first.zip(last).and_then(|(first, last)| {
            let span = last.succ_opt().and_then(|until| DateSpan::new(first, until).ok());
            if span.is_none() {
                reader.fault(&names.last, &format!("{last} is before the first day, {first}"));
            }
            span
        });
        let Some(span) = span else { return Err(reader.faults) };
        let away = Away { id, name, span, waters, every_year };
        if let Err(why) = season.may(&Op::PutAway(away.clone()).into()) {
            let field = match why.field {
                FieldId::AwayFirst => &names.first,
                FieldId::AwayLast => &names.last,
                _ => &names.name,
            };
            reader.fault(field, &words::refusal(&why));
        }
        if reader.faults.is_empty() { Ok(away) } else { Err(reader.faults) }
    }
}

fn day(date: NaiveDate) -> String {
    date.format("%-d %b %Y").to_string()
}

pub(super) fn absences_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut DaysPage, actions: &mut Vec<Action>) {
    let all = scene.season.away();
    if all.is_empty() {
        soft_ui(ui, "None: work is planned for every day. A trip or a school holiday moves it inside its windows");
    }
    for (at, away) in all.iter().enumerate() {
        let alike = |other: &&&Away| (&other.name, other.span.from()) == (&away.name, away.span.from());
        let number = all.iter().take(at).filter(alike).count();
        away_ui(ui, scene, page, away, number, actions);
        ui.add_space(4.0);
        ui.separator();
    }
    new_ui(ui, scene, page, actions);
}

fn away_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut DaysPage, away: &Away, number: usize, actions: &mut Vec<Action>) {
    let (shown, names) = (Shown::of(away), Names::of(away, number));
    let form = page.forms.entry(Some(away.id)).or_default();
    let of = (away.id, away.every_year);
    let faults = shown.read(form, &names, of, scene.season).err().unwrap_or_default();
    fields_ui(ui, form, &shown, &names, &faults, Id::unique(("days away", away.id)));
    if form.is_left(ui)
        && let Ok(changed) = shown.read(form, &names, of, scene.season)
    {
        actions.push(Action::edit(Op::PutAway(changed)));
        *form = Form::default();
    }
    row_ui(ui, "", |ui, _| {
        let mut every_year = away.every_year;
        let box_ = ui.checkbox(&mut every_year, "Every year");
        let said = format!("Every year: {}", away.name);
        box_.widget_info(|| egui::WidgetInfo::selected(egui::Role::CheckBox, true, away.every_year, &said));
        if every_year != away.every_year {
            actions.push(Action::edit(Op::PutAway(Away { every_year, ..away.clone() })));
        }
        if small_button_ui(ui, "Remove", &format!("Remove: {}", away.name)) {
            actions.push(Action::edit(Op::RemoveAway(away.id)));
            page.forms.remove(&Some(away.id));
        }
    });
}

fn new_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut DaysPage, actions: &mut Vec<Action>) {
    if !scene.season.away().is_empty() {
        ui.label(theme::bold("More days away"));
    }
    let last = scene.day.checked_add_days(Days::new(6)).unwrap_or(scene.day);
    let shown = Shown { name: String::new(), first: scene.day, last, waters: String::new() };
    let names = Names::of_new();
    let form = page.forms.entry(None).or_default();
    let read = shown.read(form, &names, (AwayId(scene.season.next_id()), page.every_year), scene.season);
    let mut faults = read.as_ref().err().cloned().unwrap_or_default();
    if form.text(&names.name, "").trim().is_empty() {
        // nobody is told off for what is still to come
        faults.remove(&names.name);
    }
    fields_ui(ui, form, &shown, &names, &faults, Id::unique("new days away"));
    row_ui(ui, "", |ui, _| {
        ui.checkbox(&mut page.every_year, "Comes every year");
        ui.add_enabled_ui(read.is_ok(), |ui| {
            if button_ui(ui, "Add days away")
                && let Ok(away) = &read
            {
                actions.push(Action::edit(Op::PutAway(away.clone())));
                page.forms.remove(&None);
                page.every_year = false;
            }
        });
    });
}

fn fields_ui(ui: &mut Ui, form: &mut Form, shown: &Shown, names: &Names, faults: &Faults, of: Id) {
    let mut lines = Lines { form, faults, of };
    lines.named_ui(ui, (NAME, &names.name), (&shown.name, "spring break"), WIDE_PT, |_| None);
    for (label, name, date) in [(FIRST, &names.first, shown.first), (LAST, &names.last, shown.last)] {
        lines.named_ui(ui, (label, name), (&day(date), "12 Mar"), FIELD_PT, |ui| {
            pick_ui(ui, name, date).map(|date| date.to_string())
        });
    }
    let days = counted(usize::try_from((shown.last - shown.first).num_days() + 1).unwrap_or(0), "day");
    lines.named_ui(ui, (WATERS, &names.waters), (&shown.waters, "nobody"), WIDE_PT, |ui| {
        ui.label(days);
        None
    });
}
