//! The page of what can be changed where the shelves are short of room: each way with its price and what comes
//! of it, shown first or taken.

use egui::{Label, RichText, Ui};

use crate::outlook::ways_out::{Change, Found, WayOut};
use crate::season::{Matter, Matters, Op, Settings, Unwanted};
use crate::words::cautions::Care;
use crate::words::{self, ways_out as said};

use crate::window::action::{Action, Do, Go};
use crate::window::kit::{
    AskedWords, Named, State, Stop, Wanted, asked_ui, button, cautions_ui, choice_ui, middle_ui, part_title_ui,
    soft_ui, state_next_ui, state_ui, stop_ui, title_ui, wrapped_ui,
};
use crate::window::scene::Scene;
use crate::window::state::Page;
use crate::window::theme::{self, Palette};
use crate::window::ways::Ways;

/// Of a crunch, at first.
const SHOWN: usize = 5;

#[derive(Default)]
pub(in crate::window) struct MakeRoomPage {
    /// Crunches of which all ways are shown.
    all: Vec<usize>,
    /// What matters to the grower is shown, and what each thing counts by it.
    weighing: bool,
}

pub(in crate::window) fn make_room_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut MakeRoomPage,
    // without them the season is only shown as it would be
    ways: Option<&Ways>,
    actions: &mut Vec<Action>,
) {
    middle_ui(ui, "make_room", |ui| {
        ui.set_max_width(ui.available_width().min(900.0));
        title_ui(ui, said::PAGE);
        let Some(ways) = ways else {
            soft_ui(ui, said::ONLY_SHOWN);
            return;
        };
        let Some(outlook) = scene.outlook.filter(|_| scene.outlook_is_fresh) else {
            state_ui(ui, State::Working(None), said::NOT_YET);
            return;
        };
        if outlook.crunches.is_empty() {
            wrapped_ui(ui, &words::verdict_of(outlook));
            if state_next_ui(ui, State::InOrder, said::NOTHING_TO_DO, words::weeks::FIND_SPOTS) {
                actions.push(Action::Go(Go::Page(Page::Shelves)));
                actions.push(Action::Do(Do::FindSpots));
            }
            return;
        }
        if ways.is_open(&scene.revision) {
            actions.push(Action::Do(Do::LookForWays));
        }
        let whole = ways.found(&scene.revision);
        if whole.is_none() {
            looking_ui(ui, ways, actions);
        }
        if let Some(found) = whole.or_else(|| ways.meanwhile(&scene.revision)) {
            stop_ui(ui, "ways_out", said::PAGE, |ui, stop| {
                found_ui(ui, stop, scene, page, (found, whole.is_some()), actions);
            });
        } else {
            stop_ui(ui, "weighing", said::PAGE, |ui, stop| what_matters_ui(ui, stop, scene, page, actions));
        }
        if let Some(found) = whole {
            let ways = found.of_crunches.iter().flatten().chain(&found.best.way);
            if ways.flat_map(|way| &way.changes).any(Change::builds) {
                cautions_ui(ui, Care::Load, scene.unit);
                cautions_ui(ui, Care::Power, scene.unit);
            }
        }
        unwanted_ui(ui, scene, actions);
    });
}

fn looking_ui(ui: &mut Ui, ways: &Ways, actions: &mut Vec<Action>) {
    let words = AskedWords { stopped: said::STOPPED, looking: said::looking, again: said::LOOK_AGAIN };
    let wanted = asked_ui(ui, ways, &words).map(|wanted| match wanted {
        Wanted::Stop => Do::StopLookingForWays,
        Wanted::Again => Do::LookForWays,
    });
    actions.extend(wanted.map(Action::Do));
}

