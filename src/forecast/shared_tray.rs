//! What a shared tray is, and which lots share which.

use std::collections::BTreeMap;
use std::ops::Range;

use chrono::NaiveDate;

use crate::season::{LotId, SowingId, StepId, TrayKey};

use super::stay::Stay;

/// A tray in which several lots stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SharedTray {
    /// Rows of cells along its short side, or single pots.
    pub rows: u32,
    /// Cells or pots in all.
    pub places: u32,
    /// By row.
    pub parts: Vec<SharedPart>,
}

impl SharedTray {
    /// Those that stand in it on that day.
    pub fn on(&self, day: NaiveDate) -> impl Iterator<Item = &SharedPart> {
        self.parts.iter().filter(move |part| part.from <= day && day < part.until)
    }
}

/// A lot's rows of a tray.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SharedPart {
    pub sowing: SowingId,
    pub lot: LotId,
    pub step: StepId,
    /// From 0.
    pub rows: Range<u32>,
    /// Only these of each row, where the grower said so.
    pub cells: Option<Range<u32>>,
    /// Cells or pots that it fills of them.
    pub places: u32,
    /// Its days in the tray.
    pub from: NaiveDate,
    pub until: NaiveDate,
}

/// Lots that are sown on the same days into such trays would stand in fewer of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FewerTrays {
    /// The first of the lots, and its step.
    pub lot: LotId,
    pub step: StepId,
    /// With so many to a cell, thinned to one plant.
    pub seeds: u8,
    /// Trays that they stand in, full ones too, and would stand in.
    pub before: u32,
    pub after: u32,
}

/// Which lots share which trays.
#[derive(Default)]
pub(super) struct Sharing {
    parts: BTreeMap<(LotId, StepId), (TrayKey, u32)>,
    pub(super) trays: BTreeMap<TrayKey, SharedTray>,
    pub(super) fewer: Vec<FewerTrays>,
}

impl Sharing {
    pub(super) fn put(&mut self, key: TrayKey, tray: SharedTray) {
        self.parts.extend(tray.parts.iter().map(|part| ((part.lot, part.step), (key, part.places))));
        self.trays.insert(key, tray);
    }

    /// The tray in which the lot has rows, and how many of so many places they are.
    pub(super) fn part(&self, lot: LotId, step: StepId, places: u32) -> Option<(TrayKey, u32)> {
        let &(tray, most) = self.parts.get(&(lot, step))?;
        Some((tray, most.min(places))).filter(|(_, here)| *here > 0)
    }

    /// The shared tray in which it stands.
    pub(super) fn tray_of(&self, stay: &Stay) -> Option<TrayKey> {
        stay.tray().filter(|tray| matches!(tray, TrayKey::Shared(_)) || self.trays.contains_key(tray))
    }

    /// The key and places of that lot's rows in a tray.
    pub(super) fn of(&self, lot: LotId, step: StepId) -> Option<(TrayKey, u32)> {
        self.parts.get(&(lot, step)).copied()
    }

    pub(super) fn parts(&self) -> impl Iterator<Item = (LotId, StepId)> {
        self.parts.keys().copied()
    }

    /// With all that another has.
    pub(super) fn extend(&mut self, other: &Self) {
        self.parts.extend(other.parts.iter().map(|(part, tray)| (*part, *tray)));
        self.trays.extend(other.trays.iter().map(|(key, tray)| (*key, tray.clone())));
    }

    /// The sowings of each tray.
    pub(super) fn together(&self) -> impl Iterator<Item = Vec<SowingId>> {
        self.trays.values().map(|tray| tray.parts.iter().map(|part| part.sowing).collect())
    }
}
