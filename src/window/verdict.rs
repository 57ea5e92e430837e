//! The verdict, always there at the top right; a click opens what is short, why, and what else there is to see to.

use egui::{
    Align, Button, CornerRadius, Label, Layout, Popup, PopupCloseBehavior, RectAlign, RichText, Role, Stroke, Ui,
    WidgetInfo, vec2,
};

use crate::outlook::ways_out::{Found, WayOut};
use crate::outlook::{Outlook, Verdict};
use crate::words::{sowings, verdict as said, ways_out, weeks};

use super::action::{Action, Do, Go};
use super::kit::{
    Named, State, linked_ui, picture_ui, small_button_ui, soft_ui, state_next_ui, state_ui, stop_ui, wrapped_ui,
};
use super::scene::Scene;
use super::state::Page;
use super::theme::{self, Palette};
use super::ways::Ways;

/// Of these so many, then how many more there are.
const MOST_PROBLEMS: usize = 6;
const POPUP_PT: f32 = 440.0;
/// Between it and the window's foot.
const ROUND_PT: f32 = 24.0;
/// It is never lower, however low the window is.
const LEAST_PT: f32 = 160.0;

/// How far the work on the outlook is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Work<'a> {
    /// While it goes on, from 0 to 1.
    pub(super) progress: Option<f32>,
    /// Its layout is wanted as soon as it is there.
    pub(super) finding: bool,
    /// The grower stopped it.
    pub(super) stopped: bool,
    pub(super) failure: Option<&'a str>,
    /// The layout that was found is the one that stands.
    pub(super) layout_stands: bool,
}

/// What the verdict is, as far as it is known.
enum Known<'a> {
    NothingSown,
    /// From 0 to 1, where it goes on.
    Working(Option<f32>),
    Stopped,
    Failed(&'a str),
    Told(&'a Outlook),
}

fn known<'a>(scene: &Scene<'a>, work: &Work<'a>) -> Known<'a> {
    match (work.failure, scene.outlook) {
        (Some(why), _) => Known::Failed(why),
        (None, Some(outlook)) if scene.outlook_is_fresh && scene.forecast.span().is_some() => Known::Told(outlook),
        (None, _) if scene.forecast.span().is_none() => Known::NothingSown,
        _ if work.stopped => Known::Stopped,
        _ => Known::Working(work.progress),
    }
}

/// Drawn from the right; as wide as what it says, cut where there is less room.
pub(super) fn verdict_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    work: &Work<'_>,
    ways: Option<&Ways>,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let known = known(scene, work);
    let (text, fill, ink) = looks(palette, scene, &known, ways);
    let shown = RichText::new(&text).font(theme::strong(theme::PART_PT)).color(ink);
    let edge = if fill == palette.shelf { Stroke::new(1.0, palette.soft_ink) } else { Stroke::NONE };
    let button = Button::new(shown).fill(fill).stroke(edge).corner_radius(CornerRadius::same(13)).truncate();
    // a menu bar leaves less room around letters
    ui.spacing_mut().button_padding = vec2(12.0, 3.0);
    let response = ui.add(button.min_size(vec2(60.0, 27.0)));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &text));
    let response = response.on_hover_text(format!("{text}: {}", said::OPENS));
    let popup = Popup::menu(&response)
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .width(POPUP_PT)
        // its right edge stays where it is when the ways out are counted
        .align(RectAlign::BOTTOM_END)
        .layout(Layout::top_down(Align::Min));
    let done = popup.show(|ui| {
        ui.set_max_width(POPUP_PT);
        let mut chosen = Vec::new();
        // in a low window it is scrolled, and stays inside
        let height = ui.ctx().content_rect().height() - response.rect.bottom() - ROUND_PT;
        ui.set_max_height(height.max(LEAST_PT));
        let area = egui::ScrollArea::vertical().max_height(height.max(LEAST_PT)).min_scrolled_height(LEAST_PT);
        area.show(ui, |ui| opened_ui(ui, scene, &known, ways, &mut chosen));
        let leads_away = chosen.iter().any(|action| matches!(action, Action::Go(_) | Action::Do(Do::TakeWay(_))));
        actions.append(&mut chosen);
        leads_away
    });
    if done.is_some_and(|done| done.inner) {
        Popup::close_all(ui.ctx());
    }
    if work.progress.is_some() {
        if ui.add(Button::new(weeks::STOP).min_size(vec2(56.0, 26.0))).clicked() {
            actions.push(Action::Do(Do::StopWork));
        }
    } else if (work.stopped || work.failure.is_some())
        && ui.add(Button::new(weeks::WORK_IT_OUT).min_size(vec2(96.0, 26.0))).clicked()
    {
        actions.push(Action::Do(Do::WorkItOut));
    }
}

