//! From the last frosts of many springs to the day after which so many years in 10 have a later one.

use chrono::{Datelike as _, Days, NaiveDate};

use crate::season::FrostMethod;
use crate::trade::normal_quantile;
use crate::units::Temperature;

use super::{Half, Spring};

/// A last frost in the last week before autumn's half year is no end of the frost.
const LAST_WEEK_DAYS: i64 = 7;

/// The last frosts of all usable springs, as places in a year without a leap day.
///
/// Two parts, as NOAA's tables of freeze dates have them ("Last freeze/frost probability", NASA GCMD
/// entry): how many springs have a frost at all, and on which days it was the last in those that do.
#[derive(Clone, Debug, PartialEq)]
pub struct LastFrosts {
    springs: usize,
    /// Days since 1 January of the year the spring starts in, in order.
    places: Vec<f64>,
    endless: usize,
}

impl LastFrosts {
    /// The last frosts at that temperature.
    pub fn of(springs: &[Spring], half: Half, at: Temperature) -> Self {
        Self::from_dates(springs.iter().map(|spring| (spring.year, spring.last_frost(at))), half)
    }

    /// One entry a spring: the year it starts in, and its last frost if it had one.
    pub fn from_dates(springs: impl IntoIterator<Item = (i32, Option<NaiveDate>)>, half: Half) -> Self {
        let mut found = Self { springs: 0, places: Vec::new(), endless: 0 };
        for (year, date) in springs {
            found.springs += 1;
            let Some(date) = date else { continue };
            found.places.push(place(date, year));
            let end = half.spring_of(year).map(|(_, end)| end);
            found.endless += usize::from(end.is_some_and(|end| (end - date).num_days() <= LAST_WEEK_DAYS));
        }
        found.places.sort_by(f64::total_cmp);
        found
    }

    pub const fn springs(&self) -> usize {
        self.springs
    }

    /// Springs that had a frost.
    pub const fn with_frost(&self) -> usize {
        self.places.len()
    }

    /// Whether frost goes on into autumn in half of the springs or more, so that none is the last.
    pub const fn is_endless(&self) -> bool {
        self.springs > 0 && self.endless * 2 >= self.springs
    }

    /// The place after which a later frost comes in `later_in_ten` years of 10.
    ///
    /// With a frost in y of n springs, a later one than x comes in (y / n)(1 − F(x)) of the years,
    /// F being how the last frosts of those y springs lie: read off them in order, straight between
    /// two (`Empirical`), or the normal law with their mean and standard deviation (`NormalLaw`: what
    /// published tables prove to follow, see `tests/handbook`). `None` where so many years have no
    /// frost at all, or for anything but 1 to 9.
    pub fn place(&self, later_in_ten: u8, method: FrostMethod) -> Option<f64> {
        let asked = usize::from(later_in_ten) * self.springs;
        let have = 10 * self.places.len();
        if !(1..=9).contains(&later_in_ten) || asked >= have {
            return None;
        }
        let later = asked as f64 / have as f64;
        match method {
            FrostMethod::NormalLaw => NormalLaw::of(&self.places)?.place(later),
            FrostMethod::Empirical | FrostMethod::Given => quantile(&self.places, 1.0 - later),
        }
    }

    /// As [`place`](Self::place), in the spring that starts in `year`, to the nearest day.
    pub fn date(&self, later_in_ten: u8, method: FrostMethod, year: i32) -> Option<NaiveDate> {
        date_of(self.place(later_in_ten, method)?, year)
    }

    /// The middle one, wherever there is one.
    pub(super) fn middle(&self) -> Option<f64> {
        quantile(&self.places, 0.5)
    }
}

/// Places that lie as the normal law says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NormalLaw {
    mean: f64,
    /// In days; 0 where all are alike.
    deviation: f64,
}

impl NormalLaw {
    /// Mean and standard deviation (n − 1) of places; one place alone has none.
    pub fn of(places: &[f64]) -> Option<Self> {
        let number = places.len() as f64;
        let mean = places.iter().sum::<f64>() / number;
        let squares: f64 = places.iter().map(|place| (place - mean).powi(2)).sum();
        let deviation = if places.len() > 1 { (squares / (number - 1.0)).sqrt() } else { 0.0 };
        (!places.is_empty() && deviation.is_finite()).then_some(Self { mean, deviation })
    }

    /// The law through two places with the share of years, from 0 to 1, that have a later frost:
    /// `sd = (x₂ − x₁) / (z₂ − z₁)`. `None` unless the smaller share has the later place.
    pub fn through(one: (f64, f64), other: (f64, f64)) -> Option<Self> {
        let (z1, z2) = (score(one.1)?, score(other.1)?);
        let deviation = (other.0 - one.0) / (z2 - z1);
        (deviation.is_finite() && deviation >= 0.0).then_some(Self { mean: one.0 - z1 * deviation, deviation })
    }

    /// Where a later frost comes in that share of years, above 0 and below 1.
    pub fn place(self, later: f64) -> Option<f64> {
        Some(self.mean + self.deviation * score(later)?)
    }
}

/// The standard normal deviate that so large a share of all lies above.
fn score(later: f64) -> Option<f64> {
    (0.0 < later && later < 1.0).then(|| normal_quantile(1.0 - later))
}

/// Of places in order, straight between two: at `(n − 1) share`.
fn quantile(places: &[f64], share: f64) -> Option<f64> {
    let at = share * places.len().checked_sub(1)? as f64;
    let (below, above) = (places.get(at.floor() as usize)?, places.get(at.ceil() as usize)?);
    Some(below + (above - below) * at.fract())
}

