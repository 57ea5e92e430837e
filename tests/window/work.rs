//! The work of a week: listed day by day, ticked, unticked, and a click away from its records, its trays and its plan.

use chrono::NaiveDate;
use egui::{Key, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::forecast::Course;
use flatwright::forecast::jobs::{Job, Kind, jobs};
use flatwright::season::{Away, AwayId, Delays, EditLabel, Lot, LotId, Observed, Op, Season};
use flatwright::store;
use flatwright::units::{DateSpan, LengthUnit, monday, shifted};
use flatwright::window::App;
use flatwright::words::{self, Words, jobs as said, sowings};

use crate::hand::{opened, press, season, settle, undo, value};
use crate::sowings::enter;
use crate::{Window, day, sized};

pub(crate) fn go_to_work(window: &mut Window) {
    window.get_by_role_and_label(Role::Tab, said::PAGE).click();
    settle(window);
}

/// 60 tomatoes out on 16 May, at the page of work, on 1 March.
pub(crate) fn with_tomatoes() -> Window {
    let mut window = opened(Season::new("Test"), words::menu::SOWINGS);
    enter(&mut window, sowings::WHAT_TO_GROW, "60 tomato, out 16 May 2027");
    go_to_work(&mut window);
    window
}

/// The same season on that day.
pub(crate) fn on(season: &Season, today: NaiveDate) -> Window {
    let season = season.clone();
    let mut window = sized(1280.0, 1000.0).build_eframe(move |_| App::new(season, None, today));
    settle(&mut window);
    go_to_work(&mut window);
    window
}

pub(crate) fn all(window: &Window) -> Vec<Job> {
    jobs(season(window), store::library(), window.state().forecast())
}

pub(crate) fn first(window: &Window, wanted: impl Fn(Kind) -> bool) -> Job {
    all(window).into_iter().find(|job| wanted(job.kind)).expect("such work")
}

pub(crate) fn with_words<R>(window: &Window, then: impl FnOnce(&Words<'_>) -> R) -> R {
    let (season, forecast) = (season(window), window.state().forecast());
    then(&Words { season, library: store::library(), forecast, unit: LengthUnit::Inch })
}

/// What its box is called.
pub(crate) fn name(window: &Window, job: &Job) -> String {
    with_words(window, |words| said::on_day(&words.job(job), job.day))
}

fn tick(window: &mut Window, name: &str) {
    window.get_by_role_and_label(Role::CheckBox, name).click();
    settle(window);
}

fn is_ticked(window: &Window, name: &str) -> bool {
    let node = window.get_by_role_and_label(Role::CheckBox, name);
    let node = node.accesskit_node();
    node.toggled() == Some(egui::accesskit::Toggled::True) || node.is_selected() == Some(true)
}

pub(crate) fn seen(window: &Window) -> Vec<(NaiveDate, Observed)> {
    season(window).sowings().flat_map(|sowing| &sowing.seen).map(|seen| (seen.date, seen.what)).collect()
}

/// Shows the week of that work.
pub(crate) fn show(window: &mut Window, job: &Job) {
    while !(0..7).contains(&(job.day - monday(window.state().day())).num_days()) {
        let later = window.state().day() < job.day;
        press(window, if later { said::WEEK_AFTER } else { said::WEEK_BEFORE });
    }
}

#[test]
fn an_empty_season_and_an_empty_week_each_say_so() {
    let window = opened(Season::new("Test"), said::PAGE);
    window.get_by_label(said::NOTHING_SOWN);
    let mut window = with_tomatoes();
    // the window shows the first day of the season
    press(&mut window, said::THIS_WEEK);
    assert_eq!(window.state().day(), day(3, 1));
    let next = all(&window)[0].day;
    window.get_by_label(&said::nothing_due(Some(next)));
    press(&mut window, &said::go_to(next));
    assert_eq!(window.state().day(), next);
    let sow = first(&window, |kind| kind == Kind::Sow);
    let sow = name(&window, &sow);
    window.get_by_role_and_label(Role::CheckBox, &sow);
    let last = all(&window).last().expect("it goes out").clone();
    show(&mut window, &last);
    press(&mut window, said::WEEK_AFTER);
    window.get_by_label(&said::nothing_due(None));
}

#[test]
fn a_tick_writes_it_down_on_its_day_and_comes_off_again() {
    let planned = with_tomatoes();
    let sow = first(&planned, |kind| kind == Kind::Sow);
    let mut window = on(season(&planned), sow.day);
    show(&mut window, &sow);
    let before = season(&window).clone();
    let sow_name = name(&window, &sow);
    assert!(!is_ticked(&window, &sow_name));
    tick(&mut window, &sow_name);
    assert_eq!(seen(&window), [(sow.day, Observed::Sown { cells: None })]);
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::AddRecord("Tomato: sown".to_owned())));
    assert!(is_ticked(&window, &sow_name));
    window.get_by_label(said::ALL_DONE);
    let done = words::fields::with_aside(&sow_name, &said::done_on(sow.day));
    window.get_by_role_and_label(Role::Button, &done);
    undo(&mut window);
    assert_eq!(season(&window), &before);
    tick(&mut window, &sow_name);
    tick(&mut window, &sow_name);
    assert!(seen(&window).is_empty());
    assert!(!is_ticked(&window, &sow_name));
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::RemoveRecord("Tomato: sown".to_owned())));
}

