//! Pictures of the five rooms, held against those that were looked at; our own output, not an outside truth.
//! `UPDATE_SNAPSHOTS=1` draws them anew; `tests/snapshots/README.md` shows them on one page.

use egui::{Theme, vec2};
use egui_kittest::SnapshotResults;
use egui_kittest::kittest::Queryable as _;
use flatwright::words;

use crate::{Window, day, go, placed_on};

/// In the order of work, and what a picture of each is called.
const ROOMS: [(&str, &str); 5] = [
    (words::menu::ROOM, "room"),
    (words::plan::PAGE, "plan"),
    (words::jobs::PAGE, "work"),
    (words::supplies::PAGE, "supplies"),
    (words::menu::LIBRARY, "library"),
];

/// How a window is looked at: its size on the screen, and pixels to a point.
struct Look {
    name: &'static str,
    theme: Theme,
    size: [f32; 2],
    letters: f32,
}

const LOOKS: [Look; 4] = [
    Look { name: "light", theme: Theme::Light, size: [1280.0, 800.0], letters: 1.0 },
    Look { name: "dark", theme: Theme::Dark, size: [1280.0, 800.0], letters: 1.0 },
    Look { name: "small", theme: Theme::Light, size: [900.0, 600.0], letters: 1.0 },
    Look { name: "large_letters", theme: Theme::Dark, size: [1280.0, 800.0], letters: 2.0 },
];

/// With one of the plan's rows told.
fn fifth_row(window: &mut Window) {
    window.get_by_label(words::plan::ROWS).focus();
    window.run();
    for _ in 0..4 {
        window.key_press(egui::Key::ArrowDown);
        window.run();
    }
}

#[test]
fn five_rooms_by_day_by_night_small_and_in_large_letters() {
    let mut window = placed_on(day(4, 22));
    crate::wait_until(&mut window, |app| app.chance().is_some());
    go(&mut window, words::plan::PAGE);
    fifth_row(&mut window);
    let mut results = SnapshotResults::new();
    for Look { name, theme, size: [width, height], letters } in LOOKS {
        window.ctx.set_theme(theme);
        window.set_pixels_per_point(letters);
        window.set_size(vec2(width, height) / letters);
        window.run();
        for (room, picture) in ROOMS {
            go(&mut window, room);
            crate::wait_until(&mut window, |app| !app.is_working());
            window.run();
            results.add(window.try_snapshot(format!("{picture}_{name}")));
        }
    }
}
