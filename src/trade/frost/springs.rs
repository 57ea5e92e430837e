//! From daily lows to the last frost of every spring.

use std::collections::BTreeMap;

use chrono::{Datelike as _, NaiveDate};

use crate::units::{Temperature, shifted};

/// A spring with so many days without a reading is refused.
///
/// A frost may hide in every one of them. Utah Climate Center (Utah State University), help page,
/// citing Utah Climate, 2nd ed. 2007, p. 55: a season with 10 missing days before its freeze date is
/// rejected. We count the whole spring: which of its nights mattered is only known once the last
/// frost is.
pub const TOO_MANY_MISSING: usize = 10;

/// The half of the world a station is on, which says when its spring is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Half {
    North,
    South,
}

/// The nights between the depth of winter and the height of summer, with a low for nearly all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spring {
    /// The year in which it starts.
    pub year: i32,
    /// In tenths of a degree Celsius, by day.
    lows: Vec<(NaiveDate, i16)>,
}

/// A spring that can't be used, and what is missing of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RefusedSpring {
    pub year: i32,
    /// Days without a reading.
    pub missing: usize,
    /// The longest run of them, the last day included.
    pub longest: (NaiveDate, NaiveDate),
}

impl Half {
    /// By which of January and July has the colder nights; `None` without a reading in either, or
    /// where both are alike.
    pub fn of_lows(lows: &BTreeMap<NaiveDate, i16>) -> Option<Self> {
        let mean = |month| {
            let all = lows.iter().filter(|(date, _)| date.month() == month).map(|(_, low)| f64::from(*low));
            let (sum, number) = all.fold((0.0, 0.0), |(sum, number), low| (sum + low, number + 1.0));
            (number > 0.0).then(|| sum / number)
        };
        let (january, july) = (mean(1)?, mean(7)?);
        if january < july { Some(Self::North) } else { (july < january).then_some(Self::South) }
    }

    /// The half year that starts in `year` in which a spring's last frost is looked for: 24 January
    /// to 23 July, in the southern half 24 July to 23 January.
    ///
    /// The days that part spring from autumn are those of the Utah Climate Center, cited above; that
    /// a spring starts half a year before is ours.
    pub fn spring_of(self, year: i32) -> Option<(NaiveDate, NaiveDate)> {
        let (from, until) = match self {
            Self::North => ((year, 1), (year, 7)),
            Self::South => ((year, 7), (year.checked_add(1)?, 1)),
        };
        let day = |(year, month)| NaiveDate::from_ymd_opt(year, month, 24);
        Some((day(from)?, day(until)?))
    }
}

impl Spring {
    /// The last night as cold as that or colder.
    ///
    /// Both are compared in tenths of a degree Celsius, as records hold them: 36 °F counts as 2.2 °C.
    pub fn last_frost(&self, at: Temperature) -> Option<NaiveDate> {
        let at = (at.to_celsius() * 10.0).round();
        self.lows.iter().rev().find(|(_, low)| f64::from(*low) <= at).map(|(date, _)| *date)
    }
}

/// Every spring of a record from its first day to its last, and those that too much is missing of.
///
/// `lows` are in tenths of a degree Celsius. A spring that the record does not touch is neither.
pub fn springs(lows: &BTreeMap<NaiveDate, i16>, half: Half) -> (Vec<Spring>, Vec<RefusedSpring>) {
    let (mut good, mut refused) = (Vec::new(), Vec::new());
    let (Some((first, _)), Some((last, _))) = (lows.first_key_value(), lows.last_key_value()) else {
        return (good, refused);
    };
    for year in first.year() - 1..=last.year() {
        let Some((from, until)) = half.spring_of(year).filter(|(from, until)| from <= last && first < until) else {
            continue;
        };
        let spring: Vec<(NaiveDate, i16)> = lows.range(from..until).map(|(date, low)| (*date, *low)).collect();
        let days = usize::try_from((until - from).num_days()).unwrap_or(0);
        let missing = days.saturating_sub(spring.len());
        if missing < TOO_MANY_MISSING {
            good.push(Spring { year, lows: spring });
        } else {
            refused.push(RefusedSpring { year, missing, longest: longest_gap(&spring, from, until) });
        }
    }
    (good, refused)
}

