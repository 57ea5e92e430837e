use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use flatwright::season::{EditLabel, Op, Shelf, SpotFrom, ZoneKind};
use flatwright::units::{Length, Measure};
use flatwright::words;

use crate::{day, drag, rect, sized, spot, take, tray, window_on};

#[test]
fn dragging_a_tray_to_a_shelf_and_on_to_another_are_two_undo_steps() {
    let mut window = window_on(day(2, 1));
    let from = rect(&window, "Ge 1, ").center();
    let to = rect(&window, "Window rack, shelf 1,").center();
    drag(&mut window, from, to);
    let first = spot(&window, "Ge 1").expect("it stands on a shelf");
    let key = tray(&window, "Ge 1");
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::PlaceTray(key)));

    let from = rect(&window, "Ge 1, ").center();
    let to = rect(&window, "Window rack, shelf 2,").center();
    drag(&mut window, from, to);
    let second = spot(&window, "Ge 1").expect("it stands on a shelf");
    assert_ne!(first.shelf, second.shelf);
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::MoveTray(key)));
    assert_eq!(window.state().selected(), Some(key));

    window.get_by_label(words::menu::EDIT).click();
    window.run();
    window.get_by_label_contains("Undo move of Ge 1").click();
    window.run();
    assert_eq!(spot(&window, "Ge 1"), Some(first));
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run();
    assert_eq!(spot(&window, "Ge 1"), None);
    window.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    window.run();
    window.key_press_modifiers(Modifiers::COMMAND, Key::Y);
    window.run();
    assert_eq!(spot(&window, "Ge 1"), Some(second));
}

#[test]
fn escape_puts_the_tray_back_and_keeps_it_selected() {
    let mut window = window_on(day(2, 1));
    let to = rect(&window, "Window rack, shelf 1,").center();
    let from = rect(&window, "Ge 1, ").center();
    take(&mut window, from, to);
    window.key_press(Key::Escape);
    window.run();
    window.drop_at(to);
    window.run();
    assert_eq!(spot(&window, "Ge 1"), None);
    assert_eq!(window.state().history().undo_label(), None);
    assert_eq!(window.state().selected(), Some(tray(&window, "Ge 1")));
}

#[test]
fn letting_go_outside_the_window_puts_the_tray_back() {
    let mut window = window_on(day(2, 1));
    let to = rect(&window, "Window rack, shelf 1,").center();
    let from = rect(&window, "Ge 1, ").center();
    take(&mut window, from, to);
    window.hover_at(egui::pos2(-40.0, 300.0));
    window.run();
    window.drop_at(egui::pos2(-40.0, 300.0));
    window.run();
    assert_eq!(spot(&window, "Ge 1"), None);
}

#[test]
fn a_tray_turns_in_the_hand_and_where_it_stands() {
    let mut window = window_on(day(2, 1));
    let to = rect(&window, "Window rack, shelf 1,").center();
    let from = rect(&window, "Ge 1, ").center();
    take(&mut window, from, to);
    window.key_press(Key::R);
    window.run();
    window.drop_at(to);
    window.run();
    assert_eq!(spot(&window, "Ge 1").map(|spot| spot.quarter_turns), Some(1));
    window.key_press(Key::R);
    window.run();
    assert_eq!(spot(&window, "Ge 1").map(|spot| spot.quarter_turns), Some(2));
    let key = tray(&window, "Ge 1");
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::TurnTray(key)));
}

#[test]
fn a_ghost_says_what_is_in_the_way_and_the_drop_is_refused() {
    let mut window = window_on(day(2, 1));
    let to = rect(&window, "Window rack, shelf 1,").center();
    let from = rect(&window, "Ge 1, ").center();
    drag(&mut window, from, to);
    let there = rect(&window, "Ge 1, ").center();
    let from = rect(&window, "Ge 2, ").center();
    take(&mut window, from, there + vec2(9.0, 0.0));
    window.get_by_label("Ge 1 is in the way");
    window.drop_at(there + vec2(9.0, 0.0));
    window.run();
    assert_eq!(spot(&window, "Ge 2"), None);
    window.get_by_label_contains("Ge 2 went back");
}

