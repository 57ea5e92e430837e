//! The right side: of what is selected, what it is, what it needs, why these dates.

use egui::{Button, RichText, ScrollArea, Ui, vec2};

use crate::forecast::{Course, Phase, Stay};
use crate::outlook::{OnDayCount, Placed, free_spot, landing, problems_of_tray, put, spot_of};
use crate::season::{Spot, TrayKey};
use crate::units::Length;
use crate::words::{self, tray as said, ways_out};

use super::action::{Action, Do, Go};
use super::kit::{Drafts, Fault, Field, Owner, bare_field_ui, linked_ui};
use super::scene::Scene;
use super::shared_tray::shared_tray_ui;
use super::shelves;
use super::state::Page;
use super::theme::{self, Palette};

pub(super) fn tray_panel_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    from_day: &mut bool,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 3.0;
        if scene.selection.several() {
            several_ui(ui, palette, scene, actions);
            return;
        }
        match (shelves::selected(scene), scene.selection.tray) {
            (Some(one), _) => {
                title_ui(ui, palette, scene, one.stay);
                what_ui(ui, palette, scene, one.stay, actions);
                shared_tray_ui(ui, scene, one.id.tray, actions);
                where_ui(ui, (scene, &one), from_day, drafts, actions);
                goes_ui(ui, palette, scene, one.id.tray, actions);
                why_ui(ui, palette, scene, one.stay, actions);
            }
            (None, Some(tray)) => elsewhere_ui(ui, palette, scene, tray, actions),
            (None, None) => day_ui(ui, palette, scene),
        }
    });
}

fn heading_ui(ui: &mut Ui, palette: &Palette, text: &str) {
    ui.add_space(8.0);
    ui.label(theme::bold(text).color(palette.ink));
}

fn title_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, stay: &Stay) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(scene.mark(stay)).font(theme::strong(theme::TITLE_PT)).color(palette.ink));
        ui.label(RichText::new(scene.crop_name(stay)).color(palette.soft_ink));
    });
}

/// A sentence whose days, shelves, trays and sowings lead to them.
fn said_ui(ui: &mut Ui, scene: &Scene<'_>, sentence: &str, ink: egui::Color32, actions: &mut Vec<Action>) {
    linked_ui(ui, scene, sentence, (theme::body(), ink), actions);
}

fn what_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, stay: &Stay, actions: &mut Vec<Action>) {
    ui.label(scene.words().what(stay));
    if let Some(origin) = stay.tray().and_then(|tray| scene.words().origin(tray)) {
        said_ui(ui, scene, &origin, palette.ink, actions);
    }
    let as_sown = matches!(stay.phase, Phase::Germinating | Phase::Plugs);
    if let Some(facts) = said::facts(stay.plants, as_sown, stay.trays.len()) {
        ui.label(RichText::new(facts).color(palette.soft_ink));
    }
    heading_ui(ui, palette, said::NEEDS);
    for line in scene.words().needs(stay) {
        said_ui(ui, scene, &line, palette.ink, actions);
    }
}

/// Everything the pointer can do to a tray, for the keyboard.
fn where_ui(
    ui: &mut Ui,
    (scene, one): (&Scene<'_>, &Placed<'_>),
    from_day: &mut bool,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    heading_ui(ui, palette, said::WHERE_IT_STANDS);
    shelf_choice_ui(ui, scene, one, actions);
    let wide = vec2(ui.available_width(), 30.0);
    let Some(spot) = one.spot else {
        if ui.add_sized(wide, Button::new(said::FIND_IT_A_SPOT)).clicked() {
            actions.push(Action::Do(Do::FindSpotFor(one.id.tray)));
        }
        if scene.outlook.is_some_and(|outlook| !outlook.crunches.is_empty())
            && ui.add_sized(wide, Button::new(ways_out::OPEN)).on_hover_text(ways_out::WHAT_IT_DOES).clicked()
        {
            actions.push(Action::Go(Go::Page(Page::MakeRoom)));
        }
        no_room_ui(ui, palette, scene, one, actions);
        problems_ui(ui, palette, scene, one, actions);
        return;
    };
    let owner = Owner::Tray(one.id.tray);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let mut at = |label: &str, now: Length, with: &dyn Fn(Length) -> Spot| {
            let field = Field::new(label, now.in_words(scene.unit)).width(72.0);
            let to = |text: &str| moved_to(scene, one, with(Length::parse(text, Some(scene.unit))?));
            actions.extend(bare_field_ui(ui, drafts, &owner, &field, to));
        };
        at(said::LEFT, spot.x, &|x| Spot { x, ..*spot });
        at(said::BACK, spot.y, &|y| Spot { y, ..*spot });
    });
    ui.label(RichText::new(until_words(scene, one, spot)).color(palette.soft_ink));
    ui.checkbox(from_day, said::moves_count_from(scene.day)).on_hover_text(said::WHAT_MOVES_COUNT_FROM);
    let small = |ui: &Ui| vec2(ui.available_width(), 30.0);
    ui.columns(2, |columns| {
        if let [turn, pin] = columns {
            if turn.add_sized(small(turn), Button::new(said::TURN)).on_hover_text(said::WHAT_TURN_DOES).clicked() {
                shelves::turn_selected(scene, actions);
            }
            let name = if spot.pinned { said::UNPIN } else { said::PIN };
            if pin.add_sized(small(pin), Button::new(name)).on_hover_text(said::WHAT_PIN_DOES).clicked() {
                shelves::pin(scene, actions);
            }
        }
    });
    if ui.add_sized(small(ui), Button::new(said::LIFT)).on_hover_text(said::WHAT_LIFT_DOES).clicked() {
        shelves::lift(scene, actions);
    }
    problems_ui(ui, palette, scene, one, actions);
}

