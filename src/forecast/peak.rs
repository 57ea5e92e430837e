//! The fullest day of the growing places, of all days on which a sowing stands there too.

use chrono::NaiveDate;

use crate::season::Role;

use super::all::Forecast;
use super::stay::Stay;

/// How many stays there are on that day, and how many of them are the sowing's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Peak {
    pub day: NaiveDate,
    pub own: usize,
    pub all: usize,
}

impl Forecast {
    /// With the stays of a sowing that is not in it: the first of the fullest days on which they grow on.
    pub fn peak_with(&self, own: &[Stay]) -> Option<Peak> {
        let mut steps: Vec<(NaiveDate, isize, isize)> = Vec::new();
        for (stays, is_own) in [(own, 1), (self.stays.as_slice(), 0)] {
            for stay in stays.iter().filter(|stay| stay.needs.role == Role::Growing) {
                steps.push((stay.span.from(), is_own, 1));
                steps.push((stay.span.until(), -is_own, -1));
            }
        }
        steps.sort_by_key(|(day, ..)| *day);
        let (mut own, mut all, mut peak) = (0_isize, 0_isize, None);
        for today in steps.chunk_by(|a, b| a.0 == b.0) {
            own += today.iter().map(|(_, own, _)| own).sum::<isize>();
            all += today.iter().map(|(.., all)| all).sum::<isize>();
            if own > 0 && peak.is_none_or(|peak: Peak| all.unsigned_abs() > peak.all) {
                let at = |&(day, ..): &(NaiveDate, isize, isize)| Peak {
                    day,
                    own: own.unsigned_abs(),
                    all: all.unsigned_abs(),
                };
                peak = today.first().map(at);
            }
        }
        peak
    }
}