/// `is_whole`: nothing is looked for any more; until then nothing is said to be none.
fn found_ui(
    ui: &mut Ui,
    stop: &mut Stop,
    scene: &Scene<'_>,
    page: &mut MakeRoomPage,
    (found, is_whole): (&Found, bool),
    actions: &mut Vec<Action>,
) {
    let words = scene.words();
    ui.add_space(4.0);
    if is_whole || found.best.way.is_some() {
        ui.add(Label::new(RichText::new(words.combined(&found.best)).font(theme::strong(theme::PART_PT))).wrap());
    }
    if let Some(way) = &found.best.way {
        if way.changes.len() > said::MOST_LISTED {
            wrapped_ui(ui, &words.kinds_of_changes(way));
        }
        comes_of_ui(ui, stop, scene, way, said::ALL_OF_IT, actions);
        ui.add_space(4.0);
        for change in &way.changes {
            ui.horizontal_wrapped(|ui| {
                let text = words.to_change(change);
                ui.label(said::as_item(&text));
                if way.changes.len() > 1 {
                    not_wanted_ui(ui, stop, scene, change, &text, actions);
                }
            });
        }
    }
    if let Some(way) = found.simpler() {
        ui.add_space(8.0);
        let text = words.changes_of(way);
        ui.add(Label::new(RichText::new(crate::words::verdict::or(&text)).font(theme::strong(theme::BODY_PT))).wrap());
        comes_of_ui(ui, stop, scene, way, &text, actions);
    }
    what_matters_ui(ui, stop, scene, page, actions);
    let crunches = scene.outlook.map_or(&[][..], |outlook| &outlook.crunches);
    for (at, (crunch, ways)) in crunches.iter().zip(&found.of_crunches).enumerate() {
        ui.add_space(14.0);
        let title =
            RichText::new(words.crunch(crunch)).font(theme::strong(theme::HEAD_PT)).color(Palette::of(ui).trouble);
        ui.add(Label::new(title).wrap());
        let any = !ways.is_empty();
        let said_above = [found.best.way.as_ref(), found.simpler()];
        let is_other = |(_, way): &(usize, &WayOut)| !said_above.contains(&Some(way));
        let ways: Vec<(usize, &WayOut)> = ways.iter().enumerate().filter(is_other).collect();
        if ways.is_empty() && (any || is_whole) {
            if any {
                soft_ui(ui, said::NO_OTHERS);
            } else {
                state_ui(ui, State::NoneFound, said::NONE_FOUND);
            }
        }
        let shown = if page.all.contains(&at) { ways.len() } else { SHOWN };
        for &(number, way) in ways.iter().take(shown) {
            ui.add_space(4.0);
            changes_ui(ui, stop, scene, way, actions);
            comes_of_ui(ui, stop, scene, way, &said::way_of(at + 1, number + 1), actions);
        }
        let more = said::more_ways(ways.len().saturating_sub(shown));
        if ways.len() > shown && stop.row_ui(ui, button(&more), Named::new(&more)) {
            page.all.push(at);
        }
    }
}

/// What is changed; of several changes together each can be refused.
fn changes_ui(ui: &mut Ui, stop: &mut Stop, scene: &Scene<'_>, way: &WayOut, actions: &mut Vec<Action>) {
    let words = scene.words();
    let bold = |text: String| Label::new(RichText::new(text).font(theme::strong(theme::BODY_PT))).wrap();
    if way.changes.len() < 2 {
        ui.add(bold(words.changes_of(way)));
        return;
    }
    for change in &way.changes {
        let text = words.to_change(change);
        ui.horizontal_wrapped(|ui| {
            ui.add(bold(said::as_item(&text)));
            not_wanted_ui(ui, stop, scene, change, &text, actions);
        });
    }
}

