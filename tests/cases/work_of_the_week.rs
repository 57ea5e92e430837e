//! What is to be done on which day, how long it may wait, and which record is of which piece of work.

use chrono::NaiveDate;
use flatwright::forecast::jobs::{Done, Job, Kind, UpThen, Written, event_of, jobs, of_week, out_by_day, overdue};
use flatwright::forecast::{About, Forecast, Problem, What, Why};
use flatwright::season::{
    Away, ContainerKind, Delays, Edit, EditLabel, History, Library, Lot, LotId, Observation, Observed, Op, OutRule,
    RecordId, RimShape, Role, Season, Slack, SowingId, Wanted, ZoneKind,
};
use flatwright::units::{DateSpan, LengthUnit};
use flatwright::words::Words;
use proptest::prelude::*;

use crate::properties::{build, seasons};
use crate::support::{Grower, Manner, date_of, day, days_after, pot, shelf, stage, zone};

/// 144 in two sheets of 72 from Monday 1 March, in 4 in pots that stand 10 to a flat from the 29th, a yard to harden off
/// in, out on Saturday 1 May.
fn grower() -> (Grower, SowingId) {
    let mut grower = Grower::growing(4, &shelf("96 x 24 in"));
    grower.place(Role::Hardening);
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "4 in")));
    let pots = stage("pot", "2027-03-29").carried_in("flat").holding(10);
    let id = grower.sow(144, &[stage("sheet of 72", "2027-03-01"), pots], "2027-05-01");
    (grower, id)
}

fn of(season: &Season) -> (Forecast, Vec<Job>) {
    let forecast = flatwright::forecast::forecast(season, &Library::default());
    let all = jobs(season, &Library::default(), &forecast);
    (forecast, all)
}

fn of_kind(all: &[Job], wanted: impl Fn(Kind) -> bool) -> Vec<&Job> {
    all.iter().filter(|job| wanted(job.kind)).collect()
}

fn one(all: &[Job], kind: Kind) -> &Job {
    match of_kind(all, |found| found == kind)[..] {
        [one] => one,
        ref found => panic!("{kind:?}: {found:?}"),
    }
}

#[test]
fn each_piece_of_work_has_its_day_its_number_and_its_trays() {
    let (grower, _) = grower();
    let (forecast, all) = of(&grower.season);
    let until = day("2027-04-27");
    let said: Vec<_> =
        all.iter().map(|job| (job.day.to_string(), job.kind, job.number, job.trays.len(), job.from.len())).collect();
    let expected = [
        ("2027-03-01", Kind::Sow, 144, 2, 0),
        // up after 4 days
        ("2027-03-05", Kind::LookIfUp(UpThen::StayThere), 144, 2, 0),
        ("2027-03-29", Kind::MoveOn, 144, 15, 2),
        // a week before it goes, outside at night after 3 days
        ("2027-04-24", Kind::Harden { until }, 144, 15, 0),
        ("2027-04-27", Kind::FirstNightOut, 144, 15, 0),
        ("2027-05-01", Kind::PlantOut, 144, 15, 0),
    ];
    assert_eq!(said, expected.map(|(day, kind, number, trays, from)| (day.to_owned(), kind, number, trays, from)));
    for (date, trays) in [("2027-04-23", 0), ("2027-04-24", 15), ("2027-04-26", 15), ("2027-04-27", 0)] {
        assert_eq!(out_by_day(&forecast, day(date)).len(), trays, "{date}");
    }
}

#[test]
fn it_may_wait_as_long_as_plants_are_old_enough_and_rooted_through() {
    let (mut grower, id) = grower();
    let waits = |grower: &Grower, kind| one(&of(&grower.season).1, kind).may_wait_until;
    // moved on on 29 March when 14 days old at least
    assert_eq!(waits(&grower, Kind::Sow), Some(day("2027-03-15")));
    // two weeks in its pot before 1 May
    assert_eq!(waits(&grower, Kind::MoveOn), Some(day("2027-04-17")));
    assert_eq!(waits(&grower, Kind::PlantOut), None);
    grower.change(id, |sowing| sowing.steps[1].slack = Some(Slack { early: 0, late: 3 }));
    assert_eq!(waits(&grower, Kind::MoveOn), Some(day("2027-04-01")), "as the grower said");
    grower.change(id, |sowing| sowing.steps[1].slack = Some(Slack { early: 3, late: 0 }));
    assert_eq!(waits(&grower, Kind::MoveOn), None);
}

