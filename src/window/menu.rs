//! The bar at the top: menus, pages, and what file this is.

use std::borrow::Cow;
use std::path::{Path, PathBuf};

use egui::{Button, Key, KeyboardShortcut, MenuBar, Modifiers, RichText, ThemePreference, Ui, vec2};

use crate::season::History;
use crate::words::{self, files, menu as said};

use super::action::{Action, Do, File, Go, Keep};
use super::scene::Scene;
use super::shelves;
use super::state::{Fit, Page, UnitsShown};
use super::theme::{self, Palette};

pub(super) const OPEN: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::O);
pub(super) const SAVE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::S);
pub(super) const SAVE_AS: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S);
pub(super) const NEW: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::N);
pub(super) const QUIT: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Q);
pub(super) const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
pub(super) const REDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
/// egui gives these two as events of their own.
const COPY: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::C);
const PASTE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::V);
const ALL: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::A);
pub(super) const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);

/// What the bar shows beside the season itself.
pub(super) struct Bar<'a> {
    pub(super) page: Page,
    /// Crunches and problems.
    pub(super) to_look_at: usize,
    pub(super) units: UnitsShown,
    pub(super) theme: ThemePreference,
    pub(super) file: &'a str,
    /// Files used last, newest first.
    pub(super) recent: &'a [PathBuf],
    pub(super) unsaved: bool,
    /// No season is open.
    pub(super) in_trouble: bool,
}

/// Where a page is found, and what it is called there.
enum Found {
    InBar(Cow<'static, str>),
    InSeasonMenu(&'static str),
}

fn found(page: Page, to_look_at: usize) -> Found {
    let in_bar = |name| Found::InBar(Cow::Borrowed(name));
    match page {
        Page::Start => in_bar(said::START),
        Page::Shelves => in_bar(said::SHELVES),
        Page::Sowings => in_bar(words::sowings::PAGE),
        Page::Work => in_bar(words::jobs::PAGE),
        Page::Supplies => in_bar(words::supplies::PAGE),
        Page::Records => in_bar(words::records::PAGE),
        Page::Days => in_bar(said::DAYS),
        Page::Guests => in_bar(words::guests::PAGE),
        Page::Places => in_bar(said::PLACES),
        Page::Containers => in_bar(words::containers::PAGE),
        Page::Crops => in_bar(words::crops::PAGE),
        Page::WorthALook => Found::InBar(said::worth_a_look(to_look_at).into()),
        Page::MakeRoom => Found::InSeasonMenu(words::ways_out::OPEN),
        Page::WhatIf => Found::InSeasonMenu(words::what_if::OPEN),
        Page::CanWait => Found::InSeasonMenu(words::can_wait::OPEN),
        Page::Carries => Found::InSeasonMenu(words::carries::OPEN),
        Page::Frost => Found::InSeasonMenu(words::frost::OPEN),
        Page::SowingTable => Found::InSeasonMenu(words::sowing_table::OPEN),
        Page::NextYear => Found::InSeasonMenu(words::next_year::OPEN),
    }
}

pub(super) fn menu_ui(ui: &mut Ui, scene: &Scene<'_>, history: &History, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    MenuBar::new().ui(ui, |ui| {
        ui.set_min_height(30.0);
        ui.menu_button(said::SEASON, |ui| season_menu_ui(ui, bar, actions));
        ui.menu_button(said::EDIT, |ui| edit_menu_ui(ui, scene, history, bar, actions));
        ui.menu_button(said::VIEW, |ui| view_menu_ui(ui, bar, actions));
        ui.add_space(24.0);
        for page in Page::ALL.iter().copied().filter(|_| !bar.in_trouble) {
            if let Found::InBar(name) = found(page, bar.to_look_at) {
                tab_ui(ui, palette, bar.page == page, &name, page, actions);
            }
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if bar.in_trouble {
                return;
            }
            let said = said::state(scene.season.name(), bar.unsaved, scene.unit.is_of_inches());
            ui.add(egui::Label::new(RichText::new(said).font(theme::small()).color(palette.soft_ink)).truncate())
                .on_hover_text(bar.file);
        });
    });
}

fn tab_ui(ui: &mut Ui, palette: &Palette, open: bool, name: &str, page: Page, actions: &mut Vec<Action>) {
    let text = if open { theme::bold(name).color(palette.ink) } else { RichText::new(name).color(palette.soft_ink) };
    let response = ui.add(Button::new(text).frame(false).min_size(vec2(36.0, 30.0)));
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Tab, true, open, name));
    if open {
        let line = response.rect.with_min_y(response.rect.bottom() - 3.0);
        ui.painter().rect_filled(line, egui::CornerRadius::ZERO, palette.ink);
    }
    if response.clicked() {
        actions.push(Action::Go(Go::Page(page)));
    }
}

fn item_ui(ui: &mut Ui, text: &str, keys: Option<&KeyboardShortcut>, enabled: bool) -> bool {
    let mut button = Button::new(text).min_size(vec2(230.0, 26.0));
    if let Some(keys) = keys {
        button = button.shortcut_text(ui.ctx().format_shortcut(keys));
    }
    ui.add_enabled(enabled, button).clicked()
}

