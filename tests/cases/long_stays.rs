//! A crop that would stand in a container for longer than that holds it: what is right instead is said when it is
//! sown, and holds when it is done.

use std::path::Path;

use flatwright::forecast::{Instead, Problem, forecast, with_one};
use flatwright::season::{Observation, Observed, Op, RecordId, Rule, Season, Sowing};
use flatwright::store;
use flatwright::trade::QuickLine;
use flatwright::units::LengthUnit;
use flatwright::words::Words;

use crate::support::day;

/// A tomato in a pot that holds it for nine weeks, sown on 1 March.
fn tomato(moved_on: &str, pot: &str, out: &str) -> Season {
    let text = format!(
        r#"(format: "flatwright season", version: 2, name: "long stays",
        places: [(id: 1, name: "room", role: Growing, temperatures: (day: "22 °C", night: "22 °C"))],
        racks: [(id: 2, place: 1, name: "r")], shelves: [(id: 3, rack: 2, size: "96 x 48 in")],
        sowings: [(id: 20, lots: [(id: 21)], crop: "tomato", wanted: [(date: "{out}", plants: 3)],
            steps: [(id: 22, container: "plug_50", start: On("2027-03-01")), (id: 23, container: "{pot}"{moved_on})])])"#
    );
    store::parse(&text, Path::new("long.ron")).unwrap_or_else(|why| panic!("{why}"))
}

fn held(season: &Season) -> Option<Problem> {
    let found = forecast(season, store::library());
    found.problems.into_iter().find(|problem| matches!(problem, Problem::HeldTooLong { .. }))
}

#[track_caller]
fn instead(season: &Season) -> Instead {
    match held(season) {
        Some(Problem::HeldTooLong { instead: Some(instead), .. }) => instead,
        other => panic!("{other:?}"),
    }
}

fn only(season: &Season) -> Sowing {
    season.sowings().next().cloned().unwrap_or_else(|| panic!("it is there"))
}

/// Nothing is held too long then, and nothing goes before it is ready.
#[track_caller]
fn is_right(season: &Season, change: impl FnOnce(&mut Sowing)) {
    let mut then = season.clone();
    let mut sowing = only(season);
    change(&mut sowing);
    then.apply(&Op::PutSowing(sowing).into()).unwrap_or_else(|why| panic!("{why:?}"));
    let found = forecast(&then, store::library());
    let wrong = |problem: &&Problem| {
        matches!(
            problem,
            Problem::HeldTooLong { .. }
                | Problem::NotReady { .. }
                | Problem::MovedEarly { .. }
                | Problem::NoRoomInside { .. }
                | Problem::InsertTooLarge { .. }
        )
    };
    assert_eq!(found.problems.iter().find(wrong), None);
}

#[test]
fn nine_weeks_before_its_day_is_right_or_a_larger_pot() {
    let season = tomato("", "sq_4_18ct", "2027-05-20");
    let Instead { sow, into } = instead(&season);
    // nine weeks before 20 May are 18 March; from the first they end on 3 May
    assert_eq!(sow, Some((day("2027-03-01"), day("2027-03-18"))));
    is_right(&season, |sowing| sowing.steps[0].start = Rule::On(day("2027-03-18")));
    let into = into.unwrap_or_else(|| panic!("a larger pot holds it for twelve weeks"));
    is_right(&season, |sowing| sowing.steps[1].container = into.clone());
    // a day sooner is not enough
    let mut sooner = season.clone();
    let mut sowing = only(&season);
    sowing.steps[0].start = Rule::On(day("2027-03-17"));
    sooner.apply(&Op::PutSowing(sowing).into()).unwrap_or_else(|why| panic!("{why:?}"));
    assert!(held(&sooner).is_some());
}

/// "Sow on 18 Mar instead", on 1 April.
#[test]
fn a_day_to_sow_on_that_is_past_is_not_proposed() {
    let season = tomato("", "sq_4_18ct", "2027-05-20");
    for (today, sow) in [("2027-03-18", true), ("2027-03-19", false)] {
        let found = forecast(&season, store::library()).without_past(day(today));
        let is_held = |problem: &&Problem| matches!(problem, Problem::HeldTooLong { .. });
        let problem = found.problems.iter().find(is_held).unwrap_or_else(|| panic!("{today}"));
        let words = Words { season: &season, library: store::library(), forecast: &found, unit: LengthUnit::Inch };
        let said = words.problem(problem);
        assert_eq!(said.contains("sow on 18 Mar instead of 1 Mar"), sow, "{today}: {said}");
        assert!(said.contains("use "), "{today}: {said}");
    }
}

#[test]
fn where_no_date_does_both_a_container_is_named() {
    // moved on on its day, eleven days after it would be sown
    let set = tomato(r#", start: On("2027-03-29")"#, "sq_4_18ct", "2027-05-20");
    let found = instead(&set);
    assert!(found.sow.is_none() && found.into.is_some(), "{found:?}");
    let mut sown = tomato("", "sq_4_18ct", "2027-05-20");
    let record =
        Observation { id: RecordId(90), date: day("2027-03-01"), what: Observed::Sown { cells: None }, lot: None };
    sown.apply(&Op::PutRecord(only(&sown).id, record).into()).unwrap_or_else(|why| panic!("{why:?}"));
    let found = instead(&sown);
    assert!(found.sow.is_none() && found.into.is_some(), "it is sown: {found:?}");
}

#[test]
fn the_line_and_the_page_say_the_same() {
    let (season, library) = (Season::new("a line"), store::library());
    let line = "72 lettuce in 128, sow 1 Mar, out 16 Apr";
    let line = QuickLine::read(line, library.crops.values(), library.containers.values(), day("2027-01-10"), None);
    let line = line.unwrap_or_else(|why| panic!("{why}"));
    let sowing = line.sowing(&library.crops[&line.crop], library).renumbered(season.next_id());
    let with = with_one(&season, library, &sowing);
    let words = Words { season: &season, library, forecast: &with, unit: LengthUnit::Inch };
    let meant = words.would_mean("Lettuce", &sowing, &with);
    // five weeks from 1 March are 5 April, and five before 16 April 12 March
    let said = "holds them until 5 Apr, but they go out on 16 Apr; sow on 12 Mar instead of 1 Mar";
    assert!(meant.contains(said), "{meant}");
    let mut then = season.clone();
    then.apply(&Op::PutSowing(sowing.clone()).into()).unwrap_or_else(|why| panic!("{why:?}"));
    let found = forecast(&then, library);
    let words = Words { season: &then, library, forecast: &found, unit: LengthUnit::Inch };
    let problem = found.problems.iter().find(|problem| matches!(problem, Problem::HeldTooLong { .. }));
    let problem = problem.unwrap_or_else(|| panic!("{:?}", found.problems));
    let held = words.held_too_long(&sowing, problem).unwrap_or_default();
    assert!(meant.contains(&held) && words.problem(problem) == format!("Lettuce: {held}"), "{held}");
}
