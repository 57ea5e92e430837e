//! What was odd about the rows, each with its line and column; a row off its rule can be moved to it.

use egui::{Button, Label, RichText, ScrollArea, Ui, WidgetInfo, vec2};

use crate::store::sowings::{Odd, OddKind};
use crate::words::sowing_table as said;

use super::preview::PreviewView;
use super::reading::TableFile;
use crate::window::kit::button_ui;
use crate::window::theme::{self, Palette};

/// So many at a time: each is as high as its words.
const AT_A_TIME: usize = 40;

#[derive(Default)]
pub(super) struct OddView {
    from: usize,
}

/// Whether the grower has one of them keep to other days now.
pub(super) fn odd_ui(ui: &mut Ui, file: &mut TableFile, view: &mut OddView, preview: &mut PreviewView) -> bool {
    let TableFile { found: Ok(found), weeks, .. } = file else { return false };
    let mut changed = false;
    ScrollArea::vertical().id_salt("odd_rows").auto_shrink([false, false]).show(ui, |ui| {
        ui.label(RichText::new(said::ODD).font(theme::strong(theme::TITLE_PT)));
        if view.from >= found.odd.len() {
            view.from = 0;
        }
        pages_ui(ui, view, found.odd.len());
        let shown = found.odd.iter().enumerate().skip(view.from).take(AT_A_TIME);
        let mut before = "";
        for (at, odd) in shown {
            let group = group(odd);
            if group != before {
                ui.add_space(8.0);
                let number = found.odd.iter().filter(|odd| self::group(odd) == group).count();
                ui.label(theme::bold(said::group(group, number)));
                before = group;
            }
            ui.push_id(at, |ui| changed |= one_ui(ui, odd, weeks, preview));
        }
    });
    changed
}

fn pages_ui(ui: &mut Ui, view: &mut OddView, all: usize) {
    if all <= AT_A_TIME {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.label(said::part(view.from + 1, all.min(view.from + AT_A_TIME), all));
        if view.from > 0 && button_ui(ui, said::BEFORE) {
            view.from = view.from.saturating_sub(AT_A_TIME);
        }
        if view.from + AT_A_TIME < all && button_ui(ui, said::AFTER) {
            view.from += AT_A_TIME;
        }
    });
}

const fn group(odd: &Odd) -> &'static str {
    match odd.kind {
        OddKind::OffRule { .. } => said::OFF_RULE,
        OddKind::LeftOut(_) => said::LEFT_OUT,
        OddKind::OffDays { .. } => said::OFF_DAYS,
        OddKind::NoNumber => said::NO_NUMBER,
        OddKind::NoContainer { .. } => said::NO_CONTAINER,
    }
}

fn one_ui(ui: &mut Ui, odd: &Odd, weeks: &mut std::collections::BTreeMap<u64, i16>, preview: &mut PreviewView) -> bool {
    ui.add_space(4.0);
    let place = said::place(odd.line, odd.column);
    let button = Button::new(theme::bold(&place)).min_size(vec2(72.0, theme::TARGET_PT));
    let response = ui.add(button).on_hover_text(said::SHOWS_ROW);
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, said::show_row(odd.line, odd.column)));
    if response.clicked() {
        preview.bring(odd.line);
    }
    let palette = Palette::of(ui);
    let ink = if odd.is_left_out() { palette.trouble } else { palette.ink };
    ui.add(Label::new(RichText::new(odd.in_words()).color(ink)).wrap());
    let OddKind::OffRule { out, would_be, kept_to, .. } = &odd.kind else { return false };
    let mut changed = false;
    let mut choice_ui = |ui: &mut Ui, text: String, chosen: Option<i16>| {
        let response = ui.add(egui::RadioButton::new(*kept_to == chosen, &text));
        let (name, now) = (said::of_line(odd.line, &text), *kept_to == chosen);
        response.widget_info(|| WidgetInfo::selected(egui::Role::RadioButton, true, now, &name));
        if response.clicked() && !now {
            match chosen {
                Some(chosen) => weeks.insert(odd.line, chosen),
                None => weeks.remove(&odd.line),
            };
            changed = true;
        }
    };
    choice_ui(ui, said::own_dates(*out), None);
    for (number, out, _) in would_be {
        choice_ui(ui, said::by_weeks(*number, *out), Some(*number));
    }
    changed
}
