//! The line to write what to grow in, with what it would mean below.

use egui::{Button, Key, Label, RichText, TextEdit, Ui, vec2};

use crate::forecast;
use crate::season::{Crop, Edit, EditLabel, Op, Sowing, SowingId};
use crate::trade::QuickLine;
use crate::words;

use crate::window::action::Action;
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

#[derive(Default)]
pub(in crate::window) struct Quick {
    text: String,
    /// Enter was pressed on what can't be read; the reason counts as trouble until it is changed.
    refused: bool,
    read: Option<Read>,
}

/// What the text meant for the season at that revision.
struct Read {
    text: String,
    revision: u64,
    meaning: Result<Meaning, String>,
}

struct Meaning {
    sowing: Sowing,
    name: String,
    said: String,
}

/// The sowing that was added in this frame.
pub(in crate::window) fn quick_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    quick: &mut Quick,
    revision: u64,
    actions: &mut Vec<Action>,
) -> Option<SowingId> {
    let palette = Palette::of(ui);
    let (response, pressed) = ui
        .horizontal(|ui| {
            let label = ui.label(theme::bold("What to grow"));
            let width = (ui.available_width() - 130.0).clamp(160.0, 640.0);
            let field = TextEdit::singleline(&mut quick.text)
                .hint_text(words::LINE_EXAMPLE)
                .desired_width(width)
                .min_size(vec2(width, 28.0));
            let response = ui.add(field).labelled_by(label.id);
            (response, ui.add(Button::new("Add sowing").min_size(vec2(110.0, 28.0))).clicked())
        })
        .inner;
    if response.changed() {
        quick.refused = false;
    }
    let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    quick.follow(scene, revision);
    let mut added = None;
    if entered || pressed {
        match quick.read.as_ref().map(|read| &read.meaning) {
            Some(Ok(meaning)) => {
                let put = Op::PutSowing(meaning.sowing.clone());
                actions.push(Action::edit(Edit::new(EditLabel::AddSowing(meaning.name.clone()), vec![put])));
                added = Some(meaning.sowing.id);
                quick.text.clear();
            }
            Some(Err(_)) | None => quick.refused = true,
        }
        response.request_focus();
    }
    let (said, ink) = match quick.read.as_ref().map(|read| &read.meaning) {
        Some(Ok(meaning)) => (meaning.said.as_str(), palette.ink),
        Some(Err(why)) if quick.refused => (why.as_str(), palette.trouble),
        Some(Err(why)) => (why.as_str(), palette.soft_ink),
        None => (
            "Number, crop, the day it goes out; a variety in quotation marks and “sow 7 Feb” if you like",
            palette.soft_ink,
        ),
    };
    // Two lines of room, so that nothing below moves while a line is typed.
    ui.allocate_ui(vec2(ui.available_width(), 36.0), |ui| {
        ui.set_min_height(36.0);
        ui.add(Label::new(RichText::new(said).color(ink)).wrap());
    });
    added
}

impl Quick {
    /// Works out what the text means when it or the season has changed, and only then.
    fn follow(&mut self, scene: &Scene<'_>, revision: u64) {
        if self.text.trim().is_empty() {
            self.read = None;
            return;
        }
        let known = self.read.as_ref().is_some_and(|read| read.text == self.text && read.revision == revision);
        if !known {
            let meaning = meaning(scene, &self.text);
            self.read = Some(Read { text: self.text.clone(), revision, meaning });
        }
    }
}

fn meaning(scene: &Scene<'_>, text: &str) -> Result<Meaning, String> {
    let near = scene.near();
    let own: Vec<&Crop> = scene.season.own_crops().collect();
    let others = scene.library.crops.values().filter(|crop| own.iter().all(|one| one.key != crop.key));
    let frost = scene.season.settings().frost.as_ref();
    let line = QuickLine::read(text, own.iter().copied().chain(others), near, frost)
        .map_err(|why| words::quick_line_error(&why))?;
    let crop = scene.season.crop(scene.library, &line.crop).ok_or_else(|| format!("no crop “{}”", line.crop))?;
    let sowing = line.sowing(crop, scene.library).renumbered(scene.season.next_id());
    scene.season.may(&Op::PutSowing(sowing.clone()).into()).map_err(|why| words::refusal(&why))?;
    let mut said = would_mean(scene, crop, &sowing);
    if let Some(frost) = frost.filter(|_| line.by_frost) {
        said = format!("{said}; out {}", words::out_by_frost(line.out, frost));
    }
    Ok(Meaning { sowing, name: crop.name.clone(), said })
}

pub(super) fn would_mean(scene: &Scene<'_>, crop: &Crop, sowing: &Sowing) -> String {
    let own = forecast::of_one(scene.season, scene.library, sowing);
    let peak = scene.forecast.peak_with(&own.stays);
    scene.words().would_mean(&words::with_variety(&crop.name, &sowing.variety), sowing, &own, peak)
}
