//! What no single change of a sowing does: two of them at once, part of it in smaller pots, and what a way out costs that
//! leaves plants in poor light.

use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::outlook::Verdict;
use flatwright::outlook::ways_out::{Change, Found, Price, Standing, WayOut, find};
use flatwright::season::{ContainerKey, ContainerKind, Library, Matter, Matters, Op, RimShape, Shelf, ZoneKind};
use proptest::prelude::*;

use crate::support::{FLAT, Grower, day, days_after, pot, shelf, stage, zone};
use crate::ways_out::{Ways, only, outlook};

fn best(ways: &Ways) -> &WayOut {
    let best = ways.found.best.way.as_ref().filter(|way| way.effect.verdict == Verdict::Fits);
    best.unwrap_or_else(|| panic!("none fits: {:#?}", ways.found.best))
}

fn fits_alone(ways: &Ways, is_so: impl Fn(&Change) -> bool) -> bool {
    let alone = ways.found.of_crunches.iter().flatten().filter(|way| way.effect.verdict == Verdict::Fits);
    alone.filter_map(only).any(is_so)
}

/// Five flats of pots on a shelf for six, beside five others until 19 March, then three.
#[test]
fn moved_on_later_and_into_smaller_cells_fits_where_neither_does() {
    let mut grower = Grower::growing(1, &shelf("66 x 22 in"));
    // 18 and 32 to a flat
    for (name, rim) in [("large pot", "3.25 in"), ("small pot", "2.5 in")] {
        grower.container(name, ContainerKind::Pot(pot(RimShape::Square, rim)));
    }
    let steps = [stage("sheet of 200", "2025-03-03"), stage("large pot", "2025-03-17").carried_in("flat")];
    grower.sow(80, &steps, "2025-04-28");
    grower.guests(5, FLAT, "2025-02-24", "2025-03-20");
    grower.guests(3, FLAT, "2025-03-20", "2025-05-05");
    let ways = Ways::of_grower(&grower);
    let way = best(&ways);
    let into = |change: &Change| matches!(change, Change::Into { .. });
    let held = |change: &Change| matches!(change, Change::Held { to, .. } if *to == day("2025-03-20"));
    assert_eq!(way.changes.len(), 2, "{:?}", way.changes);
    assert!(way.changes.iter().any(into) && way.changes.iter().any(held), "{:?}", way.changes);
    // three days, 80 plants
    assert_eq!(way.price, Price { held: 240, smaller: 80, ..Price::default() });
    assert!(!fits_alone(&ways, |change| matches!(change, Change::Into { .. } | Change::Held { .. })));
}

/// Six weeks old when they go out, beside five others until a week after they are sown.
#[test]
fn the_whole_course_may_be_a_week_later() {
    let mut grower = Grower::growing(1, &shelf("66 x 22 in"));
    grower.sow(100, &[stage("sheet of 50", "2025-03-03")], "2025-04-14");
    grower.guests(5, FLAT, "2025-02-24", "2025-03-10");
    grower.settings(|settings| (settings.matters.buying, settings.matters.fewer) = (Matter::Much, Matter::Much));
    let ways = Ways::of_grower(&grower);
    let way = best(&ways);
    let sown = |change: &Change| matches!(change, Change::Sown { to, .. } if *to == day("2025-03-10"));
    let out = |change: &Change| matches!(change, Change::Out { to, .. } if *to == day("2025-04-21"));
    assert!(way.changes.iter().any(sown) && way.changes.iter().any(out), "{:?}", way.changes);
    assert_eq!(way.price, Price { sown: 700, out: 700, ..Price::default() });
}