#[test]
fn a_week_has_what_is_due_from_monday_to_sunday() {
    let (grower, _) = grower();
    let (_, all) = of(&grower.season);
    let kinds = |on| of_week(&all, day(on)).iter().map(|job| job.kind).collect::<Vec<_>>();
    assert_eq!(kinds("2027-03-07"), [Kind::Sow, Kind::LookIfUp(UpThen::StayThere)]);
    assert_eq!(kinds("2027-03-08"), []);
    assert_eq!(kinds("2027-05-01"), [Kind::FirstNightOut, Kind::PlantOut]);
}

#[test]
fn what_stands_on_heat_comes_off_it_when_it_is_up() {
    let mut grower = Grower::new();
    let growing = grower.place(Role::Growing);
    let bare = shelf("96 x 24 in");
    let zones = vec![zone(ZoneKind::Heat, "24 x 22 in")];
    grower.rack(growing, 1, &flatwright::season::Shelf { zones, ..bare });
    let warm = Manner { bottom_heat: true, ..Manner::default() };
    grower.sow_so(72, &[stage("sheet of 72", "2027-03-01")], "2027-05-01", warm);
    let (_, all) = of(&grower.season);
    assert_eq!(one(&all, Kind::LookIfUp(UpThen::OffTheHeat)).day, day("2027-03-05"));
    let mut grower = Grower::growing(1, &shelf("96 x 24 in"));
    grower.place(Role::Germinating);
    grower.sow(72, &[stage("sheet of 72", "2027-03-01")], "2027-05-01");
    let (_, all) = of(&grower.season);
    assert_eq!(one(&all, Kind::LookIfUp(UpThen::ToTheLight)).day, day("2027-03-05"));
}

#[test]
fn what_is_written_down_is_done_with_its_day_and_what_is_before_it_has_passed() {
    let (mut grower, id) = grower();
    let (_, all) = of(&grower.season);
    assert!(all.iter().all(Job::is_open));
    let late = |all: &[Job], on| overdue(all, day(on)).map(|job| job.kind).collect::<Vec<_>>();
    assert_eq!(late(&all, "2027-03-01"), []);
    assert_eq!(late(&all, "2027-03-02"), [Kind::Sow]);
    grower.see(id, "2027-03-08", Observed::Up { plants: None });
    let (_, all) = of(&grower.season);
    let up = one(&all, Kind::LookIfUp(UpThen::StayThere));
    assert_eq!((up.day, up.done().map(|done| done.on)), (day("2027-03-08"), Some(day("2027-03-08"))));
    assert_eq!(one(&all, Kind::Sow).written, Written::Passed);
    assert_eq!(
        late(&all, "2027-06-01"),
        [Kind::MoveOn, Kind::Harden { until: day("2027-04-27") }, Kind::FirstNightOut, Kind::PlantOut]
    );
}

#[test]
fn those_that_left_are_counted_off_one_day_out_after_the_other() {
    let (mut grower, id) = grower();
    let on = |date: &str, plants| Wanted { date: day(date), plants, rule: OutRule::Day, to_sell: plants == 40 };
    grower.change(id, |sowing| sowing.wanted = vec![on("2027-05-08", 40), on("2027-05-01", 104)]);
    let leave = |grower: &Grower| {
        let (_, all) = of(&grower.season);
        let all = of_kind(&all, Kind::leaves).into_iter().map(|job| {
            let done = job.done().map(|done| (done.on.to_string(), done.records.len()));
            (job.day.to_string(), job.kind, job.number, job.left, done)
        });
        all.collect::<Vec<_>>()
    };
    let (first, second) = ("2027-05-01".to_owned(), "2027-05-08".to_owned());
    let of = |(left, done): (u32, Option<(&str, usize)>)| {
        let done = done.map(|(on, records)| (on.to_owned(), records));
        (first.clone(), Kind::PlantOut, 104, left, done)
    };
    let after = |left| (second.clone(), Kind::Sell, 40, left, None);
    assert_eq!(leave(&grower), [of((104, None)), after(40)]);
    grower.see(id, "2027-05-01", Observed::PutOut(100));
    assert_eq!(leave(&grower), [of((4, None)), after(40)]);
    grower.see(id, "2027-05-03", Observed::PutOut(14));
    assert_eq!(leave(&grower), [of((0, Some(("2027-05-03", 2)))), after(30)], "10 of the 14 are of the second day out");
}

