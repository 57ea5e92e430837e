//! The sowings page: what is sown, what becomes of it, and why then. Read only.

use egui::{Frame, RichText, ScrollArea, Ui};

use crate::words;

use super::action::Action;
use super::seen::{Seen, counted};
use super::theme::{self, Palette};

pub(super) fn sowings_ui(ui: &mut Ui, seen: &Seen<'_>, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let frame = Frame::new().fill(palette.paper).inner_margin(20);
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            let mut any = false;
            for sowing in seen.season.sowings() {
                any = true;
                let family = seen.season.crop(seen.library, &sowing.crop).map_or("", |crop| crop.family.as_str());
                sowing_ui(ui, palette, seen, sowing, palette.family(family), actions);
            }
            if !any {
                ui.label("Nothing is sown in this season");
            }
        });
    });
}

fn sowing_ui(
    ui: &mut Ui,
    palette: &Palette,
    seen: &Seen<'_>,
    sowing: &crate::season::Sowing,
    family: theme::Family,
    actions: &mut Vec<Action>,
) {
    let words = seen.words();
    ui.horizontal_wrapped(|ui| {
        let (rect, _) = ui.allocate_exact_size(egui::vec2(14.0, 14.0), egui::Sense::hover());
        ui.painter().rect(
            rect,
            egui::CornerRadius::same(1),
            family.fill,
            egui::Stroke::new(1.0, family.ink),
            egui::StrokeKind::Inside,
        );
        ui.label(RichText::new(words.sowing(sowing.id)).font(theme::strong(15.0)).color(palette.ink));
        let wanted: Vec<String> =
            sowing.wanted.iter().map(|one| format!("{} by {}", one.plants, words::day(one.date))).collect();
        ui.label(RichText::new(format!("wanted: {}", wanted.join(", "))).color(palette.soft_ink));
    });
    for course in seen.forecast.courses_of(sowing.id) {
        let trays: u32 = course.trays.iter().map(|(_, trays)| *trays).sum();
        ui.label(format!(
            "{} to sow on average, {} to be sure {} times in 100; {} in all steps",
            course.sow.on_average,
            course.sow.sure,
            course.sow.sure_percent,
            counted(trays as usize, "tray"),
        ));
        ui.indent(("course", course.lot), |ui| {
            for event in &course.events {
                ui.horizontal_wrapped(|ui| {
                    let go =
                        ui.add(egui::Button::new(words::day(event.date)).min_size(egui::vec2(72.0, theme::TARGET_PT)));
                    let name = format!("Show {} on the shelves", words::full_day(event.date));
                    go.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &name));
                    if go.on_hover_text(name.clone()).clicked() {
                        actions.push(Action::ShowDay(event.date));
                        actions.push(Action::ShowPage(super::state::Page::Shelves));
                    }
                    ui.label(words.event(event));
                });
            }
        });
    }
    ui.add_space(14.0);
}
