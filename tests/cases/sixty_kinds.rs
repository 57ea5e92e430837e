//! Sixty kinds: quarter trays, then a full one, then two. A grower's report, restated.
//!
//! Four kinds share a tray by its rows until the last of them is pricked out, so that a kind that is
//! left alone still takes a whole tray: 38 and 28 kinds pricked out fill the house all the same.
//! Which trays may go out under cover, and from when, by hardiness: `ways_out`.

use chrono::NaiveDate;
use flatwright::outlook::Verdict;

use crate::support::{Grower, Looked, count, day, days_after, shelf, stage};

const STAGING: &str = "427 x 61 cm";
const TRAY: &str = "38 x 24 cm";
const PRICKED_OUT: &str = "2025-02-10";
const OUT: &str = "2025-06-02";

/// Kinds in quarter trays from January, one of them pricked out each day from 10 February on, and
/// all potted on on 5 May.
#[track_caller]
fn sixty_kinds(potted_on: bool) -> Grower {
    let mut grower = Grower::growing(2, &shelf(STAGING));
    grower.rows("rows", TRAY, (4, 12));
    grower.sheet("tray of 12", TRAY, 12);
    grower.sheet("tray of 6", TRAY, 6);
    let kinds: Vec<_> = (0..60)
        .map(|kind| {
            let pricked_out = days_after(day(PRICKED_OUT), kind).to_string();
            let mut stages = vec![stage("rows", "2025-01-13"), stage("tray of 12", &pricked_out)];
            if potted_on {
                stages.push(stage("tray of 6", "2025-05-05"));
            }
            grower.sow(12, &stages, OUT)
        })
        .collect();
    kinds.chunks(4).for_each(|four| grower.share_a_tray(four));
    grower
}

/// The evening on which so many kinds are pricked out.
#[track_caller]
fn with_pricked_out(kinds: u64) -> NaiveDate {
    days_after(day(PRICKED_OUT), kinds - 1)
}

#[track_caller]
fn full_at(looked: &Looked, kinds: u64) {
    let first = looked.outlook.crunches.iter().map(|crunch| crunch.span.from()).min();
    assert_eq!(first, Some(with_pricked_out(kinds + 1)), "{:?}", looked.outlook.crunches);
}

#[test]
fn sixty_kinds_take_15_then_60_then_120_trays() {
    let looked = sixty_kinds(true).look();
    let places = ["2025-01-20", "2025-04-30", "2025-05-05"].map(|date| looked.places_on(date));
    assert_eq!(places, [15, 60, 120]);
}

#[test]
fn a_side_takes_22_trays_and_17_the_other_way() {
    assert_eq!(count(STAGING, TRAY), 22);
    // floors: 11 × 2 along, 17 × 1 across
    let rows = |tray: [i64; 2]| (427 / tray[0]) * (61 / tray[1]);
    assert_eq!([rows([38, 24]), rows([24, 38])], [22, 17]);
}

#[test]
fn the_44_trays_fit_and_the_45th_does_not() {
    let season = |trays: u32| {
        let mut grower = Grower::growing(2, &shelf(STAGING));
        grower.sheet("tray of 12", TRAY, 12);
        grower.sow(12 * trays, &[stage("tray of 12", "2025-02-10")], "2025-03-31");
        grower.look()
    };
    season(44).fits();
    season(45).crunch(45, 44, 1);
}

#[test]
fn the_house_is_full_with_38_kinds_pricked_out() {
    let looked = sixty_kinds(false).look();
    full_at(&looked, 38);
    assert_eq!(looked.places_on(&with_pricked_out(38).to_string()), 44);
    assert_eq!(looked.places_on(&with_pricked_out(39).to_string()), 45);
}

#[test]
fn beside_eight_overwintered_trays_it_is_full_with_28() {
    let mut grower = sixty_kinds(false);
    grower.guests(8, TRAY, "2025-01-01", OUT);
    let looked = grower.look();
    full_at(&looked, 28);
    assert_eq!(looked.places_on(&with_pricked_out(28).to_string()), 44);
}

#[test]
fn at_the_last_stage_76_trays_have_no_place() {
    let looked = sixty_kinds(true).look();
    let worst = looked.outlook.crunches.iter().max_by_key(|crunch| crunch.short);
    let found = worst.map(|crunch| (crunch.worst_day, crunch.needed, crunch.held, crunch.short, crunch.short_at_most));
    assert_eq!(found, Some((day("2025-05-05"), 120, 44, 76, 76)));
}

#[test]
fn january_knows_of_may() {
    let looked = sixty_kinds(true).look();
    assert_eq!(looked.week("2025-01-15").verdict, Verdict::Fits);
    assert_eq!(looked.week("2025-05-07").verdict, Verdict::Crunch);
}

#[test]
fn a_shared_tray_stands_until_its_last_kind_is_pricked_out() {
    let looked = sixty_kinds(false).look();
    // kinds 1 to 3 are out and the fourth is not: 3 + 15; with it there is one tray fewer: 4 + 14
    let places = [3, 4].map(|kinds| looked.places_on(&with_pricked_out(kinds).to_string()));
    assert_eq!(places, [18, 18]);
}
