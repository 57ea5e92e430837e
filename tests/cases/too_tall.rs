//! The day on which a plant outgrows its shelf, and by how much that day. Invented figures.

use flatwright::forecast::Problem;
use flatwright::outlook::{Reason, layout_problems};
use flatwright::season::{
    Container, ContainerKind, GrowthPoint, Op, Role, Shelf, Sourced, Spot, SpotFrom, Stack, TrayKey,
};
use flatwright::store;
use flatwright::units::{DateSpan, Length, LengthUnit};
use flatwright::words::Words;

use crate::support::{Grower, Manner, day, flat, length, measure, seedling, shelf, stage};

/// 5 cm a week on a tray of 6 cm.
#[track_caller]
fn grower(heights: &[&str]) -> Grower {
    let mut grower = Grower::new();
    let crop =
        flatwright::season::Crop { heights: Sourced::own(vec![GrowthPoint { week: 10.0, mm: 500.0 }]), ..seedling() };
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
    grower.settings(|settings| settings.lamp_gap = measure("0 mm"));
    let place = grower.place(Role::Growing);
    for height in heights {
        grower.rack(place, 1, &Shelf { clear_height: Some(measure(height)), ..shelf("60 x 30 cm") });
    }
    grower
}

/// To 1/8000 mm.
fn mm(mm: f64) -> Length {
    Length::try_from_mm(mm).unwrap_or_else(|| panic!("{mm} mm"))
}

/// Sown on 1 March; taller than 24 cm on the 34th day after it: 34 × 50 / 7 = 242.86 mm.
#[test]
fn the_first_day_too_tall_is_said_with_what_misses_that_day() {
    let mut grower = grower(&["300 mm"]);
    grower.sow(50, &[stage("sheet of 50", "2025-03-01")], "2025-04-26");
    let looked = grower.look();
    let [Problem::TooTall { day: first, needs, tallest, .. }] = looked.outlook.problems.as_slice() else {
        panic!("one: {:?}", looked.outlook.problems)
    };
    assert_eq!((*first, *tallest), (day("2025-04-04"), length("300 mm")));
    assert_eq!(*needs, mm(60.0) + mm(34.0 * 50.0 / 7.0));
    let words = Words {
        season: &looked.season,
        library: store::library(),
        forecast: &looked.forecast,
        unit: LengthUnit::Millimetre,
    };
    assert_eq!(
        words.problem(&looked.outlook.problems[0]),
        "Se 1 (seedling) outgrows every shelf on 4 Apr: it needs 302.86 mm of clear height, the tallest has 300 mm, \
         2.86 mm missing"
    );
    // the crunch is of its worst day, which is its first
    let crunch = looked.crunch(1, 0, 1);
    assert_eq!(crunch.span.from(), day("2025-04-04"));
    let Reason::Height { missing } = crunch.reason else { panic!("{:?}", crunch.reason) };
    assert_eq!(missing, mm(34.0 * 50.0 / 7.0) - mm(240.0));
}

#[test]
fn where_it_stands_it_is_too_tall_from_that_day_or_from_the_day_it_was_put_there() {
    let mut grower = grower(&["300 mm", "900 mm"]);
    let id = grower.sow(50, &[stage("sheet of 50", "2025-03-01")], "2025-04-26");
    let sowing = grower.season.sowing(id).unwrap();
    let tray = TrayKey::Own { lot: sowing.lots[0].id, step: sowing.steps[0].id, n: 1 };
    let low = grower.season.racks().iter().flat_map(|rack| grower.season.shelves_of(rack.id)).next().unwrap().id;
    let there = |from| {
        let mut season = grower.season.clone();
        let (x, y) = (Length::ZERO, Length::ZERO);
        let spot = Spot { tray, from, until: None, shelf: low, x, y, quarter_turns: 1, pinned: false };
        season.apply(&Op::PutSpot(spot).into()).unwrap();
        let found = layout_problems(&season, &grower.forecast());
        let [Problem::TooTallThere { day, missing, .. }] = found.as_slice() else { panic!("one: {found:?}") };
        (*day, *missing)
    };
    assert_eq!(there(SpotFrom::Start), (day("2025-04-04"), mm(34.0 * 50.0 / 7.0) - mm(240.0)));
    // 15 April is 45 days after sowing: 321.43 mm
    assert_eq!(there(SpotFrom::On(day("2025-04-15"))), (day("2025-04-15"), mm(45.0 * 50.0 / 7.0) - mm(240.0)));
}

/// Out on 10 April, in the frame from 3 April by day: too tall for it on the 4th, not from the 3rd.
#[test]
fn a_low_frame_is_outgrown_on_its_day_too() {
    let mut grower = grower(&["900 mm"]);
    let place = grower.place(Role::Hardening);
    grower.rack(place, 1, &Shelf { clear_height: Some(measure("300 mm")), ..shelf("60 x 30 cm") });
    grower.sow(50, &[stage("sheet of 50", "2025-03-01")], "2025-04-10");
    let looked = grower.look();
    let [Problem::TooTall { day: first, needs, .. }] = looked.outlook.problems.as_slice() else {
        panic!("one: {:?}", looked.outlook.problems)
    };
    assert_eq!((*first, *needs), (day("2025-04-04"), mm(60.0) + mm(34.0 * 50.0 / 7.0)));
}

/// Up four days after sowing; 6 cm of tray, 18 cm under its dome, and 10 cm of plant on 14 March.
#[test]
fn a_dome_counts_from_sowing_until_it_is_up_and_on_no_stack() {
    let sown = |clear: &str, stack: Option<Stack>| {
        let mut grower = grower(&[clear]);
        grower.container("under a dome", ContainerKind::Flat(flat("30 x 27 cm")));
        let plain = grower.season.own_containers().find(|one| one.key.0.as_ref() == "under a dome").cloned().unwrap();
        let [height, dome] = ["6 cm", "18 cm"].map(|height| Some(measure(height)));
        grower.edit(&Op::PutContainer(Container { height, dome, ..plain }).into());
        let stages = [stage("under a dome", "2025-03-01").holding(100)];
        grower.sow_so(200, &stages, "2025-03-15", Manner { stack, ..Manner::default() });
        grower.look()
    };
    let low = sown("17 cm", None);
    let found: Vec<_> = low
        .outlook
        .problems
        .iter()
        .map(|problem| match problem {
            Problem::TooTall { day: first, needs, tallest, .. } => (*first, *needs, *tallest),
            other => panic!("{other:?}"),
        })
        .collect();
    let too_tall = (day("2025-03-01"), length("18 cm"), length("17 cm"));
    assert_eq!(found, [too_tall, too_tall], "one line a tray");
    let dome = DateSpan::new(day("2025-03-01"), day("2025-03-05")).unwrap();
    assert_eq!(low.crunch(2, 0, 2).span, dome, "it is off when they are up");
    sown("18 cm", None).fits();
    // two trays of 6 cm, one on the other
    sown("17 cm", Some(Stack { days: 4, high: 2 })).fits();
}
