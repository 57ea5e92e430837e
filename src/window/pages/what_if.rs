//! The page of what might be: a late spring, other days for crops and places, by sliders; what the shelves say to it,
//! and what is kept by name, beside the plan.

use std::collections::BTreeSet;

use egui::{Label, RichText, Slider, Ui, vec2};

use crate::forecast::all_broken;
use crate::outlook::{Otherwise, Outlook};
use crate::season::{History, Op, Settings, Shift, Shifting, WhatIf};
use crate::words::{self, Words, ways_out, what_if as said};

use crate::window::action::{Action, Do, Go};
use crate::window::asked::Asked;
use crate::window::derived::Derived;
use crate::window::kit::{
    Drafts, Field, Owner, State, bare_field_ui, beside_at_least_ui, button_ui, choice_ui, drop_down_ui, middle_ui,
    part_title_ui, row_ui, soft_ui, state_ui, stop_ui, title_ui, tried, wrapped_ui,
};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};
use crate::window::ways::{Preview, Shown};

/// A slider goes so far each way; a file may hold more.
const SLIDER_DAYS: i16 = 28;
const FORM_PT: f32 = 460.0;

#[derive(Default)]
pub(in crate::window) struct WhatIfPage {
    /// The family that the slider for crops is about, and whether it is about their sowing.
    family: Option<String>,
    sown: bool,
    name: String,
}

type Kept<'a> = &'a Asked<u64, Vec<Option<Otherwise>>>;

pub(in crate::window) fn what_if_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut WhatIfPage,
    drafts: &mut Drafts,
    (planned, kept, preview): ((&History, &Derived), Kept<'_>, Option<&Preview>),
    actions: &mut Vec<Action>,
) {
    let now = match preview.map(|preview| &preview.shown) {
        Some(Shown::WhatIf(what_if)) => what_if.clone(),
        _ => WhatIf::default(),
    };
    middle_ui(ui, "what_if", |ui| {
        title_ui(ui, said::PAGE);
        soft_ui(ui, said::WHAT_IT_IS);
        ui.add_space(6.0);
        let mut state = (page, drafts, actions);
        beside_at_least_ui(
            ui,
            FORM_PT,
            380.0,
            &mut state,
            |ui, (page, drafts, actions)| form_ui(ui, scene, page, drafts, (&now, planned), actions),
            |ui, _| both_ui(ui, scene, planned, &now),
        );
        let (.., actions) = state;
        kept_ui(ui, scene, planned, kept, actions);
    });
}

fn form_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut WhatIfPage,
    drafts: &mut Drafts,
    (now, planned): (&WhatIf, (&History, &Derived)),
    actions: &mut Vec<Action>,
) {
    let season = planned.0.season();
    let mut then = now.clone();
    if season.settings().frost.is_some() {
        slider_ui(ui, said::LAST_FROST, Shifting::LastFrost, &mut then);
    }
    let families: BTreeSet<&str> = season
        .sowings()
        .filter_map(|one| season.crop(scene.library, &one.crop))
        .map(|crop| crop.family.as_str())
        .collect();
    let mut all: Vec<(Option<&str>, &str)> = vec![(None, said::ALL_CROPS)];
    all.extend(families.iter().map(|family| (Some(*family), words::family(family))));
    row_ui(ui, said::CROPS, |ui, _| {
        let chosen = page.family.as_deref().filter(|family| families.contains(family));
        if let Some(family) = drop_down_ui(ui, said::CROPS, 180.0, chosen, &all) {
            page.family = family.map(str::to_owned);
        }
    });
    if let Some(sown) = choice_ui(ui, said::WHAT_MOVES, page.sown, &[(false, said::GO_OUT), (true, said::ARE_SOWN)]) {
        page.sown = sown;
    }
    let of = page.family.clone().filter(|family| families.contains(family.as_str()));
    let crops = if page.sown { Shifting::Sowing(of) } else { Shifting::Out(of) };
    slider_ui(ui, "", crops, &mut then);
    for place in season.places().filter(|place| !place.open.is_empty()) {
        slider_ui(ui, &place.name, Shifting::Place(place.id), &mut then);
    }
    if then != *now {
        // what is kept under a name is as it was kept
        actions.push(Action::Go(Go::WhatIf(WhatIf { name: String::new(), ..then })));
    }
    ui.add_space(6.0);
    if !now.shifts.is_empty() {
        keep_ui(ui, scene, page, drafts, (now, season.settings()), actions);
    }
}

