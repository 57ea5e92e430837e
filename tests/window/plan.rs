//! The plan: rows on the axis of the week strip, put on other days by hand and by keys.

use chrono::NaiveDate;
use egui::{Key, Modifiers, Rect, Role, pos2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::forecast::{Course, What, forecast};
use flatwright::outlook::{Handle, handles, on_other_days};
use flatwright::season::{Op, Season, SowingId};
use flatwright::words::{self, Words, plan as said};
use flatwright::{store, units::LengthUnit};

use crate::hand::settle;
use crate::{Window, day, drag, go, press, sized, take, until, wait, window_on};

fn at_the_plan() -> Window {
    let mut window = window_on(day(4, 20));
    wait(&mut window);
    go(&mut window, said::PAGE);
    window
}

fn name(window: &Window, sowing: SowingId) -> String {
    let (season, forecast) = (window.state().history().season(), window.state().forecast());
    Words { season, library: store::library(), forecast, unit: LengthUnit::Inch }.sowing(sowing)
}

fn course(window: &Window, sowing: SowingId) -> Course {
    window.state().forecast().courses_of(sowing).next().expect("a course").clone()
}

/// Sowings whose row is in view with all of its handles, and one of them.
fn in_view(window: &Window, wanted: impl Fn(Handle) -> bool) -> (SowingId, Handle) {
    let season = window.state().history().season();
    let found = season.sowings().find_map(|sowing| {
        let course = course(window, sowing.id);
        let handle = handles(sowing, &course).into_iter().find(|handle| wanted(*handle))?;
        let label = said::handle(handle, &name(window, sowing.id), handle.date(&course)?);
        (window.query_all_by_label(&label).count() == 1).then_some((sowing.id, handle))
    });
    found.expect("such a row in view")
}

pub(crate) fn is_chosen(node: &egui_kittest::Node<'_>) -> bool {
    let node = node.accesskit_node();
    node.is_selected() == Some(true) || node.toggled() == Some(egui::accesskit::Toggled::True)
}

fn handle_rect(window: &Window, sowing: SowingId, handle: Handle) -> Rect {
    let date = handle.date(&course(window, sowing)).expect("a date");
    window.get_by_label(&said::handle(handle, &name(window, sowing), date)).rect()
}

/// Where the strip has the middle of each of its weeks, by their Mondays.
fn weeks(window: &Window) -> Vec<(NaiveDate, f32)> {
    let outlook = window.state().outlook().expect("an answer");
    let mut mondays: Vec<NaiveDate> = outlook.weeks_of(window.state().pool()).map(|week| week.from).collect();
    mondays.sort_unstable();
    let columns = window
        .query_all_by_role(Role::Label)
        .filter(|node| node.accesskit_node().value().is_some_and(|said| said.contains("worst day")));
    let mut columns: Vec<Rect> = columns.map(|node| node.rect()).collect();
    columns.sort_by(|one, other| one.left().total_cmp(&other.left()));
    assert_eq!(columns.len(), mondays.len(), "each week has its column");
    mondays.into_iter().zip(columns.into_iter().map(|column| column.center().x)).collect()
}

/// The rows have a day where the strip has it, to half a pixel, whatever part of the season is in view.
#[test]
fn rows_and_strip_share_one_axis_to_the_pixel() {
    for (width, height) in [(1280.0, 800.0), (1000.0, 700.0), (900.0, 600.0), (1711.0, 913.0)] {
        let mut window =
            sized(width, height).build_eframe(|_| flatwright::window::App::new(store::sample(), None, day(4, 20)));
        window.run();
        wait(&mut window);
        go(&mut window, said::PAGE);
        let weeks = weeks(&window);
        let (first, last) = (weeks.first().expect("weeks"), weeks.last().expect("weeks"));
        let day_pt = (last.1 - first.1) / (last.0 - first.0).num_days() as f32;
        let x = |date: NaiveDate| first.1 + ((date - first.0).num_days() as f32 - 3.5) * day_pt;
        let mut seen = 0;
        for sowing in window.state().history().season().sowings() {
            let course = course(&window, sowing.id);
            for handle in handles(sowing, &course).into_iter().filter(|handle| *handle != Handle::Whole) {
                let date = handle.date(&course).expect("a date");
                let label = said::handle(handle, &name(&window, sowing.id), date);
                let Some(node) = window.query_all_by_label(&label).next() else { continue };
                let off = node.rect().center().x - x(date);
                assert!(off.abs() <= 0.5, "{label} is {off} points off at {width} × {height}");
                seen += 1;
            }
        }
        assert!(seen > 8, "only {seen} handles in view at {width} × {height}");
    }
}

/// What is said at the hand.
fn at_the_hand(window: &Window) -> Option<String> {
    let mut all = window.query_all_by_role(Role::Status).filter_map(|status| status.accesskit_node().label());
    all.find(|said| said.contains(" of "))
}

#[test]
fn an_edge_beyond_its_window_comes_with_a_word() {
    let mut window = at_the_plan();
    let (sowing, handle) = in_view(&window, |handle| matches!(handle, Handle::MovedOn(_)));
    let weeks = weeks(&window);
    let day_pt = (weeks[1].1 - weeks[0].1) / 7.0;
    let from = handle_rect(&window, sowing, handle).center();
    take(&mut window, from, from - vec2(14.0 * day_pt, 0.0));
    // two weeks sooner its leaves are not there
    until(&mut window, |window| at_the_hand(window).is_some_and(|said| said.contains("; ")));
    window.key_press(Key::Escape);
    window.run();
    assert_eq!(window.state().history().undo_label(), None);
}

#[test]
fn an_edge_dragged_is_shown_first_and_then_one_step() {
    let mut window = at_the_plan();
    let (sowing, handle) = in_view(&window, |handle| matches!(handle, Handle::MovedOn(_)));
    let was = handle.date(&course(&window, sowing)).unwrap();
    let weeks = weeks(&window);
    let day_pt = (weeks[1].1 - weeks[0].1) / 7.0;
    let from = handle_rect(&window, sowing, handle).center();
    let to = from + vec2(5.0 * day_pt, 0.0);
    take(&mut window, from, to);
    let revision = window.state().history().revision();
    assert_eq!(window.state().history().undo_label(), None, "nothing is done before the drop");
    let then = was + chrono::Days::new(5);
    // worked out off the thread: shown as soon as it is known, before the drop
    let shown = said::handle(handle, &name(&window, sowing), then);
    until(&mut window, |window| window.query_all_by_role_and_label(Role::Button, &shown).next().is_some());
    assert!(at_the_hand(&window).is_some_and(|said| said.starts_with(&shown)), "its day is said at the hand");
    window.drop_at(to);
    window.run();
    assert_ne!(window.state().history().revision(), revision);
    assert_eq!(handle.date(&course(&window, sowing)), Some(then));
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run();
    assert_eq!(handle.date(&course(&window, sowing)), Some(was));
    assert_eq!(window.state().history().undo_label(), None, "it was one step");
}

/// What the window makes of it is what the rule says, and the shelves are asked again.
#[test]
fn a_bar_dragged_carries_all_that_follows() {
    let mut window = at_the_plan();
    let (sowing, _) = in_view(&window, |handle| handle == Handle::Whole);
    let before = (window.state().history().season().clone(), window.state().forecast().clone());
    let weeks = weeks(&window);
    let from = handle_rect(&window, sowing, Handle::Whole).left_center() + vec2(30.0, 0.0);
    drag(&mut window, from, from + vec2(weeks[1].1 - weeks[0].1, 0.0));
    let op = on_other_days(&before.1, before.0.sowing(sowing).unwrap(), Handle::Whole, 7).expect("an edit");
    let mut by_rule = before.0.clone();
    by_rule.apply(&op.into()).expect("the season takes it");
    assert_eq!(window.state().history().season().sowing(sowing), by_rule.sowing(sowing));
    wait(&mut window);
    let asked = forecast(&by_rule, store::library());
    assert_eq!(window.state().forecast().courses, asked.courses);
}

#[test]
fn escape_and_a_drop_where_it_was_leave_the_season_as_it_is() {
    let mut window = at_the_plan();
    let season = window.state().history().season().clone();
    let (sowing, handle) = in_view(&window, |handle| handle == Handle::Out);
    let from = handle_rect(&window, sowing, handle).center();
    take(&mut window, from, from + vec2(60.0, 0.0));
    window.key_press(Key::Escape);
    window.run();
    window.drop_at(from + vec2(60.0, 0.0));
    window.run();
    assert_eq!(*window.state().history().season(), season);
    drag(&mut window, from, from + vec2(1.0, 0.0));
    assert_eq!(*window.state().history().season(), season);
    assert_eq!(window.state().history().undo_label(), None);
    wait(&mut window);
    go(&mut window, words::menu::ROOM);
    window.get_by_label(words::WAITING);
}

/// The whole of it without a mouse: the row, what moves, and by how much.
#[test]
fn keys_choose_a_row_and_put_it_on_other_days() {
    let mut window = at_the_plan();
    window.get_by_label(said::ROWS).focus();
    window.run();
    window.key_press(Key::ArrowDown);
    window.run();
    let chosen = |window: &Window| {
        let rows = window.query_all_by_role(Role::Button);
        let chosen = rows.filter(|node| is_chosen(node));
        chosen.filter_map(|node| node.accesskit_node().label()).find(|label| label.contains(" plants, "))
    };
    let first = chosen(&window).expect("a row is chosen");
    window.key_press(Key::ArrowDown);
    window.run();
    assert_ne!(chosen(&window), Some(first.clone()));
    window.key_press(Key::ArrowUp);
    window.run();
    assert_eq!(chosen(&window), Some(first.clone()));
    let season = window.state().history().season();
    let sowing =
        season.sowings().find(|sowing| first.starts_with(&format!("{},", name(&window, sowing.id)))).unwrap().id;
    let was = Handle::Sown.date(&course(&window, sowing)).unwrap();
    // past the whole to the sowing
    for key in [Key::ArrowRight, Key::ArrowRight] {
        window.key_press(key);
        window.run();
    }
    for (key, days) in [(Key::ArrowRight, 1), (Key::ArrowDown, 7), (Key::ArrowLeft, -1), (Key::ArrowUp, -7)] {
        let before = Handle::Sown.date(&course(&window, sowing)).unwrap();
        window.key_press_modifiers(Modifiers::SHIFT, key);
        window.run();
        let after = Handle::Sown.date(&course(&window, sowing)).unwrap();
        assert_eq!((after - before).num_days(), days, "{key:?}");
    }
    assert_eq!(Handle::Sown.date(&course(&window, sowing)), Some(was));
}

/// A row that was pressed hears the keys at once, and stays in view wherever its group takes it.
#[test]
fn a_row_chosen_by_the_mouse_hears_the_keys() {
    let mut window = at_the_plan();
    let (sowing, handle) = in_view(&window, |handle| handle == Handle::Sown);
    let was = handle.date(&course(&window, sowing)).unwrap();
    window.get_by_label(&said::handle(handle, &name(&window, sowing), was)).click();
    window.run();
    window.key_press_modifiers(Modifiers::SHIFT, Key::ArrowDown);
    window.run();
    let then = was + chrono::Days::new(7);
    assert_eq!(handle.date(&course(&window, sowing)), Some(then));
    // to the end of the season and its group
    wait(&mut window);
    let week = weeks(&window);
    let from = handle_rect(&window, sowing, handle).center();
    drag(&mut window, from, from + vec2(3.0 * (week[1].1 - week[0].1), 0.0));
    let moved = handle.date(&course(&window, sowing)).unwrap();
    assert_eq!(moved, then + chrono::Days::new(21));
    let row = handle_rect(&window, sowing, handle);
    assert!((150.0..620.0).contains(&row.center().y), "its row is in view: {row}");
    // one Tab stop for all rows: the next is beyond them
    let list = window.get_by_label(said::ROWS);
    assert!(list.accesskit_node().is_focused());
}

/// As the line below the bar ends: what it is moved on out of holds it so long, not what it is moved into.
#[test]
fn moving_on_may_wait_as_long_as_its_cell_holds_it() {
    let mut window = at_the_plan();
    let (sowing, handle) = in_view(&window, |handle| matches!(handle, Handle::MovedOn(_)));
    let course = course(&window, sowing);
    let date = handle.date(&course).unwrap();
    let first = window.state().history().season().sowing(sowing).unwrap().steps[0].id;
    let latest = course.date(What::Latest(first));
    assert!(latest.is_some_and(|latest| latest > date));
    let wanted = said::may_wait(date, latest);
    window.get_by_label(&said::handle(handle, &name(&window, sowing), date)).click();
    window.run();
    window.get_by_label(&wanted);
}

#[test]
fn several_rows_are_put_on_other_days_together() {
    let mut window = at_the_plan();
    let season = window.state().history().season();
    let in_view: Vec<SowingId> = season
        .sowings()
        .filter(|sowing| {
            let course = course(&window, sowing.id);
            let date = Handle::Out.date(&course).unwrap();
            let label = said::handle(Handle::Out, &name(&window, sowing.id), date);
            window.query_all_by_label(&label).count() == 1
        })
        .map(|sowing| sowing.id)
        .take(2)
        .collect();
    let &[one, other] = in_view.as_slice() else { panic!("two rows in view") };
    let outs = |window: &Window| [one, other].map(|id| Handle::Out.date(&course(window, id)).unwrap());
    let before = outs(&window);
    let at = handle_rect(&window, one, Handle::Out).center();
    window.get_by_label(&said::handle(Handle::Out, &name(&window, one), before[0])).click();
    window.run();
    let second = said::handle(Handle::Out, &name(&window, other), before[1]);
    crate::hands::click_with(&mut window, &second, Modifiers::COMMAND);
    let weeks = weeks(&window);
    drag(&mut window, at, at + vec2((weeks[1].1 - weeks[0].1) * 2.0, 0.0));
    let after = outs(&window);
    for (before, after) in before.into_iter().zip(after) {
        assert_eq!((after - before).num_days(), 14);
    }
}

#[test]
fn what_is_chosen_is_told_short_and_each_line_leads_to_its_day() {
    let mut window = at_the_plan();
    let (sowing, handle) = in_view(&window, |handle| matches!(handle, Handle::MovedOn(_)));
    let moved_on = handle.date(&course(&window, sowing)).unwrap();
    window.get_by_label(&said::handle(handle, &name(&window, sowing), moved_on)).click();
    window.run();
    let told = {
        let (season, forecast) = (window.state().history().season(), window.state().forecast());
        let words = Words { season, library: store::library(), forecast, unit: LengthUnit::Inch };
        words.told(season.sowing(sowing).unwrap(), &course(&window, sowing))
    };
    assert!(told.len() >= 4, "{told:?}");
    for line in &told {
        window.get_by_label(&line.text);
    }
    let moving = told.iter().find(|line| line.date == moved_on && line.head.ends_with("on")).expect("the moving on");
    press(&mut window, moving.head);
    assert_eq!(window.state().day(), moved_on);
    window.get_by_label(words::WAITING);
}

/// Four hundred rows: only those in view are made, whichever is looked for is found, and nothing is drawn twice.
#[test]
fn of_many_rows_only_those_in_view_are_made() {
    let mut season = store::sample();
    let pattern: Vec<_> = season.sowings().cloned().collect();
    for at in 0..400_usize {
        let mut copy = pattern[at % pattern.len()].renumbered(season.next_id());
        copy.variety = format!("No {at}");
        season.apply(&Op::PutSowing(copy).into()).expect("one more");
    }
    season.apply(&Op::SetLayout(Vec::new()).into()).expect("trays may have no spot");
    let mut window = sized(1280.0, 800.0).build_eframe(move |_| flatwright::window::App::new(season, None, day(4, 20)));
    settle(&mut window);
    go(&mut window, said::PAGE);
    let rows = |window: &Window| {
        let all = window.query_all_by_role(Role::Button);
        all.filter(|node| node.accesskit_node().label().is_some_and(|label| label.contains(" plants, sown"))).count()
    };
    assert!((5..60).contains(&rows(&window)), "{} rows are made", rows(&window));
    window.get_by_label(said::ROWS).focus();
    settle(&mut window);
    for _ in 0..40 {
        window.key_press(Key::ArrowDown);
        settle(&mut window);
    }
    assert!((5..60).contains(&rows(&window)));
    let chosen = window.query_all_by_role(Role::Button);
    let chosen = chosen.filter(|node| is_chosen(node));
    let chosen: Vec<Rect> = chosen
        .filter(|node| node.accesskit_node().label().is_some_and(|label| label.contains(" plants, sown")))
        .map(|node| node.rect())
        .collect();
    assert_eq!(chosen.len(), 1, "the row that the keys came to is in view");
    assert!(chosen[0].intersects(Rect::from_min_size(pos2(0.0, 100.0), vec2(1280.0, 520.0))));
}

#[test]
fn rows_stand_in_groups_by_date_crop_or_place() {
    let mut window = at_the_plan();
    let season = window.state().history().season().clone();
    let families = || season.sowings().filter_map(|one| season.crop(store::library(), &one.crop));
    let names = families().map(|crop| words::family(&crop.family)).collect::<std::collections::BTreeSet<_>>();
    let first = *names.iter().next().expect("a family");
    let of_it = families().filter(|crop| words::family(&crop.family) == first).count();
    let in_february = season.sowings().filter(|one| {
        let sown = course(&window, one.id).date(What::Sown);
        sown.is_some_and(|sown| (day(2, 1)..day(3, 1)).contains(&sown))
    });
    let in_february = in_february.count();
    // in the sample of the tests no tray has a spot
    let all = season.sowings().count();
    for (group, heading) in [
        (said::BY_CROP, said::group(first, of_it)),
        (said::BY_PLACE, said::group(said::NO_SPOT, all)),
        (said::BY_DATE, said::group("February", in_february)),
    ] {
        window.get_by_role_and_label(Role::Button, group).click();
        window.run();
        window.get_by_label(&heading);
    }
}

/// One line, three rows, one step; each moves by itself.
#[test]
fn the_same_again_is_one_entry_whose_members_move_alone() {
    let mut window =
        sized(1280.0, 800.0).build_eframe(|_| flatwright::window::App::new(Season::new("Test"), None, day(2, 1)));
    window.run();
    go(&mut window, said::PAGE);
    let line = "144 lettuce, 3 sowings 3 weeks apart, out from 1 April";
    crate::write(&mut window, words::sowings::WHAT_TO_GROW, line);
    window.get_by_label_contains("3 sowings of that number each, 21 days apart, out 1 Apr, 22 Apr and 13 May");
    window.key_press(Key::Enter);
    window.run();
    let outs = |window: &Window| {
        let sowings = window.state().history().season().sowings();
        let mut outs: Vec<_> = sowings.map(|sowing| (sowing.out().unwrap(), sowing.plants_wanted())).collect();
        outs.sort_unstable();
        outs
    };
    assert_eq!(outs(&window), [(day(4, 1), 144), (day(4, 22), 144), (day(5, 13), 144)]);
    let series: Vec<_> = window.state().history().season().sowings().map(|sowing| sowing.series.clone()).collect();
    assert!(series.iter().all(|name| name.is_some() && *name == series[0]), "{series:?}");
    let second = window.state().history().season().sowings().find(|one| one.out() == Some(day(4, 22))).unwrap().id;
    let at = handle_rect(&window, second, Handle::Out).center();
    drag(&mut window, at, at + vec2(60.0, 0.0));
    let moved = outs(&window);
    assert_eq!((moved[0].0, moved[2].0), (day(4, 1), day(5, 13)));
    assert!(moved[1].0 > day(4, 22));
    for _ in 0..2 {
        window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        window.run();
    }
    assert_eq!(outs(&window), [], "it came as one step");
}

#[test]
fn an_empty_season_says_where_to_begin() {
    let mut window =
        sized(1280.0, 800.0).build_eframe(|_| flatwright::window::App::new(Season::new("Test"), None, day(3, 1)));
    window.run();
    go(&mut window, said::PAGE);
    window.get_by_label(words::sowings::NONE_YET);
    crate::write(&mut window, words::sowings::WHAT_TO_GROW, "72 tomato, out 16 May");
    window.key_press(Key::Enter);
    window.run();
    let sowing = window.state().history().season().sowings().next().expect("a sowing");
    assert_eq!(sowing.plants_wanted(), 72);
    let sown = course(&window, sowing.id).date(What::Sown).expect("a day");
    window.get_by_label(&said::handle(Handle::Sown, &name(&window, sowing.id), sown));
}

/// What is told of a row lies beside the rows: the next one is clicked through nothing.
#[test]
fn what_is_told_of_a_row_covers_no_other() {
    let mut window = crate::window_on(crate::day(2, 1));
    crate::go(&mut window, words::plan::PAGE);
    let rows = |window: &Window| {
        let all = window.query_all_by_role(Role::Button).map(|row| (row.rect(), row.accesskit_node().label()));
        let is_row = |label: &Option<String>| label.as_ref().is_some_and(|label| label.contains(" plants, sown "));
        all.filter(|(_, label)| is_row(label))
            .map(|(rect, label)| (rect, label.unwrap_or_default()))
            .collect::<Vec<_>>()
    };
    let [(first, name), (next, _), ..] = &rows(&window)[..] else { panic!("two rows") };
    let (first, next, name) = (*first, *next, name.clone());
    window.hover_at(first.left_center() + egui::vec2(60.0, 0.0));
    for _ in 0..12 {
        window.step();
    }
    let told = window.query_all_by_role_and_label(Role::Label, &name).next().expect("it is told").rect();
    assert!(told.left() > next.center().x, "{told:?} beside {next:?}");
}