/// The first and last day of the longest run without a reading.
fn longest_gap(spring: &[(NaiveDate, i16)], from: NaiveDate, until: NaiveDate) -> (NaiveDate, NaiveDate) {
    let mut longest = (from, from);
    let mut next = from;
    for date in spring.iter().map(|(date, _)| *date).chain([until]) {
        let last = shifted(date, -1);
        if date > next && (last - next) >= (longest.1 - longest.0) {
            longest = (next, last);
        }
        next = shifted(date, 1);
    }
    longest
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// From the first day on, one low a day.
    fn lows(from: &str, lows: impl IntoIterator<Item = i16>) -> BTreeMap<NaiveDate, i16> {
        date(from).iter_days().zip(lows).collect()
    }

    fn years(springs: &[Spring]) -> Vec<i32> {
        springs.iter().map(|spring| spring.year).collect()
    }

    const FREEZING: &str = "0 °C";

    fn last(spring: &Spring, at: &str) -> Option<NaiveDate> {
        spring.last_frost(Temperature::parse(at).unwrap())
    }

    #[test]
    fn the_last_night_at_or_below_counts_and_autumn_does_not() {
        let mut record = lows("2001-01-01", std::iter::repeat_n(50, 365));
        for (day, low) in
            [("2001-04-10", -5), ("2001-05-02", 0), ("2001-05-03", 1), ("2001-07-24", -9), ("2001-10-01", -20)]
        {
            record.insert(date(day), low);
        }
        let (good, refused) = springs(&record, Half::North);
        assert_eq!((years(&good), refused.as_slice()), (vec![2001], [].as_slice()));
        assert_eq!(last(&good[0], FREEZING), Some(date("2001-05-02")));
        assert_eq!(last(&good[0], "-0.5 °C"), Some(date("2001-04-10")));
        assert_eq!(last(&good[0], "-3 °C"), None);
    }

    #[test]
    fn a_threshold_in_fahrenheit_counts_in_tenths() {
        let mut record = lows("2001-01-01", std::iter::repeat_n(50, 365));
        record.insert(date("2001-03-01"), -22);
        record.insert(date("2001-05-01"), 22);
        let (good, _) = springs(&record, Half::North);
        // 28 °F is −2.222… °C and 36 °F is 2.222… °C; records hold −2.2 and 2.2
        assert_eq!(last(&good[0], "28 °F"), Some(date("2001-03-01")));
        assert_eq!(last(&good[0], "36 °F"), Some(date("2001-05-01")));
    }

    #[test]
    fn ten_missing_days_are_too_many() {
        for (missing, used) in [(9, true), (10, false)] {
            let mut record = lows("2001-01-01", std::iter::repeat_n(50, 365));
            let gap: Vec<NaiveDate> = date("2001-05-01").iter_days().take(missing).collect();
            record.retain(|date, _| !gap.contains(date));
            let (good, refused) = springs(&record, Half::North);
            assert_eq!(years(&good) == [2001], used, "{missing}");
            let longest = (date("2001-05-01"), date("2001-05-10"));
            let wanted = RefusedSpring { year: 2001, missing: 10, longest };
            assert_eq!(refused == [wanted], !used, "{refused:?}");
        }
    }

    #[test]
    fn a_southern_spring_runs_over_new_year() {
        let mut record = lows("2001-01-01", std::iter::repeat_n(50, 730));
        for (day, low) in [("2001-05-30", -40), ("2001-10-11", -3), ("2002-01-20", 0), ("2002-02-01", -1)] {
            record.insert(date(day), low);
        }
        let (good, refused) = springs(&record, Half::South);
        // of the spring of 2000 only its last days are there, of that of 2002 all but the last
        assert_eq!(years(&good), [2001]);
        assert_eq!(refused.iter().map(|one| (one.year, one.missing)).collect::<Vec<_>>(), [(2000, 161), (2002, 23)]);
        assert_eq!(last(&good[0], FREEZING), Some(date("2002-01-20")));
        assert_eq!(last(&good[0], "-0.2 °C"), Some(date("2001-10-11")));
    }

    #[test]
    fn the_colder_of_january_and_july_tells_the_half() {
        let year = |january: i16, july: i16| {
            let lows = date("2001-01-01").iter_days().take(365);
            lows.map(|date| (date, if date.month() < 4 { january } else { july })).collect()
        };
        assert_eq!(Half::of_lows(&year(-50, 120)), Some(Half::North));
        assert_eq!(Half::of_lows(&year(120, 20)), Some(Half::South));
        assert_eq!(Half::of_lows(&year(200, 200)), None);
        assert_eq!(Half::of_lows(&BTreeMap::new()), None);
    }
}
