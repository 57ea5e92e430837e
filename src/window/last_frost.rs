//! The season's last frost, for the pages that ask for it.

use egui::Ui;

use crate::season::{Frost, Op, Settings};
use crate::trade::frost_on_own_day;
use crate::words::frost as said;

use super::action::Action;
use super::kit::{Drafts, Fault, Field, Owner, date, field_ui, tried};
use super::scene::Scene;

/// The edit that gives the season that frost, or none.
pub(super) fn put_frost(scene: &Scene<'_>, frost: Option<Frost>) -> Result<Action, Fault> {
    tried(scene.season, Op::SetSettings(Settings { frost, ..scene.season.settings().clone() }))
}

/// Its day; an empty field is none.
pub(super) fn last_frost_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    drafts: &mut Drafts,
    label: &'static str,
    actions: &mut Vec<Action>,
) {
    let (frost, near) = (scene.season.settings().frost.as_ref(), scene.near());
    let field = frost.map_or_else(|| Field::date_to_come(label, near), |frost| Field::date(label, frost.date));
    actions.extend(field_ui(ui, drafts, &Owner::Season, &field.hint(said::DAY_HINT), |text| {
        let date = match (text, frost) {
            ("", _) => return put_frost(scene, None),
            (text, Some(frost)) => date::near(text, frost.date)?,
            (text, None) => date::from(text, near)?,
        };
        put_frost(scene, Some(frost_on_own_day(frost, date)))
    }));
}
