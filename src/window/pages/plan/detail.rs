//! Of the sowing that is chosen: what is done on which day, short; then why, its trays, and where more of it is.

use egui::{
    Align2, Button, CollapsingHeader, Label, Rect, Response, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo, vec2,
};

use crate::forecast::Problem;
use crate::season::{Sowing, TrayKey};
use crate::words::plan::{self as said, Told};
use crate::words::sowings;

use crate::window::action::{Action, Go};
use crate::window::glyphs::{Glyph, glyph_ui};
use crate::window::kit::{Named, linked_ui, soft_ui, stop_ui};
use crate::window::scene::Scene;
use crate::window::sowing::{can_wait_ui, show_tray};
use crate::window::state::Page;
use crate::window::theme::{self, Palette};

use super::hand::Chosen;

/// As wide as its widest head.
const HEAD_PT: f32 = 58.0;
/// Before it the picture of what is done.
const PICTURE_PT: f32 = 22.0;
const MOST_TRAYS: usize = 24;

pub(super) fn detail_ui(ui: &mut Ui, scene: &Scene<'_>, chosen: &Chosen, actions: &mut Vec<Action>) {
    ScrollArea::vertical().auto_shrink([false, false]).id_salt(("plan_detail", chosen.one)).show(ui, |ui| {
        let Some(sowing) = chosen.one.and_then(|id| scene.season.sowing(id)) else {
            soft_ui(ui, said::CHOOSE_ONE);
            ui.add_space(6.0);
            soft_ui(ui, said::HOW_TO_DRAG);
            return;
        };
        ui.spacing_mut().item_spacing.y = 4.0;
        if !chosen.more.is_empty() {
            soft_ui(ui, &said::several(chosen.more.len() + 1));
        }
        title_ui(ui, scene, sowing);
        told_ui(ui, scene, sowing, actions);
        problems_ui(ui, scene, sowing, actions);
        ui.add_space(4.0);
        CollapsingHeader::new(said::WHY).id_salt("why").show(ui, |ui| why_ui(ui, scene, sowing, actions));
        ui.horizontal_wrapped(|ui| {
            for (text, does) in [
                (said::MORE_FIGURES, vec![Go::Sowing(sowing.id), Go::Page(Page::Sowings)]),
                (said::RECORDS, vec![Go::Records(sowing.id)]),
            ] {
                if ui.add(Button::new(text).min_size(vec2(0.0, theme::TARGET_PT))).clicked() {
                    actions.extend(does.into_iter().map(Action::Go));
                }
            }
        });
        trays_ui(ui, scene, sowing, actions);
        shares_ui(ui, scene, sowing, actions);
        can_wait_ui(ui, scene, sowing, actions);
    });
}

fn title_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing) {
    let palette = Palette::of(ui);
    let name = RichText::new(scene.words().sowing(sowing.id)).font(theme::strong(theme::HEAD_PT)).color(palette.ink);
    ui.add(Label::new(name).wrap());
    let plants = said::plants(sowing.plants_wanted());
    let note = sowing.note.trim();
    soft_ui(ui, &if note.is_empty() { plants } else { format!("{plants}; {note}") });
    ui.add_space(4.0);
}

/// Each line leads to its day.
fn told_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let words = scene.words();
    for (at, course) in scene.forecast.courses_of(sowing.id).enumerate() {
        if sowing.lots.len() > 1 {
            ui.label(theme::bold(said::batch(at)));
        }
        for told in words.told(sowing, course) {
            ui.horizontal_top(|ui| {
                if head_ui(ui, &told).on_hover_text(sowings::show_on_shelves(told.date)).clicked() {
                    actions.push(Action::Go(Go::Day(told.date)));
                    actions.push(Action::Go(Go::Page(Page::Shelves)));
                }
                ui.vertical(|ui| {
                    ui.add_space(4.0);
                    said_ui(ui, scene, &told.text, actions);
                });
            });
        }
    }
}

