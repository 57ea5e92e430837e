use chrono::NaiveDate;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::forecast::{Problem, What, Why};
use flatwright::season::{Away, AwayId, EditLabel, Op, OutRule, Potting, Season, Sowing, WeekLabels};
use flatwright::units::DateSpan;
use flatwright::words;
use flatwright::words::{days_away as said, fields::newly};

use crate::Window;
use crate::hand::{choose, field, opened, opened_on, press, saved_and_read, season, settle, undo, value};
use crate::sowings::{click, enter};

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date of the test's own")
}

/// 60 tomatoes, moved on when the grower says, out on 16 May; on New Year’s Day.
fn with_tomatoes() -> Window {
    with_tomatoes_on(date("2025-01-01"))
}

fn with_tomatoes_on(today: NaiveDate) -> Window {
    let mut window = opened_on(today, Season::new("Test"), words::menu::SOWINGS);
    enter(&mut window, words::sowings::WHAT_TO_GROW, "60 tomato, sow 10 Feb 2025, out 16 May 2025");
    click(&mut window, "Start of stage 2");
    click(&mut window, "on a date");
    enter(&mut window, "Date of stage 2", "14 Mar 2025");
    window
}

/// Eight days away in March.
fn away(window: &mut Window) {
    crate::go(window, words::menu::DAYS);
    field(window, &newly(said::NAME), "trip");
    field(window, &newly(said::FIRST), "12 Mar 2025");
    field(window, &newly(said::LAST), "19 Mar");
    press(window, said::ADD);
}

fn one(window: &Window) -> Sowing {
    season(window).sowings().next().cloned().expect("a sowing")
}

fn moved_on(window: &Window) -> (NaiveDate, Why) {
    let events = &window.state().forecast().courses[0].events;
    let event = events.iter().find(|event| matches!(event.what, What::MovedOn(_))).expect("moved on");
    (event.date, event.why)
}

#[test]
fn work_bends_round_days_away_inside_its_window() {
    let mut window = with_tomatoes();
    enter(&mut window, "Days early, stage 2", "4");
    enter(&mut window, "Days late, stage 2", "4");
    away(&mut window);
    let [trip] = &season(&window).away()[..] else { panic!("one trip") };
    assert_eq!(trip.span, DateSpan::new(date("2025-03-12"), date("2025-03-20")).expect("a span"));
    assert_eq!((trip.name.as_str(), trip.waters.as_str(), trip.every_year), ("trip", "", false));
    // 20 March would be 6 days late
    assert_eq!(moved_on(&window), (date("2025-03-11"), Why::Bent { days: -3 }));
    assert!(window.query_all_by_label_contains("nobody there on its day: 3 days early").next().is_some());
    assert!(
        window
            .query_all_by_label_contains("Nobody waters 12 Mar – 19 Mar: 8 days, watered every 2 days")
            .next()
            .is_some()
    );
    assert_eq!(&saved_and_read(&window), season(&window));
    field(&mut window, &said::of(said::WATERS, "trip"), "a neighbour");
    assert!(window.query_by_label_contains("Nobody waters").is_none());
    window.get_by_label("Away: trip, 12 Mar – 19 Mar; a neighbour waters");
    undo(&mut window);
    undo(&mut window);
    assert_eq!(moved_on(&window).0, date("2025-03-14"));
}

