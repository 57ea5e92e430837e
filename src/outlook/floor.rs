//! The floor of a place with what stands on it, and what is wrong there: racks in each other's way, or where no
//! barrow comes to.

use crate::fit::Rect;
use crate::forecast::{Cramped, Problem};
use crate::season::{Floor, Place, PlaceId, Rack, RackId, Reach, Season, Shelf, Stands};
use crate::trade::{Doorway, FloorPlan, OnPlan};
use crate::units::{Area, Length, Measure};

use super::layout::RectOnShelf;
use super::snap::{Edges, snaps};

/// So many racks that a barrow doesn't come to are told one by one.
const MOST_TOLD: usize = 6;

/// Of one place, with the racks that are on its plan.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorOf {
    pub place: PlaceId,
    pub plan: FloorPlan,
    /// As they stand in the plan.
    pub racks: Vec<RackId>,
    pub barrow: Option<Length>,
    /// What can be stood on from above, what may stick out left out.
    pub bench: Area,
}

impl FloorOf {
    /// `None` of a place whose floor the grower has not drawn.
    pub fn of(season: &Season, place: PlaceId) -> Option<Self> {
        let place: &Place = season.place(place)?;
        let floor = place.floor.as_ref()?;
        let mut racks = Vec::new();
        let mut on_plan = Vec::new();
        let mut bench = Area::ZERO;
        for (rack, stands) in standing(season, place.id) {
            let Some(outline) = outline(season, rack.id) else { continue };
            racks.push(rack.id);
            on_plan.push(OnPlan {
                rect: outline.standing(stands),
                faces: stands.faces(),
                both_sides: outline.both_sides,
            });
            bench = bench + Area::of(outline.width, outline.bench_depth);
        }
        let plan = plan(floor, on_plan);
        Some(Self { place: place.id, plan, racks, barrow: floor.barrow.as_ref().map(Measure::value), bench })
    }

    pub fn area(&self) -> Area {
        Area::of(Length::from_units(self.plan.width), Length::from_units(self.plan.depth))
    }

    /// How much of the floor is bench, in per cent, to the nearest one.
    pub fn bench_percent(&self) -> u32 {
        let (bench, floor) = (self.bench.units(), self.area().units().max(1));
        u32::try_from((bench * 100 + floor / 2) / floor).unwrap_or(u32::MAX)
    }

    /// What is wrong on it.
    pub fn cramped(&self) -> Vec<Cramped> {
        let id = |at: usize| self.racks.get(at).copied();
        let overlaps = self.plan.overlaps();
        let overlap =
            overlaps.into_iter().filter_map(|(one, other)| Some(Cramped::Overlap { one: id(one)?, other: id(other)? }));
        let outside = self.racks.iter().enumerate().filter_map(|(at, rack)| {
            let by = self.plan.outside(at);
            (by > 0).then_some(Cramped::Outside { rack: *rack, by: Length::from_units(by) })
        });
        overlap.chain(outside).chain(self.barred()).collect()
    }

    fn barred(&self) -> Vec<Cramped> {
        let Some(barrow) = self.barrow.filter(|_| !self.racks.is_empty()) else { return Vec::new() };
        let widest = self.plan.doors.iter().map(|door| Length::from_units(door.width)).max();
        if widest.is_none_or(|widest| widest < barrow) {
            return vec![Cramped::NoDoor { barrow, widest }];
        }
        let not = self.not_reached(barrow.units());
        if not.len() > MOST_TOLD {
            return self.many_barred(barrow, &not).into_iter().collect();
        }
        let widest = self.plan.widest(not.clone());
        let barred = not.into_iter().zip(widest).filter_map(|(at, widest)| {
            let rack = self.racks.get(at).copied()?;
            Some(Cramped::Barred { rack, barrow, widest: widest.map(Length::from_units) })
        });
        barred.collect()
    }

    fn not_reached(&self, barrow: i64) -> Vec<usize> {
        let reached = self.plan.reached(barrow);
        (0..self.racks.len()).filter(|at| reached.get(*at) == Some(&false)).collect()
    }

    fn many_barred(&self, barrow: Length, not: &[usize]) -> Option<Cramped> {
        let for_all = self.plan.widest_to_all();
        let without_a_way = if for_all.is_none() { self.not_reached(1) } else { Vec::new() };
        let one = self.racks.get(*without_a_way.first().or(not.first())?).copied()?;
        let (racks, for_all) = (self.racks.len(), for_all.map(Length::from_units));
        Some(Cramped::ManyBarred { barrow, racks, reached: racks - not.len(), for_all, one })
    }

    /// Racks that the barrow doesn't come to; none where no barrow or no door is drawn.
    pub fn barred_racks(&self) -> Vec<RackId> {
        let barrow = self.barrow.filter(|_| !self.plan.doors.is_empty());
        let not = barrow.map_or_else(Vec::new, |barrow| self.not_reached(barrow.units()));
        not.into_iter().filter_map(|at| self.racks.get(at).copied()).collect()
    }

    /// The others, as edges that draw it.
    fn others(&self, rack: RackId) -> Vec<RectOnShelf> {
        let all = self.racks.iter().zip(&self.plan.racks).filter(|(id, _)| **id != rack);
        all.map(|(_, one)| on_floor(one.rect)).collect()
    }

    /// Those that a rack of that size at that corner would stand in.
    pub fn in_its_place(&self, rack: RackId, at: (Length, Length), size: (Length, Length)) -> Vec<RackId> {
        let rect = rect(at, size);
        let all = self.racks.iter().zip(&self.plan.racks).filter(|(id, _)| **id != rack);
        all.filter(|(_, one)| one.rect.overlaps(rect)).map(|(id, _)| *id).collect()
    }

