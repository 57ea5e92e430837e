//! Racks made and copied.

use crate::units::{Measure, Size};

use super::super::{
    Edit, EditLabel, Light, Op, PartOfDay, Place, PlaceId, Rack, RackId, Role, Season, Shelf, ShelfId, Temperatures,
    ZoneKind,
};
use super::shelves::{new_shelf, whole};

/// More tiers than any rack has.
pub const MOST_TIERS: u32 = 40;

/// A rack of equal shelves, one above the other; a bench has one.
#[derive(Clone, Debug, PartialEq)]
pub struct NewRack {
    pub name: String,
    pub place: InPlace,
    pub tiers: u32,
    pub size: Size,
    pub clear_height: Option<Measure>,
    pub overhang: Option<Measure>,
    /// A lamp over the whole of each shelf.
    pub lamp: bool,
}

/// Where a new rack stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum InPlace {
    There(PlaceId),
    New { name: String, role: Role },
}

impl NewRack {
    /// One step of undo: the rack with its shelves, and its place where that is new.
    pub fn edit(&self, season: &Season) -> (Edit, RackId) {
        let mut ops = Vec::new();
        let mut next = season.next_id();
        let place = match &self.place {
            InPlace::There(id) => *id,
            InPlace::New { name, role } => {
                let id = PlaceId(next);
                next = next.saturating_add(1);
                ops.push(Op::PutPlace(new_place(id, name, *role)));
                id
            }
        };
        let id = RackId(next);
        ops.push(Op::PutRack(Rack {
            id,
            place,
            name: self.name.clone(),
            position: next_position(season),
            stands: None,
        }));
        for tier in 1..=self.tiers {
            let mut shelf = new_shelf(ShelfId(next.saturating_add(tier)), id, tier, &self.size);
            shelf.clear_height.clone_from(&self.clear_height);
            if self.lamp {
                shelf.zones.push(whole(ZoneKind::Lamp, &shelf.width, &shelf.depth));
            }
            if let Some(overhang) = &self.overhang {
                shelf.overhang = overhang.clone();
            }
            ops.push(Op::PutShelf(shelf));
        }
        (Edit::new(EditLabel::AddRack(self.name.clone()), ops), id)
    }
}

/// A place open all year, day and night; one to harden off in has daylight.
fn new_place(id: PlaceId, name: &str, role: Role) -> Place {
    Place {
        id,
        name: name.to_owned(),
        role,
        open: Vec::new(),
        part: PartOfDay::Whole,
        temperatures: Temperatures::default(),
        light: if role == Role::Hardening { Light::Daylight } else { Light::default() },
        floor: None,
    }
}

/// To the right of all others.
fn next_position(season: &Season) -> u32 {
    season.racks().last().map_or(0, |rack| rack.position.saturating_add(1))
}

/// The same rack with shelves of its own, to the right of all others.
pub fn copy_rack(season: &Season, rack: &Rack) -> (Edit, RackId) {
    let id = RackId(season.next_id());
    let name = free_name(season, &rack.name);
    let copy = Rack { id, name: name.clone(), position: next_position(season), stands: None, ..rack.clone() };
    let mut ops = vec![Op::PutRack(copy)];
    for (next, shelf) in (id.0 + 1..).zip(season.shelves_of(rack.id)) {
        ops.push(Op::PutShelf(Shelf { id: ShelfId(next), rack: id, ..shelf.clone() }));
    }
    (Edit::new(EditLabel::AddRack(name), ops), id)
}

/// `Rack 3` after `Rack 2`, `Door rack 2` after `Door rack`.
pub fn free_name(season: &Season, like: &str) -> String {
    let stem = like.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    let taken = |name: &str| season.racks().iter().any(|rack| rack.name == name);
    let numbered = |n: u32| format!("{stem} {n}").trim().to_owned();
    let first = if stem == like.trim_end() { 2 } else { 1 };
    (first..first + 100_000).map(numbered).find(|name| !taken(name)).unwrap_or_else(|| like.to_owned())
}
