use egui_kittest::kittest::Queryable as _;
use flatwright::season::{Container, ContainerKey, ContainerKind, EditLabel, Op, RimShape, Season};
use flatwright::store;
use flatwright::units::{Length, Measure};
use flatwright::words::containers as said;

use crate::Window;
use crate::hand::{choose, field, opened, press, saved_and_read, season, settle, undo, value};

fn own(window: &Window) -> Vec<Container> {
    season(window).own_containers().cloned().collect()
}

/// The sample's shelves and sowings, with no layout to look after.
fn sample() -> Season {
    let mut season = store::sample();
    season.apply(&Op::SetLayout(Vec::new()).into()).expect("trays may have no spot");
    season
}

#[test]
fn a_tray_of_cells_is_made_by_typing_and_drawn_as_it_is_typed() {
    let mut window = opened(Season::new("Test"), said::PAGE);
    choose(&mut window, said::CELLS_KIND);
    field(&mut window, said::SIZE, "28 x 54 cm");
    field(&mut window, said::ROWS, "5");
    field(&mut window, said::IN_ROW, "10");
    field(&mut window, said::HEIGHT, "2,5 in");
    field(&mut window, said::DOME, "7 in");
    field(&mut window, said::VOLUME, "45");
    window.get_by_label("45.0 in³ to a cell, as stated");
    // of 16.387 ml each
    field(&mut window, said::VOLUME, "45 ml");
    // drawn before it has a name
    window.get_by_label("Drawing: 28 cm × 54 cm, 2,5 in high");
    window.get_by_label("50 cells: 5 rows of 10");
    window.get_by_label("2.7 in³ to a cell, as stated");
    assert_eq!(own(&window), []);
    field(&mut window, said::NAME, "Fifty of mine");
    press(&mut window, said::ADD);
    let [tray] = &own(&window)[..] else { panic!("one tray") };
    let ContainerKind::Plug(plug) = &tray.kind else { panic!("a tray of cells") };
    assert_eq!((plug.cells, plug.grid), (50, Some((5, 10))));
    assert_eq!(plug.cell_volume.as_ref().map(|volume| volume.value.value().to_ml()), Some(45.0));
    // 2.5 in of 203,200 units each
    assert_eq!(tray.height.as_ref().map(Measure::value), Some(Length::from_units(508_000)));
    assert_eq!(tray.dome.as_ref().map(Measure::typed), Some("7 in"));
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::AddContainer("Fifty of mine".to_owned())));
    window.get_by_label(&format!("Fifty of mine, {}", said::own_brief(tray)));
    assert_eq!(&saved_and_read(&window), season(&window));
    undo(&mut window);
    assert_eq!(own(&window), []);
}

#[test]
fn a_pots_volume_is_worked_out_from_its_shape() {
    let mut window = opened(Season::new("Test"), said::PAGE);
    choose(&mut window, said::SQUARE_KIND);
    field(&mut window, said::TOP, "9 cm");
    field(&mut window, said::BASE, "6 cm");
    field(&mut window, said::HEIGHT, "10 cm");
    // 10/3 × (81 + 36 + 54) = 570 cm³ to the brim, 0.875 of it filled, of 16.387 to the cubic inch
    window.get_by_label("30.4 in³ to a pot as it is filled, worked out from its brim");
    choose(&mut window, said::ROUND_KIND);
    // the same times π/4
    window.get_by_label("23.9 in³ to a pot as it is filled, worked out from its brim");
    field(&mut window, said::NAME, "Clay pot");
    press(&mut window, said::ADD);
    let [pot] = &own(&window)[..] else { panic!("one pot") };
    let ContainerKind::Pot(pot) = &pot.kind else { panic!("a pot") };
    assert_eq!(pot.rim, RimShape::Round);
}

#[test]
fn a_copy_of_the_librarys_can_be_changed_and_keeps_its_other_figures() {
    let mut window = opened(sample(), said::PAGE);
    field(&mut window, said::FIND, "72-cell");
    let library = store::library().containers.get(&ContainerKey::new("plug_72")).expect("it is there");
    press(&mut window, &format!("{}, {}", library.name, said::brief(library)));
    press(&mut window, said::START_FROM);
    let copied = own(&window).pop().expect("a copy");
    assert_eq!((copied.name, copied.kind), (format!("{}, own", library.name), library.kind.clone()));
    field(&mut window, said::VOLUME, "1 1/2 in³");
    let changed = own(&window).pop().expect("a copy");
    let (ContainerKind::Plug(plug), ContainerKind::Plug(before)) = (&changed.kind, &library.kind) else {
        panic!("trays of cells")
    };
    assert_eq!(plug.outer, before.outer, "with its source");
    // 1.5 × 16.387064 ml
    assert_eq!(plug.cell_volume.as_ref().map(|one| one.value.value().nanolitres()), Some(24_580_596));
    assert_eq!(value(&window, said::VOLUME), "1 1/2 in³");
    assert_eq!(&saved_and_read(&window), season(&window));
    assert!(window.query_all_by_label_contains(" on each, ").next().is_some(), "how many stand on the shelves");
    press(&mut window, said::REMOVE);
    assert_eq!(own(&window), []);
}

