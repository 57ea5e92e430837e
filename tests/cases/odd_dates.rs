//! Dates in any order: a clear problem, a forecast all the same, and nothing lost.

use flatwright::forecast::Problem;
use flatwright::season::{ContainerKind, RimShape, Role, Shelf, ZoneKind};
use proptest::prelude::*;

use crate::support::{Grower, day, days_after, pot, shelf, stage, zone};

fn grower() -> Grower {
    let mut grower = Grower::new();
    grower.container("square pot", ContainerKind::Pot(pot(RimShape::Square, "3.25 in")));
    let growing = grower.place(Role::Growing);
    let zones = vec![zone(ZoneKind::Heat, "24 x 22 in")];
    grower.rack(growing, 2, &Shelf { zones, ..shelf("48 x 24 in") });
    let hardening = grower.place(Role::Hardening);
    grower.rack(hardening, 1, &shelf("48 x 24 in"));
    grower
}

#[test]
fn plants_that_leave_before_they_are_sown_are_a_problem_and_leave_the_day_after() {
    let mut grower = grower();
    let sowing = grower.sow(72, &[stage("sheet of 72", "2025-08-01")], "2025-05-16");
    let looked = grower.look();
    let out_of_order = |problem: &Problem| matches!(problem, Problem::OutOfOrder { sowing: of, .. } if *of == sowing);
    assert!(looked.forecast.problems.iter().any(out_of_order), "{:?}", looked.forecast.problems);
    assert_eq!([looked.places_on("2025-08-01"), looked.places_on("2025-08-02")], [1, 0]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn no_order_of_dates_makes_the_forecast_stumble(
        (sown, moved, out) in (0..90_u64, 0..90_u64, 0..90_u64),
        loose in any::<bool>(),
    ) {
        let date = |days| days_after(day("2025-03-03"), days).to_string();
        let mut grower = grower();
        let next = date(moved);
        let next = stage("square pot", &next);
        let next = if loose { next } else { next.carried_in("flat") };
        grower.sow(72, &[stage("sheet of 72", &date(sown)), next], &date(out));
        let looked = grower.look();
        let told = looked.forecast.problems.iter().any(|problem| matches!(problem, Problem::OutOfOrder { .. }));
        let started = moved.max(sown + 1);
        prop_assert_eq!(told, moved <= sown || out <= started);
        for stay in &looked.forecast.stays {
            prop_assert!(stay.span.until() <= days_after(day("2025-03-03"), out.max(started + 1)));
        }
    }
}