/// All heads begin on one line, and so do the texts behind them.
fn head_ui(ui: &mut Ui, told: &Told) -> Response {
    let head = told.head;
    let (rect, response) = ui.allocate_exact_size(vec2(PICTURE_PT + HEAD_PT, theme::TARGET_PT), Sense::click());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, head));
    let palette = Palette::of(ui);
    let ink = if response.hovered() || response.has_focus() { palette.selected } else { palette.ink };
    if let Some(glyph) = Glyph::of_event(told.what) {
        let at = Rect::from_center_size(rect.left_center() + vec2(8.0, 0.0), vec2(16.0, 16.0));
        glyph_ui(ui.painter(), at, glyph, ink);
    }
    let at = rect.left_center() + vec2(PICTURE_PT, 0.0);
    ui.painter().text(at, Align2::LEFT_CENTER, head, theme::strong(theme::BODY_PT), ink);
    response
}

/// What it names leads to it.
fn said_ui(ui: &mut Ui, scene: &Scene<'_>, sentence: &str, actions: &mut Vec<Action>) {
    linked_ui(ui, scene, sentence, (theme::body(), Palette::of(ui).ink), actions);
}

fn problems_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let own = |problem: &&Problem| problem.is_of_sowing(sowing.id);
    for problem in scene.forecast.problems.iter().filter(own) {
        let ink = Palette::of(ui).trouble;
        linked_ui(ui, scene, &scene.words().problem(problem), (theme::body(), ink), actions);
    }
}

fn why_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let words = scene.words();
    for course in scene.forecast.courses_of(sowing.id) {
        said_ui(ui, scene, &sowings::to_sow(course, sowing), actions);
        for line in words.of_the_seed(sowing, course) {
            said_ui(ui, scene, &line, actions);
        }
        for event in &course.events {
            said_ui(ui, scene, &words.event(event), actions);
        }
    }
    if let Some(frost) = &scene.season.settings().frost {
        soft_ui(ui, &crate::words::last_frost_line(frost, scene.unit));
    }
}

fn trays_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    let own = scene.forecast.stays.iter().filter(|stay| scene.forecast.is_in(sowing.id, stay));
    let mut trays: Vec<(TrayKey, chrono::NaiveDate)> = Vec::new();
    for stay in own {
        for tray in &stay.trays {
            match trays.iter_mut().find(|(known, _)| known == tray) {
                Some((_, first)) => *first = (*first).min(stay.span.from()),
                None => trays.push((*tray, stay.span.from())),
            }
        }
    }
    if trays.is_empty() {
        return;
    }
    trays.sort_by_key(|(_, first)| *first);
    ui.add_space(6.0);
    ui.label(theme::bold(said::TRAYS));
    let (palette, words) = (Palette::of(ui), scene.words());
    let family = scene.season.crop(scene.library, &sowing.crop).map_or("", |crop| crop.family.as_str());
    let look = palette.family(family);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 4.0);
        stop_ui(ui, "plan_trays", said::TRAYS, |ui, stop| {
            for (tray, _) in trays.iter().take(MOST_TRAYS) {
                let name = words.tray(*tray);
                let mark = RichText::new(&name).font(theme::strong(theme::SMALL_PT)).color(palette.ink);
                let edge = egui::Stroke::new(1.0, look.ink);
                let button = Button::new(mark).fill(look.fill.gamma_multiply(0.5)).stroke(edge);
                let named = Named { hover: said::CLICK_A_TRAY, ..Named::new(&name) };
                if stop.row_ui(ui, button.min_size(vec2(38.0, theme::TARGET_PT)), named) {
                    show_tray(scene, *tray, actions);
                }
            }
        });
        if trays.len() > MOST_TRAYS {
            ui.label(crate::words::tray::and_more(trays.len() - MOST_TRAYS));
        }
    });
}

/// With whom its trays are shared, each a click to the tray.
fn shares_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, actions: &mut Vec<Action>) {
    for (tray, text) in scene.words().shares(sowing.id) {
        if ui.add(Button::new(text).wrap().min_size(vec2(0.0, theme::TARGET_PT))).clicked() {
            show_tray(scene, tray, actions);
        }
    }
}
