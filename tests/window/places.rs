use egui::{Key, Modifiers, Role, vec2};
use egui_kittest::kittest::Queryable as _;
use flatwright::season::{self, EditLabel, Light, PartOfDay, Season, Shelf, ZoneKind};
use flatwright::units::{Length, Measure, Typed};
use flatwright::window::App;
use flatwright::words;
use flatwright::words::{fields, places as said};

use crate::hand::choose;
use crate::{Window, day, drag, rect, sized, spot, take, wait, window_on};

/// Draws until nothing more is asked for; the thread that looks ahead wakes the window too.
fn settle(window: &mut Window) {
    for _ in 0..20 {
        if window.try_run().is_ok() {
            return;
        }
    }
    window.run();
}

/// An empty season by the menu.
fn empty() -> Window {
    let mut window = window_on(day(2, 1));
    window.get_by_label(words::menu::SEASON).click();
    settle(&mut window);
    window.get_by_label_contains(words::menu::NEW).click();
    settle(&mut window);
    crate::go(&mut window, words::menu::PLACES);
    settle(&mut window);
    window
}

fn field(window: &mut Window, name: &str, text: &str) {
    window.get_by_role_and_label(Role::TextInput, name).focus();
    settle(window);
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    settle(window);
    window.get_by_role_and_label(Role::TextInput, name).type_text(text);
    settle(window);
    window.key_press(Key::Enter);
    settle(window);
}

fn value(window: &Window, name: &str) -> String {
    window.get_by_role_and_label(Role::TextInput, name).value().unwrap_or_default()
}

fn press(window: &mut Window, name: &str) {
    window.get_by_role_and_label(Role::Button, name).scroll_to_me();
    settle(window);
    window.get_by_role_and_label(Role::Button, name).click();
    settle(window);
}

fn shelves<'a>(window: &'a Window, rack: &str) -> Vec<&'a Shelf> {
    let season = window.state().history().season();
    let rack = season.racks().into_iter().find(|one| one.name == rack).expect("a rack of that name");
    season.shelves_of(rack.id)
}

#[test]
fn a_season_from_nothing_gets_two_racks_by_typing() {
    let mut window = empty();
    let season = window.state().history().season();
    assert_eq!((season.name(), season.shelves().count()), (words::menu::NEW, 0));
    field(&mut window, said::NEW_RACK, "Loft rack");
    field(&mut window, said::TIERS, "3");
    field(&mut window, said::SIZE, "4 ft x 18 in");
    field(&mut window, said::HEIGHT, "40 cm");
    press(&mut window, said::ADD);
    let found = shelves(&window, "Loft rack");
    assert_eq!(found.len(), 3);
    for shelf in found {
        assert_eq!((shelf.width.typed(), shelf.depth.typed()), ("4 ft", "18 in"));
        assert_eq!(shelf.clear_height.as_ref().map(Measure::value), Some(Length::from_mm(400)));
        assert!(shelf.has(ZoneKind::Lamp));
    }
    field(&mut window, said::NEW_RACK, "Bench");
    field(&mut window, said::TIERS, "1");
    field(&mut window, said::SIZE, "120 × 45 cm");
    field(&mut window, said::HEIGHT, "");
    press(&mut window, said::ADD);
    let bench = shelves(&window, "Bench");
    assert_eq!(bench.iter().map(|shelf| shelf.width.typed()).collect::<Vec<_>>(), ["120 cm"]);
    let season = window.state().history().season();
    assert_eq!(season.places().count(), 1, "the second rack stands beside the first");
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::AddRack("Bench".to_owned())));
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    let season = window.state().history().season();
    assert_eq!((season.racks().len(), season.shelves().count()), (1, 3), "one step takes one rack away");
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    let season = window.state().history().season();
    assert_eq!((season.racks().len(), season.places().count()), (0, 0), "its place goes with it");
}

