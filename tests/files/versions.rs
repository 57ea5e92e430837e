//! Old files mean what they meant. Version 1 is closed: whatever becomes usual in the program later, a
//! file that leaves it out says what was usual then.

use std::path::Path;

use flatwright::season::{Counted, Light, OutRule, PartOfDay, Reach, Rule, Season, SowingId, WeekLabels};
use flatwright::store::{load, parse, to_text};

fn v1(text: &str) -> Season {
    let text = format!("(format: \"flatwright season\", version: 1, name: \"Old\", {text})");
    parse(&text, Path::new("old.ron")).unwrap()
}

#[test]
fn settings_that_version_1_leaves_out_are_those_of_its_day() {
    for settings in ["", "settings: (),"] {
        let season = v1(settings);
        let found = season.settings();
        assert_eq!((found.gap.typed(), found.lamp_gap.typed()), ("3 mm", "50 mm"));
        assert_eq!((found.sure_percent, found.water_every), (90, 2));
        assert_eq!((found.weeks, &found.frost), (WeekLabels::Iso, &None));
        assert!(season.away().is_empty());
    }
}

#[test]
fn what_else_version_1_leaves_out_is_what_it_was_then() {
    let season = v1("places: [(id: 1, name: \"Cellar\", role: Growing)], racks: [(id: 2, place: 1, name: \"Rack\")],
         shelves: [(id: 3, rack: 2, size: \"48 x 18 in\", zones: [(kind: Lamp, size: \"48 x 18 in\")])],
         sowings: [(id: 4, crop: \"tomato\", wanted: [(date: \"2027-05-16\", plants: 7)],
             steps: [(id: 5, container: \"plug_72\", slack: ())], lots: [(id: 6)],
             seen: [(date: \"2027-03-01\", what: Up())])],
         guests: [(id: 7, name: \"Lemon\", size: \"30 x 30 cm\", span: (from: \"2027-01-01\", until: \"2027-02-01\"),
             role: Growing)]");
    let place = season.places().next().unwrap();
    assert_eq!((place.part, place.open.len(), place.temperatures.day.is_none()), (PartOfDay::Whole, 0, true));
    assert_eq!((place.light, season.shelves().next().unwrap().light), (Light::Lamps, None));
    assert_eq!(season.racks()[0].position, 0);
    let shelf = season.shelves().next().unwrap();
    assert_eq!((shelf.tier, shelf.reach, shelf.overhang.typed()), (1, Reach::OneSide, "0 mm"));
    assert_eq!((shelf.allowance_percent, shelf.load_grams, &shelf.clear_height), (0, None, &None));
    assert_eq!((shelf.zones[0].x.typed(), shelf.zones[0].y.typed()), ("0 mm", "0 mm"));
    let sowing = season.sowing(SowingId(4)).unwrap();
    assert_eq!((sowing.seeds_per_cell, sowing.losses_percent, sowing.germination_percent), (1, 0, None));
    assert_eq!((sowing.wanted[0].rule, sowing.steps[0].start), (OutRule::Day, Rule::WhenDue));
    assert_eq!((sowing.lots[0].share, sowing.lots[0].later), (1, 0));
    let slack = sowing.steps[0].slack.unwrap();
    assert_eq!((slack.early, slack.late), (0, 0));
    assert_eq!(sowing.seen[0].id.0, 8, "numbered behind all that has one");
    let guest = season.guests().next().unwrap();
    assert_eq!((guest.number, guest.light, &guest.height), (1, true, &None));
}

/// Every kind of thing there is, as the last program that wrote version 1 left it.
#[test]
fn a_file_of_version_1_is_the_same_season_in_version_2() {
    let old = load(Path::new("tests/files/v1-rich.ron")).unwrap();
    let new = load(Path::new("tests/files/v2-rich.ron")).unwrap();
    assert_eq!(old, new);
    assert_eq!(to_text(&old), std::fs::read_to_string("tests/files/v2-rich.ron").unwrap());
    let away: Vec<_> = old.away().iter().map(|away| (away.id.0, away.name.clone())).collect();
    assert_eq!(away, [(120, "holiday".to_owned()), (121, "trip".to_owned())], "numbered in the order of the file");
    let mut records: Vec<_> = old.sowings().flat_map(|sowing| sowing.seen.iter().map(|seen| seen.id.0)).collect();
    records.sort_unstable();
    assert_eq!(records, (122..134).collect::<Vec<_>>());
    assert_eq!(old.next_id(), 134);
    let counted = old.sowing(SowingId(10)).unwrap().germination_from;
    assert_eq!(counted, Some(Counted { up: 1010, sown: 1152, year: 2026 }));
}

#[test]
fn every_field_that_version_1_could_hold_is_still_read() {
    load(Path::new("tests/files/v1-small.ron")).unwrap();
    let said = "sowings: [(id: 4, crop: \"tomato\", wanted: [(date: \"2027-05-16\", plants: 7)], note: \"kept\",
        steps: [(id: 5, container: \"plug_72\")], lots: [(id: 6)], germination_from: \"my neighbour\")]";
    let season = v1(said);
    let sowing = season.sowings().next().unwrap();
    assert_eq!((sowing.germination_from, sowing.note.as_str()), (None, "kept\nmy neighbour"));
}

/// The structs of a closed version ask nothing that may change: only how a length, a size or a date is
/// written, which is the same for every version.
#[test]
fn version_1_refers_to_nothing_live() {
    const MAY: [&str; 3] = ["crate::store::file", "crate::units::Measure", "crate::store::file::text"];
    for file in ["mod.rs", "own.rs"] {
        let source = std::fs::read_to_string(Path::new("src/store/file/v1").join(file)).unwrap();
        for (at, line) in source.lines().enumerate() {
            assert!(!line.contains("super::"), "v1/{file}:{}: {line}", at + 1);
            assert!(!line.contains("Serialize"), "v1/{file}:{}: version 1 is only read: {line}", at + 1);
            for (start, _) in line.match_indices("crate::") {
                let path: String =
                    line[start..].chars().take_while(|c| c.is_alphanumeric() || ":_".contains(*c)).collect();
                assert!(MAY.contains(&path.trim_end_matches(':')), "v1/{file}:{}: {line}", at + 1);
            }
        }
    }
}
