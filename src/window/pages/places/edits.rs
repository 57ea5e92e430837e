//! Edits of shelves and racks that touch more than one of them; each is one step of undo.

use crate::season::{
    Edit, EditLabel, Op, Place, PlaceId, Rack, RackId, Role, Season, Shelf, ShelfId, Temperatures, Zone, ZoneKind,
};
use crate::units::{Length, Measure, Size, unit_of};

/// A zone over the whole shelf.
pub(super) fn whole(kind: ZoneKind, width: &Measure, depth: &Measure) -> Zone {
    let (x, y) = (nothing_like(width), nothing_like(depth));
    Zone { kind, x, y, width: width.clone(), depth: depth.clone() }
}

/// Nothing, in the unit that was typed.
fn nothing_like(typed: &Measure) -> Measure {
    Measure::of(Length::ZERO, unit_of(typed.typed()))
}

pub(super) fn new_place(id: PlaceId, name: &str, role: Role) -> Place {
    Place {
        id,
        name: name.to_owned(),
        role,
        open: Vec::new(),
        part: crate::season::PartOfDay::Whole,
        temperatures: Temperatures::default(),
    }
}

/// A shelf of nothing but its size.
pub(super) fn new_shelf(id: ShelfId, rack: RackId, tier: u32, size: &Size) -> Shelf {
    Shelf {
        id,
        rack,
        tier,
        width: size.width.clone(),
        depth: size.depth.clone(),
        clear_height: None,
        reach: crate::season::Reach::OneSide,
        closed: Vec::new(),
        zones: Vec::new(),
        overhang: nothing_like(&size.depth),
        allowance_percent: 0,
        load_grams: None,
    }
}

/// To the right of all others.
pub(super) fn next_position(season: &Season) -> u32 {
    season.racks().last().map_or(0, |rack| rack.position.saturating_add(1))
}

pub(super) fn copy_shelf_below(season: &Season, shelf: &Shelf) -> (Edit, ShelfId) {
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
pub(super) fn all_like(season: &Season, shelf: &Shelf) -> Edit {
    let others = season.shelves_of(shelf.rack).into_iter().filter(|other| other.id != shelf.id);
    let alike = others.map(|other| Op::PutShelf(Shelf { id: other.id, tier: other.tier, ..shelf.clone() }));
    let rack = season.rack(shelf.rack).map_or_else(String::new, |rack| rack.name.clone());
    Edit::new(EditLabel::ChangeRack(rack), alike.collect())
}

/// Those below move up by one.
pub(super) fn remove_shelf(season: &Season, shelf: &Shelf) -> Edit {
    let below = season.shelves_of(shelf.rack).into_iter().filter(|other| other.tier > shelf.tier);
    let up = below.map(|other| Op::PutShelf(Shelf { tier: other.tier - 1, ..other.clone() }));
    Edit::new(EditLabel::RemoveShelf, std::iter::once(Op::RemoveShelf(shelf.id)).chain(up).collect())
}

pub(in crate::window) fn copy_rack(season: &Season, rack: &Rack) -> (Edit, RackId) {
    let id = RackId(season.next_id());
    let name = free_name(season, &rack.name);
    let copy = Rack { id, name: name.clone(), position: next_position(season), ..rack.clone() };
    let mut ops = vec![Op::PutRack(copy)];
    for (next, shelf) in (id.0 + 1..).zip(season.shelves_of(rack.id)) {
        ops.push(Op::PutShelf(Shelf { id: ShelfId(next), rack: id, ..shelf.clone() }));
    }
    (Edit::new(EditLabel::AddRack(name), ops), id)
}

/// `Rack 3` after `Rack 2`, `Door rack 2` after `Door rack`.
pub(super) fn free_name(season: &Season, like: &str) -> String {
    let stem = like.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    let taken = |name: &str| season.racks().iter().any(|rack| rack.name == name);
    let numbered = |n: u32| format!("{stem} {n}").trim().to_owned();
    let first = if stem == like.trim_end() { 2 } else { 1 };
    (first..first + 100_000).map(numbered).find(|name| !taken(name)).unwrap_or_else(|| like.to_owned())
}
