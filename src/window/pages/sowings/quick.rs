//! The line to write what to grow in, with what it would mean below.

use chrono::NaiveDate;
use egui::{Button, Key, Label, RichText, TextEdit, Ui, vec2};

use crate::forecast::{self, Forecast, Stay, What};
use crate::outlook;
use crate::season::{Crop, Edit, EditLabel, Op, OutRule, Role, Rule, Sowing, SowingId, Wanted};
use crate::trade::{QuickLine, QuickLineError, chain_for, out_rule};
use crate::words;

use crate::window::action::Action;
use crate::window::scene::{Scene, counted};
use crate::window::theme::{self, Palette};

const EXAMPLE: &str = "72 tomato, out 16 May";

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
                .hint_text(EXAMPLE)
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
                actions.push(Action::Edit(Edit::new(EditLabel::AddSowing(meaning.name.clone()), vec![put])));
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
    let line = QuickLine::read(text, own.iter().copied().chain(others), near, frost).map_err(|why| match why {
        QuickLineError::NoPlants(_) => format!("{why}; write it as {EXAMPLE}"),
        why => why.to_string(),
    })?;
    let crop = scene.season.crop(scene.library, &line.crop).ok_or_else(|| format!("no crop “{}”", line.crop))?;
    let sowing = sowing_of(scene, crop, &line);
    scene.season.may(&Op::PutSowing(sowing.clone()).into()).map_err(|why| words::refusal(&why))?;
    let what_if = forecast::of_one(scene.season, scene.library, &sowing);
    let name =
        if line.variety.is_empty() { crop.name.clone() } else { format!("{} ‘{}’", crop.name, line.variety) };
    let mut said = sentence(scene, &name, &sowing, &what_if);
    if let Some(frost) = frost.filter(|_| line.by_frost) {
        said = format!("{said}; out {}", words::out_by_frost(line.out, frost));
    }
    Ok(Meaning { sowing, name: crop.name.clone(), said })
}

fn sowing_of(scene: &Scene<'_>, crop: &Crop, line: &QuickLine) -> Sowing {
    let rule = out_rule(crop).filter(|_| line.by_frost).unwrap_or(OutRule::Day);
    let wanted = Wanted { date: line.out, plants: line.plants, rule };
    let mut sowing = super::new_sowing(scene.season, crop, &line.variety, wanted, chain_for(crop, scene.library));
    if let (Some(first), Some(date)) = (sowing.steps.first_mut(), line.sow) {
        first.start = Rule::On(date);
    }
    sowing
}

pub(super) fn sentence(scene: &Scene<'_>, name: &str, sowing: &Sowing, what_if: &Forecast) -> String {
    let words = scene.words();
    let mut parts = Vec::new();
    let plants = counted(sowing.plants_wanted() as usize, "plant");
    for course in &what_if.courses {
        for (at, (id, trays)) in course.trays.iter().enumerate() {
            let Some(step) = sowing.steps.iter().find(|step| step.id == *id) else { continue };
            let trays = format!("{} of {}", counted(*trays as usize, "tray"), words.container(&step.container));
            let date = |what| course.date(what);
            parts.extend(match at {
                0 if sowing.begun.is_some() => {
                    sowing.begun.map(|begun| format!("{}, in {trays}", super::already_here::found(begun)))
                }
                0 => date(What::Sown).map(|date| format!("sown {} into {trays}", words::full_day(date))),
                _ => date(What::MovedOn(*id)).map(|date| format!("moved on {} into {trays}", words::day(date))),
            });
        }
    }
    parts.extend(sowing.out().map(|out| format!("out {}", words::full_day(out))));
    parts.extend(fullest(scene, &what_if.stays).map(|(day, own, all)| {
        let week = words::week(outlook::week_label(scene.season, day));
        format!("with them the growing shelves are fullest in {week}, {own} of {} theirs", counted(all, "tray"))
    }));
    format!("{plants} of {name}: {}", parts.join("; "))
}

/// The day on which most stand on growing shelves while these do: how many of these, how many in
/// all.
fn fullest(scene: &Scene<'_>, own: &[Stay]) -> Option<(NaiveDate, usize, usize)> {
    let mut steps: Vec<(NaiveDate, isize, isize)> = Vec::new();
    for (stays, is_own) in [(own, 1), (scene.forecast.stays.as_slice(), 0)] {
        for stay in stays.iter().filter(|stay| stay.needs.role == Role::Growing) {
            steps.push((stay.span.from(), is_own, 1));
            steps.push((stay.span.until(), -is_own, -1));
        }
    }
    steps.sort_by_key(|(day, ..)| *day);
    let (mut own, mut all, mut worst) = (0_isize, 0_isize, None);
    for today in steps.chunk_by(|a, b| a.0 == b.0) {
        own += today.iter().map(|(_, own, _)| own).sum::<isize>();
        all += today.iter().map(|(.., all)| all).sum::<isize>();
        if own > 0 && worst.is_none_or(|(_, _, most)| all > most) {
            worst = today.first().map(|(day, ..)| (*day, own, all));
        }
    }
    worst.map(|(day, own, all)| (day, own.unsigned_abs(), all.unsigned_abs()))
}
