//! What is written down counts: dead trays make room, what is alive limits what follows, more is sown at
//! the rate that was seen, and what cannot have been is refused.

use flatwright::forecast::{
    Change, Forecast, Learned, MadeUp, NotLearned, Offer, Problem, Seed, Stay, What, missing, next_year,
};
use flatwright::season::{
    ContainerKind, Counted, Delays, FieldId, Grown, Library, Loss, Lot, LotId, Observation, Observed, Op, RecordId,
    Refusal, RimShape, Season, Sight, SowingId, TrayKey, Verdict,
};
use flatwright::words::{self, Words};

use crate::support::{FLAT, Grower, date_of, day, pot, shelf, stage};

/// So many in sheets of 72 from 1 March, in 4 in pots that stand 10 to a tray from the 29th, out on 1 May.
fn grower(plants: u32) -> (Grower, SowingId) {
    let mut grower = Grower::growing(4, &shelf("96 x 24 in"));
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "4 in")));
    let pots = stage("pot", "2027-03-29").carried_in("flat").holding(10);
    let id = grower.sow(plants, &[stage("sheet of 72", "2027-03-01"), pots], "2027-05-01");
    (grower, id)
}

/// 18 of 72 came up, and more were sown by the second sowing.
fn sown_again() -> (Grower, SowingId, SowingId) {
    let (mut grower, id) = grower(60);
    grower.see(id, "2027-03-01", SOWN(72));
    grower.see(id, "2027-03-10", UP(18));
    let again = offer(&grower, id, "2027-03-11").sowing;
    let by = again.id;
    grower.edit(&Op::PutSowing(again).into());
    (grower, id, by)
}

fn on<'a>(forecast: &'a Forecast, date: &str) -> Vec<&'a Stay> {
    forecast.on(day(date)).collect()
}

fn stand(forecast: &Forecast, date: &str) -> (usize, u32) {
    let stays = on(forecast, date);
    (stays.len(), stays.iter().map(|stay| stay.plants).sum())
}

const SOWN: fn(u32) -> Observed = |cells| Observed::Sown { cells: Some(cells) };
const UP: fn(u32) -> Observed = |plants| Observed::Up { plants: Some(plants) };

fn lost(plants: u32) -> Observed {
    Observed::Lost { plants, why: Loss::DampingOff }
}

/// Their trays stood there to the last day, and their pots were planned.
#[test]
fn where_nothing_came_up_nothing_stands_any_more() {
    let (mut grower, id) = grower(144);
    grower.see(id, "2027-03-01", SOWN(144));
    grower.see(id, "2027-03-10", UP(0));
    let forecast = grower.forecast();
    assert_eq!(stand(&forecast, "2027-03-09"), (2, 144));
    for date in ["2027-03-10", "2027-03-28", "2027-03-29", "2027-04-30"] {
        assert_eq!(stand(&forecast, date), (0, 0), "{date}");
    }
    assert!(
        forecast
            .problems
            .iter()
            .any(|problem| matches!(problem, Problem::TooFew { alive: 0, wanted: 144, missing: 144, .. }))
    );
    let course = forecast.courses_of(id).next().expect("a course");
    assert_eq!(course.go_out, 0);
    assert!(course.events.iter().all(|event| event.date <= day("2027-03-10")), "{:?}", course.events);
}

#[test]
fn trays_hold_what_came_up_and_one_without_a_plant_is_gone() {
    let (mut grower, id) = grower(144);
    grower.see(id, "2027-03-01", SOWN(288));
    assert_eq!(stand(&grower.forecast(), "2027-03-10"), (4, 288));
    grower.see(id, "2027-03-10", UP(100));
    assert_eq!(stand(&grower.forecast(), "2027-03-09"), (4, 288));
    assert_eq!(stand(&grower.forecast(), "2027-03-10"), (4, 100), "25 in each: their cells have gaps");
    // 97 of them died: three are left, in three trays at most
    grower.see(id, "2027-03-12", lost(97));
    assert_eq!(stand(&grower.forecast(), "2027-03-11"), (4, 100));
    assert_eq!(stand(&grower.forecast(), "2027-03-12"), (3, 3));
    assert_eq!(stand(&grower.forecast(), "2027-03-29"), (1, 3), "three pots");
}