fn season_menu_ui(ui: &mut Ui, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    for (text, keys, action) in [
        (said::NEW, Some(&NEW), Action::File(File::NewSeason)),
        (said::SAMPLE, None, Action::File(File::OpenSample)),
        (said::OPEN, Some(&OPEN), Action::File(File::Open)),
        (said::OPEN_BY_PATH, None, Action::File(File::OpenByPath)),
    ] {
        if item_ui(ui, text, keys, true) {
            actions.push(action);
        }
    }
    ui.add_enabled_ui(!bar.recent.is_empty(), |ui| {
        ui.menu_button(said::OPEN_RECENT, |ui| recent_ui(ui, bar.recent, actions));
    });
    ui.separator();
    for (text, keys, action) in [
        (files::SAVE, Some(&SAVE), Action::File(File::Save)),
        (said::SAVE_AS, Some(&SAVE_AS), Action::File(File::SaveAs)),
        (said::SAVE_BY_PATH, None, Action::File(File::SaveByPath)),
        (said::SAVE_IN_FOLDER, None, Action::File(File::SaveInFolder)),
    ] {
        if item_ui(ui, text, keys, !bar.in_trouble) {
            actions.push(action);
        }
    }
    if item_ui(ui, files::EARLIER_MENU, None, true) {
        actions.push(Action::File(File::Keep(Keep::ShowVersions(None))));
    }
    ui.separator();
    for page in Page::ALL.iter().copied() {
        if let Found::InSeasonMenu(name) = found(page, bar.to_look_at)
            && item_ui(ui, name, None, !bar.in_trouble)
        {
            actions.push(Action::Go(Go::Page(page)));
        }
    }
    ui.separator();
    if item_ui(ui, said::QUIT, Some(&QUIT), true) {
        actions.push(Action::File(File::Close));
    }
}

fn recent_ui(ui: &mut Ui, recent: &[PathBuf], actions: &mut Vec<Action>) {
    for path in recent {
        let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
        let folder = path.parent().unwrap_or(Path::new("")).display().to_string();
        let button = Button::new(said::recent(name, folder)).min_size(vec2(230.0, 26.0)).truncate();
        if ui.add(button).on_hover_text(path.display().to_string()).clicked() {
            actions.push(Action::File(File::OpenPath(path.clone())));
        }
    }
    ui.separator();
    if item_ui(ui, said::FORGET_RECENT, None, true) {
        actions.push(Action::File(File::ForgetRecent));
    }
}

fn edit_menu_ui(ui: &mut Ui, scene: &Scene<'_>, history: &History, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    let words = scene.words();
    let undo = said::undo(history.undo_label().map(|label| words.edit(label)).as_deref());
    if item_ui(ui, &undo, Some(&UNDO), history.undo_label().is_some()) {
        actions.push(Action::Do(Do::Undo));
    }
    let redo = said::redo(history.redo_label().map(|label| words.edit(label)).as_deref());
    if item_ui(ui, &redo, Some(&REDO), history.redo_label().is_some()) {
        actions.push(Action::Do(Do::Redo));
    }
    if bar.page != Page::Shelves {
        return;
    }
    ui.separator();
    let one = scene.selection.tray.is_some();
    let two = scene.selection.more.len() == 1 && one;
    let trays = scene.selection.more.len() + 1;
    let plain = |key| KeyboardShortcut::new(Modifiers::NONE, key);
    if item_ui(ui, &said::turn(trays), Some(&plain(Key::R)), one) {
        shelves::turn_selected(scene, actions);
    }
    if item_ui(ui, &said::pin(trays), Some(&plain(Key::P)), one) {
        shelves::pin(scene, actions);
    }
    if item_ui(ui, &said::lift(trays), Some(&plain(Key::Delete)), one) {
        shelves::lift(scene, actions);
    }
    if item_ui(ui, said::SWAP, Some(&plain(Key::S)), two) {
        shelves::swap(scene, actions);
    }
    ui.separator();
    if item_ui(ui, said::CHOOSE_ALL, Some(&ALL), true) {
        shelves::choose_all(scene, actions);
    }
    if item_ui(ui, &said::copy(trays), Some(&COPY), one) {
        actions.push(Action::Do(Do::CopyTrays));
    }
    if item_ui(ui, said::PASTE, Some(&PASTE), true) {
        actions.push(Action::Do(Do::PasteTrays));
    }
}

fn choices_ui(ui: &mut Ui, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    // Menus draw no outlines; a ring needs one to be seen.
    ui.visuals_mut().widgets.inactive.bg_stroke = egui::Stroke::new(1.0, Palette::of(ui).soft_ink);
    for (units, name) in [
        (UnitsShown::AsTheSeason, said::AS_THE_SEASON),
        (UnitsShown::Inches, said::INCHES),
        (UnitsShown::Millimetres, said::MILLIMETRES),
    ] {
        if ui.radio(bar.units == units, name).clicked() {
            actions.push(Action::Go(Go::Units(units)));
        }
    }
    ui.separator();
    for (theme, name) in [
        (ThemePreference::System, said::AS_THE_SYSTEM),
        (ThemePreference::Light, said::LIGHT),
        (ThemePreference::Dark, said::DARK),
    ] {
        if ui.radio(bar.theme == theme, name).clicked() {
            actions.push(Action::Go(Go::Theme(theme)));
        }
    }
}

fn view_menu_ui(ui: &mut Ui, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    for (text, fit) in [(said::GROWING_IN_VIEW, Fit::Growing), (said::ALL_IN_VIEW, Fit::All)] {
        if item_ui(ui, text, None, true) {
            actions.push(Action::Go(Go::Fit(fit)));
        }
    }
    ui.separator();
    ui.scope(|ui| choices_ui(ui, bar, actions));
    ui.separator();
    let zoom = ui.ctx().zoom_factor();
    for (text, keys, factor) in [
        (said::LARGER, KeyboardShortcut::new(Modifiers::COMMAND, Key::Plus), zoom + 0.1),
        (said::SMALLER, KeyboardShortcut::new(Modifiers::COMMAND, Key::Minus), zoom - 0.1),
        (said::USUAL, KeyboardShortcut::new(Modifiers::COMMAND, Key::Num0), 1.0),
    ] {
        if item_ui(ui, text, Some(&keys), true) {
            actions.push(Action::Go(Go::Zoom(factor)));
        }
    }
}
