//! The bar at the top: menus, pages, and what file this is.

use std::borrow::Cow;
use std::path::Path;

use egui::{Button, Key, KeyboardShortcut, MenuBar, Modifiers, RichText, ThemePreference, Ui, vec2};

use crate::season::{EditLabel, History, Season, differences};
use crate::words::{self, fields, files, menu as said};

use super::action::{Action, Do, File, Go, Keep};
use super::files::Recent;
use super::scene::Scene;
use super::shelves;
use super::state::{Fit, Page, Room, UnitsShown};
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

/// Narrower than this the rooms and the verdict have a line of their own.
const ONE_LINE_PT: f32 = 820.0;

/// What the bar shows beside the season itself.
pub(super) struct Bar<'a> {
    pub(super) page: Page,
    /// The room that it is, or lies over.
    pub(super) under: Page,
    /// Crunches and problems.
    pub(super) to_look_at: usize,
    pub(super) units: UnitsShown,
    pub(super) theme: ThemePreference,
    pub(super) file: &'a str,
    /// Files used last, newest first.
    pub(super) recent: Recent<'a>,
    pub(super) kept: said::Kept,
    /// The season as it was opened or saved last.
    pub(super) as_saved: Option<&'a Season>,
    /// No season is open.
    pub(super) in_trouble: bool,
}

/// Where a page that is no room is found.
enum Found {
    /// In the bar, or inside what it leads to.
    Bar,
    SeasonMenu,
    Questions,
}

const fn found(page: Page) -> Found {
    match page {
        Page::Shelves | Page::Plan | Page::Work | Page::Supplies | Page::Crops | Page::Containers => Found::Bar,
        Page::Start
        | Page::Places
        | Page::Floor
        | Page::Sowings
        | Page::Guests
        | Page::Frost
        | Page::Days
        | Page::Records
        | Page::SowingTable
        | Page::NextYear => Found::SeasonMenu,
        Page::WorthALook | Page::MakeRoom | Page::WhatIf | Page::CanWait | Page::Carries => Found::Questions,
    }
}

/// What a page is called in a menu, and over it.
pub(super) const fn name_of(page: Page) -> &'static str {
    match page {
        Page::Shelves => said::ROOM,
        Page::Plan => words::plan::PAGE,
        Page::Work => words::jobs::PAGE,
        Page::Supplies => words::supplies::PAGE,
        Page::Crops => words::crops::PAGE,
        Page::Containers => words::containers::PAGE,
        Page::Start => said::START,
        Page::Places => said::PLACES,
        Page::Floor => words::floor::OPEN,
        Page::Sowings => said::SOWINGS,
        Page::Guests => said::GUESTS,
        Page::Frost => words::frost::OPEN,
        Page::Days => said::DAYS,
        Page::Records => said::RECORDS,
        Page::SowingTable => words::sowing_table::OPEN,
        Page::NextYear => words::next_year::OPEN,
        Page::WorthALook => said::WORTH_A_LOOK,
        Page::MakeRoom => words::ways_out::OPEN,
        Page::WhatIf => words::what_if::OPEN,
        Page::CanWait => words::can_wait::OPEN,
        Page::Carries => words::carries::OPEN,
    }
}

const fn name_of_room(room: Room) -> &'static str {
    match room {
        Room::Shelves => said::ROOM,
        Room::Plan => words::plan::PAGE,
        Room::Work => words::jobs::PAGE,
        Room::Supplies => words::supplies::PAGE,
        Room::Library => said::LIBRARY,
    }
}

/// Menus, rooms, and at the right the verdict; two lines where one is too narrow.
pub(super) fn menu_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    history: &History,
    bar: &Bar<'_>,
    verdict: impl Fn(&mut Ui, &mut Vec<Action>),
    actions: &mut Vec<Action>,
) {
    let narrow = ui.available_width() < ONE_LINE_PT;
    MenuBar::new().ui(ui, |ui| {
        ui.set_min_height(30.0);
        ui.menu_button(said::SEASON, |ui| scrolled_ui(ui, |ui| season_menu_ui(ui, history.season(), bar, actions)));
        ui.menu_button(said::EDIT, |ui| edit_menu_ui(ui, scene, history, bar, actions));
        ui.menu_button(said::VIEW, |ui| view_menu_ui(ui, bar, actions));
        ui.menu_button(said::QUESTIONS, |ui| pages_ui(ui, bar, |found| matches!(found, Found::Questions), actions));
        if !narrow {
            ui.add_space(18.0);
            rooms_ui(ui, bar, actions);
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if bar.in_trouble {
                return;
            }
            state_ui(ui, scene, bar);
            if !narrow {
                verdict(ui, actions);
            }
        });
    });
    if narrow && !bar.in_trouble {
        ui.horizontal(|ui| {
            rooms_ui(ui, bar, actions);
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| verdict(ui, actions));
        });
    }
}

