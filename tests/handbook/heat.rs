//! Who gets bottom heat, by the seed's own best temperature.

use flatwright::season::Crop;
use flatwright::trade::wants_bottom_heat;
use flatwright::units::Temperature;

use super::{check, crop};

const IOWA: &str = "Seed Germination Guide, Iowa State Univ. Extension, 2017";
const CARDINAL: &str = "J.F. Harrington, cardinal soil temperatures, as carried in Knott's Handbook";

fn at(celsius: f64) -> Option<Temperature> {
    Temperature::try_from_celsius(celsius)
}

/// In a room of 19.7 °C with a mat of 25.
fn heated(crop: &Crop) -> bool {
    wants_bottom_heat(crop, at(19.7), at(25.0))
}

#[test]
fn seed_that_likes_it_warmer_than_the_room_gets_the_mat_hardy_or_not() {
    check("petunia best at 75 to 80 °F, snapdragon, zinnia, marigold at 70 to 75", IOWA);
    for key in ["petunia", "snapdragon", "zinnia", "marigold"] {
        assert!(heated(crop(key)), "{key}");
    }
    check("tomato best at 70 to 85 °F, pepper and eggplant at 80 to 90, muskmelon at 75 to 90", CARDINAL);
    for key in ["tomato", "pepper", "eggplant", "muskmelon"] {
        assert!(heated(crop(key)), "{key}");
    }
}

#[test]
fn seed_that_likes_the_room_gets_none_tender_or_not() {
    check("cabbage, lettuce and onion come up well at 60 to 65 °F and more, celery at 60 to 70", CARDINAL);
    for key in ["cabbage", "lettuce", "onion", "celery"] {
        assert!(!heated(crop(key)), "{key}");
    }
    check("sweet corn and beans at 60 °F and more, though tender", CARDINAL);
    for key in ["sweet_corn", "snap_bean"] {
        assert!(!heated(crop(key)), "{key}");
    }
    assert!(!wants_bottom_heat(crop("tomato"), at(22.0), at(25.0)), "the room is warm enough");
}

/// Pansy likes 18.3 to 21.1 °C: 15 °C is 3.3 too cold, a mat of 25 is 3.9 too hot.
#[test]
fn a_mat_that_is_further_off_than_the_room_does_no_good() {
    check("pansy best at 65 to 70 °F", IOWA);
    let pansy = crop("pansy");
    assert!(!wants_bottom_heat(pansy, at(15.0), at(25.0)));
    assert!(wants_bottom_heat(pansy, at(15.0), at(21.0)));
    assert!(wants_bottom_heat(pansy, at(10.0), at(25.0)), "8.3 too cold, 3.9 too hot");
}

#[test]
fn a_room_that_nobody_measured_is_taken_for_20_degrees() {
    check("a heated room has about 20 °C", "common practice");
    for (key, heat) in [("petunia", true), ("tomato", true), ("celery", false), ("cabbage", false)] {
        assert_eq!(wants_bottom_heat(crop(key), None, None), heat, "{key}");
    }
    // where a crop has no best temperature, tender ones are given heat
    for (key, heat) in [("tomato", true), ("cabbage", false)] {
        let unknown = Crop { germination_temperatures: None, ..crop(key).clone() };
        assert_eq!(wants_bottom_heat(&unknown, at(24.0), at(25.0)), heat, "{key}");
    }
}
