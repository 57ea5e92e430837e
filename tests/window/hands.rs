//! Several trays at once, copying, what a tray becomes, what stands out.

use egui::{
    Event, Key, Modifiers, MouseWheelSource, MouseWheelUnit, OutputCommand, PointerButton, Pos2, Role, TouchPhase, vec2,
};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::forecast::Stay;
use flatwright::season::{EditLabel, Spot, TrayKey};
use flatwright::units::Length;
use flatwright::words;

use crate::{Window, day, drag, rect, spot, take, tray, wait, window_on};

/// `Ge 1` and `Ge 2` beside each other on the window rack's first shelf, each by its own drag.
fn two_standing() -> Window {
    let mut window = window_on(day(2, 1));
    let shelf = rect(&window, "Window rack, shelf 1,");
    for (mark, x) in [("Ge 1, ", 5.5), ("Ge 2, ", 17.0)] {
        let from = rect(&window, mark).center();
        drag(&mut window, from, shelf.left_top() + shelf.size() * vec2(x / 48.0, 10.5 / 24.0));
    }
    assert!(spot(&window, "Ge 1").is_some() && spot(&window, "Ge 2").is_some());
    window
}

pub(crate) fn click_with(window: &mut Window, name: &str, modifiers: Modifiers) {
    window.get_by_label_contains(name).click_modifiers(modifiers);
    window.run();
}

fn choose_both(window: &mut Window) {
    click_with(window, "Ge 1, ", Modifiers::NONE);
    click_with(window, "Ge 2, ", Modifiers::COMMAND);
    window.get_by_label("2 trays chosen");
}

fn both(window: &Window) -> [Spot; 2] {
    ["Ge 1", "Ge 2"].map(|mark| spot(window, mark).expect("it stands on a shelf"))
}

fn undo_label(window: &Window) -> Option<EditLabel> {
    window.state().history().undo_label().cloned()
}

#[test]
fn several_are_carried_to_another_shelf_in_one_step() {
    let mut window = two_standing();
    choose_both(&mut window);
    let before = both(&window);
    let from = rect(&window, "Ge 2, ").center();
    let up = rect(&window, "Window rack, shelf 1, 48").center();
    let down = rect(&window, "Window rack, shelf 2, 48").center();
    take(&mut window, from, from + (down - up));
    window.get_by_label_contains("all 2 have room");
    window.drop_at(from + (down - up));
    window.run();
    let after = both(&window);
    assert!(after.iter().all(|spot| spot.shelf != before[0].shelf && spot.shelf == after[0].shelf));
    assert_eq!(after[1].x - after[0].x, before[1].x - before[0].x, "they keep their places to each other");
    assert_eq!(after[0].y, after[1].y);
    assert_eq!(undo_label(&window), Some(EditLabel::MoveTrays(2)));
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run();
    assert_eq!(both(&window), before);
}

#[test]
fn several_go_back_together_if_one_has_no_room() {
    let mut window = two_standing();
    choose_both(&mut window);
    let before = both(&window);
    let from = rect(&window, "Ge 1, ").center();
    let shelf = rect(&window, "Window rack, shelf 2,");
    // the one in the hand would fit at the right end, the other beyond it would not
    let to = shelf.right_top() + vec2(-shelf.width() * 6.0 / 48.0, shelf.height() / 2.0);
    take(&mut window, from, to);
    window.get_by_label_contains("Ge 2: ");
    window.drop_at(to);
    window.run();
    assert_eq!(both(&window), before);
    window.get_by_label_contains("All went back: Ge 2: ");
}