fn rooms_ui(ui: &mut Ui, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    for room in Room::ALL.into_iter().filter(|_| !bar.in_trouble) {
        let open = bar.page.room().or(bar.under.room()) == Some(room);
        tab_ui(ui, palette, open, name_of_room(room), room.page(), actions);
    }
}

/// Whether it is saved; of the season and its units as much as there is room for.
fn state_ui(ui: &mut Ui, scene: &Scene<'_>, bar: &Bar<'_>) {
    let whole = said::state(scene.season.name(), bar.kept, scene.unit.is_of_inches());
    let short = said::kept(bar.kept);
    let shown = if ui.available_width() > 780.0 { whole.as_str() } else { short };
    let text = RichText::new(shown).font(theme::small()).color(Palette::of(ui).soft_ink);
    let label = ui.add(egui::Label::new(text).truncate());
    label.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &whole));
    label.on_hover_text(format!("{whole}\n{}", said::kept_where(bar.kept, bar.file)));
}

/// As high as the window has room for.
fn scrolled_ui(ui: &mut Ui, menu: impl FnOnce(&mut Ui)) {
    let height = ui.ctx().content_rect().height() - 60.0;
    egui::ScrollArea::vertical().max_height(height).min_scrolled_height(height).show(ui, menu);
}

fn pages_ui(ui: &mut Ui, bar: &Bar<'_>, here: impl Fn(Found) -> bool, actions: &mut Vec<Action>) {
    for page in Page::ALL.iter().copied().filter(|page| here(found(*page))) {
        let name = match page {
            Page::WorthALook => Cow::Owned(said::worth_a_look(bar.to_look_at)),
            page => Cow::Borrowed(name_of(page)),
        };
        if item_ui(ui, &name, None, bar.no_season()) {
            actions.push(Action::Go(Go::Page(page)));
        }
    }
}

/// Over a page that is no room: where it leads back to, and what it is.
pub(super) fn over_ui(ui: &mut Ui, page: Page, back: Page, actions: &mut Vec<Action>) {
    let to = back.room().map_or_else(|| name_of(back).trim_end_matches('…'), name_of_room);
    let text = said::back_to(to);
    let back = ui.add(Button::new(&text).min_size(vec2(84.0, 28.0)));
    if back.on_hover_text(said::BACK_KEY).clicked() {
        actions.push(Action::Go(Go::Back));
    }
    ui.add_space(6.0);
    ui.label(RichText::new(name_of(page).trim_end_matches('…')).font(theme::strong(theme::PART_PT)));
    ui.add_space(14.0);
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

/// One that can't be chosen says why under the pointer: in a menu there is no room beside it.
fn item_ui(ui: &mut Ui, text: &str, keys: Option<&KeyboardShortcut>, why_not: Option<&str>) -> bool {
    let mut button = Button::new(text).min_size(vec2(230.0, 26.0));
    if let Some(keys) = keys {
        button = button.shortcut_text(ui.ctx().format_shortcut(keys));
    }
    let item = ui.add_enabled(why_not.is_none(), button);
    match why_not {
        Some(why) => item.on_disabled_hover_text(why).clicked(),
        None => item.clicked(),
    }
}

impl Bar<'_> {
    fn no_season(&self) -> Option<&'static str> {
        self.in_trouble.then_some(said::NO_SEASON_OPEN)
    }
}

