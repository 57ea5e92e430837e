//! What is said of each way out, and what it is said to cost.

use flatwright::outlook::ways_out::{Change, Price};
use flatwright::season::{ContainerKey, Library, PlaceId, Season, ShelfId, SowingId, StepId};
use flatwright::store;
use flatwright::units::{DateSpan, LengthUnit};
use flatwright::words::{Words, ways_out};

use crate::support::{day, measure, size};

fn season() -> Season {
    let text = r#"(format: "flatwright season", version: 2, name: "Small room",
        places: [(id: 1, name: "Community room", role: Growing, temperatures: (day: "20 °C", night: "18 °C"))],
        racks: [(id: 2, place: 1, name: "Rack")], shelves: [(id: 3, rack: 2, size: "48 x 22 in")],
        sowings: [(id: 20, lots: [(id: 21)], crop: "tomato", wanted: [(date: "2027-05-16", plants: 36)],
            steps: [(id: 22, container: "plug_72", start: On("2027-03-20")),
                (id: 23, container: "sq_4_18ct", carried_in: "flat_1020", start: On("2027-04-17"))])])"#;
    store::parse(text, std::path::Path::new("small.ron")).unwrap_or_else(|why| panic!("{why}"))
}

/// One of each.
fn all() -> Vec<Change> {
    let (sowing, step, place, shelf) = (SowingId(20), StepId(23), PlaceId(1), ShelfId(3));
    let (from, to) = (day("2027-04-17"), day("2027-04-20"));
    let key = |key: &str| ContainerKey(key.into());
    let (pot, other) = (key("sq_4_18ct"), key("sq_3"));
    let span = |from, until| DateSpan::new(day(from), day(until)).unwrap_or_else(|why| panic!("{why}"));
    let (was, then) = (span("2027-04-10", "2027-05-20"), span("2027-04-01", "2027-05-25"));
    let into = |from: &ContainerKey, to: &ContainerKey| Change::Into {
        sowing,
        step,
        from: from.clone(),
        to: to.clone(),
        carried_in: Some(key("flat_1020")),
        soon: true,
    };
    let some = Change::SomeInto {
        sowing,
        step,
        from: pot.clone(),
        to: other.clone(),
        carried_in: None,
        plants: 12,
        of: 36,
        soon: true,
    };
    let shelves = |number, lit, mat| Change::Shelves { place, size: size("72 x 24 in"), number, lit, mat };
    vec![
        Change::Held { sowing, step, from, to, latest: Some(day("2027-04-24")) },
        Change::HeldHalf { sowing, step, from, to },
        Change::Sown { sowing, from, to },
        Change::Sown { sowing, from: to, to: from },
        Change::SownHalf { sowing, from, to },
        Change::Out { sowing, from, to },
        Change::Out { sowing, from: to, to: from },
        Change::OutInLots { sowing, from, lots: 2, apart: 7 },
        Change::Hardened { sowing, from: to, to: from, nights: to },
        Change::Shared { sowing },
        Change::GappedUp { sowing, on: from, from: 3, to: 2 },
        into(&pot, &other),
        into(&pot, &pot),
        some,
        Change::Tight { sowing, step },
        Change::Fewer { sowing, from: 36, to: 18 },
        shelves(1, true, true),
        shelves(2, false, false),
        Change::Lamp { place, shelf },
        Change::StickOut { place, shelves: vec![shelf], by: measure("2 in") },
        Change::Open { place, was, then },
    ]
}

fn said(library: &Library, unit: LengthUnit) -> Vec<String> {
    let season = season();
    let forecast = flatwright::forecast::forecast(&season, library);
    let words = Words { season: &season, library, forecast: &forecast, unit };
    all().iter().map(|change| words.to_change(change)).collect()
}

#[test]
fn no_word_stands_twice_in_a_row() {
    for unit in [LengthUnit::Inch, LengthUnit::Centimetre, LengthUnit::Millimetre] {
        for said in said(store::library(), unit) {
            let words: Vec<String> = said.split_whitespace().map(str::to_lowercase).collect();
            let twice = words.windows(2).find(|pair| pair[0] == pair[1]);
            assert_eq!(twice, None, "{said}");
        }
    }
}

#[test]
fn a_shelf_more_is_said_with_its_place_and_its_size() {
    let said = said(store::library(), LengthUnit::Inch);
    let shelf = said.iter().find(|said| said.starts_with("Put up another")).expect("one shelf");
    assert_eq!(shelf, "Put up another shelf in Community room, 72 in × 24 in, with a lamp and a heat mat");
}

/// No pot gets smaller by it: as many points, and a name of its own.
#[test]
fn plants_left_pot_to_pot_cost_leaves_that_meet() {
    let season = season();
    let library = store::library();
    let forecast = flatwright::forecast::forecast(&season, library);
    let words = Words { season: &season, library, forecast: &forecast, unit: LengthUnit::Inch };
    let price = |touching| Price { touching, ..Price::default() };
    assert_eq!(words.price(&price(36)), "costs 36 plants whose leaves meet");
    assert_eq!(words.price(&price(1)), "costs 1 plant whose leaves meet");
    assert_eq!(words.price(&price(2).and(price(3))), "costs 5 plants whose leaves meet");
    let matters = season.settings().matters;
    let smaller = Price { smaller: 36, ..Price::default() };
    assert_eq!(price(36).points(&matters), smaller.points(&matters));
    assert!(ways_out::counted_in(&matters).contains("a plant whose leaves meet "));
}

/// Only what is known to be smaller is called so.
#[test]
fn a_pot_that_is_larger_or_of_which_nobody_knows_is_not_called_smaller() {
    let season = season();
    let library = store::library();
    let forecast = flatwright::forecast::forecast(&season, library);
    let words = Words { season: &season, library, forecast: &forecast, unit: LengthUnit::Inch };
    let price = Price { smaller: 2, larger: 1, other: 36, ..Price::default() };
    assert_eq!(words.price(&price), "costs 2 smaller pots, 1 larger pot and 36 other pots");
}
