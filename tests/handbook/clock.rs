//! The plants' clock against published figures.

use flatwright::season::{ComesUp, CropKey, Temperatures};
use flatwright::trade::{self, EmergenceBy};
use flatwright::units::{Temperature, Typed};

use super::{LIBRARY, check, close, crop};

fn celsius(degrees: f64) -> Temperature {
    Temperature::try_from_celsius(degrees).expect("in range")
}

/// On moist paper: radicles, not seedlings.
#[test]
fn onion_germinates_by_its_thermal_time() {
    check(
        "onion: 4.0 d at 22.5 °C, 16.0 d at 7.5 °C",
        "Brewster, Onions and Other Vegetable Alliums (CABI), Eqns 4.6–4.7: 80 °C·d above 2.5 °C, on moist paper",
    );
    let onion = crop("onion");
    let warmth = &onion.emergence_warmth.as_ref().expect("published").value;
    close(trade::days_by_warmth(warmth, celsius(22.5)).expect("in range"), 4.0, 0.05);
    close(trade::days_by_warmth(warmth, celsius(7.5)).expect("in range"), 16.0, 0.05);
    check("onion in mix: 7 to 10 d", "Utah State Univ. Ext., Grow Your Own Transplants");
    let found = trade::emergence(onion, &LIBRARY, Some(celsius(19.7)));
    assert!((7..=10).contains(&found.days.likely), "{found:?}");
    assert_eq!(found.by, EmergenceBy::Row { at: celsius(19.7) });
    check("celery in soil of 50 to 65 °F: 21 to 9 d", "the same");
    let celery = |degrees| trade::emergence(crop("celery"), &LIBRARY, Some(celsius(degrees))).days.likely;
    assert_eq!(celery(10.0), 21);
    assert!((9..=11).contains(&celery(18.3)), "{}", celery(18.3));
}

#[test]
fn cucumber_and_melon_come_up_by_the_table_before_their_fahrenheit_days() {
    check(
        "cucumber and melon: 194 °F·d above 54 °F; 13.8 d at 20 °C, 8.4 d at 25 °C",
        "Maynard, Purdue Univ., 2007 Indiana CCA Conf. Proc., citing Taylor 1997; days computed from it by hand",
    );
    for key in ["cucumber", "muskmelon"] {
        let warmth = &crop(key).emergence_warmth.as_ref().expect("published").value;
        close(warmth.base.to_fahrenheit(), 54.0, 1e-9);
        close(warmth.degree_days * 1.8, 194.0, 0.05);
        close(trade::days_by_warmth(warmth, celsius(20.0)).expect("in range"), 13.8, 0.1);
        close(trade::days_by_warmth(warmth, celsius(25.0)).expect("in range"), 8.4, 0.1);
    }
    check("cucumber 6, 4, 3 d and melon 8, 4, 3 d at 20, 25, 30 °C", "Harrington and Minges 1954");
    let days = |key: &str, degrees| {
        let found = trade::emergence(crop(key), &LIBRARY, Some(celsius(degrees)));
        assert_eq!(found.by, EmergenceBy::Row { at: celsius(degrees) }, "{key}");
        found.days.likely
    };
    assert_eq!([20.0, 25.0, 30.0].map(|t| days("cucumber", t)), [6, 4, 3]);
    assert_eq!([20.0, 25.0, 30.0].map(|t| days("muskmelon", t)), [8, 4, 3]);
    assert_eq!(days("cucumber", 19.7), 6);
    // where the table was not tried, the thermal time speaks: 107.8 / (17 − 12.2) = 22.6 d
    let cool = trade::emergence(crop("muskmelon"), &LIBRARY, Some(celsius(17.0)));
    assert_eq!(cool.days.likely, 23);
    assert!(matches!(cool.by, EmergenceBy::Warmth { .. }), "{cool:?}");
}