#[test]
fn pots_that_died_make_room_from_that_day_on() {
    let (mut grower, id) = grower(100);
    grower.see(id, "2027-03-01", SOWN(144));
    grower.see(id, "2027-03-10", UP(120));
    assert_eq!(stand(&grower.forecast(), "2027-04-01"), (10, 100));
    // 60 of 120 are left on 10 April: six trays of ten
    grower.see(id, "2027-04-10", lost(60));
    let forecast = grower.forecast();
    assert_eq!(stand(&forecast, "2027-04-09"), (10, 100), "what is past stays as it was");
    assert_eq!(stand(&forecast, "2027-04-10"), (6, 60));
    assert_eq!(stand(&forecast, "2027-04-30"), (6, 60), "while they harden off too");
    assert_eq!(forecast.courses_of(id).next().map(|course| course.go_out), Some(60));
}

/// A loss counted only after plants had been counted.
#[test]
fn what_was_lost_counts_where_nobody_counted_what_came_up() {
    let (mut grower, id) = grower(100);
    grower.see(id, "2027-04-10", lost(35));
    assert_eq!(stand(&grower.forecast(), "2027-04-09"), (10, 100));
    assert_eq!(stand(&grower.forecast(), "2027-04-10"), (7, 65));
    let too_few = |problem: &Problem| matches!(problem, Problem::TooFew { alive: 65, wanted: 100, missing: 35, .. });
    assert!(grower.forecast().problems.iter().any(too_few));
}

/// All the pots were planned with a tenth of the cells sown.
#[test]
fn what_was_sown_limits_what_is_moved_on() {
    let (mut grower, id) = grower(100);
    grower.change(id, |sowing| sowing.germination_percent = Some(80));
    grower.see(id, "2027-03-01", SOWN(10));
    let forecast = grower.forecast();
    assert_eq!(stand(&forecast, "2027-03-20"), (1, 10));
    assert_eq!(stand(&forecast, "2027-04-01"), (1, 8), "8 of 10 come up");
    // 100 / 0.8 = 125 cells would do on average; out 1 May less six weeks is 20 March
    let problem = Problem::SownTooFew {
        sowing: id,
        cells: 10,
        likely: 8,
        wanted: 100,
        missing: 92,
        sow_again_until: day("2027-03-20"),
        too_late: false,
    };
    assert!(forecast.problems.contains(&problem), "{:?}", forecast.problems);
    let said = words_of(&grower, &forecast, |words| words.problem(&problem));
    assert_eq!(
        said,
        "seedling: 10 cells are sown, which give about 8 of 100 wanted; 20 Mar is the last day to sow more for the other 92"
    );
    let said_on = |today: &str| {
        let forecast = grower.forecast().without_past(day(today));
        let is_it = |problem: &&Problem| matches!(problem, Problem::SownTooFew { .. });
        let problem = forecast.problems.iter().find(is_it).cloned().expect("as above");
        words_of(&grower, &forecast, |words| words.problem(&problem))
    };
    assert_eq!(said_on("2027-03-20"), said);
    assert_eq!(said_on("2027-03-21"), said.replace("20 Mar is the last", "20 Mar was the last"));
    // two days' sowing is one sowing
    grower.see(id, "2027-03-03", SOWN(115));
    let forecast = grower.forecast();
    assert!(!forecast.problems.iter().any(|problem| matches!(problem, Problem::SownTooFew { .. })));
    assert_eq!(stand(&forecast, "2027-04-01"), (10, 100));
}