#[test]
fn one_click_gives_a_rack_of_four_equal_tiers() {
    let mut window = empty();
    press(&mut window, said::ADD);
    assert_eq!(shelves(&window, said::FIRST_RACK).len(), 4);
    press(&mut window, said::ADD);
    assert_eq!(shelves(&window, "Rack 2").len(), 4);
}

#[test]
fn a_wrong_size_stays_in_its_field_with_the_reason() {
    let mut window = empty();
    for (typed, why) in [
        ("1 km x 18 in", "the unit \"km\""),
        ("1000 m x 18 in", "from 50 mm to 100 m"),
        ("1 mm x 18 in", "from 50 mm to 100 m"),
        ("wide", "a size such as 48 x 18 in"),
    ] {
        field(&mut window, said::SIZE, typed);
        assert_eq!(value(&window, said::SIZE), typed);
        window.get_by_label_contains(why);
        press(&mut window, said::ADD);
        assert_eq!(window.state().history().season().shelves().count(), 0, "{typed}");
    }
    let long = "ё".repeat(500);
    field(&mut window, said::SIZE, "48 x 18 in");
    field(&mut window, said::NEW_RACK, &long);
    assert_eq!(value(&window, said::NEW_RACK), long);
    window.get_by_label_contains("500 characters long");
}

#[test]
fn a_shelf_is_changed_in_place_and_what_is_refused_is_not_lost() {
    let mut window = empty();
    press(&mut window, said::ADD);
    press(&mut window, "Rack 1, shelf 2, 48 in × 18 in");
    field(&mut window, said::WIDTH, "3 ft 6 in");
    let second =
        |window: &Window| shelves(window, said::FIRST_RACK).into_iter().nth(1).cloned().expect("the second shelf");
    assert_eq!(second(&window).width.typed(), "3 ft 6 in");
    assert_eq!(second(&window).zones.first().map(|zone| zone.width.typed().to_owned()), Some("3 ft 6 in".to_owned()));
    field(&mut window, said::DEPTH, "1 mm");
    assert_eq!(second(&window).depth.typed(), "18 in");
    window.get_by_label_contains("a shelf's depth must be from 50 mm to 100 m, found 1 mm");
    press(&mut window, "Rack Rack 1");
    press(&mut window, "Rack 1, shelf 2, 3 ft 6 in × 18 in");
    assert_eq!(value(&window, said::DEPTH), "1 mm", "it waits in its field");
    field(&mut window, said::DEPTH, "60 cm");
    field(&mut window, said::OVERHANG, "3,5");
    field(&mut window, said::LOAD, "60 lb");
    field(&mut window, &fields::newly(said::CLOSED_FROM), "2027-03-01");
    field(&mut window, &fields::newly(said::OPEN_AGAIN), "2027-03-01");
    press(&mut window, said::ADD_CLOSED);
    window.get_by_label_contains("Mon 1 Mar 2027 must come after Mon 1 Mar 2027");
    field(&mut window, &fields::newly(said::OPEN_AGAIN), "2027-03-15");
    press(&mut window, said::ADD_CLOSED);
    press(&mut window, said::ADD_MAT);
    field(&mut window, "Heat mat 1: width", "21 in");
    let shelf = second(&window);
    assert_eq!((shelf.depth.typed(), shelf.overhang.typed(), shelf.load_grams), ("60 cm", "3,5 in", Some(27_216)));
    assert_eq!(shelf.closed.first().map(|span| span.days()), Some(14));
    assert!(shelf.zones.iter().any(|zone| zone.kind == ZoneKind::Heat && zone.width.typed() == "21 in"));
    press(&mut window, said::COPY_BELOW);
    let rack = shelves(&window, said::FIRST_RACK);
    assert_eq!(rack.iter().map(|shelf| shelf.tier).collect::<Vec<_>>(), [1, 2, 3, 4, 5]);
    assert_eq!(rack.get(2).map(|shelf| shelf.depth.typed()), Some("60 cm"));
    press(&mut window, said::REMOVE_SHELF);
    let tiers: Vec<u32> = shelves(&window, said::FIRST_RACK).iter().map(|shelf| shelf.tier).collect();
    assert_eq!(tiers, [1, 2, 3, 4]);
    press(&mut window, said::COPY_RACK);
    assert_eq!(shelves(&window, "Rack 2").len(), 4);
    press(&mut window, said::REMOVE_RACK);
    assert_eq!(window.state().history().season().racks().len(), 1);
}