    /// The corner at which a rack of that size comes to stand when it is let go near that one: walls and other racks
    /// draw it, and it stays within the room where that is large enough.
    pub fn let_go(
        &self,
        rack: RackId,
        (width, depth): (Length, Length),
        (x, y): (Length, Length),
        (reach, grid): (Length, Length),
    ) -> (Length, Length) {
        let neighbours = self.others(rack);
        let [room_width, room_depth] = [self.plan.width, self.plan.depth].map(Length::from_units);
        let edges = Edges {
            shelf_width: room_width,
            shelf_depth: room_depth,
            usable_depth: room_depth,
            neighbours: &neighbours,
            reach,
            grid,
        };
        let held = RectOnShelf { x, y, width, depth };
        let corners: Vec<_> = snaps(held, &edges).into_iter().map(|at| self.within(at, (width, depth))).collect();
        let free = corners.iter().find(|at| self.in_its_place(rack, **at, (width, depth)).is_empty());
        // where none is free it stands where the hand has it, and what it stands in is said
        free.or(corners.last()).copied().unwrap_or_default()
    }

    /// Moved into the room where it would be outside.
    pub fn within(&self, (x, y): (Length, Length), (width, depth): (Length, Length)) -> (Length, Length) {
        let inside = |at: Length, room: i64, own: Length| {
            at.clamp(Length::ZERO, (Length::from_units(room) - own).max(Length::ZERO))
        };
        (inside(x, self.plan.width, width), inside(y, self.plan.depth, depth))
    }

    /// Where a rack of that size may stand with an aisle as wide as the barrow at its front; else where it stands
    /// free, and else in the corner.
    pub fn free_corner(&self, rack: RackId, size: (Length, Length)) -> (Length, Length) {
        let room = Rect { x: 0, y: 0, w: self.plan.width, d: self.plan.depth };
        let aisle = self.barrow.unwrap_or_default();
        let corners = |apart: i64| {
            let beyond = |of: fn(Rect) -> i64| {
                let ends = self.plan.racks.iter().flat_map(move |one| [of(one.rect), of(one.rect) + apart]);
                let mut all: Vec<i64> = std::iter::once(0).chain(ends).collect();
                all.sort_unstable();
                all
            };
            let (xs, ys) = (beyond(Rect::right), beyond(Rect::back));
            ys.into_iter().flat_map(move |y| xs.clone().into_iter().map(move |x| (x, y)))
        };
        let first = |aisle: Length| {
            let with_aisle = (size.0, size.1 + aisle);
            let at = |(x, y): (i64, i64)| (Length::from_units(x), Length::from_units(y));
            let mut all = corners(aisle.units()).map(at);
            all.find(|at| room.holds(rect(*at, with_aisle)) && self.in_its_place(rack, *at, with_aisle).is_empty())
        };
        first(aisle).or_else(|| first(Length::ZERO)).unwrap_or_default()
    }
}

fn rect((x, y): (Length, Length), (width, depth): (Length, Length)) -> Rect {
    Rect { x: x.units(), y: y.units(), w: width.units(), d: depth.units() }
}

fn on_floor(rect: Rect) -> RectOnShelf {
    let [x, y, width, depth] = [rect.x, rect.y, rect.w, rect.d].map(Length::from_units);
    RectOnShelf { x, y, width, depth }
}

fn plan(floor: &Floor, racks: Vec<OnPlan>) -> FloorPlan {
    let doors = floor.doors.iter().map(|door| Doorway {
        wall: door.wall,
        along: door.along.value().units(),
        width: door.width.value().units(),
    });
    FloorPlan { width: floor.width.value().units(), depth: floor.depth.value().units(), doors: doors.collect(), racks }
}

/// Racks of a place that are on its plan.
fn standing(season: &Season, place: PlaceId) -> impl Iterator<Item = (&Rack, &Stands)> {
    let racks = season.racks().into_iter().filter(move |rack| rack.place == place);
    racks.filter_map(|rack| Some((rack, rack.stands.as_ref()?)))
}

/// What a rack takes of a floor, as one stands before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RackOutline {
    /// Of its widest shelf.
    pub width: Length,
    /// Of its deepest, with what may stick out.
    pub depth: Length,
    /// Of its deepest alone.
    pub bench_depth: Length,
    /// Any of its shelves is reached from its back too.
    pub both_sides: bool,
}

impl RackOutline {
    pub fn standing(&self, stands: &Stands) -> Rect {
        let (w, d) = self.turned(stands.quarter_turns);
        Rect { x: stands.x.value().units(), y: stands.y.value().units(), w: w.units(), d: d.units() }
    }

    /// Across and along the room.
    pub const fn turned(&self, quarter_turns: u8) -> (Length, Length) {
        if quarter_turns % 2 == 1 { (self.depth, self.width) } else { (self.width, self.depth) }
    }
}

/// `None` of a rack without shelves.
pub fn outline(season: &Season, rack: RackId) -> Option<RackOutline> {
    let shelves = season.shelves_of(rack);
    let most = |of: fn(&Shelf) -> Length| shelves.iter().map(|shelf| of(shelf)).max();
    Some(RackOutline {
        width: most(|shelf| shelf.width.value())?,
        depth: most(Shelf::usable_depth)?,
        bench_depth: most(|shelf| shelf.depth.value())?,
        both_sides: shelves.iter().any(|shelf| shelf.reach == Reach::BothSides),
    })
}

/// What is wrong on the floors of the season's places.
pub(super) fn floor_problems(season: &Season) -> impl Iterator<Item = Problem> {
    let floors = season.places().filter_map(|place| FloorOf::of(season, place.id));
    floors.flat_map(|floor| {
        let place = floor.place;
        floor.cramped().into_iter().map(move |what| Problem::OnFloor { place, what })
    })
}
