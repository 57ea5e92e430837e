//! A sentence in which the days, shelves, trays, sowings and crops that it names lead to them: by a click, and by keys with
//! arrows from one to the next and Enter.

use std::sync::Arc;

use egui::text::{CCursor, LayoutJob, TextFormat};
use egui::{Color32, CursorIcon, EventFilter, FontId, Key, Modifiers, Role, Sense, Stroke, Ui, WidgetInfo};

use crate::window::action::{Action, Go};
use crate::window::scene::Scene;
use crate::window::space::Space;
use crate::window::state::Page;
use crate::window::theme::Palette;
use crate::words::Named;

/// Draws it in that ink, wrapped; what is asked for by it goes to `actions`.
pub(in crate::window) fn linked_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sentence: &str,
    (font, ink): (FontId, Color32),
    actions: &mut Vec<Action>,
) {
    let named = scene.words().named_in(sentence);
    let mut job = LayoutJob::default();
    job.wrap.max_width = ui.available_width();
    let mut piece = |part: Option<&str>, underline: Stroke| {
        let format = TextFormat { underline, ..TextFormat::simple(font.clone(), ink) };
        job.append(part.unwrap_or_default(), 0.0, format);
    };
    let mut done = 0;
    for (range, _) in &named {
        piece(sentence.get(done..range.start), Stroke::NONE);
        piece(sentence.get(range.clone()), Stroke::new(1.0, ink.gamma_multiply(0.7)));
        done = range.end;
    }
    piece(sentence.get(done..), Stroke::NONE);
    let galley = ui.painter().layout_job(job);
    let sense = if named.is_empty() { Sense::hover() } else { Sense::click() };
    let (rect, response) = ui.allocate_exact_size(galley.size(), sense);
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, sentence));
    let below = response.hover_pos().and_then(|pos| {
        let character = galley.cursor_from_pos(pos - rect.min).index.0;
        let byte = sentence.char_indices().nth(character).map_or(sentence.len(), |(byte, _)| byte);
        named.iter().find(|(range, _)| range.contains(&byte)).map(|(_, named)| named)
    });
    ui.painter().galley(rect.min, Arc::clone(&galley), ink);
    if below.is_some() {
        ui.set_cursor_icon(CursorIcon::PointingHand);
    }
    let mut wanted = below.filter(|_| response.clicked());
    if response.has_focus() {
        let id = response.id.with("at");
        let at = ui.data(|data| data.get_temp::<usize>(id)).unwrap_or(0).min(named.len().saturating_sub(1));
        let at = by_keys(ui, response.id, at, named.len());
        ui.data_mut(|data| data.insert_temp(id, at));
        if let Some((range, named)) = named.get(at) {
            let edge = |byte: usize| {
                let index = sentence.get(..byte).map_or(0, |before| before.chars().count());
                galley.pos_from_cursor(CCursor::new(index)).translate(rect.min.to_vec2())
            };
            let (from, to) = (edge(range.start), edge(range.end));
            let line = [from.left_bottom(), to.left_bottom()];
            ui.painter().line_segment(line, Stroke::new(2.5, Palette::of(ui).selected));
            if ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Enter)) {
                wanted = Some(named);
            }
        }
    }
    actions.extend(wanted.into_iter().flat_map(leads_to));
}

fn by_keys(ui: &Ui, id: egui::Id, at: usize, number: usize) -> usize {
    let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
    let pressed = |key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    if pressed(Key::ArrowRight) {
        (at + 1).min(number.saturating_sub(1))
    } else if pressed(Key::ArrowLeft) {
        at.saturating_sub(1)
    } else {
        at
    }
}

fn leads_to(named: &Named) -> Vec<Action> {
    let to = match named {
        Named::Day(day) => vec![Go::Day(*day)],
        Named::Shelf(shelf) => vec![Go::Page(Page::Shelves), Go::Space(Some(Space::Shelf(*shelf)))],
        Named::Tray(tray) => vec![Go::Page(Page::Shelves), Go::Select(Some(*tray))],
        Named::Sowing(sowing) => vec![Go::Sowing(*sowing), Go::Page(Page::Plan)],
        Named::Crop(crop) => vec![Go::Crop(crop.clone())],
    };
    to.into_iter().map(Action::Go).collect()
}