#[test]
fn the_whole_season_can_be_done_as_planned() {
    let mut window = with_tomatoes();
    let open = |window: &Window| all(window).into_iter().find(Job::is_open);
    let mut number = 0;
    while let Some(job) = open(&window) {
        show(&mut window, &job);
        let line = with_words(&window, |words| words::fields::with_aside(&name(&window, &job), &words.job_aside(&job)));
        window.get_by_role_and_label(Role::Button, &line).click();
        settle(&mut window);
        press(&mut window, said::DONE_AS_PLANNED);
        number += 1;
        assert_eq!(seen(&window).len(), number, "{job:?}");
    }
    let kinds = ["sown", "up", "moved on", "out"];
    assert_eq!(number, kinds.len());
    let gone = season(&window).sowings().map(flatwright::season::Sowing::gone).sum::<u32>();
    assert_eq!(gone, 60);
    press(&mut window, said::NOT_DONE);
    assert_eq!(seen(&window).len(), 3);
}

#[test]
fn every_field_of_a_record_is_a_step_further() {
    let mut window = with_tomatoes();
    let sow = first(&window, |kind| kind == Kind::Sow);
    show(&mut window, &sow);
    press(&mut window, said::MORE);
    window.get_by_label(words::records::WRITE_DOWN);
    assert!(window.query_all_by_label("Tomato").next().is_some());
    press(&mut window, words::records::CHANGE_PLAN);
    window.get_by_label(sowings::DATES);
}

pub(crate) fn go_to(window: &mut Window, job: &Job) {
    show(window, job);
    let line = with_words(window, |words| words::fields::with_aside(&name(window, job), &words.job_aside(job)));
    window.get_by_role_and_label(Role::Button, &line).scroll_to_me();
    settle(window);
    window.get_by_role_and_label(Role::Button, &line).click();
    settle(window);
}

/// What was seen was taken from the records: "sown" of seed to be looked at, "up" of plants to be moved on.
#[test]
fn what_was_otherwise_is_asked_of_the_very_work_on_the_day_that_it_is() {
    let mut window = on(&store::sample(), day(4, 1));
    let mut kinds = Vec::new();
    for job in all(&window).into_iter().filter(Job::is_open) {
        let sight = job.kind.sight();
        let is_folded = (day(3, 29)..day(4, 1)).contains(&job.day);
        if is_folded || kinds.contains(&sight) {
            continue;
        }
        kinds.push(sight);
        go_to(&mut window, &job);
        press(&mut window, said::MORE);
        let potting = season(&window).settings().potting;
        let shown = |name: &str| window.get_by_label(name).value().unwrap_or_default();
        assert_eq!(shown(words::records::WHAT_WAS_SEEN), words::records::sight(sight, potting), "{job:?}");
        if job.kind == Kind::MoveOn {
            let sowing = season(&window).sowing(job.sowing).expect("its sowing");
            let step = sowing.steps.iter().find(|step| Some(step.id) == job.step).expect("its step");
            let into = with_words(&window, |words| words.container(&step.container));
            assert_eq!(shown(words::records::MOVED_ON_INTO), into);
        }
        assert_eq!(value(&window, words::records::DAY), words::fields::typed_day(day(4, 1)), "{job:?}");
        let differs = words::records::sight_number(sight).unwrap_or(words::records::DAY);
        assert!(window.get_by_role_and_label(Role::TextInput, differs).is_focused(), "{job:?}");
        go_to_work(&mut window);
    }
    assert!(kinds.len() > 4, "{kinds:?}");
}

