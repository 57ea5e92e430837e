//! The form for plants that stand there already: no history is asked, only what they are, what they
//! stand in and how far they are.

use chrono::{Days, NaiveDate};
use egui::{Id, Label, RichText, Ui};

use crate::season::{
    Begun, Container, ContainerKey, ContainerKind, Crop, Edit, EditLabel, FieldId, Op, OutRule, Rule, Sowing, SowingId,
    Stage, Wanted,
};
use crate::trade::{chain_for, chain_from, find_crop, out_after_frost, out_rule, sowing_in};
use crate::units::read_date;
use crate::words;

use super::quick::would_mean;
use crate::window::action::Action;
use crate::window::kit::old_form::{Faults, Form, Lines, Reader};
use crate::window::kit::old_typed::whole;
use crate::window::kit::{FIELD_PT, Search, WIDE_PT, button_ui, choice_ui, row_ui, search_ui};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

const CROP: &str = "Crop";
const VARIETY: &str = "Its variety";
const PLANTS: &str = "Number of plants";
const LEAVES: &str = words::field(FieldId::BegunLeaves);
const AS_OF: &str = words::field(FieldId::BegunOn);
const OUT: &str = "They go out on";

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum How {
    Sown,
    Up,
    #[default]
    Leaves,
}

const STAGES: [(How, &str); 3] = [(How::Sown, "sown, not up yet"), (How::Up, "just up"), (How::Leaves, "in true leaf")];

#[derive(Default)]
pub(in crate::window) struct Middle {
    form: Form,
    how: How,
    /// The crop's usual first one where nothing is chosen.
    container: Option<ContainerKey>,
}

struct Meaning {
    sowing: Sowing,
    name: String,
    said: String,
}

/// The sowing that was added in this frame.
pub(in crate::window) fn middle_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    middle: &mut Middle,
    actions: &mut Vec<Action>,
) -> Option<SowingId> {
    let palette = Palette::of(ui);
    ui.label(RichText::new("They stand here already").font(theme::strong(theme::TITLE_PT)));
    ui.label("Plants in the middle of their course; the forecast goes on from the day they were seen");
    ui.add_space(6.0);
    let day = scene.day;
    let out = proposed_out(scene, middle);
    let shown_out = out.map_or_else(String::new, |out| out.to_string());
    let read = meaning(scene, middle, out);
    let mut faults = read.as_ref().err().cloned().unwrap_or_default();
    for name in [CROP, PLANTS, OUT] {
        // Nobody is told off for what is still to come.
        if middle.form.text(name, "").is_empty() {
            faults.remove(name);
        }
    }
    let id = Id::unique("they stand here already");
    let mut lines = Lines { form: &mut middle.form, faults: &faults, of: id };
    lines.line_ui(ui, CROP, "", "tomato", WIDE_PT);
    lines.line_ui(ui, VARIETY, "", "", WIDE_PT);
    lines.line_ui(ui, PLANTS, "", "72", FIELD_PT);
    container_ui(ui, scene, middle);
    middle.how = choice_ui(ui, "They are", middle.how, &STAGES).unwrap_or(middle.how);
    let mut lines = Lines { form: &mut middle.form, faults: &faults, of: id };
    if middle.how == How::Leaves {
        lines.line_ui(ui, LEAVES, "2", "", FIELD_PT);
    }
    lines.date_ui(ui, AS_OF, &day.to_string(), day, FIELD_PT);
    lines.date_ui(ui, OUT, &shown_out, out.unwrap_or(day), FIELD_PT);
    let mut added = None;
    row_ui(ui, "", |ui, _| {
        ui.add_enabled_ui(read.is_ok(), |ui| {
            if button_ui(ui, "Add these plants")
                && let Ok(meaning) = &read
            {
                let put = Op::PutSowing(meaning.sowing.clone());
                let label = EditLabel::AddSowing(meaning.name.clone());
                actions.push(Action::edit(Edit::new(label, vec![put])));
                added = Some(meaning.sowing.id);
            }
        });
    });
    if let Ok(meaning) = &read {
        ui.add(Label::new(RichText::new(&meaning.said).color(palette.ink)).wrap());
    }
    if added.is_some() {
        *middle = Middle::default();
    }
    added
}

