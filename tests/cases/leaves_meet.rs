//! 130 chillies: one square metre of pots, eight of leaves. A grower's report, restated; pots of 9 cm and a
//! spread of 2 cm a week are filled in.

use flatwright::forecast::{Forecast, Phase, Problem, RoomApart, Shape, What};
use flatwright::outlook::Reason;
use flatwright::season::{
    ContainerKind, Crop, Flat, GrowthPoint, Op, Pot, RimShape, Shelf, Sourced, SowingId, Spaced, Spacing,
};
use flatwright::store;
use flatwright::units::{Area, Length, LengthUnit};
use flatwright::words::Words;

use crate::support::{Grower, Looked, date_of, day, flat, length, measure, pot, seedling, shelf, size, stage};

const SHELF: &str = "160 x 60 cm";
const SOWN: &str = "2025-03-01";
/// Twelve weeks later.
const OUT: &str = "2025-05-24";

#[track_caller]
fn chillies(crop: &Crop, number: u32) -> (Grower, SowingId) {
    let mut grower = Grower::growing(4, &shelf(SHELF));
    grower.edit(&Op::PutCrop(Box::new(crop.clone())).into());
    grower.container("9 cm pot", ContainerKind::Pot(pot(RimShape::Square, "9 cm")));
    let id = grower.sow(number, &[stage("9 cm pot", SOWN)], OUT);
    (grower, id)
}

/// 2 cm wider each week.
fn spreading() -> Crop {
    Crop { spreads: Sourced::own(vec![GrowthPoint { week: 12.0, mm: 240.0 }]), ..seedling() }
}

/// As wide as that from the first week on.
fn wide(mm: f64) -> Crop {
    Crop { spreads: Sourced::own(vec![GrowthPoint { week: 1.0, mm }]), ..seedling() }
}

fn spaced(grower: &mut Grower, id: SowingId, spacing: &Spacing) {
    grower.change(id, |sowing| sowing.steps[0].spaced = Some(spacing.clone()));
}

fn meeting(forecast: &Forecast) -> Option<&Problem> {
    let mut found = forecast.problems.iter().filter(|problem| matches!(problem, Problem::LeavesMeet { .. }));
    let first = found.next();
    assert_eq!(found.next(), None, "one line for a sowing");
    first
}

#[track_caller]
fn sentence(grower: &Grower, problem: &Problem) -> String {
    let forecast = grower.forecast();
    let words =
        Words { season: &grower.season, library: store::library(), forecast: &forecast, unit: LengthUnit::Centimetre };
    words.problem(problem)
}

/// 9 cm is passed on the 32nd day (32 × 20 / 7 = 91.4 mm); on the 83rd, the last, they are 237.1 mm wide.
#[test]
fn leaves_meet_from_a_day_on_and_want_seven_times_the_room() {
    let (grower, id) = chillies(&spreading(), 130);
    let forecast = grower.forecast();
    let Some(problem @ Problem::LeavesMeet { from, until, spaced: false, at, wide, room, .. }) = meeting(&forecast)
    else {
        panic!("{:?}", forecast.problems)
    };
    assert_eq!((*from, *until, *at), (day("2025-04-02"), day(OUT), length("9 cm")));
    let widest = Length::try_from_mm(83.0 * 20.0 / 7.0).unwrap();
    assert_eq!(*wide, widest);
    let pots = |side: Length| Area::of(side * 130, side);
    assert_eq!(*room, RoomApart::Ground { now: pots(length("9 cm")), apart: pots(widest) });
    // 130 × 0.09² = 1.05 m², 130 × 0.2371² = 7.31 m²
    assert_eq!(
        sentence(&grower, problem),
        "seedling: from 2 Apr leaves meet in 9 cm pot, 9 cm apart; they are 23.8 cm wide by 24 May, and that far \
         apart they would want 7.3 m² instead of 1.1 m²"
    );
    let step = grower.season.sowing(id).unwrap().steps[0].id;
    assert_eq!(date_of(&forecast, id, What::LeavesMeet(step)), day("2025-04-02"));
    // rim to rim they fit all the same
    grower.look().fits();
}

#[test]
fn pots_spaced_to_15_cm_touch_in_the_week_that_passes_it() {
    let (mut grower, id) = chillies(&spreading(), 130);
    let pitch = measure("15 cm");
    spaced(&mut grower, id, &Spacing::At(Spaced { after_days: 30, pitch }));
    let forecast = grower.forecast();
    // 53 × 20 / 7 = 151.4 mm
    let Some(Problem::LeavesMeet { from, at, .. }) = meeting(&forecast) else { panic!("{:?}", forecast.problems) };
    assert_eq!((*from, *at), (day("2025-04-23"), length("15 cm")));
    // spaced out a week after they met
    let pitch = measure("25 cm");
    spaced(&mut grower, id, &Spacing::At(Spaced { after_days: 39, pitch }));
    let forecast = grower.forecast();
    let problem = meeting(&forecast).unwrap();
    assert_eq!(
        sentence(&grower, problem),
        "seedling: leaves meet in 9 cm pot, 9 cm apart, from 2 Apr until they are spaced out on 9 Apr"
    );
}

