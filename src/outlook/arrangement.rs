//! An arrangement that was copied, for other trays of the same sizes.

use crate::season::{Edit, EditLabel, ShelfId, Spot};
use crate::units::Length;

use super::group::{WhyNone, together};
use super::on_day::{OnDay, Placed};

/// Where a tray of that size stood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Arranged {
    pub width: Length,
    pub depth: Length,
    pub x: Length,
    pub y: Length,
    pub quarter_turns: u8,
}

/// Why an arrangement was not made again.
#[derive(Clone, Debug, PartialEq)]
pub enum NotArranged<'a> {
    NothingCopied,
    /// Nobody said where.
    WhichShelf,
    /// No tray of these sizes is without a spot.
    NoneLeft,
    NoRoom {
        shelf: ShelfId,
        why: WhyNone<'a>,
    },
}

/// The spots of those that have one.
pub fn arrangement(of: &[Placed<'_>]) -> Vec<Arranged> {
    let arranged = |one: &Placed<'_>| {
        let (spot, shape) = (one.spot?, &one.stay.shape);
        let (width, depth) = (shape.width(), shape.depth());
        Some(Arranged { width, depth, x: spot.x, y: spot.y, quarter_turns: spot.quarter_turns })
    };
    of.iter().filter_map(arranged).collect()
}

/// The arrangement on that shelf, for trays of the same sizes that have no spot yet.
///
/// # Errors
/// Why no tray was placed.
pub fn arrange<'a>(at: &OnDay<'a>, arrangement: &[Arranged], shelf: Option<ShelfId>) -> Result<Edit, NotArranged<'a>> {
    if arrangement.is_empty() {
        return Err(NotArranged::NothingCopied);
    }
    let shelf = shelf.ok_or(NotArranged::WhichShelf)?;
    let mut waiting: Vec<_> = at.placed().into_iter().filter(|one| one.spot.is_none()).collect();
    let mut wanted = Vec::new();
    for &Arranged { width, depth, x, y, quarter_turns } in arrangement {
        let alike = |one: &Placed<'_>| (one.stay.shape.width(), one.stay.shape.depth()) == (width, depth);
        let Some(one) = waiting.iter().position(alike).map(|at| waiting.remove(at)) else { continue };
        let (tray, from) = (one.id.tray, at.counts_from(one.stay));
        wanted.push((one, Spot { tray, from, until: None, shelf, x, y, quarter_turns, pinned: false }));
    }
    if wanted.is_empty() {
        return Err(NotArranged::NoneLeft);
    }
    together(at, &wanted, EditLabel::PlaceTrays(wanted.len())).map_err(|why| NotArranged::NoRoom { shelf, why })
}
