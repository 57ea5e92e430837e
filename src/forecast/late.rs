//! What a lot does later than the others of its sowing.

use crate::season::{Delays, Lot, Sowing};

/// Days by which a lot is sown, moved on or out later than the rules say.
#[derive(Clone, Copy)]
pub(super) struct Late {
    pub(super) sown: u16,
    pub(super) moved_on: u16,
    pub(super) out: u16,
}

impl Late {
    pub(super) fn of(sowing: &Sowing, lot: &Lot) -> Self {
        let none = Self { sown: 0, moved_on: 0, out: 0 };
        match lot.delays {
            // what stands there already was sown
            Delays::Sowing if sowing.begun.is_none() => Self { sown: lot.later, ..none },
            Delays::Sowing | Delays::MovingOn => Self { moved_on: lot.later, ..none },
            Delays::Out => Self { out: lot.later, ..none },
        }
    }
}

/// Days by which a lot starts that step later than its rule says.
pub fn start_late(sowing: &Sowing, lot: &Lot, index: usize) -> u16 {
    let late = Late::of(sowing, lot);
    if index == 0 { late.sown } else { late.moved_on }
}