fn container_ui(ui: &mut Ui, scene: &Scene<'_>, middle: &mut Middle) {
    let mut all: Vec<&Container> = containers(scene).collect();
    all.sort_by(|a, b| a.name.cmp(&b.name));
    let names: Vec<String> = all.iter().map(|one| one.name.clone()).collect();
    let shown = stands_in(scene, middle).map_or_else(|| "choose…".to_owned(), |one| one.name.clone());
    row_ui(ui, "They stand in", |ui, _| {
        let chosen = search_ui(ui, &Search::container("Container they stand in", WIDE_PT), &shown, &names);
        if let Some(one) = chosen.and_then(|at| all.get(at)) {
            middle.container = Some(one.key.clone());
        }
    });
}

fn containers<'a>(scene: &Scene<'a>) -> impl Iterator<Item = &'a Container> {
    let season = scene.season;
    let others = scene.library.containers.values().filter(|one| season.own_containers().all(|own| own.key != one.key));
    season.own_containers().chain(others).filter(|one| !matches!(one.kind, ContainerKind::Class { .. }))
}

fn crop<'a>(scene: &Scene<'a>, text: &str) -> Result<&'a Crop, String> {
    if text.is_empty() {
        return Err("write what it is".to_owned());
    }
    let season = scene.season;
    let others = scene.library.crops.values().filter(|crop| season.own_crops().all(|own| own.key != crop.key));
    find_crop(text, season.own_crops().chain(others)).map_err(|why| why.to_string())
}

fn crop_of<'a>(scene: &Scene<'a>, middle: &Middle) -> Option<&'a Crop> {
    crop(scene, middle.form.text(CROP, "").trim()).ok()
}

fn stands_in<'a>(scene: &Scene<'a>, middle: &Middle) -> Option<&'a Container> {
    let find = |key: &ContainerKey| scene.season.container(scene.library, key);
    middle.container.as_ref().and_then(find).or_else(|| {
        let usual = chain_for(crop_of(scene, middle)?, scene.library);
        usual.first().and_then(|first| find(&first.container))
    })
}

/// By the frost, where the season has one.
fn proposed_out(scene: &Scene<'_>, middle: &Middle) -> Option<NaiveDate> {
    let frost = scene.season.settings().frost.as_ref()?;
    out_after_frost(crop_of(scene, middle)?, frost)
}

fn meaning(scene: &Scene<'_>, middle: &Middle, out: Option<NaiveDate>) -> Result<Meaning, Faults> {
    let mut reader = Reader::new(&middle.form);
    let crop = reader.read(CROP, "", |text| crop(scene, text));
    let variety = reader.read(VARIETY, "", |text| Ok(text.to_owned())).unwrap_or_default();
    let plants = reader.read(PLANTS, "", whole::<u32>);
    let stage = match middle.how {
        How::Sown => Some(Stage::Sown),
        How::Up => Some(Stage::Up),
        How::Leaves => reader.read(LEAVES, "2", whole::<u8>).map(Stage::TrueLeaves),
    };
    // Without a year the nearest such day is meant.
    let near = scene.day.checked_sub_days(Days::new(183)).unwrap_or(scene.day);
    let on = reader.date(AS_OF, &scene.day.to_string(), near);
    let date = reader.read(OUT, &out.map_or_else(String::new, |out| out.to_string()), |text| {
        let date = read_date(text, on.unwrap_or(scene.day)).map_err(|why| why.to_string())?;
        match on.filter(|on| date <= *on) {
            Some(on) => Err(format!("{date} must come after {on}")),
            None => Ok(date),
        }
    });
    let (Some(crop), Some(plants), Some(stage), Some(on), Some(date)) = (crop, plants, stage, on, date) else {
        return Err(reader.faults);
    };
    let Some(container) = stands_in(scene, middle) else { return Err(reader.faults) };
    // what was proposed follows the frost
    let rule = out_rule(crop).filter(|_| out == Some(date)).unwrap_or(OutRule::Day);
    let wanted = Wanted { date, plants, rule };
    let chain = chain_from(crop, container, scene.library);
    let sowing = sowing_in(chain, &crop.key, &variety, wanted, Rule::WhenDue);
    let sowing = Sowing { begun: Some(Begun { on, stage }), ..sowing.renumbered(scene.season.next_id()) };
    if let Err(why) = scene.season.may(&Op::PutSowing(sowing.clone()).into()) {
        let field = match why.field {
            FieldId::OutPlants(_) | FieldId::SowingPlants => PLANTS,
            FieldId::OutDate(_) => OUT,
            field => words::field(field),
        };
        reader.fault(field, &words::refusal(&why));
        return Err(reader.faults);
    }
    let said = would_mean(scene, crop, &sowing);
    Ok(Meaning { sowing, name: crop.name.clone(), said })
}
