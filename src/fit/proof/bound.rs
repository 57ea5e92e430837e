//! What is proven about one day, and which of several bounds is told.

use crate::fit::answer::{Bound, BoundKind};

/// What is proven about a day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::fit) struct DayProof {
    pub(in crate::fit) bound: Option<Bound>,
    /// At least so many items can't stand; bounds on items apart from each other add up.
    pub(in crate::fit) short: i64,
}

/// Keeps the bound with the greatest shortage.
#[derive(Default)]
pub(in crate::fit) struct Strongest(pub(in crate::fit) Option<Bound>);

impl Strongest {
    /// A bound about so many items, which are asked for if it is the one to keep.
    pub(super) fn offer_about(
        &mut self,
        kind: BoundKind,
        short: i64,
        number: usize,
        items: impl FnOnce() -> Vec<usize>,
    ) {
        let old = self.0.as_ref().map(Bound::order);
        if short > 0 && old.is_none_or(|old| kind.order(short, number) < old) {
            let held = i64::try_from(number).unwrap_or(i64::MAX) - short;
            self.0 = Some(Bound { kind, items: items(), held });
        }
    }

    pub(in crate::fit) fn offer(&mut self, kind: BoundKind, items: Vec<usize>, held: i64) {
        let bound = Bound { kind, items, held };
        if bound.short() <= 0 {
            return;
        }
        if self.0.as_ref().is_none_or(|old| bound.order() < old.order()) {
            self.0 = Some(bound);
        }
    }
}
