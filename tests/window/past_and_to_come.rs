//! In the middle of the year: what is past stays as it was, and nothing is written down that can't have been.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use egui::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::forecast::jobs::{Job, Kind};
use flatwright::forecast::{What, puts_work_away};
use flatwright::season::{Away, AwayId, EditLabel, LotId, Observed, Op, Season, SowingId};
use flatwright::store;
use flatwright::units::{DateSpan, shifted};
use flatwright::words::{self, days_away, fields::newly, jobs as said, records};

use crate::hand::{field, press, season, settle, undo, value};
use crate::work::{all, first, go_to, go_to_work, on, seen, show, with_tomatoes};
use crate::{Window, day, wait};

fn today() -> NaiveDate {
    day(4, 1)
}

fn away(season: &mut Season, from: NaiveDate, until: NaiveDate, waters: &str) {
    let (id, span) = (AwayId(season.next_id()), DateSpan::new(from, until).expect("in order"));
    let away = Away { id, name: String::new(), span, waters: waters.to_owned(), every_year: false };
    season.apply(&Op::PutAway(away).into()).expect("days away");
}

fn past(window: &Window) -> BTreeSet<(SowingId, LotId, String, NaiveDate)> {
    let courses = window.state().forecast().courses.iter();
    let done = |what: What| matches!(what, What::Sown | What::MovedOn(_) | What::Hardening | What::Out { .. });
    let events = courses.flat_map(|course| course.events.iter().map(move |event| (course, event)));
    let before = events.filter(|(_, event)| done(event.what) && event.date < today());
    before.map(|(of, event)| (of.sowing, of.lot, format!("{:?}", event.what), event.date)).collect()
}

fn named(window: &Window, part: &str) -> Vec<String> {
    let nodes = window.query_all_by_label_contains(part).filter_map(|node| {
        let node = node.accesskit_node();
        node.label().filter(|_| node.role() == Role::Button)
    });
    nodes.collect()
}

/// The onions that stand on the shelf were sown a week earlier all of a sudden.
#[test]
fn what_is_offered_for_days_away_leaves_the_past_as_it_was() {
    let mut sample = store::sample();
    away(&mut sample, day(4, 12), day(4, 19), "");
    let mut window = on(&sample, today());
    wait(&mut window);
    crate::go(&mut window, words::menu::DAYS);
    let was = past(&window);
    let offers = named(&window, "Do it on ");
    assert!(!offers.is_empty());
    for offer in offers {
        press(&mut window, &offer);
        wait(&mut window);
        assert!(matches!(window.state().history().undo_label(), Some(EditLabel::ChangeDay(_))), "{offer}");
        assert_eq!(past(&window), was, "{offer}");
        for sowing in season(&window).sowings() {
            assert!(!puts_work_away((&sample, store::library()), sowing, today()), "{offer}");
        }
        undo(&mut window);
        wait(&mut window);
    }
}

fn refused(window: &mut Window, name: &str, text: &str, why: &str) {
    let before = season(window).clone();
    field(window, name, text);
    assert_eq!(season(window), &before, "{text}");
    let said: Vec<String> = window
        .query_all_by_label_contains(why)
        .filter_map(|node| node.accesskit_node().label().or_else(|| node.accesskit_node().value()))
        .collect();
    assert!(!said.is_empty(), "{why}");
}

fn look(window: &Window) -> Job {
    let is_it = |job: &Job| job.is_open() && job.day >= today() && matches!(job.kind, Kind::LookIfUp(_));
    all(window).into_iter().find(is_it).expect("to be looked at")
}

#[test]
fn no_more_come_up_than_are_sown_and_none_on_a_day_to_come_or_before_they_are_sown() {
    let mut window = on(&store::sample(), today());
    wait(&mut window);
    let job = look(&window);
    let sown = window.state().forecast().courses_of(job.sowing).find_map(|course| course.date(What::Sown));
    let sown = sown.expect("sown");
    go_to(&mut window, &job);
    refused(&mut window, "How many up", "60", "only 56 are sown by the plan, found 60");
    let mut window = on(&store::sample(), today());
    wait(&mut window);
    go_to(&mut window, &job);
    field(&mut window, records::DAY, "6 Apr");
    assert_eq!(seen(&window), seen(&on(&store::sample(), today())), "not as a fact");
    let mut window = on(&store::sample(), today());
    wait(&mut window);
    go_to(&mut window, &job);
    let before = shifted(sown, -3);
    let why = format!("sowing comes first, and is planned for {}", words::full_day(sown));
    refused(&mut window, records::DAY, &before.to_string(), &why);
    field(&mut window, records::DAY, &today().to_string());
    // the long form says the same
    press(&mut window, said::MORE);
    refused(&mut window, "Cells with a plant", "60", "only 56 are sown by the plan, found 60");
    field(&mut window, "Cells with a plant", "18");
    refused(&mut window, records::DAY, "6 Apr", "Tue 6 Apr 2027 is still to come");
}

#[test]
fn a_tick_on_work_of_a_later_day_says_that_it_was_done_today() {
    let mut window = on(season(&with_tomatoes()), today());
    let sow = first(&window, |kind| kind == Kind::Sow);
    assert!(sow.day < today());
    let moved = first(&window, |kind| kind == Kind::MoveOn);
    assert!(moved.day > today());
    show(&mut window, &moved);
    go_to(&mut window, &moved);
    press(&mut window, said::DONE_AS_PLANNED);
    assert_eq!(seen(&window), [(today(), Observed::MovedOn(moved.step.expect("into")))]);
}

