//! Cautions beside the figures they concern: a line, folded until it is asked for.

use egui::{CollapsingHeader, Ui};

use super::row::soft_ui;
use crate::units::LengthUnit;
use crate::words::cautions::{Care, DEFER};

pub(in crate::window) fn cautions_ui(ui: &mut Ui, care: Care, unit: LengthUnit) {
    CollapsingHeader::new(care.title()).id_salt(("care", care.title())).show(ui, |ui| {
        for line in care.lines(unit) {
            soft_ui(ui, &line);
        }
        soft_ui(ui, DEFER);
    });
}
