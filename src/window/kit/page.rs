//! The shell of a page: a list at the left, what was chosen in the middle, a form beside its drawing.

use std::hash::Hash;
use std::ops::RangeInclusive;

use egui::{Frame, Margin, Panel, ScrollArea, Ui};

use crate::window::theme::Palette;

/// At most half of a page: in a small window something is seen of both.
fn at_most_half(ui: &Ui, range_pt: &RangeInclusive<f32>) -> RangeInclusive<f32> {
    let half = ui.available_width() / 2.0;
    range_pt.start().min(half)..=range_pt.end().min(half)
}

/// The left side, as wide as the grower drags it.
pub(in crate::window) fn side_ui(
    ui: &mut Ui,
    id: &'static str,
    usual_pt: f32,
    range_pt: RangeInclusive<f32>,
    list: impl FnOnce(&mut Ui),
) {
    let side = Frame::new().fill(Palette::of(ui).panel).inner_margin(Margin::symmetric(12, 10));
    let range_pt = at_most_half(ui, &range_pt);
    Panel::left(id).frame(side).default_size(usual_pt).size_range(range_pt).show(ui, list);
}

/// The right side, scrolled by itself.
pub(in crate::window) fn right_side_ui(
    ui: &mut Ui,
    id: &'static str,
    usual_pt: f32,
    range_pt: RangeInclusive<f32>,
    beside: impl FnOnce(&mut Ui),
) {
    let side = Frame::new().fill(Palette::of(ui).panel).inner_margin(Margin::symmetric(12, 10));
    let range_pt = at_most_half(ui, &range_pt);
    Panel::right(id).frame(side).default_size(usual_pt).size_range(range_pt).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, beside);
    });
}

/// The rest; each `of` is scrolled by itself.
pub(in crate::window) fn middle_ui(ui: &mut Ui, of: impl Hash + std::fmt::Debug, middle: impl FnOnce(&mut Ui)) {
    let frame = Frame::new().fill(Palette::of(ui).paper).inner_margin(Margin::symmetric(20, 14));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).id_salt(("middle", of)).show(ui, middle);
    });
}

/// A form with what it draws beside it; below it where the page is too narrow for both.
pub(in crate::window) fn beside_ui<T>(
    ui: &mut Ui,
    form_pt: f32,
    state: &mut T,
    form: impl FnOnce(&mut Ui, &mut T),
    drawing: impl FnOnce(&mut Ui, &mut T),
) {
    beside_at_least_ui(ui, form_pt, 320.0, state, form, drawing);
}

/// The same where what stands beside the form needs other room than a drawing.
pub(in crate::window) fn beside_at_least_ui<T>(
    ui: &mut Ui,
    form_pt: f32,
    least_pt: f32,
    state: &mut T,
    form: impl FnOnce(&mut Ui, &mut T),
    drawing: impl FnOnce(&mut Ui, &mut T),
) {
    if ui.available_width() < form_pt + least_pt {
        form(ui, state);
        drawing(ui, state);
        return;
    }
    ui.horizontal_top(|ui| {
        ui.vertical(|ui| {
            ui.set_width(form_pt);
            form(ui, state);
        });
        ui.add_space(16.0);
        ui.vertical(|ui| drawing(ui, state));
    });
}
