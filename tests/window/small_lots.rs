//! Small lots that share a tray: said on the sowing's page and beside the tray, and taken apart again.

use egui::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::season::Season;
use flatwright::words::{sharing as said, sowing, sowings as list};

use crate::Window;
use crate::hand::{opened, press, saved_and_read, season, settle, undo};
use crate::sowings::{click, enter};

/// Six each of two tomatoes, sown and potted on the same days.
fn two_sorts() -> Window {
    let mut window = opened(Season::new("Test"), list::PAGE);
    for variety in ["Early", "Late"] {
        enter(&mut window, list::WHAT_TO_GROW, "6 tomato, out 16 May 2027");
        enter(&mut window, sowing::VARIETY, variety);
    }
    window
}

fn alone(window: &Window) -> Vec<bool> {
    season(window).sowings().map(|sowing| sowing.alone).collect()
}

/// Trays on the fullest day, and trays that are shared.
fn trays(window: &Window) -> (usize, usize) {
    let forecast = window.state().forecast();
    let most = forecast.stays.iter().map(|stay| forecast.on(stay.span.from()).count()).max();
    (most.unwrap_or(0), forecast.shared.len())
}

#[test]
fn a_sowing_says_with_whom_it_shares_and_can_stand_alone() {
    let mut window = two_sorts();
    // nine cells each are two rows of six; six pots each stand in a flat of 18
    window.get_by_label("shares To 1 (rows 3–4) with Tomato ‘Early’");
    window.get_by_label("shares To 2 (pots 7–12) with Tomato ‘Early’");
    assert_eq!(trays(&window), (1, 2));
    click(&mut window, said::ALONE);
    assert_eq!((alone(&window), trays(&window)), (vec![false, true], (2, 0)));
    assert!(window.query_by_label_contains("shares To").is_none());
    assert_eq!(saved_and_read(&window), *season(&window));
    undo(&mut window);
    assert_eq!((alone(&window), trays(&window)), (vec![false, false], (1, 2)));
}

#[test]
fn the_tray_shows_its_map_and_lets_one_of_them_out() {
    let mut window = two_sorts();
    press(&mut window, "shares To 1 (rows 3–4) with Tomato ‘Early’");
    window.get_by_label(said::WHO_STANDS_IN_IT);
    window.get_by_label("12 rows of 6");
    window.get_by_label("8 rows free");
    let row = window.get_by_role_and_label(Role::Button, "rows 1–2: Tomato ‘Early’, 9 cells");
    assert!(!row.accesskit_node().is_disabled());
    press(&mut window, &said::take_out("Tomato ‘Early’"));
    assert_eq!((alone(&window), trays(&window)), (vec![true, false], (2, 0)));
    assert!(window.query_by_label(said::WHO_STANDS_IN_IT).is_none(), "it is no shared tray any more");
    undo(&mut window);
    window.get_by_label(said::WHO_STANDS_IN_IT);
    // a row leads to who stands there
    press(&mut window, "rows 1–2: Tomato ‘Early’, 9 cells");
    settle(&mut window);
    window.get_by_label("shares To 1 (rows 1–2) with Tomato ‘Late’");
}
