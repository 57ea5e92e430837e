use std::sync::Arc;

use crate::season::{GrowthPoint, PartOfDay, RimShape, Role, SowingId, TrayKey};
use crate::trade;
use crate::trade::Bears;
use crate::units::{DateSpan, Length};
use chrono::NaiveDate;

/// One tray, stack or block of loose pots that needs one spot for a span of days.
///
/// A phase ends whenever shape, height or needs change; its tray keeps its spot where it can.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stay {
    /// More than one is a stack.
    pub trays: Vec<TrayKey>,
    /// `None` for guests and shared trays.
    pub sowing: Option<SowingId>,
    pub phase: Phase,
    pub span: DateSpan,
    pub part: PartOfDay,
    pub shape: Shape,
    /// Clear height it needs on the day it is tallest, gap to the lamp included where it wants one.
    pub height: Length,
    /// How it gets there; `None` for what does not grow.
    pub growth: Option<Growth>,
    /// When watered.
    pub grams: u32,
    /// Of that, what it weighs whoever stands in it: the tray itself, and the mix of an open flat.
    pub fixed_grams: u32,
    pub plants: u32,
    pub needs: Needs,
}

/// The clear height that plants need, day by day.
#[derive(Clone, Debug, PartialEq)]
pub struct Growth {
    pub(super) sown: NaiveDate,
    /// Container and gap to the lamp.
    pub(super) beside: Length,
    /// Of that, the gap.
    pub(super) gap: Length,
    pub(super) heights: Arc<[GrowthPoint]>,
}

/// Weeks and sizes are numbers: the season refuses any others.
impl Eq for Growth {}

/// What the plants are doing meanwhile.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Phase {
    Germinating,
    /// In the container they were sown in, up and under lights.
    Plugs,
    /// Moved on.
    Pots,
    Hardening,
    Guest,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Needs {
    pub role: Role,
    pub light: bool,
    /// A heat mat, or a warm germinating place.
    pub heat: bool,
    /// A place outside of that is none for it.
    pub bears: Bears,
}

/// The ground it covers, no gap included, before any turn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shape {
    Tray {
        width: Length,
        depth: Length,
        inside: Inside,
    },
    /// Loose pots as one block: every pot's middle, from the block's corner.
    Pots {
        width: Length,
        depth: Length,
        rim: RimShape,
        /// Pot or leaf spread, whichever is larger.
        across: Length,
        /// From middle to middle, at least `across`.
        pitch: Length,
        centres: Arc<[(Length, Length)]>,
    },
}

/// What is drawn inside a tray.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Inside {
    Open,
    /// Cells along the width and along the depth.
    Cells {
        columns: u16,
        rows: u16,
    },
    /// Pots in a flat; `across` is the rim.
    Pots {
        columns: u16,
        rows: u16,
        rim: RimShape,
        across: Length,
        number: u16,
    },
}

impl Shape {
    pub const fn width(&self) -> Length {
        match self {
            Self::Tray { width, .. } | Self::Pots { width, .. } => *width,
        }
    }

    pub const fn depth(&self) -> Length {
        match self {
            Self::Tray { depth, .. } | Self::Pots { depth, .. } => *depth,
        }
    }

    /// Width and depth as it lies after so many quarter turns.
    pub const fn turned(&self, quarter_turns: u8) -> (Length, Length) {
        if quarter_turns % 2 == 1 { (self.depth(), self.width()) } else { (self.width(), self.depth()) }
    }
}

/// What the clear height of a stay is made of, from the shelf up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Heights {
    /// Tray or pot, whichever is higher; with all that is over it where nothing grows.
    pub container: Length,
    pub plants: Length,
    /// To the lamp.
    pub gap: Length,
}

impl Stay {
    /// Outside by day, and in for each night.
    pub fn is_carried_in(&self) -> bool {
        self.phase == Phase::Hardening && self.part == PartOfDay::Days
    }

    /// The tray that gives the stay its spot: the lowest of a stack.
    pub fn tray(&self) -> Option<TrayKey> {
        self.trays.first().copied()
    }

    /// What it is made of on that day of its own; together never more than it needs at its tallest.
    pub fn heights_on(&self, date: NaiveDate) -> Heights {
        let whole = self.height_on(date);
        let gap = self.growth.as_ref().map_or(Length::ZERO, |growth| growth.gap.min(whole));
        let container = self.growth.as_ref().map_or(whole, |growth| (growth.beside - growth.gap).min(whole - gap));
        Heights { container, plants: whole - gap - container, gap }
    }

    /// Clear height it needs on that day of its own.
    pub fn height_on(&self, date: NaiveDate) -> Length {
        self.growth.as_ref().map_or(self.height, |growth| growth.height_on(date).min(self.height))
    }
}

impl Growth {
    pub(super) fn height_on(&self, date: NaiveDate) -> Length {
        let mm = trade::grown_mm(&self.heights, (date - self.sown).num_days());
        self.beside + Length::try_from_mm(mm).unwrap_or(Length::ZERO)
    }
}
