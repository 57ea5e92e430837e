//! The bar at the top: menus, pages, and what file this is.

use egui::{Button, Key, KeyboardShortcut, MenuBar, Modifiers, RichText, ThemePreference, Ui, vec2};

use crate::season::History;

use super::action::Action;
use super::seen::Seen;
use super::state::{Fit, Page, UnitsShown};
use super::theme::{self, Palette};

pub(super) const OPEN: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::O);
pub(super) const SAVE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::S);
pub(super) const SAVE_AS: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S);
pub(super) const NEW: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::N);
pub(super) const QUIT: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Q);
pub(super) const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
pub(super) const REDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
pub(super) const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);

/// What the bar shows beside the season itself.
pub(super) struct Bar<'a> {
    pub(super) page: Page,
    /// Crunches and problems.
    pub(super) to_look_at: usize,
    pub(super) units: UnitsShown,
    pub(super) theme: ThemePreference,
    pub(super) file: &'a str,
    pub(super) unsaved: bool,
    /// No season is open.
    pub(super) in_trouble: bool,
}

pub(super) fn menu_ui(ui: &mut Ui, seen: &Seen<'_>, history: &History, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    MenuBar::new().ui(ui, |ui| {
        ui.set_min_height(30.0);
        ui.menu_button("Season", |ui| season_menu_ui(ui, actions));
        ui.menu_button("Edit", |ui| edit_menu_ui(ui, seen, history, actions));
        ui.menu_button("View", |ui| view_menu_ui(ui, bar, actions));
        ui.add_space(24.0);
        let worth = match bar.to_look_at {
            0 => "Worth a look".to_owned(),
            number => format!("Worth a look ({number})"),
        };
        let pages = [
            (Page::Start, "Start"),
            (Page::Shelves, "Shelves"),
            (Page::Sowings, "Sowings"),
            (Page::Guests, "Guests"),
            (Page::Places, "Places"),
            (Page::Containers, "Containers"),
            (Page::Crops, "Crops"),
            (Page::WorthALook, &worth),
        ];
        for (page, name) in pages.into_iter().filter(|_| !bar.in_trouble) {
            tab_ui(ui, palette, bar.page == page, name, page, actions);
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if bar.in_trouble {
                return;
            }
            let state = if bar.unsaved { "not saved" } else { "saved" };
            let units = match bar.units {
                UnitsShown::Millimetres => "mm",
                UnitsShown::Inches => "inches",
            };
            let said = format!("{} · {state} · {units}", seen.season.name());
            ui.add(egui::Label::new(RichText::new(said).font(theme::small()).color(palette.soft_ink)).truncate())
                .on_hover_text(bar.file);
        });
    });
}

fn tab_ui(ui: &mut Ui, palette: &Palette, open: bool, name: &str, page: Page, actions: &mut Vec<Action>) {
    let text = if open { theme::bold(name).color(palette.ink) } else { RichText::new(name).color(palette.soft_ink) };
    let response = ui.add(Button::new(text).frame(false).min_size(vec2(60.0, 30.0)));
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Tab, true, open, name));
    if open {
        let line = response.rect.with_min_y(response.rect.bottom() - 3.0);
        ui.painter().rect_filled(line, egui::CornerRadius::ZERO, palette.ink);
    }
    if response.clicked() {
        actions.push(Action::ShowPage(page));
    }
}

fn item_ui(ui: &mut Ui, text: &str, keys: Option<&KeyboardShortcut>, enabled: bool) -> bool {
    let mut button = Button::new(text).min_size(vec2(230.0, 26.0));
    if let Some(keys) = keys {
        button = button.shortcut_text(ui.ctx().format_shortcut(keys));
    }
    ui.add_enabled(enabled, button).clicked()
}

fn season_menu_ui(ui: &mut Ui, actions: &mut Vec<Action>) {
    for (text, keys, action) in [
        ("New season", NEW, Action::NewSeason),
        ("Open…", OPEN, Action::Open),
        ("Save", SAVE, Action::Save),
        ("Save as…", SAVE_AS, Action::SaveAs),
        ("Quit", QUIT, Action::Close),
    ] {
        if item_ui(ui, text, Some(&keys), true) {
            actions.push(action);
        }
    }
}

fn edit_menu_ui(ui: &mut Ui, seen: &Seen<'_>, history: &History, actions: &mut Vec<Action>) {
    let words = seen.words();
    let undo = history.undo_label().map_or_else(|| "Undo".to_owned(), |label| format!("Undo {}", words.edit(label)));
    if item_ui(ui, &undo, Some(&UNDO), history.undo_label().is_some()) {
        actions.push(Action::Undo);
    }
    let redo = history.redo_label().map_or_else(|| "Redo".to_owned(), |label| format!("Redo {}", words.edit(label)));
    if item_ui(ui, &redo, Some(&REDO), history.redo_label().is_some()) {
        actions.push(Action::Redo);
    }
}

fn choices_ui(ui: &mut Ui, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    // Menus draw no outlines; a ring needs one to be seen.
    ui.visuals_mut().widgets.inactive.bg_stroke = egui::Stroke::new(1.0, Palette::of(ui).soft_ink);
    for (units, name) in [(UnitsShown::Inches, "Inches"), (UnitsShown::Millimetres, "Millimetres")] {
        if ui.radio(bar.units == units, name).clicked() {
            actions.push(Action::Units(units));
        }
    }
    ui.separator();
    for (theme, name) in [
        (ThemePreference::System, "Light or dark as the system"),
        (ThemePreference::Light, "Light"),
        (ThemePreference::Dark, "Dark"),
    ] {
        if ui.radio(bar.theme == theme, name).clicked() {
            actions.push(Action::Theme(theme));
        }
    }
}

fn view_menu_ui(ui: &mut Ui, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    for (text, fit) in [("Growing shelves in view (Home)", Fit::Growing), ("All shelves in view (0)", Fit::All)] {
        if item_ui(ui, text, None, true) {
            actions.push(Action::FitToView(fit));
        }
    }
    ui.separator();
    ui.scope(|ui| choices_ui(ui, bar, actions));
    ui.separator();
    let zoom = ui.ctx().zoom_factor();
    for (text, keys, factor) in [
        ("Larger letters", KeyboardShortcut::new(Modifiers::COMMAND, Key::Plus), zoom + 0.1),
        ("Smaller letters", KeyboardShortcut::new(Modifiers::COMMAND, Key::Minus), zoom - 0.1),
        ("Usual letters", KeyboardShortcut::new(Modifiers::COMMAND, Key::Num0), 1.0),
    ] {
        if item_ui(ui, text, Some(&keys), true) {
            actions.push(Action::InterfaceZoom(factor));
        }
    }
}
