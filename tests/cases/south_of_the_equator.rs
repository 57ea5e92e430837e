//! South of the equator, out on Labour Day.

use chrono::{NaiveDate, Weekday};
use flatwright::forecast::{Problem, What, next_year};
use flatwright::season::{ContainerKind, Library, OutRule, RimShape, Role, Rule, Season, SowingId};
use flatwright::words::{out_rule, own_records};

use crate::support::{Grower, date_of, day, out_by, out_on, pot, shelf};

const LABOUR_DAY: OutRule = OutRule::Nth { nth: 4, weekday: Weekday::Mon, month: 10 };

fn grower() -> Grower {
    let mut grower = Grower::new();
    let growing = grower.place(Role::Growing);
    grower.rack(growing, 2, &shelf("48 x 24 in"));
    grower.container("tub", ContainerKind::Pot(pot(RimShape::Square, "2 in")));
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "3.25 in")));
    grower
}

/// Two weeks to come up, two to pricking out, three in pots.
fn chain(start: Rule) -> [(&'static str, Rule); 2] {
    [("sheet of 72", start), ("pot", Rule::DaysAfterSowing(28))]
}

/// Sown, pricked out, out.
fn course(grower: &Grower, sowing: SowingId) -> [NaiveDate; 3] {
    let forecast = grower.forecast();
    let step = grower.season.sowing(sowing).expect("it is there").steps[1].id;
    let out = What::Out { plants: 1 };
    [What::Sown, What::MovedOn(step), out].map(|what| date_of(&forecast, sowing, what))
}

#[test]
fn back_from_labour_day() {
    let mut grower = grower();
    let sowing = grower.sow_by(1, &chain(Rule::DaysBeforeOut(49)), out_by(LABOUR_DAY, "2025-01-01"));
    assert_eq!(course(&grower, sowing), [day("2025-09-08"), day("2025-10-06"), day("2025-10-27")]);
    assert_eq!(out_rule(LABOUR_DAY), "the fourth Monday of October");
}

#[test]
fn forward_from_the_middle_of_august_the_plants_stand_22_days_longer() {
    let mut grower = grower();
    let steps = [("sheet of 72", Rule::On(day("2025-08-17"))), ("pot", Rule::DaysAfterSowing(28))];
    let sowing = grower.sow_by(1, &steps, out_by(LABOUR_DAY, "2025-01-01"));
    let [sown, pricked_out, out] = course(&grower, sowing);
    assert_eq!([sown, pricked_out], [day("2025-08-17"), day("2025-09-14")]);
    let ready = pricked_out + chrono::TimeDelta::days(21);
    assert_eq!(ready, day("2025-10-05"));
    assert_eq!((out - ready).num_days(), 22);
    // said by the program where the crop's whole course is those seven weeks
    let mut crop = grower.season.own_crops().next().expect("the seedling").clone();
    crop.weeks_to_planting_out = flatwright::season::Sourced::own((7, 7));
    grower.edit(&flatwright::season::Op::PutCrop(Box::new(crop)).into());
    let problem = Problem::ReadyEarly { sowing, ready, out };
    assert!(grower.forecast().problems.contains(&problem), "{:?}", grower.forecast().problems);
    let looked = grower.look();
    assert_eq!(
        [looked.places_on("2025-10-05"), looked.places_on("2025-10-26"), looked.places_on("2025-10-27")],
        [1, 1, 0]
    );
}

#[test]
fn one_plan_across_new_year() {
    let mut grower = grower();
    let june = grower.sow_by(1, &chain(Rule::On(day("2025-06-10"))), out_on("2025-11-20"));
    let summer = grower.sow_by(1, &chain(Rule::On(day("2025-12-15"))), out_on("2026-02-20"));
    assert_eq!(course(&grower, june)[2], day("2025-11-20"));
    assert_eq!(course(&grower, summer)[2], day("2026-02-20"));
    let looked = grower.look();
    let weeks: Vec<NaiveDate> = looked.outlook.weeks.iter().map(|week| week.from).collect();
    assert!(weeks.is_sorted(), "a week of December comes before one of February: {weeks:?}");
    let days: Vec<NaiveDate> = looked.forecast.stays.iter().map(|stay| stay.span.from()).collect();
    assert!(days.is_sorted());
}

#[test]
fn next_year_s_labour_day_is_another_day() {
    let mut grower = grower();
    let sowing = grower.sow_by(1, &chain(Rule::DaysBeforeOut(49)), out_by(LABOUR_DAY, "2025-01-01"));
    let next = next_year(&grower.season, &Library::default(), 2026, own_records).expect("it has dates");
    let grower = Grower { season: next.season };
    assert_eq!(course(&grower, sowing), [day("2026-09-07"), day("2026-10-05"), day("2026-10-26")]);
}

#[test]
fn nothing_is_from_the_north() {
    assert_eq!(Season::new("new").settings().frost, None, "no default frost date");
}
