//! The crops page: what is known of each crop, and where from. A figure that is changed becomes the
//! grower's own, for this season.

mod curve;
mod draft;

use egui::Ui;

use crate::season::{Crop, CropKey, Edit, EditLabel, GrowthPoint, Op, Potting, SeedLight, SettingDepth, Sourced};
use crate::words::{carries, crops as said, fields, rooting_source, source};

use crate::window::action::{Action, Go};
use crate::window::kit::{
    Drafts, FieldFaults, Form, List, Row, aside_ui, beside_ui, button_ui, check_ui, choice_ui, list_ui, middle_ui,
    part_ui, row_ui, side_ui, small_button_ui, soft_ui, title_ui, tried,
};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use draft::{Curve, form};

const FORM_PT: f32 = 560.0;

/// What the page keeps between frames.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct CropsPage {
    /// The first of the list where nothing is chosen.
    chosen: Option<CropKey>,
    part: String,
    /// To be brought into view in the list.
    bring: bool,
}

impl CropsPage {
    pub(in crate::window) fn look_at(&mut self, crop: CropKey) {
        *self = Self { chosen: Some(crop), bring: true, ..Self::default() };
    }
}

pub(in crate::window) fn crops_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut CropsPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let mut chosen = None;
    side_ui(ui, "crops", 320.0, 220.0..=460.0, |ui| chosen = listed_ui(ui, scene, page));
    middle_ui(ui, ("crop", chosen.map(|crop| &crop.key)), |ui| match chosen {
        Some(crop) => crop_ui(ui, scene, crop, page, drafts, actions),
        None => drop(ui.label(said::NONE_OF_THAT_NAME)),
    });
}

/// The crop that is chosen afterwards.
fn listed_ui<'a>(ui: &mut Ui, scene: &Scene<'a>, page: &mut CropsPage) -> Option<&'a Crop> {
    let fits = part_ui(ui, &mut page.part, said::FIND, fields::PART_OF_A_NAME);
    let season = scene.season;
    let is_own = |crop: &Crop| season.own_crops().any(|own| own.key == crop.key);
    let named = season.crops(scene.library).filter(|crop| fits(&crop.name) || fits(&crop.latin));
    let mut all: Vec<(bool, &'a Crop)> = named.map(|crop| (is_own(crop), crop)).collect();
    // the grower's own first
    all.sort_by_key(|(is_own, crop)| (!is_own, &crop.name));
    if all.is_empty() {
        ui.label(said::NONE_OF_THAT_NAME);
    }
    let find = |key: &CropKey| season.crop(scene.library, key);
    let chosen = page.chosen.as_ref().and_then(find).or_else(|| all.first().map(|(_, crop)| *crop));
    let at = all.iter().position(|(_, crop)| chosen.is_some_and(|chosen| chosen.key == crop.key));
    let palette = Palette::of(ui);
    let row = |at: usize| {
        all.get(at).map_or_else(Row::default, |(_, crop)| Row {
            hover: crop.latin.clone(),
            family: Some(palette.family(&crop.family)),
            ..Row::new(&*crop.name, mark_of(scene, crop))
        })
    };
    let bring = at.filter(|_| std::mem::take(&mut page.bring));
    let now = list_ui(ui, &List { bring, ..List::new("crops", said::PAGE) }, all.len(), at, row);
    let Some((_, crop)) = now.and_then(|at| all.get(at)) else { return chosen };
    page.chosen = Some(crop.key.clone());
    Some(crop)
}

/// `your own`, `changed by you`; nothing for the library's.
fn mark_of(scene: &Scene<'_>, crop: &Crop) -> &'static str {
    match scene.library.crops.get(&crop.key) {
        Some(library) if library == crop => "",
        Some(_) => said::CHANGED,
        None => said::OWN,
    }
}

fn head_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    crop: &Crop,
    page: &mut CropsPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let library = scene.library.crops.get(&crop.key);
    let is_own = scene.season.own_crops().any(|own| own.key == crop.key);
    ui.horizontal_wrapped(|ui| {
        title_ui(ui, &crop.name);
        if button_ui(ui, said::START_FROM) {
            let copy = copy_of(scene, crop);
            page.chosen = Some(copy.key.clone());
            let label = EditLabel::AddCrop(copy.name.clone());
            actions.push(Action::edit(Edit::new(label, vec![Op::PutCrop(Box::new(copy))])));
        }
        if button_ui(ui, carries::OPEN) {
            actions.push(Action::Go(Go::HowMuch(crop.key.clone())));
        }
        match library.filter(|library| *library != crop) {
            Some(library) if button_ui(ui, said::BACK) => {
                // While a sowing uses it, the season keeps an entry of its own that says the same.
                let remove = tried(scene.season, Op::RemoveCrop(crop.key.clone()));
                actions.push(remove.unwrap_or_else(|_| Action::edit(Op::PutCrop(Box::new(library.clone())))));
                drafts.forget_all(&draft::owner(&crop.key));
            }
            None if is_own && library.is_none() && button_ui(ui, said::REMOVE) => {
                let removed = tried(scene.season, Op::RemoveCrop(crop.key.clone()));
                actions.push(
                    removed.unwrap_or_else(|why| Action::Go(Go::Complain(fields::not_removed(&why.into_text())))),
                );
            }
            _ => {}
        }
    });
    let mark = match mark_of(scene, crop) {
        "" => said::OF_THE_LIBRARY,
        said::OWN => said::YOUR_OWN,
        _ => said::CHANGED_HERE,
    };
    soft_ui(ui, mark);
}

