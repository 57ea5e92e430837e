//! Fewer trays for the same plants: those that are not full shared, those with empty cells moved together.

use chrono::NaiveDate;

use crate::forecast::gap_up;
use crate::season::{Season, Sowing};

use super::draft::Draft;
use super::tried::Standing;
use super::way::{Change, Price};

pub(super) fn drafts(of: &Standing<'_>, sowing: &Sowing) -> Vec<Draft> {
    let price = Price { moved_together: 1, ..Price::default() };
    let shared = sowing.alone.then(|| {
        let with = Sowing { alone: false, ..sowing.clone() };
        Draft::of_sowing(Change::Shared { sowing: sowing.id }, with, price)
    });
    let gap = last_seen(of.season).and_then(|on| gap_up(of.season, of.library, of.forecast, sowing, on));
    let moved = gap.map(|gap| {
        let (on, from, to) = (gap.record.date, gap.before, gap.after);
        let change = Change::GappedUp { sowing: sowing.id, on, from, to };
        Draft::of_sowing(change, sowing.with_record(gap.record), price)
    });
    shared.into_iter().chain(moved).collect()
}

/// The day of the last record: nothing that is done now is written down before it.
fn last_seen(season: &Season) -> Option<NaiveDate> {
    season.sowings().flat_map(|sowing| &sowing.seen).map(|seen| seen.date).max()
}