#[track_caller]
fn kept_apart(mm: f64) -> Looked {
    let (mut grower, id) = chillies(&wide(mm), 130);
    spaced(&mut grower, id, &Spacing::WhenLeavesMeet);
    let looked = grower.look();
    assert_eq!(meeting(&looked.forecast), None, "nothing meets where they are spaced out");
    looked
}

/// 10 × 4 on a shelf at 15 cm, 10 × 3 at 16 cm, 6 × 2 at 25 cm.
#[test]
fn four_shelves_hold_130_plants_of_15_cm_and_120_of_16() {
    kept_apart(150.0).fits();
    let crunch = kept_apart(160.0);
    let crunch = crunch.crunch(130, 120, 10);
    let Reason::Pots { apart, .. } = crunch.reason else { panic!("{:?}", crunch.reason) };
    assert_eq!(apart, length("16 cm"));
    kept_apart(250.0).crunch(130, 48, 82);
}

#[test]
fn pots_are_spaced_out_on_the_day_leaves_meet_where_crop_or_grower_asks_for_it() {
    let crop = Crop { spaced: true, ..spreading() };
    let (mut grower, id) = chillies(&crop, 12);
    let pitches = |grower: &Grower| -> Vec<(flatwright::units::DateSpan, Length)> {
        let forecast = grower.forecast();
        let stays = forecast.stays.iter().filter(|stay| stay.phase == Phase::Plugs);
        let pitch = |shape: &Shape| if let Shape::Pots { pitch, .. } = shape { Some(*pitch) } else { None };
        let mut all: Vec<_> = stays.filter_map(|stay| Some((stay.span, pitch(&stay.shape)?))).collect();
        all.dedup();
        all
    };
    let widest = Length::try_from_mm(83.0 * 20.0 / 7.0).unwrap();
    let found = pitches(&grower);
    assert!(
        found.iter().all(|(span, pitch)| (span.from() < day("2025-04-02")) == (*pitch == length("9 cm"))),
        "{found:?}"
    );
    assert!(found.iter().any(|(span, pitch)| span.from() == day("2025-04-02") && *pitch == widest), "{found:?}");
    assert_eq!(date_of(&grower.forecast(), id, What::Spaced), day("2025-04-02"));
    // the grower may say otherwise
    spaced(&mut grower, id, &Spacing::Never);
    assert!(pitches(&grower).iter().all(|(_, pitch)| *pitch == length("9 cm")));
    assert!(meeting(&grower.forecast()).is_some());
}

/// 18 to a flat rim to rim; at 18 cm three along its 545 mm and one along its 280 mm.
#[test]
fn pots_in_flats_want_whole_trays() {
    let (mut grower, _) = chillies(&wide(180.0), 1);
    let floor = Some(Sourced::own(size("521 x 267 mm")));
    grower.container("big flat", ContainerKind::Flat(Flat { floor, ..flat("545 x 280 mm") }));
    let bottom = Some(Sourced::own(measure("62 mm")));
    grower.container(
        "4 in pot",
        ContainerKind::Pot(Pot { bottom, per_flat: Some(18), ..pot(RimShape::Square, "83 mm") }),
    );
    let id = grower.sow(72, &[stage("4 in pot", SOWN).carried_in("big flat")], OUT);
    let mine = |forecast: &Forecast| {
        let of = |problem: &&Problem| matches!(problem, Problem::LeavesMeet { sowing, .. } if *sowing == id);
        forecast.problems.iter().find(of).cloned()
    };
    let Some(Problem::LeavesMeet { from, at, room, .. }) = mine(&grower.forecast()) else { panic!("they meet") };
    // up on 5 March; 180 / 7 mm a day is more than 83 mm on the fourth
    assert_eq!((from, at), (day("2025-03-05"), length("83 mm")));
    assert_eq!(room, RoomApart::Trays { now: 4, apart: 24 });
    let problem = mine(&grower.forecast()).unwrap();
    assert_eq!(
        sentence(&grower, &problem),
        "seedling, number 2 of 2: from 5 Mar leaves meet in 4 in pot, 8.3 cm apart; they are 18 cm wide by 24 May, and \
         that far apart they would want the room of 24 trays instead of 4"
    );
    spaced(&mut grower, id, &Spacing::WhenLeavesMeet);
    let forecast = grower.forecast();
    assert_eq!(mine(&forecast), None);
    assert_eq!(forecast.on(day("2025-05-01")).filter(|stay| stay.sowing == Some(id)).count(), 24);
}

