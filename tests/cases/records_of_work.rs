//! What is done by hand and was never written down: each record moves what follows from it.

use flatwright::forecast::jobs::{Job, Kind, jobs};
use flatwright::forecast::{Forecast, Hurried, NotReady, Phase, Problem, Shape, What, Why};
use flatwright::season::{
    ContainerKind, Crop, Delays, Library, Lot, LotId, Observation, Observed, Op, PartOfDay, RecordId, RimShape, Role,
    SowingId, Spaced, Spacing, Stack,
};

use crate::support::{Grower, Manner, date_of, day, measure, out_on, pot, seedling, shelf, stage};
use flatwright::season::Rule;

/// 60 in a sheet of 72, in pots from 29 March, out on 1 May; a yard to harden off in for a week, at night after 3 days.
fn grower() -> (Grower, SowingId) {
    let mut grower = Grower::growing(4, &shelf("96 x 24 in"));
    grower.place(Role::Hardening);
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "4 in")));
    let pots = stage("pot", "2027-03-29").carried_in("flat").holding(10);
    let id = grower.sow(60, &[stage("sheet of 72", "2027-03-01"), pots], "2027-05-01");
    (grower, id)
}

fn with_crop(grower: &mut Grower, crop: Crop) {
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
}

fn why(forecast: &Forecast, id: SowingId, what: What) -> Option<Why> {
    let mut events = forecast.courses_of(id).flat_map(|course| &course.events);
    events.find(|event| event.what == what).map(|event| event.why)
}

fn of_kind(grower: &Grower, wanted: impl Fn(Kind) -> bool) -> Vec<Job> {
    let all = jobs(&grower.season, &Library::default(), &grower.forecast());
    all.into_iter().filter(|job| wanted(job.kind)).collect()
}

#[test]
fn hardening_off_begun_on_another_day_moves_the_nights_and_the_room() {
    let (mut grower, id) = grower();
    let days = |grower: &Grower| {
        let forecast = grower.forecast();
        let outside = forecast.stays.iter().filter(|stay| stay.phase == Phase::Hardening);
        let from =
            |part: PartOfDay| outside.clone().filter(|stay| stay.part == part).map(|stay| stay.span.from()).min();
        let event = |what| date_of(&forecast, id, what);
        (event(What::Hardening), event(What::FirstNightOut), from(PartOfDay::Days), from(PartOfDay::Whole))
    };
    let at = |from: &str, night: &str| (day(from), day(night), Some(day(from)), Some(day(night)));
    assert_eq!(days(&grower), at("2027-04-24", "2027-04-27"));
    grower.see(id, "2027-04-20", Observed::HardeningBegun);
    assert_eq!(days(&grower), at("2027-04-20", "2027-04-23"), "three days on, as the crop asks");
    assert_eq!(why(&grower.forecast(), id, What::Hardening), Some(Why::Seen));
    grower.see(id, "2027-04-25", Observed::NightOut);
    assert_eq!(days(&grower), at("2027-04-20", "2027-04-25"));
}

#[test]
fn hardening_off_begun_late_is_too_short_for_the_day_out() {
    let (mut grower, id) = grower();
    let short = |grower: &Grower| {
        grower.forecast().problems.iter().find_map(|problem| match problem {
            Problem::NotReady { why: NotReady::HardenedShort { days, wanted, because, .. }, .. } => {
                Some((*days, *wanted, *because))
            }
            _ => None,
        })
    };
    assert_eq!(short(&grower), None);
    grower.see(id, "2027-04-28", Observed::HardeningBegun);
    assert_eq!(short(&grower), Some((3, 7, Hurried::Began(day("2027-04-28")))));
}

#[test]
fn pots_take_their_larger_room_from_the_day_they_were_spaced_out() {
    let mut grower = Grower::growing(2, &shelf("96 x 24 in"));
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "4 in")));
    let id = grower.sow(6, &[stage("pot", "2027-03-01")], "2027-05-01");
    let spacing = Spacing::At(Spaced { after_days: 30, pitch: measure("8 in") });
    grower.change(id, |sowing| sowing.steps[0].spaced = Some(spacing));
    let wide_from = |grower: &Grower| {
        let wide = measure("8 in").value();
        let is_wide = |shape: &Shape| matches!(shape, Shape::Pots { pitch, .. } if *pitch == wide);
        let forecast = grower.forecast();
        let from = forecast.stays.iter().filter(|stay| is_wide(&stay.shape)).map(|stay| stay.span.from()).min();
        (date_of(&forecast, id, What::Spaced), from)
    };
    assert_eq!(wide_from(&grower), (day("2027-03-31"), Some(day("2027-03-31"))));
    grower.see(id, "2027-04-07", Observed::SpacedOut);
    assert_eq!(wide_from(&grower), (day("2027-04-07"), Some(day("2027-04-07"))));
}