fn words_of<T>(grower: &Grower, forecast: &Forecast, say: impl FnOnce(&Words<'_>) -> T) -> T {
    let library = Library::default();
    let unit = flatwright::units::LengthUnit::Inch;
    say(&Words { season: &grower.season, library: &library, forecast, unit })
}

fn offer(grower: &Grower, id: SowingId, today: &str) -> Offer {
    let (forecast, sowing) = (grower.forecast(), grower.season.sowing(id).expect("the sowing"));
    let missing =
        missing(&grower.season, &Library::default(), &forecast, sowing, day(today)).expect("some are missing");
    match missing.made_up.into_iter().next() {
        Some(MadeUp::Offered(offer)) => *offer,
        other => panic!("{other:?}"),
    }
}

/// The packet's rate was reckoned with again.
#[test]
fn more_is_sown_at_the_rate_that_was_seen() {
    let (mut grower, id) = grower(60);
    grower.see(id, "2027-03-01", SOWN(72));
    grower.see(id, "2027-03-10", UP(18));
    let offer = offer(&grower, id, "2027-02-01");
    assert_eq!(offer.seed, Seed::Seen(Counted { up: 18, sown: 72, year: 2027 }));
    // 42 are missing and a quarter comes up: 168 on average. Of 72 seeds that leaves 19.07 % for sure, at which
    // 260 cells give 42 nine times in ten
    let sow = offer.sow.expect("it is worked out");
    assert_eq!((sow.on_average, sow.sure, sow.sure_percent), (168, 260, 90));
    assert_eq!(
        words::records::how_much_seed(&offer),
        "18 of 72 came up: 168 cells on average, 260 to be sure 90 times in 100"
    );
    assert_eq!((offer.sowing.plants_wanted(), offer.sowing.germination_percent), (42, Some(25)));
    // known on 10 March, wherever the blue date stands; useful until 1 May less six weeks
    assert_eq!((offer.starts, offer.out), (Some(day("2027-03-10")), day("2027-05-01")));
    assert_eq!(self::offer(&grower, id, "2027-03-20").starts, Some(day("2027-03-20")));
}

#[test]
fn where_nothing_came_up_other_seed_is_sown() {
    let (mut grower, id) = grower(60);
    grower.change(id, |sowing| sowing.germination_percent = Some(70));
    grower.see(id, "2027-03-01", SOWN(72));
    grower.see(id, "2027-03-10", UP(0));
    let offer = offer(&grower, id, "2027-03-11");
    assert_eq!((offer.seed, offer.sowing.germination_percent), (Seed::Other, None));
    assert!(words::records::how_much_seed(&offer).starts_with("Nothing came up: sow other seed"));
}

#[test]
fn nothing_is_sown_past_the_last_day_on_which_it_helps() {
    let (mut grower, id) = grower(60);
    grower.see(id, "2027-03-01", SOWN(72));
    grower.see(id, "2027-03-10", UP(18));
    let made_up = |grower: &Grower, today| {
        let (forecast, sowing) = (grower.forecast(), grower.season.sowing(id).expect("the sowing"));
        missing(&grower.season, &Library::default(), &forecast, sowing, day(today)).expect("missing").made_up.into_iter().next()
            .map(|made_up| matches!(made_up, MadeUp::TooLate { last, out } if last == day("2027-03-20") && out == day("2027-05-01")))
    };
    assert_eq!(made_up(&grower, "2027-03-20"), Some(false));
    assert_eq!(made_up(&grower, "2027-03-21"), Some(true));
    // known too late, though the blue date stands in February
    grower.see(id, "2027-03-25", lost(3));
    assert_eq!(made_up(&grower, "2027-02-01"), Some(true));
}

/// The first sowing went on saying that it had too few.
#[test]
fn after_sowing_again_none_are_missing() {
    let (mut grower, id, by) = sown_again();
    let forecast = grower.forecast();
    assert!(
        !forecast.problems.iter().any(|problem| matches!(problem, Problem::TooFew { .. })),
        "{:?}",
        forecast.problems
    );
    let sowing = grower.season.sowing(id).expect("the sowing");
    let found =
        missing(&grower.season, &Library::default(), &forecast, sowing, day("2027-03-11")).expect("it was sown again");
    assert_eq!((found.problem, found.plants), (None, 0));
    assert!(matches!(found.made_up.as_slice(), [MadeUp::By(again, _)] if again.id == by));
    // five more die: five are missing, not 47
    grower.see(id, "2027-03-12", lost(5));
    let problem = Problem::TooFew {
        sowing: id,
        alive: 13,
        wanted: 60,
        missing: 5,
        sow_again_until: day("2027-03-20"),
        too_late: false,
    };
    let forecast = grower.forecast();
    assert!(forecast.problems.contains(&problem), "{:?}", forecast.problems);
    let said = words_of(&grower, &forecast, |words| words.problem(&problem));
    assert_eq!(
        said,
        "seedling, sown 1 Mar: 13 alive of 60 wanted; 42 are sown again; 20 Mar is the last day to sow more for the other 5"
    );
}

#[test]
fn sowings_of_one_name_are_told_apart_in_what_is_said_of_them() {
    let (mut grower, first) = grower(60);
    let pots = stage("pot", "2027-03-29").carried_in("flat").holding(10);
    let other = grower.sow(40, &[stage("sheet of 72", "2027-03-01"), pots.clone()], "2027-05-01");
    let third = grower.sow(40, &[stage("sheet of 72", "2027-03-08"), pots], "2027-05-01");
    for (id, up) in [(first, 50), (other, 20), (third, 30)] {
        grower.see(id, "2027-03-15", UP(up));
    }
    let forecast = grower.forecast();
    let said: Vec<String> = words_of(&grower, &forecast, |words| {
        let few = forecast.problems.iter().filter(|problem| matches!(problem, Problem::TooFew { .. }));
        few.map(|problem| words.problem(problem)).collect()
    });
    let begins = |start: &str| said.iter().filter(|text| text.starts_with(start)).count();
    assert_eq!(begins("seedling, number 1 of 3: 50 alive of 60"), 1, "{said:?}");
    assert_eq!(begins("seedling, number 2 of 3: 20 alive of 40"), 1, "{said:?}");
    assert_eq!(begins("seedling, sown 8 Mar: 30 alive of 40"), 1, "{said:?}");
}

/// Refused, and which field says what.
#[track_caller]
fn refused(season: &Season, id: SowingId, date: &str, what: Observed) -> (FieldId, String) {
    let record = Observation { id: RecordId(season.next_id()), date: day(date), what, lot: None };
    let why = season.may(&Op::PutRecord(id, record).into()).expect_err("it can't have been so");
    (why.field, words::refusal(&why))
}

#[test]
fn what_cannot_have_been_is_refused_beside_its_field() {
    let (mut grower, id) = grower(60);
    let pots = grower.season.sowing(id).expect("the sowing").steps[1].id;
    grower.see(id, "2027-03-01", SOWN(72));
    let record = RecordId(grower.season.next_id());
    let up_first = refused(&grower.season, id, "2027-02-27", UP(60));
    let text = "sowing comes first, and that was on Mon 1 Mar 2027; found Sat 27 Feb 2027";
    assert_eq!(up_first, (FieldId::RecordDate(record), text.to_owned()));
    let too_many = refused(&grower.season, id, "2027-03-08", UP(73));
    assert_eq!(too_many, (FieldId::RecordUp(record), "there were only 72, found 73".to_owned()));
    grower.see(id, "2027-03-08", UP(60));
    let record = RecordId(grower.season.next_id());
    for (date, what) in
        [("2027-03-07", Observed::MovedOn(pots)), ("2027-03-05", Observed::TrueLeaves(2)), ("2027-03-07", lost(3))]
    {
        let (field, text) = refused(&grower.season, id, date, what);
        assert_eq!(field, FieldId::RecordDate(record), "{what:?}");
        assert!(text.starts_with("coming up comes first, and that was on Mon 8 Mar 2027"), "{text}");
    }
    // on one day is well
    grower.see(id, "2027-03-08", Observed::MovedOn(pots));
    let record = RecordId(grower.season.next_id());
    let twice = refused(&grower.season, id, "2027-04-01", Observed::MovedOn(pots));
    let text = "this is written down for Mon 8 Mar 2027 already; change that day";
    assert_eq!(twice, (FieldId::RecordDate(record), text.to_owned()));
    let sown = grower.season.sowing(id).expect("the sowing").seen[0];
    let later = Observation { date: day("2027-03-09"), ..sown };
    let why = grower.season.may(&Op::PutRecord(id, later).into()).expect_err("it was up by then");
    assert_eq!(why.field, FieldId::RecordDate(sown.id));
    let text = "coming up comes later, and that was on Mon 8 Mar 2027; found Tue 9 Mar 2027";
    assert_eq!(words::refusal(&why), text);
    let more_gone = refused(&grower.season, id, "2027-05-01", Observed::PutOut(61));
    assert_eq!(more_gone, (FieldId::RecordPlants(record), "there were only 60, found 61".to_owned()));
    grower.see(id, "2027-05-01", Observed::PutOut(60));
}

#[test]
fn a_record_is_due_on_the_day_that_is_foreseen() {
    let (mut grower, id) = grower(60);
    let due = |grower: &Grower, sight| {
        let sowing = grower.season.sowing(id).expect("the sowing");
        grower.forecast().due(sowing, sight, (Some(sowing.steps[1].id), None))
    };
    assert_eq!(due(&grower, Sight::Sown), Some(day("2027-03-01")));
    // the crop of these cases is up four days after sowing
    assert_eq!(due(&grower, Sight::Up), Some(day("2027-03-05")));
    assert_eq!(due(&grower, Sight::MovedOn), Some(day("2027-03-29")));
    assert_eq!(due(&grower, Sight::PutOut), Some(day("2027-05-01")));
    assert_eq!(due(&grower, Sight::Lost), None);
    grower.see(id, "2027-03-04", SOWN(72));
    assert_eq!(due(&grower, Sight::Up), Some(day("2027-03-08")));
}

fn next(season: &Season, year: i32) -> (Season, Vec<Change>) {
    let next = next_year(season, &Library::default(), year, words::own_records).expect("a next year");
    (next.season, next.changes)
}

#[test]
fn fifty_of_72_teach_next_year_or_it_says_why_not() {
    let (mut grower, id) = grower(60);
    grower.change(id, |sowing| sowing.germination_percent = Some(85));
    grower.see(id, "2027-03-01", SOWN(72));
    let (_, changes) = next(&grower.season, 2028);
    assert!(changes.contains(&Change::NotLearned { sowing: id, why: NotLearned::UpNotCounted { cells: 72 } }));
    grower.see(id, "2027-03-10", UP(50));
    // (50 + 20 · 0.85) / (72 + 20) = 72.8 %
    let (season, changes) = next(&grower.season, 2028);
    assert_eq!(season.sowing(id).and_then(|sowing| sowing.germination_percent), Some(73));
    assert!(!changes.iter().any(|change| matches!(change, Change::NotLearned { .. })));
    let (mut uncounted, id) = self::grower(60);
    uncounted.see(id, "2027-03-01", Observed::Sown { cells: None });
    uncounted.see(id, "2027-03-10", UP(50));
    let (_, changes) = next(&uncounted.season, 2028);
    let change = Change::NotLearned { sowing: id, why: NotLearned::SownNotCounted { up: 50 } };
    assert!(changes.contains(&change), "{changes:?}");
    let said = words_of(&uncounted, &uncounted.forecast(), |words| words.change(&change));
    assert_eq!(said, "seedling: 50 came up, but the cells sown were not counted: no germination rate is learned");
}

#[test]
fn verdicts_outlive_every_next_year() {
    let (mut grower, id) = grower(60);
    grower.see(id, "2027-03-01", SOWN(72));
    grower.see(id, "2027-03-10", UP(50));
    grower.see(id, "2027-04-26", Observed::Grown(Grown::TooBig));
    // 56 days after sowing
    let verdict = Verdict { grown: Grown::TooBig, days: 56, year: 2027 };
    let (once, _) = next(&grower.season, 2028);
    let (twice, changes) = next(&once, 2029);
    for season in [&once, &twice] {
        let sowing = season.sowing(id).expect("it is sown again");
        assert_eq!((sowing.verdicts.as_slice(), sowing.seen.len()), ([verdict].as_slice(), 0));
        assert!(sowing.germination_percent.is_some_and(|percent| percent < 100), "and the rate");
    }
    let change = Change::Learned(Learned::Verdict { sowing: id, verdict });
    assert!(changes.contains(&change), "{changes:?}");
    let said = words_of(&grower, &grower.forecast(), |words| words.change(&change));
    let text = "seedling: too big at 8 weeks in 2027; the plan is as it was, think about sowing later or a larger pot";
    assert_eq!(said, text);
}

#[test]
fn a_verdict_without_a_day_of_sowing_counts_from_the_planned_one() {
    let (mut grower, id) = grower(60);
    grower.see(id, "2027-04-26", Observed::Grown(Grown::TooSmall));
    let (season, _) = next(&grower.season, 2028);
    let verdict = Verdict { grown: Grown::TooSmall, days: 56, year: 2027 };
    assert_eq!(season.sowing(id).map(|sowing| sowing.verdicts.clone()), Some(vec![verdict]));
}

#[test]
fn what_was_sown_again_is_not_sown_again_next_year() {
    let (grower, id, by) = sown_again();
    let (season, changes) = next(&grower.season, 2028);
    assert!(season.sowing(by).is_none() && season.sowing(id).is_some());
    assert!(changes.iter().any(|change| matches!(change, Change::AgainLeft { plants: 42, .. })));
}

/// Two lots, the second a week later in what the grower says.
fn lots(delays: Delays) -> (Forecast, SowingId) {
    let mut grower = Grower::growing(4, &shelf("96 x 24 in"));
    let rule = flatwright::season::Rule::WhenDue;
    let wanted = flatwright::season::Wanted { plants: 144, ..crate::support::out_on("2027-05-01") };
    let id = grower.sow_by(144, &[("sheet of 72", rule), ("sheet of 38", rule)], wanted);
    let lot = LotId(grower.season.next_id());
    grower.change(id, |sowing| {
        sowing.lots[0].share = 2;
        sowing.lots.push(Lot { later: 7, delays, ..Lot::new(lot) });
    });
    (grower.forecast(), id)
}

#[test]
fn days_later_say_what_they_delay() {
    let dates = |delays| {
        let (forecast, id) = lots(delays);
        let second = forecast.courses_of(id).nth(1).expect("two lots").clone();
        let out = second.events.iter().find(|event| matches!(event.what, What::Out { .. })).map(|event| event.date);
        let moved = second.events.iter().find(|event| matches!(event.what, What::MovedOn(_))).map(|event| event.date);
        (second.date(What::Sown), second.date(What::Up), moved, out)
    };
    let some = |text| Some(day(text));
    // eight weeks before 1 May, up after 4 days, moved on after 14
    let first = (some("2027-03-06"), some("2027-03-10"), some("2027-03-20"), some("2027-05-01"));
    let (forecast, id) = lots(Delays::MovingOn);
    let sown = date_of(&forecast, id, What::Sown);
    let shift = (sown - day("2027-03-06")).num_days();
    let on = |text: &str, later: i64| Some(day(text) + chrono::TimeDelta::days(shift + later));
    let out = |later: i64| Some(day("2027-05-01") + chrono::TimeDelta::days(later));
    assert_eq!(
        forecast.courses_of(id).next().and_then(|course| course.date(What::Up)),
        on("2027-03-10", 0),
        "{first:?}"
    );
    assert_eq!(dates(Delays::MovingOn), (on("2027-03-06", 0), on("2027-03-10", 0), on("2027-03-20", 7), out(0)));
    assert_eq!(dates(Delays::Sowing), (on("2027-03-06", 7), on("2027-03-10", 7), on("2027-03-20", 7), out(0)));
    assert_eq!(dates(Delays::Out), (on("2027-03-06", 0), on("2027-03-10", 0), on("2027-03-20", 0), out(7)));
}

#[test]
fn a_lot_has_its_own_counts() {
    let (forecast, id) = lots(Delays::MovingOn);
    let counts: Vec<u32> = forecast.courses_of(id).map(|course| course.go_out).collect();
    assert_eq!(counts, [96, 48]);
    assert_eq!(words::sowings::lot_of(1, 48, 144), "Batch 2: 48 of 144 go out");
}

#[test]
fn trays_of_a_lot_that_goes_out_later_stay_longer() {
    let (forecast, id) = lots(Delays::Out);
    let own = |date| forecast.on(day(date)).filter(|stay| stay.sowing == Some(id)).count();
    // of 96 plants in sheets of 38 are two full and 20 left, of 48 one and 10: those 30 share a fourth
    assert_eq!((own("2027-04-30"), own("2027-05-01"), own("2027-05-07"), own("2027-05-08")), (4, 2, 2, 0));
}

mod in_trays {
    use super::*;
    use flatwright::season::{ContainerKey, Flat, LotName, Sourced, TrayId, TrayNote, TrayRows};
    use std::ops::Range;

    use crate::support::{flat, length, size};

    /// Two sowings of six plants, and the rows that they get of one tray of 6 by 12.
    fn shared(parts: [(Range<u16>, Option<Range<u16>>); 2], plants: u32) -> Result<Grower, (Refusal, String)> {
        let mut grower = Grower::growing(4, &shelf("96 x 24 in"));
        grower.rows("sheet of rows", FLAT, (6, 12));
        let ids = [(); 2].map(|()| grower.sow(plants, &[stage("sheet of rows", "2027-03-01")], "2027-05-01"));
        let key = TrayKey::Shared(TrayId(grower.season.next_id()));
        let rows = ids.iter().zip(parts).map(|(id, (rows, cells))| {
            let sowing = grower.season.sowing(*id).expect("a sowing");
            TrayRows { rows, cells, lot: sowing.lots[0].id, step: sowing.steps[0].id }
        });
        let note = TrayNote { key, mark: None, rows: rows.collect(), parents: Vec::new() };
        let edit = Op::PutNote(note).into();
        if let Err(why) = grower.season.may(&edit) {
            return Err((why.why.clone(), words::refusal(&why)));
        }
        grower.edit(&edit);
        Ok(grower)
    }

    #[test]
    fn rows_given_twice_are_refused_with_both_names() {
        let (why, said) = shared([(0..3, None), (2..4, None)], 6).expect_err("row 3 is given twice");
        let Refusal::RowTaken { row: 2, lots } = why else { panic!("{why:?}") };
        let [one, other]: [LotName; 2] = *lots;
        assert_eq!((one.crop.as_str(), other.crop.as_str()), ("seedling", "seedling"));
        let text =
            format!("row 3 is given twice: to seedling (batch {}) and to seedling (batch {})", one.lot, other.lot);
        assert_eq!(said, text);
        assert!(shared([(0..3, None), (3..4, None)], 6).is_ok());
        assert!(shared([(0..1, None), (0..1, Some(3..4))], 6).is_err(), "a cell of a whole row");
        assert!(shared([(0..1, Some(0..4)), (0..1, Some(3..4))], 6).is_err(), "a cell twice");
    }

    #[test]
    fn half_rows_and_single_cells_are_shared() {
        // half a row each: twelve plants in one tray, the tray that they share
        let half = shared([(0..1, Some(0..6)), (0..1, Some(6..12))], 6).expect("each has its half");
        assert_eq!(stand(&half.forecast(), "2027-04-01"), (1, 12));
        // one cell each; the other five stand in trays of their own
        let single = shared([(0..1, Some(0..1)), (0..1, Some(1..2))], 6).expect("each has its cell");
        let forecast = single.forecast();
        assert_eq!(stand(&forecast, "2027-04-01"), (3, 12));
        let mixed = |stay: &&Stay| stay.trays.iter().any(|tray| matches!(tray, TrayKey::Shared(_)));
        assert_eq!(forecast.on(day("2027-04-01")).find(mixed).map(|stay| stay.plants), Some(2));
    }

    /// The tomatoes were still named on the day after they were planted out.
    #[test]
    fn who_has_left_a_tray_is_not_named_in_it() {
        let mut grower = Grower::growing(4, &shelf("96 x 24 in"));
        grower.rows("sheet of rows", FLAT, (6, 12));
        let sow = |grower: &mut Grower, out| grower.sow(6, &[stage("sheet of rows", "2027-03-01")], out);
        let (early, late) = (sow(&mut grower, "2027-05-01"), sow(&mut grower, "2027-05-08"));
        grower.share_a_tray(&[early, late]);
        let forecast = grower.forecast();
        let in_it = |date| {
            let stay = forecast.on(day(date)).find(|stay| matches!(stay.tray(), Some(TrayKey::Shared(_))));
            let stay = stay.expect("the shared tray");
            (forecast.sowings_on(stay, day(date)), forecast.sowings_in(stay), stay.plants)
        };
        assert_eq!(in_it("2027-04-30"), (vec![early, late], vec![early, late], 12));
        assert_eq!(in_it("2027-05-01"), (vec![late], vec![late], 6));
        let shared = forecast.shared.values().next().expect("one");
        assert_eq!(shared.on(day("2027-05-01")).map(|part| part.sowing).collect::<Vec<_>>(), [late]);
        let left: Vec<_> = shared.parts.iter().filter(|part| part.sowing == early).cloned().collect();
        let free = |left: &[_]| words::sharing::free(shared, left);
        assert_eq!((free(&[]), free(&left)), (Some("4 rows free".to_owned()), Some("5 rows free".to_owned())));
    }

    #[test]
    fn rows_that_a_tray_does_not_have_are_told() {
        let grower = shared([(0..1, None), (6..7, None)], 6).expect("nobody else has them");
        let no_such = |problem: &Problem| matches!(problem, Problem::NoSuchRows { rows: 6, cells: 12, .. });
        assert_eq!(grower.forecast().problems.iter().filter(|problem| no_such(problem)).count(), 1);
    }

    fn carried(insert: &str, floor: &str) -> (Grower, SowingId) {
        let mut grower = Grower::growing(4, &shelf("96 x 24 in"));
        let floor = Some(Sourced::own(size(floor)));
        grower.container("carrying tray", ContainerKind::Flat(Flat { floor, ..flat("11 x 21.5 in") }));
        grower.sheet("insert", insert, 36);
        let id = grower.sow(72, &[stage("insert", "2027-03-01").carried_in("carrying tray")], "2027-05-01");
        (grower, id)
    }

    #[test]
    fn sheets_stand_in_the_tray_they_are_carried_in() {
        let (grower, _) = carried("10.5 x 10.4 in", "10.6 x 21 in");
        let forecast = grower.forecast();
        // two sheets of 36 to a tray: 72 plants in one, of the carrying tray's size
        assert_eq!(stand(&forecast, "2027-04-01"), (1, 72));
        let stay = forecast.on(day("2027-04-01")).next().expect("a tray");
        assert_eq!((stay.shape.width(), stay.shape.depth()), (length("11 in"), length("21.5 in")));
        assert!(!forecast.problems.iter().any(|problem| matches!(problem, Problem::InsertTooLarge { .. })));
    }

    #[test]
    fn an_insert_larger_than_the_floor_is_told_in_hundredths_of_an_inch() {
        let (grower, id) = carried("10.66 x 20.9 in", "10.6 x 21 in");
        let forecast = grower.forecast();
        let too_large = Problem::InsertTooLarge {
            sowing: id,
            insert: ContainerKey::new("insert"),
            tray: ContainerKey::new("carrying tray"),
            by: length("0.06 in"),
        };
        assert!(forecast.problems.contains(&too_large), "{:?}", forecast.problems);
        let said = words_of(&grower, &forecast, |words| words.problem(&too_large));
        let text = "seedling: insert is 0.06 in larger than the floor of carrying tray; it won't lie flat in it";
        assert_eq!(said, text);
        assert_eq!(stand(&forecast, "2027-04-01").0, 2, "one sheet to a tray");
        // turned, it fits
        let (turned, _) = carried("20.9 x 10.6 in", "10.6 x 21 in");
        assert!(!turned.forecast().problems.iter().any(|problem| matches!(problem, Problem::InsertTooLarge { .. })));
    }

    #[test]
    fn loose_pots_stand_together_as_many_as_the_grower_says() {
        let mut grower = Grower::growing(4, &shelf("48 x 20 in"));
        grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "4 in")));
        let id = grower.sow(30, &[stage("pot", "2027-03-01").holding(12)], "2027-05-01");
        let forecast = grower.forecast();
        let mut blocks: Vec<u32> = on(&forecast, "2027-04-01").iter().map(|stay| stay.plants).collect();
        blocks.sort_unstable();
        assert_eq!(blocks, [6, 12, 12]);
        // five deep: twelve stand in three columns
        let twelve = on(&forecast, "2027-04-01").into_iter().find(|stay| stay.plants == 12).expect("a block");
        assert_eq!((twelve.shape.width(), twelve.shape.depth()), (length("12 in"), length("20 in")));
        assert!(!forecast.problems.iter().any(|problem| matches!(problem, Problem::BlockTooLarge { .. })));
        // 12 columns of 5 are 60: 61 do not stand together
        grower.change(id, |sowing| sowing.steps[0].per_tray = Some(61));
        let too_large = |problem: &Problem| matches!(problem, Problem::BlockTooLarge { per_tray: 61, .. });
        assert!(grower.forecast().problems.iter().any(too_large));
    }
}