/// A reason was asked for, and a week was said until the days were taken.
#[test]
fn days_away_need_no_reason_and_are_counted_as_they_are_typed() {
    let mut window = with_tomatoes();
    crate::go(&mut window, words::menu::DAYS);
    field(&mut window, &newly(said::FIRST), "12 Mar 2025");
    field(&mut window, &newly(said::LAST), "1 Mar 2025");
    assert!(window.query_by_label(&said::days(7)).is_none(), "no days at all");
    field(&mut window, &newly(said::LAST), "21 Mar");
    window.get_by_label(&said::days(10));
    press(&mut window, said::ADD);
    assert_eq!(season(&window).away()[0].name, "");
    let first = said::of(said::FIRST, "days away");
    assert_eq!(value(&window, &first), "12 Mar 2025");
    window.get_by_label("Nobody there: days away, 12 Mar – 21 Mar; nobody waters");
    field(&mut window, &first, "14 Mar 2025");
    window.get_by_label(&said::days(8));
    assert_eq!(&saved_and_read(&window), season(&window));
    // another one is told from it
    field(&mut window, &newly(said::FIRST), "1 Apr 2025");
    field(&mut window, &newly(said::LAST), "2 Apr");
    press(&mut window, said::ADD);
    assert_eq!(value(&window, &said::of(said::FIRST, &said::which("days away", 1))), "1 Apr 2025");
    press(&mut window, &said::of(said::REMOVE, "days away"));
    assert_eq!(season(&window).away()[0].span.from(), date("2025-04-01"));
}

#[test]
fn work_that_has_no_other_day_is_done_before_or_after() {
    let mut window = with_tomatoes();
    away(&mut window);
    assert_eq!(moved_on(&window).0, date("2025-03-14"), "a date that was given does not give way");
    let stuck = |window: &Window| {
        let problems = &window.state().forecast().problems;
        problems.iter().any(|problem| matches!(problem, Problem::NobodyThere { .. }))
    };
    assert!(stuck(&window));
    window.get_by_label_contains("Do it on Tue 11 Mar 2025");
    let after = window.get_by_label_contains("Do it on Thu 20 Mar 2025");
    let name = after.accesskit_node().label().unwrap_or_default();
    assert!(name.starts_with("Do it on Thu 20 Mar 2025, Tomato: into "), "{name}");
    let knock_on = "Fri 14 Mar 2025 → Thu 20 Mar 2025";
    assert!(window.query_all_by_label_contains(knock_on).next().is_some());
    press(&mut window, &name);
    assert_eq!(moved_on(&window), (date("2025-03-20"), Why::Set));
    assert!(!stuck(&window));
    assert!(
        matches!(window.state().history().undo_label(), Some(EditLabel::ChangeDay(what)) if what.starts_with("Tomato: into "))
    );
    undo(&mut window);
    assert_eq!(moved_on(&window).0, date("2025-03-14"));
    assert!(stuck(&window));
}

/// A sowing of last month was offered a day of last month.
#[test]
fn work_that_is_past_is_offered_no_other_day() {
    for (today, offered) in [
        ("2025-03-11", &["Do it on Tue 11 Mar 2025", "Do it on Thu 20 Mar 2025"][..]),
        ("2025-03-14", &["Do it on Thu 20 Mar 2025"]),
        ("2025-03-15", &[]),
    ] {
        let mut window = with_tomatoes_on(date(today));
        away(&mut window);
        let offers: Vec<String> = window
            .query_all_by_label_contains("Do it on ")
            .filter_map(|way| way.accesskit_node().label())
            .filter_map(|name| Some(name.split_once(',')?.0.to_owned()))
            .collect();
        assert_eq!(offers, offered, "{today}");
    }
}

#[test]
fn days_without_water_that_are_over_are_not_told() {
    for (today, told) in [("2025-03-19", true), ("2025-03-20", false)] {
        let mut window = with_tomatoes_on(date(today));
        away(&mut window);
        let tells = window.query_all_by_label_contains("Nobody waters 12 Mar – 19 Mar").next().is_some();
        assert_eq!(tells, told, "{today}");
    }
}

/// The sample, with nobody there from 10 to 19 April.
fn sample_on(today: NaiveDate, page: &str) -> Window {
    let mut season = flatwright::store::sample();
    let span = DateSpan::new(crate::day(4, 10), crate::day(4, 20)).expect("in order");
    let id = AwayId(season.next_id());
    let away = Away { id, name: "trip".to_owned(), span, waters: String::new(), every_year: false };
    season.apply(&Op::PutAway(away).into()).expect("a trip");
    opened_on(today, season, page)
}