/// The same under another name, for the grower to change.
fn copy_of(scene: &Scene<'_>, crop: &Crop) -> Crop {
    let stem: String = crop.key.0.chars().take(40).collect();
    let free = |key: &CropKey| scene.season.crop(scene.library, key).is_none();
    let keys = (1..100_000_u32).map(|n| CropKey::new(&format!("{stem}_own_{n}")));
    let key = keys.clone().find(free).unwrap_or_else(|| CropKey::new(&stem));
    let name = said::own_name(&crop.name);
    Crop { key, name, ..crop.clone() }
}

fn crop_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    crop: &Crop,
    page: &mut CropsPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    head_ui(ui, scene, crop, page, drafts, actions);
    ui.add_space(6.0);
    let word = scene.season.settings().potting;
    let form = form(crop, scene.unit, word);
    let put = |crop: &Crop| Op::PutCrop(Box::new(crop.clone()));
    let read = |drafts: &Drafts| {
        form.typed(
            drafts,
            |reader| Some(draft::read(reader, crop, scene.unit, word)),
            |crop| scene.season.may(&put(crop).into()),
        )
    };
    let typed = read(drafts);
    let (faults, now) = (typed.faults(), typed.drawn.as_ref().unwrap_or(crop));
    let mut chosen = Chosen::default();
    beside_ui(
        ui,
        FORM_PT,
        drafts,
        |ui, drafts| {
            figures_ui(ui, drafts, &form, &faults, now, word);
            chosen.sprouts = choice_ui(ui, said::SPROUTS, crop.light_to_germinate, &said::SPROUTING);
            chosen.depth = choice_ui(ui, said::SET, crop.depth.value, &said::DEPTHS);
            row_ui(ui, "", |ui, _| aside_ui(ui, &source(&crop.depth)));
            if let Some(light) = &crop.light {
                row_ui(ui, said::LIGHT, |ui, _| {
                    ui.label(said::light(light.value));
                    aside_ui(ui, &source(light));
                });
            }
            form.foot_ui(ui, &faults);
        },
        |ui, drafts| {
            ui.label(theme::bold(said::CURVES));
            curve::curve_ui(ui, now, scene.unit);
            for curve in [Curve::Height, Curve::Spread] {
                chosen.points = points_ui(ui, drafts, &form, &faults, curve, (crop, now)).or(chosen.points.take());
            }
            chosen.spaced = check_ui(ui, said::SPACED, crop.spaced);
        },
    );
    if form.is_left(ui, drafts)
        && let Ok(typed) = read(drafts).read
    {
        actions.push(Action::edit(put(&typed)));
        form.forget(drafts);
    } else {
        chosen.take(scene, crop, drafts, actions);
    }
    ui.add_space(16.0);
}

/// What is chosen at once, without being typed.
#[derive(Default)]
struct Chosen {
    depth: Option<SettingDepth>,
    spaced: Option<bool>,
    sprouts: Option<SeedLight>,
    points: Option<(Curve, Vec<GrowthPoint>)>,
}

