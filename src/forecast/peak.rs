//! The fullest day of the growing places, of all days on which a sowing stands there.

use chrono::NaiveDate;

use crate::season::{Role, SowingId};

use super::all::Forecast;

/// How many stays there are on that day, and how many of them are the sowing's alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Peak {
    pub day: NaiveDate,
    pub own: usize,
    pub all: usize,
}

impl Forecast {
    /// The first of the fullest days on which plants of the sowing grow on, in trays of their own or shared.
    pub fn peak_of(&self, sowing: SowingId) -> Option<Peak> {
        // day, stays with the sowing, of it alone, all
        let mut steps: Vec<(NaiveDate, [isize; 3])> = Vec::new();
        for stay in self.stays.iter().filter(|stay| stay.needs.role == Role::Growing) {
            let alone = isize::from(stay.sowing == Some(sowing));
            let there = isize::from(self.sowings_in(stay).contains(&sowing));
            steps.push((stay.span.from(), [there, alone, 1]));
            steps.push((stay.span.until(), [-there, -alone, -1]));
        }
        steps.sort_by_key(|(day, _)| *day);
        let (mut now, mut peak) = ([0_isize; 3], None);
        for today in steps.chunk_by(|a, b| a.0 == b.0) {
            for (_, change) in today {
                now.iter_mut().zip(change).for_each(|(now, change)| *now += change);
            }
            let [there, own, all] = now.map(isize::unsigned_abs);
            if there > 0 && peak.is_none_or(|peak: Peak| all > peak.all) {
                peak = today.first().map(|(day, _)| Peak { day: *day, own, all });
            }
        }
        peak
    }
}