/// Only planting out was told.
#[test]
fn hardening_off_and_carrying_that_nobody_is_there_for_lead_to_the_days_away() {
    let mut window = sample_on(crate::day(4, 1), words::menu::DAYS);
    let carry = "Somebody has to carry ";
    let problems = &window.state().forecast().problems;
    let begins = problems.iter().find_map(|problem| match problem {
        Problem::NobodyThere { work: What::Hardening, date, .. } => Some(*date),
        _ => None,
    });
    assert!(begins.is_some() && problems.iter().any(|problem| matches!(problem, Problem::NobodyCarries { .. })));
    assert!(window.query_all_by_label_contains("begins to harden off on").next().is_some());
    assert!(window.query_all_by_label_contains(carry).next().is_some());
    crate::go(&mut window, words::menu::WORTH_A_LOOK);
    window.query_all_by_label_contains(carry).next().expect("a row").scroll_to_me();
    settle(&mut window);
    window.query_all_by_label_contains(carry).next().expect("a row").click();
    settle(&mut window);
    assert!(window.query_all_by_label(said::STUCK).next().is_some());
}

#[test]
fn a_day_out_in_the_holidays_is_moved_too() {
    let mut window = with_tomatoes();
    crate::go(&mut window, words::menu::DAYS);
    field(&mut window, &newly(said::NAME), "half term");
    field(&mut window, &newly(said::FIRST), "12 May 2025");
    field(&mut window, &newly(said::LAST), "18 May");
    press(&mut window, said::ADD);
    press(&mut window, "Do it on Mon 19 May 2025, Tomato: out");
    assert_eq!(one(&window).out(), Some(date("2025-05-19")));
}

#[test]
fn school_weeks_iso_weeks_and_dates_agree() {
    let mut window = opened(Season::new("Test"), words::menu::SOWINGS);
    enter(&mut window, words::sowings::WHAT_TO_GROW, "60 tomato, sow 22 Feb 2010, out 7 Jun 2010");
    crate::go(&mut window, words::menu::DAYS);
    choose(&mut window, said::WEEKS[1].1);
    field(&mut window, said::FIRST_WEEK, "8 Sep 2009");
    assert!(window.query_all_by_label_contains("must start on a Monday").next().is_some());
    assert_eq!(value(&window, said::FIRST_WEEK), "8 Sep 2009");
    field(&mut window, said::FIRST_WEEK, "7 Sep 2009");
    assert_eq!(season(&window).settings().weeks, WeekLabels::From(date("2009-09-07")));
    crate::go(&mut window, words::menu::SOWINGS);
    press(&mut window, "Show Mon 22 Feb 2010 on the shelves");
    crate::go(&mut window, words::menu::DAYS);
    window.get_by_label("Mon 22 Feb 2010: week 25, ISO 2010-W08");
    window.get_by_label("Day shown: Mon 22 Feb 2010: week 25, ISO 2010-W08");
    crate::go(&mut window, words::menu::SOWINGS);
    click(&mut window, words::sowing::OUT_KEPT_BY);
    click(&mut window, "a week of your count");
    // Monday 7 June is the first day of week 40
    assert_eq!(one(&window).wanted[0].rule, OutRule::Week { week: 40, weekday: chrono::Weekday::Mon });
    enter(&mut window, "Week out", "38");
    assert_eq!(one(&window).out(), Some(date("2010-05-24")));
    crate::go(&mut window, words::menu::DAYS);
    choose(&mut window, said::WEEKS[0].1);
    assert_eq!(season(&window).settings().weeks, WeekLabels::Iso);
}

