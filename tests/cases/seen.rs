//! What follows from what a grower saw: how much came up, what is missing and how it is made up for,
//! fewer trays for plugs with gaps, the plan beside what became of it.

use chrono::NaiveDate;
use flatwright::forecast::{
    Forecast, LotBeside, MadeUp, Problem, Trial, What, came_up, forecast, gap_up, missing, of_one, planned_beside,
    trial, with_one,
};
use flatwright::season::make::{InPlace, NewRack};
use flatwright::season::{
    Edit, EditLabel, Library, Lot, LotId, Observation, Observed, Op, RecordId, Role, Rule, Season, Sight, Sowing,
    SowingId,
};
use flatwright::store;
use flatwright::trade::QuickLine;
use flatwright::units::LengthUnit;
use flatwright::words::{self, Words};

use crate::support::{day, days_after, size};

/// One rack, and the sowing of that line.
fn season_of(line: &str) -> (Season, Sowing) {
    let mut season = Season::new("Seen");
    let rack = NewRack {
        name: "Rack 1".to_owned(),
        place: InPlace::New { name: "Room".to_owned(), role: Role::Growing },
        tiers: 4,
        size: size("48 x 24 in"),
        clear_height: None,
        overhang: None,
        lamp: true,
    };
    season.apply(&rack.edit(&season).0).expect("a rack");
    let library = store::library();
    let line = QuickLine::read(line, library.crops.values(), library.containers.values(), day("2027-01-10"), None)
        .expect("a line");
    let crop = library.crops.get(&line.crop).expect("its crop");
    let sowing = line.sowing(crop, library).renumbered(season.next_id());
    season.apply(&Op::PutSowing(sowing.clone()).into()).expect("a sowing");
    (season, sowing)
}

fn look(season: &Season) -> Forecast {
    forecast(season, store::library())
}

fn see(season: &mut Season, sowing: &Sowing, date: NaiveDate, what: Observed) -> Sowing {
    let now = season.sowing(sowing.id).expect("the sowing").with_record(Observation {
        id: RecordId(season.next_id()),
        date,
        what,
        lot: None,
    });
    season.apply(&Op::PutSowing(now.clone()).into()).expect("a record");
    now
}

fn sown_on(season: &Season, library: &Library, sowing: &Sowing) -> NaiveDate {
    of_one(season, library, sowing).courses.first().and_then(|course| course.date(What::Sown)).expect("it is sown")
}

fn id(sowing: u32) -> SowingId {
    SowingId(sowing)
}

#[test]
fn a_line_becomes_a_sowing_in_the_usual_chain() {
    let (_, sowing) = season_of("72 tomato “Early Red”, out 16 May, sow 1 Mar");
    assert_eq!((sowing.plants_wanted(), sowing.variety.as_str()), (72, "Early Red"));
    assert_eq!(sowing.out(), Some(day("2027-05-16")));
    assert_eq!(sowing.steps.first().map(|step| step.start), Some(Rule::On(day("2027-03-01"))));
    assert_eq!(sowing.steps.len(), 2, "a plug tray, then pots");
    let (_, plain) = season_of("72 tomato, out 16 May");
    assert_eq!(plain.steps.first().map(|step| step.start), Some(Rule::WhenDue));
}

#[test]
fn the_peak_is_the_first_fullest_day_of_those_on_which_they_stand_too() {
    let (season, sowing) = season_of("72 tomato, out 16 May");
    let library = store::library();
    let found = look(&season);
    let alone = found.peak_of(sowing.id).expect("they grow on");
    assert_eq!(alone.own, alone.all);
    let on_that_day = found.on(alone.day).filter(|stay| stay.needs.role == Role::Growing);
    assert_eq!(on_that_day.count(), alone.own);
    // as many again, each in trays of its own
    let again = Sowing { alone: true, ..sowing.renumbered(season.next_id()) };
    let both = with_one(&season, library, &again).peak_of(again.id).expect("they grow on");
    assert_eq!((both.day, both.own, both.all), (alone.day, alone.own, 2 * alone.own));
    assert_eq!(found.peak_of(again.id), None);
}

#[test]
fn what_came_up_is_told_with_how_little_few_seeds_say() {
    let (mut season, sowing) = season_of("60 tomato, out 16 May");
    let sown = sown_on(&season, store::library(), &sowing);
    assert_eq!(came_up(&sowing), None);
    see(&mut season, &sowing, sown, Observed::Sown { cells: Some(80) });
    let counted = see(&mut season, &sowing, days_after(sown, 10), Observed::Up { plants: Some(60) });
    let found = came_up(&counted).expect("both were counted");
    assert_eq!((found.up, found.cells, found.is_weak), (60, 80, true));
    assert!((found.rate - 0.75).abs() < 1e-9);
}

