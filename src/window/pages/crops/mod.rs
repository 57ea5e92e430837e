//! The crops page: what is known of each crop, and where from. A figure that is changed becomes the
//! grower's own, for this season.

mod curve;
mod draft;

use std::collections::BTreeMap;

use egui::{Button, Frame, Id, Label, Margin, Panel, RichText, ScrollArea, TextEdit, Ui, WidgetInfo, vec2};

use crate::season::{Crop, CropKey, Edit, EditLabel, FieldId, GrowthPoint, Op, SettingDepth, Sourced};
use crate::words::{self, source};

use crate::window::action::Action;
use crate::window::kit::fields::{FIELD_PT, WIDE_PT, beside_ui, button_ui, choice_ui, row_ui, tried};
use crate::window::kit::form::{Form, Lines};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use draft::{Curve, or_nothing, point_shown};

const DEPTHS: [(SettingDepth, &str); 3] = [
    (SettingDepth::Deep, "deep, to the seed leaves"),
    (SettingDepth::Collar, "at the root collar"),
    (SettingDepth::Either, "either"),
];

const FORM_PT: f32 = 560.0;

/// What the page keeps between frames; gone with the season.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct CropsPage {
    /// The first of the list where nothing is chosen.
    chosen: Option<CropKey>,
    part: String,
    forms: BTreeMap<CropKey, Form>,
}

pub(in crate::window) fn crops_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut CropsPage, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let all = listed(scene, &page.part);
    let find = |key: &CropKey| scene.season.crop(scene.library, key);
    let chosen = page.chosen.as_ref().and_then(find).or_else(|| all.first().copied());
    let side = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(12, 10));
    Panel::left("crops").frame(side).default_size(320.0).size_range(220.0..=460.0).show(ui, |ui| {
        list_ui(ui, scene, page, &all, chosen.map(|crop| &crop.key));
    });
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(20, 14));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        let salt = ("crop", chosen.map(|crop| &crop.key));
        ScrollArea::vertical().auto_shrink([false, false]).id_salt(salt).show(ui, |ui| match chosen {
            Some(crop) => crop_ui(ui, scene, crop, page, actions),
            None => drop(ui.label("No crop of that name")),
        });
    });
}

/// The grower's own first, then the library's, each by name.
fn listed<'a>(scene: &Scene<'a>, part: &str) -> Vec<&'a Crop> {
    let season = scene.season;
    let part = part.trim().to_lowercase();
    let fits =
        |crop: &&Crop| part.is_empty() || [&crop.name, &crop.latin].iter().any(|n| n.to_lowercase().contains(&part));
    let mut own: Vec<&Crop> = season.own_crops().filter(fits).collect();
    let others = scene.library.crops.values().filter(|crop| season.own_crops().all(|own| own.key != crop.key));
    let mut others: Vec<&Crop> = others.filter(fits).collect();
    own.sort_by(|a, b| a.name.cmp(&b.name));
    others.sort_by(|a, b| a.name.cmp(&b.name));
    own.extend(others);
    own
}

/// `your own`, `changed by you`; nothing for the library's.
fn mark_of(scene: &Scene<'_>, crop: &Crop) -> &'static str {
    match scene.library.crops.get(&crop.key) {
        Some(library) if library == crop => "",
        Some(_) => "changed by you",
        None => "your own",
    }
}

fn list_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut CropsPage, all: &[&Crop], chosen: Option<&CropKey>) {
    let field = TextEdit::singleline(&mut page.part).hint_text("Part of a name").min_size(vec2(0.0, theme::TARGET_PT));
    let field = ui.add(field.desired_width(f32::INFINITY));
    field.ctx.accesskit_node_builder(field.id, |node| node.set_label("Find a crop"));
    if all.is_empty() {
        ui.label("No crop of that name");
    }
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        for crop in all {
            let open = chosen == Some(&crop.key);
            let mark = mark_of(scene, crop);
            let name = if mark.is_empty() { crop.name.clone() } else { format!("{}, {mark}", crop.name) };
            let soft = RichText::new(mark).color(Palette::of(ui).soft_ink);
            let button = Button::new(&crop.name).right_text(soft).min_size(vec2(ui.available_width(), 28.0)).truncate();
            let response = ui.add(button.selected(open).frame_when_inactive(false)).on_hover_text(&crop.latin);
            response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, open, &name));
            if response.clicked() {
                page.chosen = Some(crop.key.clone());
            }
        }
    });
}

