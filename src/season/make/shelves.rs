//! Shelves made, copied, made alike and taken out; those of one rack stay numbered from the top down.

use crate::units::{Length, Measure, Size, unit_of};

use super::super::{Edit, EditLabel, FieldId, Op, RackId, Reach, Season, Shelf, ShelfId, Zone, ZoneKind};

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

/// The size of a shelf, part by part: what [`all_like`] hands on, as refusals call it.
const SIZES: [FieldId; 4] = [FieldId::ShelfWidth, FieldId::ShelfDepth, FieldId::ShelfHeight, FieldId::ShelfOverhang];

/// Every other shelf of its rack gets its width, depth, clear height and overhang. Lamps, mats, closed
/// dates and what else each of them has stays its own; a zone that covered all of one still does.
pub fn all_like(season: &Season, shelf: &Shelf) -> Edit {
    let others = unlike(season, shelf).into_iter().filter_map(|(id, _)| season.shelf(id));
    let alike = others.map(|other| {
        let (clear_height, overhang) = (shelf.clear_height.clone(), shelf.overhang.clone());
        let resized = resized(other, shelf.width.clone(), shelf.depth.clone());
        Op::PutShelf(Shelf { clear_height, overhang, ..resized })
    });
    let rack = season.rack(shelf.rack).map_or_else(String::new, |rack| rack.name.clone());
    Edit::new(EditLabel::ChangeRack(rack), alike.collect())
}

/// What that would overwrite: the shelves of its rack that are of another size, from the top down, and in what.
pub fn unlike(season: &Season, shelf: &Shelf) -> Vec<(ShelfId, Vec<FieldId>)> {
    let part = |of: &Shelf, part: FieldId| match part {
        FieldId::ShelfWidth => Some(of.width.clone()),
        FieldId::ShelfDepth => Some(of.depth.clone()),
        FieldId::ShelfHeight => of.clear_height.clone(),
        _ => Some(of.overhang.clone()),
    };
    let differs = |other: &Shelf| SIZES.into_iter().filter(|one| part(other, *one) != part(shelf, *one)).collect();
    let others = season.shelves_of(shelf.rack).into_iter().filter(|other| other.id != shelf.id);
    let all = others.map(|other| (other.id, differs(other)));
    all.filter(|(_, parts): &(ShelfId, Vec<FieldId>)| !parts.is_empty()).collect()
}

/// Those below move up by one.
pub fn remove(season: &Season, shelf: &Shelf) -> Edit {
    let below = season.shelves_of(shelf.rack).into_iter().filter(|other| other.tier > shelf.tier);
    let up = below.map(|other| Op::PutShelf(Shelf { tier: other.tier - 1, ..other.clone() }));
    Edit::new(EditLabel::RemoveShelf, std::iter::once(Op::RemoveShelf(shelf.id)).chain(up).collect())
}
