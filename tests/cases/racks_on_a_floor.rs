//! Racks in a basement of 12 × 10 ft, a door of 3 ft in its front wall, and what doesn't get to them.

use flatwright::forecast::Problem;
use flatwright::outlook::FloorOf;
use flatwright::season::{Door, Floor, Library, Op, Place, PlaceId, Rack, Reach, Role, Shelf, Stands, Wall};
use flatwright::units::LengthUnit;
use flatwright::words::{Words, problem_kind};

use crate::support::{Grower, measure, shelf};

/// Of the racks their shelf, where they stand, and how often they are turned.
type Standing<'a> = (&'a str, [&'a str; 2], u8);

#[track_caller]
fn basement(doors: &[(&str, &str)], barrow: Option<&str>, racks: &[Standing<'_>]) -> (Grower, PlaceId) {
    let mut grower = Grower::new();
    let place = grower.place(Role::Growing);
    for (at, (size, [x, y], quarter_turns)) in racks.iter().enumerate() {
        let shelf = grower.rack(place, 2, &shelf(size))[0];
        let rack = grower.season.shelf(shelf).and_then(|shelf| grower.season.rack(shelf.rack)).expect("a rack").clone();
        let stands = Some(Stands { x: measure(x), y: measure(y), quarter_turns: *quarter_turns });
        grower.edit(&Op::PutRack(Rack { name: format!("Bench {}", at + 1), stands, ..rack }).into());
    }
    let door = |(along, width): &(&str, &str)| Door { wall: Wall::Front, along: measure(along), width: measure(width) };
    let (width, depth) = (measure("12 ft"), measure("10 ft"));
    let floor = Floor { width, depth, doors: doors.iter().map(door).collect(), barrow: barrow.map(measure) };
    let found = grower.season.place(place).expect("a place").clone();
    grower.edit(&Op::PutPlace(Place { name: "Basement".to_owned(), floor: Some(floor), ..found }).into());
    (grower, place)
}

const DOOR: &[(&str, &str)] = &[("2 ft", "3 ft")];

/// With the word for its kind.
#[track_caller]
fn check(grower: &Grower, expected: &[(&str, &str)]) {
    let (forecast, library) = (grower.forecast(), Library::default());
    let words = Words { season: &grower.season, library: &library, forecast: &forecast, unit: LengthUnit::Inch };
    let problems = flatwright::outlook::problems(&grower.season, &forecast, None);
    let on_floor = problems.iter().filter(|problem| matches!(problem, Problem::OnFloor { .. }));
    let found: Vec<(&str, String)> = on_floor.map(|one| (problem_kind(one), words.problem(one))).collect();
    let found: Vec<(&str, &str)> = found.iter().map(|(kind, said)| (*kind, said.as_str())).collect();
    assert_eq!(found, expected);
}

/// 18 in deep at the wall, the next 44 in from it: 26 in are left, and the way round is wide.
const IN_A_ROW: &[Standing<'_>] = &[("48 x 18 in", ["0 in", "0 in"], 0), ("48 x 18 in", ["0 in", "44 in"], 0)];

#[test]
fn the_narrowest_of_the_way_is_said_to_the_inch() {
    let (grower, _) = basement(DOOR, Some("30 in"), IN_A_ROW);
    let said = "A barrow 30 in wide doesn’t get to Bench 1: the way to it is 26 in at the narrowest";
    check(&grower, &[("no_way_for_barrow", said)]);
    let (grower, _) = basement(DOOR, Some("26 in"), IN_A_ROW);
    check(&grower, &[]);
    let (grower, _) = basement(DOOR, Some("26 1/64 in"), IN_A_ROW);
    let said = "A barrow 26.02 in wide doesn’t get to Bench 1: the way to it is 26 in at the narrowest";
    check(&grower, &[("no_way_for_barrow", said)]);
}

#[test]
fn no_barrow_and_no_floor_ask_for_nothing() {
    let (mut grower, place) = basement(DOOR, None, IN_A_ROW);
    check(&grower, &[]);
    let found = grower.season.place(place).expect("a place").clone();
    grower.edit(&Op::PutPlace(Place { floor: None, ..found }).into());
    check(&grower, &[]);
}

#[test]
fn what_sticks_out_counts_against_the_aisle() {
    let (mut grower, _) = basement(DOOR, Some("26 in"), IN_A_ROW);
    let first = grower.season.shelves().next().unwrap().clone();
    grower.edit(&Op::PutShelf(Shelf { overhang: measure("2 in"), ..first }).into());
    let said = "A barrow 26 in wide doesn’t get to Bench 1: the way to it is 24 in at the narrowest";
    check(&grower, &[("no_way_for_barrow", said)]);
}

#[test]
fn a_bench_with_its_front_to_the_wall_is_reached_only_if_its_back_is() {
    let turned: &[Standing<'_>] = &[("48 x 18 in", ["40 in", "0 in"], 2)];
    let (mut grower, _) = basement(DOOR, Some("20 in"), turned);
    let said = "A barrow 20 in wide doesn’t get to Bench 1: no way leads to its front at all";
    check(&grower, &[("no_way_for_barrow", said)]);
    let shelf = grower.season.shelves().next().unwrap().clone();
    grower.edit(&Op::PutShelf(Shelf { reach: Reach::BothSides, ..shelf }).into());
    check(&grower, &[]);
}

#[test]
fn racks_in_each_others_way_or_through_a_wall_are_told_without_a_barrow() {
    let racks: &[Standing<'_>] = &[("48 x 18 in", ["0 in", "0 in"], 0), ("48 x 18 in", ["100 in", "10 in"], 0)];
    let (grower, _) = basement(&[], None, racks);
    check(&grower, &[("rack_outside", "Bench 2 sticks out of the floor of Basement by 4 in")]);
    let racks: &[Standing<'_>] = &[("48 x 18 in", ["0 in", "0 in"], 0), ("48 x 18 in", ["30 in", "17 in"], 1)];
    let (grower, _) = basement(&[], None, racks);
    check(&grower, &[("racks_overlap", "Bench 1 and Bench 2 overlap on the floor of Basement")]);
    let racks: &[Standing<'_>] = &[("48 x 18 in", ["0 in", "0 in"], 0), ("48 x 18 in", ["30 in", "18 in"], 1)];
    let (grower, _) = basement(&[], None, racks);
    check(&grower, &[]);
}

#[test]
fn a_floor_without_a_door_wide_enough_says_so_once() {
    let (grower, _) = basement(&[], Some("20 in"), IN_A_ROW);
    let said = "Basement has no door on its plan: whether a barrow 20 in wide gets to its racks can’t be told";
    check(&grower, &[("no_door_for_barrow", said)]);
    let (grower, _) = basement(&[("0 in", "18 in"), ("4 ft", "19 in")], Some("20 in"), IN_A_ROW);
    let said = "No door of Basement is as wide as the barrow, 20 in: the widest is 19 in";
    check(&grower, &[("no_door_for_barrow", said)]);
}

/// Only trays decide whether everything fits.
#[test]
fn no_way_for_a_barrow_is_no_crunch() {
    let (mut grower, _) = basement(DOOR, Some("30 in"), IN_A_ROW);
    grower.guests(2, "10 x 10 in", "2025-03-01", "2025-04-01");
    grower.look().fits();
}

/// Seven in a row across the room leave 4 in at its right, and behind them stands an eighth.
#[test]
fn more_than_six_that_it_does_not_get_to_are_told_in_one_sentence() {
    let at = ["0 in", "20 in", "40 in", "60 in", "80 in", "100 in", "120 in"];
    let row = |y: &'static str, turns: u8| at.map(|x| ("20 x 18 in", [x, y], turns));
    let mut racks: Vec<Standing<'_>> = row("40 in", 2).to_vec();
    racks.push(("20 x 18 in", ["0 in", "0 in"], 0));
    let (grower, place) = basement(DOOR, Some("20 in"), &racks);
    let said = "A barrow 20 in wide gets to none of the 8 racks on the floor of Basement: one 4 in wide gets to all";
    check(&grower, &[("no_way_for_barrow", said)]);
    assert_eq!(FloorOf::of(&grower.season, place).map(|floor| floor.barred_racks().len()), Some(8));
    // turned to the wall, and nothing before it
    racks[7].2 = 2;
    let (grower, _) = basement(DOOR, Some("20 in"), &racks);
    let said = "A barrow 20 in wide gets to none of the 8 racks on the floor of Basement: no way leads to the front \
                of Bench 8 at all";
    check(&grower, &[("no_way_for_barrow", said)]);
}