/// Such a file opens.
#[test]
fn a_record_that_cannot_be_is_worth_a_look() {
    let planned = with_tomatoes();
    let sow = first(&planned, |kind| kind == Kind::Sow);
    let mut with = season(&planned).clone();
    let id = flatwright::season::RecordId(with.next_id());
    let what = Observed::Up { plants: Some(18) };
    let record = flatwright::season::Observation { id, date: shifted(sow.day, -9), what, lot: None };
    with.apply(&Op::PutRecord(sow.sowing, record).into()).expect("files may");
    let window = on(&with, day(5, 1));
    let said: Vec<String> =
        window.state().forecast().problems.iter().map(words::problem_kind).map(str::to_owned).collect();
    assert!(said.iter().any(|kind| kind == "not_so"), "{said:?}");
}

#[test]
fn a_last_day_before_the_first_is_refused_and_new_year_may_be_crossed() {
    let mut window = on(&store::sample(), today());
    press(&mut window, days_away::AWAY);
    window.get_by_role_and_label(Role::TextInput, days_away::FIRST).type_text("5 May");
    settle(&mut window);
    refused(&mut window, days_away::LAST, "1 May", "1 May is before the first day, 5 May");
    crate::go(&mut window, words::menu::DAYS);
    field(&mut window, &newly(days_away::FIRST), "20 Dec 2027");
    field(&mut window, &newly(days_away::LAST), "3 Jan");
    press(&mut window, days_away::ADD);
    let [trip] = &season(&window).away()[..] else { panic!("one trip") };
    assert_eq!(trip.span.days(), 15);
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::PutAway(trip.span)));
}

#[test]
fn days_that_are_away_already_are_changed_not_written_twice() {
    let mut sample = store::sample();
    away(&mut sample, day(4, 12), day(4, 19), "");
    let mut window = on(&sample, today());
    wait(&mut window);
    press(&mut window, said::WEEK_AFTER);
    press(&mut window, said::WEEK_AFTER);
    press(&mut window, days_away::AWAY);
    assert_eq!(value(&window, days_away::FIRST), words::fields::typed_day(day(4, 12)));
    assert!(window.query_all_by_label_contains("12 Apr – 18 Apr is away already").next().is_some());
    field(&mut window, days_away::WATERS, "Jo");
    if season(&window).away()[0].waters.is_empty() {
        let buttons = window.query_all_by_role_and_label(Role::Button, records::WRITE_IT);
        let top = buttons.min_by(|one, other| one.rect().left().total_cmp(&other.rect().left())).expect("beside it");
        top.click();
        settle(&mut window);
    }
    let [one] = &season(&window).away()[..] else { panic!("one") };
    assert_eq!((one.waters.as_str(), one.span), ("Jo", DateSpan::new(day(4, 12), day(4, 19)).expect("in order")));
    wait(&mut window);
    settle(&mut window);
    let trays = 32;
    let said = format!("Away 12 Apr – 18 Apr, Jo waters {trays} trays");
    assert!(window.query_all_by_label_contains(&said).next().is_some(), "{said}");
    assert!(window.query_all_by_label("away; Jo waters").next().is_some());
    assert!(window.query_all_by_label_contains("nobody is there: days away").next().is_none());
}

#[test]
fn the_side_stays_at_the_work_that_was_changed() {
    let mut window = on(&store::sample(), today());
    wait(&mut window);
    let job = all(&window).into_iter().find(|job| job.is_open() && job.day >= today() && job.kind == Kind::MoveOn);
    let job = job.expect("moved on");
    go_to(&mut window, &job);
    let title = |window: &Window| {
        let words = words::Words {
            season: season(window),
            library: store::library(),
            forecast: window.state().forecast(),
            unit: flatwright::units::LengthUnit::Inch,
        };
        words.job_title(&job)
    };
    let is_there = |window: &Window| window.query_all_by_label(&title(window)).next().is_some();
    assert!(is_there(&window));
    let later = shifted(job.day, 9);
    field(&mut window, records::DAY, &later.to_string());
    wait(&mut window);
    settle(&mut window);
    assert!(is_there(&window), "planned for another week");
    assert_eq!(value(&window, records::DAY), words::fields::typed_day(today()), "done now, if it is");
    go_to_work(&mut window);
    press(&mut window, said::DONE_AS_PLANNED);
    wait(&mut window);
    settle(&mut window);
    assert!(is_there(&window), "written down");
    window.get_by_label(said::NOT_DONE);
}

/// A later frost moves what is to come.
#[test]
fn a_season_as_it_might_go_is_sown_as_it_was() {
    use flatwright::forecast::forecast;
    use flatwright::outlook::what_if_edit;
    use flatwright::season::{Shift, Shifting, WhatIf};
    let sample = store::sample();
    let sown = |season: &Season| -> Vec<_> {
        let courses = forecast(season, store::library()).courses.into_iter();
        let dates = courses.filter_map(|course| Some((course.sowing, course.lot, course.date(What::Sown)?)));
        dates.filter(|(_, _, date)| *date < today()).collect()
    };
    for what in [Shifting::LastFrost, Shifting::Out(None), Shifting::Sowing(None)] {
        for days in [-14, 14, 60] {
            let what_if = WhatIf { name: String::new(), shifts: vec![Shift { what: what.clone(), days }] };
            let edit = what_if_edit(&sample, store::library(), &what_if, Some(today())).expect("it can be");
            let mut then = sample.clone();
            then.apply(&edit).expect("it can be");
            assert_eq!(sown(&then), sown(&sample), "{what:?} {days}");
        }
    }
}
