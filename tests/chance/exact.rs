//! Weeks of which the probability is known: it must come out within three standard errors.
//!
//! A sowing has its leaves by day d if z ≤ t, where z is standard normal and, past the likely day,
//! t = (d + ½ − likely) / (late − likely) · z₉₀. Of sowings that have a part of variance r in common,
//! each has them with probability p(c) = Φ((t − √r c) / √(1 − r)) once the common part c is given, and
//! then independently: P = ∫ φ(c) P(Binomial(n, p(c)) ≥ m) dc.

use chrono::NaiveDate;
use statrs::distribution::{Binomial, Continuous as _, ContinuousCDF as _, DiscreteCDF as _, Normal};

use crate::seasons::{DAYS, GROWING, drawn, known, week_of};

const DRAWS: u32 = 4_000;
/// Of variance, in common for sowings of one crop, and for sowings of different ones.
const OF_A_CROP: f64 = 0.7;
const OF_A_SPRING: f64 = 0.3;

/// That `enough` of `number` sowings have their leaves by the 31st day.
fn probability(number: u64, enough: u64, common: f64) -> f64 {
    let normal = Normal::standard();
    let side = f64::from(DAYS.late - DAYS.likely);
    let t = (31.5 - f64::from(DAYS.likely)) / side * normal.inverse_cdf(0.9);
    let step = 0.002;
    let given = |c: f64| {
        let p = normal.cdf((t - common.sqrt() * c) / (1.0 - common).sqrt());
        let some = Binomial::new(p, number).expect("a probability").sf(enough - 1);
        normal.pdf(c) * some * step
    };
    (-4_000..=4_000).map(|k| given(f64::from(k) * step)).sum()
}

#[expect(clippy::print_stdout, reason = "a reader of the checks wants to see each formula with what came of it")]
fn told(what: &str) {
    println!("{what}");
}

#[track_caller]
fn check(crops: &[&str], enough: usize, common: f64) {
    let season = known(crops, enough);
    let chance = drawn(&season, 0, DRAWS);
    let monday = NaiveDate::from_ymd_opt(2027, 3, 29).expect("a date");
    let week = week_of(&chance, GROWING, monday);
    assert_eq!(week.proven, week.at_most, "alike trays on one shelf leave nothing open");
    let wanted = probability(crops.len() as u64, enough as u64, common);
    let error = (wanted * (1.0 - wanted) / f64::from(DRAWS)).sqrt();
    let found = chance.share(week.proven);
    told(&format!(
        "{enough} of n = {} sowings with {common} in common: {found:.4}; \
         P = ∫ φ(c) P(Binomial(n, p(c)) ≥ {enough}) dc = {wanted:.4} ± {error:.4}",
        crops.len(),
    ));
    assert!((found - wanted).abs() <= 3.0 * error, "{found} for {wanted} ± {error}");
    // one tray each and the guests at least; three each at most
    let (number, guests) = (crops.len(), 2 * (crops.len() - enough) + 1);
    let (low, high) = ((number + guests) as u32, (3 * number + guests) as u32);
    assert!(low <= week.needed.0 && week.needed.1 <= high && week.needed.0 <= week.needed.1, "{:?}", week.needed);
}

#[test]
fn one_sowing_is_in_time_by_its_own_law() {
    check(&["lettuce"], 1, OF_A_CROP);
}

#[test]
fn sowings_of_one_crop_come_together() {
    check(&["lettuce", "lettuce"], 2, OF_A_CROP);
    check(&["lettuce"; 5], 4, OF_A_CROP);
}

#[test]
fn two_crops_have_less_in_common() {
    check(&["lettuce", "kale"], 2, OF_A_SPRING);
    check(&["lettuce", "kale", "leek"], 1, OF_A_SPRING);
}

/// One tray until its leaves are there, three then, and a guest until Thursday: 4 by the 31st day with
/// P = 0.55, else 3 by Sunday, the 34th, with 0.10 more, else 2.
#[test]
fn the_band_is_what_nine_and_one_in_ten_reach() {
    let chance = drawn(&known(&["lettuce"], 1), 0, DRAWS);
    let monday = NaiveDate::from_ymd_opt(2027, 3, 29).expect("a date");
    assert_eq!(week_of(&chance, GROWING, monday).needed, (2, 4));
    // a week before, three by the 27th day: one in ten are there by the 24th already
    let before = monday.checked_sub_days(chrono::Days::new(7)).expect("a date");
    assert_eq!(week_of(&chance, GROWING, before).needed, (1, 3));
    // three weeks on all are, but for one in seventy
    let after = monday.checked_add_days(chrono::Days::new(21)).expect("a date");
    assert_eq!(week_of(&chance, GROWING, after).needed, (3, 3));
}
