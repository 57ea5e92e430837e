//! The line to write what to grow in, with what it would mean below.

use egui::{Button, Key, Label, RichText, Ui, vec2};

use crate::season::{Sowing, SowingId};
use crate::trade::QuickLine;
use crate::words::{self, sowings as said};

use super::meaning::{Meant, meant_by};
use crate::window::action::Action;
use crate::window::kit::{Drafts, Field, Owner, text_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

/// In a lower window what a line means has one line of room.
const LOW_PT: f32 = 560.0;
/// Narrower than this, how to write a line is under the pointer.
const WIDE_PT: f32 = 1_100.0;
const OWNER: Owner = Owner::Form("sowing_line");

#[derive(Default)]
pub(in crate::window) struct Line {
    /// Enter was pressed on what can't be read; the reason counts as trouble until it is changed.
    refused: bool,
    read: Option<Read>,
    /// The field is to be written in.
    pub(in crate::window) asked_for: bool,
    says: Says,
}

/// How much is said of what it means, and of how to write it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Says {
    /// In the lines that there are; the rest is under the pointer.
    #[default]
    AsThereIsRoom,
    /// A few words, and an example.
    Briefly,
    /// However many lines that takes.
    All,
}

/// What the text meant for the season at that revision.
struct Read {
    text: String,
    revision: u64,
    meaning: Result<Meaning, String>,
}

struct Meaning {
    sowing: Sowing,
    add: Action,
    said: String,
    /// The same in a few words.
    brief: String,
}

/// The sowing that was added in this frame; `beside` the line stands what goes with it.
pub(in crate::window) fn sowing_line_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    line: &mut Line,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
    beside: impl FnOnce(&mut Ui, &mut Vec<Action>),
) -> Option<SowingId> {
    let row = ui.horizontal_wrapped(|ui| {
        let label = ui.label(theme::bold(said::WHAT_TO_GROW));
        let width = (ui.available_width() - 130.0).clamp(160.0, 480.0);
        let by_frost = line.says != Says::AsThereIsRoom && scene.season.settings().frost.is_some();
        let example = if by_frost { said::LINE_BY_FROST } else { said::LINE_EXAMPLE };
        let field = Field::new(said::WHAT_TO_GROW, "").hint(example).width(width);
        let response = text_ui(ui, drafts, &OWNER, &field, Some(&label));
        let pressed = ui.add(Button::new(said::ADD).min_size(vec2(104.0, 28.0))).clicked();
        if line.says != Says::AsThereIsRoom {
            let says_all = line.says == Says::All;
            let all = Button::new(said::ALL_WAYS).selected(says_all);
            if ui.add(all.min_size(vec2(104.0, 28.0))).clicked() {
                line.says = if says_all { Says::Briefly } else { Says::All };
            }
        }
        beside(ui, actions);
        (response, pressed)
    });
    let (response, pressed) = row.inner;
    if response.changed() {
        line.refused = false;
    }
    if std::mem::take(&mut line.asked_for) {
        response.request_focus();
    }
    let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    line.follow(scene, drafts.text(&OWNER, said::WHAT_TO_GROW).unwrap_or_default());
    let mut new = None;
    if entered || pressed {
        match line.read.as_ref().map(|read| &read.meaning) {
            Some(Ok(meaning)) => {
                actions.push(meaning.add.clone());
                new = Some(meaning.sowing.id);
                drafts.forget(&OWNER, said::WHAT_TO_GROW);
            }
            Some(Err(_)) | None => line.refused = true,
        }
        response.request_focus();
    }
    line.meaning_ui(ui);
    new
}

impl Line {
    /// Says little, and all of it where that is asked for.
    pub(in crate::window) fn say_little(&mut self) {
        if self.says == Says::AsThereIsRoom {
            self.says = Says::Briefly;
        }
    }

    /// Works out what the text means when it or the season has changed, and only then.
    fn follow(&mut self, scene: &Scene<'_>, text: &str) {
        if text.trim().is_empty() {
            self.read = None;
            return;
        }
        let revision = scene.revision;
        let known = self.read.as_ref().is_some_and(|read| read.text == text && read.revision == revision);
        if !known {
            let meaning = meaning(scene, text);
            self.read = Some(Read { text: text.to_owned(), revision, meaning });
        }
    }

    fn meaning_ui(&self, ui: &mut Ui) {
        let palette = Palette::of(ui);
        let is_brief = self.says == Says::Briefly;
        let (all, said, ink) = match self.read.as_ref().map(|read| &read.meaning) {
            Some(Ok(meaning)) if is_brief => (meaning.said.as_str(), meaning.brief.as_str(), palette.ink),
            Some(Ok(meaning)) => (meaning.said.as_str(), meaning.said.as_str(), palette.ink),
            Some(Err(why)) if self.refused => (why.as_str(), why.as_str(), palette.trouble),
            Some(Err(why)) => (why.as_str(), why.as_str(), palette.soft_ink),
            None if is_brief => (said::HOW_TO_WRITE, said::HOW_TO_REPEAT, palette.soft_ink),
            None => (said::HOW_TO_WRITE, said::HOW_TO_WRITE, palette.soft_ink),
        };
        // Two lines of room, so that nothing below moves while a line is typed; one where the window is low.
        let height = if ui.ctx().content_rect().height() < LOW_PT { 18.0 } else { 36.0 };
        let is_narrow = self.read.is_none() && ui.available_width() < WIDE_PT;
        ui.allocate_ui(vec2(ui.available_width(), height), |ui| {
            ui.set_min_height(height);
            let label = Label::new(RichText::new(said).color(ink));
            if self.says == Says::AsThereIsRoom && (height < 36.0 || is_narrow) {
                ui.add(label.truncate()).on_hover_text(all);
            } else {
                let label = ui.add(label.wrap());
                if is_brief {
                    label.on_hover_text(all);
                }
            }
        });
    }
}

fn meaning(scene: &Scene<'_>, text: &str) -> Result<Meaning, String> {
    let frost = scene.season.settings().frost.as_ref();
    let (crops, containers) = (scene.season.crops(scene.library), scene.season.containers(scene.library));
    let line =
        QuickLine::read(text, crops, containers, scene.near(), frost).map_err(|why| words::quick_line_error(&why))?;
    let crop = scene.season.crop(scene.library, &line.crop).ok_or_else(|| said::no_crop(&line.crop))?;
    let Meant { first: sowing, edit, said: meant, brief } = meant_by(scene, crop, &line)?;
    scene.season.may(&edit).map_err(|why| words::refusal(&why))?;
    let said = match frost.filter(|_| line.by_frost) {
        Some(frost) => said::meant_by_frost(&meant, line.out, frost, scene.unit),
        None => meant,
    };
    Ok(Meaning { add: Action::edit(edit), sowing, said, brief })
}