/// Two tiers of four trays; ten of the big cups to a tray, 18 of the middle ones, 32 of the small ones.
#[track_caller]
fn cups(plants: u32, sizes: &[(&'static str, &str)]) -> Ways {
    let mut grower = Grower::growing(2, &shelf("48 x 24 in"));
    for (name, rim) in sizes {
        grower.container(name, ContainerKind::Pot(pot(RimShape::Round, rim)));
    }
    for sheet in ["sheet of 38", "sheet of 50", "sheet of 72", "sheet of 128"] {
        grower.edit(&Op::RemoveContainer(ContainerKey::new(sheet)).into());
    }
    let steps = [stage("sheet of 200", "2025-03-24"), stage("16 oz cup", "2025-04-14").carried_in("flat")];
    grower.sow(plants, &steps, "2025-06-02");
    Ways::of_grower(&grower)
}

#[test]
fn forty_stay_in_big_cups_and_72_go_into_middle_ones() {
    let ways = cups(112, &[("9 oz cup", "3.2 in"), ("16 oz cup", "3.75 in")]);
    let way = best(&ways);
    let some = |change: &Change| {
        let is_middle = |to: &ContainerKey| *to == ContainerKey::new("9 oz cup");
        matches!(change, Change::SomeInto { to, plants: 72, of: 112, .. } if is_middle(to))
    };
    assert!(only(way).is_some_and(some), "{:?}", way.changes);
    // four trays of ten, four of 18, and none of either is left over
    assert_eq!(way.effect.spare.map(|(_, spare)| spare), Some(0));
    assert_eq!(way.price, Price { smaller: 72, ..Price::default() });
}

#[test]
fn of_196_twenty_stay_in_big_cups_beside_six_trays_of_small_ones() {
    let ways = cups(196, &[("3 oz cup", "2.5 in"), ("9 oz cup", "3.2 in"), ("16 oz cup", "3.75 in")]);
    let some =
        ways.has("some in small cups", |way| matches!(only(way), Some(Change::SomeInto { plants: 176, of: 196, .. })));
    assert_eq!(some.effect.verdict, Verdict::Fits);
    let mut season = ways.season.clone();
    season.apply(&some.edit).unwrap_or_else(|why| panic!("{why:?}"));
    let plants: Vec<u32> = season.sowings().map(flatwright::season::Sowing::plants_wanted).collect();
    assert_eq!(plants, [20, 176]);
}

/// Two flats under the lamp; trays that stick out in front of them stand in its poor light.
fn lamp_at_the_back() -> Grower {
    let lamp = zone(ZoneKind::Lamp, "43 x 11 in");
    let mut grower = Grower::growing(1, &Shelf { zones: vec![lamp], ..shelf("43 x 20 in") });
    grower.sow(100, &[stage("sheet of 50", "2025-02-20")], "2025-04-05");
    grower.sow(100, &[stage("sheet of 50", "2025-03-16")], "2025-06-10");
    grower
}

fn sticks_out(way: &WayOut) -> bool {
    way.changes.iter().any(|change| matches!(change, Change::StickOut { .. }))
}

#[test]
fn what_stands_beyond_the_lamps_has_its_price() {
    let ways = Ways::of_grower(&lamp_at_the_back());
    let over = ways.has("over the edge", sticks_out);
    // two trays of 50 at least, on 20 days at least
    let beyond = over.effect.beyond_lamps;
    assert_eq!(over.effect.beyond_before.tray_days, 0);
    assert!(beyond.most >= 2 && beyond.tray_days >= 40 && beyond.plant_days == 50 * beyond.tray_days, "{beyond:?}");
    assert_eq!(over.price, Price { edges: 1, dark: beyond.plant_days, ..Price::default() });
    let way = best(&ways);
    assert!(matches!(only(way), Some(Change::Sown { to, .. }) if *to == day("2025-04-05")), "{:?}", way.changes);
    let [first, ..] = ways.found.of_crunches[0].as_slice() else { panic!("none") };
    assert!(!sticks_out(first), "{:?}", first.changes);
}

/// An edge is 500 points and a plant that stands a day in poor light is one, three times that where it matters fairly.
#[test]
fn poor_light_costs_what_the_grower_minds_it() {
    let price = Price { edges: 1, dark: 1_000, ..Price::default() };
    let points = |dark| price.points(&Matters { dark, ..Matters::default() });
    assert_eq!([Matter::Little, Matter::Fairly, Matter::Much].map(points), [2_500, 4_500, 10_500]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10))]
    #[test]
    fn ways_out_are_the_same_on_any_number_of_threads(
        trays in prop::collection::vec((1_u32..5, 0_u64..30, 42_u64..60, any::<bool>()), 2..5),
        places in 1_u32..3,
    ) {
        let mut grower = Grower::growing(places, &shelf("48 x 22 in"));
        for (trays, sown, days, moves) in trays {
            let [sown, out] = [sown, sown + days].map(|days| days_after(day("2025-03-01"), days).to_string());
            let moved = days_after(day(&sown), 15).to_string();
            let stages = [stage("sheet of 72", &sown), stage("sheet of 38", &moved)];
            grower.sow(40 * trays, if moves { &stages } else { &stages[..1] }, &out);
        }
        let (season, library) = (&grower.season, &Library::default());
        let forecast = flatwright::forecast::forecast(season, library);
        let found = |threads: usize| -> Found {
            let memory = || Memory::default().on_threads(std::num::NonZero::new(threads).expect("some"));
            let outlook = outlook(season, library, &mut memory());
            let of = Standing { season, library, forecast: &forecast, outlook: &outlook, today: None };
            find(&of, &mut memory(), &Progress::default(), &Cancel::default()).expect("nobody cancels")
        };
        let one = found(1);
        for threads in [2, 8] {
            prop_assert_eq!(&found(threads), &one, "{} threads", threads);
        }
    }
}
