//! The records page: what was planned of a sowing beside what became of it, what the grower saw, and
//! what follows from that. Each record is one edit; the forecast follows at once.

mod facts;
mod observed;
mod planned;
mod write;

use std::collections::BTreeMap;

use egui::{Button, Frame, Margin, Panel, RichText, ScrollArea, Ui, vec2};

use crate::season::{Edit, EditError, EditLabel, Op, Season, Sowing, SowingId};

use crate::window::action::{Action, Go};
use crate::window::kit::beside_ui;
use crate::window::kit::old_typed::Fields;
use crate::window::scene::Scene;
use crate::window::sowing_list::{SowingList, sowing_list_ui};
use crate::window::state::Page;
use crate::window::theme::{self, Palette};

use write::Writing;

const RECORDS_PT: f32 = 424.0;

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct RecordsPage {
    list: SowingList,
    /// The first of the list without one.
    chosen: Option<SowingId>,
    fields: Fields,
    writing: BTreeMap<SowingId, Writing>,
}

impl RecordsPage {
    pub(in crate::window) fn look_at(&mut self, sowing: SowingId) {
        self.chosen = Some(sowing);
        self.list.bring = Some(sowing);
    }
}

pub(in crate::window) fn records_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut RecordsPage, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let rows = page.list.rows(scene);
    let chosen = page.chosen.filter(|id| scene.season.sowing(*id).is_some());
    let chosen = chosen.or_else(|| rows.first().map(|row| row.id));
    let side = Frame::new().fill(palette.panel).inner_margin(Margin { left: 12, right: 8, top: 8, bottom: 0 });
    Panel::left("sowings seen").frame(side).default_size(380.0).size_range(300.0..=620.0).show(ui, |ui| {
        if let Some(one) = sowing_list_ui(ui, &mut page.list, &rows, chosen) {
            page.chosen = Some(one);
        }
    });
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin { left: 16, right: 8, top: 10, bottom: 0 });
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().id_salt(("records of", chosen)).auto_shrink([false, false]).show(ui, |ui| match chosen
            .and_then(|id| scene.season.sowing(id))
        {
            Some(sowing) => sowing_ui(ui, scene, sowing, page, actions),
            None => drop(
                ui.label(
                    RichText::new("Nothing is sown in this season yet: there is nothing to write down")
                        .color(palette.soft_ink),
                ),
            ),
        });
    });
}

fn sowing_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing, page: &mut RecordsPage, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(scene.words().sowing(sowing.id)).font(theme::strong(theme::TITLE_PT)));
        ui.add_space(8.0);
        for (text, action) in [
            ("Change the plan…", [Action::Go(Go::Sowing(sowing.id)), Action::Go(Go::Page(Page::Sowings))].to_vec()),
            ("Make next year’s season…", vec![Action::Go(Go::Page(Page::NextYear))]),
        ] {
            if ui.add(Button::new(text).min_size(vec2(120.0, 28.0))).clicked() {
                actions.extend(action);
            }
        }
    });
    facts::facts_ui(ui, scene, sowing, actions);
    ui.add_space(8.0);
    let records_ui = |ui: &mut Ui, page: &mut RecordsPage| {
        title_ui(ui, "Seen so far");
        observed::observed_ui(ui, scene, sowing, &mut page.fields, actions);
        ui.add_space(8.0);
        title_ui(ui, "Write down");
        write::write_ui(ui, scene, sowing, page.writing.entry(sowing.id).or_default(), actions);
        ui.add_space(12.0);
    };
    beside_ui(ui, RECORDS_PT, page, records_ui, |ui, _| {
        title_ui(ui, "Planned and actual");
        planned::planned_ui(ui, scene, sowing);
    });
    ui.add_space(16.0);
}

fn title_ui(ui: &mut Ui, title: &str) {
    ui.label(RichText::new(title).font(theme::strong(14.0)));
    ui.add_space(2.0);
}

/// As one step that is called so, or why the season does not take it.
fn put(season: &Season, label: EditLabel, sowing: Sowing) -> Result<Action, EditError> {
    let edit = Edit::new(label, vec![Op::PutSowing(sowing)]);
    season.may(&edit)?;
    Ok(Action::edit(edit))
}
