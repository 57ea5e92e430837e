//! Which part-filled trays of several lots stand as one, by whole rows.

use std::collections::BTreeMap;

use chrono::NaiveDate;

/// Lots that share a tray are sown, or moved on into it, at most so many days apart: a weekend's work
/// and the day after. Our choice, no source.
pub const SHARED_START_DAYS: i64 = 3;
/// They come up at most so many days apart: what is up wants light while the others want to stay as
/// they are. Our choice, no source.
pub const SHARED_UP_DAYS: i64 = 3;
/// They leave it at most so many days apart: a week's round of work. Our choice, no source.
pub const SHARED_LEAVE_DAYS: i64 = 7;

/// What of a lot does not fill a tray, and all that decides beside which others it may stand.
#[derive(Clone, Debug)]
pub struct Remainder<K> {
    /// Container, warmth, light, days outside: only what is alike here shares.
    pub alike: K,
    /// Rows that it takes.
    pub rows: u32,
    /// Rows that the tray has.
    pub of_rows: u32,
    pub start: NaiveDate,
    pub up: NaiveDate,
    pub until: NaiveDate,
}

/// Where a remainder stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RowsTaken {
    /// The remainder that stands first in that tray, by its place in the list.
    pub with: usize,
    /// From 0.
    pub first: u32,
}

/// A tray with rows left.
struct Open {
    with: usize,
    taken: u32,
    days: [(NaiveDate, NaiveDate); 3],
}

impl Open {
    /// First and last of each kind of day, with those of one more; `None` where they are too far apart.
    fn joined(&self, days: [NaiveDate; 3]) -> Option<[(NaiveDate, NaiveDate); 3]> {
        let most = [SHARED_START_DAYS, SHARED_UP_DAYS, SHARED_LEAVE_DAYS];
        let mut joined = self.days;
        for ((range, day), most) in joined.iter_mut().zip(days).zip(most) {
            *range = (range.0.min(day), range.1.max(day));
            if (range.1 - range.0).num_days() > most {
                return None;
            }
        }
        Some(joined)
    }
}

/// Gives every remainder its rows: in the first tray, in the order in which they were begun, that has
/// as many left and no plants of other needs or another course; else in a tray of its own.
///
/// First fit, in the order of the list: what is added at its end moves none of the others, and there
/// are never more trays than remainders.
pub fn share_rows<K: Ord>(remainders: &[Remainder<K>]) -> Vec<RowsTaken> {
    let mut open: BTreeMap<&K, Vec<Open>> = BTreeMap::new();
    let mut taken = Vec::with_capacity(remainders.len());
    for (at, one) in remainders.iter().enumerate() {
        let days = [one.start, one.up, one.until];
        let trays = open.entry(&one.alike).or_default();
        let fits = |tray: &Open| {
            let has_room = tray.taken.saturating_add(one.rows) <= one.of_rows;
            has_room.then(|| tray.joined(days)).flatten()
        };
        let found = trays.iter_mut().find_map(|tray| Some((fits(tray)?, tray)));
        if let Some((joined, tray)) = found {
            taken.push(RowsTaken { with: tray.with, first: tray.taken });
            tray.taken = tray.taken.saturating_add(one.rows);
            tray.days = joined;
        } else {
            taken.push(RowsTaken { with: at, first: 0 });
            trays.push(Open { with: at, taken: one.rows, days: days.map(|day| (day, day)) });
        }
        trays.retain(|tray| tray.taken < one.of_rows);
    }
    taken
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::shifted;

    fn one(alike: &str, rows: u32, days: [i64; 3]) -> Remainder<&str> {
        let [start, up, until] =
            days.map(|days| shifted(NaiveDate::from_ymd_opt(2027, 3, 1).unwrap_or_default(), days));
        Remainder { alike, rows, of_rows: 12, start, up, until }
    }

    fn trays(remainders: &[Remainder<&str>]) -> Vec<(usize, u32)> {
        share_rows(remainders).into_iter().map(|rows| (rows.with, rows.first)).collect()
    }

    #[test]
    fn rows_are_taken_one_after_the_other() {
        let all = [3, 6, 4, 3].map(|rows| one("72", rows, [0, 7, 35]));
        // 3 + 6 leave 3 of 12: the 4 begin a second tray, the last 3 fill the first
        assert_eq!(trays(&all), [(0, 0), (0, 3), (2, 0), (0, 9)]);
    }

    #[test]
    fn other_needs_and_days_too_far_apart_stand_apart() {
        let first = one("72", 1, [0, 7, 35]);
        let beside = |other: Remainder<&'static str>| trays(&[first.clone(), other])[1].0 == 0;
        assert!(beside(one("72", 1, [3, 10, 42])), "3, 3 and 7 days later");
        assert!(!beside(one("72", 1, [4, 10, 42])), "sown 4 days later");
        assert!(!beside(one("72", 1, [3, 11, 42])), "up 4 days later");
        assert!(!beside(one("72", 1, [3, 10, 43])), "leaves 8 days later");
        assert!(!beside(one("50", 1, [0, 7, 35])));
        // each is near the one before, but the third is 4 days after the first
        let three = [0, 2, 4].map(|later| one("72", 1, [later, 7, 35]));
        assert_eq!(trays(&three), [(0, 0), (0, 1), (2, 0)]);
    }

    #[test]
    fn one_more_moves_none_of_the_others() {
        let mut all = [5, 5, 5, 2, 9].map(|rows| one("72", rows, [0, 7, 35])).to_vec();
        let before = trays(&all);
        all.push(one("72", 1, [1, 7, 35]));
        assert_eq!(trays(&all)[..5], before[..]);
    }
}
