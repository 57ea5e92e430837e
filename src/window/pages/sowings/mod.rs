//! The sowings page: a line to write what to grow in, the list of what is sown, and the sowing
//! that is looked at, with every date and its reason.
//!
//! What is typed stays in its field until it is taken or given up; each value taken is one edit.

mod dates;
mod editor;
mod lots;
mod one;
mod out;
mod plants;
mod steps;

use egui::{Button, Frame, Margin, Panel, Ui, vec2};

use crate::season::{Sowing, SowingId};
use crate::words::{already_here, sowings as said};

use crate::window::action::{Action, Go};
use crate::window::kit::{Drafts, State, middle_ui, side_ui, state_ui};
use crate::window::scene::Scene;
use crate::window::sowing::{AlreadyHere, Line, Listing, already_here_ui, listed_ui, sowing_line_ui};
use crate::window::state::Page;
use crate::window::theme::Palette;

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct SowingsPage {
    line: Line,
    here: AlreadyHere,
    /// The form for plants that stand there already is shown.
    adds_here: bool,
    list: Listing,
}

impl SowingsPage {
    pub(in crate::window) const fn look_at(&mut self, sowing: SowingId) {
        self.list.look_at(sowing);
        self.adds_here = false;
    }

    pub(in crate::window) const fn add_here(&mut self) {
        self.adds_here = true;
    }
}

pub(in crate::window) fn sowings_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut SowingsPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let top = Frame::new().fill(Palette::of(ui).paper);
    let top = top.inner_margin(Margin { left: 16, right: 16, top: 10, bottom: 8 });
    Panel::top("sowing_line").frame(top).show(ui, |ui| top_ui(ui, scene, page, drafts, actions));
    let mut shown = None;
    side_ui(ui, "sowings", 400.0, 300.0..=620.0, |ui| {
        let pressed;
        (shown, pressed) = listed_ui(ui, "sowings", scene, &mut page.list, actions);
        page.adds_here &= !pressed;
    });
    middle_ui(ui, ("sowing", shown.map(|sowing| sowing.id), page.adds_here), |ui| {
        if let Some(new) = shown_ui(ui, scene, shown, page, drafts, actions) {
            page.look_at(new);
        }
    });
}

fn top_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut SowingsPage, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    if let Some(added) = sowing_line_ui(ui, scene, &mut page.line, drafts, actions, |_, _| {}) {
        page.look_at(added);
    }
    ui.horizontal(|ui| {
        let open = page.adds_here;
        let text = if open { said::BACK } else { already_here::OPEN };
        if ui.add(Button::new(text).selected(open).min_size(vec2(180.0, 26.0))).clicked() {
            page.adds_here = !open;
        }
        for (text, to, width) in [(said::LAST_FROST, Page::Frost, 110.0), (said::TAKE_IN, Page::SowingTable, 180.0)] {
            if ui.add(Button::new(text).min_size(vec2(width, 26.0))).clicked() {
                actions.push(Action::Go(Go::Page(to)));
            }
        }
    });
}

/// The sowing that was added in this frame.
fn shown_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    shown: Option<&Sowing>,
    page: &mut SowingsPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) -> Option<SowingId> {
    match shown {
        _ if page.adds_here => already_here_ui(ui, scene, &mut page.here, drafts, actions),
        Some(sowing) => one::sowing_ui(ui, scene, sowing, drafts, actions),
        None => {
            state_ui(ui, State::NothingSown, said::NONE_YET);
            None
        }
    }
}
