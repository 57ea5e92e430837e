//! Shelves changed where they are drawn, seen from the front, with a menu of what can be done with each thing.

use egui::{Key, Role, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::season::{EditLabel, Op, Shelf, ZoneKind};
use flatwright::store;
use flatwright::units::Measure;
use flatwright::window::App;
use flatwright::words::{self, fields, places as said};

use crate::hand::{click_at, field, season, settle, value};
use crate::{Window, day, drag, placed_on, rect, sized, take, tray, window_on};

fn shelves<'a>(window: &'a Window, rack: &str) -> Vec<&'a Shelf> {
    let rack = season(window).racks().into_iter().find(|one| one.name == rack).expect("a rack of that name");
    season(window).shelves_of(rack.id)
}

fn press(window: &mut Window, role: Role, name: &str) {
    window.get_by_role_and_label(role, name).scroll_to_me();
    settle(window);
    window.get_by_role_and_label(role, name).click();
    settle(window);
}

#[test]
fn a_shelf_is_changed_beside_its_drawing() {
    let mut window = window_on(day(2, 1));
    let at = rect(&window, "Window rack, shelf 2,").center();
    click_at(&mut window, at);
    assert_eq!(value(&window, said::WIDTH), "48 in");
    field(&mut window, said::WIDTH, "40 in");
    assert_eq!(shelves(&window, "Window rack")[1].width.typed(), "40 in");
    let drawn = rect(&window, "Window rack, shelf 2,").width() / rect(&window, "Window rack, shelf 1,").width();
    assert!((drawn - 40.0 / 48.0).abs() < 0.01, "drawn as it is now: {drawn}");
    window.key_press(Key::Escape);
    settle(&mut window);
    assert!(window.query_by_role_and_label(Role::TextInput, said::WIDTH).is_none(), "Esc looks at nothing");
    // from the shelf to its rack and to its place, and from a name over the drawing
    let at = rect(&window, "Window rack, shelf 2,").center();
    click_at(&mut window, at);
    press(&mut window, Role::Link, &said::of_rack("Window rack"));
    assert_eq!(value(&window, said::RACK_NAME), "Window rack");
    press(&mut window, Role::Link, &said::of_place("Community room"));
    assert_eq!(value(&window, said::PLACE_NAME), "Community room");
    press(&mut window, Role::Button, "Rack Door rack");
    assert_eq!(value(&window, said::RACK_NAME), "Door rack");
}

#[test]
fn a_rack_is_changed_as_one_thing() {
    let mut window = window_on(day(2, 1));
    press(&mut window, Role::Button, "Rack Window rack");
    let before = shelves(&window, "Window rack").len();
    field(&mut window, said::TIERS, "6");
    assert_eq!(shelves(&window, "Window rack").len(), 6);
    field(&mut window, said::HEIGHT, "16 in");
    let heights = |window: &Window| -> Vec<Option<String>> {
        let clear = |shelf: &&Shelf| shelf.clear_height.as_ref().map(|clear| clear.typed().to_owned());
        shelves(window, "Window rack").iter().map(clear).collect()
    };
    assert_eq!(heights(&window), vec![Some("16 in".to_owned()); 6]);
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::ChangeRack("Window rack".to_owned())));
    field(&mut window, said::TIERS, "60");
    window.get_by_label_contains("tiers must be a number from 1 to 40");
    // one tier otherwise: the field of all says what there is, and is empty
    window.query_all_by_label_contains("Window rack, shelf 1, 48 × ").last().expect("a tier of the list").click();
    settle(&mut window);
    field(&mut window, said::HEIGHT, "9 in");
    press(&mut window, Role::Link, &said::of_rack("Window rack"));
    assert_eq!(value(&window, said::HEIGHT), "");
    assert_eq!(heights(&window)[..2], [Some("9 in".to_owned()), Some("16 in".to_owned())]);
    field(&mut window, said::TIERS, &before.to_string());
    assert_eq!(shelves(&window, "Window rack").len(), before);
}

#[test]
fn what_a_shelf_gives_to_others_is_said_before() {
    let mut window = window_on(day(2, 1));
    let at = rect(&window, "Door rack, shelf 1,").center();
    click_at(&mut window, at);
    field(&mut window, said::OVERHANG, "2 in");
    window.get_by_label_contains("Changes shelf 2: what may stick out; shelf 3: what may stick out");
    press(&mut window, Role::Button, said::GIVE);
    let all: Vec<&str> = shelves(&window, "Door rack").iter().map(|shelf| shelf.overhang.typed()).collect();
    assert!(all.iter().all(|overhang| *overhang == "2 in"), "{all:?}");
}

