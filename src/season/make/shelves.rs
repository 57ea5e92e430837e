//! Shelves made, copied, made alike and taken out; those of one rack stay numbered from the top down.

use crate::units::{Length, Measure, Size, unit_of};

use super::super::{Edit, EditLabel, Op, Rack, RackId, Reach, Season, Shelf, ShelfId, Zone, ZoneKind};

/// A zone over the whole shelf.
pub fn whole(kind: ZoneKind, width: &Measure, depth: &Measure) -> Zone {
    let (x, y) = (nothing_like(width), nothing_like(depth));
    Zone { kind, x, y, width: width.clone(), depth: depth.clone() }
}

/// Nothing, in the unit that was typed.
fn nothing_like(typed: &Measure) -> Measure {
    Measure::of(Length::ZERO, unit_of(typed.typed()))
}

/// A shelf of nothing but its size.
pub fn new_shelf(id: ShelfId, rack: RackId, tier: u32, size: &Size) -> Shelf {
    Shelf {
        id,
        rack,
        tier,
        width: size.width.clone(),
        depth: size.depth.clone(),
        clear_height: None,
        reach: Reach::OneSide,
        closed: Vec::new(),
        zones: Vec::new(),
        overhang: nothing_like(&size.depth),
        allowance_percent: 0,
        load_grams: None,
        light: None,
    }
}

/// The shelf in another size. A lamp or mat that covered the whole shelf covers the whole of it afterwards.
pub fn resized(shelf: &Shelf, width: Measure, depth: Measure) -> Shelf {
    let covers = |zone: &Zone| {
        let far = (zone.x.value() + zone.width.value(), zone.y.value() + zone.depth.value());
        (zone.x.value().units(), zone.y.value().units()) == (0, 0) && far == (shelf.width.value(), shelf.depth.value())
    };
    let zones = shelf
        .zones
        .iter()
        .map(|zone| if covers(zone) { whole(zone.kind, &width, &depth) } else { zone.clone() })
        .collect();
    Shelf { width, depth, zones, ..shelf.clone() }
}

/// One more like it, right below it; those further down move down by one.
pub fn copy_below(season: &Season, shelf: &Shelf) -> (Edit, ShelfId) {
    let id = ShelfId(season.next_id());
    let mut ops: Vec<Op> = season
        .shelves_of(shelf.rack)
        .into_iter()
        .filter(|other| other.tier > shelf.tier)
        .map(|other| Op::PutShelf(Shelf { tier: other.tier + 1, ..other.clone() }))
        .collect();
    ops.push(Op::PutShelf(Shelf { id, tier: shelf.tier + 1, ..shelf.clone() }));
    (Edit::new(EditLabel::AddShelf, ops), id)
}

/// What a shelf has that another may be given too. Closed dates are its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ShelfPart {
    Width,
    Depth,
    ClearHeight,
    Overhang,
    Allowance,
    Load,
    Reach,
    Light,
    Lamps,
    Mats,
}

impl ShelfPart {
    pub const SIZES: &[Self] = &[Self::Width, Self::Depth, Self::ClearHeight, Self::Overhang];
    /// In an order in which a zone that covers the whole shelf is given after its size.
    pub const ALL: &[Self] = &[
        Self::Width,
        Self::Depth,
        Self::ClearHeight,
        Self::Overhang,
        Self::Allowance,
        Self::Load,
        Self::Reach,
        Self::Light,
        Self::Lamps,
        Self::Mats,
    ];

    /// That shelf with this part as the other has it. A zone that covered all of it still does.
    fn given(self, to: &Shelf, from: &Shelf) -> Shelf {
        let like = to.clone();
        match self {
            Self::Width => resized(to, from.width.clone(), to.depth.clone()),
            Self::Depth => resized(to, to.width.clone(), from.depth.clone()),
            Self::ClearHeight => Shelf { clear_height: from.clear_height.clone(), ..like },
            Self::Overhang => Shelf { overhang: from.overhang.clone(), ..like },
            Self::Allowance => Shelf { allowance_percent: from.allowance_percent, ..like },
            Self::Load => Shelf { load_grams: from.load_grams, ..like },
            Self::Reach => Shelf { reach: from.reach, ..like },
            Self::Light => Shelf { light: from.light, ..like },
            Self::Lamps => with_zones(&like, from, ZoneKind::Lamp),
            Self::Mats => with_zones(&like, from, ZoneKind::Heat),
        }
    }
}

