//! What holds of every season: the growers' cases are few, these are drawn.

use flatwright::outlook::{Effort, OnDayCount, Spots, Verdict, carried, spot_of};
use flatwright::season::{ContainerKind, Op, RimShape, Role, Settings, Shelf, Spot, SpotFrom, ZoneKind};
use flatwright::units::{Length, shifted};
use proptest::collection::vec;
use proptest::prelude::*;

use crate::support::{FLAT, Grower, Stage, day, days_after, measure, pot, shelf, stage, zone};

/// Enough for seasons this small.
pub(crate) const EFFORT: Effort = Effort(300_000);

#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    gap_mm: i64,
    shelves: Vec<(u8, u8, u8)>,
    sowings: Vec<(u32, u8, u64, u64, u64)>,
    guests: u16,
}

pub(crate) fn seasons() -> impl Strategy<Value = Drawn> {
    let shelf = (0..4_u8, 0..3_u8, 0..3_u8);
    let sowing = (1..400_u32, 0..4_u8, 0..20_u64, 5..25_u64, 5..25_u64);
    (prop_oneof![Just(0_i64), Just(3)], vec(shelf, 1..4), vec(sowing, 1..4), 0..4_u16)
        .prop_map(|(gap_mm, shelves, sowings, guests)| Drawn { gap_mm, shelves, sowings, guests })
}

const SIZES: [&str; 4] = ["48 x 24 in", "48 x 18 in", "100 x 60 cm", "36 x 23 in"];

pub(crate) fn build(drawn: &Drawn, times: u32) -> Grower {
    let mut grower = Grower::new();
    grower.edit(
        &Op::SetSettings(Settings {
            gap: flatwright::units::Measure::mm(drawn.gap_mm),
            ..grower.season.settings().clone()
        })
        .into(),
    );
    grower.container("square pot", ContainerKind::Pot(pot(RimShape::Square, "3.25 in")));
    grower.container("round pot", ContainerKind::Pot(pot(RimShape::Round, "9 cm")));
    let place = grower.place(Role::Growing);
    for &(size, zones, overhang) in &drawn.shelves {
        let bare = shelf(SIZES.get(usize::from(size)).copied().unwrap_or("48 x 24 in"));
        let heat = zone(ZoneKind::Heat, "24 x 22 in");
        let zones = if zones == 0 { vec![heat] } else { Vec::new() };
        let overhang = measure(["0 in", "1 in", "4 in"].get(usize::from(overhang)).copied().unwrap_or("0 in"));
        grower.rack(place, times, &Shelf { zones, overhang, ..bare });
    }
    for &(plants, kind, sown, moved, out) in &drawn.sowings {
        let sown = days_after(day("2025-03-03"), sown);
        let moved = days_after(sown, moved);
        let out = days_after(moved, out).to_string();
        let next: Stage = match kind {
            0 => stage("sheet of 38", &moved.to_string()),
            1 => stage("square pot", &moved.to_string()).carried_in("flat"),
            2 => stage("square pot", &moved.to_string()),
            _ => stage("round pot", &moved.to_string()),
        };
        grower.sow(plants, &[stage("sheet of 128", &sown.to_string()), next], &out);
    }
    if drawn.guests > 0 {
        grower.guests(drawn.guests, FLAT, "2025-03-01", "2025-04-01");
    }
    grower
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_layout_has_two_trays_on_the_same_ground_on_any_day(drawn in seasons()) {
        // `look` holds the layout against plain sums
        build(&drawn, 1).look_with(EFFORT);
    }

    #[test]
    fn a_season_fits_just_when_every_tray_has_a_spot_on_every_day(drawn in seasons()) {
        let looked = build(&drawn, 1).look_with(EFFORT);
        let fits = looked.outlook.verdict == Verdict::Fits;
        prop_assert_eq!(fits, looked.outlook.no_spot.is_empty());
        if fits {
            looked.fits();
        }
    }

    #[test]
    fn twice_the_shelves_never_turn_a_fit_into_a_crunch(drawn in seasons()) {
        if build(&drawn, 1).look_with(EFFORT).outlook.verdict == Verdict::Fits {
            let doubled = build(&drawn, 2).look_with(EFFORT).outlook.verdict;
            prop_assert_ne!(doubled, Verdict::Crunch);
        }
    }

    #[test]
    fn the_same_season_has_the_same_outlook(drawn in seasons()) {
        let grower = build(&drawn, 1);
        prop_assert_eq!(grower.look_with(EFFORT).outlook, grower.look_with(EFFORT).outlook);
    }

    #[test]
    fn needed_is_held_and_short_in_every_crunch(drawn in seasons()) {
        for crunch in build(&drawn, 1).look_with(EFFORT).outlook.crunches {
            prop_assert_eq!(crunch.needed, crunch.held + crunch.short);
            prop_assert!(crunch.short >= 1 && crunch.short <= crunch.short_at_most);
            prop_assert!(crunch.span.contains(crunch.worst_day));
        }
    }
}

/// Of the sample, with every third tray on another spot from the middle of its stay, and some of these taken up again.
#[test]
fn spots_looked_up_together_are_those_that_are_looked_up_alone() {
    let mut season = flatwright::store::sample();
    let forecast = flatwright::forecast::forecast(&season, flatwright::store::library());
    let mut moved = 0;
    for (n, stay) in forecast.stays.iter().enumerate().filter(|(n, _)| n % 3 == 0) {
        let half = shifted(stay.span.from(), stay.span.days() / 2);
        let Some(spot) = spot_of(&season, stay, half).copied() else { continue };
        let until = (n % 2 == 0).then(|| stay.span.last());
        let later = Spot { from: SpotFrom::On(half), x: spot.x + Length::from_mm(5), until, ..spot };
        moved += usize::from(season.apply(&Op::PutSpot(later).into()).is_ok());
    }
    let spots = Spots::of(&season);
    let span = forecast.span().expect("a season");
    let mut found = 0;
    for day in span.from().iter_days().take_while(|day| span.contains(*day)) {
        for stay in forecast.on(day) {
            let alone = spot_of(&season, stay, day);
            assert_eq!(spots.of_stay(stay, day), alone, "{:?} on {day}", stay.tray());
            found += usize::from(alone.is_some());
        }
    }
    assert!(moved > 10 && found > 1_000, "{moved} moved, {found} found");
}

/// Broccoli and Swiss chard of the sample harden off on 20 April: out by day, in for the night.
#[test]
fn a_tray_that_is_carried_out_and_in_has_two_spots_and_is_counted_once() {
    let season = flatwright::store::sample();
    let forecast = flatwright::forecast::forecast(&season, flatwright::store::library());
    let spots = Spots::of(&season);
    let placed = spots.placed(&forecast, day("2027-04-20"));
    let there = OnDayCount::of(&placed);
    let marks: Vec<&str> = carried(&placed).into_iter().map(|tray| forecast.mark(tray)).collect();
    assert_eq!((placed.len(), there.trays, marks), (37, 35, vec!["Sc 1", "Bo 1"]));
    let twice: u32 = placed.iter().map(|one| one.stay.plants).sum();
    let of = |mark: &str| placed.iter().find(|one| forecast.mark(one.id.tray) == mark).map(|one| one.stay.plants);
    assert_eq!(Some(twice - there.plants - there.sown), of("Bo 1").zip(of("Sc 1")).map(|(one, other)| one + other));
    assert_eq!(there.without, placed.iter().filter(|one| one.spot.is_none()).count());
}