fn head_ui(ui: &mut Ui, scene: &Scene<'_>, crop: &Crop, page: &mut CropsPage, actions: &mut Vec<Action>) {
    let library = scene.library.crops.get(&crop.key);
    let is_own = scene.season.own_crops().any(|own| own.key == crop.key);
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(&crop.name).font(theme::strong(theme::TITLE_PT)));
        if button_ui(ui, "Start from this one") {
            let copy = copy_of(scene, crop);
            page.chosen = Some(copy.key.clone());
            let label = EditLabel::AddCrop(copy.name.clone());
            actions.push(Action::Edit(Edit::new(label, vec![Op::PutCrop(Box::new(copy))])));
        }
        match library.filter(|library| *library != crop) {
            Some(library) if button_ui(ui, "Back to the library's figures") => {
                // While a sowing uses it, the season keeps an entry of its own that says the same.
                let remove = tried(scene.season, Op::RemoveCrop(crop.key.clone()));
                actions.push(remove.unwrap_or_else(|_| Action::Edit(Op::PutCrop(Box::new(library.clone())).into())));
                page.forms.remove(&crop.key);
            }
            None if is_own && library.is_none() && button_ui(ui, "Remove crop") => {
                let removed = tried(scene.season, Op::RemoveCrop(crop.key.clone()));
                actions.push(removed.unwrap_or_else(|why| Action::Complain(format!("Not removed: {why}"))));
            }
            _ => {}
        }
    });
    let mark = match mark_of(scene, crop) {
        "" => "From the library; a figure that you change counts in this season",
        "your own" => "Your own",
        _ => "Changed by you, for this season",
    };
    ui.label(RichText::new(mark).color(Palette::of(ui).soft_ink));
}

/// The same under another name, for the grower to change.
fn copy_of(scene: &Scene<'_>, crop: &Crop) -> Crop {
    let stem: String = crop.key.0.chars().take(40).collect();
    let free = |key: &CropKey| scene.season.crop(scene.library, key).is_none();
    let keys = (1..100_000_u32).map(|n| CropKey::new(&format!("{stem}_own_{n}")));
    let key = keys.clone().find(free).unwrap_or_else(|| CropKey::new(&stem));
    let name = format!("{}, own", crop.name.trim_end_matches(", own")).chars().take(200).collect();
    Crop { key, name, ..crop.clone() }
}

fn crop_ui(ui: &mut Ui, scene: &Scene<'_>, crop: &Crop, page: &mut CropsPage, actions: &mut Vec<Action>) {
    head_ui(ui, scene, crop, page, actions);
    ui.add_space(6.0);
    let form = page.forms.entry(crop.key.clone()).or_default();
    let typed = draft::read(form, crop, scene);
    let faults = typed.as_ref().err().cloned().unwrap_or_default();
    let drawn = typed.or_else(|faults| draft::read(&form.without(&faults), crop, scene));
    let now = drawn.as_ref().unwrap_or(crop);
    let mut lines = Lines { form, faults: &faults, of: Id::unique(("crop", &crop.key)) };
    let mut changed = None;
    let mut depth = None;
    beside_ui(
        ui,
        FORM_PT,
        &mut lines,
        |ui, lines| {
            figures_ui(ui, lines, crop, now);
            depth = choice_ui(ui, "Set", crop.depth.value, &DEPTHS);
            row_ui(ui, "", |ui, _| said_ui(ui, &source(&crop.depth)));
        },
        |ui, lines| {
            ui.label(theme::bold("Height and spread, week by week from sowing"));
            curve::curve_ui(ui, now, scene.unit);
            for curve in [Curve::Height, Curve::Spread] {
                changed = points_ui(ui, scene, lines, curve, crop, now).or(changed.take());
            }
        },
    );
    if form.is_left(ui)
        && let Ok(typed) = draft::read(form, crop, scene)
    {
        actions.push(Action::Edit(Op::PutCrop(Box::new(typed)).into()));
        *form = Form::default();
    } else if let Some(depth) = depth {
        let depth = Sourced::own(depth);
        actions.push(Action::Edit(Op::PutCrop(Box::new(Crop { depth, ..crop.clone() })).into()));
    } else if let Some((curve, points)) = changed {
        let mut next = crop.clone();
        *curve.of_mut(&mut next) = Sourced::own(points);
        match tried(scene.season, Op::PutCrop(Box::new(next))) {
            Ok(action) => actions.push(action),
            Err(why) => actions.push(Action::Complain(format!("Not done: {why}"))),
        }
        for name in (0..40).flat_map(|at| curve.fields(at)) {
            form.forget(&name);
        }
    }
    ui.add_space(16.0);
}