/// Its zones of that kind in place of those that the shelf has.
fn with_zones(shelf: &Shelf, from: &Shelf, kind: ZoneKind) -> Shelf {
    let zones = |of: &Shelf, is_kind: bool| -> Vec<Zone> {
        of.zones.iter().filter(|zone| (zone.kind == kind) == is_kind).cloned().collect()
    };
    let (others, own) = (zones(shelf, false), zones(from, true));
    if own == zones(shelf, true) {
        return shelf.clone();
    }
    Shelf { zones: others.into_iter().chain(own).collect(), ..shelf.clone() }
}

/// Those other shelves get these parts of it; what else each of them has stays its own.
pub fn given(season: &Season, from: &Shelf, to: &[ShelfId], parts: &[ShelfPart]) -> Edit {
    let alike = overwritten(season, from, to, parts).into_iter().filter_map(|(id, parts)| {
        let to = season.shelf(id)?.clone();
        Some(Op::PutShelf(parts.into_iter().fold(to, |to, part| part.given(&to, from))))
    });
    let first = to.iter().find_map(|id| season.rack(season.shelf(*id)?.rack));
    let rack = first.map_or_else(String::new, |rack| rack.name.clone());
    Edit::new(EditLabel::ChangeRack(rack), alike.collect())
}

/// What that would overwrite: the shelves that have something else, in their order, and in what.
pub fn overwritten(
    season: &Season,
    from: &Shelf,
    to: &[ShelfId],
    parts: &[ShelfPart],
) -> Vec<(ShelfId, Vec<ShelfPart>)> {
    let differs = |other: &Shelf| {
        let mut then = other.clone();
        let mut changed = Vec::new();
        for part in parts {
            let next = part.given(&then, from);
            if next != then {
                changed.push(*part);
            }
            then = next;
        }
        changed
    };
    let others = to.iter().filter(|id| **id != from.id).filter_map(|id| season.shelf(*id));
    others.map(|other| (other.id, differs(other))).filter(|(_, parts)| !parts.is_empty()).collect()
}

/// The rack with that many tiers: further ones are like its lowest, and the lowest go first. `None` where it has none to
/// be like.
pub fn with_tiers(season: &Season, rack: &Rack, tiers: u32) -> Option<Edit> {
    let shelves = season.shelves_of(rack.id);
    let lowest = *shelves.last()?;
    let there = u32::try_from(shelves.len()).ok()?;
    let more = (there..tiers).zip(season.next_id()..).map(|(at, id)| {
        Op::PutShelf(Shelf { id: ShelfId(id), tier: lowest.tier.saturating_add(at - there + 1), ..lowest.clone() })
    });
    let fewer = shelves.iter().skip(usize::try_from(tiers.max(1)).ok()?).map(|shelf| Op::RemoveShelf(shelf.id));
    Some(Edit::new(EditLabel::ChangeRack(rack.name.clone()), more.chain(fewer).collect()))
}

/// Every shelf of the rack changed alike, in one step.
pub fn every_shelf(season: &Season, rack: &Rack, with: impl Fn(&Shelf) -> Shelf) -> Edit {
    let changed = season.shelves_of(rack.id).into_iter().map(|shelf| (shelf, with(shelf)));
    let ops = changed.filter(|(shelf, then)| *shelf != then).map(|(_, then)| Op::PutShelf(then)).collect();
    Edit::new(EditLabel::ChangeRack(rack.name.clone()), ops)
}

/// The shelf with a zone of that kind over the whole of it, or with none of that kind.
pub fn covered(shelf: &Shelf, kind: ZoneKind, covered: bool) -> Shelf {
    let mut zones: Vec<Zone> = shelf.zones.iter().filter(|zone| zone.kind != kind).cloned().collect();
    zones.extend(covered.then(|| whole(kind, &shelf.width, &shelf.depth)));
    Shelf { zones, ..shelf.clone() }
}

/// Those below move up by one.
pub fn remove(season: &Season, shelf: &Shelf) -> Edit {
    let below = season.shelves_of(shelf.rack).into_iter().filter(|other| other.tier > shelf.tier);
    let up = below.map(|other| Op::PutShelf(Shelf { tier: other.tier - 1, ..other.clone() }));
    Edit::new(EditLabel::RemoveShelf, std::iter::once(Op::RemoveShelf(shelf.id)).chain(up).collect())
}
