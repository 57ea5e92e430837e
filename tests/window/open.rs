use egui_kittest::kittest::Queryable as _;
use flatwright::outlook::PoolKind;
use flatwright::season::{Edit, EditLabel, Op, Role, Season, ZoneKind};
use flatwright::store;
use flatwright::window::App;
use flatwright::words;

use crate::desktop::{Dialogs, Fake};
use crate::hand::press;
use crate::{Window, menu, wait, wait_until, window_beside};

/// Takes all heat mats off the shelves.
fn without_heat(season: &Season) -> Edit {
    let cold = season.shelves().filter(|shelf| shelf.has(ZoneKind::Heat)).cloned().map(|mut shelf| {
        shelf.zones.retain(|zone| zone.kind != ZoneKind::Heat);
        Op::PutShelf(shelf)
    });
    Edit::new(EditLabel::ChangeShelf, cold.collect())
}

/// The sample, with the strip at its bottom heat; and a file of the same without a heat mat.
fn at_bottom_heat() -> (Window, tempfile::TempDir) {
    let folder = tempfile::tempdir().expect("a folder");
    let (with, without) = (folder.path().join("with.ron"), folder.path().join("without.ron"));
    let mut season = store::sample();
    store::save(&with, &season).expect("saved");
    season.apply(&without_heat(&season.clone())).expect("shelves may be cold");
    store::save(&without, &season).expect("saved");
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Answer(without)), Some(&with));
    wait(&mut window);
    window.get_by_label_contains("bottom heat").click();
    window.run();
    assert_eq!(window.state().pool(), PoolKind::BottomHeat);
    assert!(weeks_shown(window.state()) > 0);
    (window, folder)
}

fn weeks_shown(app: &App) -> usize {
    app.outlook().map_or(0, |outlook| outlook.weeks_of(app.pool()).count())
}

#[test]
fn another_season_is_not_stuck_at_a_pool_that_it_does_not_have() {
    let (mut window, _folder) = at_bottom_heat();
    menu(&mut window, words::menu::SEASON, words::menu::OPEN);
    wait_until(&mut window, |app| !app.history().season().shelves().any(|shelf| shelf.has(ZoneKind::Heat)));
    wait(&mut window);
    assert_eq!(window.state().pool(), PoolKind::Of(Role::Growing));
    assert!(weeks_shown(window.state()) > 0);
}

#[test]
fn a_pool_that_an_edit_takes_away_gives_way_to_one_that_is_there_and_comes_back_with_undo() {
    let (mut window, _folder) = at_bottom_heat();
    window.get_by_role_and_label(egui::Role::Tab, words::menu::PLACES).click();
    window.run();
    let shelf = window.state().history().season().shelves().find(|shelf| shelf.has(ZoneKind::Heat)).cloned();
    let shelf = shelf.expect("one with a mat");
    let rack = window.state().history().season().rack(shelf.rack).expect("its rack").name.clone();
    window.get_by_label_contains(&format!("{rack}, shelf {}, ", shelf.tier)).click();
    window.run();
    press(&mut window, "Remove heat mat 1");
    wait(&mut window);
    assert_eq!(window.state().pool(), PoolKind::Of(Role::Growing));
    assert!(weeks_shown(window.state()) > 0);
    window.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    window.run();
    wait(&mut window);
    assert_eq!(window.state().pool(), PoolKind::BottomHeat);
}

/// It said for ever that nothing was worked out.
#[test]
fn with_the_last_pool_gone_the_strip_says_that_there_is_no_shelf_and_wakes_when_there_is_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut season = store::sample();
    let racks: Vec<Op> = season.racks().iter().map(|rack| Op::RemoveRack(rack.id)).collect();
    season.apply(&Edit::new(EditLabel::RemoveShelf, racks)).expect("racks may go");
    let bare = folder.path().join("bare.ron");
    store::save(&bare, &season).expect("saved");
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Cancel), Some(&bare));
    wait(&mut window);
    let told: Vec<String> = crate::pages::texts(&window);
    assert!(!told.iter().any(|text| text == words::weeks::NOT_WORKED_OUT), "{told:?}");
    println!("{told:#?} {:?} {}", window.state().pool(), weeks_shown(window.state()));
    window.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    window.run();
}