/// Three of 16 cm stand in a tray of 54 cm, and at 17 cm three still do.
#[test]
fn leaves_that_want_no_more_trays_than_they_have_are_nothing_to_look_at() {
    let (mut grower, _) = chillies(&wide(170.0), 1);
    let floor = Some(Sourced::own(size("540 x 280 mm")));
    grower.container("big flat", ContainerKind::Flat(Flat { floor, ..flat("545 x 285 mm") }));
    let bottom = Some(Sourced::own(measure("120 mm")));
    grower.container("16 cm pot", ContainerKind::Pot(Pot { bottom, ..pot(RimShape::Square, "160 mm") }));
    let id = grower.sow(3, &[stage("16 cm pot", SOWN).carried_in("big flat")], OUT);
    let forecast = grower.forecast();
    let mine = |problem: &&Problem| matches!(problem, Problem::LeavesMeet { sowing, .. } if *sowing == id);
    assert_eq!(forecast.problems.iter().find(mine), None);
    let step = grower.season.sowing(id).unwrap().steps[0].id;
    // 170 / 7 mm a day: wider than 160 mm on the seventh day
    assert_eq!(date_of(&forecast, id, What::LeavesMeet(step)), day("2025-03-08"), "the day is told all the same");
    assert_eq!(forecast.on(day("2025-05-01")).filter(|stay| stay.sowing == Some(id)).count(), 1);
}

/// A tenth of a millimetre wider than its pots.
#[test]
fn room_that_is_more_by_nothing_that_is_said_is_not_said() {
    let (grower, _) = chillies(&wide(90.1), 130);
    let forecast = grower.forecast();
    let said = sentence(&grower, meeting(&forecast).unwrap());
    assert_eq!(said, "seedling: from 8 Mar leaves meet in 9 cm pot, 9 cm apart; they are 9.1 cm wide by 24 May");
}

#[test]
fn leaves_that_meet_in_cells_are_a_date_and_nothing_to_look_at() {
    let mut grower = Grower::growing(1, &Shelf { ..shelf(SHELF) });
    grower.edit(&Op::PutCrop(Box::new(spreading())).into());
    grower.rows("plugs", "54 x 27 cm", (6, 12));
    let id = grower.sow(72, &[stage("plugs", SOWN)], "2025-04-12");
    let forecast = grower.forecast();
    assert_eq!(meeting(&forecast), None);
    // cells of 45 mm: 16 × 20 / 7 = 45.7 mm
    let step = grower.season.sowing(id).unwrap().steps[0].id;
    assert_eq!(date_of(&forecast, id, What::LeavesMeet(step)), day("2025-03-17"));
}

/// 10 and 20 of them in pots alike, the second sown a week after the first and as old when it goes.
#[test]
fn sowings_of_a_crop_in_pots_alike_are_told_once_from_the_first_day_on() {
    let (mut grower, first) = chillies(&spreading(), 10);
    let second = grower.sow(20, &[stage("9 cm pot", "2025-03-08")], "2025-05-31");
    let forecast = grower.forecast();
    let Some(problem @ Problem::LeavesMeet { sowing, others, from, until, room, .. }) = meeting(&forecast) else {
        panic!("{:?}", forecast.problems)
    };
    assert_eq!((*sowing, others.as_slice()), (first, [second].as_slice()));
    assert_eq!((*from, *until), (day("2025-04-02"), day("2025-05-31")));
    assert!([first, second].iter().all(|id| problem.is_of_sowing(*id)));
    let widest = Length::try_from_mm(83.0 * 20.0 / 7.0).unwrap();
    let pots = |side: Length| Area::of(side * 30, side);
    assert_eq!(*room, RoomApart::Ground { now: pots(length("9 cm")), apart: pots(widest) });
    let said = sentence(&grower, problem);
    assert!(said.starts_with("seedling, 2 sowings: from 2 Apr leaves meet in 9 cm pot, 9 cm apart; "), "{said}");
    // other pots are another line
    grower.container("10 cm pot", ContainerKind::Pot(pot(RimShape::Square, "10 cm")));
    grower.change(second, |sowing| sowing.steps[0].container.0 = "10 cm pot".into());
    let told = grower.forecast().problems.into_iter().filter(|told| matches!(told, Problem::LeavesMeet { .. }));
    assert_eq!(told.count(), 2);
}