#[test]
fn several_are_nudged_turned_pinned_and_lifted_each_in_one_step() {
    let mut window = two_standing();
    choose_both(&mut window);
    let before = both(&window);
    window.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    window.run();
    let after = both(&window);
    let inch = Length::from_units(203_200);
    assert_eq!([after[0].x - before[0].x, after[1].x - before[1].x], [inch, inch]);
    assert_eq!(undo_label(&window), Some(EditLabel::MoveTrays(2)));
    window.key_press(Key::P);
    window.run();
    assert!(both(&window).iter().all(|spot| spot.pinned));
    assert_eq!(undo_label(&window), Some(EditLabel::PinTrays(2)));
    window.key_press(Key::Delete);
    window.run();
    assert_eq!((spot(&window, "Ge 1"), spot(&window, "Ge 2")), (None, None));
    assert_eq!(undo_label(&window), Some(EditLabel::LiftTrays(2)));
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run();
    window.key_press(Key::Escape);
    window.run();
    choose_both(&mut window);
    // 10 in apart they can't turn to 20 in where they stand: neither does
    let before = both(&window);
    window.key_press(Key::R);
    window.run();
    assert_eq!(both(&window), before);
    window.get_by_label_contains(words::shelves::NO_ROOM_TO_TURN);
}

#[test]
fn arrows_pressed_one_after_the_other_are_one_step_and_a_pause_ends_it() {
    let mut window = two_standing();
    click_with(&mut window, "Ge 2, ", Modifiers::NONE);
    let start = both(&window)[1];
    let nudge = |window: &mut Window| {
        window.key_press(Key::ArrowRight);
        window.step();
    };
    for _ in 0..3 {
        nudge(&mut window);
    }
    let quarter = Length::from_units(50_800);
    assert_eq!(both(&window)[1].x - start.x, quarter * 3);
    // a frame of the test is a quarter of a second
    for _ in 0..8 {
        window.step();
    }
    nudge(&mut window);
    assert_eq!(both(&window)[1].x - start.x, quarter * 4);
    for left in [quarter * 3, Length::ZERO] {
        window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        window.run();
        assert_eq!(both(&window)[1].x - start.x, left);
    }
    assert_eq!(undo_label(&window), Some(EditLabel::PlaceTray(tray(&window, "Ge 2"))), "the drag is a step of its own");
}

#[test]
fn two_trays_change_places() {
    let mut window = two_standing();
    choose_both(&mut window);
    let before = both(&window);
    window.get_by_label(words::tray::SWAP_THE_TWO).click();
    window.run();
    let after = both(&window);
    assert_eq!(
        [(after[0].x, after[0].y), (after[1].x, after[1].y)],
        [(before[1].x, before[1].y), (before[0].x, before[0].y)]
    );
    window.key_press(Key::S);
    window.run();
    assert_eq!(both(&window).map(|spot| (spot.x, spot.y)), before.map(|spot| (spot.x, spot.y)));
}

#[test]
fn an_arrangement_is_copied_as_a_table_and_pasted_on_another_shelf() {
    let mut window = two_standing();
    choose_both(&mut window);
    let before = both(&window);
    window.event(Event::Copy);
    window.step();
    let text = window.output().platform_output.commands.iter().find_map(|command| match command {
        OutputCommand::CopyText(text) => Some(text.clone()),
        _ => None,
    });
    window.run();
    let text = text.expect("the table is on the clipboard");
    let lines: Vec<Vec<&str>> = text.lines().map(|line| line.split('\t').collect()).collect();
    assert_eq!(lines.len(), 3, "{text}");
    assert!(lines.iter().all(|line| line.len() == 7), "{text}");
    assert_eq!(lines[0][0], "tray");
    assert!(lines[1..].iter().any(|line| line[0] == "Ge 1" && line[4] == "0 in"), "{text}");
    window.key_press(Key::Delete);
    window.run();
    assert_eq!(spot(&window, "Ge 1"), None);
    let shelf = rect(&window, "Window rack, shelf 2,").center();
    window.hover_at(shelf);
    window.run();
    window.event(Event::Paste(text));
    window.run();
    let after = both(&window);
    assert!(after.iter().all(|spot| spot.shelf != before[0].shelf));
    let mut places = [before, after].map(|spots| spots.map(|spot| (spot.x, spot.y)));
    for places in &mut places {
        places.sort();
    }
    assert_eq!(places[0], places[1]);
    assert_eq!(undo_label(&window), Some(EditLabel::PlaceTrays(2)));
    window.event(Event::Paste("anything".to_owned()));
    window.run();
    window.get_by_label_contains("No tray of these sizes is without a spot");
}

