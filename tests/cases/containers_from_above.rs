//! What is drawn of a container by itself, and of a tray that a step fills.

use std::path::Path;

use flatwright::forecast::{Inside, Shape, container_shape, step_shape};
use flatwright::season::{ContainerKey, ContainerKind, RimShape, Season};
use flatwright::store;
use flatwright::units::Length;

fn shape(key: &str) -> Option<Shape> {
    container_shape(&store::library().containers[&ContainerKey::new(key)])
}

#[test]
fn a_tray_has_its_cells_along_its_sides() {
    // six rows of twelve, the rows across the short side
    let Some(Shape::Tray { width, depth, inside }) = shape("plug_72") else { panic!("a tray") };
    let (long, short) = if width > depth { (12, 6) } else { (6, 12) };
    assert_eq!(inside, Inside::Cells { columns: long, rows: short });
    assert!(matches!(shape("flat_1020"), Some(Shape::Tray { inside: Inside::Open, .. })));
}

#[test]
fn a_pot_stands_in_the_middle_of_its_ground() {
    let Some(Shape::Pots { width, depth, rim, across, centres, .. }) = shape("sq_3_5") else { panic!("a pot") };
    assert_eq!((width, depth, across, rim), (across, across, Length::from_mm(89), RimShape::Square));
    assert_eq!(&*centres, [(across / 2, across / 2)]);
}

#[test]
fn whatever_can_be_chosen_can_be_seen() {
    let season = Season::new("Test");
    for one in season.containers(store::library()) {
        let seen = container_shape(one).unwrap_or_else(|| panic!("{} has no shape", one.name));
        let outer = one.tray_outer().map(|outer| (outer.width.value(), outer.depth.value()));
        assert_eq!(outer.unwrap_or((seen.width(), seen.width())), (seen.width(), seen.depth()), "{}", one.name);
    }
    let classes = store::library().containers.values().filter(|one| matches!(one.kind, ContainerKind::Class { .. }));
    assert!(classes.map(container_shape).all(|seen| seen.is_none()));
}

/// Makers say that 15 square pots of 3 1/2 in stand in a flat.
#[test]
fn a_step_is_seen_as_the_tray_that_it_fills() {
    for (carried, number) in [("carried_in: Some(\"flat_1020\"), ", Some(15)), ("", None)] {
        let text = format!(
            r#"(format: "flatwright season", version: 1, name: "Test", sowings: [(id: 20, crop: "tomato",
            wanted: [(date: "2027-05-16", plants: 40)], lots: [(id: 21)],
            steps: [(id: 22, container: "sq_3_5", {carried}start: On("2027-04-01"))])])"#
        );
        let season = store::parse(&text, Path::new("test.ron")).expect("a season");
        let sowing = season.sowings().next().expect("a sowing");
        match (step_shape(&season, store::library(), sowing, &sowing.steps[0]), number) {
            (Some(Shape::Tray { inside: Inside::Pots { number, rim, .. }, .. }), Some(wanted)) => {
                assert_eq!((number, rim), (wanted, RimShape::Square));
            }
            (Some(Shape::Pots { centres, .. }), None) => assert_eq!(centres.len(), 1),
            (other, _) => panic!("{other:?}"),
        }
    }
}

/// Sizes stand beside a name in the season's own units: a name holds none of two sides.
#[test]
fn no_shipped_tray_is_called_by_its_two_sides() {
    for container in flatwright::store::library().containers.values() {
        assert!(!container.name.contains(" x ") && !container.name.contains(" × "), "{}", container.name);
    }
}
