//! What can be changed so that everything fits, as the terminal says it.

use serde_json::Value;

use crate::args;
use crate::tools::{crowded, fields, json, list, number, refuses, roomy, says, text};

#[test]
fn the_cheapest_way_out_is_saved_and_fits() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out.ron");
    let said = says(args!["make-room", crowded(), "-o", &out], 0);
    assert!(said.starts_with("Community room 2027\nThe shelves run out of room"), "{said}");
    assert!(said.contains("Everything fits with these changes"), "{said}");
    assert!(said.contains("costs "), "{said}");
    says(args!["check", &out], 0);
}

#[test]
fn every_way_is_listed_with_price_and_effect() {
    let answer = json(args!["make-room", crowded(), "--json"], 0);
    assert_eq!(fields(&answer), ["best", "cheapest", "crunches", "fits", "none_fits", "season", "verdict"]);
    assert_eq!((text(&answer, "verdict"), answer["fits"].as_bool()), ("crunch", Some(true)));
    let checked = json(args!["check", crowded(), "--json"], 1);
    let crunches = list(&answer, "crunches");
    assert_eq!(crunches.len(), list(&checked, "crunches").len());
    for (crunch, of_check) in crunches.iter().zip(list(&checked, "crunches")) {
        for name in ["from", "until"] {
            assert_eq!(text(crunch, name), text(of_check, name));
        }
        for name in ["needed", "held", "short"] {
            assert_eq!(number(crunch, name), number(of_check, name));
        }
        let ways = list(crunch, "ways");
        assert!(!ways.is_empty(), "{crunch}");
        ways.iter().for_each(is_worth_it);
        let removing = ways.iter().take_while(|way| way["removes"].as_bool() == Some(true));
        let points: Vec<i64> = removing.map(|way| number(way, "points")).collect();
        assert!(points.is_sorted(), "cheapest first: {points:?}");
    }
    let best = &answer["best"];
    assert_eq!(text(best, "verdict"), "fits");
    assert!(!list(best, "changes").is_empty());
}

fn is_worth_it(way: &Value) {
    let days = |of: &str| way[of]["tray_days"].as_i64().unwrap();
    assert!(days("crunch_after") < days("crunch_before"), "{way}");
    assert!(days("season_after") < days("season_before"), "{way}");
    assert_eq!(way["removes"].as_bool() == Some(true), days("crunch_after") == 0, "{way}");
    assert!(number(way, "points") > 0, "nothing is for nothing: {way}");
    assert!(!text(way, "text").is_empty());
}

#[test]
fn a_season_that_fits_has_nothing_to_change() {
    let answer = json(args!["make-room", roomy(), "--json"], 0);
    assert_eq!((text(&answer, "verdict"), answer["fits"].as_bool()), ("fits", Some(true)));
    assert!(answer["best"].is_null() && list(&answer, "crunches").is_empty(), "{answer}");
}

#[test]
fn an_answer_goes_into_a_season_file_alone() {
    refuses(args!["make-room", crowded(), "-o", "out.svg"], &["out.svg", "a season file ends with .ron"]);
}