#[test]
fn a_lamp_is_dragged_where_its_shelf_is_drawn() {
    let mut window = window_on(day(2, 1));
    let shelf = rect(&window, "Window rack, shelf 1,");
    click_at(&mut window, shelf.center());
    press(&mut window, Role::Button, said::ADD_MAT);
    let mat = |window: &Window| {
        let zones = &shelves(window, "Window rack")[0].zones;
        let mat = zones.iter().find(|zone| zone.kind == ZoneKind::Heat).expect("a mat").clone();
        [mat.x, mat.y, mat.width, mat.depth].map(|measure| measure.value().to_mm().round() as i32)
    };
    let whole = mat(&window);
    let pt_per_mm = shelf.width() / whole[2] as f32;
    let name = (1..4).map(|n| format!("Size heat mat {n}")).find(|name| window.query_by_label(name).is_some());
    let grip = rect(&window, &name.expect("a grip")).center();
    drag(&mut window, grip, grip - vec2(whole[2] as f32 / 2.0 * pt_per_mm, 0.0));
    let half = mat(&window);
    assert!((half[2] - whole[2] / 2).abs() <= 6, "{half:?} of {whole:?}");
    let name = (1..4).map(|n| format!("Move heat mat {n}")).find(|name| window.query_by_label(name).is_some());
    let middle = rect(&window, &name.expect("the mat")).center();
    take(&mut window, middle, middle + vec2(200.0 * pt_per_mm, 0.0));
    window.key_press(Key::Escape);
    window.run();
    window.drop_at(middle + vec2(200.0 * pt_per_mm, 0.0));
    window.run();
    assert_eq!(mat(&window), half, "given up");
    drag(&mut window, middle, middle + vec2(200.0 * pt_per_mm, 0.0));
    assert!((mat(&window)[0] - 200).abs() <= 6, "{:?}", mat(&window));
}

#[test]
fn from_the_front_plants_are_as_high_as_they_are() {
    let mut window = placed_on(day(4, 20));
    press(&mut window, Role::Button, fields::FROM_THE_FRONT);
    // to scale: a shelf is as high as it is clear
    let shelf = shelves(&window, "Window rack")[0].clone();
    let on_board = |window: &Window| {
        let all = window.query_all_by_role(Role::ListBox).map(|list| (list.accesskit_node().label(), list.rect()));
        all.filter_map(|(name, rect)| Some((name?, rect))).find(|(name, _)| name.starts_with("Window rack, shelf 1,"))
    };
    let (_, drawn) = on_board(&window).expect("the shelf");
    let clear = shelf.clear_height.as_ref().expect("a height").value().to_mm() as f32;
    let width = shelf.width.value().to_mm() as f32;
    assert!((drawn.height() / drawn.width() - clear / width).abs() < 0.01, "{drawn:?}");
    let tall = window.query_all_by_label_contains(" of plants over ").count();
    assert!(tall > 5, "{tall}");
    // a click looks at it, and keys choose as they do from above
    let first = window.query_all_by_label_contains(" of plants over ").next().expect("a tray");
    first.click();
    settle(&mut window);
    assert!(window.state().selected().is_some());
    press(&mut window, Role::Button, fields::FROM_ABOVE);
    assert_eq!(window.query_all_by_label_contains(" of plants over ").count(), 0);
}

#[test]
fn a_tray_too_tall_for_its_shelf_says_by_how_much_from_the_front() {
    let mut season = store::sample();
    for shelf in season.shelves().cloned().collect::<Vec<_>>() {
        let low = Shelf { clear_height: Measure::parse_length("4 in", None).ok(), ..shelf };
        season.apply(&Op::PutShelf(low).into()).expect("a low shelf");
    }
    let mut window = sized(1280.0, 800.0).build_eframe(move |_| App::new(season, None, day(4, 20)));
    settle(&mut window);
    press(&mut window, Role::Button, fields::FROM_THE_FRONT);
    assert!(window.query_all_by_label_contains("too tall for this shelf").count() > 0);
}

