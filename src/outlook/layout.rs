//! The season's own layout: where its trays stand on a day.

use chrono::NaiveDate;

use crate::fit::Rect;
use crate::forecast::Stay;
use crate::season::{Role, Season, Spot, SpotFrom};
use crate::units::{DateSpan, Length};

use super::room::{footprint, role_of, role_suits, shelf_suits};

/// Ground on a shelf, from its back left corner; with or without the gap kept beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RectOnShelf {
    pub x: Length,
    pub y: Length,
    pub width: Length,
    pub depth: Length,
}

impl RectOnShelf {
    /// The ground that a stay itself covers at that spot.
    pub fn of(stay: &Stay, spot: &Spot) -> Self {
        let (width, depth) = stay.shape.turned(spot.quarter_turns);
        Self { x: spot.x, y: spot.y, width, depth }
    }

    /// The same with the gap kept beside trays; loose pots may touch.
    pub fn with_gap(season: &Season, stay: &Stay, spot: &Spot) -> Self {
        let (width, depth) = footprint(season, &stay.shape);
        let (width, depth) = if spot.is_turned() { (depth, width) } else { (width, depth) };
        Self { x: spot.x, y: spot.y, width, depth }
    }

    pub fn right(self) -> Length {
        self.x + self.width
    }

    pub fn front(self) -> Length {
        self.y + self.depth
    }
}

/// The spot a stay has on that day: its tray's latest one on a shelf for the stay's role.
///
/// While it hardens off, a tray has two: one outside, and the indoor one it comes back to.
pub fn spot_of<'a>(season: &'a Season, stay: &Stay, day: NaiveDate) -> Option<&'a Spot> {
    let spots = season.spots_of(stay.tray()?);
    in_force(spots.map(|spot| (spot, role_of(season, spot.shelf))), stay, day)
}

fn in_force<'a>(
    spots: impl Iterator<Item = (&'a Spot, Option<Role>)>,
    stay: &Stay,
    day: NaiveDate,
) -> Option<&'a Spot> {
    let begun = |(spot, role): &(&Spot, Option<Role>)| spot.from <= SpotFrom::On(day) && role_suits(*role, stay);
    let (spot, _) = spots.filter(begun).last()?;
    spot.until.is_none_or(|until| day < until).then_some(spot)
}

/// The spots of a season with what their shelves are for: `spot_of`, for all that stands, frame after frame.
#[derive(Clone, Debug, Default)]
pub struct Spots(Vec<(Spot, Option<Role>)>);

impl Spots {
    pub fn of(season: &Season) -> Self {
        let mut all: Vec<_> = season.spots().map(|spot| (*spot, role_of(season, spot.shelf))).collect();
        all.sort_by_key(|(spot, _)| (spot.tray, spot.from));
        Self(all)
    }

    /// As `spot_of` has it.
    pub fn of_stay(&self, stay: &Stay, day: NaiveDate) -> Option<&Spot> {
        let tray = stay.tray()?;
        let first = self.0.partition_point(|(spot, _)| spot.tray < tray);
        let own = self.0.iter().skip(first).take_while(|(spot, _)| spot.tray == tray);
        in_force(own.map(|(spot, role)| (spot, *role)), stay, day)
    }
}

/// The ground a stay covers there, gap included, in 1/8000 mm.
pub(super) fn ground(season: &Season, stay: &Stay, spot: &Spot) -> Rect {
    let RectOnShelf { x, y, width, depth } = RectOnShelf::with_gap(season, stay, spot);
    Rect { x: x.units(), y: y.units(), w: width.units(), d: depth.units() }
}

/// The spots a stay has one after the other, and the days of each.
pub(super) fn spots_during<'a>(season: &'a Season, stay: &Stay) -> Vec<(&'a Spot, DateSpan)> {
    let Some(tray) = stay.tray() else { return Vec::new() };
    let suiting: Vec<&Spot> = season.spots_of(tray).filter(|spot| shelf_suits(season, spot.shelf, stay)).collect();
    let from_of = |spot: &Spot| match spot.from {
        SpotFrom::Start => NaiveDate::MIN,
        SpotFrom::On(date) => date,
    };
    let mut during = Vec::new();
    for (index, spot) in suiting.iter().enumerate() {
        let next = suiting.get(index + 1).map_or(NaiveDate::MAX, |next| from_of(next));
        let until = spot.until.map_or(next, |until| until.min(next));
        if let Some(span) = DateSpan::new(from_of(spot), until).ok().and_then(|span| span.within(stay.span)) {
            during.push((*spot, span));
        }
    }
    during
}
