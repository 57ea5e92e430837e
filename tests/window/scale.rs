//! The same hand movement at every scale of the screen, with every size of letters.

use egui::vec2;
use flatwright::season::{Op, Spot};
use flatwright::store;
use flatwright::window::App;

use crate::{Window, day, drag, rect, sized, spot};

fn window_at(scale: f32, letters: f32) -> Window {
    let mut season = store::sample();
    season.apply(&Op::SetLayout(Vec::new()).into()).expect("trays may have no spot");
    let mut window =
        sized(1280.0, 800.0).with_pixels_per_point(scale).build_eframe(move |_| App::new(season, None, day(2, 1)));
    window.ctx.set_zoom_factor(letters);
    window.run();
    window.set_size(vec2(1280.0, 800.0));
    window.run();
    window
}

/// A tray to the far corner of a shelf, another one beside it.
fn two_trays_by_hand(mut window: Window) -> [Spot; 2] {
    let shelf = rect(&window, "Window rack, shelf 1,");
    let from = rect(&window, "Ge 1, ").center();
    drag(&mut window, from, shelf.left_top() + shelf.size() * vec2(5.5 / 48.0, 10.5 / 24.0));
    let first = rect(&window, "Ge 1, ");
    let from = rect(&window, "Ge 2, ").center();
    drag(&mut window, from, first.center() + vec2(first.width() + 5.0, 3.0));
    ["Ge 1", "Ge 2"].map(|mark| spot(&window, mark).expect("it stands on a shelf"))
}

#[test]
fn a_tray_dragged_to_the_same_slot_stands_on_the_same_millimetre_at_every_scale() {
    let expected = two_trays_by_hand(window_at(1.0, 1.0));
    let [first, second] = expected;
    assert!(first.shelf == second.shelf && first.x < second.x);
    for (scale, letters) in [(1.25, 1.0), (1.5, 1.0), (2.0, 1.0), (1.5, 1.3), (1.0, 0.8)] {
        assert_eq!(two_trays_by_hand(window_at(scale, letters)), expected, "{scale} × {letters}");
    }
}
