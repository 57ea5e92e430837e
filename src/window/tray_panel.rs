//! The right side: of what is selected, what it is, what it needs, why these dates.

use egui::{Button, RichText, ScrollArea, Ui, vec2};

use crate::forecast::{Course, Stay};
use crate::outlook::{Placed, free_spot, landing, problems_of_tray, put, spot_of};
use crate::season::{Spot, TrayKey};
use crate::units::Length;
use crate::words;

use super::action::{Action, Do, Go};
use super::kit::{Drafts, Field, Owner, bare_field_ui};
use super::scene::{Scene, counted};
use super::shelves;
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
                what_ui(ui, palette, scene, one.stay);
                where_ui(ui, (scene, &one), from_day, drafts, actions);
                goes_ui(ui, palette, scene, one.id.tray, actions);
                why_ui(ui, palette, scene, one.stay);
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

fn what_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, stay: &Stay) {
    ui.label(scene.words().what(stay));
    if let Some(origin) = stay.tray().and_then(|tray| scene.words().origin(tray)) {
        ui.label(origin);
    }
    let mut facts = Vec::new();
    if stay.plants > 0 {
        facts.push(counted(stay.plants as usize, "plant"));
    }
    if stay.trays.len() > 1 {
        facts.push(format!("{} stacked trays", stay.trays.len()));
    }
    if !facts.is_empty() {
        ui.label(RichText::new(facts.join(" in ")).color(palette.soft_ink));
    }
    heading_ui(ui, palette, "Needs");
    for line in scene.words().needs(stay) {
        ui.label(line);
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
    heading_ui(ui, palette, "Where it stands");
    let words = scene.words();
    shelf_choice_ui(ui, scene, one, actions);
    let wide = vec2(ui.available_width(), 30.0);
    let Some(spot) = one.spot else {
        if ui.add_sized(wide, Button::new("Find it a spot")).clicked() {
            actions.push(Action::Do(Do::FindSpotFor(one.id.tray)));
        }
        no_room_ui(ui, palette, scene, one);
        return;
    };
    let owner = Owner::Tray(one.id.tray);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let mut at = |label: &str, now: Length, with: &dyn Fn(Length) -> Spot| {
            let field = Field::new(label, now.in_words(scene.unit)).width(72.0);
            let to = bare_field_ui(ui, drafts, &owner, &field, |text| Ok(with(Length::parse(text, Some(scene.unit))?)));
            if let Some(to) = to {
                move_to(scene, one, to, actions);
            }
        };
        at("left", spot.x, &|x| Spot { x, ..*spot });
        at("back", spot.y, &|y| Spot { y, ..*spot });
    });
    ui.label(RichText::new(until_words(scene, one, spot)).color(palette.soft_ink));
    ui.checkbox(from_day, format!("Moves count from {} on", words::day(scene.day)))
        .on_hover_text("Off: a move replaces the spot that counts on this day. Alt while dragging does the same once");
    ui.columns(3, |columns| {
        let small = vec2(60.0, 30.0);
        if let [turn, pin, lift] = columns {
            let small = |ui: &Ui| vec2(ui.available_width(), small.y);
            if turn.add_sized(small(turn), Button::new("Turn")).on_hover_text("A quarter turn (R)").clicked() {
                shelves::turn_selected(scene, actions);
            }
            let name = if spot.pinned { "Unpin" } else { "Pin" };
            let said = "A pinned tray stays where it is when spots are found (P)";
            if pin.add_sized(small(pin), Button::new(name)).on_hover_text(said).clicked() {
                shelves::pin(scene, actions);
            }
            if lift
                .add_sized(small(lift), Button::new("Lift"))
                .on_hover_text("Takes it off its shelf (Delete)")
                .clicked()
            {
                shelves::lift(scene, actions);
            }
        }
    });
    for problem in problems_of_tray(scene.forecast, scene.outlook, one.id.tray) {
        ui.label(RichText::new(words.problem(problem)).color(palette.trouble));
    }
}

fn shelf_choice_ui(ui: &mut Ui, scene: &Scene<'_>, one: &Placed<'_>, actions: &mut Vec<Action>) {
    let words = scene.words();
    let now = one.spot.map(|spot| spot.shelf);
    let shown = now.map_or_else(|| "no spot yet".to_owned(), |shelf| words.shelf(shelf));
    let mut chosen = None;
    ui.horizontal(|ui| {
        let label = ui.label("shelf");
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
    actions.push(found.unwrap_or_else(|| {
        Action::Go(Go::Complain(format!("{} has no room on {}", scene.mark(one.stay), words.shelf(shelf))))
    }));
}

fn move_to(scene: &Scene<'_>, one: &Placed<'_>, to: Spot, actions: &mut Vec<Action>) {
    let at = scene.on_day();
    actions.push(match landing(&at, one.stay, Spot { from: at.counts_from(one.stay), ..to }) {
        Ok(landing) => Action::edit(put(&at, one.stay, landing.spot, false)),
        Err(why) => {
            let why = scene.words().obstacle(&why);
            Action::Go(Go::Complain(format!("{} stays where it is: {why}", scene.mark(one.stay))))
        }
    });
}

/// How long the spot it has is free for it.
fn until_words(scene: &Scene<'_>, one: &Placed<'_>, spot: &Spot) -> String {
    let pinned = if spot.pinned { ", pinned" } else { "" };
    let words = scene.words();
    match landing(&scene.on_day(), one.stay, *spot) {
        Ok(landing) => format!("{}{pinned}", words.landing(&landing)),
        Err(why) => format!("in the way here: {}{pinned}", words.obstacle(&why)),
    }
}

fn no_room_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, one: &Placed<'_>) {
    let Some(outlook) = scene.outlook else { return };
    if let Some(crunch) = outlook.crunch_of(one.stay, scene.day) {
        egui::Frame::new().stroke(egui::Stroke::new(1.0, palette.trouble)).inner_margin(8).corner_radius(3).show(
            ui,
            |ui| {
                ui.label(theme::bold("No layout was found with room for it").color(palette.trouble));
                ui.label(scene.words().reason(crunch));
            },
        );
    }
}

fn why_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, stay: &Stay) {
    let Some(TrayKey::Own { lot, .. }) = stay.tray() else { return };
    let Some(course) = scene.forecast.courses.iter().find(|course: &&Course| course.lot == lot) else { return };
    heading_ui(ui, palette, "Why these dates");
    for event in &course.events {
        ui.label(scene.words().event(event));
    }
    if let Some(frost) = &scene.season.settings().frost {
        ui.label(RichText::new(format!("Last frost {}", words::last_frost(frost))).color(palette.soft_ink));
    }
}