/// What a way does and costs, and what can be done with it.
fn comes_of_ui(ui: &mut Ui, stop: &mut Stop, scene: &Scene<'_>, way: &WayOut, name: &str, actions: &mut Vec<Action>) {
    let words = scene.words();
    let palette = Palette::of(ui);
    let ink = if way.effect.removes() { palette.ink } else { palette.soft_ink };
    ui.add(Label::new(RichText::new(words.comes_of_in_points(way)).color(ink)).wrap());
    ui.horizontal_wrapped(|ui| {
        if stop.small_button_ui(ui, said::SHOW_FIRST, &said::named(said::SHOW_FIRST, name)) {
            actions.push(Action::Go(Go::Preview(Box::new(way.clone()))));
        }
        if stop.small_button_ui(ui, said::DO_IT, &said::named(said::DO_IT, name)) {
            actions.push(Action::Do(Do::TakeWay(way.edit.clone())));
        }
        if let [change] = way.changes.as_slice() {
            not_wanted_ui(ui, stop, scene, change, name, actions);
        }
    });
}

/// That change is not offered again; `name` tells it from others.
fn not_wanted_ui(
    ui: &mut Ui,
    stop: &mut Stop,
    scene: &Scene<'_>,
    change: &Change,
    name: &str,
    actions: &mut Vec<Action>,
) {
    if stop.small_button_ui(ui, said::NOT_WANTED, &said::named(said::NOT_WANTED, name)) {
        let mut settings = scene.season.settings().clone();
        settings.unwanted.push(change.refused());
        actions.push(Action::edit(Op::SetSettings(settings)));
    }
}

/// What the grower has refused, to be taken back.
fn unwanted_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let (words, settings) = (scene.words(), scene.season.settings());
    let named = settings.unwanted.iter().filter_map(|one| Some((*one, words.unwanted(*one)?)));
    let named: Vec<(Unwanted, String)> = named.collect();
    if named.is_empty() {
        return;
    }
    part_title_ui(ui, said::NOT_OFFERED);
    stop_ui(ui, "not_offered", said::NOT_OFFERED, |ui, stop| {
        for (one, name) in named {
            ui.horizontal_wrapped(|ui| {
                ui.label(&name);
                if stop.small_button_ui(ui, said::OFFER_AGAIN, &said::named(said::OFFER_AGAIN, &name)) {
                    let mut settings = settings.clone();
                    settings.unwanted.retain(|other| *other != one);
                    actions.push(Action::edit(Op::SetSettings(settings)));
                }
            });
        }
    });
}

/// By what the ways are in order; folded until it is wanted.
fn what_matters_ui(
    ui: &mut Ui,
    stop: &mut Stop,
    scene: &Scene<'_>,
    page: &mut MakeRoomPage,
    actions: &mut Vec<Action>,
) {
    ui.add_space(8.0);
    if stop.row_ui(
        ui,
        button(said::WHAT_MATTERS),
        Named { chosen: Some(page.weighing), ..Named::new(said::WHAT_MATTERS) },
    ) {
        page.weighing = !page.weighing;
    }
    if page.weighing {
        soft_ui(ui, said::WHAT_MATTERS_DOES);
        matters_ui(ui, scene, actions);
        soft_ui(ui, &said::counted_in(&scene.season.settings().matters));
    }
}

fn matters_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let settings = scene.season.settings();
    let now = settings.matters;
    let mut choose = |ui: &mut Ui, label: &str, matter: Matter, with: fn(Matters, Matter) -> Matters| {
        if let Some(matter) = choice_ui(ui, label, matter, &said::MATTERS) {
            let matters = with(now, matter);
            actions.push(Action::edit(Op::SetSettings(Settings { matters, ..settings.clone() })));
        }
    };
    choose(ui, said::HELD, now.held, |of, held| Matters { held, ..of });
    choose(ui, said::SOWN, now.sown, |of, sown| Matters { sown, ..of });
    choose(ui, said::OUT, now.out, |of, out| Matters { out, ..of });
    choose(ui, said::OUTSIDE, now.outside, |of, outside| Matters { outside, ..of });
    choose(ui, said::SMALLER, now.smaller, |of, smaller| Matters { smaller, ..of });
    choose(ui, said::FEWER, now.fewer, |of, fewer| Matters { fewer, ..of });
    choose(ui, said::DARK, now.dark, |of, dark| Matters { dark, ..of });
    choose(ui, said::BUYING, now.buying, |of, buying| Matters { buying, ..of });
}
