//! A rack of three, copied, grown, shrunk and made alike.

use super::*;
use crate::season::{Edit, Op, Rack, RackId, Reach, Role, Season, Shelf, ShelfId, Zone, ZoneKind};
use crate::units::{DateSpan, Measure, Size};

fn size() -> Size {
    Size { width: Measure::mm(1200), depth: Measure::mm(450) }
}

fn rack_of_three() -> (Season, RackId) {
    let mut season = Season::new("racks");
    let new = NewRack {
        name: "Rack 1".to_owned(),
        place: InPlace::New { name: "Room".to_owned(), role: Role::Growing },
        tiers: 3,
        size: size(),
        clear_height: Some(Measure::mm(400)),
        overhang: None,
        lamp: true,
    };
    let (edit, id) = new.edit(&season);
    season.apply(&edit).unwrap();
    (season, id)
}

fn ids(season: &Season, rack: RackId) -> Vec<ShelfId> {
    season.shelves_of(rack).into_iter().map(|shelf| shelf.id).collect()
}

fn shelf(season: &Season, rack: RackId, tier: u32) -> Shelf {
    season.shelves_of(rack).into_iter().find(|shelf| shelf.tier == tier).unwrap().clone()
}

fn tiers(season: &Season, rack: RackId) -> Vec<(ShelfId, u32)> {
    season.shelves_of(rack).iter().map(|shelf| (shelf.id, shelf.tier)).collect()
}

fn rack(season: &Season, id: RackId) -> Rack {
    season.rack(id).unwrap().clone()
}

fn with(season: &mut Season, edit: &Edit) {
    season.apply(edit).unwrap();
}

#[test]
fn a_new_rack_has_equal_shelves_and_stands_to_the_right_of_all_others() {
    let (mut season, first) = rack_of_three();
    assert_eq!(tiers(&season, first).iter().map(|(_, tier)| *tier).collect::<Vec<_>>(), [1, 2, 3]);
    assert_eq!(season.places().count(), 1);
    assert!(season.shelves_of(first).iter().all(|shelf| shelf.has(ZoneKind::Lamp) && shelf.clear_height.is_some()));
    let place = rack(&season, first).place;
    let name = free_name(&season, "Rack 1");
    assert_eq!(name, "Rack 2");
    let bench = NewRack {
        name,
        place: InPlace::There(place),
        tiers: 1,
        size: size(),
        clear_height: None,
        overhang: Some(Measure::mm(40)),
        lamp: false,
    };
    let (edit, second) = bench.edit(&season);
    with(&mut season, &edit);
    assert_eq!(season.places().count(), 1, "it stands in the place that is there");
    assert!(rack(&season, second).position > rack(&season, first).position);
    let only = shelf(&season, second, 1);
    assert_eq!((only.overhang.value(), only.zones.len()), (Measure::mm(40).value(), 0));
}

#[test]
fn a_copied_rack_has_shelves_of_its_own() {
    let (mut season, first) = rack_of_three();
    let (edit, copy) = copy_rack(&season, &rack(&season, first));
    with(&mut season, &edit);
    assert_eq!(rack(&season, copy).name, "Rack 2");
    let (old, new) = (tiers(&season, first), tiers(&season, copy));
    assert_eq!(new.len(), 3);
    assert!(new.iter().all(|(id, _)| old.iter().all(|(other, _)| other != id)));
    let (again, _) = copy_rack(&season, &rack(&season, first));
    with(&mut season, &again);
    assert!(season.racks().iter().any(|rack| rack.name == "Rack 3"), "no name twice");
}

#[test]
fn free_names_count_on() {
    let (season, _) = rack_of_three();
    assert_eq!(free_name(&season, "Rack 1"), "Rack 2");
    assert_eq!(free_name(&season, "Door rack"), "Door rack 2");
    assert_eq!(free_name(&season, "Bench 7"), "Bench 1");
}

#[test]
fn shelves_stay_numbered_from_the_top_down() {
    let (mut season, id) = rack_of_three();
    let (edit, copy) = copy_below(&season, &shelf(&season, id, 1));
    with(&mut season, &edit);
    assert_eq!(tiers(&season, id).iter().map(|(_, tier)| *tier).collect::<Vec<_>>(), [1, 2, 3, 4]);
    assert_eq!(shelf(&season, id, 2).id, copy);
    let edit = remove(&season, &shelf(&season, id, 1));
    with(&mut season, &edit);
    assert_eq!(tiers(&season, id).iter().map(|(_, tier)| *tier).collect::<Vec<_>>(), [1, 2, 3]);
    assert_eq!(shelf(&season, id, 1).id, copy);
}

#[test]
fn all_of_a_rack_like_one_shelf() {
    let (mut season, id) = rack_of_three();
    let wide = resized(&shelf(&season, id, 2), Measure::mm(1500), Measure::mm(600));
    let covers = |shelf: &Shelf| shelf.zones.first().map(|zone| (zone.width.value(), zone.depth.value()));
    assert_eq!(covers(&wide), Some((wide.width.value(), wide.depth.value())), "its lamp still covers all of it");
    let edit = given(&season, &wide, &ids(&season, id), ShelfPart::SIZES);
    with(&mut season, &edit);
    for tier in [1, 3] {
        let other = shelf(&season, id, tier);
        assert_eq!((other.width.value(), covers(&other)), (wide.width.value(), covers(&wide)));
    }
    assert_ne!(shelf(&season, id, 2).width.value(), wide.width.value(), "the one they follow is put by itself");
}

