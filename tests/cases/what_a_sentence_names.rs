//! Days, shelves and trays are found in sentences by the words that they are always called by, and nothing else is.

use chrono::Datelike as _;
use flatwright::forecast::forecast;
use flatwright::store;
use flatwright::units::LengthUnit;
use flatwright::words::{Named, Words};

/// What is found, as it is written there.
fn found(sentence: &str) -> Vec<(&str, &'static str)> {
    let (season, library) = (store::sample(), store::library());
    let forecast = forecast(&season, library);
    let words = Words { season: &season, library, forecast: &forecast, unit: LengthUnit::Inch };
    let kind = |named: Named| match named {
        Named::Day(date) => {
            assert_eq!(date.year(), 2027);
            "day"
        }
        Named::Shelf(id) => {
            assert!(sentence.contains(&words.shelf(id)), "{sentence}");
            "shelf"
        }
        Named::Tray(tray) => {
            assert!(sentence.contains(forecast.mark(tray)));
            "tray"
        }
        Named::Sowing(sowing) => {
            assert!(sentence.contains(&words.sowing(sowing)));
            "sowing"
        }
    };
    words.named_in(sentence).into_iter().map(|(at, named)| (&sentence[at], kind(named))).collect()
}

#[test]
fn days_shelves_and_trays_are_found_by_their_words() {
    assert_eq!(found("6 trays short, 10 Apr – 2 May"), [("10 Apr", "day"), ("2 May", "day")]);
    assert_eq!(found("To 1 waits on Window rack, shelf 2"), [("To 1", "tray"), ("Window rack, shelf 2", "shelf")]);
}

#[test]
fn what_only_looks_like_one_leads_nowhere() {
    // no such day, part of another word, a month without a day, weeks and numbers of things
    assert_eq!(found("week 16 of 20, 116 Apricots, 31 Feb, 4 Mayflowers, 16 April, April"), []);
    assert_eq!(found("To 99 stands on Window rack, shelf 22"), []);
    assert_eq!(found(""), []);
    // of another year than the season's
    assert_eq!(found("20 Dec"), []);
}

#[test]
fn a_sowing_is_found_where_its_name_is_its_alone() {
    let season = store::sample();
    let forecast = forecast(&season, store::library());
    let words = Words { season: &season, library: store::library(), forecast: &forecast, unit: LengthUnit::Inch };
    let sowing = season.sowings().find(|sowing| !sowing.variety.is_empty()).expect("one with a variety");
    let name = words.sowing(sowing.id);
    assert_eq!(found(&format!("{name} waits, and {name}s do not")), [(name.as_str(), "sowing")]);
}
