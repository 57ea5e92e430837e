//! Days on which nobody is there to work: each with its name, its first and last day, who waters
//! meanwhile, and whether it comes again every year.

use chrono::NaiveDate;
use egui::{Ui, WidgetInfo};

use crate::season::{Away, AwayId, Op, Season};
use crate::units::{DateSpan, shifted};
use crate::words::{days_away as said, fields};

use crate::window::action::Action;
use crate::window::kit::{
    Drafts, Field, Form, Owner, Reader, State, Typed, WIDE_PT, button, date, row_ui, small_button_ui, soft_ui, state_ui,
};
use crate::window::scene::Scene;
use crate::window::theme;

/// The fields of one absence, whose names say which it is.
struct Absence<'a> {
    form: Form<'a>,
    names: [String; 4],
    shown: (NaiveDate, NaiveDate),
}

impl<'a> Absence<'a> {
    fn of(away: &'a Away, which: &str) -> Self {
        let names = [said::NAME, said::FIRST, said::LAST, said::WATERS].map(|label| said::of(label, which));
        let owner = Owner::Away(away.id);
        Self::new(owner, names, &away.name, &away.waters, (away.span.from(), away.span.last()))
    }

    /// A new one, a week from that day on, after those that are away already.
    fn to_come(season: &Season, day: NaiveDate) -> Self {
        let names = [said::NAME, said::FIRST, said::LAST, said::WATERS].map(fields::newly);
        let day = season.away().into_iter().fold(day, |day, away| {
            let is_free = away.span.until() <= day || away.span.from() > shifted(day, 6);
            if is_free { day } else { away.span.until() }
        });
        let last = shifted(day, 6);
        Self::new(Owner::Form("away"), names, "", "", (day, last))
    }

    fn new(owner: Owner, names: [String; 4], name: &'a str, waters: &'a str, shown: (NaiveDate, NaiveDate)) -> Self {
        let [of_name, of_first, of_last, of_waters] = names.clone();
        let name = Field::new(said::NAME, name).named(of_name).hint(said::NAME_HINT).width(WIDE_PT);
        let all = [
            name,
            Field::date(said::FIRST, shown.0).named(of_first).hint(said::DAY_HINT),
            Field::date(said::LAST, shown.1).named(of_last).hint(said::DAY_HINT),
            Field::new(said::WATERS, waters).named(of_waters).hint(said::WATERS_HINT).width(WIDE_PT),
        ];
        Self { form: Form::new(owner, all), names, shown }
    }

    fn read(&self, reader: &mut Reader<'_>, (id, every_year): (AwayId, bool)) -> Option<Away> {
        let [of_name, of_first, of_last, of_waters] = &self.names;
        let (name, waters) = (reader.text(of_name).to_owned(), reader.text(of_waters).to_owned());
        let first = reader.read(of_first, |text| date::near(text, self.shown.0));
        let last = reader.read(of_last, |text| date::near(text, first.unwrap_or(self.shown.0)));
        let (first, last) = (first?, last?);
        let span = last.succ_opt().and_then(|until| DateSpan::new(first, until).ok());
        if span.is_none() {
            reader.fault(of_last, said::before_the_first(last, first));
        }
        Some(Away { id, name, span: span?, waters, every_year })
    }

    fn typed(&self, drafts: &Drafts, rest: (AwayId, bool), season: &Season) -> Typed<Away> {
        let may = |away: &Away| {
            season.away_apart(away)?;
            season.may(&Op::PutAway(away.clone()).into())
        };
        self.form.typed(drafts, |reader| self.read(reader, rest), may)
    }

    /// Of a new one; what is away already is changed.
    fn typed_new(&self, drafts: &Drafts, rest: (AwayId, bool), season: &Season) -> Typed<Away> {
        let may = |away: &Away| season.may(&Op::PutAway(season.away_beside(away.clone())?).into());
        self.form.typed(drafts, |reader| self.read(reader, rest), may)
    }

    /// How many days it is counts what is typed, where that can be.
    fn ui(&self, ui: &mut Ui, drafts: &mut Drafts, typed: &Typed<Away>) {
        let faults = &typed.faults();
        let [before @ .., waters] = &self.names;
        for name in before {
            self.form.line_ui(ui, drafts, faults, name, |_| ());
        }
        self.form.line_ui(ui, drafts, faults, waters, |ui| {
            if let Ok(away) = &typed.read {
                ui.label(said::days(away.span.days()));
            }
        });
        self.form.foot_ui(ui, faults);
    }
}

/// `every_year` is what was chosen for a new one.
pub(super) fn absences_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    every_year: &mut bool,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let all = scene.season.away();
    if all.is_empty() {
        state_ui(ui, State::InOrder, said::NONE_YET);
    }
    for (at, away) in all.iter().enumerate() {
        let alike = |other: &&&Away| said::called(&other.name) == said::called(&away.name);
        let which = said::which(said::called(&away.name), all.iter().take(at).filter(alike).count());
        away_ui(ui, scene, (away, &which), drafts, actions);
        ui.add_space(4.0);
        ui.separator();
    }
    if !all.is_empty() {
        ui.label(theme::bold(said::MORE));
    }
    new_ui(ui, scene, every_year, drafts, actions);
}

fn away_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (away, which): (&Away, &str),
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let absence = Absence::of(away, which);
    let read = |drafts: &Drafts| absence.typed(drafts, (away.id, away.every_year), scene.season);
    let typed = read(drafts);
    absence.ui(ui, drafts, &typed);
    if absence.form.is_left(ui, drafts)
        && let Ok(changed) = read(drafts).read
    {
        actions.push(Action::edit(Op::PutAway(changed)));
        absence.form.forget(drafts);
    }
    row_ui(ui, "", |ui, _| {
        let mut every_year = away.every_year;
        let name = said::of(said::EVERY_YEAR, which);
        let check = ui.checkbox(&mut every_year, said::EVERY_YEAR);
        check.widget_info(|| WidgetInfo::selected(egui::Role::CheckBox, true, away.every_year, &name));
        if every_year != away.every_year {
            actions.push(Action::edit(Op::PutAway(Away { every_year, ..away.clone() })));
        }
        if small_button_ui(ui, said::REMOVE, &said::of(said::REMOVE, which)) {
            actions.push(Action::edit(Op::RemoveAway(away.id)));
            absence.form.forget(drafts);
        }
    });
}

fn new_ui(ui: &mut Ui, scene: &Scene<'_>, every_year: &mut bool, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    let absence = Absence::to_come(scene.season, scene.day);
    let typed = absence.typed_new(drafts, (AwayId(scene.season.next_id()), *every_year), scene.season);
    absence.ui(ui, drafts, &typed);
    row_ui(ui, "", |ui, _| {
        ui.checkbox(every_year, said::COMES_EVERY_YEAR);
        let pressed = absence.form.take_ui(ui, drafts, &typed, button(said::ADD)).clicked();
        let Some(away) = typed.read.ok().and_then(|away| scene.season.away_beside(away).ok()) else { return };
        if away.id.0 < scene.season.next_id() {
            soft_ui(ui, said::IS_CHANGED);
        }
        if pressed {
            actions.push(Action::edit(Op::PutAway(away)));
            absence.form.forget(drafts);
            *every_year = false;
        }
    });
}