#[test]
fn what_is_missing_can_be_sown_again_until_it_was() {
    let (mut season, sowing) = season_of("60 tomato, out 16 May");
    let library = store::library();
    let sown = sown_on(&season, library, &sowing);
    assert!(missing(&season, library, &look(&season), &sowing, sown).is_none(), "nothing was counted yet");
    see(&mut season, &sowing, sown, Observed::Sown { cells: Some(72) });
    let up = days_after(sown, 9);
    let seen = see(&mut season, &sowing, up, Observed::Up { plants: Some(48) });
    let offered = |today| {
        let forecast = look(&season);
        let missing = missing(&season, library, &forecast, &seen, today).expect("12 are missing");
        assert_eq!(missing.plants, 12);
        match missing.made_up.into_iter().next() {
            Some(MadeUp::Offered(offer)) => *offer,
            other => panic!("{other:?}"),
        }
    };
    let again = offered(up);
    assert_eq!((again.sowing.plants_wanted(), again.sowing.out()), (12, sowing.out()));
    // its day is past: it is sown today
    assert_eq!(again.sowing.steps.first().map(|step| step.start), Some(Rule::On(up)));
    assert_eq!(again.starts, Some(up));
    assert_eq!(offered(sown).starts, Some(up), "not before it was known");
    let again = again.sowing;
    season.apply(&Op::PutSowing(again.clone()).into()).expect("another sowing");
    let forecast = look(&season);
    let then = missing(&season, library, &forecast, &seen, up).expect("it was sown again");
    assert_eq!((then.plants, then.problem), (0, None));
    assert!(matches!(then.made_up.as_slice(), [MadeUp::By(by, Some(date))] if by.id == again.id && *date == up));
}

#[test]
fn plugs_with_gaps_fit_fewer_trays_while_they_stand_in_them() {
    let (mut season, sowing) = season_of("200 tomato, out 16 May");
    let library = store::library();
    let sown = sown_on(&season, library, &sowing);
    let up = days_after(sown, 9);
    see(&mut season, &sowing, sown, Observed::Sown { cells: Some(4 * 72) });
    let seen = see(&mut season, &sowing, up, Observed::Up { plants: Some(130) });
    let offer = |sowing: &Sowing, season: &Season, on| gap_up(season, library, &look(season), sowing, on);
    let found = offer(&seen, &season, up).expect("130 plugs fill two trays of 72");
    assert_eq!((found.before, found.after, found.record.date), (4, 2, up));
    assert_eq!(offer(&seen, &season, sown).map(|offer| offer.record.date), Some(up), "not before they were counted");
    let done = see(&mut season, &seen, up, Observed::GappedUp);
    assert_eq!(offer(&done, &season, up), None);
}

#[test]
fn the_plan_stands_beside_what_became_of_it() {
    let (mut season, sowing) = season_of("72 tomato, out 16 May");
    let library = store::library();
    let sown = sown_on(&season, library, &sowing);
    let late = days_after(sown, 3);
    let seen = see(&mut season, &sowing, late, Observed::Sown { cells: None });
    let beside = planned_beside(&season, library, &look(&season), &seen);
    let [LotBeside { at: 0, dates, trays, .. }] = beside.as_slice() else { panic!("{beside:?}") };
    let first = dates.first().expect("it is sown");
    assert_eq!((first.what, first.planned, first.actual, first.seen), (What::Sown, Some(sown), Some(late), true));
    let moved = dates.iter().find(|one| matches!(one.what, What::MovedOn(_))).expect("it is moved on");
    assert!(!moved.seen && moved.actual > moved.planned, "three days later are expected: {moved:?}");
    assert!(trays.iter().all(|trays| trays.planned == trays.actual) && trays.len() == 2);
}

#[test]
fn work_on_another_day_is_tried_before_it_is_done() {
    let (season, sowing) = season_of("72 tomato, out 16 May");
    let library = store::library();
    let forecast = look(&season);
    let sown = sown_on(&season, library, &sowing);
    let later = days_after(sown, 2);
    let next = forecast.on_another_day(&sowing, What::Sown, sown, later).expect("it is sown");
    let edit = Edit::new(EditLabel::ChangeDay("tomato".to_owned()), vec![Op::PutSowing(next)]);
    let Trial { season: then, difference, .. } = trial(&season, library, sowing.id, &edit, sown).expect("it may be");
    let moved = difference.moved.iter().find(|moved| moved.what == What::Sown).expect("it moves");
    assert_eq!((moved.from, moved.to), (sown, later));
    assert_ne!(then, season);
    assert!(difference.kept.iter().any(|kept| matches!(kept.what, What::Out { .. })), "the day out stays");
    let out = day("2027-05-16");
    let leaves = forecast.on_another_day(&sowing, What::Out { plants: 72 }, out, later).expect("it goes out");
    assert_eq!(leaves.out(), Some(later));
    assert!(forecast.on_another_day(&sowing, What::Out { plants: 72 }, sown, later).is_none(), "nothing goes out then");
    let gone = Edit::new(EditLabel::RemoveSowing(String::new()), vec![Op::RemoveSowing(id(9_999))]);
    assert!(trial(&season, library, sowing.id, &gone, sown).is_err());
}

