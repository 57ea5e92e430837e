//! How a season may turn out: early, likely and late as one drawn day.
//!
//! A draw is known by its number. What it says about a sowing hangs on that number, the crop, the
//! sowing and what is asked, and on nothing else: not on who asks first, nor on what else is sown,
//! so that a season before an edit and after it meets the same springs.

mod frost;
mod philox;

use crate::season::{CropKey, DayRange, SowingId};
use crate::trade::normal_quantile;

use philox::philox;

/// Of the spread of days, in tenths: what all crops of a spring have in common, what all sowings of
/// a crop have, and what each sowing has by itself. Together ten. Our choice; common practice says
/// that a dull spring holds everything back and a slow packet all its sowings; no source for how
/// much.
const SPRING: f64 = 3.0;
const CROP: f64 = 4.0;
const SOWING: f64 = 3.0;

/// Later or earlier than this many standard deviations is not drawn: 3 in 1,000.
const MOST: f64 = 3.0;

/// Up to so many cells are drawn one by one; more of them by the normal law, which is as good then.
const MOST_CELLS: u32 = 64;

/// The key of all streams; any number would do.
const KEY: [u32; 2] = [0x0046_6C61, 0x7477_7269];

/// What is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Interval {
    /// Days from sowing until it shows.
    Emergence,
    /// Days from sowing until the leaves are there that moving on waits for.
    Leaves,
}

/// One way a season may turn out, or the likely one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Scenario {
    draw: Option<u32>,
    frost_days: i64,
}

/// Whose luck: each has a stream of its own.
enum Whose<'a> {
    Spring,
    Crop(&'a CropKey),
    Sowing(SowingId, Interval),
    Cells(SowingId, u32),
    Frost,
}

impl Scenario {
    /// Everything as is likely.
    pub const fn none() -> Self {
        Self { draw: None, frost_days: 0 }
    }

    /// The draw of that number.
    pub const fn draw(number: u32) -> Self {
        Self { draw: Some(number), frost_days: 0 }
    }

    /// The days of an interval as this draw has them.
    ///
    /// early, likely and late are the days that 1, 5 and 9 in 10 stay within. Between and beyond them:
    /// days = likely + z (late − likely) / z₉₀ for z ≥ 0, likely + z (likely − early) / z₉₀ for z < 0,
    /// rounded to whole days, where z is standard normal and z₉₀ = 1.2816 its 90 % point: two halves of
    /// normal laws with a spread each, which meet at the likely day. z = √0.3 spring + √0.4 crop +
    /// √0.3 own: for every sowing standard normal by itself, 0.7 correlated with the crop's other
    /// sowings and 0.3 with all others. Up and leaves share all but the own part.
    pub fn of(&self, days: &DayRange, crop: &CropKey, sowing: SowingId, what: Interval) -> u16 {
        let Some(draw) = self.draw else { return days.likely };
        let part = |tenths: f64, whose: Whose<'_>| (tenths / 10.0).sqrt() * normal_quantile(uniform(draw, &whose, 0));
        let z = part(SPRING, Whose::Spring) + part(CROP, Whose::Crop(crop)) + part(SOWING, Whose::Sowing(sowing, what));
        shifted(*days, z)
    }

    /// How many of so many cells came up, each with that chance.
    pub(super) fn came_up(&self, cells: u32, chance: f64, sowing: SowingId, lot: u32) -> u32 {
        let Some(draw) = self.draw else { return cells };
        let whose = Whose::Cells(sowing, lot);
        if cells <= MOST_CELLS {
            let up = (1..=cells).filter(|cell| uniform(draw, &whose, *cell) < chance);
            return u32::try_from(up.count()).unwrap_or(cells);
        }
        let number = f64::from(cells);
        let spread = (number * chance * (1.0 - chance)).max(0.0).sqrt();
        (number * chance + normal_quantile(uniform(draw, &whose, 0)) * spread + 0.5).floor().clamp(0.0, number) as u32
    }

    /// Days by which the last frost comes later than the season reckons with; earlier ones let nobody
    /// out sooner.
    pub const fn frost_days(&self) -> i64 {
        self.frost_days
    }

    /// The same with a last frost so many days later.
    #[must_use]
    pub const fn with_frost_days(self, days: i64) -> Self {
        Self { frost_days: days, ..self }
    }

    /// Whether this is the likely season, in which nothing is drawn.
    pub const fn is_none(&self) -> bool {
        self.draw.is_none()
    }
}

fn shifted(days: DayRange, z: f64) -> u16 {
    let (early, likely, late) = (f64::from(days.early), f64::from(days.likely), f64::from(days.late));
    let side = if z < 0.0 { (likely - early).max(0.0) } else { (late - likely).max(0.0) };
    let drawn = likely + z.clamp(-MOST, MOST) * side / normal_quantile(0.9);
    (drawn + 0.5).floor().clamp(likely.min(1.0), f64::from(u16::MAX)) as u16
}

