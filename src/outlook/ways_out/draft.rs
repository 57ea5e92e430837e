//! A change, or several, that is not yet tried.

use crate::season::{Edit, EditLabel, Op, Season, Sowing};

use super::way::{Change, Price};

/// A way that is not yet tried.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::outlook) struct Draft {
    pub(in crate::outlook) changes: Vec<Change>,
    pub(in crate::outlook) ops: Vec<Op>,
    pub(super) price: Price,
    parts: Vec<Part>,
}

/// Changes whose edits go together, as all of them are of one sowing.
#[derive(Clone, Debug, PartialEq)]
struct Part {
    changes: Vec<Change>,
    ops: Vec<Op>,
    price: Price,
    /// Where they are several: each of them alone.
    alone: Vec<Self>,
}

impl From<Part> for Draft {
    fn from(part: Part) -> Self {
        let Part { changes, ops, price, .. } = part.clone();
        Self { changes, ops, price, parts: vec![part] }
    }
}

impl Draft {
    pub(super) fn of_sowing(change: Change, sowing: Sowing, price: Price) -> Self {
        Self::new(change, vec![Op::PutSowing(sowing)], price)
    }

    pub(super) fn new(change: Change, ops: Vec<Op>, price: Price) -> Self {
        Part { changes: vec![change], ops, price, alone: Vec::new() }.into()
    }

    /// The same as a second change of a sowing that was changed by `first`; `alone` are changes of the sowing as it is,
    /// among which either may be.
    pub(super) fn after(self, first: &Self, alone: &[Self]) -> Self {
        let either = |one: &&Self| one.changes == first.changes || one.changes == self.changes;
        let alone = alone.iter().filter(either).flat_map(|one| &one.parts).cloned().collect();
        let changes = first.changes.iter().chain(&self.changes).cloned().collect();
        Part { changes, ops: self.ops, price: first.price.and(self.price), alone }.into()
    }

    /// Several at once; `None` if there is none.
    pub(super) fn together<'a>(all: impl Iterator<Item = &'a Self>) -> Option<Self> {
        all.cloned().reduce(|mut sum, one| {
            sum.changes.extend(one.changes);
            sum.ops.extend(one.ops);
            sum.parts.extend(one.parts);
            sum.price = sum.price.and(one.price);
            sum
        })
    }

    /// The sowings as they are put.
    pub(super) fn sowings(&self) -> impl Iterator<Item = &Sowing> {
        self.ops.iter().filter_map(|op| match op {
            Op::PutSowing(sowing) => Some(sowing),
            _ => None,
        })
    }

    /// Whether the grower has refused none of its changes.
    pub(super) fn is_wanted(&self, season: &Season) -> bool {
        let unwanted = &season.settings().unwanted;
        !self.changes.iter().any(|change| unwanted.contains(&change.refused()))
    }

    /// What can be left out by itself.
    pub(super) fn parts(&self) -> Vec<Self> {
        self.parts.iter().cloned().map(Self::from).collect()
    }

    /// Where several changes are one part: each of them alone.
    pub(super) fn alone(&self) -> Vec<Self> {
        self.parts.iter().flat_map(|part| &part.alone).cloned().map(Self::from).collect()
    }

    pub(in crate::outlook) fn edit(&self) -> Edit {
        Edit::new(EditLabel::MakeRoom(self.changes.len()), self.ops.clone())
    }
}
