//! Shelves made, copied, made alike and taken out; those of one rack stay numbered from the top down.

use crate::units::{Length, Measure, Size, unit_of};

use super::super::{Edit, EditLabel, Op, RackId, Reach, Season, Shelf, ShelfId, Zone, ZoneKind};

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

/// Every shelf of its rack gets its figures, zones and dates.
pub fn all_like(season: &Season, shelf: &Shelf) -> Edit {
    let others = season.shelves_of(shelf.rack).into_iter().filter(|other| other.id != shelf.id);
    let alike = others.map(|other| Op::PutShelf(Shelf { id: other.id, tier: other.tier, ..shelf.clone() }));
    let rack = season.rack(shelf.rack).map_or_else(String::new, |rack| rack.name.clone());
    Edit::new(EditLabel::ChangeRack(rack), alike.collect())
}

/// Those below move up by one.
pub fn remove(season: &Season, shelf: &Shelf) -> Edit {
    let below = season.shelves_of(shelf.rack).into_iter().filter(|other| other.tier > shelf.tier);
    let up = below.map(|other| Op::PutShelf(Shelf { tier: other.tier - 1, ..other.clone() }));
    Edit::new(EditLabel::RemoveShelf, std::iter::once(Op::RemoveShelf(shelf.id)).chain(up).collect())
}