/// So many days later or sooner.
fn slider_ui(ui: &mut Ui, label: &str, what: Shifting, then: &mut WhatIf) {
    let was = then.shifts.iter().find(|shift| shift.what == what).map_or(0, |shift| shift.days);
    let mut days = was;
    row_ui(ui, label, |ui, _| {
        let rail = Palette::of(ui).soft_ink;
        ui.visuals_mut().widgets.inactive.bg_fill = rail;
        ui.spacing_mut().slider_rail_height = 4.0;
        ui.spacing_mut().slider_width = 150.0;
        ui.spacing_mut().interact_size.y = theme::TARGET_PT;
        let far = SLIDER_DAYS.max(was.abs());
        let slider = Slider::new(&mut days, -far..=far).show_value(false);
        let slider = ui.add(slider);
        let name = if label.is_empty() { said::WHAT_MOVES } else { label };
        slider.widget_info(|| egui::WidgetInfo::slider(true, f64::from(days), name));
        ui.add_sized(vec2(100.0, theme::TARGET_PT), Label::new(said::by(days)));
    });
    if days == was {
        return;
    }
    then.shifts.retain(|shift| shift.what != what);
    if days != 0 {
        then.shifts.push(Shift { what, days });
    }
}

fn keep_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut WhatIfPage,
    drafts: &mut Drafts,
    (now, settings): (&WhatIf, &Settings),
    actions: &mut Vec<Action>,
) {
    wrapped_ui(ui, &scene.words().shifts(now));
    ui.horizontal_wrapped(|ui| {
        let shown = if now.name.is_empty() { page.name.clone() } else { now.name.clone() };
        let field = Field::new(said::NAME, shown).hint(said::NAME_HINT).width(150.0);
        let named = bare_field_ui(ui, drafts, &Owner::Form("what_if"), &field, |text| {
            let name = text.trim().to_owned();
            let with = with_kept(settings, WhatIf { name: name.clone(), ..now.clone() });
            tried(scene.season, Op::SetSettings(with)).map(|_| name)
        });
        if let Some(name) = named {
            page.name = name;
        }
        if !page.name.is_empty() && button_ui(ui, said::KEEP) {
            let named = WhatIf { name: std::mem::take(&mut page.name), ..now.clone() };
            actions.push(Action::Go(Go::LeavePreview));
            actions.push(Action::edit(Op::SetSettings(with_kept(settings, named.clone()))));
            actions.push(Action::Go(Go::WhatIf(named)));
        }
        if button_ui(ui, ways_out::DO_IT) {
            actions.push(Action::Do(Do::TakePreview));
        }
        if button_ui(ui, said::START_OVER) {
            actions.push(Action::Go(Go::LeavePreview));
        }
    });
}

/// In place of one of the same name.
fn with_kept(settings: &Settings, what_if: WhatIf) -> Settings {
    let mut settings = settings.clone();
    settings.what_ifs.retain(|other| other.name != what_if.name);
    settings.what_ifs.push(what_if);
    settings
}