#[test]
fn a_frame_and_ctrl_a_choose_all_they_touch() {
    let mut window = two_standing();
    window.key_press(Key::Escape);
    window.run();
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    window.run();
    window.get_by_label("2 trays chosen");
    window.key_press(Key::Escape);
    window.run();
    assert_eq!(window.state().selected(), None);
    // with Shift from empty ground on the second shelf up over both trays
    let one = rect(&window, "Ge 1, ");
    let below = rect(&window, "Window rack, shelf 2,");
    let from = below.center();
    let to = Pos2::new(one.left() + 4.0, one.top() + 4.0);
    window.hover_at(from);
    window.run();
    window.event_modifiers(
        Event::PointerButton { pos: from, button: PointerButton::Primary, pressed: true, modifiers: Modifiers::SHIFT },
        Modifiers::SHIFT,
    );
    window.run();
    for part in [0.3, 0.7, 1.0] {
        window.event_modifiers(Event::PointerMoved(from + (to - from) * part), Modifiers::SHIFT);
        window.run();
    }
    window.event_modifiers(
        Event::PointerButton { pos: to, button: PointerButton::Primary, pressed: false, modifiers: Modifiers::SHIFT },
        Modifiers::SHIFT,
    );
    window.run();
    window.get_by_label("2 trays chosen");
}

/// A tray without a spot that is moved on into so many others.
fn plug_tray(window: &Window) -> (String, TrayKey, usize) {
    let forecast = window.state().forecast();
    let later = |key: TrayKey| forecast.origins.values().filter(|parents| parents.contains(&key)).count();
    let of_one = forecast.on(window.state().day()).filter(|stay| stay.sowing.is_some());
    let on_the_day = of_one.filter_map(Stay::tray);
    let (key, later) = on_the_day.map(|key| (key, later(key))).find(|(_, later)| *later > 1).expect("a plug tray");
    (forecast.mark(key).to_owned(), key, later)
}

#[test]
fn picking_up_a_plug_tray_shows_what_it_becomes() {
    let mut window = window_on(day(3, 1));
    let (mark, _, later) = plug_tray(&window);
    let from = rect(&window, &format!("{mark}, ")).center();
    let to = rect(&window, "Window rack, shelf 1,").center();
    take(&mut window, from, to);
    window.get_by_label_contains(&format!("{mark} becomes {later} trays on "));
    window.key_press(Key::Escape);
    window.run();
    window.drop_at(to);
    window.run();
    assert!(window.query_by_label_contains(" becomes ").is_none(), "only while it is in the hand");
    window.get_by_label(words::tray::OUTLINE_LATER).click();
    window.run();
    window.get_by_label_contains(&format!("{mark} becomes "));
}

#[test]
fn what_has_no_room_is_said_before_it_is_moved_on() {
    let mut window = window_on(day(2, 1));
    window.key_press_modifiers(Modifiers::COMMAND, Key::N);
    window.run();
    for (field, text) in [(words::places::TIERS, "1"), (words::places::SIZE, "24 × 12 in")] {
        window.get_by_label(field).focus();
        window.run();
        window.key_press_modifiers(Modifiers::COMMAND, Key::A);
        window.get_by_label(field).type_text(text);
        window.run();
    }
    window.get_by_label(words::places::ADD).click();
    window.run();
    window.get_by_label(words::sowings::WHAT_TO_GROW).focus();
    window.run();
    window.get_by_label(words::sowings::WHAT_TO_GROW).type_text("72 tomato, out 16 May");
    window.run();
    window.key_press(Key::Enter);
    wait(&mut window);
    crate::go(&mut window, words::menu::ROOM);
    window.run();
    // to the first week, and on into it
    for _ in 0..10 {
        window.key_press(Key::PageUp);
        window.run();
    }
    window.key_press(Key::PageDown);
    window.run();
    // 72 tomatoes at 85 %: two trays of 72 cells, the first of which becomes at least two of four flats of 18
    let (mark, _, later) = plug_tray(&window);
    let from = rect(&window, &format!("{mark}, ")).center();
    let to = rect(&window, "Rack 1, 24").center();
    take(&mut window, from, to);
    // 24 × 12 in hold one flat of 21 × 11 in
    window.get_by_label_contains(&format!("{mark} becomes {later} trays on "));
    window.get_by_label_contains(&format!(": 1 has room, {} without", later - 1));
}