#[test]
fn a_tray_snaps_to_its_neighbour_with_the_gap_between() {
    let mut window = window_on(day(2, 1));
    let shelf = rect(&window, "Window rack, shelf 1,");
    let from = rect(&window, "Ge 1, ").center();
    drag(&mut window, from, shelf.left_top() + shelf.size() * vec2(5.5 / 48.0, 10.5 / 24.0));
    let first = spot(&window, "Ge 1").expect("it stands on a shelf");
    assert_eq!((first.x, first.y), (Length::ZERO, Length::ZERO));
    let ground = rect(&window, "Ge 1, ");
    let from = rect(&window, "Ge 2, ").center();
    drag(&mut window, from, ground.center() + vec2(ground.width() + 5.0, 3.0));
    let second = spot(&window, "Ge 2").expect("it stands on a shelf");
    let stay = window.state().forecast().stays_of(first.tray).next().expect("it stays");
    let gap = window.state().history().season().settings().gap.value();
    assert_eq!((second.x, second.y), (stay.shape.width() + gap, Length::ZERO));
}

#[test]
fn the_keyboard_finds_a_spot_nudges_pins_and_lifts() {
    let mut window = window_on(day(2, 1));
    window.get_by_label_contains("Ge 1, ").click();
    window.run();
    window.get_by_label(words::tray::FIND_IT_A_SPOT).click();
    window.run();
    let found = spot(&window, "Ge 1").expect("a spot was found");
    window.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    window.run();
    let nudged = spot(&window, "Ge 1").expect("it still stands");
    assert_eq!(nudged.x - found.x, Length::from_units(203_200), "one inch");
    window.key_press(Key::P);
    window.run();
    assert!(spot(&window, "Ge 1").is_some_and(|spot| spot.pinned));
    assert!(window.query_all_by_label_contains("pinned").next().is_some());
    window.key_press(Key::Delete);
    window.run();
    assert_eq!(spot(&window, "Ge 1"), None);
}

#[test]
fn a_shelf_is_one_tab_stop_and_arrows_choose_inside_it() {
    let mut window = window_on(day(2, 1));
    let shelf = rect(&window, "Window rack, shelf 1,");
    let from = rect(&window, "Ge 1, ").center();
    drag(&mut window, from, shelf.left_top() + shelf.size() * vec2(0.2, 0.5));
    let from = rect(&window, "Ge 2, ").center();
    drag(&mut window, from, shelf.left_top() + shelf.size() * vec2(0.8, 0.5));
    window.key_press(Key::Escape);
    window.run();
    window.get_by_label_contains("Window rack, shelf 1, 48").focus();
    window.run();
    for mark in ["Ge 1", "Ge 2", "Ge 2"] {
        window.key_press(Key::ArrowRight);
        window.run();
        assert_eq!(window.state().selected(), Some(tray(&window, mark)));
    }
}

#[test]
fn a_tray_without_a_spot_is_given_one_by_keys_alone() {
    let mut window = window_on(day(2, 1));
    window.get_by_label("No spot yet, 2 trays").focus();
    window.run();
    window.key_press(Key::ArrowDown);
    window.run();
    window.key_press(Key::ArrowDown);
    window.run();
    assert_eq!(window.state().selected(), Some(tray(&window, "Ge 2")));
    window.key_press(Key::Enter);
    window.run();
    assert!(spot(&window, "Ge 2").is_some());
}

#[test]
fn a_move_replaces_the_spot_in_force_and_may_count_from_the_day_shown_instead() {
    let mut window = window_on(day(2, 1));
    let to = rect(&window, "Window rack, shelf 1,").center();
    let from = rect(&window, "Ge 1, ").center();
    drag(&mut window, from, to);
    let first = spot(&window, "Ge 1").expect("it stands on a shelf");
    assert_eq!(first.from, SpotFrom::Start, "from when the tray is there, not from the day shown");
    let (from, to) = (rect(&window, "Ge 1, ").center(), rect(&window, "Window rack, shelf 2, 48").center());
    window.get_by_label("Moves count from 1 Feb on").click();
    window.run();
    drag(&mut window, from, to);
    let key = tray(&window, "Ge 1");
    let spots: Vec<SpotFrom> = window.state().history().season().spots_of(key).map(|spot| spot.from).collect();
    assert_eq!(spots, [SpotFrom::Start, SpotFrom::On(day(2, 1))]);
}

