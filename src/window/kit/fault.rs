//! Why what is typed can't be taken, as it stands beside its field.

use crate::season::{Edit, EditError, Season};
use crate::trade::{NoShelf, NoSuchTray};
use crate::units::{DateError, EmptySpan, ParseError};
use crate::window::action::Action;
use crate::words;

#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::window) struct Fault(String);

impl Fault {
    pub(in crate::window) fn into_text(self) -> String {
        self.0
    }
}

impl From<String> for Fault {
    fn from(why: String) -> Self {
        Self(why)
    }
}

impl From<&str> for Fault {
    fn from(why: &str) -> Self {
        Self(why.to_owned())
    }
}

impl From<EditError> for Fault {
    fn from(why: EditError) -> Self {
        Self(words::refusal(&why))
    }
}

impl From<ParseError> for Fault {
    fn from(why: ParseError) -> Self {
        Self(why.to_string())
    }
}

impl From<DateError> for Fault {
    fn from(why: DateError) -> Self {
        Self(why.to_string())
    }
}

impl From<EmptySpan> for Fault {
    fn from(why: EmptySpan) -> Self {
        Self(words::fields::not_after(&why))
    }
}

impl From<NoShelf> for Fault {
    fn from(why: NoShelf) -> Self {
        Self(why.to_string())
    }
}

impl From<NoSuchTray> for Fault {
    fn from(why: NoSuchTray) -> Self {
        Self(why.to_string())
    }
}

/// An edit that the season would take, or why it wouldn't.
pub(in crate::window) fn tried(season: &Season, edit: impl Into<Edit>) -> Result<Action, Fault> {
    let edit = edit.into();
    season.may(&edit)?;
    Ok(Action::edit(edit))
}
