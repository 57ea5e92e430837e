//! Trays that several sowings share: who stands in which rows, and who is the worse for it.

use crate::forecast::{SharedPart, SharedTray, Unlike};
use crate::season::{SowingId, TrayKey};

use super::{Words, counted, day, listed, plural};

pub const WHO_STANDS_IN_IT: &str = "Who stands in it";
pub const ALONE: &str = "Stands alone: shares no tray with others";
pub const WHAT_ALONE_DOES: &str = "What does not fill a tray stands in one of its own; else it shares one with \
     sowings of the same container, warmth and days, by whole rows";

/// The toggle of one of several.
pub fn take_out(sowing: &str) -> String {
    format!("Take {sowing} out")
}

/// `rows 3–4`, `row 3`; of pots, `pots 3–4`.
fn rows(tray: &SharedTray, part: &SharedPart) -> String {
    let (one, many) = if tray.in_row > 1 { ("row", "rows") } else { ("pot", "pots") };
    let (first, last) = (part.rows.start + 1, part.rows.end);
    if first == last { format!("{one} {first}") } else { format!("{many} {first}–{last}") }
}

/// `12 rows of 6, 24 cells free`.
pub fn of_tray(tray: &SharedTray) -> String {
    let taken: u32 = tray.parts.iter().map(|part| part.places).sum();
    let all = tray.rows.saturating_mul(tray.in_row);
    let free = all.saturating_sub(taken);
    if tray.in_row > 1 {
        format!("{} rows of {}, {free} not sown", tray.rows, tray.in_row)
    } else {
        format!("room for {}, {free} left", counted(all, "pot", "pots"))
    }
}

impl Words<'_> {
    /// `row 3: Tomato ‘Early Red’, 6`: a line of the tray's map.
    pub fn part(&self, tray: &SharedTray, part: &SharedPart) -> String {
        format!("{}: {}, {}", rows(tray, part), self.which(part.sowing), part.places)
    }

    /// `shares To 7 (row 3) with Pepper and Basil`, a line for each tray that it shares.
    pub fn shares(&self, sowing: SowingId) -> Vec<String> {
        let shared = self.forecast.shared_by(sowing).into_iter();
        let said = shared.filter_map(|(tray, part)| {
            let shared = self.forecast.shared.get(&tray)?;
            let with = self.others(shared, sowing);
            Some(format!("shares {} ({}) with {with}", self.tray(tray), rows(shared, part)))
        });
        said.collect()
    }

    fn others(&self, tray: &SharedTray, sowing: SowingId) -> String {
        const NAMED: usize = 3;
        let mut others: Vec<SowingId> = tray.parts.iter().map(|part| part.sowing).filter(|id| *id != sowing).collect();
        others.dedup();
        if others.is_empty() {
            return "other batches of it".to_owned();
        }
        let mut names: Vec<String> = others.iter().take(NAMED).map(|id| self.which(*id)).collect();
        let more = others.len().saturating_sub(NAMED);
        names.extend((more > 0).then(|| format!("{more} {}", plural(more, "other", "others"))));
        listed(&names)
    }

    /// `Mix 1: row 1: Tomato, 6; row 2: Pepper, 6`.
    pub fn who_shares(&self, tray: TrayKey, shared: &SharedTray) -> String {
        let parts: Vec<String> = shared.parts.iter().map(|part| self.part(shared, part)).collect();
        format!("{} ({}): {}", self.tray(tray), of_tray(shared), parts.join("; "))
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