#[test]
fn a_sowing_stands_out_through_the_season_and_a_tray_is_followed() {
    let mut window = window_on(day(3, 1));
    let (mark, parent, _) = plug_tray(&window);
    click_with(&mut window, &format!("{mark}, "), Modifiers::NONE);
    window.get_by_label_contains("the rest faint").click();
    window.run();
    window.get_by_label_contains(" stands from ");
    let forward =
        window.get_all_by_label_contains("potted on ").find(|node| node.accesskit_node().role() == Role::Button);
    forward.expect("where it goes").click();
    window.run();
    assert_ne!(window.state().day(), day(3, 1));
    let key = window.state().selected().expect("the tray it became");
    assert!(window.state().forecast().origins.get(&key).is_some_and(|parents| parents.contains(&parent)));
    window.get_by_label_contains("the rest faint").click();
    window.run();
    assert!(window.query_by_label_contains(" stands from ").is_none());
}

#[test]
fn wheel_and_edges_bring_more_shelves_during_a_drag() {
    let mut window = window_on(day(2, 1));
    let from = rect(&window, "Ge 1, ").center();
    let to = rect(&window, "Window rack, shelf 1,").center();
    take(&mut window, from, to);
    let before = rect(&window, "Window rack, shelf 1,");
    window.event(Event::MouseWheel {
        unit: MouseWheelUnit::Point,
        delta: vec2(0.0, -60.0),
        modifiers: Modifiers::NONE,
        phase: TouchPhase::Move,
        source: MouseWheelSource::Unknown,
    });
    window.run();
    let after = rect(&window, "Window rack, shelf 1,");
    assert!((after.size() - before.size()).length() < 0.1, "the wheel scrolls, it does not zoom");
    assert!((after.top() - before.top() + 60.0).abs() < 1.0, "{before:?} {after:?}");
    window.key_press(Key::Escape);
    window.run();
    assert_eq!(spot(&window, "Ge 1"), None);
}

#[test]
fn losing_the_window_puts_the_tray_back() {
    let mut window = window_on(day(2, 1));
    let from = rect(&window, "Ge 1, ").center();
    let to = rect(&window, "Window rack, shelf 1,").center();
    take(&mut window, from, to);
    window.event(Event::WindowFocused(false));
    window.run();
    window.drop_at(to);
    window.run();
    assert_eq!(spot(&window, "Ge 1"), None);
    assert_eq!(window.state().selected(), Some(tray(&window, "Ge 1")));
}

#[test]
fn the_edge_brings_a_rack_that_is_out_of_view_during_a_drag() {
    let mut window = window_on(day(2, 1));
    let name = "Window rack, shelf 1, 48";
    // nearly three times as large: the last rack is out of view
    let near = rect(&window, name).left_top();
    window.hover_at(near + vec2(2.0, 2.0));
    window.run();
    for _ in 0..3 {
        window.event(Event::Zoom(1.4));
        window.run();
    }
    let far = "Tall rack, shelf 1, 36";
    let pane_right = 1280.0 - 320.0;
    assert!(rect(&window, far).left() > pane_right, "it is out of view");
    let from = rect(&window, "Ge 1, ").center();
    let edge = Pos2::new(pane_right - 6.0, near.y + 60.0);
    window.hover_at(from);
    window.run();
    window.drag_at(from);
    window.run();
    // it scrolls for as long as the hand is there, so no frame is the last
    for part in [0.3, 0.7, 1.0] {
        window.hover_at(from + (edge - from) * part);
        window.step();
    }
    for _ in 0..400 {
        window.step();
        if rect(&window, far).right() < pane_right - 24.0 {
            break;
        }
    }
    let there = rect(&window, far).center();
    assert!(there.x < pane_right, "{there:?}");
    window.hover_at(there);
    window.run();
    // 20 in deep as it lies, and the shelf is 18
    window.key_press(Key::R);
    window.run();
    window.drop_at(there);
    window.run();
    assert!(spot(&window, "Ge 1").is_some(), "it stands on the rack that was out of view");
}