#[test]
fn the_table_of_1954_comes_back_at_every_temperature() {
    check(
        "24 vegetables, days to emergence at 0 to 40 °C",
        "Harrington and Minges 1954, Vegetable Seed Germination, as reprinted after Knott's Handbook for Vegetable Growers",
    );
    let table = include_str!("data/emergence_1954.csv");
    let mut lines = table.lines().filter(|line| !line.starts_with('#')).skip(1).peekable();
    assert!(lines.peek().is_some());
    let mut crops = 0;
    for line in lines {
        let mut cells = line.split(',');
        let key = cells.next().expect("a crop");
        let row = &LIBRARY.emergence.get(key).unwrap_or_else(|| panic!("no row {key}")).value;
        let printed: Vec<&str> = cells.collect();
        assert_eq!(printed.len(), 9, "{key}");
        for (at, cell) in printed.into_iter().enumerate() {
            let found = trade::days_by_row(row, celsius(at as f64 * 5.0));
            let wanted = match cell {
                "NG" => ComesUp::Never,
                "NT" => ComesUp::NotTried,
                days => ComesUp::After(days.parse().expect("days")),
            };
            assert_eq!(found, wanted, "{key} at {} °C", at * 5);
        }
        crops += 1;
    }
    assert_eq!(crops, 24);
}

#[test]
fn library_crops_follow_their_row() {
    check("tomato 14, 8, 6 d and pepper 25, 13, 8 d at 15, 20, 25 °C; lettuce 7 and 3 d at 10 and 20 °C", "the same");
    let days = |key: &str, degrees| trade::emergence(crop(key), &LIBRARY, Some(celsius(degrees))).days.likely;
    assert_eq!([15.0, 20.0, 25.0].map(|t| days("tomato", t)), [14, 8, 6]);
    assert_eq!([15.0, 20.0, 25.0].map(|t| days("pepper", t)), [25, 13, 8]);
    assert_eq!([10.0, 20.0].map(|t| days("lettuce", t)), [7, 3]);
    let cold = trade::emergence(crop("tomato"), &LIBRARY, Some(celsius(5.0)));
    assert_eq!(cold.by, EmergenceBy::Never { at: celsius(5.0) });
    let rows: Vec<_> =
        LIBRARY.crops.values().filter_map(|crop| Some((&crop.key, crop.emergence_row.as_ref()?))).collect();
    assert!(rows.len() > 10, "{rows:?}");
    for (key, row) in rows {
        assert!(LIBRARY.emergence.contains_key(row), "{key}: no row {row}");
    }
}

#[test]
fn melon_leaves_by_degree_days() {
    check(
        "melon: a node of the main vine every 18.6 °C·d above 10 °C",
        "Ciência Rural 35(6), 2005; cardinal temperatures of Baker and Reddy 2001, Ann. Bot. 87:605–613",
    );
    // 18.6 / (22.4 − 10) = 1.5 d a leaf
    close(trade::days_to_leaves(crop("muskmelon"), 4, celsius(22.4)).expect("published"), 6.0, 0.01);
    assert_eq!(trade::days_to_leaves(crop("tomato"), 4, celsius(22.4)), None, "no rate is published for it");
}

#[test]
fn the_usual_course_of_a_tomato() {
    check(
        "tomato at 21–24 °C: up within about 7 days, second pair of true leaves about a month from sowing",
        "common practice, no source",
    );
    for degrees in [21.0, 22.5, 24.0] {
        let up = trade::emergence(crop("tomato"), &LIBRARY, Some(celsius(degrees))).days;
        assert!((5..=8).contains(&up.likely), "{up:?} at {degrees} °C");
    }
    let moving_on = crop("tomato").moving_on.value;
    assert!(matches!(moving_on.true_leaves, Some(3 | 4)), "the second pair, its first leaf at least");
    assert!((24..=35).contains(&moving_on.days.likely), "{moving_on:?}");
    let latest = crop("tomato").latest.value;
    assert!(latest.large >= Some(7), "a large cell holds them up to about eight weeks: {latest:?}");
}

#[test]
fn a_day_has_16_hours_of_lamps() {
    check("mean of 24 °C by day and 18 °C by night: 22 °C", "common practice, no source: lamps burn 16 hours");
    let typed = |text: &str| Typed::parse_temperature(text).ok();
    let of = Temperatures { day: typed("24 °C"), night: typed("18 °C"), mat: None };
    assert_eq!(trade::mean_temperature(&of), Some(celsius(22.0)));
    assert!(LIBRARY.crops.contains_key(&CropKey::new("tomato")));
}