#[test]
fn seed_that_was_set_to_chill_is_sown_when_its_days_are_over() {
    let mut grower = Grower::growing(1, &shelf("96 x 24 in"));
    with_crop(&mut grower, Crop { before_sowing: "chill 3 weeks".to_owned(), ..seedling() });
    let id = grower.sow_by(60, &[("sheet of 72", Rule::WhenDue)], out_on("2027-05-29"));
    let step = grower.season.sowing(id).expect("it is there").steps[0].id;
    let planned = date_of(&grower.forecast(), id, What::Sown);
    grower.see(id, "2027-03-01", Observed::Prepared);
    let forecast = grower.forecast();
    assert_eq!(date_of(&forecast, id, What::Prepared(step)), day("2027-03-01"));
    assert_eq!(date_of(&forecast, id, What::Sown), day("2027-03-22"));
    assert_ne!(planned, day("2027-03-22"));
    assert_eq!(why(&forecast, id, What::Sown), Some(Why::Prepared { days: 21 }));
    // what was really done comes before what follows
    grower.see(id, "2027-03-25", Observed::Sown { cells: None });
    assert_eq!(date_of(&grower.forecast(), id, What::Sown), day("2027-03-25"));
    let seed = of_kind(&grower, |kind| kind == Kind::Prepare);
    assert_eq!(seed[0].done().map(|done| done.on), Some(day("2027-03-01")));
}

#[test]
fn a_stack_that_was_taken_apart_takes_the_room_of_its_trays() {
    let mut grower = Grower::growing(2, &shelf("96 x 24 in"));
    let manner = Manner { stack: Some(Stack { days: 4, high: 4 }), bottom_heat: false };
    let id = grower.sow_so(144, &[stage("sheet of 72", "2027-03-01")], "2027-05-01", manner);
    let spots_on = |grower: &Grower, date: &str| grower.forecast().on(day(date)).count();
    assert_eq!([spots_on(&grower, "2027-03-03"), spots_on(&grower, "2027-03-05")], [1, 2]);
    grower.see(id, "2027-03-03", Observed::Unstacked);
    assert_eq!([spots_on(&grower, "2027-03-02"), spots_on(&grower, "2027-03-03")], [1, 2]);
    assert_eq!(date_of(&grower.forecast(), id, What::Unstacked), day("2027-03-03"));
}

/// All that hands are needed for can be written down, and is not asked for again.
#[test]
fn each_job_has_a_record_of_its_own() {
    let (mut grower, id) = grower();
    let open = |grower: &Grower| {
        of_kind(grower, |_| true).into_iter().filter(Job::is_open).map(|job| job.kind).collect::<Vec<_>>()
    };
    while let Some(job) = of_kind(&grower, |_| true).into_iter().find(Job::is_open) {
        let before = open(&grower).len();
        let what = job.as_planned().expect("it can be written down");
        grower.see(id, &job.day.to_string(), what);
        assert_eq!(open(&grower).len(), before - 1, "{:?}", job.kind);
    }
    assert_eq!(grower.season.sowing(id).expect("it is there").seen.len(), 6);
}

/// A record of moving on counted for all batches, though they were to be moved on a week apart.
#[test]
fn a_batch_that_was_moved_on_leaves_the_others_on_their_day() {
    let (mut grower, id) = grower();
    let later = LotId(grower.season.next_id());
    grower.change(id, |sowing| {
        sowing.lots.push(Lot { later: 7, delays: Delays::MovingOn, ..Lot::new(later) });
    });
    let sowing = grower.season.sowing(id).expect("it is there").clone();
    let (first, step) = (sowing.lots[0].id, sowing.steps[1].id);
    let days = |grower: &Grower| {
        let forecast = grower.forecast();
        let of = |lot| forecast.courses_of(id).find(|course| course.lot == lot)?.date(What::MovedOn(step));
        [of(first), of(later)].map(|date| date.expect("it is moved on").to_string())
    };
    assert_eq!(days(&grower), ["2027-03-29", "2027-04-05"]);
    let record = |grower: &mut Grower, date: &str, lot| {
        let id_of = RecordId(grower.season.next_id());
        let record = Observation { id: id_of, date: day(date), what: Observed::MovedOn(step), lot };
        let done = grower.season.apply(&Op::PutRecord(id, record).into());
        done.map_err(|why| flatwright::words::refusal(&why))
    };
    assert_eq!(record(&mut grower, "2027-03-31", Some(first)), Ok(()));
    assert_eq!(days(&grower), ["2027-03-31", "2027-04-05"]);
    let done = |grower: &Grower| {
        let moved = of_kind(grower, |kind| kind == Kind::MoveOn);
        moved.iter().map(|job| job.done().map(|done| done.on.to_string())).collect::<Vec<_>>()
    };
    assert_eq!(done(&grower), [Some("2027-03-31".to_owned()), None]);
    assert!(record(&mut grower, "2027-04-01", Some(first)).is_err(), "it was moved on once");
    assert_eq!(record(&mut grower, "2027-04-09", Some(later)), Ok(()));
    assert_eq!(days(&grower), ["2027-03-31", "2027-04-09"]);
    assert_eq!(done(&grower), ["2027-03-31", "2027-04-09"].map(|date| Some(date.to_owned())));
}
