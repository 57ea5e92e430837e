//! A week away, written down from the week that is shown: first and last day stand there already.

use chrono::NaiveDate;
use egui::Ui;

use crate::season::{Away, AwayId, Op};
use crate::units::{DateSpan, shifted};
use crate::words::{days_away as said, jobs, records};

use crate::window::action::{Action, Go};
use crate::window::kit::{Drafts, Field, Form, Owner, Reader, Typed, button, button_ui, date, soft_ui};
use crate::window::scene::Scene;
use crate::window::state::Page;

const OWNER: Owner = Owner::Form("away_from_work");
const DAY_PT: f32 = 96.0;
const WATERS_PT: f32 = 110.0;

/// `asked`: the keys are to go to its first field. Whether it is done with.
pub(super) fn away_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    monday: NaiveDate,
    asked: bool,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) -> bool {
    let first = monday.max(scene.today);
    let shown = a_week(first, drafts);
    let form = form(shown);
    let entered = form.is_entered(ui);
    let faults = typed(&form, scene, shown, drafts).faults();
    let mut done = false;
    ui.horizontal_wrapped(|ui| {
        form.several_ui(ui, drafts, &faults, &[said::FIRST, said::LAST, said::WATERS]);
        if asked {
            form.focus(ui, drafts, said::FIRST);
        }
        // the day may be typed in the frame in which Enter is pressed
        let shown = a_week(first, drafts);
        let form = self::form(shown);
        let typed = typed(&form, scene, shown, drafts);
        let pressed = form.take_ui(ui, drafts, &typed, button(records::WRITE_IT)).clicked();
        let written = typed.read.ok().and_then(|away| scene.season.away_beside(away).ok());
        if written.as_ref().is_some_and(|away| away.id.0 < scene.season.next_id()) {
            soft_ui(ui, said::IS_CHANGED);
        }
        if let Some(away) = written.filter(|_| pressed || entered) {
            actions.push(Action::edit(Op::PutAway(away)));
            form.forget(drafts);
            done = true;
        }
        if button_ui(ui, jobs::MORE) {
            actions.push(Action::Go(Go::Page(Page::Days)));
        }
    });
    form.foot_ui(ui, &faults);
    done
}

/// From the first day, or from the one that is typed.
fn a_week(first: NaiveDate, drafts: &Drafts) -> (NaiveDate, NaiveDate) {
    let typed = drafts.text(&OWNER, said::FIRST).and_then(|text| date::near(text.trim(), first).ok());
    (first, shifted(typed.unwrap_or(first), 6))
}

fn form((first, last): (NaiveDate, NaiveDate)) -> Form<'static> {
    let fields = [
        Field::date(said::FIRST, first).width(DAY_PT),
        Field::date(said::LAST, last).width(DAY_PT),
        Field::new(said::WATERS, "").hint(said::WATERS_HINT).width(WATERS_PT),
    ];
    Form::new(OWNER, fields)
}

fn typed(form: &Form<'_>, scene: &Scene<'_>, shown: (NaiveDate, NaiveDate), drafts: &Drafts) -> Typed<Away> {
    let may = |away: &Away| scene.season.may(&Op::PutAway(scene.season.away_beside(away.clone())?).into());
    form.typed(drafts, |reader| read(reader, scene, shown), may)
}

fn read(reader: &mut Reader<'_>, scene: &Scene<'_>, shown: (NaiveDate, NaiveDate)) -> Option<Away> {
    let waters = reader.text(said::WATERS).to_owned();
    let first = reader.read(said::FIRST, |text| date::near(text, shown.0));
    let last = reader.read(said::LAST, |text| date::near(text, first.unwrap_or(shown.0)));
    let (first, last) = (first?, last?);
    let span = last.succ_opt().and_then(|until| DateSpan::new(first, until).ok());
    if span.is_none() {
        reader.fault(said::LAST, said::before_the_first(last, first));
    }
    Some(Away { id: AwayId(scene.season.next_id()), name: String::new(), span: span?, waters, every_year: false })
}
