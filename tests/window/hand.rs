//! Typing and pressing by the names of things.

use std::sync::Arc;

use egui::{Key, Modifiers, Pos2, Role, ViewportCommand, ViewportEvent, ViewportId};
use egui_kittest::kittest::Queryable as _;
use flatwright::season::{FieldId, Season};
use flatwright::window::App;
use flatwright::words;

use crate::desktop::Fake;
use crate::{Window, day, sized};

pub(crate) fn settle(window: &mut Window) {
    for _ in 0..6 {
        window.step();
    }
}

/// That season on 1 March, at that page.
pub(crate) fn opened(season: Season, page: &str) -> Window {
    opened_on(day(3, 1), season, page)
}

/// The same on that day.
pub(crate) fn opened_on(today: chrono::NaiveDate, season: Season, page: &str) -> Window {
    let mut window = sized(1280.0, 1000.0).build_eframe(move |_| App::new(season, None, today));
    settle(&mut window);
    crate::go(&mut window, page);
    window
}

/// That season on 1 March, at a page that the Season menu opens, on that desktop if one is given.
pub(crate) fn page_of(season: Season, desktop: Option<Fake>, item: &str) -> Window {
    let mut window = sized(1400.0, 1400.0).build_eframe(move |_| {
        let app = App::new(season, None, day(3, 1));
        match desktop {
            Some(desktop) => app.on(Arc::new(desktop)),
            None => app,
        }
    });
    settle(&mut window);
    crate::go(&mut window, item);
    window
}

/// Pressed and let go at one place of the screen, whatever lies there.
pub(crate) fn click_at(window: &mut Window, at: Pos2) {
    window.hover_at(at);
    settle(window);
    window.drag_at(at);
    // longer is no click
    window.step();
    window.drop_at(at);
    settle(window);
}

pub(crate) fn season(window: &Window) -> &Season {
    window.state().history().season()
}

pub(crate) fn field(window: &mut Window, name: &str, text: &str) {
    window.get_by_role_and_label(Role::TextInput, name).focus();
    settle(window);
    window.key_press_modifiers(Modifiers::COMMAND, Key::A);
    settle(window);
    window.key_press(Key::Backspace);
    settle(window);
    window.get_by_role_and_label(Role::TextInput, name).type_text(text);
    settle(window);
    window.key_press(Key::Enter);
    settle(window);
}

pub(crate) fn value(window: &Window, name: &str) -> String {
    window.get_by_role_and_label(Role::TextInput, name).value().unwrap_or_default()
}

pub(crate) fn press(window: &mut Window, name: &str) {
    window.get_by_role_and_label(Role::Button, name).scroll_to_me();
    settle(window);
    window.get_by_role_and_label(Role::Button, name).click();
    settle(window);
}

pub(crate) fn choose(window: &mut Window, name: &str) {
    window.get_by_role_and_label(Role::RadioButton, name).scroll_to_me();
    settle(window);
    window.get_by_role_and_label(Role::RadioButton, name).click();
    settle(window);
}

pub(crate) fn undo(window: &mut Window) {
    // with nothing written in, Escape would lead back to the room
    if window.ctx.memory(|memory| memory.focused().is_some()) {
        window.key_press(Key::Escape);
        settle(window);
    }
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(window);
}

/// Asks the window to close; whether it does.
pub(crate) fn ask_to_close(window: &mut Window) -> bool {
    if let Some(viewport) = window.input_mut().viewports.get_mut(&ViewportId::ROOT) {
        viewport.events.push(ViewportEvent::Close);
    }
    window.step();
    let out = window.output().viewport_output.get(&ViewportId::ROOT);
    let kept_open = out.is_some_and(|out| out.commands.contains(&ViewportCommand::CancelClose));
    if let Some(viewport) = window.input_mut().viewports.get_mut(&ViewportId::ROOT) {
        viewport.events.clear();
    }
    window.run();
    window.state().is_leaving() || !kept_open
}

pub(crate) fn rename(window: &mut Window, name: &str) {
    crate::go(window, words::menu::START);
    crate::write(window, words::field(FieldId::SeasonName), name);
    window.key_press(Key::Enter);
    window.run();
    assert_eq!(season(window).name(), name);
}

/// The season as it comes back from a file.
pub(crate) fn saved_and_read(window: &Window) -> Season {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("mine.ron");
    flatwright::store::save(&path, season(window)).expect("saved");
    flatwright::store::load(&path).expect("read back")
}
