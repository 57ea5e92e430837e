//! The season as it would be with a change made: looked at, not touched.

use crate::outlook::ways_out::{Found, WayOut};
use crate::season::{Edit, History, Library, WhatIf};

use super::asked::Asked;
use super::derived::Derived;

/// Ways out of being short of room: looked for when their page asks.
pub(super) type Ways = Asked<u64, Found>;

/// What is shown before it is made.
#[derive(Clone, Debug)]
pub(super) enum Shown {
    Way(Box<WayOut>),
    WhatIf(WhatIf),
    /// Dragged, and not let go of yet.
    ByHand,
}

pub(super) struct Preview {
    pub(super) shown: Shown,
    pub(super) edit: Edit,
    pub(super) history: History,
    pub(super) derived: Derived,
}

impl Preview {
    /// `None` where the season doesn't take it.
    pub(super) fn of(shown: Shown, edit: Edit, history: &History, derived: Derived) -> Option<Self> {
        let mut then = History::new(history.season().clone());
        then.commit(&edit).ok()?;
        Some(Self { shown, edit, history: then, derived })
    }

    /// Its trays stand as they will once it is made, as soon as that is found.
    pub(super) fn settle(&mut self, library: &'static Library, ctx: &egui::Context) {
        let Some((found, _)) = self.derived.take_found() else { return };
        if self.history.add_to_last(&found).is_ok() {
            self.edit.ops.extend(found.ops);
            self.derived.follow(&self.history, library, ctx);
        }
    }

    /// Another change of the same season; what is drawn stays until it is known. Whether the season takes it.
    pub(super) fn turn_to(&mut self, shown: Shown, edit: Edit) -> bool {
        self.history.undo();
        let taken = self.history.commit(&edit).is_ok();
        (self.shown, self.edit) = (shown, edit);
        taken
    }
}