#[test]
fn batches_do_together_what_they_do_on_one_day() {
    let (mut grower, id) = grower();
    let next = grower.season.next_id();
    grower.change(id, |sowing| {
        sowing.lots.push(Lot { later: 7, delays: Delays::MovingOn, ..Lot::new(LotId(next)) });
    });
    let (_, all) = of(&grower.season);
    let sow = one(&all, Kind::Sow);
    assert_eq!((sow.lots.len(), sow.number, sow.trays.len()), (2, 144, 2));
    let moved: Vec<_> = of_kind(&all, |kind| kind == Kind::MoveOn);
    let said: Vec<_> =
        moved.iter().map(|job| (job.day.to_string(), job.number, job.trays.len(), job.written.clone())).collect();
    let last = day("2027-04-05");
    let expected = [("2027-03-29", Written::NotYet), ("2027-04-05", Written::NotYet)];
    assert_eq!(said, expected.map(|(day, written)| (day.to_owned(), 72, 8, written)));
    assert_eq!(one(&all, Kind::PlantOut).number, 144);
    let step = grower.season.sowing(id).expect("it is there").steps[1].id;
    // a record of no batch in particular is of all of them
    grower.see(id, "2027-04-05", Observed::MovedOn(step));
    let (_, all) = of(&grower.season);
    let done = one(&all, Kind::MoveOn);
    assert_eq!((done.lots.len(), done.number, done.done().map(|done| done.on)), (2, 144, Some(last)));
}

#[test]
fn fewer_that_are_alive_are_fewer_to_be_moved_on_and_put_out() {
    let (mut grower, id) = grower();
    grower.see(id, "2027-03-01", Observed::Sown { cells: Some(144) });
    grower.see(id, "2027-03-05", Observed::Up { plants: Some(95) });
    let (_, all) = of(&grower.season);
    let of = |kind| {
        let job = one(&all, kind);
        (job.number, job.trays.len())
    };
    assert_eq!(of(Kind::Sow), (144, 2));
    assert_eq!(of(Kind::MoveOn), (95, 10));
    assert_eq!(of(Kind::PlantOut), (95, 10));
    grower.see(id, "2027-04-01", Observed::Lost { plants: 95, why: flatwright::season::Loss::Cold });
    let (_, all) = self::of(&grower.season);
    assert!(of_kind(&all, Kind::leaves).is_empty(), "nothing is left to be put out");
}

#[test]
fn days_away_say_what_gives_way_and_what_does_not() {
    let (mut grower, id) = grower();
    grower.change(id, |sowing| sowing.steps[1].slack = Some(Slack { early: 0, late: 7 }));
    for (name, from, until) in [("meeting", "2027-02-27", "2027-03-03"), ("trip", "2027-03-28", "2027-04-02")] {
        grower.away(name, DateSpan::new(day(from), day(until)).expect("in order"), false);
    }
    let (_, all) = of(&grower.season);
    let sow = one(&all, Kind::Sow);
    assert_eq!((sow.day, sow.why), (day("2027-03-01"), Why::Set), "a day of the grower's own stays");
    assert_eq!(sow.nobody_there, Some((Some(day("2027-02-26")), day("2027-03-03"))));
    let moved = one(&all, Kind::MoveOn);
    assert_eq!((moved.day, moved.why), (day("2027-04-02"), Why::Bent { days: 4 }));
    assert_eq!(moved.nobody_there, None);
}

/// Hardened off from 24 April, out at night from the 27th.
fn away_from(from: &str, until: &str) -> (Grower, SowingId) {
    let (mut grower, id) = grower();
    grower.away("trip", DateSpan::new(day(from), day(until)).expect("in order"), false);
    (grower, id)
}

fn carried(forecast: &Forecast) -> Vec<(String, String, usize)> {
    let of = |problem: &Problem| match problem {
        Problem::NobodyCarries { span, trays, .. } => {
            Some((span.from().to_string(), span.last().to_string(), trays.len()))
        }
        _ => None,
    };
    forecast.problems.iter().filter_map(of).collect()
}

