//! Sixty kinds: quarter trays, then a full one, then two. A grower's report, restated.
//!
//! Four kinds share a tray by its rows until the last of them is pricked out, so that a kind that is
//! left alone still takes a whole tray: 38 and 28 kinds pricked out fill the house all the same.
//! Which trays may go out under cover, and from when, is said by hardiness.

use chrono::NaiveDate;
use flatwright::outlook::Verdict;
use flatwright::outlook::ways_out::{Change, WayOut};
use flatwright::season::{Crop, CropKey, Frost, Hardiness, Op, Role, Sourced, SowingChange, SowingId, Unwanted};

use crate::support::{Grower, Looked, count, day, days_after, seedling, shelf, stage};
use crate::ways_out::{Ways, only};

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

/// Every other kind is tender; the last frost is on 10 May, and there is room under netting outside.
fn hardy_and_tender() -> (Grower, Vec<SowingId>, Vec<SowingId>) {
    let mut grower = sixty_kinds(true);
    let netting = grower.place(Role::Hardening);
    grower.rack(netting, 6, &shelf(STAGING));
    let weeks = |first, last| Some(Sourced::own((first, last)));
    let (key, hardiness) = (CropKey::new("tender"), Hardiness::Tender);
    let tender = Crop { key: key.clone(), hardiness, planting_out_after_frost: weeks(1, 3), ..seedling() };
    let hardy = Crop { planting_out_after_frost: weeks(-4, 2), ..seedling() };
    for crop in [hardy, tender] {
        grower.edit(&Op::PutCrop(Box::new(crop)).into());
    }
    let all: Vec<SowingId> = grower.season.sowings().map(|sowing| sowing.id).collect();
    let of = |odd: usize| all.iter().copied().skip(odd).step_by(2).collect::<Vec<_>>();
    let (hardy, tender) = (of(0), of(1));
    for id in &tender {
        grower.change(*id, |sowing| sowing.crop = key.clone());
    }
    grower.settings(|settings| settings.frost = Some(Frost::on(day("2025-05-10"))));
    (grower, hardy, tender)
}

/// Whose nights outside begin sooner, and when.
fn outside(ways: &Ways) -> Vec<(SowingId, NaiveDate)> {
    let nights = |way: &WayOut| match only(way) {
        Some(Change::Hardened { sowing, nights, .. }) => Some((*sowing, *nights)),
        _ => None,
    };
    ways.found.of_crunches.iter().flatten().filter_map(nights).collect()
}

#[test]
fn hardy_kinds_may_go_under_cover_once_they_are_potted_on_and_the_rest_a_week_after_the_frost() {
    use SowingChange::{Container, Fewer, Held, Out, Shared, Sown, Tight};

    let (mut grower, hardy, tender) = hardy_and_tender();
    let now = outside(&Ways::of_grower(&grower));
    assert!(now.iter().any(|(kind, _)| hardy.contains(kind)), "{now:?}");
    for (kind, night) in &now {
        // potted on 5 May, outside by day from the next day on, at night three days later
        let first = if hardy.contains(kind) { "2025-05-09" } else { "2025-05-17" };
        assert!(*night >= day(first), "{kind}: {night}");
    }
    let earliest = now.iter().filter(|(kind, _)| hardy.contains(kind)).map(|(_, night)| *night).min();
    assert_eq!(earliest, Some(day("2025-05-09")));
    // nothing else is to be done, and those not at all
    let refused = hardy.iter().map(|id| Unwanted::OfSowing(*id, SowingChange::Hardened));
    let others = hardy.iter().chain(&tender).flat_map(|id| {
        [Held, Sown, Out, Container, Tight, Fewer, Shared].map(|change| Unwanted::OfSowing(*id, change))
    });
    let refused: Vec<Unwanted> = refused.chain(others).collect();
    grower.settings(|settings| settings.unwanted = refused);
    let rest = outside(&Ways::of_grower(&grower));
    assert!(!rest.is_empty() && rest.iter().all(|(kind, _)| tender.contains(kind)), "{rest:?}");
    assert_eq!(rest.iter().map(|(_, night)| *night).min(), Some(day("2025-05-17")));
}