/// The plan and what it might become, one above the other.
fn both_ui(ui: &mut Ui, scene: &Scene<'_>, planned: (&History, &Derived), now: &WhatIf) {
    let (history, derived) = planned;
    let words =
        Words { season: history.season(), library: scene.library, forecast: &derived.forecast, unit: scene.unit };
    part_title_ui(ui, said::AS_PLANNED);
    outlook_ui(ui, &words, derived.outlook.as_ref().filter(|_| derived.is_fresh()));
    if now.shifts.is_empty() {
        return;
    }
    ui.add_space(10.0);
    part_title_ui(ui, said::THEN);
    outlook_ui(ui, &scene.words(), scene.outlook.filter(|_| scene.outlook_is_fresh));
    if !scene.outlook_is_fresh || !derived.is_fresh() {
        return;
    }
    let broken = all_broken(&derived.problems, scene.problems);
    let broken: Vec<String> = broken.map(|problem| scene.words().problem(problem)).collect();
    if broken.is_empty() {
        state_ui(ui, State::InOrder, said::NOTHING_WRONG);
        return;
    }
    part_title_ui(ui, said::BROKEN);
    for line in broken {
        wrapped_ui(ui, &line);
    }
}

/// The verdict, and each run of days that is short of room.
fn outlook_ui(ui: &mut Ui, words: &Words<'_>, outlook: Option<&Outlook>) {
    let Some(outlook) = outlook else {
        state_ui(ui, State::Working(None), said::WORKING);
        return;
    };
    let palette = Palette::of(ui);
    let ink = if outlook.crunches.is_empty() { palette.ink } else { palette.trouble };
    ui.add(Label::new(RichText::new(words.headline(outlook)).font(theme::strong(theme::PART_PT)).color(ink)).wrap());
    for crunch in &outlook.crunches {
        wrapped_ui(ui, &words.crunch(crunch));
    }
}

/// What is kept by name, each with what the shelves say to it.
fn kept_ui(ui: &mut Ui, scene: &Scene<'_>, planned: (&History, &Derived), kept: Kept<'_>, actions: &mut Vec<Action>) {
    let (history, derived) = planned;
    let what_ifs = &history.season().settings().what_ifs;
    if what_ifs.is_empty() {
        return;
    }
    if kept.is_open(&history.revision()) && derived.is_fresh() {
        actions.push(Action::Do(Do::CompareWhatIfs));
    }
    let words =
        Words { season: history.season(), library: scene.library, forecast: &derived.forecast, unit: scene.unit };
    ui.add_space(14.0);
    part_title_ui(ui, said::KEPT);
    if let Some(outlook) = derived.outlook.as_ref().filter(|_| derived.is_fresh()) {
        line_ui(ui, said::AS_PLANNED, "", &words.headline(outlook));
    }
    let found = kept.found(&history.revision());
    stop_ui(ui, "what_ifs_kept", said::KEPT, |ui, stop| {
        for (at, what_if) in what_ifs.iter().enumerate() {
            let then = match (found.and_then(|found| found.get(at)), &kept.failure) {
                (Some(Some(then)), _) => words.otherwise(then),
                (Some(None), _) => said::NOT_POSSIBLE.to_owned(),
                (None, Some(why)) => why.clone(),
                (None, None) => said::WORKING.to_owned(),
            };
            ui.add_space(4.0);
            line_ui(ui, &what_if.name, &words.shifts(what_if), &then);
            ui.horizontal(|ui| {
                if stop.small_button_ui(ui, said::SHOW, &said::named(said::SHOW, &what_if.name)) {
                    actions.push(Action::Go(Go::WhatIf(what_if.clone())));
                }
                if stop.small_button_ui(ui, said::DROP, &said::named(said::DROP, &what_if.name)) {
                    let mut settings = history.season().settings().clone();
                    settings.what_ifs.retain(|other| other != what_if);
                    actions.push(Action::Go(Go::LeavePreview));
                    actions.push(Action::edit(Op::SetSettings(settings)));
                    actions.push(Action::Go(Go::Page(crate::window::state::Page::WhatIf)));
                }
            });
        }
    });
}

fn line_ui(ui: &mut Ui, name: &str, shifts: &str, verdict: &str) {
    let title = if shifts.is_empty() { name.to_owned() } else { format!("{name}: {shifts}") };
    ui.add(Label::new(RichText::new(title).font(theme::strong(theme::BODY_PT))).wrap());
    wrapped_ui(ui, verdict);
}