/// Nobody noticed that nobody was there for it.
#[test]
fn hardening_off_that_begins_on_days_away_and_the_first_night_out_say_so() {
    let nobody = Some((Some(day("2027-04-22")), day("2027-04-29")));
    let (mut grower, id) = away_from("2027-04-23", "2027-04-29");
    let (forecast, all) = of(&grower.season);
    let harden = Kind::Harden { until: day("2027-04-27") };
    assert_eq!(one(&all, harden).nobody_there, nobody);
    assert_eq!(one(&all, Kind::FirstNightOut).nobody_there, nobody);
    assert_eq!(one(&all, Kind::PlantOut).nobody_there, None);
    let told = |forecast: &Forecast| {
        let of = |problem: &Problem| match problem {
            Problem::NobodyThere { work, date, .. } => Some((*work, date.to_string())),
            _ => None,
        };
        forecast.problems.iter().filter_map(of).collect::<Vec<_>>()
    };
    let (begins, night) = ((What::Hardening, "2027-04-24".to_owned()), (What::FirstNightOut, "2027-04-27".to_owned()));
    assert_eq!(told(&forecast), [begins, night.clone()]);
    let words =
        Words { season: &grower.season, library: &Library::default(), forecast: &forecast, unit: LengthUnit::Inch };
    let said: Vec<String> = forecast.problems.iter().map(|problem| words.problem(problem)).collect();
    let starts = |start: &str| said.iter().any(|said| said.contains(start));
    assert!(
        starts("begins to harden off on 24 Apr (week 16), when nobody is there; the last day before is 22 Apr"),
        "{said:?}"
    );
    assert!(starts("stays outside for its first night on 27 Apr (week 17), when nobody is there"), "{said:?}");
    // begun on such a day, somebody was there
    grower.see(id, "2027-04-24", Observed::HardeningBegun);
    assert_eq!(told(&grower.forecast()), [night]);
    grower.see(id, "2027-04-27", Observed::NightOut);
    assert_eq!(told(&grower.forecast()), []);
}

/// "The last day before is 22 Apr", on the 23rd.
#[test]
fn days_before_today_are_no_days_to_do_it_on() {
    let (grower, _) = away_from("2027-04-23", "2027-04-29");
    for (today, before, first) in [
        (
            "2027-04-22",
            Some("2027-04-22"),
            "the last day before is 22 Apr (week 16), the first after it 29 Apr (week 17)",
        ),
        ("2027-04-23", None, "the first day after it is 29 Apr (week 17)"),
    ] {
        let forecast = grower.forecast().without_past(day(today));
        let all = jobs(&grower.season, &Library::default(), &forecast);
        let harden = one(&all, Kind::Harden { until: day("2027-04-27") });
        assert_eq!(harden.nobody_there, Some((before.map(day), day("2027-04-29"))));
        let library = Library::default();
        let words = Words { season: &grower.season, library: &library, forecast: &forecast, unit: LengthUnit::Inch };
        let said: Vec<String> = forecast.problems.iter().map(|problem| words.problem(problem)).collect();
        let wanted = format!("begins to harden off on 24 Apr (week 16), when nobody is there; {first}");
        assert!(said.iter().any(|said| said.ends_with(&wanted)), "{today}: {said:?}");
        let aside = if before.is_some() { "nobody is there: 22 Apr or 29 Apr" } else { "nobody is there until 29 Apr" };
        assert!(words.job_aside(harden).starts_with(aside), "{}", words.job_aside(harden));
    }
}

#[test]
fn hardening_off_may_begin_on_the_day_before_or_after() {
    let (grower, id) = away_from("2027-04-23", "2027-04-26");
    let (forecast, sowing) = (grower.forecast(), grower.season.sowing(id).expect("there"));
    let begun_on = |on: &str| {
        let next = forecast.on_another_day(sowing, What::Hardening, day("2027-04-24"), day(on)).expect("another day");
        let mut grower = grower.clone();
        grower.change(id, |sowing| *sowing = next);
        date_of(&grower.forecast(), id, What::Hardening)
    };
    assert_eq!([begun_on("2027-04-22"), begun_on("2027-04-26")], [day("2027-04-22"), day("2027-04-26")]);
    assert_eq!(forecast.on_another_day(sowing, What::FirstNightOut, day("2027-04-27"), day("2027-04-29")), None);
}

