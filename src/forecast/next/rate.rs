//! A rate from records, and what else they taught.

use crate::season::{Counted, CropKey, DayRange, SowingId, Verdict};

/// Below so many seeds a rate is called weak: one seed is a whole per cent. Our choice, no source.
pub(super) const FEW_SEEDS: u32 = 100;

/// One thing that the records say otherwise than the crop.
#[derive(Clone, Debug, PartialEq)]
pub enum Learned {
    Germination {
        sowing: SowingId,
        rate: Rate,
    },
    /// Days from sowing until up.
    Emergence {
        crop: CropKey,
        from: DayRange,
        to: DayRange,
        observations: u32,
    },
    /// Days from sowing until moved on, or until the leaves that this waits for.
    MovingOn {
        crop: CropKey,
        from: DayRange,
        to: DayRange,
        observations: u32,
    },
    /// How plants turned out at that age: nothing is changed by it.
    Verdict {
        sowing: SowingId,
        verdict: Verdict,
    },
}

/// A germination rate from records.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rate {
    pub up: u32,
    pub sown: u32,
    /// Pulled towards what was reckoned with before.
    pub percent: u8,
    pub before_percent: u8,
    /// Year of the last of them.
    pub year: i32,
}

impl Rate {
    /// As it was counted, in per cent.
    pub fn counted_percent(&self) -> f64 {
        100.0 * f64::from(self.up) / f64::from(self.sown.max(1))
    }

    /// Few seeds stand behind it.
    pub const fn is_weak(&self) -> bool {
        self.sown < FEW_SEEDS
    }

    /// For the sowing that starts from it.
    pub const fn counted(&self) -> Counted {
        Counted { up: self.up, sown: self.sown, year: self.year }
    }
}
