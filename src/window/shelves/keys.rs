//! What keys and the menu do to the chosen trays.

use egui::{Key, Modifiers, Ui};

use crate::outlook::{Placed, WhyNone, group, put, turned};
use crate::season::{Edit, Op, Spot, TrayKey};
use crate::units::{Length, LengthUnit};
use crate::window::action::{Action, Do, Go};
use crate::window::scene::Scene;
use crate::words::shelves as said;

/// Arrows move them by a millimetre or a quarter of an inch; with Shift by ten, or an inch.
pub(in crate::window) fn nudge_keys(ui: &Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let (small, large) = match scene.unit {
        LengthUnit::Inch => (Length::from_units(50_800), Length::from_units(203_200)),
        _ => (Length::from_mm(1), Length::from_mm(10)),
    };
    if scene.selection.tray.is_none() {
        return;
    }
    let (mut x, mut y) = (Length::ZERO, Length::ZERO);
    for (modifiers, step) in [(Modifiers::SHIFT, large), (Modifiers::NONE, small)] {
        let pressed = |key| ui.input_mut(|i| i.consume_key(modifiers, key));
        if pressed(Key::ArrowLeft) {
            x -= step;
        }
        if pressed(Key::ArrowRight) {
            x += step;
        }
        if pressed(Key::ArrowUp) {
            y -= step;
        }
        if pressed(Key::ArrowDown) {
            y += step;
        }
    }
    if (x, y) == (Length::ZERO, Length::ZERO) {
        return;
    }
    let all: Vec<_> = scene.chosen().into_iter().filter(|one| one.spot.is_some()).collect();
    if all.is_empty() {
        return;
    }
    actions.push(match group::moved(&scene.on_day(), &all, x, y) {
        Ok(edit) => Action::Do(Do::Nudge(edit)),
        Err(why) => Action::Go(Go::Complain(said::nothing_moved(&scene.words().why_none(&why)))),
    });
}

/// A quarter turn of the chosen trays where they stand.
pub(in crate::window) fn turn_selected(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let (at, words) = (scene.on_day(), scene.words());
    if scene.selection.several() {
        let edit = group::turned(&at, &scene.chosen());
        actions.push(done(scene, edit, said::NO_ROOM_TO_TURN));
        return;
    }
    let Some(one) = selected(scene) else { return };
    let mark = words.mark(one.stay);
    let Some(now) = one.spot else {
        actions.push(Action::Go(Go::Complain(said::drag_it_first(&mark))));
        return;
    };
    actions.push(match turned(&at, one.stay, &Spot { from: at.counts_from(one.stay), ..*now }) {
        Ok(landing) => Action::edit(put(&at, one.stay, landing.spot, true)),
        Err(why) => Action::Go(Go::Complain(said::no_room_to_turn(&mark, &words.obstacle(&why)))),
    });
}

pub(in crate::window) fn pin(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    if scene.selection.several() {
        actions.extend(group::pinned(&scene.chosen()).map(Action::edit));
    } else if let Some(spot) = selected(scene).and_then(|one| one.spot) {
        actions.push(Action::edit(Op::Pin { tray: spot.tray, from: spot.from, pinned: !spot.pinned }));
    }
}

pub(in crate::window) fn lift(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    if scene.selection.several() {
        actions.extend(group::lifted(&scene.on_day(), &scene.chosen()).map(Action::edit));
        return;
    }
    let Some(one) = selected(scene) else { return };
    if let Some(spot) = one.spot {
        let from = scene.on_day().counts_from(one.stay);
        actions.push(Action::edit(Op::LiftTray { tray: spot.tray, from }));
    }
}

/// Two trays change places.
pub(in crate::window) fn swap(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let edit = group::swapped(&scene.on_day(), &scene.chosen());
    actions.push(done(scene, edit, said::NOT_SWAPPED));
}

/// Everything that has a spot on the day shown.
pub(in crate::window) fn choose_all(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    actions.push(Action::Go(Go::Choose(scene.on_day().standing())));
}

fn done(scene: &Scene<'_>, edit: Result<Edit, WhyNone<'_>>, why_not: &str) -> Action {
    match edit {
        Ok(edit) => Action::edit(edit),
        Err(why) => Action::Go(Go::Complain(format!("{why_not}: {}", scene.words().why_none(&why)))),
    }
}

/// The tray that is selected, if it stands anywhere on the day shown.
pub(in crate::window) fn selected<'a>(scene: &Scene<'a>) -> Option<Placed<'a>> {
    let tray: TrayKey = scene.selection.tray?;
    scene.placed().into_iter().find(|one| one.id.tray == tray)
}