#[test]
fn trays_that_nobody_carries_out_and_in_are_told_once_for_days_on_end() {
    let run = |from: &str, until: &str| (from.to_owned(), until.to_owned(), 15);
    let (mut grower, id) = away_from("2027-04-20", "2027-04-26");
    let forecast = grower.forecast();
    assert_eq!(carried(&forecast), [run("2027-04-24", "2027-04-25")]);
    let words =
        Words { season: &grower.season, library: &Library::default(), forecast: &forecast, unit: LengthUnit::Inch };
    let problem =
        forecast.problems.iter().find(|problem| matches!(problem, Problem::NobodyCarries { .. })).expect("as above");
    let said = words.problem(problem);
    assert!(
        said.starts_with("Somebody has to carry 15 trays out and in, 24 Apr – 25 Apr, while nobody is there: "),
        "{said}"
    );
    let trip = grower.season.away()[0].clone();
    assert_eq!(problem.about(), About::Away(trip.id, day("2027-04-24")));
    let over = |on: &str| problem.is_over(day(on));
    assert_eq!((over("2027-04-25"), over("2027-04-26")), (false, true));
    let mut looked_after = grower.clone();
    looked_after.edit(&Op::PutAway(Away { waters: "a neighbour".to_owned(), ..trip }).into());
    assert_eq!(carried(&looked_after.forecast()), []);
    grower.see(id, "2027-04-24", Observed::HardeningBegun);
    assert_eq!(carried(&grower.forecast()), [run("2027-04-25", "2027-04-25")], "somebody was there on the day before");
    // outside at night from the 27th
    let (grower, _) = away_from("2027-04-27", "2027-05-01");
    assert_eq!(carried(&grower.forecast()), []);
}

/// As the window writes it.
fn ticked(season: &Season, job: &Job) -> Edit {
    let what = job.as_planned().expect("it can be written down");
    let lots = job.lots_named(season.sowing(job.sowing).expect("it is there"));
    let ids = (season.next_id()..).map(RecordId);
    let records = ids.zip(lots).map(|(id, lot)| Observation { id, date: job.day, what, lot });
    let ops = records.map(|record| Op::PutRecord(job.sowing, record)).collect();
    Edit::new(EditLabel::AddRecord(String::new()), ops)
}

fn has_hands(what: What) -> bool {
    !matches!(what, What::Begun | What::Due | What::Latest(_) | What::LeavesMeet(_) | What::GappedUp | What::InFlower)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_weeks_together_have_each_event_once(drawn in seasons(), outside in any::<bool>(), batches in 1..3_u16) {
        let mut grower = build(&drawn, 1);
        if outside {
            grower.place(Role::Hardening);
        }
        let ids: Vec<SowingId> = grower.season.sowings().map(|sowing| sowing.id).collect();
        for id in ids {
            let next = grower.season.next_id();
            grower.change(id, |sowing| {
                let later = |at: u16| Lot { later: 3 * at, ..Lot::new(LotId(next + u32::from(at))) };
                sowing.lots.extend((1..batches).map(later));
            });
        }
        let (forecast, all) = of(&grower.season);
        let first = all.first().map_or(NaiveDate::MIN, |job| flatwright::units::monday(job.day));
        let weeks = (0..80).flat_map(|week| of_week(&all, days_after(first, 7 * week)));
        prop_assert_eq!(weeks.collect::<Vec<_>>(), all.iter().collect::<Vec<_>>());
        for course in &forecast.courses {
            for event in course.events.iter().filter(|event| has_hands(event.what)) {
                let own = |job: &&Job| job.sowing == course.sowing && job.lots.contains(&course.lot);
                let same = |job: &&Job| event_of(&forecast, job).is_some_and(|of| (of.what, of.date) == (event.what, event.date));
                let found = all.iter().filter(own).filter(same).count();
                // a batch of none has nothing to go out
                let goes = course.go_out > 0 || !matches!(event.what, What::Out { .. });
                prop_assert_eq!(found, usize::from(goes), "{:?} of {:?}", event, course);
            }
        }
    }

    #[test]
    fn a_tick_is_done_on_its_day_and_one_undo_takes_it_back(drawn in seasons(), outside in any::<bool>()) {
        let mut grower = build(&drawn, 1);
        if outside {
            grower.place(Role::Hardening);
        }
        let mut history = History::new(grower.season);
        // one after the other, as work is done
        while let Some(job) = of(history.season()).1.into_iter().find(Job::is_open) {
            let before = history.season().clone();
            let edit = ticked(&before, &job);
            prop_assert_eq!(history.commit(&edit), Ok(()));
            let (_, after) = of(history.season());
            let Some(same) = after.iter().find(|other| other.is(&job)) else { panic!("{job:?} is gone") };
            let id = RecordId(before.next_id());
            prop_assert_eq!(&same.written, &Written::Done(Done { on: job.day, records: vec![id] }));
            let mut unticked = history.season().clone();
            prop_assert_eq!(unticked.apply(&Op::RemoveRecord(job.sowing, id).into()), Ok(()));
            prop_assert_eq!(unticked.sowing(job.sowing), before.sowing(job.sowing));
            prop_assert!(history.undo());
            prop_assert_eq!(history.season(), &before);
            prop_assert!(history.redo());
        }
    }
}
