//! The frame of a question that has to be answered before going on.

use egui::{Modal, Ui};

pub(super) fn modal(ui: &Ui, name: &'static str) -> Modal {
    let frame = egui::Frame::popup(ui.style()).inner_margin(18).corner_radius(4);
    Modal::new(egui::Id::unique(name)).frame(frame)
}