fn problems_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, one: &Placed<'_>, actions: &mut Vec<Action>) {
    for problem in problems_of_tray(scene.problems, one.id.tray) {
        said_ui(ui, scene, &scene.words().problem(problem), palette.trouble, actions);
    }
}

fn shelf_choice_ui(ui: &mut Ui, scene: &Scene<'_>, one: &Placed<'_>, actions: &mut Vec<Action>) {
    let words = scene.words();
    let now = one.spot.map(|spot| spot.shelf);
    let shown = now.map_or_else(|| words::NO_SPOT_YET.to_owned(), |shelf| words.shelf(shelf));
    let mut chosen = None;
    ui.horizontal(|ui| {
        let label = ui.label(said::SHELF);
        let choice =
            egui::ComboBox::from_id_salt("shelf").width(ui.available_width() - 8.0).selected_text(shown).truncate();
        let response = choice.show_ui(ui, |ui| {
            for shelf in scene.season.racks().iter().flat_map(|rack| scene.season.shelves_of(rack.id)) {
                if ui.selectable_label(now == Some(shelf.id), words.shelf(shelf.id)).clicked() {
                    chosen = Some(shelf.id);
                }
            }
        });
        response.response.labelled_by(label.id);
    });
    let Some(shelf) = chosen.filter(|chosen| Some(*chosen) != now) else { return };
    let at = scene.on_day();
    let found = free_spot(&at, one.stay, Some(shelf)).map(|spot| Action::edit(put(&at, one.stay, spot, false)));
    actions.push(
        found.unwrap_or_else(|| Action::Go(Go::Complain(said::no_room_on(&scene.mark(one.stay), &words.shelf(shelf))))),
    );
}

fn moved_to(scene: &Scene<'_>, one: &Placed<'_>, to: Spot) -> Result<Action, Fault> {
    let at = scene.on_day();
    let landing = landing(&at, one.stay, Spot { from: at.counts_from(one.stay), ..to })
        .map_err(|why| said::stays(&scene.mark(one.stay), &scene.words().obstacle(&why)))?;
    Ok(Action::edit(put(&at, one.stay, landing.spot, false)))
}

/// How long the spot it has is free for it.
fn until_words(scene: &Scene<'_>, one: &Placed<'_>, spot: &Spot) -> String {
    let words = scene.words();
    match landing(&scene.on_day(), one.stay, *spot) {
        Ok(landing) => said::of_spot(true, &words.landing(&landing), spot.pinned),
        Err(why) => said::of_spot(false, &words.obstacle(&why), spot.pinned),
    }
}

fn no_room_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, one: &Placed<'_>, actions: &mut Vec<Action>) {
    let Some(outlook) = scene.outlook else { return };
    if let Some(crunch) = outlook.crunch_of(one.stay, scene.day) {
        egui::Frame::new().stroke(egui::Stroke::new(1.0, palette.trouble)).inner_margin(8).corner_radius(3).show(
            ui,
            |ui| {
                ui.label(theme::bold(said::NO_LAYOUT).color(palette.trouble));
                said_ui(ui, scene, &scene.words().reason(crunch), palette.ink, actions);
            },
        );
    }
}

fn why_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, stay: &Stay, actions: &mut Vec<Action>) {
    let Some(TrayKey::Own { lot, .. }) = stay.tray().filter(|_| stay.sowing.is_some()) else { return };
    let Some(course) = scene.forecast.courses.iter().find(|course: &&Course| course.lot == lot) else { return };
    ui.add_space(6.0);
    let wide = vec2(ui.available_width(), 28.0);
    for (text, to) in [
        (said::ITS_SOWING, vec![Go::Sowing(course.sowing), Go::Page(Page::Plan)]),
        (said::ITS_RECORDS, vec![Go::Records(course.sowing)]),
    ] {
        if ui.add_sized(wide, Button::new(text)).clicked() {
            actions.extend(to.into_iter().map(Action::Go));
        }
    }
    heading_ui(ui, palette, said::WHY_THESE_DATES);
    for event in &course.events {
        said_ui(ui, scene, &scene.words().event(event), palette.ink, actions);
    }
    if let Some(frost) = &scene.season.settings().frost {
        ui.label(RichText::new(words::last_frost_line(frost, scene.unit)).color(palette.soft_ink));
    }
}

