//! A greenhouse of 38 × 60 ft: half the floor is bench. A teaching example, restated.

use flatwright::forecast::Problem;
use flatwright::season::{Reach, Role, Shelf};
use flatwright::units::{Area, Length};

use crate::support::{FLAT, Grower, Looked, count, length, shelf, size, stage};

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

#[track_caller]
fn square_feet(text: &str) -> f64 {
    let size = size(text);
    Area::of(size.width.value(), size.depth.value()).to_square_feet()
}

#[test]
fn half_the_floor_is_bench() {
    let floor = square_feet("38 x 60 ft");
    let benches = 2.0 * square_feet("2 x 60 ft") + 3.0 * square_feet("6 x 50 ft");
    assert!((floor - 2_280.0).abs() < 1e-9 && (benches - 1_140.0).abs() < 1e-9, "{floor}, {benches}");
}

#[test]
fn benches_and_aisles_add_up_to_38_ft() {
    let widths = ["2 ft", "4 ft", "6 ft", "4 ft", "6 ft", "4 ft", "6 ft", "4 ft", "2 ft"];
    assert_eq!(widths.map(length).into_iter().sum::<Length>(), length("38 ft"));
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
