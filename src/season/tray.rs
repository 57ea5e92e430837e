use std::ops::Range;

use chrono::NaiveDate;

use crate::units::Length;

use super::{GuestId, LotId, ShelfId, StepId, TrayId};

/// Which tray. The same after every turn, move and edit of something else.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TrayKey {
    /// The `n`th tray, or block of loose pots, of a lot in one of its steps, from 1.
    Own {
        lot: LotId,
        step: StepId,
        n: u32,
    },
    /// A tray whose rows several sowings share; its note says which.
    Shared(TrayId),
    Guest {
        guest: GuestId,
        n: u32,
    },
}

/// A tray's own mark, what is in which row, and which trays it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct TrayNote {
    pub key: TrayKey,
    /// Overrides the mark that the program gives.
    pub mark: Option<String>,
    pub rows: Vec<TrayRows>,
    pub parents: Vec<TrayKey>,
}

/// Rows of a tray, and the lot and step that stand in them.
#[derive(Clone, Debug, PartialEq)]
pub struct TrayRows {
    pub rows: Range<u16>,
    /// These cells of each of the rows; whole rows without.
    pub cells: Option<Range<u16>>,
    pub lot: LotId,
    pub step: StepId,
}

/// From when a spot counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SpotFrom {
    /// As long as the tray has been there.
    Start,
    On(NaiveDate),
}

/// Where a tray stands, from a day on: until its next spot on the same side, or until it is taken
/// up. `x` and `y` are its corner nearest the shelf's back left, as it stands; a quarter turn goes
/// clockwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    pub tray: TrayKey,
    pub from: SpotFrom,
    /// Taken up on that day, with nowhere to go yet.
    pub until: Option<NaiveDate>,
    pub shelf: ShelfId,
    pub x: Length,
    pub y: Length,
    pub quarter_turns: u8,
    pub pinned: bool,
}

/// The two sides of a door. While it hardens off, a tray may have a spot on each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    Indoors,
    /// In a place for hardening off.
    Outside,
}

impl TrayRows {
    /// The first row in which both want the same cell.
    pub fn clash(&self, other: &Self) -> Option<u16> {
        let row = self.rows.start.max(other.rows.start);
        let apart = match (&self.cells, &other.cells) {
            (Some(one), Some(two)) => one.start.max(two.start) >= one.end.min(two.end),
            _ => false,
        };
        (row < self.rows.end.min(other.rows.end) && !apart).then_some(row)
    }
}

impl Spot {
    /// Long side now lies where the short one did.
    pub const fn is_turned(&self) -> bool {
        self.quarter_turns % 2 == 1
    }

    /// Whether a tray stands just as it would at that other one.
    pub fn is_same_ground(&self, other: &Self) -> bool {
        (self.shelf, self.x, self.y, self.is_turned()) == (other.shelf, other.x, other.y, other.is_turned())
    }
}
