//! The line that stands there while a change is shown before it is made.

use egui::{Align, Button, Frame, Label, Layout, Margin, Panel, RichText, Ui, vec2};

use crate::words::{Words, ways_out as said};

use super::action::{Action, Do, Go};
use super::theme::{self, Palette};
use super::ways::{Preview, Shown};

pub(super) fn preview_ui(ui: &mut Ui, preview: &Preview, words: &Words<'_>, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let frame = Frame::new().fill(palette.shelf).inner_margin(Margin::symmetric(16, 4));
    Panel::top("preview").frame(frame).show_separator_line(false).show(ui, |ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let size = vec2(84.0, 30.0);
            if ui.add(Button::new(said::DO_IT).min_size(size)).clicked() {
                actions.push(Action::Do(Do::TakePreview));
            }
            if ui.add(Button::new(said::BACK).min_size(size)).clicked() {
                actions.push(Action::Go(Go::LeavePreview));
            }
            ui.with_layout(Layout::top_down(Align::Min), |ui| {
                let text = RichText::new(match &preview.shown {
                    Shown::Way(way) => words.shown_first(way),
                    Shown::WhatIf(what_if) => words.as_it_might_go(what_if),
                    Shown::ByHand => return,
                })
                .font(theme::strong(theme::BODY_PT));
                ui.add(Label::new(text.color(palette.ink)).wrap());
            });
        });
    });
}