#[test]
fn what_is_seen_next_follows_the_usual_order() {
    let (mut season, sowing) = season_of("72 tomato, out 16 May");
    let steps: Vec<_> = sowing.steps.iter().map(|step| step.id).collect();
    let mut now = sowing.clone();
    let date = day("2027-03-20");
    for (sight, what) in [
        (Sight::Sown, Observed::Sown { cells: None }),
        (Sight::Up, Observed::Up { plants: None }),
        (Sight::MovedOn, Observed::MovedOn(steps[1])),
        (Sight::PutOut, Observed::PutOut(72)),
    ] {
        assert_eq!(now.next_sight(), sight);
        now = see(&mut season, &sowing, date, what);
    }
    assert_eq!(now.next_sight(), Sight::Grown);
    // nobody wrote down the day it was sown, nor the one it was up
    let (mut season, sowing) = season_of("72 tomato, out 16 May");
    let now = see(&mut season, &sowing, date, Observed::TrueLeaves(2));
    assert_eq!(now.next_sight(), Sight::MovedOn, "what comes before is not asked for again");
    let now = see(&mut season, &sowing, date, Observed::MovedOn(steps[1]));
    assert_eq!(now.next_sight(), Sight::PutOut);
    let now = see(&mut season, &sowing, date, Observed::PutOut(30));
    assert_eq!(now.next_sight(), Sight::PutOut, "42 are still to go");
    let now = see(&mut season, &sowing, date, Observed::PutOut(42));
    assert_eq!(now.steps_ahead(), steps[1..], "all of them again once they were");
    assert!(sowing.sights().any(|sight| sight == Sight::MovedOn));
    let stays = Sowing { steps: sowing.steps[..1].to_vec(), ..sowing };
    assert!(!stays.sights().any(|sight| sight == Sight::MovedOn));
}

/// A batch that there is not, or that none is taken of, is said; the record counts for all of the sowing as before.
#[test]
fn a_record_that_names_a_batch_where_none_is_taken_says_so() {
    let (mut season, sowing) = season_of("72 tomato, out 16 May");
    let id = RecordId(season.next_id());
    let up = Observation { id, date: day("2027-04-04"), what: Observed::Up { plants: Some(70) }, lot: None };
    let told = |season: &Season| {
        let forecast = look(season);
        let words = Words { season, library: store::library(), forecast: &forecast, unit: LengthUnit::Inch };
        let ours = |problem: &&Problem| matches!(problem, Problem::OfNoBatch { .. });
        forecast.problems.iter().filter(ours).map(|problem| words.problem(problem)).collect::<Vec<_>>()
    };
    season.apply(&Op::PutSowing(sowing.with_record(up)).into()).expect("a record");
    assert_eq!(told(&season), [""; 0]);
    let of_none = sowing.with_record(Observation { lot: Some(LotId(1)), ..up });
    season.apply(&Op::PutSowing(of_none).into()).expect("a record");
    let none = "Tomato: up, 70 of them on 4 Apr names a batch that there is not; it counts for all of it";
    assert_eq!(told(&season), [none]);
    let mut halves = sowing.with_record(Observation { lot: sowing.lots.first().map(|lot| lot.id), ..up });
    halves.lots.push(Lot::new(LotId(season.next_id() + 1)));
    season.apply(&Op::PutSowing(halves).into()).expect("two batches");
    let of_all = "Tomato: up, 70 of them on 4 Apr names a batch, and is of the whole sowing; it counts for all of it";
    assert_eq!(told(&season), [of_all]);
}

/// Why more cells than plants: what stands beside the number.
#[test]
fn how_many_are_sown_says_for_how_many_plants_and_why() {
    let (season, sowing) = season_of("16 tomato, out 16 May");
    let forecast = look(&season);
    let course = forecast.courses_of(sowing.id).next().expect("a course");
    let sow = course.sow;
    let as_said = words::sowings::to_sow(course, &sowing);
    let expected = format!(
        "16 plants: {} to sow on average, {} to be sure {} times in 100, as {} % come up",
        sow.on_average, sow.sure, sow.sure_percent, sow.germination.percent
    );
    assert!(as_said.starts_with(&expected), "{as_said}");
    assert!(sow.sure > 16, "{as_said}");
}