/// Between 0 and 1, both left out.
fn uniform(draw: u32, whose: &Whose<'_>, number: u32) -> f64 {
    let (kind, [a, b]) = match whose {
        Whose::Spring => (0, [0, 0]),
        Whose::Crop(key) => (1, name(&key.0)),
        Whose::Sowing(sowing, Interval::Emergence) => (2, [sowing.0, 0]),
        Whose::Sowing(sowing, Interval::Leaves) => (3, [sowing.0, 0]),
        Whose::Cells(sowing, lot) => (4 + number, [sowing.0, *lot]),
        Whose::Frost => (u32::MAX, [0, 0]),
    };
    let [high, low, ..] = philox([draw, kind, a, b], KEY);
    let bits = u64::from(high) << 20 | u64::from(low >> 12);
    (bits as f64 + 0.5) / (1_u64 << 52) as f64
}

/// A crop's key as two words: FNV-1a, 64 bits.
fn name(key: &str) -> [u32; 2] {
    let hash = key
        .bytes()
        .fold(0xCBF2_9CE4_8422_2325_u64, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01B3));
    [(hash >> 32) as u32, hash as u32]
}

#[cfg(test)]
mod tests {
    use super::*;

    const DAYS: DayRange = DayRange { early: 25, likely: 30, late: 40 };

    fn drawn(days: DayRange, crop: &str, sowing: u32) -> Vec<u16> {
        let crop = CropKey::new(crop);
        (0..4_000).map(|draw| Scenario::draw(draw).of(&days, &crop, SowingId(sowing), Interval::Leaves)).collect()
    }

    #[test]
    fn one_in_ten_is_early_nine_in_ten_are_not_late() {
        let mut days = drawn(DAYS, "tomato", 1);
        days.sort_unstable();
        // within a day of the points, which a share of 4,000 is by 3 standard errors and the rounding
        for (at, point) in [(400, DAYS.early), (2_000, DAYS.likely), (3_600, DAYS.late)] {
            assert!(days[at].abs_diff(point) <= 1, "{at}: {}", days[at]);
        }
        assert_eq!(Scenario::none().of(&DAYS, &CropKey::new("tomato"), SowingId(1), Interval::Leaves), 30);
        let fixed = DayRange { early: 7, likely: 7, late: 7 };
        assert!(drawn(fixed, "tomato", 1).iter().all(|days| *days == 7));
    }

    /// Of normals with correlation r, the share that have the same sign is 1/2 + asin(r) / π.
    #[test]
    fn sowings_of_one_crop_go_together_and_others_less_so() {
        let even = DayRange { early: 100, likely: 200, late: 300 };
        let same = |a: &[u16], b: &[u16]| {
            let agree = a.iter().zip(b).filter(|(a, b)| (**a > 200) == (**b > 200)).count();
            agree as f64 / a.len() as f64
        };
        let (one, kin) = (drawn(even, "tomato", 1), drawn(even, "tomato", 2));
        let other = drawn(even, "leek", 3);
        for (got, r) in [(same(&one, &kin), 0.7_f64), (same(&one, &other), 0.3)] {
            let wanted = 0.5 + r.asin() / std::f64::consts::PI;
            let error = (wanted * (1.0 - wanted) / 4_000.0).sqrt();
            assert!((got - wanted).abs() < 3.0 * error + 0.002, "{got} for {wanted}");
        }
    }

    #[test]
    fn as_many_cells_come_up_as_the_binomial_law_says() {
        for cells in [40_u32, 500] {
            let up = |draw| f64::from(Scenario::draw(draw).came_up(cells, 0.85, SowingId(1), 0));
            let all: Vec<f64> = (0..2_000).map(up).collect();
            let mean = all.iter().sum::<f64>() / 2_000.0;
            let spread = all.iter().map(|up| (up - mean).powi(2)).sum::<f64>() / 2_000.0;
            let (n, variance) = (f64::from(cells), f64::from(cells) * 0.85 * 0.15);
            assert!((mean - n * 0.85).abs() < 3.0 * (variance / 2_000.0).sqrt(), "{mean}");
            // the variance of a sample has a standard error of √(2 / n) of itself
            assert!((spread / variance - 1.0).abs() < 3.0 * (2.0_f64 / 2_000.0).sqrt(), "{spread}");
        }
        assert_eq!(Scenario::none().came_up(40, 0.85, SowingId(1), 0), 40);
        assert_eq!(Scenario::draw(1).came_up(40, 1.0, SowingId(1), 0), 40);
        assert_eq!(Scenario::draw(1).came_up(500, 0.0, SowingId(1), 0), 0);
    }

    #[test]
    fn a_draw_is_the_same_for_good() {
        let days = [DAYS; 4]
            .iter()
            .zip(0..)
            .map(|(days, draw)| Scenario::draw(draw).of(days, &CropKey::new("tomato"), SowingId(1), Interval::Leaves));
        assert_eq!(days.collect::<Vec<_>>(), [40, 32, 23, 30]);
    }
}