/// It was the batch that comes next.
#[test]
fn what_was_otherwise_is_asked_of_the_batch_whose_work_it_is() {
    let mut two = season(&with_tomatoes()).clone();
    let (mut sowing, later) = (two.sowings().next().cloned().expect("a sowing"), LotId(two.next_id()));
    sowing.lots.push(Lot { later: 7, delays: Delays::MovingOn, ..Lot::new(later) });
    two.apply(&Op::PutSowing(sowing.clone()).into()).expect("two batches");
    let mut window = on(&two, day(3, 1));
    let job = all(&window).into_iter().find(|job| job.kind == Kind::MoveOn && job.lots == [later]);
    let job = job.expect("the later batch by itself");
    go_to(&mut window, &job);
    press(&mut window, said::MORE);
    let batch = words::records::batch_of(&sowing, Some(later)).expect("of several");
    assert_eq!(window.get_by_label(words::records::WHICH_BATCH).value().as_deref(), Some(batch.as_str()));
}

#[test]
fn a_tray_leads_to_its_shelf_on_that_day() {
    let mut window = with_tomatoes();
    let moved = first(&window, |kind| kind == Kind::MoveOn);
    show(&mut window, &moved);
    let line = with_words(&window, |words| words::fields::with_aside(&name(&window, &moved), &words.job_aside(&moved)));
    window.get_by_role_and_label(Role::Button, &line).click();
    settle(&mut window);
    let mark = window.state().forecast().mark(moved.trays[0]).to_owned();
    press(&mut window, &mark);
    assert_eq!((window.state().selected(), window.state().day()), (Some(moved.trays[0]), moved.day));
    window.get_by_label(words::tray::WHERE_IT_GOES);
}

fn boxes(window: &Window) -> Vec<String> {
    window.query_all_by_role(Role::CheckBox).filter_map(|node| node.accesskit_node().label()).collect()
}

#[test]
fn what_was_never_written_down_is_one_line_before_what_is_due_today() {
    let planned = with_tomatoes();
    let moved = first(&planned, |kind| kind == Kind::MoveOn);
    let today = shifted(monday(moved.day), 7);
    let mut window = on(season(&planned), today);
    let late: Vec<String> = all(&window)
        .iter()
        .rev()
        .filter(|job| job.is_open() && job.day < today)
        .map(|job| name(&window, job))
        .collect();
    assert_eq!(late.len(), 3, "sown, up, moved on: {late:?}");
    press(&mut window, said::WEEK_AFTER);
    press(&mut window, &said::never_written(3));
    assert_eq!(window.state().day(), today);
    window.get_by_label(&said::never_written(3));
    assert!(boxes(&window).iter().all(|name| !late.contains(name)), "folded");
    press(&mut window, &words::fields::with_aside(said::SHOW, &said::never_written(3)));
    assert_eq!(boxes(&window)[..3], late, "the last of them first");
    // moved on is later than the others
    tick(&mut window, &late[0]);
    assert!(window.query_by_label_contains("never written down").is_none(), "what is before it has passed");
}

/// What was done as planned is foreseen as it was.
#[test]
fn all_that_was_never_written_down_is_done_as_planned_in_one_step() {
    let mut window = on(&store::sample(), day(4, 1));
    let before = season(&window).clone();
    let late: Vec<Job> = all(&window).into_iter().filter(|job| job.is_open() && job.day < day(4, 1)).collect();
    assert!(late.len() > 20, "{}", late.len());
    let foreseen = |window: &Window| {
        let forecast = window.state().forecast();
        let days = |course: &Course| -> Vec<_> { course.events.iter().map(|event| (event.what, event.date)).collect() };
        let stays = forecast.stays.iter().map(|stay| (stay.trays.clone(), stay.span, stay.plants));
        (forecast.courses.iter().map(days).collect::<Vec<_>>(), stays.collect::<Vec<_>>())
    };
    let planned = foreseen(&window);
    press(&mut window, said::ALL_AS_PLANNED);
    assert!(window.query_by_label_contains("never written down").is_none());
    assert!(all(&window).iter().filter(|job| job.day < day(4, 1)).all(|job| job.done().is_some()));
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::AddRecords(late.len())));
    assert_eq!(foreseen(&window), planned);
    undo(&mut window);
    assert_eq!(season(&window), &before);
}

