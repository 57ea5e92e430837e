//! Numbers as growers write them, in every number field; saved and read again.

use egui::{Key, Role};
use egui_kittest::kittest::Queryable as _;
use flatwright::season::Season;
use flatwright::store;
use flatwright::units::{Length, Measure};
use flatwright::words;

use crate::desktop::{Dialogs, Fake};
use crate::{Window, menu, press, window_beside, write};

fn enter(window: &mut Window, field: &str, text: &str) {
    window.get_by_role_and_label(Role::TextInput, field).scroll_to_me();
    window.run();
    write(window, field, text);
    window.key_press(Key::Enter);
    window.run();
}

/// As read back from the file it was saved in.
fn saved(window: &mut Window, folder: &std::path::Path) -> Season {
    menu(window, words::menu::SEASON, words::menu::SAVE_IN_FOLDER);
    let seasons = std::fs::read_dir(folder.join("Flatwright")).expect("it was made");
    let path =
        seasons.map(|entry| entry.expect("a file").path()).find(|path| path.extension().is_some_and(|e| e == "ron"));
    store::load(&path.expect("a season")).expect("it can be read")
}

fn new_window(folder: &std::path::Path) -> Window {
    let mut window = window_beside(&Fake::new(folder, Dialogs::Cancel), None);
    menu(&mut window, words::menu::SEASON, words::menu::NEW);
    window
}

/// 2.5 in, 1.5 in and 2.5 cm.
const HALVES: [(&str, Length); 5] = [
    ("2,5", Length::from_units(508_000)),
    ("2.5", Length::from_units(508_000)),
    ("1 1/2 in", Length::from_units(304_800)),
    ("2,5 cm", Length::from_units(200_000)),
    ("2½", Length::from_units(508_000)),
];

#[test]
fn a_comma_a_point_and_a_fraction_mean_the_same_in_every_length_of_a_shelf() {
    let folder = tempfile::tempdir().unwrap();
    for (text, expected) in HALVES {
        let mut window = new_window(folder.path());
        crate::go(&mut window, words::menu::PLACES);
        press(&mut window, words::places::ADD);
        window.get_by_label_contains("Rack 1, shelf 1, ").click();
        window.run();
        for field in ["May stick out", "Clear height", "Lamp 1: from the left", "Lamp 1: from the back"] {
            enter(&mut window, field, text);
        }
        for field in ["Lamp 1: width", "Lamp 1: depth"] {
            enter(&mut window, field, text);
        }
        for field in ["Width", "Depth"] {
            enter(&mut window, field, &format!("1{text}"));
        }
        let season = saved(&mut window, folder.path());
        let shelf = season.shelves().find(|shelf| shelf.tier == 1).expect("the first shelf").clone();
        let lamp = shelf.zones.first().expect("its lamp");
        let height = shelf.clear_height.as_ref().expect("its clear height");
        for one in [&shelf.overhang, &lamp.x, &lamp.y, &lamp.width, &lamp.depth, height] {
            assert_eq!(one.value(), expected, "{text}: {one:?}");
        }
        // 12.5 or 11.5 of the same unit.
        let ten = if text.ends_with("cm") { Length::from_units(800_000) } else { Length::from_units(2_032_000) };
        for one in [&shelf.width, &shelf.depth] {
            assert_eq!(one.value(), expected + ten, "1{text}: {one:?}");
            assert!(one.typed().starts_with(&format!("1{text}")), "kept as written: {}", one.typed());
        }
        assert_eq!(season, *window.state().history().season());
        std::fs::remove_dir_all(folder.path().join("Flatwright")).unwrap();
    }
}

#[test]
fn a_weight_with_a_comma_is_not_ten_times_as_much() {
    let folder = tempfile::tempdir().unwrap();
    for (text, grams) in [("2,5", 1_134), ("2,5 kg", 2_500), ("2.5 kg", 2_500), ("5,5 lb", 2_495)] {
        let mut window = new_window(folder.path());
        crate::go(&mut window, words::menu::PLACES);
        press(&mut window, words::places::ADD);
        window.get_by_label_contains("Rack 1, shelf 1, ").click();
        window.run();
        enter(&mut window, words::places::LOAD, text);
        let season = saved(&mut window, folder.path());
        assert_eq!(season.shelves().next().and_then(|shelf| shelf.load_grams), Some(grams), "{text}");
        std::fs::remove_dir_all(folder.path().join("Flatwright")).unwrap();
    }
}

#[test]
fn the_size_of_a_new_rack_takes_them_too() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = new_window(folder.path());
    press(&mut window, words::places::MORE);
    enter(&mut window, words::places::SIZE, "47,5 x 17 1/2 in");
    enter(&mut window, "Clear height", "16,5");
    press(&mut window, words::places::ADD);
    let season = saved(&mut window, folder.path());
    let shelf = season.shelves().next().expect("a shelf");
    let inches = |quarters: i64| Length::from_units(quarters * 203_200 / 4);
    assert_eq!((shelf.width.value(), shelf.depth.value()), (inches(190), inches(70)));
    assert_eq!(shelf.clear_height.as_ref().map(Measure::value), Some(inches(66)));
}

#[test]
fn where_only_whole_numbers_mean_something_a_fraction_is_refused_and_stays() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = new_window(folder.path());
    crate::go(&mut window, words::menu::SOWINGS);
    enter(&mut window, words::sowings::WHAT_TO_GROW, "24 tomato, out 16 May 2027");
    let before = window.state().history().season().clone();
    for field in ["Plants wanted", "Germination, %", "Losses, %", "Seeds per cell"] {
        for text in ["2,5", "2.5", "1 1/2 in"] {
            enter(&mut window, field, text);
            let shown = window.get_by_role_and_label(Role::TextInput, field).value();
            assert_eq!(shown.as_deref(), Some(text), "{field}");
            assert!(window.query_all_by_label_contains(&format!("found {text:?}")).next().is_some(), "{field}: {text}");
            assert_eq!(*window.state().history().season(), before, "{field}: {text}");
        }
    }
    crate::go(&mut window, words::menu::PLACES);
    press(&mut window, words::places::ADD);
    window.get_by_label_contains("Rack 1, shelf 1, ").click();
    window.run();
    for text in ["2,5", "2.5", "1 1/2"] {
        enter(&mut window, "Kept free, in %", text);
        assert!(window.state().history().season().shelves().all(|shelf| shelf.allowance_percent == 0), "{text}");
        window.get_by_label_contains(&format!("found {text:?}"));
    }
}
