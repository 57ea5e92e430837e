//! A record as one step of the season.

use crate::season::{Edit, EditError, EditLabel, Op};
use crate::window::action::Action;
use crate::window::scene::Scene;

/// As one step that is called so, or why the season does not take it.
pub(super) fn put(scene: &Scene<'_>, label: EditLabel, op: Op) -> Result<Action, EditError> {
    let edit = Edit::new(label, vec![op]);
    scene.may(&edit)?;
    Ok(Action::edit(edit))
}