fn looks(
    palette: &Palette,
    scene: &Scene<'_>,
    known: &Known<'_>,
    ways: Option<&Ways>,
) -> (String, egui::Color32, egui::Color32) {
    let grey = |text: &str| (text.to_owned(), palette.shelf, palette.ink);
    match known {
        Known::NothingSown => grey(said::NOTHING_YET),
        Known::Working(_) => grey(said::WORKING),
        Known::Stopped => grey(said::STOPPED),
        Known::Failed(_) => grey(said::NOT_KNOWN),
        Known::Told(outlook) => {
            let text = scene.words().short_verdict(outlook, scene.chance);
            match outlook.verdict {
                Verdict::Fits => (text, palette.good, palette.on_selected),
                Verdict::Unsettled => (text, palette.shelf, palette.ink),
                Verdict::Crunch => {
                    let number = ways.and_then(|ways| ways.found(&scene.revision)).map(number_of);
                    let ways = number.map_or_else(String::new, |number| format!(" · {}", said::ways(number)));
                    (format!("{text}{ways}"), palette.trouble, palette.on_selected)
                }
            }
        }
    }
}

/// Those that are offered for some run of days, or the one that is put together for all.
fn number_of(found: &Found) -> usize {
    let offered: usize = found.of_crunches.iter().map(Vec::len).sum();
    offered.max(usize::from(found.best.way.is_some()))
}

fn opened_ui(ui: &mut Ui, scene: &Scene<'_>, known: &Known<'_>, ways: Option<&Ways>, actions: &mut Vec<Action>) {
    match known {
        Known::NothingSown => {
            if state_next_ui(ui, State::NothingSown, said::NOTHING_YET, sowings::WRITE_FIRST) {
                actions.push(Action::Go(Go::WriteSowing));
            }
        }
        Known::Working(progress) => state_ui(ui, State::Working(*progress), weeks::WORKING),
        Known::Stopped => work_again_ui(ui, State::Stopped, weeks::STOPPED, actions),
        Known::Failed(why) => work_again_ui(ui, State::Failed, why, actions),
        Known::Told(outlook) if outlook.crunches.is_empty() => {
            picture_ui(ui, State::InOrder);
            ui.add(Label::new(theme::bold(weeks::calm(outlook, scene.chance))).wrap());
        }
        Known::Told(outlook) => short_ui(ui, scene, outlook, ways, actions),
    }
    // what is short comes first, and alone
    let is_short = matches!(known, Known::Told(outlook) if !outlook.crunches.is_empty());
    also_ui(ui, scene, if is_short { 0 } else { MOST_PROBLEMS }, actions);
}

fn work_again_ui(ui: &mut Ui, state: State, said: &str, actions: &mut Vec<Action>) {
    if state_next_ui(ui, state, said, weeks::WORK_IT_OUT) {
        actions.push(Action::Do(Do::WorkItOut));
    }
}

/// Every run of days that is short, why, and what can be done.
fn short_ui(ui: &mut Ui, scene: &Scene<'_>, outlook: &Outlook, ways: Option<&Ways>, actions: &mut Vec<Action>) {
    let (palette, words) = (Palette::of(ui), scene.words());
    ui.label(theme::bold(weeks::CRUNCH).color(palette.trouble));
    stop_ui(ui, "verdict_crunches", weeks::CRUNCH, |ui, stop| {
        for (at, crunch) in outlook.crunches.iter().enumerate() {
            let (text, reason) = (words.crunch(crunch), words.reason(crunch));
            let row = Button::new(&text).wrap().min_size(vec2(ui.available_width(), theme::TARGET_PT));
            let hover = weeks::leads_to_proof(&reason);
            if stop.row_ui(ui, row, Named { hover: &hover, ..Named::new(&text) }) {
                actions.push(Action::Go(Go::Crunch(at)));
            }
            if at == 0 {
                linked_ui(ui, scene, &reason, (theme::body(), palette.soft_ink), actions);
            }
        }
    });
    ui.add_space(6.0);
    let Some(ways) = ways else { return };
    if ways.is_open(&scene.revision) {
        actions.push(Action::Do(Do::LookForWays));
    }
    match ways.found(&scene.revision) {
        Some(found) => found_ui(ui, scene, found, actions),
        None => {
            ui.horizontal(|ui| {
                first_button_ui(ui, ways_out::OPEN, Action::Go(Go::Page(Page::MakeRoom)), actions);
                ui.label(if ways.progress().is_some() { said::LOOKING } else { "" });
            });
        }
    }
}