#[test]
fn a_place_is_changed_in_place() {
    let mut window = empty();
    press(&mut window, said::ADD);
    press(&mut window, "Place Growing shelves, growing");
    field(&mut window, said::PLACE_NAME, "Porch");
    field(&mut window, said::BY_NIGHT, "50 °F");
    field(&mut window, &fields::newly(said::OPEN_FROM), "2027-03-20");
    field(&mut window, &fields::newly(said::SHUT_AGAIN), "2027-06-01");
    press(&mut window, said::ADD_OPEN);
    for choice in ["Hardening", "Days only"] {
        window.get_by_role_and_label(Role::RadioButton, choice).click();
        settle(&mut window);
    }
    let season = window.state().history().season();
    let place = season.places().next().expect("the porch");
    assert_eq!((place.name.as_str(), place.role, place.part), ("Porch", season::Role::Hardening, PartOfDay::Days));
    assert_eq!(place.temperatures.night.as_ref().map(Typed::typed), Some("50 °F"));
    assert_eq!(place.open.first().map(|span| span.from()), Some(day(3, 20)));
    press(&mut window, said::REMOVE_DATES);
    press(&mut window, said::REMOVE_PLACE);
    let season = window.state().history().season();
    assert_eq!((season.places().count(), season.shelves().count()), (0, 0));
}

#[test]
fn places_can_be_filled_by_keys_alone() {
    let mut window = empty();
    for _ in 0..60 {
        let at = window.query_all_by_role_and_label(Role::Button, said::ADD).next().is_some_and(|one| one.is_focused());
        if at {
            break;
        }
        window.key_press(Key::Tab);
        settle(&mut window);
    }
    window.key_press(Key::Enter);
    settle(&mut window);
    assert_eq!(shelves(&window, said::FIRST_RACK).len(), 4);
}

#[test]
fn escape_gives_up_what_was_typed() {
    let mut window = empty();
    press(&mut window, said::ADD);
    press(&mut window, "Rack Rack 1");
    window.get_by_role_and_label(Role::TextInput, said::RACK_NAME).focus();
    settle(&mut window);
    window.get_by_role_and_label(Role::TextInput, said::RACK_NAME).type_text("x");
    settle(&mut window);
    window.key_press(Key::Escape);
    settle(&mut window);
    assert_eq!(value(&window, said::RACK_NAME), said::FIRST_RACK);
    assert_eq!(shelves(&window, said::FIRST_RACK).len(), 4);
}

#[test]
fn a_place_is_said_to_be_daylit_and_a_shelf_of_it_dark() {
    let mut window = empty();
    press(&mut window, said::ADD);
    let light = |window: &Window| {
        let season = window.state().history().season();
        let shelves = shelves(window, said::FIRST_RACK);
        (season.places().next().map(|place| place.light), shelves.iter().map(|shelf| shelf.light).collect::<Vec<_>>())
    };
    assert_eq!(light(&window), (Some(Light::Lamps), vec![None; 4]));
    press(&mut window, "Place Growing shelves, growing");
    choose(&mut window, said::LIGHTS[1].1);
    press(&mut window, "Rack 1, shelf 4, 48 in × 18 in");
    choose(&mut window, said::LIGHTS_OF_SHELF[3].1);
    assert_eq!(light(&window), (Some(Light::Daylight), vec![None, None, None, Some(Light::Dark)]));
    choose(&mut window, said::LIGHTS_OF_SHELF[0].1);
    assert_eq!(light(&window).1, [None; 4]);
}