#[test]
fn the_menu_of_a_tray_and_of_a_shelf_has_what_can_be_done() {
    let mut window = placed_on(day(4, 20));
    let mark = "To 9";
    let at = rect(&window, "To 9, ").center();
    window.get_by_label_contains("To 9, ").click_secondary();
    settle(&mut window);
    assert_eq!(window.state().selected(), Some(tray(&window, mark)));
    let lifts = window.query_all_by_role_and_label(Role::Button, words::tray::LIFT).count();
    assert_eq!(lifts, 2, "in the panel and in the menu");
    press_last(&mut window, words::tray::PIN);
    let pinned = season(&window).spots_of(tray(&window, mark)).filter(|spot| spot.pinned).count();
    assert_eq!(pinned, 1);
    window.hover_at(at);
    window.get_by_label_contains("To 9, ").click_secondary();
    settle(&mut window);
    let in_plan = window.query_all_by_label_contains(" in the plan").last().expect("its sowing");
    in_plan.click();
    settle(&mut window);
    window.get_by_label_contains(words::plan::WHY);
}

fn press_last(window: &mut Window, name: &str) {
    window.query_all_by_role_and_label(Role::Button, name).last().expect(name).click();
    settle(window);
}

#[test]
fn a_sentence_leads_to_what_it_names() {
    let mut window = placed_on(day(4, 20));
    let shown = window.state().day();
    window.get_by_label_contains("To 9, ").click();
    settle(&mut window);
    // the days of its sowing, one after the other by keys
    let line = window.query_all_by_role(Role::Label).find(|label| {
        let text = label.value().unwrap_or_default();
        text.contains("sown") && text.contains(" Mar")
    });
    line.expect("a sentence with a day").focus();
    settle(&mut window);
    window.key_press(Key::Enter);
    settle(&mut window);
    assert_ne!(window.state().day(), shown, "it leads to the day");
}

/// Forty benches in a small window: of a name that has no room its number is left, and none lies over the next.
#[test]
fn names_of_benches_never_overlap() {
    let nursery = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/nursery.ron");
    for (width, height) in [(640.0, 400.0), (1280.0, 800.0)] {
        let season = store::load(std::path::Path::new(nursery)).expect("it ships");
        let mut window = sized(width, height).build_eframe(move |_| App::new(season, None, day(4, 20)));
        settle(&mut window);
        let heads = window.query_all_by_role(Role::Button);
        let mut heads: Vec<egui::Rect> = heads
            .filter(|head| head.accesskit_node().label().is_some_and(|name| name.starts_with("Rack Bench")))
            .map(|head| head.rect().shrink2(vec2(4.0, 3.0)))
            .collect();
        assert!(heads.len() >= 8, "{} names at {width}", heads.len());
        heads.sort_by(|a, b| a.top().total_cmp(&b.top()).then(a.left().total_cmp(&b.left())));
        for pair in heads.windows(2) {
            assert!(!pair[0].intersects(pair[1]), "{pair:?} at {width} × {height}");
        }
    }
}

#[test]
fn in_a_small_window_the_shelves_keep_their_room() {
    let season = store::sample();
    let mut window = sized(640.0, 400.0).build_eframe(move |_| App::new(season, None, day(4, 20)));
    settle(&mut window);
    let list = |window: &Window| window.query_all_by_label(words::WAITING).count();
    assert_eq!(list(&window), 1);
    window.query_all_by_label_contains("To 9, ").next().expect("a tray").click();
    settle(&mut window);
    // one side at a time, and the other way round once nothing is looked at
    window.get_by_label(words::tray::NEEDS);
    assert_eq!(list(&window), 0);
    window.key_press(Key::Escape);
    settle(&mut window);
    assert_eq!(list(&window), 1);
    assert!(window.query_by_label(words::tray::CHOOSE_ONE).is_none());
}

/// It closed the panel, with what was written left in a field that nobody saw.
#[test]
fn escape_in_a_field_of_the_room_gives_up_what_was_written_alone() {
    let mut window = window_on(day(2, 1));
    press(&mut window, Role::Button, "Rack Window rack");
    field(&mut window, said::TIERS, "many");
    assert_eq!(value(&window, said::TIERS), "many");
    window.get_by_role_and_label(Role::TextInput, said::TIERS).focus();
    settle(&mut window);
    window.key_press(Key::Escape);
    settle(&mut window);
    assert_eq!(value(&window, said::TIERS), "4", "the panel is still there");
    window.key_press(Key::Escape);
    settle(&mut window);
    assert!(window.query_by_role_and_label(Role::TextInput, said::TIERS).is_none());
}
