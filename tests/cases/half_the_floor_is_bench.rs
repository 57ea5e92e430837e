//! A greenhouse of 38 × 60 ft: half the floor is bench. A teaching example, restated.

use flatwright::forecast::Problem;
use flatwright::outlook::{self, FloorOf};
use flatwright::season::{Door, Floor, Library, Op, Place, PlaceId, Rack, Reach, Role, Shelf, Stands, Wall};
use flatwright::units::{Area, Length, LengthUnit};
use flatwright::words::Words;

use crate::support::{FLAT, Grower, Looked, count, length, measure, shelf, stage};

const SIDE: &str = "720 x 24 in";
const MIDDLE: &str = "600 x 72 in";

#[track_caller]
fn house(flats: u32) -> Looked {
    let mut grower = Grower::new();
    let place = grower.place(Role::Growing);
    grower.rack(place, 2, &shelf(SIDE));
    grower.rack(place, 3, &Shelf { reach: Reach::BothSides, ..shelf(MIDDLE) });
    grower.sow(flats * 72, &[stage("sheet of 72", "2025-03-03")], "2025-04-14");
    grower.look()
}

/// The benches where they stand, one door in the middle of the front wall.
#[track_caller]
fn drawn(door: (&str, &str), barrow: &str) -> (Grower, PlaceId) {
    let mut grower = Grower::new();
    let place = grower.place(Role::Growing);
    let middle = Shelf { reach: Reach::BothSides, ..shelf(MIDDLE) };
    let side = shelf(SIDE);
    let benches = [
        (&side, "0 ft", "0 ft", 3),
        (&middle, "6 ft", "5 ft", 1),
        (&middle, "16 ft", "5 ft", 1),
        (&middle, "26 ft", "5 ft", 1),
        (&side, "36 ft", "0 ft", 1),
    ];
    for (at, (bench, x, y, quarter_turns)) in benches.into_iter().enumerate() {
        let shelf = grower.rack(place, 1, bench)[0];
        let rack = grower.season.shelf(shelf).and_then(|shelf| grower.season.rack(shelf.rack)).expect("a rack").clone();
        let stands = Some(Stands { x: measure(x), y: measure(y), quarter_turns });
        grower.edit(&Op::PutRack(Rack { name: format!("Bench {}", at + 1), stands, ..rack }).into());
    }
    let door = Door { wall: Wall::Front, along: measure(door.0), width: measure(door.1) };
    let [width, depth, barrow] = ["38 ft", "60 ft", barrow].map(measure);
    let floor = Some(Floor { width, depth, doors: vec![door], barrow: Some(barrow) });
    let found = grower.season.place(place).expect("a place").clone();
    grower.edit(&Op::PutPlace(Place { floor, ..found }).into());
    (grower, place)
}

#[track_caller]
fn said(grower: &Grower) -> Vec<String> {
    let (forecast, library) = (grower.forecast(), Library::default());
    let words = Words { season: &grower.season, library: &library, forecast: &forecast, unit: LengthUnit::Inch };
    let problems = outlook::problems(&grower.season, &forecast, None);
    let on_floor = problems.iter().filter(|problem| matches!(problem, Problem::OnFloor { .. }));
    on_floor.map(|problem| words.problem(problem)).collect()
}

#[test]
fn half_the_floor_is_bench() {
    let (grower, place) = drawn(("17 ft", "4 ft"), "48 in");
    let floor = FloorOf::of(&grower.season, place).unwrap();
    let [all, bench] = [floor.area(), floor.bench].map(Area::to_square_feet);
    assert!((all - 2_280.0).abs() < 1e-9 && (bench - 1_140.0).abs() < 1e-9, "{all}, {bench}");
    assert_eq!(floor.bench_percent(), 50);
}

#[test]
fn every_aisle_is_4_ft_and_a_barrow_as_wide_gets_round() {
    let (grower, place) = drawn(("17 ft", "4 ft"), "48 in");
    let floor = FloorOf::of(&grower.season, place).unwrap();
    let before: Vec<i64> = (0..5).map(|rack| floor.plan.before(rack)).collect();
    assert_eq!(before, [length("4 ft").units(); 5]);
    assert_eq!(said(&grower), [""; 0]);
}