#[test]
fn a_tray_taken_up_on_a_day_and_put_down_again_keeps_what_it_had_before() {
    let mut window = window_on(day(2, 1));
    let to = rect(&window, "Window rack, shelf 1,").center();
    let from = rect(&window, "Ge 1, ").center();
    drag(&mut window, from, to);
    let before = spot(&window, "Ge 1").expect("it stands on a shelf");
    window.get_by_label("Moves count from 1 Feb on").click();
    window.run();
    window.key_press(Key::Delete);
    window.run();
    let key = tray(&window, "Ge 1");
    let history = window.state().history();
    assert_eq!(history.season().spot(key, SpotFrom::Start).and_then(|spot| spot.until), Some(day(2, 1)));
    assert_eq!(history.undo_label(), Some(&EditLabel::LiftTray(key)));
    window.get_by_label(words::tray::FIND_IT_A_SPOT).click();
    window.run();
    let spots: Vec<_> = window.state().history().season().spots_of(key).copied().collect();
    assert_eq!(spots.len(), 2);
    assert_eq!((spots[0].shelf, spots[0].x, spots[1].from), (before.shelf, before.x, SpotFrom::On(day(2, 1))));
}

#[test]
fn a_spot_is_found_on_a_mat_that_does_not_begin_at_the_corner() {
    let mut season = flatwright::store::sample();
    season.apply(&Op::SetLayout(Vec::new()).into()).expect("trays may have no spot");
    let shelves: Vec<Shelf> = season.shelves().cloned().collect();
    let mut mats = 0;
    for mut shelf in shelves {
        for mat in shelf.zones.iter_mut().filter(|zone| zone.kind == ZoneKind::Heat) {
            // as large as one tray, 13 in from the left and 1 in from the back
            (mat.x, mat.y) = (inches("13 in"), inches("1 in"));
            (mat.width, mat.depth) = (inches("12 in"), inches("22 in"));
            mats += 1;
        }
        season.apply(&Op::PutShelf(shelf).into()).expect("a mat may lie anywhere");
    }
    assert!(mats > 0, "the sample has a mat");
    let mut window = sized(1280.0, 800.0).build_eframe(move |_| flatwright::window::App::new(season, None, day(3, 5)));
    window.run();
    let warm = |window: &crate::Window| {
        let forecast = window.state().forecast();
        let stay = forecast.on(day(3, 5)).find(|stay| stay.needs.heat).expect("a tray that wants heat");
        stay.tray().map(|tray| forecast.mark(tray).to_owned()).expect("a tray")
    };
    let mark = warm(&window);
    window.get_by_label_contains(&format!("{mark}, ")).click();
    window.run();
    window.get_by_label(words::tray::FIND_IT_A_SPOT).click();
    window.run();
    let found = spot(&window, &mark).expect("there is room on the mat");
    assert_eq!((found.x.to_mm(), found.y.to_mm()), (13.0 * 25.4, 25.4));
}

/// The shelf's edge drew it off the mat that it was let go on, and there it was refused.
#[test]
fn a_tray_let_go_on_its_mat_stays_there_though_the_edge_of_the_shelf_is_near() {
    let mut season = flatwright::store::sample();
    season.apply(&Op::SetLayout(Vec::new()).into()).expect("trays may have no spot");
    let mut shelf = season.shelves().find(|shelf| shelf.has(ZoneKind::Heat)).expect("the sample has a mat").clone();
    for mat in shelf.zones.iter_mut().filter(|zone| zone.kind == ZoneKind::Heat) {
        (mat.x, mat.y) = (inches("1 in"), inches("1 in"));
        (mat.width, mat.depth) = (inches("22.5 in"), inches("13 in"));
    }
    let width = shelf.width.value().to_mm();
    season.apply(&Op::PutShelf(shelf.clone()).into()).expect("a mat may lie anywhere");
    let rack = season.rack(shelf.rack).expect("its rack").name.clone();
    let mut window = sized(1280.0, 800.0).build_eframe(move |_| flatwright::window::App::new(season, None, day(3, 5)));
    window.run();
    let (mark, size) = {
        let forecast = window.state().forecast();
        let stay = forecast.on(day(3, 5)).find(|stay| stay.needs.heat).expect("a tray that wants heat");
        let size = vec2(stay.shape.width().to_mm() as f32, stay.shape.depth().to_mm() as f32);
        (forecast.mark(stay.tray().expect("a tray")).to_owned(), size)
    };
    let on_screen = rect(&window, &format!("{rack}, shelf {}, ", shelf.tier));
    let zoom = on_screen.width() / width as f32;
    let corner = vec2(32.0, 32.0);
    let from = rect(&window, &format!("{mark}, ")).center();
    drag(&mut window, from, on_screen.left_top() + (corner + size / 2.0) * zoom);
    let found = spot(&window, &mark).expect("it was let go on the mat");
    assert_eq!(found.shelf, shelf.id);
    assert!(found.x.to_mm() >= 25.4 && found.y.to_mm() >= 25.4, "on the mat: {found:?}");
}

fn inches(text: &str) -> Measure {
    Measure::parse_length(text, None).expect("a length of a test")
}