fn season_menu_ui(ui: &mut Ui, season: &Season, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    for (text, keys, action) in [
        (said::NEW, Some(&NEW), Action::File(File::NewSeason)),
        (said::SAMPLE, None, Action::File(File::OpenSample)),
        (said::OPEN, Some(&OPEN), Action::File(File::Open)),
        (said::OPEN_BY_PATH, None, Action::File(File::OpenByPath)),
    ] {
        if item_ui(ui, text, keys, None) {
            actions.push(action);
        }
    }
    if bar.recent.paths.is_empty() {
        item_ui(ui, said::OPEN_RECENT, None, Some(said::NONE_USED_BEFORE));
    } else {
        ui.menu_button(said::OPEN_RECENT, |ui| recent_ui(ui, bar.recent, actions));
    }
    ui.separator();
    for (text, keys, action) in [
        (files::SAVE, Some(&SAVE), Action::File(File::Save)),
        (said::SAVE_AS, Some(&SAVE_AS), Action::File(File::SaveAs)),
        (said::SAVE_BY_PATH, None, Action::File(File::SaveByPath)),
        (said::SAVE_IN_FOLDER, None, Action::File(File::SaveInFolder)),
    ] {
        if item_ui(ui, text, keys, bar.no_season()) {
            actions.push(action);
        }
    }
    if let Some(before) = bar.as_saved.filter(|_| !bar.in_trouble) {
        let text = said::changed_since(&words::differences(&differences(before, season)));
        let text = RichText::new(text).font(theme::small()).color(Palette::of(ui).soft_ink);
        ui.add(egui::Label::new(text).wrap());
    }
    if item_ui(ui, files::EARLIER_MENU, None, None) {
        actions.push(Action::File(File::Keep(Keep::ShowVersions(None))));
    }
    ui.separator();
    pages_ui(ui, bar, |found| matches!(found, Found::SeasonMenu), actions);
    ui.separator();
    if item_ui(ui, said::QUIT, Some(&QUIT), None) {
        actions.push(Action::File(File::Close));
    }
}

fn recent_ui(ui: &mut Ui, recent: Recent<'_>, actions: &mut Vec<Action>) {
    for path in recent.paths {
        let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
        let folder = path.parent().unwrap_or(Path::new("")).display().to_string();
        let button = Button::new(said::recent(name, folder)).min_size(vec2(230.0, 26.0)).truncate();
        if ui.add(button).on_hover_text(path.display().to_string()).clicked() {
            actions.push(Action::File(File::OpenPath(path.clone())));
        }
    }
    ui.separator();
    if item_ui(ui, said::FORGET_RECENT, None, None) {
        actions.push(Action::File(File::ForgetRecent));
    }
}

fn no_step(label: Option<&EditLabel>, why_not: &'static str) -> Option<&'static str> {
    label.is_none().then_some(why_not)
}

fn edit_menu_ui(ui: &mut Ui, scene: &Scene<'_>, history: &History, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    let words = scene.words();
    let undo = said::undo(history.undo_label().map(|label| words.edit(label)).as_deref());
    if item_ui(ui, &undo, Some(&UNDO), no_step(history.undo_label(), said::NOTHING_TO_UNDO)) {
        actions.push(Action::Do(Do::Undo));
    }
    let redo = said::redo(history.redo_label().map(|label| words.edit(label)).as_deref());
    if item_ui(ui, &redo, Some(&REDO), no_step(history.redo_label(), said::NOTHING_TO_REDO)) {
        actions.push(Action::Do(Do::Redo));
    }
    if bar.page != Page::Shelves {
        return;
    }
    ui.separator();
    let is_one = scene.selection.tray.is_some();
    let one = (!is_one).then_some(said::CHOOSE_A_TRAY);
    let two = (scene.selection.more.len() != 1 || !is_one).then_some(said::CHOOSE_TWO_TRAYS);
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
    if item_ui(ui, said::CHOOSE_ALL, Some(&ALL), None) {
        shelves::choose_all(scene, actions);
    }
    if item_ui(ui, &said::copy(trays), Some(&COPY), one) {
        actions.push(Action::Do(Do::CopyTrays));
    }
    if item_ui(ui, said::PASTE, Some(&PASTE), None) {
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
        if item_ui(ui, text, None, None) {
            actions.push(Action::Go(Go::Fit(fit)));
        }
    }
    for (text, front) in [(fields::FROM_ABOVE, false), (fields::FROM_THE_FRONT, true)] {
        if item_ui(ui, text, None, None) {
            actions.extend([Go::Page(Page::Shelves), Go::FromTheFront(front)].map(Action::Go));
        }
    }
    if item_ui(ui, words::floor::OPEN, None, None) {
        actions.push(Action::Go(Go::Page(Page::Floor)));
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
        if item_ui(ui, text, Some(&keys), None) {
            actions.push(Action::Go(Go::Zoom(factor)));
        }
    }
}
