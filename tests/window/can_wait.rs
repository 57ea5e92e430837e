//! What can't wait: worked out when it is looked at, each row a click away from its sowing, each date with its last safe day.

use egui::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::fit::{Cancel, Progress};
use flatwright::outlook::slack::{CanWait, can_wait};
use flatwright::outlook::ways_out::Standing;
use flatwright::store;
use flatwright::units::LengthUnit;
use flatwright::words::{self, Words, can_wait as said};

use crate::hand::{settle, undo};
use crate::sowings::enter;
use crate::start::{opened, settled};
use crate::{Window, until};

/// A room in which two sowings want the same shelf, one after the other.
fn season() -> flatwright::season::Season {
    let text = r#"(format: "flatwright season", version: 2, name: "Small room",
        places: [(id: 1, name: "Room", role: Growing, temperatures: (day: "20 °C", night: "18 °C"))],
        racks: [(id: 2, place: 1, name: "Rack")], shelves: [(id: 3, rack: 2, size: "48 x 22 in")],
        sowings: [
            (id: 20, lots: [(id: 21)], crop: "broccoli", wanted: [(date: "2027-04-10", plants: 150)],
                steps: [(id: 22, container: "plug_72", start: On("2027-03-08"))], alone: true),
            (id: 30, lots: [(id: 31)], crop: "cabbage", wanted: [(date: "2027-05-17", plants: 150)],
                steps: [(id: 32, container: "plug_72", start: On("2027-04-11"))], alone: true),
        ])"#;
    store::parse(text, std::path::Path::new("small.ron")).unwrap_or_else(|why| panic!("{why}"))
}

/// What the library says of the season that is open.
fn told(window: &Window) -> (CanWait, Vec<String>) {
    let (app, library) = (window.state(), store::library());
    let season = app.history().season();
    let outlook = app.outlook().expect("it is there");
    let of = Standing { season, library, forecast: app.forecast(), outlook, today: None };
    let found = can_wait(&of, None, &Progress::default(), &Cancel::default()).expect("nobody cancelled it");
    let words = Words { season, library, forecast: app.forecast(), unit: LengthUnit::Inch };
    // the first to overflow is said once, at the head
    let row = |(at, slack)| match (at, found.first()) {
        (0, Some(_)) => words.first_to_overflow(&found),
        _ => words.slack(slack),
    };
    let rows = found.all.iter().enumerate().map(row).collect();
    (found, rows)
}

fn looked_at() -> Window {
    let mut window = opened(season());
    settled(&mut window);
    crate::go(&mut window, said::OPEN);
    until(&mut window, |window| window.query_by_label_contains(said::BY_RULE).is_some());
    settle(&mut window);
    window
}

#[test]
fn every_work_is_listed_and_a_click_leads_to_its_sowing() {
    let mut window = looked_at();
    let (found, rows) = told(&window);
    assert!(!rows.is_empty());
    for row in &rows {
        assert!(window.query_by_role_and_label(Role::Button, row).is_some(), "{row}");
    }
    assert!(found.first().is_some(), "broccoli that waits is in the cabbage's way: {rows:?}");
    window.get_by_role_and_label(Role::Button, &rows[0]).click();
    settle(&mut window);
    let name = if found.all[0].sowing.0 == 20 { "Broccoli" } else { "Cabbage" };
    window.get_by_label(words::sowings::DATES);
    assert!(window.query_all_by_label(name).next().is_some());
}

#[test]
fn each_date_of_a_sowing_has_its_last_safe_day() {
    let mut window = opened(season());
    settled(&mut window);
    crate::go(&mut window, words::menu::SOWINGS);
    settle(&mut window);
    let (found, _) = told(&window);
    let first = window.state().history().season().sowings().next().expect("the broccoli").id;
    let slack = found.all.iter().find(|slack| slack.sowing == first).expect("a work of it").clone();
    let shown = move |window: &Window| {
        let (season, forecast) = (window.state().history().season(), window.state().forecast());
        let words = Words { season, library: store::library(), forecast, unit: LengthUnit::Inch };
        window.query_all_by_label(&words.last_safe_day(&slack)).next().is_some()
    };
    until(&mut window, shown);
}

/// The answer belongs to the season that it was asked of.
#[test]
fn after_an_edit_it_is_worked_out_again() {
    let mut window = looked_at();
    let (_, before) = told(&window);
    crate::go(&mut window, words::menu::SOWINGS);
    settle(&mut window);
    enter(&mut window, words::sowings::WHAT_TO_GROW, "72 kale, out 20 Apr");
    settled(&mut window);
    crate::go(&mut window, said::OPEN);
    until(&mut window, |window| window.query_all_by_label_contains("Kale").count() > 1);
    undo(&mut window);
    settled(&mut window);
    until(&mut window, |window| window.query_by_label(&before[0]).is_some());
    assert_eq!(told(&window).1, before);
}

#[test]
fn a_stay_that_is_too_long_is_said_while_it_is_written() {
    let mut window = opened(season());
    crate::go(&mut window, words::menu::SOWINGS);
    settle(&mut window);
    let line = "72 lettuce in 128, sow 1 Mar, out 16 Apr";
    window.get_by_label(words::sowings::WHAT_TO_GROW).focus();
    settle(&mut window);
    window.get_by_label(words::sowings::WHAT_TO_GROW).type_text(line);
    settle(&mut window);
    window.get_by_label_contains("holds them until 5 Apr, but they go out on 16 Apr; sow on 12 Mar instead of 1 Mar");
    enter(&mut window, words::sowings::WHAT_TO_GROW, line);
    let said = "sow on 12 Mar instead of 1 Mar";
    assert!(window.query_all_by_label_contains(said).next().is_some(), "on its page, too");
}

/// The list said how many trays it is, the side until when it may wait, and below that it must be sown at once.
#[test]
fn a_work_may_wait_until_one_day_wherever_that_is_said() {
    let mut window = opened(season());
    settled(&mut window);
    crate::work::go_to_work(&mut window);
    let (found, _) = told(&window);
    for slack in found.all.iter().filter(|slack| matches!(slack.work, flatwright::outlook::slack::Work::Sown)) {
        let of = |job: &flatwright::forecast::jobs::Job| (job.sowing, job.day) == (slack.sowing, slack.on);
        let Some(job) = crate::work::all(&window).into_iter().find(of) else { continue };
        let plants_end_it = job.may_wait_until.is_some_and(|until| until < slack.until);
        crate::work::go_to(&mut window, &job);
        let last = crate::work::with_words(&window, |words| words.last_safe_day(slack));
        let until_day = job.may_wait_until.map_or(slack.until, |until| until.min(slack.until));
        let waits = format!("may wait until {}", words::day(until_day));
        let due = format!("due {}", words::weekday_and_day(job.day));
        let (is_late, name) = (until_day > job.day, crate::work::name(&window, &job));
        let said = if is_late { format!("{due}; {waits}") } else { due };
        let row = words::fields::with_aside(&name, &waits);
        until(&mut window, |window| {
            let row = !is_late || window.query_by_role_and_label(Role::Button, &row).is_some();
            row && window.query_by_label(&said).is_some() && (plants_end_it || window.query_by_label(&last).is_some())
        });
        if !is_late {
            let shown = window.query_all_by_label_contains(&name);
            assert!(shown.filter_map(|node| node.accesskit_node().label()).all(|said| !said.contains("may wait")));
        }
    }
    assert!(!found.all.is_empty());
}
