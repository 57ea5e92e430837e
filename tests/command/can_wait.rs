//! What can't wait, as the terminal says it.

use chrono::NaiveDate;
use serde_json::Value;

use crate::args;
use crate::tools::{crowded, fields, json, list, number, refuses, roomy, says, text};

#[test]
fn the_one_that_overflows_first_is_named_and_leads_the_list() {
    let said = says(args!["can-wait", crowded()], 0);
    assert!(said.starts_with("Community room 2027\nThe shelves run out of room"), "{said}");
    let first = said.lines().find_map(|line| line.strip_prefix("First of all: ")).expect("one overflows first");
    assert!(first.contains(" would leave "), "{first}");
    assert!(!said.lines().any(|line| line.strip_prefix("- ") == Some(first)), "said once: {said}");
    assert!(said.contains("a day counts as worse where more would be short than now"), "{said}");
    let roomy = says(args!["can-wait", roomy()], 0);
    assert!(!roomy.contains("First of all") && roomy.contains(", and no later: "), "{roomy}");
}

#[test]
fn every_work_has_its_last_safe_day_in_json() {
    let answer = json(args!["can-wait", crowded(), "--json"], 0);
    assert_eq!(fields(&answer), ["first", "season", "slacks", "verdict"]);
    let slacks = list(&answer, "slacks");
    assert_eq!(slacks.first(), Some(&answer["first"]));
    let kinds = ["short", "not_settled", "rule", "none"];
    let rank = |row: &Value| (kinds.iter().position(|kind| *kind == text(row, "ends")), number(row, "days"));
    assert!(slacks.iter().map(rank).collect::<Vec<_>>().is_sorted(), "the most critical first");
    slacks.iter().for_each(is_told_whole);
}

fn is_told_whole(row: &Value) {
    let date = |name: &str| text(row, name).parse::<NaiveDate>().expect("an ISO date");
    assert_eq!((date("until") - date("on")).num_days(), number(row, "days"), "{row}");
    assert!(text(row, "text").starts_with(text(row, "sowing")), "{row}");
    assert!(["sown", "moved_on", "out"].contains(&text(row, "work")), "{row}");
    let (over, rule) = (&row["overflow"], &row["rule"]);
    match text(row, "ends") {
        "short" => {
            assert!(date("to") > date("until") && number(over, "short") > number(over, "short_before"), "{row}");
            assert!(text(over, "day").parse::<NaiveDate>().is_ok() && !text(over, "place").is_empty(), "{row}");
        }
        "not_settled" => assert!(over.is_object() && rule.is_null(), "{row}"),
        "rule" => assert!(over.is_null() && rule.is_string() && date("to") > date("until"), "{row}"),
        _ => assert!(over.is_null() && rule.is_null() && row["to"].is_null(), "{row}"),
    }
}

#[test]
fn a_file_that_is_none_is_refused() {
    refuses(args!["can-wait", "nowhere.ron"], &["nowhere.ron"]);
}