/// Days since 1 January of `year`, leap days left out: 1 March is one place in every year. 29
/// February counts as the day after it, the safer one.
pub(super) fn place(date: NaiveDate, year: i32) -> f64 {
    let (month, day) = if (date.month(), date.day()) == (2, 29) { (3, 1) } else { (date.month(), date.day()) };
    let ordinal = NaiveDate::from_ymd_opt(2001, month, day).map_or(0, |date| date.ordinal0());
    f64::from(date.year() - year) * 365.0 + f64::from(ordinal)
}

/// The day at a place, to the nearest; the later one of two.
pub(super) fn date_of(place: f64, year: i32) -> Option<NaiveDate> {
    let place = (place + 0.5).floor() as i32;
    let year = year.checked_add(place.div_euclid(365))?;
    let start = NaiveDate::from_ymd_opt(2001, 1, 1)?;
    let alike = start.checked_add_days(Days::new(u64::try_from(place.rem_euclid(365)).ok()?))?;
    NaiveDate::from_ymd_opt(year, alike.month(), alike.day())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn frosts(dates: &[Option<&str>]) -> LastFrosts {
        LastFrosts::from_dates(
            (2001..).zip(dates).map(|(year, day)| (year, day.map(|day| date(&format!("{year}-{day}"))))),
            Half::North,
        )
    }

    fn day(frosts: &LastFrosts, later: u8, method: FrostMethod) -> Option<String> {
        frosts.date(later, method, 2027).map(|date| date.to_string())
    }

    #[test]
    fn the_first_of_march_is_one_place_in_every_year() {
        assert!((place(date("2003-03-01"), 2003) - place(date("2004-03-01"), 2004)).abs() < 1e-9);
        assert!((place(date("2004-02-29"), 2004) - place(date("2004-03-01"), 2004)).abs() < 1e-9);
        assert_eq!(date_of(59.0, 2004), Some(date("2004-03-01")));
        assert_eq!(date_of(58.4, 2004), Some(date("2004-02-28")));
        assert_eq!(date_of(365.0, 2003), Some(date("2004-01-01")));
        assert_eq!(date_of(-1.0, 2004), Some(date("2003-12-31")));
    }

    #[test]
    fn between_two_frosts_the_day_lies_straight_between() {
        let eleven: Vec<String> = (1..=11).map(|day| format!("04-{day:02}")).collect();
        let frosts = frosts(&eleven.iter().map(|day| Some(day.as_str())).collect::<Vec<_>>());
        for (later, wanted) in [(9, "2027-04-02"), (5, "2027-04-06"), (1, "2027-04-10")] {
            assert_eq!(day(&frosts, later, FrostMethod::Empirical).as_deref(), Some(wanted), "{later}");
        }
        assert_eq!(frosts.place(0, FrostMethod::Empirical), None);
        assert_eq!(frosts.place(10, FrostMethod::Empirical), None);
    }

    #[test]
    fn springs_without_a_frost_count_as_well() {
        // 2 springs in 4 have a frost: 1 year in 10 has a later one where 1 in 5 of those has
        let frosts = frosts(&[Some("03-01"), None, Some("03-11"), None]);
        assert_eq!(day(&frosts, 1, FrostMethod::Empirical).as_deref(), Some("2027-03-09"));
        for method in [FrostMethod::Empirical, FrostMethod::NormalLaw] {
            assert!(day(&frosts, 4, method).is_some(), "{method:?}");
            assert_eq!(day(&frosts, 5, method), None, "{method:?}");
        }
        assert_eq!((frosts.springs(), frosts.with_frost()), (4, 2));
    }

    #[test]
    fn no_frost_and_no_end_of_it_are_told() {
        let never = frosts(&[None; 20]);
        assert_eq!((never.with_frost(), never.place(1, FrostMethod::NormalLaw)), (0, None));
        assert!(!never.is_endless());
        assert!(frosts(&[Some("07-23"), Some("07-20"), Some("05-01")]).is_endless());
        assert!(!frosts(&[Some("07-23"), Some("06-20"), Some("05-01")]).is_endless());
        let none = LastFrosts::from_dates([], Half::North);
        assert_eq!((none.place(5, FrostMethod::Empirical), none.is_endless()), (None, false));
    }

    #[test]
    fn frosts_that_are_all_alike_have_one_day() {
        let same = frosts(&[Some("05-01"); 5]);
        for later in [1, 5, 9] {
            assert_eq!(day(&same, later, FrostMethod::NormalLaw).as_deref(), Some("2027-05-01"), "{later}");
        }
        assert_eq!(day(&frosts(&[Some("05-01")]), 3, FrostMethod::NormalLaw).as_deref(), Some("2027-05-01"));
    }

    #[test]
    fn a_southern_spring_may_end_in_the_next_year() {
        let dates = [(2001, Some(date("2001-12-30"))), (2002, Some(date("2003-01-03")))];
        let frosts = LastFrosts::from_dates(dates, Half::South);
        assert_eq!(frosts.date(5, FrostMethod::Empirical, 2027), Some(date("2028-01-01")));
    }

    #[test]
    fn the_law_through_two_places_goes_through_them() {
        let law = NormalLaw::through((100.0, 0.5), (112.0, 0.1)).unwrap();
        assert!((law.place(0.1).unwrap() - 112.0).abs() < 1e-6);
        assert!((law.place(0.9).unwrap() - 88.0).abs() < 1e-6);
        assert_eq!(NormalLaw::through((100.0, 0.1), (112.0, 0.5)), None);
        assert_eq!(NormalLaw::through((100.0, 0.5), (112.0, 0.5)), None);
        assert_eq!(law.place(1.0), None);
    }
}
