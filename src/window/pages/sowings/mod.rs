//! The sowings page: a line to write what to grow in, the list of what is sown, and the sowing
//! that is looked at, with every date and its reason.
//!
//! What is typed stays in its field until it is taken or given up; each value taken is one edit.

mod already_here;
mod dates;
mod editor;
mod out;
mod quick;
mod steps;

use egui::{Frame, Margin, Panel, RichText, ScrollArea, Ui};

use crate::season::SowingId;

use crate::window::action::{Action, Go};
use crate::window::kit::old_typed::Fields;
use crate::window::scene::Scene;
use crate::window::sowing_list::{SowingList, sowing_list_ui};
use crate::window::state::Page;
use crate::window::theme::Palette;

pub(in crate::window) use already_here::{Middle, middle_ui};
pub(in crate::window) use quick::{Quick, quick_ui};

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct SowingsPage {
    quick: Quick,
    middle: Middle,
    /// The form for plants that stand there already is shown.
    in_the_middle: bool,
    list: SowingList,
    /// The sowing looked at; the first of the list without one.
    selected: Option<SowingId>,
    fields: Fields,
}

impl SowingsPage {
    pub(in crate::window) fn look_at(&mut self, sowing: SowingId) {
        self.selected = Some(sowing);
        self.list.bring = Some(sowing);
        self.in_the_middle = false;
    }
}

pub(in crate::window) fn sowings_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut SowingsPage,
    revision: u64,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let frame = Frame::new().fill(palette.paper);
    let top = frame.inner_margin(Margin { left: 16, right: 16, top: 10, bottom: 8 });
    Panel::top("quick line").frame(top).show(ui, |ui| {
        if let Some(added) = quick_ui(ui, scene, &mut page.quick, revision, actions) {
            page.look_at(added);
        }
        let open = page.in_the_middle;
        let text = if open { "Back to the sowings" } else { "They stand here already…" };
        ui.horizontal(|ui| {
            if ui.add(egui::Button::new(text).selected(open).min_size(egui::vec2(180.0, 26.0))).clicked() {
                page.in_the_middle = !open;
            }
            if ui.add(egui::Button::new("Last frost…").min_size(egui::vec2(110.0, 26.0))).clicked() {
                actions.push(Action::Go(Go::Page(Page::Frost)));
            }
            let table = egui::Button::new("Take in a sowing table…").min_size(egui::vec2(180.0, 26.0));
            if ui.add(table).clicked() {
                actions.push(Action::Go(Go::Page(Page::SowingTable)));
            }
        });
    });
    let rows = page.list.rows(scene);
    let selected = page.selected.filter(|id| scene.season.sowing(*id).is_some());
    let selected = selected.or_else(|| rows.first().map(|row| row.id));
    let side = Frame::new().fill(palette.panel).inner_margin(Margin { left: 12, right: 8, top: 8, bottom: 0 });
    Panel::left("sowing list").frame(side).default_size(400.0).size_range(300.0..=620.0).show(ui, |ui| {
        if let Some(chosen) = sowing_list_ui(ui, &mut page.list, &rows, selected) {
            page.selected = Some(chosen);
            page.in_the_middle = false;
        }
    });
    let main = frame.inner_margin(Margin { left: 16, right: 8, top: 10, bottom: 0 });
    egui::CentralPanel::default().frame(main).show(ui, |ui| {
        ScrollArea::vertical().id_salt(("sowing", selected, page.in_the_middle)).auto_shrink([false, false]).show(
            ui,
            |ui| {
                if page.in_the_middle {
                    if let Some(added) = already_here::middle_ui(ui, scene, &mut page.middle, actions) {
                        page.look_at(added);
                    }
                } else if let Some(sowing) = selected.and_then(|id| scene.season.sowing(id)) {
                    if let Some(copied) = editor::editor_ui(ui, scene, sowing, &mut page.fields, actions) {
                        page.look_at(copied);
                    }
                } else {
                    let said = "Nothing is sown in this season yet: write what to grow in the line above";
                    ui.label(RichText::new(said).color(palette.soft_ink));
                }
            },
        );
    });
}
