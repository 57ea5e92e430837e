//! The form for plants that stand there already: no history is asked, only what they are, what they
//! stand in and how far they are.

use chrono::NaiveDate;
use egui::{Label, Ui};

use crate::forecast::container_shape;
use crate::season::{
    Begun, Container, ContainerKey, ContainerKind, Crop, FieldId, Op, OutRule, Rule, Sowing, SowingId, Stage, Wanted,
};
use crate::trade::{chain_for, chain_from, days_to_stage, find_crop, out_after_frost, out_rule, sowing_in};
use crate::units::DateSpan;
use crate::words::already_here as said;

use super::meaning::{added, would_mean};
use crate::window::action::Action;
use crate::window::glyphs::Glyph;
use crate::window::kit::{
    Drafts, Fault, Field, FieldFaults, Form, Owner, Reader, Search, WIDE_PT, button, choice_ui, container_picture_ui,
    date, row_ui, search_ui, title_ui, whole,
};
use crate::window::scene::Scene;

const OWNER: Owner = Owner::Form("already_here");

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum How {
    Sown,
    Up,
    #[default]
    Leaves,
}

const STAGES: [(How, &str); 3] = [(How::Sown, said::SOWN), (How::Up, said::UP), (How::Leaves, said::IN_LEAF)];

/// What the fields do not say of them.
#[derive(Default)]
pub(in crate::window) struct AlreadyHere {
    how: How,
    /// The crop's usual first one where nothing is chosen.
    container: Option<ContainerKey>,
    /// What a sowing would come to in the season of that revision.
    meant: Option<(u64, Sowing, String)>,
}

/// The sowing that was added in this frame.
pub(in crate::window) fn already_here_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    here: &mut AlreadyHere,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) -> Option<SowingId> {
    title_ui(ui, said::TITLE);
    ui.label(said::WHAT_THEY_ARE);
    ui.add_space(6.0);
    let crop = crop(scene, drafts.text(&OWNER, said::CROP).unwrap_or_default().trim()).ok();
    let out = proposed_out(scene, crop);
    let form = form(scene, out);
    let may = |sowing: &Sowing| scene.season.may(&Op::PutSowing(sowing.clone()).into());
    let typed = form.typed(drafts, |reader| read(reader, scene, here, out), may);
    let faults = typed.faults();
    fields_ui(ui, scene, here, (drafts, &form, &faults), crop);
    let mut new = None;
    row_ui(ui, "", |ui, _| {
        if form.take_ui(ui, drafts, &typed, button(said::ADD)).clicked()
            && let (Ok(sowing), Some(crop)) = (&typed.read, crop)
        {
            actions.push(added(sowing, crop));
            new = Some(sowing.id);
        }
    });
    if let (Ok(sowing), Some(crop)) = (&typed.read, crop) {
        let known = here.meant.take().filter(|(of, known, _)| *of == scene.revision && known == sowing);
        let (.., said) = here
            .meant
            .insert(known.unwrap_or_else(|| (scene.revision, sowing.clone(), would_mean(scene, crop, sowing))));
        ui.add(Label::new(said.as_str()).wrap());
    }
    if new.is_some() {
        form.forget(drafts);
        *here = AlreadyHere::default();
    }
    new
}

