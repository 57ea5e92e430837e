//! What is done to several trays at once: all of it, or none and why.

use crate::forecast::Stay;
use crate::season::{Edit, EditError, EditLabel, Op, Spot};
use crate::units::Length;

use super::on_day::{OnDay, Placed};
use super::spots::landing;
use super::standing::Obstacle;

/// Why nothing was done to any of them.
#[derive(Clone, Debug, PartialEq)]
pub enum WhyNone<'a> {
    NoSpotYet(&'a Stay),
    InTheWay {
        stay: &'a Stay,
        of: Obstacle,
    },
    /// Only two can be swapped.
    NotTwo,
    /// They don't fit in each other's spot, for this reason.
    NotSwapped(Box<Self>),
    /// One of them would be on no shelf.
    OffShelves,
    Refused(EditError),
}

/// All of them at their new spots, each tried with the others where they would be.
///
/// # Errors
/// What is in the way of the first that may not stand there.
pub fn together<'a>(at: &OnDay<'_>, wanted: &[(Placed<'a>, Spot)], label: EditLabel) -> Result<Edit, WhyNone<'a>> {
    let mut trial = at.season.clone();
    for (_, spot) in wanted {
        trial.apply(&Op::PutSpot(*spot).into()).map_err(WhyNone::Refused)?;
    }
    let then = OnDay { season: &trial, ..*at };
    let ops = wanted.iter().map(|(one, spot)| match landing(&then, one.stay, *spot) {
        Ok(landing) => Ok(Op::PutSpot(landing.spot)),
        Err(of) => Err(WhyNone::InTheWay { stay: one.stay, of }),
    });
    Ok(Edit::new(label, ops.collect::<Result<_, _>>()?))
}

/// The spots they have, counting from when a move made now counts.
fn now<'a>(at: &OnDay<'_>, of: &[Placed<'a>]) -> Result<Vec<Spot>, WhyNone<'a>> {
    of.iter()
        .map(|one| {
            let spot = one.spot.ok_or(WhyNone::NoSpotYet(one.stay))?;
            Ok(Spot { from: at.counts_from(one.stay), ..*spot })
        })
        .collect()
}

/// All of them by so much.
///
/// # Errors
/// Why one of them can't.
pub fn moved<'a>(at: &OnDay<'_>, of: &[Placed<'a>], x: Length, y: Length) -> Result<Edit, WhyNone<'a>> {
    let spots = now(at, of)?;
    let by = |spot: Spot| Spot { x: spot.x + x, y: spot.y + y, ..spot };
    let wanted: Vec<_> = of.iter().copied().zip(spots.into_iter().map(by)).collect();
    let label = match of {
        [one] => EditLabel::MoveTray(one.id.tray),
        _ => EditLabel::MoveTrays(of.len()),
    };
    together(at, &wanted, label)
}

/// Each a quarter turn where it stands, so that none leaves its shelf: all about their corners,
/// else all about their middles.
///
/// # Errors
/// Why one of them can't about its corner.
pub fn turned<'a>(at: &OnDay<'_>, of: &[Placed<'a>]) -> Result<Edit, WhyNone<'a>> {
    let spots = now(at, of)?;
    let by = |middle: bool| {
        let turn = |(one, spot): (Placed<'a>, &Spot)| {
            let (width, depth) = one.stay.shape.turned(spot.quarter_turns);
            let half = if middle { (width - depth) / 2 } else { Length::ZERO };
            let quarter_turns = (spot.quarter_turns + 1) % 4;
            (one, Spot { x: spot.x + half, y: spot.y - half, quarter_turns, ..*spot })
        };
        let wanted: Vec<_> = of.iter().copied().zip(&spots).map(turn).collect();
        together(at, &wanted, EditLabel::TurnTrays(of.len()))
    };
    by(false).or_else(|why| by(true).or(Err(why)))
}

/// The two in each other's spots; turned as the other stood, else as they stood themselves.
///
/// # Errors
/// There are not two, or one does not fit in the other's spot.
pub fn swapped<'a>(at: &OnDay<'_>, of: &[Placed<'a>]) -> Result<Edit, WhyNone<'a>> {
    let [one, other] = of else { return Err(WhyNone::NotTwo) };
    let spots = now(at, of)?;
    let [first, second] = *spots.as_slice() else { return Err(WhyNone::NotTwo) };
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
        together(at, &wanted, label.clone())
    };
    by(second.quarter_turns, first.quarter_turns)
        .or_else(|_| by(first.quarter_turns, second.quarter_turns))
        .map_err(|why| WhyNone::NotSwapped(Box::new(why)))
}

/// Pinned all, or unpinned if all are; none that is not on a shelf.
pub fn pinned(of: &[Placed<'_>]) -> Option<Edit> {
    let spots: Vec<&Spot> = of.iter().filter_map(|one| one.spot).collect();
    let pinned = !spots.iter().all(|spot| spot.pinned);
    let changed = spots.iter().filter(|spot| spot.pinned != pinned);
    let pins: Vec<Op> = changed.map(|spot| Op::Pin { tray: spot.tray, from: spot.from, pinned }).collect();
    let label = if pinned { EditLabel::PinTrays(pins.len()) } else { EditLabel::UnpinTrays(pins.len()) };
    (!pins.is_empty()).then_some(Edit::new(label, pins))
}

/// Off their shelves, those that are on one.
pub fn lifted(at: &OnDay<'_>, of: &[Placed<'_>]) -> Option<Edit> {
    let on_shelves = of.iter().filter_map(|one| Some((one, one.spot?.tray)));
    let lifts: Vec<Op> = on_shelves.map(|(one, tray)| Op::LiftTray { tray, from: at.counts_from(one.stay) }).collect();
    (!lifts.is_empty()).then_some(Edit::new(EditLabel::LiftTrays(lifts.len()), lifts))
}