#[test]
fn how_many_fit_answers_with_no_season() {
    let mut window = empty();
    window.get_by_label("2 flats; 4 if 3½ in may stick out");
    window.get_by_label("Drawing: 2 flats");
    window.get_by_label("Drawing: 4 flats, 3½ in out");
    field(&mut window, said::ON_A_SHELF, "48 x 14");
    window.get_by_label("2 flats");
    field(&mut window, said::TRAY, "flatt");
    window.get_by_label_contains("there is no tray or pot \"flatt\"");
    assert_eq!(value(&window, said::TRAY), "flatt");
    field(&mut window, said::TRAY, "7 cm round");
    assert!(window.query_all_by_label_contains("round pots").count() > 0);
    assert_eq!(window.state().history().undo_label(), None);
}

#[test]
fn a_new_season_asks_about_unsaved_changes() {
    let mut window = window_on(day(2, 1));
    let from = rect(&window, "Ge 1, ").center();
    let to = rect(&window, "Window rack, shelf 1,").center();
    drag(&mut window, from, to);
    wait(&mut window);
    window.key_press_modifiers(Modifiers::COMMAND, Key::N);
    settle(&mut window);
    window.get_by_label(words::files::SAVE_CHANGES);
    window.get_by_label(words::files::CANCEL).click();
    settle(&mut window);
    assert!(spot(&window, "Ge 1").is_some());
    window.key_press_modifiers(Modifiers::COMMAND, Key::N);
    settle(&mut window);
    window.get_by_label(words::files::DO_NOT_SAVE).click();
    settle(&mut window);
    assert_eq!(window.state().history().season().name(), words::menu::NEW);
    field(&mut window, "Name of the season", "Весна");
    assert_eq!(window.state().history().season().name(), "Весна");
}

#[test]
fn without_shelves_the_shelves_page_leads_to_the_places() {
    let today = day(2, 1);
    let mut window: Window = sized(1280.0, 800.0).build_eframe(move |_| App::new(Season::new("Bare"), None, today));
    settle(&mut window);
    press(&mut window, words::shelves::ADD_SHELVES);
    window.get_by_role_and_label(Role::Button, said::ADD);
}

#[test]
fn every_figure_of_the_sample_can_be_looked_at() {
    let mut window = window_on(day(2, 1));
    crate::go(&mut window, words::menu::PLACES);
    settle(&mut window);
    let season = window.state().history().season().clone();
    let mut names: Vec<String> = season.racks().iter().map(|rack| format!("Rack {}", rack.name)).collect();
    for shelf in season.shelves() {
        let rack = season.rack(shelf.rack).expect("it stands on one");
        let size = format!("{} × {}", shelf.width.typed(), shelf.depth.typed());
        names.push(format!("{}, shelf {}, {size}", rack.name, shelf.tier));
    }
    for name in names {
        press(&mut window, &name);
    }
    assert_eq!(window.state().history().undo_label(), None, "looking changes nothing");
    assert_eq!(*window.state().history().season(), season);
}