/// A tray that is selected but not there on the day shown.
fn elsewhere_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, tray: TrayKey, actions: &mut Vec<Action>) {
    let words = scene.words();
    ui.label(RichText::new(words.tray(tray)).font(theme::strong(theme::TITLE_PT)));
    ui.label(RichText::new(said::not_there(scene.day)).color(palette.soft_ink));
    shared_tray_ui(ui, scene, tray, actions);
    goes_ui(ui, palette, scene, tray, actions);
}

/// Where it stands from when to when, and what it becomes; each a click to that day.
fn goes_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, tray: TrayKey, actions: &mut Vec<Action>) {
    let words = scene.words();
    heading_ui(ui, palette, said::WHERE_IT_GOES);
    let later = scene.forecast.moved_on_from(tray);
    if !later.is_empty() {
        let mut shown = scene.selection.later;
        if ui.checkbox(&mut shown, said::OUTLINE_LATER).changed() {
            actions.push(Action::Go(Go::Later(shown)));
        }
    }
    let first = scene.forecast.stays_of(tray).min_by_key(|stay| stay.span.from());
    for sowing in first.map(|stay| scene.forecast.sowings_in(stay)).unwrap_or_default() {
        let mut stands_out = scene.selection.sowing == Some(sowing);
        let text = said::all_of_clear(&words.sowing(sowing));
        if ui.checkbox(&mut stands_out, text).changed() {
            actions.push(Action::Go(Go::Highlight(stands_out.then_some(sowing))));
        }
    }
    let row_ui = |ui: &mut Ui, text: String, now: bool| {
        let text = if now { theme::bold(text) } else { RichText::new(text) };
        let size = vec2(ui.available_width(), 26.0);
        ui.add(Button::new(text).wrap().right_text("").min_size(size).selected(now)).clicked()
    };
    for stay in scene.forecast.stays_of(tray) {
        let shelf = spot_of(scene.season, stay, stay.span.from()).map(|spot| words.shelf(spot.shelf));
        let text = said::stands(stay.span, shelf.as_deref());
        if row_ui(ui, text, stay.span.contains(scene.day)) {
            actions.push(Action::Go(Go::Day(stay.span.from())));
        }
    }
    for &child in later.iter().take(MOST_CHILDREN) {
        let Some(first) = scene.forecast.stays_of(child).min_by_key(|stay| stay.span.from()) else { continue };
        let day = first.span.from();
        let text = words.becomes_on(child, first);
        if row_ui(ui, text, false) {
            actions.push(Action::Go(Go::Day(day)));
            actions.push(Action::Go(Go::Select(Some(child))));
        }
    }
    if later.len() > MOST_CHILDREN {
        ui.label(said::and_more(later.len() - MOST_CHILDREN));
    }
}

const MOST_CHILDREN: usize = 12;

/// Of several at once: how many, and what can be done to them together.
fn several_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let all = scene.chosen();
    let title = said::chosen(scene.selection.more.len() + 1);
    ui.label(RichText::new(title).font(theme::strong(theme::TITLE_PT)).color(palette.ink));
    let with_spot = all.iter().filter(|one| one.spot.is_some()).count();
    let on_shelves = said::stand_on_a_shelf(with_spot, scene.day);
    ui.label(RichText::new(on_shelves).color(palette.soft_ink));
    ui.label(said::WHAT_SEVERAL_CAN);
    ui.add_space(6.0);
    let wide = |ui: &Ui| vec2(ui.available_width(), 30.0);
    let can = with_spot > 0;
    for (text, enabled, does) in [
        (said::TURN_EACH, can, shelves::turn_selected as fn(&Scene<'_>, &mut Vec<Action>)),
        (said::PIN_OR_UNPIN, can, shelves::pin),
        (said::SWAP_THE_TWO, with_spot == 2 && all.len() == 2, shelves::swap),
        (said::LIFT, can, shelves::lift),
    ] {
        let size = wide(ui);
        if ui.add_enabled(enabled, Button::new(text).min_size(size)).clicked() {
            does(scene, actions);
        }
    }
    heading_ui(ui, palette, said::CHOSEN);
    let marks: Vec<String> = all.iter().map(|one| scene.mark(one.stay)).collect();
    ui.label(marks.join(" · "));
}

/// Nothing is selected: the day.
fn day_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>) {
    ui.label(RichText::new(words::full_day(scene.day)).font(theme::strong(theme::HEAD_PT)).color(palette.ink));
    let placed = scene.placed();
    let there = OnDayCount::of(&placed);
    ui.label(said::of_day(&there));
    ui.label(RichText::new(said::CHOOSE_ONE).color(palette.soft_ink));
}