#[test]
fn a_day_out_follows_a_weekday_or_the_frost() {
    let mut window = with_tomatoes();
    click(&mut window, words::sowing::OUT_KEPT_BY);
    click(&mut window, "a weekday of a month");
    // 16 May 2025 is the third Friday
    assert_eq!(one(&window).wanted[0].rule, OutRule::Nth { nth: 3, weekday: chrono::Weekday::Fri, month: 5 });
    click(&mut window, words::sowing::WEEKDAY);
    click(&mut window, "Monday");
    assert_eq!(one(&window).out(), Some(date("2025-05-19")));
    click(&mut window, "Which of the month");
    click(&mut window, "last");
    assert_eq!(one(&window).out(), Some(date("2025-05-26")));
    enter(&mut window, "Plant out or sell on", "20 May 2025");
    assert_eq!(one(&window).wanted[0].rule, OutRule::Day, "a date that is typed is the rule");
    let mut settings = season(&window).settings().clone();
    settings.frost = Some(flatwright::season::Frost::on(date("2025-05-06")));
    let mut frosty = season(&window).clone();
    frosty.apply(&flatwright::season::Op::SetSettings(settings).into()).expect("a frost date");
    let mut window = opened(frosty, words::menu::SOWINGS);
    click(&mut window, words::sowing::OUT_KEPT_BY);
    click(&mut window, "weeks from the frost");
    assert_eq!(one(&window).wanted[0].rule, OutRule::Frost { days: 14, waits: false });
    enter(&mut window, "Weeks from the frost", "-1");
    assert_eq!(one(&window).out(), Some(date("2025-04-29")));
    enter(&mut window, "Weeks from the frost", "2,5");
    assert_eq!(value(&window, "Weeks from the frost"), "2,5");
    window.get_by_label_contains("write a whole number, with a minus for before");
}

#[test]
fn what_is_refused_stays_in_its_field_with_the_reason() {
    let mut window = with_tomatoes();
    away(&mut window);
    let before = season(&window).settings().clone();
    for (name, text, why) in [
        ("First day: trip", "31 April", "31 April"),
        ("Last day: trip", "1 Mar 2025", "is before the first day"),
        ("Last day: trip", "1 Mar 1900", "1900"),
        ("What for: trip", &"Ж".repeat(500), "500 characters long"),
        (said::WATERINGS, "0", "must be from 1 to 60"),
        (said::WATERINGS, "2.5", "write a whole number"),
    ] {
        let shown = value(&window, name);
        field(&mut window, name, text);
        assert_eq!(season(&window).settings(), &before, "{name}: {text}");
        assert!(window.query_all_by_label_contains(why).next().is_some(), "{name}: {text}");
        crate::go(&mut window, words::menu::ROOM);
        crate::go(&mut window, words::menu::DAYS);
        assert_eq!(value(&window, name), text);
        field(&mut window, name, &shown);
    }
    field(&mut window, &newly(said::NAME), "never");
    field(&mut window, &newly(said::LAST), "2 Jan 2020");
    assert_eq!(value(&window, &newly(said::NAME)), "never");
    assert_eq!(season(&window).settings(), &before);
    field(&mut window, "Last day: trip", "14 Mar");
    assert_eq!(season(&window).away()[0].span.days(), 3);
    window.get_by_label(&said::of(said::EVERY_YEAR, "trip")).click();
    settle(&mut window);
    assert!(season(&window).away()[0].every_year);
    press(&mut window, &said::of(said::REMOVE, "trip"));
    assert!(season(&window).away().is_empty());
    undo(&mut window);
    assert_eq!(season(&window).away().len(), 1);
}

#[test]
fn the_word_for_potting_on_is_the_growers() {
    let mut window = with_tomatoes();
    let says = |window: &Window, what: &str| window.query_all_by_label_contains(what).next().is_some();
    assert!(says(&window, "potted on 14 Mar into"));
    crate::go(&mut window, words::menu::DAYS);
    choose(&mut window, words::potting(Potting::PotUp).doing);
    assert_eq!(season(&window).settings().potting, Potting::PotUp);
    crate::go(&mut window, words::menu::SOWINGS);
    assert!(says(&window, "potted up 14 Mar into") && !says(&window, "potted on 14 Mar into"));
    let read = saved_and_read(&window);
    assert_eq!(read.settings().potting, Potting::PotUp);
    undo(&mut window);
    assert_eq!(season(&window).settings().potting, Potting::PotOn);
}
