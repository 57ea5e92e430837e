//! Trays that several sowings share: who stands in which rows, and who is the worse for it.

use std::ops::Range;

use crate::forecast::{FewerTrays, Forecast, SharedPart, SharedTray, Unlike};
use crate::season::{LotId, SowingId, StepId, TrayKey};

use super::{Words, counted, day, listed, plural};

pub const TITLE: &str = "Trays that several sowings share";
pub const WHO_STANDS_IN_IT: &str = "Who stands in it";
pub const TAKE_OUT: &str = "Take out";
pub const ALONE: &str = "Stands alone: shares no tray with others";
pub const WHAT_ALONE_DOES: &str = "What does not fill a tray stands in one of its own; else it shares one with \
     sowings of the same container, warmth and days, by whole rows";

/// The toggle of one of several.
pub fn take_out(sowing: &str) -> String {
    format!("Take {sowing} out")
}

/// `rows 3–4`, `row 3`; of pots, `pots 3–4`; of half a row, `row 3, cells 1–6`.
fn rows(tray: &SharedTray, part: &SharedPart) -> String {
    let one_or_more = |range: &Range<u32>, one: &str, many: &str| {
        let (first, last) = (range.start + 1, range.end);
        if first >= last { format!("{one} {first}") } else { format!("{many} {first}–{last}") }
    };
    let [(one, many), _] = units(tray);
    let rows = one_or_more(&part.rows, one, many);
    match &part.cells {
        Some(cells) => format!("{rows}, {}", one_or_more(cells, "cell", "cells")),
        None => rows,
    }
}

/// `3 rows free`: what nobody has of a tray, once those have left it.
pub fn free(tray: &SharedTray, left: &[SharedPart]) -> Option<String> {
    let taken = tray.parts.iter().map(|part| part.rows.end).max().unwrap_or(0);
    let has_row = |part: &&SharedPart, row| part.rows.contains(&row);
    let gone = |row: &u32| {
        let of_row = || tray.parts.iter().filter(|part| has_row(part, *row));
        of_row().next().is_some() && of_row().all(|part| left.contains(part))
    };
    let emptied = (0..taken).filter(gone).count();
    let free = tray.rows.saturating_sub(taken).saturating_add(emptied.try_into().unwrap_or(u32::MAX));
    let [(one, many), _] = units(tray);
    (free > 0).then(|| format!("{} free", counted(free, one, many)))
}

/// `12 rows of 6`, `38 cells in 10 rows`, `18 pots`.
pub fn of_tray(tray: &SharedTray) -> String {
    let (rows, places) = (tray.rows, tray.places);
    if rows == places {
        counted(rows, "pot", "pots")
    } else if places % rows.max(1) == 0 {
        format!("{rows} rows of {}", places / rows.max(1))
    } else {
        format!("{places} cells in {rows} rows")
    }
}

/// What it is divided into, and what stands in that.
const fn units(tray: &SharedTray) -> [(&'static str, &'static str); 2] {
    let pots = ("pot", "pots");
    if tray.rows < tray.places { [("row", "rows"), ("cell", "cells")] } else { [pots, pots] }
}

/// The first of them by name, and how many more.
fn some_of(all: &[SowingId], name: impl Fn(SowingId) -> String) -> String {
    const NAMED: usize = 3;
    let mut names: Vec<String> = all.iter().take(NAMED).map(|id| name(*id)).collect();
    let more = all.len().saturating_sub(NAMED);
    names.extend((more > 0).then(|| format!("{more} {}", plural(more, "other", "others"))));
    listed(&names)
}