fn figures_ui(ui: &mut Ui, lines: &mut Lines<'_>, crop: &Crop, now: &Crop) {
    lines.line_ui(ui, draft::NAME, &crop.name, "", WIDE_PT);
    let one = |ui: &mut Ui, lines: &mut Lines<'_>, name: &str, shown: &str, source: &str| {
        lines.line_with_ui(ui, name, shown, "", FIELD_PT, |ui| said_ui(ui, source));
    };
    let germination = crop.germination_percent.value.to_string();
    one(ui, lines, draft::GERMINATION, &germination, &source(&now.germination_percent));
    let days = crop.emergence.value;
    let [early, likely, late] = [days.early, days.likely, days.late].map(|days| days.to_string());
    let [a, b, c] = draft::UP;
    let fields = [("early", a, early.as_str()), ("likely", b, likely.as_str()), ("late", c, late.as_str())];
    lines.several_ui(ui, words::field(FieldId::CropEmergence), &fields, |ui| said_ui(ui, &source(&now.emergence)));
    let moving_on = crop.moving_on.value;
    let leaves = or_nothing(moving_on.true_leaves);
    lines.line_with_ui(ui, draft::LEAVES, &leaves, "by age", FIELD_PT, |ui| {
        said_ui(ui, "before it is moved on; empty: by age");
    });
    let [early, likely, late] =
        [moving_on.days.early, moving_on.days.likely, moving_on.days.late].map(|days| days.to_string());
    let [a, b, c] = draft::DUE;
    let fields = [("early", a, early.as_str()), ("likely", b, likely.as_str()), ("late", c, late.as_str())];
    lines.several_ui(ui, words::field(FieldId::CropMovingOn), &fields, |ui| said_ui(ui, &source(&now.moving_on)));
    let weeks = crop.latest.value;
    let shown = [weeks.small, weeks.medium, weeks.large, weeks.pot].map(or_nothing);
    let short = ["small", "medium", "large cells", "pots"];
    let fields: Vec<(&str, &str, &str)> = short
        .into_iter()
        .zip(draft::LATEST)
        .zip(&shown)
        .map(|((short, name), shown)| (short, name, &**shown))
        .collect();
    lines.several_ui(ui, "Weeks at most in", &fields, |ui| said_ui(ui, &source(&now.latest)));
    let (least, most) = crop.weeks_to_planting_out.value;
    let (least, most) = (least.to_string(), most.to_string());
    let [a, b] = draft::WEEKS;
    let fields = [("", a, least.as_str()), ("to", b, most.as_str())];
    lines.several_ui(ui, words::field(FieldId::CropWeeksOut), &fields, |ui| {
        said_ui(ui, &source(&now.weeks_to_planting_out));
    });
    let frost = crop.planting_out_after_frost.as_ref().map(|weeks| weeks.value);
    let (earliest, latest) = (or_nothing(frost.map(|f| f.0)), or_nothing(frost.map(|f| f.1)));
    let [a, b] = draft::FROST;
    let fields = [("", a, earliest.as_str()), ("to", b, latest.as_str())];
    let beside = now.planting_out_after_frost.as_ref().map_or_else(|| "negative is before it".to_owned(), source);
    lines.several_ui(ui, words::field(FieldId::CropWeeksFromFrost), &fields, |ui| said_ui(ui, &beside));
    let hardening = crop.hardening.value;
    let (days, night) = (hardening.days.to_string(), hardening.first_night_after.to_string());
    let fields =
        [("days", draft::HARDENING, days.as_str()), ("first night out after", draft::FIRST_NIGHT, night.as_str())];
    lines.several_ui(ui, "Hardening off", &fields, |ui| said_ui(ui, &source(&now.hardening)));
    one(ui, lines, draft::COME_IN, crop.come_in.value.typed(), &source(&now.come_in));
    one(ui, lines, draft::MOVES, &crop.usual_moves.to_string(), "between sowing and planting out");
}

/// The points of a curve, and those of the next one if a point was added or removed.
fn points_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    lines: &mut Lines<'_>,
    curve: Curve,
    crop: &Crop,
    now: &Crop,
) -> Option<(Curve, Vec<GrowthPoint>)> {
    let mut changed = None;
    let points = &curve.of(crop).value;
    let what = curve.what();
    for (at, point) in points.iter().enumerate() {
        let ([week, size], [week_shown, size_shown]) = (curve.fields(at), point_shown(point, scene.unit));
        let fields = [
            (words::field(FieldId::HeightWeek(at)), week.as_str(), week_shown.as_str()),
            (what, size.as_str(), size_shown.as_str()),
        ];
        ui.horizontal_wrapped(|ui| {
            lines.fields_ui(ui, &fields);
            let button = ui.add(Button::new("Remove").min_size(vec2(64.0, theme::TARGET_PT)));
            let name = format!("Remove {what} {}", at + 1);
            button.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &name));
            if button.clicked() {
                let rest = points.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, point)| *point);
                changed = Some((curve, rest.collect()));
            }
        });
    }
    ui.horizontal(|ui| {
        if button_ui(ui, &format!("Add a {what}")) {
            let last = points.last().copied().unwrap_or(GrowthPoint { week: 0.0, mm: 0.0 });
            let next = GrowthPoint { week: last.week + 1.0, mm: last.mm };
            changed = Some((curve, points.iter().copied().chain([next]).collect()));
        }
        said_ui(ui, &source(curve.of(now)));
    });
    changed
}

/// One line, the whole of it under the pointer.
fn said_ui(ui: &mut Ui, said: &str) {
    let text = RichText::new(said).font(theme::small()).color(Palette::of(ui).soft_ink);
    let left = ui.available_size_before_wrap().x;
    // On a line of its own where too little is left behind the fields.
    let room = if left < 110.0 { ui.max_rect().width() } else { left };
    ui.allocate_ui(vec2(room, 20.0), |ui| ui.add(Label::new(text).truncate()).on_hover_text(said));
}