#[test]
fn a_heat_mat_is_dragged_in_the_drawing_of_its_shelf() {
    let mut window = empty();
    press(&mut window, said::ADD);
    press(&mut window, "Rack 1, shelf 1, 48 in × 18 in");
    press(&mut window, said::ADD_MAT);
    let zone = |window: &Window| {
        let shelf = window.state().history().season().shelves().next().expect("a shelf").clone();
        let mat = shelf.zones.iter().find(|zone| zone.kind == ZoneKind::Heat).expect("a mat").clone();
        [mat.x, mat.y, mat.width, mat.depth].map(|measure| measure.typed().to_owned())
    };
    let whole = window.get_by_label("Move heat mat 2").rect();
    let pt_per_in = whole.width() / 48.0;
    // half as wide and as deep, by the corner
    let corner = window.get_by_label("Size heat mat 2").rect().center();
    drag(&mut window, corner, corner - vec2(24.0, 9.0) * pt_per_in);
    assert_eq!(zone(&window), ["0 in", "0 in", "24 in", "9 in"]);
    // and over to the right, as far as the shelf goes
    let middle = window.get_by_label("Move heat mat 2").rect().center();
    drag(&mut window, middle, middle + vec2(60.0, 4.0) * pt_per_in);
    assert_eq!(zone(&window), ["24 in", "4 in", "24 in", "9 in"]);
    let moved = window.get_by_label("Move heat mat 2").rect();
    assert!((moved.left() - whole.left() - 24.0 * pt_per_in).abs() < 0.5, "it is drawn to scale where it lies");
    // Escape puts it back
    take(&mut window, moved.center(), moved.center() - vec2(10.0, 0.0) * pt_per_in);
    window.key_press(Key::Escape);
    settle(&mut window);
    window.drop_at(moved.center());
    settle(&mut window);
    assert_eq!(zone(&window), ["24 in", "4 in", "24 in", "9 in"]);
    // each drag is one step
    for left in [["0 in", "0 in", "24 in", "9 in"], ["0 in", "0 in", "48 in", "18 in"]] {
        window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        settle(&mut window);
        assert_eq!(zone(&window), left);
    }
}

#[test]
fn trays_may_stick_out_of_a_whole_rack_at_once() {
    let mut window = empty();
    field(&mut window, said::STICK_OUT, "2 m");
    let why = window.get_by_label_contains("found 2 m").rect();
    let row = window.get_by_role_and_label(Role::TextInput, said::STICK_OUT).rect();
    assert!((why.center().y - row.center().y).abs() < 14.0, "the reason stands beside its own field");
    field(&mut window, said::STICK_OUT, "3 1/2 in");
    press(&mut window, said::ADD);
    let overhangs = |window: &Window| {
        let season = window.state().history().season();
        season.shelves().map(|shelf| shelf.overhang.typed().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(overhangs(&window), ["3 1/2 in"; 4]);
    press(&mut window, "Rack 1, shelf 2, 48 in × 18 in");
    field(&mut window, said::OVERHANG, "2 in");
    assert_eq!(overhangs(&window), ["3 1/2 in", "2 in", "3 1/2 in", "3 1/2 in"]);
    window.get_by_label_contains("Changes shelf 1: what may stick out; shelf 3: what may stick out");
    press(&mut window, said::GIVE);
    assert_eq!(overhangs(&window), ["2 in"; 4]);
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(&mut window);
    assert_eq!(overhangs(&window), ["3 1/2 in", "2 in", "3 1/2 in", "3 1/2 in"], "one step");
}

#[test]
fn how_many_fit_on_this_shelf_counts_its_rating() {
    let mut window = empty();
    press(&mut window, said::ADD);
    field(&mut window, said::ON_A_SHELF, "20 x 20");
    press(&mut window, "Rack 1, shelf 2, 48 in × 18 in");
    assert_eq!(value(&window, said::ON_A_SHELF), "48 in × 18 in", "another shelf is looked at");
    field(&mut window, said::WIDTH, "36 in");
    assert_eq!(value(&window, said::ON_A_SHELF), "36 in × 18 in", "its size was changed");
    field(&mut window, said::WIDTH, "48 in");
    field(&mut window, said::ON_A_SHELF, "20 x 20");
    press(&mut window, said::THIS_SHELF);
    let by_weight = |window: &Window| window.query_by_label_contains("by weight").is_some();
    assert!(!by_weight(&window), "no rating is known");
    // two flats of about 8 kg have room
    field(&mut window, said::LOAD, "10 kg");
    window.get_by_label_contains("1 flat by weight: its rating of 22");
    field(&mut window, said::LOAD, "20 kg");
    assert!(!by_weight(&window), "it bears them");
}
