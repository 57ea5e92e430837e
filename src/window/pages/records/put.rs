//! A record as one step of the season.

use crate::season::{Edit, EditError, EditLabel, Op, Season};
use crate::window::action::Action;

/// As one step that is called so, or why the season does not take it.
pub(super) fn put(season: &Season, label: EditLabel, op: Op) -> Result<Action, EditError> {
    let edit = Edit::new(label, vec![op]);
    season.may(&edit)?;
    Ok(Action::edit(edit))
}