/// A heat mat on one shelf went when another shelf's size was given to all of the rack.
#[test]
fn a_size_for_all_of_a_rack_takes_nothing_else_from_any_shelf() {
    let (mut season, id) = rack_of_three();
    let mat = Zone {
        kind: ZoneKind::Heat,
        x: Measure::mm(100),
        y: Measure::mm(0),
        width: Measure::mm(500),
        depth: Measure::mm(400),
    };
    let closed = DateSpan::new("2027-04-01".parse().unwrap(), "2027-04-05".parse().unwrap()).unwrap();
    let mut first = shelf(&season, id, 1);
    first.zones.push(mat.clone());
    (first.closed, first.allowance_percent, first.load_grams) = (vec![closed], 10, Some(40_000));
    with(&mut season, &Op::PutShelf(first.clone()).into());
    let low = Shelf { clear_height: Some(Measure::mm(300)), reach: Reach::BothSides, ..shelf(&season, id, 2) };
    let low = resized(&low, Measure::mm(1000), Measure::mm(450));
    with(&mut season, &Op::PutShelf(low.clone()).into());
    let (all, sizes) = (ids(&season, id), ShelfPart::SIZES);
    let changes = vec![ShelfPart::Width, ShelfPart::ClearHeight];
    let third = shelf(&season, id, 3).id;
    assert_eq!(overwritten(&season, &low, &all, sizes), [(first.id, changes.clone()), (third, changes)]);
    let edit = given(&season, &low, &all, sizes);
    with(&mut season, &edit);
    let after = shelf(&season, id, 1);
    assert_eq!(
        (after.width.value(), after.clear_height.clone()),
        (Measure::mm(1000).value(), low.clear_height.clone())
    );
    assert_eq!(after.zones, [whole(ZoneKind::Lamp, &Measure::mm(1000), &Measure::mm(450)), mat]);
    let others = (after.closed, after.allowance_percent, after.load_grams, after.reach);
    assert_eq!(others, (vec![closed], 10, Some(40_000), Reach::OneSide));
    assert_eq!(overwritten(&season, &low, &all, sizes), []);
    // with all of it, its mats go and it is reached as the other is; its closed dates are its own
    let changes = vec![ShelfPart::Allowance, ShelfPart::Load, ShelfPart::Reach, ShelfPart::Mats];
    assert_eq!(overwritten(&season, &low, &[first.id], ShelfPart::ALL), [(first.id, changes)]);
    let edit = given(&season, &low, &[first.id], ShelfPart::ALL);
    with(&mut season, &edit);
    assert_eq!(shelf(&season, id, 1), Shelf { id: first.id, tier: 1, closed: vec![closed], ..low });
}

#[test]
fn a_rack_gets_tiers_like_its_lowest_and_loses_the_lowest() {
    let (mut season, id) = rack_of_three();
    let rack = season.rack(id).unwrap().clone();
    let low = Shelf { clear_height: Some(Measure::mm(250)), ..shelf(&season, id, 3) };
    with(&mut season, &Op::PutShelf(low.clone()).into());
    let edit = with_tiers(&season, &rack, 5).unwrap();
    with(&mut season, &edit);
    let heights = |season: &Season| -> Vec<(u32, f64)> {
        let shelves = season.shelves_of(id).into_iter();
        shelves.map(|shelf| (shelf.tier, shelf.clear_height.as_ref().unwrap().value().to_mm())).collect()
    };
    assert_eq!(heights(&season), [(1, 400.0), (2, 400.0), (3, 250.0), (4, 250.0), (5, 250.0)]);
    let edit = with_tiers(&season, &rack, 2).unwrap();
    with(&mut season, &edit);
    assert_eq!(heights(&season), [(1, 400.0), (2, 400.0)]);
    let edit = with_tiers(&season, &rack, 0).unwrap();
    with(&mut season, &edit);
    assert_eq!(heights(&season).len(), 1, "a rack is taken out by itself");
}

#[test]
fn all_shelves_of_a_rack_are_changed_in_one_step() {
    let (mut season, id) = rack_of_three();
    let rack = season.rack(id).unwrap().clone();
    let edit = every_shelf(&season, &rack, |shelf| covered(shelf, ZoneKind::Lamp, false));
    with(&mut season, &edit);
    assert!(season.shelves_of(id).iter().all(|shelf| shelf.zones.is_empty()));
    let edit = every_shelf(&season, &rack, |shelf| covered(shelf, ZoneKind::Heat, true));
    assert_eq!(edit.ops.len(), 3);
    with(&mut season, &edit);
    let mats = season.shelves_of(id).iter().filter(|shelf| shelf.has(ZoneKind::Heat)).count();
    assert_eq!(mats, 3);
    assert_eq!(every_shelf(&season, &rack, |shelf| covered(shelf, ZoneKind::Heat, true)).ops, []);
}