#[test]
fn a_door_that_is_too_narrow_is_said_once() {
    let (grower, _) = drawn(("17 ft", "4 ft"), "49 in");
    assert_eq!(said(&grower), ["No door of Growing is as wide as the barrow, 49 in: the widest is 48 in"]);
}

/// In the 5 ft at the ends it stands before the side benches, which run on to the wall.
#[test]
fn a_barrow_wider_than_the_aisles_gets_to_the_ends_of_the_side_benches_alone() {
    let (grower, place) = drawn(("17 ft", "5 ft"), "49 in");
    let to =
        |bench| format!("A barrow 49 in wide doesn’t get to Bench {bench}: the way to it is 48 in at the narrowest");
    assert_eq!(said(&grower), [to(2), to(3), to(4)]);
    let floor = FloorOf::of(&grower.season, place).unwrap();
    let widest = floor.plan.widest((0..5).collect());
    let [side, middle] = ["5 ft", "4 ft"].map(|width| Some(length(width).units()));
    assert_eq!(widest, [side, middle, middle, middle, side]);
}

#[test]
fn trays_that_stick_out_take_from_the_aisle() {
    let (mut grower, place) = drawn(("17 ft", "4 ft"), "48 in");
    let bench = grower.season.shelves().last().unwrap().clone();
    grower.edit(&Op::PutShelf(Shelf { overhang: measure("2 in"), ..bench }).into());
    // it faces the left, and its corner stays where it was typed: what sticks out is beyond the wall at its back
    assert_eq!(said(&grower), ["Bench 5 sticks out of the floor of Growing by 2 in"]);
    let bench = grower.season.racks().into_iter().last().unwrap().clone();
    let stands = Some(Stands { x: measure("35 ft 10 in"), y: measure("0 ft"), quarter_turns: 1 });
    grower.edit(&Op::PutRack(Rack { stands, ..bench }).into());
    let floor = FloorOf::of(&grower.season, place).unwrap();
    assert_eq!(floor.plan.before(4), length("46 in").units());
    assert_eq!(floor.bench_percent(), 50, "what sticks out is no bench");
    // it is still come to from the ends, and the bench beside it from its other side
    assert_eq!(said(&grower), [""; 0]);
}

#[test]
fn a_side_bench_takes_67_flats_with_one_turned() {
    assert_eq!(count(SIDE, FLAT), 67);
}

#[test]
fn a_middle_bench_takes_165_flats_with_a_mixed_column() {
    assert_eq!(count(MIDDLE, FLAT), 165);
}

#[test]
fn the_house_takes_618_to_699_flats_by_the_count() {
    let all = 2 * count(SIDE, FLAT) + 3 * count(MIDDLE, FLAT);
    assert!((618..=699).contains(&all), "{all}");
}

#[test]
fn the_618_flats_have_a_place() {
    let looked = house(618).fits();
    let week = looked.week("2025-03-12");
    assert!((618..=699).contains(&week.held), "{week:?}");
}

#[test]
fn of_700_flats_some_have_none() {
    let looked = house(700);
    let [crunch] = looked.outlook.crunches.as_slice() else { panic!("{:?}", looked.outlook.crunches) };
    assert!(crunch.held <= 699 && crunch.short >= 1, "{crunch:?}");
    assert!(crunch.short_at_most <= 700 - 618, "{crunch:?}");
}

#[test]
fn only_the_middle_benches_are_as_deep_as_an_arm_reaches_from_both_sides() {
    let looked = house(618);
    let noted: Vec<Length> = looked
        .forecast
        .problems
        .iter()
        .filter_map(|problem| match problem {
            Problem::OutOfReach { shelf, reach } => {
                assert_eq!(looked.season.shelf(*shelf).map(Shelf::usable_depth), Some(length("72 in")));
                Some(*reach)
            }
            _ => None,
        })
        .collect();
    assert_eq!(noted, [length("72 in"); 3]);
}