impl Words<'_> {
    /// `row 3: Tomato ‘Early Red’, 6 cells`: a line of the tray's map; with its last day there where the
    /// others stay longer.
    pub fn part(&self, tray: &SharedTray, part: &SharedPart) -> String {
        let [_, (one, many)] = units(tray);
        let last = tray.parts.iter().map(|part| part.until).max();
        let leaves = last.filter(|last| part.until < *last).map(|_| format!(", leaves {}", day(part.until)));
        let (rows, which) = (rows(tray, part), self.which(part.sowing));
        format!("{rows}: {which}, {}{}", counted(part.places, one, many), leaves.unwrap_or_default())
    }

    /// `shares To 7 (row 3) with Pepper and Basil`, for each tray that it shares.
    pub fn shares(&self, sowing: SowingId) -> Vec<(TrayKey, String)> {
        let shared = self.forecast.shared_by(sowing).into_iter();
        let said = shared.filter_map(|(tray, part)| {
            let shared = self.forecast.shared.get(&tray)?;
            let with = self.others(shared, sowing);
            Some((tray, format!("shares {} ({}) with {with}", self.tray(tray), rows(shared, part))))
        });
        said.collect()
    }

    /// `2 trays of 72-cell plug tray and 12 cells of one shared with Pepper`: of a lot that may not be in the season
    /// yet, by the forecast with it.
    pub(super) fn trays_of_its_own(
        &self,
        with: &Forecast,
        (lot, step): (LotId, StepId),
        trays: u32,
        container: &str,
    ) -> String {
        let own = |part: &&SharedPart| part.lot == lot && part.step == step;
        let shared = with.shared.values().find_map(|tray| Some((tray, tray.parts.iter().find(own)?)));
        let alone = |trays: u32| format!("{} of {container}", counted(trays, "tray", "trays"));
        let Some((tray, part)) = shared else { return alone(trays) };
        let [_, (one, many)] = units(tray);
        let (places, others) = (counted(part.places, one, many), self.others(tray, part.sowing));
        match trays.saturating_sub(1) {
            0 => format!("{places} of a {container} shared with {others}"),
            whole => format!("{} and {places} of one shared with {others}", alone(whole)),
        }
    }

    fn others(&self, tray: &SharedTray, sowing: SowingId) -> String {
        let mut others: Vec<SowingId> = tray.parts.iter().map(|part| part.sowing).filter(|id| *id != sowing).collect();
        others.dedup();
        if others.is_empty() {
            return "other batches of it".to_owned();
        }
        some_of(&others, |id| self.which(id))
    }

    /// `Tomato ‘Early Red’`; `Tomato, 12 sowings`; `Tomato, Pepper and 2 others`.
    pub(super) fn together(&self, all: &[SowingId]) -> String {
        let [first, .., _] = all else { return all.first().map_or_else(String::new, |one| self.sowing(*one)) };
        let crop = |id: &SowingId| self.season.sowing(*id).map(|sowing| &sowing.crop);
        if all.iter().all(|id| crop(id) == crop(first)) {
            let name = crop(first).and_then(|key| self.season.crop(self.library, key));
            let name = name.map_or_else(|| self.sowing(*first), |crop| crop.name.clone());
            return format!("{name}, {} sowings", all.len());
        }
        some_of(all, |id| self.which(id))
    }

    /// `Mix 1: row 1: Tomato, 6; row 2: Pepper, 6`.
    pub fn who_shares(&self, tray: TrayKey, shared: &SharedTray) -> String {
        let parts = shared.parts.iter().map(|part| self.part(shared, part)).chain(free(shared, &[]));
        let parts: Vec<String> = parts.collect();
        format!("{} ({}): {}", self.tray(tray), of_tray(shared), parts.join("; "))
    }

    /// `Tomato and what is sown with it: 3 seeds to a cell, thinned to one, would do with 1 tray, not 2`.
    pub fn fewer_trays(&self, fewer: &FewerTrays) -> String {
        let FewerTrays { lot, step, seeds, before, after } = *fewer;
        let sowing = self.season.sowing_of(lot);
        let crop = sowing.map_or_else(String::new, |sowing| self.sowing(sowing.id));
        let container = sowing.map_or_else(String::new, |sowing| self.step(sowing.id, step));
        format!(
            "{crop} and what is sown with it into {container}: with {seeds} seeds to a cell, thinned to one plant, \
             {} would do, not {before}",
            counted(after, "tray", "trays")
        )
    }

    pub(super) fn shares_unlike(&self, sowing: SowingId, tray: TrayKey, how: Unlike) -> String {
        let (which, tray) = (self.which(sowing), self.tray(tray));
        match how {
            Unlike::UpLater { first, up, heat } => {
                let leaves = if heat { "comes off the heat" } else { "comes to the light" };
                format!(
                    "{which}: shares {tray}, which {leaves} on {}, when the first in it are up; it is up only on {}",
                    day(first),
                    day(up)
                )
            }
            Unlike::StandsOn { others, until } => format!(
                "{which}: {tray} stands for it alone from {}, when the others have left it, until {}",
                day(others),
                day(until)
            ),
            Unlike::Shorter { than, by, day: on } => format!(
                "{which}: shares {tray} with {}, which is {} taller on {} and keeps the lamp that much higher",
                self.which(than),
                self.length(by),
                day(on)
            ),
        }
    }
}
