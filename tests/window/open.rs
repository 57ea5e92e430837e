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
    window.get_by_label(&words::weeks::with_crunch("bottom heat (Community room)")).click();
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
    crate::go(&mut window, words::menu::PLACES);
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

/// With its last sowing the last pool went as well.
#[test]
fn a_season_whose_last_pool_goes_has_an_empty_strip_and_a_full_one_again_after_undo() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut season = store::sample();
    let keep = season.sowings().next().expect("the sample has some").id;
    let sowings: Vec<Op> = season.sowings().filter(|one| one.id != keep).map(|one| Op::RemoveSowing(one.id)).collect();
    let guests: Vec<Op> = season.guests().map(|guest| Op::RemoveGuest(guest.id)).collect();
    let all = sowings.into_iter().chain(guests).collect();
    season.apply(&Edit::new(EditLabel::ChangeShelf, all)).expect("they may go");
    let one = folder.path().join("one.ron");
    store::save(&one, &season).expect("saved");
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Cancel), Some(&one));
    wait(&mut window);
    let (pool, weeks) = (window.state().pool(), weeks_shown(window.state()));
    assert!(weeks > 0);
    crate::go(&mut window, words::menu::SOWINGS);
    window.run();
    press(&mut window, words::sowing::REMOVE);
    wait(&mut window);
    assert_eq!(weeks_shown(window.state()), 0);
    window.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    window.run();
    wait(&mut window);
    assert_eq!((window.state().pool(), weeks_shown(window.state())), (pool, weeks));
    let shown = window.state().day();
    assert!(window.state().forecast().span().is_some_and(|span| span.contains(shown)), "a day of the season: {shown}");
}