#[test]
fn the_keys_go_from_line_to_line_and_tick() {
    let mut window = with_tomatoes();
    let sow = first(&window, |kind| kind == Kind::Sow);
    show(&mut window, &sow);
    the_list(&window).focus();
    settle(&mut window);
    window.key_press(Key::Space);
    settle(&mut window);
    assert_eq!(seen(&window).len(), 1);
    window.key_press(Key::Space);
    settle(&mut window);
    assert!(seen(&window).is_empty());
    window.key_press(Key::End);
    settle(&mut window);
    let here = the_list(&window).accesskit_node().label().expect("a name");
    assert!(here.len() > said::THE_LIST.len(), "{here}");
}

pub(crate) fn the_list(window: &Window) -> egui_kittest::Node<'_> {
    let is_it = |list: &egui_kittest::Node<'_>| {
        list.accesskit_node().label().is_some_and(|name| name.starts_with(said::THE_LIST))
    };
    window.query_all_by_role(Role::ListBox).find(is_it).expect("the list of the week")
}

#[test]
fn days_away_stand_by_their_day() {
    let planned = with_tomatoes();
    let sow = first(&planned, |kind| kind == Kind::Sow);
    let mut with = season(&planned).clone();
    let span = DateSpan::new(shifted(sow.day, -30), shifted(sow.day, 30)).expect("in order");
    let away = Away {
        id: AwayId(with.next_id()),
        name: "far off".to_owned(),
        span,
        waters: "somebody".to_owned(),
        every_year: false,
    };
    with.apply(&Op::PutAway(away).into()).expect("a trip");
    let mut window = on(&with, shifted(span.from(), -1));
    let sow = first(&window, |kind| kind == Kind::Sow);
    show(&mut window, &sow);
    assert!(window.query_all_by_label("away: far off; somebody waters").next().is_some());
    let (before, after) = sow.nobody_there.expect("no day near is free");
    let before = before.expect("today");
    let aside = format!("nobody is there: {} or {}", words::day(before), words::day(after));
    assert!(window.query_all_by_label_contains(&aside).next().is_some(), "{aside}");
}

/// "75 plants" was said of the seeds of 26.
#[test]
fn before_they_are_up_seeds_are_counted_and_plants_are_what_is_expected() {
    let mut window = with_tomatoes();
    let look = first(&window, |kind| matches!(kind, Kind::LookIfUp(_)));
    let details = |window: &Window, job: &Job| with_words(window, |words| words.job_details(job));
    let sow = first(&window, |kind| kind == Kind::Sow);
    let of = |rows: &[(&'static str, String)], label| rows.iter().find(|row| row.0 == label).map(|row| row.1.clone());
    let (sown, looked) = (details(&window, &sow), details(&window, &look));
    assert!(of(&looked, "How many").is_some_and(|said| said.ends_with("a seed to each")), "{looked:?}");
    for label in ["How many", "For"] {
        assert_eq!(of(&looked, label), of(&sown, label), "one value");
    }
    assert!(of(&looked, "For").is_some_and(|said| said.starts_with("60 plants, as ")), "{looked:?}");
    go_to(&mut window, &look);
}

/// The answer was cut in a narrow window.
#[test]
fn a_line_is_as_high_as_what_it_says() {
    let heights = |width: f32| {
        let season = store::sample();
        let mut window = sized(width, 900.0).build_eframe(move |_| App::new(season, None, day(4, 1)));
        settle(&mut window);
        go_to_work(&mut window);
        let all = all(&window);
        let week = all.iter().filter(|job| monday(job.day) == monday(day(4, 1)) && job.day >= day(4, 1));
        let name = |job: &Job| {
            with_words(&window, |words| words::fields::with_aside(&name(&window, job), &words.job_aside(job)))
        };
        let height = |job: &Job| {
            let name = name(job);
            window.query_by_role_and_label(Role::Button, &name).map(|node| node.rect().height())
        };
        week.filter_map(height).collect::<Vec<_>>()
    };
    let (wide, narrow) = (heights(2400.0), heights(900.0));
    assert!(wide.len() > 2 && wide.iter().all(|high| *high < 34.0), "{wide:?}");
    assert!(narrow.iter().any(|high| *high > 40.0), "{narrow:?}");
}
