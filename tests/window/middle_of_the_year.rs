//! A grower in the middle of the year: fewer came up, a move is late, nobody is there for a week; and what each changed,
//! said in a line.

use chrono::NaiveDate;
use egui::{Key, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::forecast::What;
use flatwright::forecast::jobs::{Job, Kind};
use flatwright::season::{EditLabel, Observed, TrayKey};
use flatwright::store;
use flatwright::units::{DateSpan, monday, shifted};
use flatwright::words::{self, days_away, fields::typed_day, jobs as said, records};

use crate::hand::{field, press, season, settle, undo, value};
use crate::work::{all, first, go_to, name, on, seen, the_list, with_tomatoes, with_words};
use crate::{Window, day, wait, wait_until};

const TODAY: (u32, u32) = (4, 1);

fn today() -> NaiveDate {
    day(TODAY.0, TODAY.1)
}

fn sample() -> Window {
    let mut window = on(&store::sample(), today());
    wait(&mut window);
    window
}

/// What was said once it was worked out.
fn said_of_it(window: &mut Window, part: &str) -> String {
    wait(window);
    settle(window);
    let line = window.query_all_by_label_contains(part).next().expect(part);
    let node = line.accesskit_node();
    node.label().or_else(|| node.value()).unwrap_or_default()
}

fn of(window: &Window, wanted: impl Fn(&Job) -> bool) -> Job {
    all(window).into_iter().find(|job| job.is_open() && job.day >= today() && wanted(job)).expect("such work")
}

#[test]
fn fewer_came_up_is_a_number_and_enter() {
    let mut window = sample();
    let job = of(&window, |job| matches!(job.kind, Kind::LookIfUp(_)));
    go_to(&mut window, &job);
    let before = season(&window).clone();
    let records = seen(&window).len();
    assert_eq!(value(&window, records::DAY), typed_day(today()));
    field(&mut window, "How many up", "31");
    assert_eq!(seen(&window).len(), records + 1);
    assert!(seen(&window).contains(&(today(), Observed::Up { plants: Some(31) })));
    let line = said_of_it(&mut window, "Written down: Lettuce ‘Oak leaf’, 31 of 56 up");
    assert!(line.contains("Still 6 trays short, 10 Apr – 2 May"), "{line}");
    assert!(line.contains("23 of 54 wanted are missing: sow more by 5 Apr"), "{line}");
    // what is missing is work, on the last day for it
    press(&mut window, said::SEE_TO_IT);
    assert_eq!(window.state().day(), day(4, 5));
    let missing = window.query_all_by_label_contains("5 Apr is the last day to sow more for the other 23");
    let missing: Vec<_> = missing.filter(|node| node.accesskit_node().role() == Role::Button).collect();
    assert_eq!(missing.len(), 1);
    assert_eq!(missing[0].accesskit_node().toggled(), Some(egui::accesskit::Toggled::True), "the very row");
    let looked_up = with_words(&window, |words| {
        words.job_details(&all(&window).into_iter().find(|known| known.is(&job)).expect("it"))
    });
    assert!(looked_up.contains(&("How many", "31 plants, of 56 sown".to_owned())), "{looked_up:?}");
    missing[0].click();
    settle(&mut window);
    window.get_by_label(records::PLANNED_AND_ACTUAL);
    undo(&mut window);
    assert_eq!(season(&window), &before, "one step");
}

/// Only what a record of that kind reads is asked.
#[test]
fn what_was_otherwise_is_no_more_than_a_day_and_how_many() {
    let mut window = sample();
    let mut kinds = Vec::new();
    for job in all(&window).into_iter().filter(Job::is_open).filter(|job| job.day >= today()) {
        if kinds.contains(&job.kind.sight()) {
            continue;
        }
        kinds.push(job.kind.sight());
        go_to(&mut window, &job);
        let fields: Vec<String> =
            window.query_all_by_role(Role::TextInput).filter_map(|node| node.accesskit_node().label()).collect();
        let wanted: Vec<&str> = said::counts(job.kind).into_iter().chain([records::DAY]).collect();
        assert_eq!(fields, wanted, "{job:?}");
    }
    assert!(kinds.len() > 4, "{kinds:?}");
}

#[test]
fn a_late_move_is_planned_for_a_day_to_come_and_says_what_moves() {
    let mut window = sample();
    let job = of(&window, |job| job.kind == Kind::MoveOn);
    go_to(&mut window, &job);
    let (before, later) = (season(&window).clone(), shifted(job.day, 3));
    let records = seen(&window);
    window.get_by_role_and_label(Role::TextInput, records::DAY).focus();
    settle(&mut window);
    field(&mut window, records::DAY, &words::day(later));
    assert_eq!(seen(&window), records, "nothing is written down of a day to come");
    assert!(matches!(window.state().history().undo_label(), Some(EditLabel::ChangeDay(_))));
    let moved = |window: &Window| {
        let mut courses = window.state().forecast().courses_of(job.sowing);
        courses.any(|course| course.date(What::MovedOn(job.step.expect("into"))) == Some(later))
    };
    assert!(moved(&window));
    let line = said_of_it(&mut window, "Planned: ");
    assert!(line.contains(&format!("3 days later: {}", words::day(later))), "{line}");
    undo(&mut window);
    assert_eq!(season(&window), &before);
}

#[test]
fn a_late_move_is_written_down_on_the_day_that_it_was() {
    let planned = with_tomatoes();
    let moved = first(&planned, |kind| kind == Kind::MoveOn);
    let late = shifted(moved.day, 3);
    let mut window = on(season(&planned), late);
    wait(&mut window);
    press(&mut window, &words::fields::with_aside(said::SHOW, &said::never_written(3)));
    let line = name(&window, &moved);
    window.query_all_by_label_contains(&line).next().expect("its line").click();
    settle(&mut window);
    assert_eq!(value(&window, records::DAY), typed_day(late), "as it is done now");
    press(&mut window, records::WRITE_IT);
    assert_eq!(seen(&window), [(late, Observed::MovedOn(moved.step.expect("into")))]);
    let said = said_of_it(&mut window, "Written down: Tomato, ");
    assert!(said.contains(&words::day(late)), "{said}");
}

#[test]
fn the_keys_lead_from_the_list_to_what_was_otherwise_and_write_it_down() {
    let mut window = sample();
    the_list(&window).focus();
    settle(&mut window);
    window.key_press(Key::Enter);
    settle(&mut window);
    settle(&mut window);
    let number = window.get_by_role_and_label(Role::TextInput, "How many up");
    assert!(number.is_focused());
    number.type_text("40");
    settle(&mut window);
    window.key_press(Key::Enter);
    settle(&mut window);
    assert!(seen(&window).contains(&(today(), Observed::Up { plants: Some(40) })));
}

#[test]
fn a_week_away_is_one_click_in_its_week_and_says_what_it_breaks() {
    let mut window = sample();
    press(&mut window, said::WEEK_AFTER);
    press(&mut window, said::WEEK_AFTER);
    press(&mut window, days_away::AWAY);
    assert_eq!(value(&window, days_away::FIRST), typed_day(day(4, 12)));
    assert_eq!(value(&window, days_away::LAST), typed_day(day(4, 18)));
    assert!(window.get_by_role_and_label(Role::TextInput, days_away::FIRST).is_focused());
    let buttons = window.query_all_by_role_and_label(Role::Button, records::WRITE_IT);
    let top = buttons.min_by(|one, other| one.rect().left().total_cmp(&other.rect().left())).expect("beside it");
    top.click();
    settle(&mut window);
    let [away] = &season(&window).away()[..] else { panic!("one") };
    assert_eq!(away.span, DateSpan::new(day(4, 12), day(4, 19)).expect("in order"));
    let line = said_of_it(&mut window, "Away 12 Apr – 18 Apr");
    assert!(line.contains("obody waters 3"), "{line}");
    assert!(line.contains("nobody carries"), "{line}");
    // who waters and who carries is work on the day that it begins, and leads to where it is settled
    let water = |node: &egui_kittest::Node<'_>| node.accesskit_node().role() == Role::Button;
    let water = window.query_all_by_label_contains("Nobody waters 12 Apr – 18 Apr").find(water).expect("on its day");
    water.click();
    settle(&mut window);
    assert!(window.query_all_by_label_contains(days_away::STUCK).next().is_some());
    undo(&mut window);
    assert!(season(&window).away().is_empty());
}

#[test]
fn days_away_of_another_first_day_are_a_week_as_well() {
    let mut window = sample();
    press(&mut window, days_away::AWAY);
    assert_eq!(value(&window, days_away::FIRST), typed_day(today()));
    window.get_by_role_and_label(Role::TextInput, days_away::FIRST).focus();
    settle(&mut window);
    field(&mut window, days_away::FIRST, "20 Apr");
    let [away] = &season(&window).away()[..] else { panic!("one") };
    assert_eq!(away.span, DateSpan::new(day(4, 20), day(4, 27)).expect("in order"));
}

/// All within one frame, as a slow machine gets it.
#[test]
fn a_day_and_enter_at_once_are_a_week_away() {
    let mut window = sample();
    press(&mut window, days_away::AWAY);
    window.get_by_role_and_label(Role::TextInput, days_away::FIRST).type_text("12 apr");
    window.key_press(Key::Enter);
    settle(&mut window);
    let [away] = &season(&window).away()[..] else { panic!("one") };
    assert_eq!(away.span, DateSpan::new(day(4, 12), day(4, 19)).expect("in order"));
}

/// What is typed in a day replaces it: nobody has to choose it first.
#[test]
fn the_keys_come_to_a_whole_day() {
    let mut window = sample();
    press(&mut window, days_away::AWAY);
    for text in ["12 apr", "19 apr"] {
        let name = if text.starts_with("12") { days_away::FIRST } else { days_away::LAST };
        assert!(window.get_by_role_and_label(Role::TextInput, name).is_focused());
        window.get_by_role_and_label(Role::TextInput, name).type_text(text);
        settle(&mut window);
        assert_eq!(value(&window, name), text);
        window.key_press(Key::Tab);
        settle(&mut window);
        window.key_press(Key::Tab);
        settle(&mut window);
    }
    // by the pointer as well
    let at = window.get_by_role_and_label(Role::TextInput, days_away::FIRST).rect().left_center();
    crate::hand::click_at(&mut window, at + egui::vec2(20.0, 0.0));
    window.get_by_role_and_label(Role::TextInput, days_away::FIRST).type_text("13 apr");
    settle(&mut window);
    assert_eq!(value(&window, days_away::FIRST), "13 apr");
    window.key_press(Key::Enter);
    settle(&mut window);
    let [away] = &season(&window).away()[..] else { panic!("one") };
    assert_eq!(away.span, DateSpan::new(day(4, 13), day(4, 20)).expect("in order"));
}

/// Said where nothing else comes of it, too; and not where nothing was written down.
#[test]
fn what_changes_nothing_else_says_so() {
    let mut window = sample();
    let job = of(&window, |job| matches!(job.kind, Kind::LookIfUp(_)));
    go_to(&mut window, &job);
    press(&mut window, said::DONE_AS_PLANNED);
    let line = said_of_it(&mut window, "Written down: ");
    assert!(line.ends_with("Nothing else changed: still 6 trays short, 10 Apr – 2 May"), "{line}");
    undo(&mut window);
    wait(&mut window);
    settle(&mut window);
    assert!(window.query_by_label_contains("short in place of").is_none());
    let back = window.query_by_label_contains("Taken back: ").expect("what was").accesskit_node();
    let text = back.label().or_else(|| back.value()).unwrap_or_default();
    assert!(!text.contains("Nothing else changed"), "{text}");
}

/// A tray that is moved by hand is seen where it is put.
#[test]
fn what_the_shelves_show_by_themselves_is_not_said() {
    let mut window = sample();
    let trays: Vec<TrayKey> = season(&window).spots().map(|spot| spot.tray).collect();
    assert!(!trays.is_empty());
    crate::go(&mut window, words::menu::START);
    crate::hand::rename(&mut window, "Another name");
    wait_until(&mut window, |app| app.outlook().is_some());
    assert!(window.query_by_label_contains("trays short, first").is_none());
    assert!(window.query_by_label_contains("Still 6").is_none());
    assert_eq!(monday(today()), day(3, 29));
}
