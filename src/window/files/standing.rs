//! What stays on screen until it is so no more: work that is not kept, a file that somebody changed.

use egui::{Align, Button, Frame, Label, Layout, Margin, Panel, RichText, Ui, vec2};

use crate::words::files as said;

use super::file::Files;
use crate::window::action::{Action, File, Keep};
use crate::window::theme::{self, Palette};

pub(in crate::window) fn standing_ui(ui: &mut Ui, files: &Files, actions: &mut Vec<Action>) {
    for (name, line, decides) in
        [("not_kept", &files.standing.not_kept, false), ("elsewhere", &files.standing.elsewhere, true)]
    {
        let Some(line) = line else { continue };
        let palette = Palette::of(ui);
        let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(16, 3));
        Panel::top(name).frame(frame).show_separator_line(false).show(ui, |ui| {
            ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
                if decides && ui.add(Button::new(said::DECIDE).min_size(vec2(56.0, theme::TARGET_PT))).clicked() {
                    actions.push(Action::File(File::Keep(Keep::Decide)));
                }
                ui.with_layout(Layout::top_down(Align::Min), |ui| {
                    ui.add_space(4.0);
                    let text = RichText::new(line).font(theme::strong(theme::BODY_PT)).color(palette.trouble);
                    ui.add(Label::new(text).wrap());
                });
            });
        });
    }
}
