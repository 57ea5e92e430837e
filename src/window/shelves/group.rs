//! What is done to several trays at once: all of it, or none and why.

use crate::outlook::spot_of;
use crate::season::{Edit, EditLabel, Op, Spot, TrayKey};
use crate::units::Length;
use crate::window::scene::{Placed, Scene};
use crate::words;

use super::spots::{Plan, counts_from, plan, size_turned};

/// The chosen trays that are there on the day shown, the one looked at first.
pub(in crate::window) fn chosen<'a>(scene: &Scene<'a>) -> Vec<Placed<'a>> {
    let mut all: Vec<Placed<'a>> =
        scene.placed().into_iter().filter(|one| scene.selection.holds(one.standing.tray)).collect();
    all.sort_by_key(|one| scene.selection.tray != Some(one.standing.tray));
    all
}

/// All of them at their new spots, each tried with the others where they would be.
pub(super) fn together(scene: &Scene<'_>, wanted: &[(Placed<'_>, Spot)], label: EditLabel) -> Result<Edit, String> {
    let mut trial = scene.season.clone();
    for (_, spot) in wanted {
        trial.apply(&Op::PutSpot(*spot).into()).map_err(|why| words::refusal(&why))?;
    }
    let then = Scene { season: &trial, ..*scene };
    let mut ops = Vec::new();
    for (one, spot) in wanted {
        match plan(&then, one.stay, *spot) {
            Plan::May { spot, .. } => ops.push(Op::PutSpot(spot)),
            Plan::MayNot { words } => return Err(format!("{}: {words}", scene.mark(one.stay))),
        }
    }
    Ok(Edit::new(label, ops))
}

/// The spots they have, counting from when a move made now counts.
fn now(scene: &Scene<'_>, of: &[Placed<'_>]) -> Result<Vec<Spot>, String> {
    of.iter()
        .map(|one| {
            let spot = one.spot.ok_or_else(|| format!("{} has no spot yet", scene.mark(one.stay)))?;
            Ok(Spot { from: counts_from(scene.season, scene.forecast, one.stay, scene.day, scene.from_day), ..*spot })
        })
        .collect()
}

pub(super) fn moved(scene: &Scene<'_>, of: &[Placed<'_>], x: Length, y: Length) -> Result<Edit, String> {
    let spots = now(scene, of)?;
    let wanted: Vec<_> =
        of.iter().copied().zip(spots).map(|(one, spot)| (one, Spot { x: spot.x + x, y: spot.y + y, ..spot })).collect();
    together(scene, &wanted, EditLabel::MoveTrays(of.len()))
}

/// Each a quarter turn where it stands, so that none leaves its shelf: all about their corners,
/// else all about their middles.
pub(super) fn turned(scene: &Scene<'_>, of: &[Placed<'_>]) -> Result<Edit, String> {
    let spots = now(scene, of)?;
    let by = |middle: bool| {
        let wanted: Vec<_> = of
            .iter()
            .copied()
            .zip(&spots)
            .map(|(one, spot)| {
                let (width, depth) = size_turned(one.stay, spot.quarter_turns);
                let half = if middle { (width - depth) / 2 } else { Length::ZERO };
                let turns = (spot.quarter_turns + 1) % 4;
                (one, Spot { x: spot.x + half, y: spot.y - half, quarter_turns: turns, ..*spot })
            })
            .collect();
        together(scene, &wanted, EditLabel::TurnTrays(of.len()))
    };
    by(false).or_else(|why| by(true).or(Err(why)))
}

/// The two in each other's spots; turned as the other stood, else as they stood themselves.
pub(super) fn swapped(scene: &Scene<'_>, of: &[Placed<'_>]) -> Result<Edit, String> {
    let [one, other] = of else { return Err("two trays must be chosen to swap them".to_owned()) };
    let spots = now(scene, of)?;
    let [first, second] = *spots.as_slice() else { return Err("two trays must be chosen to swap them".to_owned()) };
    let there = |tray: &Spot, place: &Spot, quarter_turns| Spot {
        shelf: place.shelf,
        x: place.x,
        y: place.y,
        quarter_turns,
        ..*tray
    };
    let label = EditLabel::SwapTrays(first.tray, second.tray);
    let by = |a: u8, b: u8| {
        let wanted = [(*one, there(&first, &second, a)), (*other, there(&second, &first, b))];
        together(scene, &wanted, label.clone())
    };
    by(second.quarter_turns, first.quarter_turns)
        .or_else(|_| by(first.quarter_turns, second.quarter_turns))
        .map_err(|why| format!("They don't fit in each other's spot: {why}"))
}

/// Pinned all, or unpinned if all are.
pub(super) fn pinned(of: &[Placed<'_>]) -> Option<Edit> {
    let spots: Vec<&Spot> = of.iter().filter_map(|one| one.spot).collect();
    let pinned = !spots.iter().all(|spot| spot.pinned);
    let pins: Vec<Op> = spots
        .iter()
        .filter(|spot| spot.pinned != pinned)
        .map(|spot| Op::Pin { tray: spot.tray, from: spot.from, pinned })
        .collect();
    let label = if pinned { EditLabel::PinTrays(pins.len()) } else { EditLabel::UnpinTrays(pins.len()) };
    (!pins.is_empty()).then_some(Edit::new(label, pins))
}

pub(super) fn lifted(scene: &Scene<'_>, of: &[Placed<'_>]) -> Option<Edit> {
    let lifts: Vec<Op> = of
        .iter()
        .filter_map(|one| {
            let tray = one.spot?.tray;
            let from = counts_from(scene.season, scene.forecast, one.stay, scene.day, scene.from_day);
            Some(Op::LiftTray { tray, from })
        })
        .collect();
    (!lifts.is_empty()).then_some(Edit::new(EditLabel::LiftTrays(lifts.len()), lifts))
}

/// Trays that have a spot on the day shown, from the back of each shelf to its front.
pub(super) fn standing(scene: &Scene<'_>) -> Vec<TrayKey> {
    let mut spots: Vec<&Spot> =
        scene.forecast.on(scene.day).filter_map(|stay| spot_of(scene.season, stay, scene.day)).collect();
    spots.sort_by_key(|spot| (spot.shelf, spot.y, spot.x));
    spots.into_iter().map(|spot| spot.tray).collect()
}
