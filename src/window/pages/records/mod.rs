//! The records page: what was planned of a sowing beside what became of it, what the grower saw, and
//! what follows from that. Each record is one edit; the forecast follows at once.

mod facts;
mod observed;
mod planned;
mod put;
mod write;

use std::collections::BTreeMap;

use egui::{Button, RichText, Ui, vec2};

use crate::forecast::jobs::Job;
use crate::season::{Sowing, SowingId};
use crate::words::{records as said, sowings};

use crate::window::action::{Action, Go};
use crate::window::kit::{Drafts, Owner, State, beside_ui, middle_ui, side_ui, state_next_ui, title_ui};
use crate::window::scene::Scene;
use crate::window::sowing::{Listing, listed_ui};
use crate::window::state::Page;
use crate::window::theme;

use write::{Entered, Writing};

const RECORDS_PT: f32 = 424.0;

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct RecordsPage {
    list: Listing,
    writing: BTreeMap<SowingId, Writing>,
    last: Option<Entered>,
}

impl RecordsPage {
    pub(in crate::window) const fn look_at(&mut self, sowing: SowingId) {
        self.list.look_at(sowing);
    }

    /// What was typed of another kind of record goes.
    pub(in crate::window) fn write_down(&mut self, sowing: &Sowing, job: &Job, drafts: &mut Drafts) {
        self.look_at(sowing.id);
        drafts.forget_all(&Owner::NewRecord(sowing.id));
        self.writing.insert(sowing.id, Writing::of(sowing, job));
    }
}

pub(in crate::window) fn records_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut RecordsPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let mut shown = None;
    side_ui(ui, "sowings_seen", 380.0, 300.0..=620.0, |ui| {
        (shown, _) = listed_ui(ui, "sowings_seen", scene, &mut page.list, actions);
    });
    middle_ui(ui, ("records", shown.map(|sowing| sowing.id)), |ui| match shown {
        Some(sowing) => sowing_ui(ui, scene, sowing, page, drafts, actions),
        None => {
            if state_next_ui(ui, State::NothingSown, said::NOTHING_SOWN, sowings::WRITE_FIRST) {
                actions.push(Action::Go(Go::WriteSowing));
            }
        }
    });
}

fn sowing_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sowing: &Sowing,
    page: &mut RecordsPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    ui.horizontal_wrapped(|ui| {
        title_ui(ui, &scene.words().sowing(sowing.id));
        ui.add_space(8.0);
        for (text, action) in [
            (said::CHANGE_PLAN, [Action::Go(Go::Sowing(sowing.id)), Action::Go(Go::Page(Page::Sowings))].to_vec()),
            (said::NEXT_YEAR, vec![Action::Go(Go::Page(Page::NextYear))]),
        ] {
            if ui.add(Button::new(text).min_size(vec2(120.0, 28.0))).clicked() {
                actions.extend(action);
            }
        }
    });
    facts::facts_ui(ui, scene, sowing, actions);
    ui.add_space(8.0);
    let writing = (page.writing.entry(sowing.id).or_default(), &mut page.last);
    let records_ui = |ui: &mut Ui, drafts: &mut Drafts| {
        part_ui(ui, said::SEEN_SO_FAR);
        observed::observed_ui(ui, scene, sowing, drafts, actions);
        ui.add_space(8.0);
        part_ui(ui, said::WRITE_DOWN);
        write::write_ui(ui, scene, sowing, writing, drafts, actions);
        ui.add_space(12.0);
    };
    beside_ui(ui, RECORDS_PT, drafts, records_ui, |ui, _| {
        part_ui(ui, said::PLANNED_AND_ACTUAL);
        planned::planned_ui(ui, scene, sowing);
    });
    ui.add_space(16.0);
}

fn part_ui(ui: &mut Ui, title: &str) {
    ui.label(RichText::new(title).font(theme::strong(theme::PART_PT)));
    ui.add_space(2.0);
}
