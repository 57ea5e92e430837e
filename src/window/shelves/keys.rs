//! What keys and the menu do to the chosen trays.

use egui::{Key, Modifiers, Ui};

use crate::season::{Edit, EditLabel, Op, Spot};
use crate::units::{Length, LengthUnit};
use crate::window::action::Action;
use crate::window::scene::Scene;

use super::group::{self, chosen};
use super::selected;
use super::spots::{Plan, counts_from, put, turned};

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
    let all: Vec<_> = chosen(scene).into_iter().filter(|one| one.spot.is_some()).collect();
    let edit = match all.as_slice() {
        [] => return,
        [one] => {
            group::moved(scene, &all, x, y).map(|edit| Edit { label: EditLabel::MoveTray(one.standing.tray), ..edit })
        }
        _ => group::moved(scene, &all, x, y),
    };
    actions.push(match edit {
        Ok(edit) => Action::Nudge(edit),
        Err(why) => Action::Complain(format!("Nothing was moved: {why}")),
    });
}

/// A quarter turn of the chosen trays where they stand.
pub(in crate::window) fn turn_selected(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    if scene.selection.several() {
        actions.push(done(group::turned(scene, &chosen(scene)), "No room to turn them here"));
        return;
    }
    let Some(one) = selected(scene) else { return };
    let Some(now) = one.spot else {
        actions.push(Action::Complain(format!("{} has no spot yet: drag it to a shelf first", scene.mark(one.stay))));
        return;
    };
    let from = counts_from(scene.season, scene.forecast, one.stay, scene.day, scene.from_day);
    match turned(scene, one.stay, &Spot { from, ..*now }) {
        Plan::May { spot, .. } => actions.push(Action::Edit(put(scene, one.stay, spot, true))),
        Plan::MayNot { words } => {
            actions.push(Action::Complain(format!("{} has no room to turn here: {words}", scene.mark(one.stay))));
        }
    }
}

pub(in crate::window) fn pin(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    if scene.selection.several() {
        actions.extend(group::pinned(&chosen(scene)).map(Action::Edit));
    } else if let Some(spot) = selected(scene).and_then(|one| one.spot) {
        actions.push(Action::Edit(Op::Pin { tray: spot.tray, from: spot.from, pinned: !spot.pinned }.into()));
    }
}

pub(in crate::window) fn lift(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    if scene.selection.several() {
        actions.extend(group::lifted(scene, &chosen(scene)).map(Action::Edit));
        return;
    }
    let Some(one) = selected(scene) else { return };
    if let Some(spot) = one.spot {
        let from = counts_from(scene.season, scene.forecast, one.stay, scene.day, scene.from_day);
        actions.push(Action::Edit(Op::LiftTray { tray: spot.tray, from }.into()));
    }
}

/// Two trays change places.
pub(in crate::window) fn swap(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    actions.push(done(group::swapped(scene, &chosen(scene)), "Not swapped"));
}

/// Everything that has a spot on the day shown.
pub(in crate::window) fn choose_all(scene: &Scene<'_>, actions: &mut Vec<Action>) {
    actions.push(Action::Choose(group::standing(scene)));
}

fn done(edit: Result<Edit, String>, why_not: &str) -> Action {
    match edit {
        Ok(edit) => Action::Edit(edit),
        Err(why) => Action::Complain(format!("{why_not}: {why}")),
    }
}