impl Chosen {
    fn take(self, scene: &Scene<'_>, crop: &Crop, drafts: &mut Drafts, actions: &mut Vec<Action>) {
        let put = |crop: Crop| Op::PutCrop(Box::new(crop));
        if let Some(depth) = self.depth {
            actions.push(Action::edit(put(Crop { depth: Sourced::own(depth), ..crop.clone() })));
        } else if let Some(spaced) = self.spaced {
            actions.push(Action::edit(put(Crop { spaced, ..crop.clone() })));
        } else if let Some(light_to_germinate) = self.sprouts {
            actions.push(Action::edit(put(Crop { light_to_germinate, ..crop.clone() })));
        } else if let Some((curve, points)) = self.points {
            let mut next = crop.clone();
            *curve.of_mut(&mut next) = Sourced::own(points);
            let put = tried(scene.season, put(next));
            actions.push(put.unwrap_or_else(|why| Action::Go(Go::Complain(fields::not_done(&why.into_text())))));
            for name in (0..curve.of(crop).value.len()).flat_map(|at| curve.fields(at)) {
                drafts.forget(&draft::owner(&crop.key), &name);
            }
        }
    }
}

fn figures_ui(ui: &mut Ui, drafts: &mut Drafts, form: &Form<'_>, faults: &FieldFaults, now: &Crop, word: Potting) {
    form.line_ui(ui, drafts, faults, said::NAME, |_| ());
    form.line_ui(ui, drafts, faults, said::GERMINATION, |ui| aside_ui(ui, &source(&now.germination_percent)));
    let several = |ui: &mut Ui, drafts: &mut Drafts, label: &str, names: &[&str], aside: &str| {
        row_ui(ui, label, |ui, _| {
            form.several_ui(ui, drafts, faults, names);
            aside_ui(ui, aside);
        });
    };
    several(ui, drafts, said::UP_DAYS, &said::UP, &source(&now.emergence));
    let warmth = now.germination_temperatures.as_ref().map_or_else(String::new, source);
    several(ui, drafts, said::GERMINATES_AT, &said::GERMINATES, &warmth);
    form.line_ui(ui, drafts, faults, said::LEAVES, |ui| aside_ui(ui, said::LEAVES_ASIDE));
    several(ui, drafts, said::DUE_DAYS, &said::DUE, &source(&now.moving_on));
    several(ui, drafts, said::AT_MOST_IN, &said::LATEST, &source(&now.latest));
    several(ui, drafts, said::WEEKS_OUT, &said::WEEKS, &source(&now.weeks_to_planting_out));
    let sale = now.weeks_to_sale.as_ref().map_or_else(|| said::SALE_ASIDE.to_owned(), source);
    several(ui, drafts, said::WEEKS_TO_SALE, &said::SALE, &sale);
    let frost = now.planting_out_after_frost.as_ref().map_or_else(|| said::FROST_ASIDE.to_owned(), source);
    several(ui, drafts, said::FROM_FROST, &said::FROST, &frost);
    several(ui, drafts, said::HARDENING_OFF, &[said::HARDENING, said::FIRST_NIGHT], &source(&now.hardening));
    form.line_ui(ui, drafts, faults, said::ROOTING, |ui| aside_ui(ui, &rooting_source(now)));
    form.line_ui(ui, drafts, faults, said::COME_IN, |ui| aside_ui(ui, &source(&now.come_in)));
    form.line_ui(ui, drafts, faults, said::moves(word), |ui| aside_ui(ui, said::MOVES_ASIDE));
    let flat = now.in_open_flat.as_ref().map_or_else(|| said::IN_OPEN_FLAT_ASIDE.to_owned(), source);
    form.line_ui(ui, drafts, faults, said::IN_OPEN_FLAT, |ui| aside_ui(ui, &flat));
    form.line_ui(ui, drafts, faults, said::SEEDS, |_| ());
    form.line_ui(ui, drafts, faults, said::BEFORE, |_| ());
}

/// The points of a curve, and those of the next one if a point was added or removed.
fn points_ui(
    ui: &mut Ui,
    drafts: &mut Drafts,
    form: &Form<'_>,
    faults: &FieldFaults,
    curve: Curve,
    (crop, now): (&Crop, &Crop),
) -> Option<(Curve, Vec<GrowthPoint>)> {
    let mut changed = None;
    let points = &curve.of(crop).value;
    for at in 0..points.len() {
        ui.horizontal_wrapped(|ui| {
            form.several_ui(ui, drafts, faults, &curve.fields(at));
            if small_button_ui(ui, fields::REMOVE, &said::remove(curve.what(), at)) {
                let rest = points.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, point)| *point);
                changed = Some((curve, rest.collect()));
            }
        });
    }
    ui.horizontal(|ui| {
        if button_ui(ui, &said::add(curve.what())) {
            let last = points.last().copied().unwrap_or(GrowthPoint { week: 0.0, mm: 0.0 });
            let next = GrowthPoint { week: last.week + 1.0, mm: last.mm };
            changed = Some((curve, points.iter().copied().chain([next]).collect()));
        }
        aside_ui(ui, &source(curve.of(now)));
    });
    changed
}