#[test]
fn the_list_is_one_stop_with_arrows_inside_and_only_what_shows_is_made() {
    let mut window = opened(sample(), said::PAGE);
    let offered = sample();
    let mut names: Vec<&str> = offered.containers(store::library()).map(|one| one.name.as_str()).collect();
    names.sort_unstable();
    let (first, second, last) = (names[0], names[1], names[names.len() - 1]);
    window.get_by_role_and_label(egui::Role::ListBox, said::PAGE).focus();
    settle(&mut window);
    for (key, chosen) in [(egui::Key::ArrowDown, first), (egui::Key::ArrowDown, second), (egui::Key::ArrowUp, first)] {
        window.key_press(key);
        settle(&mut window);
        window.get_by_label(chosen);
    }
    assert!(window.query_by_label_contains(&format!("{last}, ")).is_none(), "far below");
    window.key_press(egui::Key::End);
    settle(&mut window);
    window.get_by_label(last);
    assert!(window.query_by_label_contains(&format!("{last}, ")).is_some(), "brought into view");
}

#[test]
fn one_in_use_is_not_removed_and_says_why() {
    let mut season = sample();
    let library = store::library().containers.get(&ContainerKey::new("plug_72")).expect("it is there");
    let mine = Container { key: ContainerKey::new("mine"), name: "Mine".to_owned(), ..library.clone() };
    season.apply(&Op::PutContainer(mine.clone()).into()).expect("good");
    let mut sowing = season.sowings().next().expect("one").clone();
    sowing.steps[0].container = ContainerKey::new("mine");
    season.apply(&Op::PutSowing(sowing).into()).expect("good");
    let mut window = opened(season, said::PAGE);
    press(&mut window, &format!("Mine, {}", said::own_brief(&mine)));
    press(&mut window, said::REMOVE);
    assert_eq!(own(&window).len(), 1);
    window.get_by_label_contains("container \"Mine\" is used by a sowing; change that first");
}

#[test]
fn what_cannot_be_stays_in_its_field_with_the_reason() {
    let mut window = opened(Season::new("Test"), said::PAGE);
    field(&mut window, said::NAME, "Mine");
    press(&mut window, said::ADD);
    let before = own(&window);
    for (name, text, why) in [
        (said::SIZE, "1 mm x 4 cm", "from 5 mm to 5 m"),
        (said::SIZE, "11 x", "nothing is written here"),
        (said::ROWS, "2,5", "found \"2,5\"; write a whole number"),
        (said::ROWS, "2.5", "found \"2.5\"; write a whole number"),
        (said::ROWS, "1 1/2 in", "write a whole number"),
        (said::ROWS, "0", "must be from 1 to 5000, found 0"),
        (said::IN_ROW, "", "rows and cells in a row belong together"),
        (said::CELLS, "71", "6 rows of 12 are 72 cells, found 71"),
        (said::VOLUME, "3 pints", "the unit \"pints\""),
        (said::VOLUME, "0", "must be more than nothing"),
        (said::CELL_TOP, "60 mm", "must fit into"),
        (said::HEIGHT, "1 km", "the unit \"km\""),
        (said::DOME, "1 mm", "the height under a dome must be from 5 mm to 5 m"),
        (said::NAME, "", "a name is missing"),
        (said::NAME, &"Ж".repeat(500), "500 characters long"),
    ] {
        let shown = value(&window, name);
        field(&mut window, name, text);
        assert_eq!(own(&window), before, "{name}: {text}");
        assert_eq!(value(&window, name), text);
        assert!(window.query_all_by_label_contains("Drawing: ").next().is_some(), "drawn all the same");
        assert!(window.query_all_by_label_contains(why).next().is_some(), "{name}: {text}: {why}");
        field(&mut window, name, &shown);
    }
    assert_eq!(own(&window), before);
}
