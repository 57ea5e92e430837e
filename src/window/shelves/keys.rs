//! What keys do to the selected tray.

use egui::{Key, Modifiers, Ui};

use crate::season::{Edit, Spot};
use crate::units::{Length, LengthUnit};
use crate::window::action::Action;
use crate::window::seen::Seen;

use super::selected;
use super::spots::{Plan, counts_from, plan, put, turned};

/// Arrows move it by a millimetre or a quarter of an inch; with Shift by ten, or an inch.
pub(in crate::window) fn nudge_keys(ui: &Ui, seen: &Seen<'_>, actions: &mut Vec<Action>) {
    let Some(one) = selected(seen) else { return };
    let Some(now) = one.spot else { return };
    let (small, large) = match seen.unit {
        LengthUnit::Inch => (Length::from_units(50_800), Length::from_units(203_200)),
        _ => (Length::from_mm(1), Length::from_mm(10)),
    };
    let (mut x, mut y) = (now.x, now.y);
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
    if (x, y) == (now.x, now.y) {
        return;
    }
    let from = counts_from(seen.season, seen.forecast, one.stay, seen.day, seen.from_day);
    match plan(seen, one.stay, Spot { from, x, y, ..*now }) {
        Plan::May { spot, .. } => actions.push(Action::Edit(put(seen, one.stay, spot, false))),
        Plan::MayNot { words } => {
            actions.push(Action::Complain(format!("{} stays where it is: {words}", seen.mark(one.stay))));
        }
    }
}

/// A quarter turn of the selected tray where it stands.
pub(in crate::window) fn turn_selected(seen: &Seen<'_>, actions: &mut Vec<Action>) {
    let Some(one) = selected(seen) else { return };
    let Some(now) = one.spot else {
        actions.push(Action::Complain(format!("{} has no spot yet: drag it to a shelf first", seen.mark(one.stay))));
        return;
    };
    let from = counts_from(seen.season, seen.forecast, one.stay, seen.day, seen.from_day);
    match turned(seen, one.stay, &Spot { from, ..*now }) {
        Plan::May { spot, .. } => actions.push(Action::Edit(put(seen, one.stay, spot, true))),
        Plan::MayNot { words } => {
            actions.push(Action::Complain(format!("{} has no room to turn here: {words}", seen.mark(one.stay))));
        }
    }
}

pub(in crate::window) fn pin(seen: &Seen<'_>, actions: &mut Vec<Action>) {
    if let Some(spot) = selected(seen).and_then(|one| one.spot) {
        actions.push(Action::Edit(Edit::Pin { tray: spot.tray, from: spot.from, pinned: !spot.pinned }));
    }
}

pub(in crate::window) fn lift(seen: &Seen<'_>, actions: &mut Vec<Action>) {
    let Some(one) = selected(seen) else { return };
    if let Some(spot) = one.spot {
        let from = counts_from(seen.season, seen.forecast, one.stay, seen.day, seen.from_day);
        actions.push(Action::Edit(Edit::LiftTray { tray: spot.tray, from }));
    }
}