/// A tray that is selected but not there on the day shown.
fn elsewhere_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, tray: TrayKey, actions: &mut Vec<Action>) {
    let words = scene.words();
    ui.label(RichText::new(words.tray(tray)).font(theme::strong(theme::TITLE_PT)));
    ui.label(RichText::new(format!("not there on {}", words::day(scene.day))).color(palette.soft_ink));
    goes_ui(ui, palette, scene, tray, actions);
}

/// Where it stands from when to when, and what it becomes; each a click to that day.
fn goes_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, tray: TrayKey, actions: &mut Vec<Action>) {
    let words = scene.words();
    heading_ui(ui, palette, "Where it goes");
    let later = scene.forecast.moved_on_from(tray);
    if !later.is_empty() {
        let mut shown = scene.selection.later;
        if ui.checkbox(&mut shown, "Outline what it becomes").changed() {
            actions.push(Action::Go(Go::Later(shown)));
        }
    }
    let sowing = scene.forecast.stays_of(tray).find_map(|stay| stay.sowing);
    if let Some(sowing) = sowing {
        let mut stands_out = scene.selection.sowing == Some(sowing);
        let text = format!("All of {} clear, the rest faint", words.sowing(sowing));
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
        let place = spot_of(scene.season, stay, stay.span.from())
            .map_or_else(|| "no spot yet".to_owned(), |spot| words.shelf(spot.shelf));
        let text = format!("{}: {place}", words::span(stay.span));
        if row_ui(ui, text, stay.span.contains(scene.day)) {
            actions.push(Action::Go(Go::Day(stay.span.from())));
        }
    }
    for &child in later.iter().take(MOST_CHILDREN) {
        let Some(first) = scene.forecast.stays_of(child).min_by_key(|stay| stay.span.from()) else { continue };
        let day = first.span.from();
        let text = format!("moved on {} into {}, {}", words::day(day), words.tray(child), words.what_briefly(first));
        if row_ui(ui, text, false) {
            actions.push(Action::Go(Go::Day(day)));
            actions.push(Action::Go(Go::Select(Some(child))));
        }
    }
    if later.len() > MOST_CHILDREN {
        ui.label(format!("and {} more", later.len() - MOST_CHILDREN));
    }
}

const MOST_CHILDREN: usize = 12;

/// Of several at once: how many, and what can be done to them together.
fn several_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let all = scene.chosen();
    let title = counted(scene.selection.more.len() + 1, "tray");
    ui.label(RichText::new(format!("{title} chosen")).font(theme::strong(theme::TITLE_PT)).color(palette.ink));
    let with_spot = all.iter().filter(|one| one.spot.is_some()).count();
    let said = format!("{with_spot} stand on a shelf on {}", words::day(scene.day));
    ui.label(RichText::new(said).color(palette.soft_ink));
    ui.label("Drag one and the others come along; Ctrl and a click adds or takes away");
    ui.add_space(6.0);
    let wide = |ui: &Ui| vec2(ui.available_width(), 30.0);
    let can = with_spot > 0;
    for (text, enabled, does) in [
        ("Turn each", can, shelves::turn_selected as fn(&Scene<'_>, &mut Vec<Action>)),
        ("Pin or unpin", can, shelves::pin),
        ("Swap the two", with_spot == 2 && all.len() == 2, shelves::swap),
        ("Lift", can, shelves::lift),
    ] {
        let size = wide(ui);
        if ui.add_enabled(enabled, Button::new(text).min_size(size)).clicked() {
            does(scene, actions);
        }
    }
    heading_ui(ui, palette, "Chosen");
    let marks: Vec<String> = all.iter().map(|one| scene.mark(one.stay)).collect();
    ui.label(marks.join(" · "));
}

/// Nothing is selected: the day.
fn day_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>) {
    ui.label(RichText::new(words::full_day(scene.day)).font(theme::strong(16.0)).color(palette.ink));
    let placed = scene.placed();
    let plants: u32 = placed.iter().map(|one| one.stay.plants).sum();
    let trays = counted(placed.len(), "tray");
    ui.label(if plants > 0 { format!("{trays}, {}", counted(plants as usize, "plant")) } else { trays });
    ui.label(RichText::new("Choose a tray to see what it is, what it needs, and why then").color(palette.soft_ink));
}