/// The cheapest way that makes everything fit, to be taken at once, and one with fewer changes; the others are a step
/// away.
fn found_ui(ui: &mut Ui, scene: &Scene<'_>, found: &Found, actions: &mut Vec<Action>) {
    let words = scene.words();
    ui.add(Label::new(theme::bold(words.combined(&found.best))).wrap());
    if let Some(way) = &found.best.way {
        if way.changes.len() > ways_out::MOST_LISTED {
            wrapped_ui(ui, &words.kinds_of_changes(way));
        } else {
            way.changes.iter().for_each(|change| wrapped_ui(ui, &ways_out::as_item(&words.to_change(change))));
        }
        take_ui(ui, scene, way, true, actions);
    }
    if let Some(way) = found.simpler() {
        ui.add_space(6.0);
        wrapped_ui(ui, &said::or(&words.changes_of(way)));
        take_ui(ui, scene, way, false, actions);
    }
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        let others = Button::new(ways_out::OPEN).min_size(vec2(96.0, theme::TARGET_PT));
        if ui.add(others).on_hover_text(ways_out::WHAT_IT_DOES).clicked() {
            actions.push(Action::Go(Go::Page(Page::MakeRoom)));
        }
        ui.label(said::ways(number_of(found)));
    });
}

fn take_ui(ui: &mut Ui, scene: &Scene<'_>, way: &WayOut, is_first: bool, actions: &mut Vec<Action>) {
    let words = scene.words();
    soft_ui(ui, &words.comes_of_in_points(way));
    ui.horizontal(|ui| {
        let take = Action::Do(Do::TakeWay(way.edit.clone()));
        let name = if is_first { ways_out::ALL_OF_IT.to_owned() } else { words.changes_of(way) };
        if is_first {
            first_button_ui(ui, ways_out::DO_IT, take, actions);
        } else if small_button_ui(ui, ways_out::DO_IT, &ways_out::named(ways_out::DO_IT, &name)) {
            actions.push(take);
        }
        if small_button_ui(ui, ways_out::SHOW_FIRST, &ways_out::named(ways_out::SHOW_FIRST, &name)) {
            actions.push(Action::Go(Go::Preview(Box::new(way.clone()))));
        }
    });
}

/// What is to be done first.
fn first_button_ui(ui: &mut Ui, text: &str, action: Action, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let shown = RichText::new(text).font(theme::strong(theme::PART_PT)).color(palette.on_selected);
    if ui.add(Button::new(shown).min_size(vec2(120.0, 30.0)).fill(palette.selected)).clicked() {
        actions.push(action);
    }
}

fn also_ui(ui: &mut Ui, scene: &Scene<'_>, most: usize, actions: &mut Vec<Action>) {
    if scene.problems.is_empty() {
        return;
    }
    ui.add_space(8.0);
    if most > 0 {
        ui.label(theme::bold(said::ALSO));
    }
    let words = scene.words();
    stop_ui(ui, "verdict_also", said::ALSO, |ui, stop| {
        for (at, problem) in scene.problems.iter().enumerate().take(most) {
            let text = words.problem(problem);
            let row = Button::new(&text).wrap().frame_when_inactive(false);
            let row = row.min_size(vec2(ui.available_width(), theme::TARGET_PT));
            if stop.row_ui(ui, row, Named::new(&text)) {
                actions.push(Action::Go(Go::Problem(at)));
            }
        }
        let more = scene.problems.len().saturating_sub(most);
        let text = match more {
            0 => said::ALL_OF_IT.to_owned(),
            more if most == 0 => said::worth_a_look(more),
            more => said::and_more(more),
        };
        if stop.row_ui(ui, Button::new(&text).min_size(vec2(0.0, theme::TARGET_PT)), Named::new(&text)) {
            actions.push(Action::Go(Go::Page(Page::WorthALook)));
        }
    });
}