fn form(scene: &Scene<'_>, out: Option<NaiveDate>) -> Form<'static> {
    let out = match out {
        Some(out) => Field::date(said::OUT, out),
        None => Field::date_to_come(said::OUT, scene.day),
    };
    let fields = [
        Field::new(said::CROP, "").hint(said::CROP_HINT).width(WIDE_PT).still_to_come(),
        Field::new(said::VARIETY, "").width(WIDE_PT),
        Field::new(said::PLANTS, "").hint(said::PLANTS_HINT).is(FieldId::OutPlants(0)).still_to_come(),
        Field::new(said::LEAVES, "2"),
        Field::date(said::AS_OF, scene.day),
        out.is(FieldId::OutDate(0)),
    ];
    Form::new(OWNER, fields)
}

fn fields_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    here: &mut AlreadyHere,
    (drafts, form, faults): (&mut Drafts, &Form<'_>, &FieldFaults),
    crop: Option<&Crop>,
) {
    let mut lines_ui = |ui: &mut Ui, names: &[&str]| {
        for name in names {
            form.line_ui(ui, drafts, faults, name, |_| ());
        }
    };
    lines_ui(ui, &[said::CROP, said::VARIETY, said::PLANTS]);
    container_ui(ui, scene, here, crop);
    here.how = choice_ui(ui, said::STAGE, here.how, &STAGES).unwrap_or(here.how);
    if here.how == How::Leaves {
        lines_ui(ui, &[said::LEAVES]);
    }
    lines_ui(ui, &[said::AS_OF, said::OUT]);
    form.foot_ui(ui, faults);
}

fn container_ui(ui: &mut Ui, scene: &Scene<'_>, here: &mut AlreadyHere, crop: Option<&Crop>) {
    let mut all: Vec<&Container> = containers(scene).collect();
    all.sort_by(|a, b| a.name.cmp(&b.name));
    let names: Vec<(String, Option<Glyph>)> =
        all.iter().map(|one| (one.name.clone(), Glyph::of_container(&one.kind))).collect();
    let now = stands_in(scene, here, crop);
    let shown = now.map_or(said::CHOOSE, |one| one.name.as_str());
    row_ui(ui, said::STAND_IN, |ui, _| {
        let chosen = search_ui(ui, &Search::container(said::CONTAINER, WIDE_PT), shown, &names);
        if let Some(one) = chosen.and_then(|at| all.get(at)) {
            here.container = Some(one.key.clone());
        }
        container_picture_ui(ui, now.and_then(container_shape).as_ref());
    });
}

fn containers<'a>(scene: &Scene<'a>) -> impl Iterator<Item = &'a Container> {
    let season = scene.season;
    season.containers(scene.library).filter(|one| !matches!(one.kind, ContainerKind::Class { .. }))
}

fn crop<'a>(scene: &Scene<'a>, text: &str) -> Result<&'a Crop, Fault> {
    if text.is_empty() {
        return Err(said::NO_CROP.into());
    }
    let season = scene.season;
    find_crop(text, season.crops(scene.library)).map_err(|why| why.to_string().into())
}

fn stands_in<'a>(scene: &Scene<'a>, here: &AlreadyHere, crop: Option<&Crop>) -> Option<&'a Container> {
    let find = |key: &ContainerKey| scene.season.container(scene.library, key);
    here.container.as_ref().and_then(find).or_else(|| {
        let usual = chain_for(crop?, None, scene.library);
        usual.first().and_then(|first| find(&first.container))
    })
}

/// By the frost, where the season has one.
fn proposed_out(scene: &Scene<'_>, crop: Option<&Crop>) -> Option<NaiveDate> {
    let frost = scene.season.settings().frost.as_ref()?;
    out_after_frost(crop?, frost)
}

fn read(reader: &mut Reader<'_>, scene: &Scene<'_>, here: &AlreadyHere, out: Option<NaiveDate>) -> Option<Sowing> {
    let crop = reader.read(said::CROP, |text| crop(scene, text));
    let variety = reader.text(said::VARIETY).to_owned();
    let plants = reader.read(said::PLANTS, whole::<u32>);
    let stage = match here.how {
        How::Sown => Some(Stage::Sown),
        How::Up => Some(Stage::Up),
        How::Leaves => reader.read(said::LEAVES, whole::<u8>).map(Stage::TrueLeaves),
    };
    let on = reader.read(said::AS_OF, |text| date::near(text, scene.day));
    let date = reader.read(said::OUT, |text| -> Result<NaiveDate, Fault> {
        let date = date::from(text, on.unwrap_or(scene.day))?;
        if let Some(on) = on {
            DateSpan::new(on, date)?;
        }
        Ok(date)
    });
    let (crop, plants, stage, on, date) = (crop?, plants?, stage?, on?, date?);
    let container = stands_in(scene, here, Some(crop))?;
    // what was proposed follows the frost
    let rule = out_rule(crop).filter(|_| out == Some(date)).unwrap_or(OutRule::Day);
    let wanted = Wanted { date, plants, rule, to_sell: false };
    let age = i64::from(days_to_stage(crop, stage));
    let days = (date - on).num_days().saturating_add(age);
    let moved_on = i64::from(crop.moving_on.value.days.likely).max(age.saturating_add(1));
    let [days, left] = [days, days.saturating_sub(moved_on)].map(|days| u16::try_from(days.max(0)).unwrap_or(u16::MAX));
    let chain = chain_from(crop, container, (days, left), scene.library);
    let sowing = sowing_in(chain, &crop.key, &variety, wanted, Rule::WhenDue);
    Some(Sowing { begun: Some(Begun { on, stage }), ..sowing.renumbered(scene.season.next_id()) })
}
