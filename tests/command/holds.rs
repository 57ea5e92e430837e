use serde_json::Value;

use crate::args;
use crate::tools::{fields, json, number, refuses, says, text};

#[track_caller]
fn count(shelf: &str, container: &str, overhang: Option<&str>) -> i64 {
    let mut args = vec!["holds", shelf, container, "--json"];
    args.extend(overhang.iter().flat_map(|overhang| ["--overhang", overhang]));
    number(&json(args, 0), "fits")
}

/// Flats on wire shelves, with nothing sticking out and with 4 in.
#[test]
fn standard_flats_on_wire_shelves() {
    for (shelf, strict, with_overhang) in [
        ("36 x 14 in", 1, 1),
        ("36 x 18 in", 1, 3),
        ("42 x 14 in", 1, 1),
        ("48 x 14 in", 2, 2),
        ("48 x 18 in", 2, 4),
        ("48 x 24 in", 4, 4),
        ("60 x 18 in", 2, 5),
        ("72 x 18 in", 3, 6),
        ("72 x 24 in", 6, 6),
    ] {
        assert_eq!(count(shelf, "flat", None), strict, "{shelf}");
        assert_eq!(count(shelf, "flat", Some("4 in")), with_overhang, "{shelf} with 4 in");
        // The library's flat is measured in millimetres and stands the same.
        assert_eq!(count(shelf, "flat_1020", None), strict, "{shelf}");
        assert_eq!(count(shelf, "flat_1020", Some("4 in")), with_overhang, "{shelf} with 4 in");
    }
}

/// Two sizes were named flat: 4 against 3 stood on the first, 2 against 1 on the second.
#[test]
fn a_flat_is_one_flat_by_name_and_by_key() {
    for (shelf, flats) in [("44 x 22 in", 4), ("22 x 22 in", 2)] {
        for name in ["flat", "flat_1020"] {
            assert_eq!(count(shelf, name, None), flats, "{name} on {shelf}");
        }
    }
}

/// Square 7 cm pots against round ones.
#[test]
fn square_and_round_pots() {
    assert_eq!(count("38 x 24 cm", "7 cm", None), 15);
    assert_eq!(count("100 x 60 cm", "7 cm", None), 112);
    let round = json(["holds", "100 x 60 cm", "7 cm round", "--json"], 0);
    assert_eq!(number(&round, "in_rows"), 112);
    assert!(number(&round, "fits") >= 128, "{round}");
    let round = json(["holds", "120 x 120 in", "round 6 in", "--json"], 0);
    assert_eq!(number(&round, "in_rows"), 400);
    // 462 by the area formula, at most 455 by Oler's bound.
    assert!((429..=455).contains(&number(&round, "fits")), "{round}");
}

#[test]
fn lengths_are_exact_in_both_systems() {
    assert_eq!(count("48 x 4 in", "4 in", None), 12);
    assert_eq!(count("1219.2 x 101.6 mm", "4 in", None), 12);
    assert_eq!(count("48 x 3.2 in", "3.2 in", None), 15);
    assert_eq!(count("4 ft x 3 1/5 in", "3.2 in round", None), 15);
    assert_eq!(count("48 x 4 in", "101.61 mm", None), 0);
}

#[test]
fn the_least_overhang_that_gains_something_is_named() {
    let out = says(["holds", "48 x 18 in", "flat"], 0);
    assert_eq!(
        out,
        "2 flats, lengthwise\nand 4 if 3½ in may stick out, crosswise\n\
         one more would need 3½ in more depth\n\n\
         Shelf 48 × 18 in, flat 10.94 × 21.44 in, no gaps between\n"
    );
    let out = says(["holds", "1219.2 x 457.2 mm", "flat_1020"], 0);
    assert!(out.contains("and 4 if 90 mm may stick out"), "{out}");
    let out = says(["holds", "48 x 18 in", "flat", "--overhang", "4 in"], 0);
    assert!(out.starts_with("4 flats, crosswise\nwith 3½ in sticking out; 2 if nothing may stick out\n"), "{out}");
    let out = says(["holds", "48 x 14 in", "flat", "--overhang", "4 in"], 0);
    assert!(out.starts_with("2 flats, lengthwise\nno more than with nothing sticking out\n"), "{out}");
    let out = says(["holds", "10 x 10 in", "flat"], 0);
    assert!(out.starts_with("None: one is larger than the shelf"), "{out}");
}

/// Published optima: 15 round pots of 102 mm on 406 mm square, 13 in rows; 8 on 305 mm, 6 in rows.
#[test]
fn round_pots_out_of_line_say_so() {
    let round = json(["holds", "406 x 406 mm", "102 mm round", "--json"], 0);
    assert_eq!(["fits", "staggered", "in_rows"].map(|key| number(&round, key)), [15, 13, 9]);
    let out = says(["holds", "406 x 406 mm", "102 mm round"], 0);
    assert!(
        out.starts_with("15 round pots, out of line as “How many fit” draws them (9 in rows, 13 staggered)"),
        "{out}"
    );
    let out = says(["holds", "305 x 305 mm", "102 mm round"], 0);
    assert!(
        out.starts_with("8 round pots, out of line as “How many fit” draws them (4 in rows, 6 staggered)"),
        "{out}"
    );
}

#[test]
fn json_has_the_exact_figures() {
    let answer = json(["holds", "48 x 18 in", "flat", "--json"], 0);
    assert_eq!(
        fields(&answer),
        [
            "at_most",
            "container",
            "fits",
            "in_rows",
            "one_more",
            "overhang",
            "rating",
            "shelf",
            "staggered",
            "sticks_out"
        ]
    );
    assert_eq!((number(&answer, "fits"), number(&answer, "at_most")), (2, 2));
    assert_eq!((text(&answer, "shelf"), text(&answer, "sticks_out")), ("48 × 18 in", "0 in"));
    let container = &answer["container"];
    assert_eq!((text(container, "name"), text(container, "size")), ("flat", "10.94 × 21.44 in"));
    let overhang = &answer["overhang"];
    assert_eq!((text(overhang, "needed"), number(overhang, "fits")), ("3.44 in", 4));
    let allowed = json(["holds", "48 x 18 in", "flat", "--json", "--overhang", "4 in"], 0);
    assert_eq!((number(&allowed, "fits"), text(&allowed, "sticks_out")), (4, "3.44 in"));
    assert_eq!(allowed["overhang"], Value::Null);
    // What sticks out too little gains nothing.
    let less = json(["holds", "48 x 18 in", "flat", "--json", "--overhang", "3 in"], 0);
    assert_eq!((number(&less, "fits"), text(&less["overhang"], "needed")), (2, "3.44 in"));
}

#[test]
fn a_container_is_known_by_key_name_number_part_or_size() {
    for (word, name) in [
        ("plug_72", "72-cell plug tray"),
        ("72", "72-cell plug tray"),
        ("72-cell plug tray", "72-cell plug tray"),
        ("PLUG_72", "72-cell plug tray"),
        ("slim carry", "slim carry tray for packs"),
    ] {
        let answer = json(args!["holds", "48 x 24 in", word, "--json"], 0);
        assert_eq!(text(&answer["container"], "name"), name, "{word}");
    }
    let answer = json(["holds", "48 x 24 in", "11 x 21 in", "--json"], 0);
    assert_eq!((answer["container"]["name"].clone(), text(&answer["container"], "size")), (Value::Null, "11 × 21 in"));
}

#[test]
fn large_questions_are_answered_too() {
    assert_eq!(count("100 x 100 m", "5 mm", None), 400_000_000);
    assert!(count("100 x 100 m", "5 mm round", None) > 400_000_000);
    assert!(count("20 x 6 ft", "flat", None) >= 64);
}

/// `one more would need 1¼ in more width`.
#[test]
fn by_how_much_one_more_misses() {
    for (shelf, container, said) in [
        // three of 11 in beside each other, four want 44 in; a second row wants 22 in of depth
        ("42.75 x 12 in", "11 x 12 in", "one more would need 1¼ in more width"),
        ("48 x 18 in", "flat", "one more would need 3½ in more depth"),
        ("10 x 10 in", "11 x 21 in", "one would need 1 in more width and 11 in more depth"),
        // fourteen of 7 cm are 98 cm, fifteen 105; eight rows 56, nine 63
        ("100 x 60 cm", "7 cm", "one more would need 3 cm more depth"),
        ("100 x 6 cm", "7 cm round", "one would need 1 cm more depth"),
    ] {
        let out = says(["holds", shelf, container], 0);
        assert!(out.lines().any(|line| line == said), "{shelf}, {container}: {out}");
    }
    let answer = json(["holds", "42.75 x 12 in", "11 x 12 in", "--json"], 0);
    assert_eq!((text(&answer["one_more"], "width"), text(&answer["one_more"], "depth")), ("1.25 in", "0 in"));
}

#[test]
fn a_season_s_own_containers_are_known_by_name() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("own.ron");
    let own = r#"(format: "flatwright season", version: 2, name: "Own", containers: [(key: "crate", name: "bread crate",
        kind: Flat(outer: (value: "16 x 24 in", trust: Own)))])"#;
    std::fs::write(&file, own).unwrap();
    refuses(args!["holds", "48 x 24 in", "bread crate"], &["there is no tray or pot"]);
    let out = says(args!["holds", "48 x 24 in", "bread crate", "--in", &file], 0);
    assert!(out.starts_with("3 × bread crate"), "{out}");
    assert_eq!(number(&json(args!["holds", "48 x 24 in", "72", "--in", &file, "--json"], 0), "fits"), 4);
    refuses(args!["holds", "48 x 24 in", "crate", "--in", folder.path().join("gone.ron")], &["gone.ron"]);
}

/// Named, a shelf of a season counts with its rating and its overhang.
#[test]
fn a_shelf_of_a_season_holds_what_it_bears() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("rated.ron");
    // an open flat of 560 × 280 mm and 6 cm is 7178 g: 7.84 l of mix at 0.85 kg/l, and 514 g
    let season = r#"(format: "flatwright season", version: 2, name: "Rated", containers: [(key: "own", name: "own flat",
        kind: Flat(outer: (value: "560 x 280 mm", trust: Own)), height: Some("60 mm"))],
        places: [(id: 1, name: "Room", role: Growing)], racks: [(id: 2, place: 1, name: "Rack", position: 1)],
        shelves: [(id: 3, rack: 2, tier: 1, size: "1120 x 560 mm", load_grams: 21534),
        (id: 4, rack: 2, tier: 2, size: "1120 x 560 mm")])"#;
    std::fs::write(&file, season).unwrap();
    let out = says(args!["holds", "rack, shelf 1", "own flat", "--in", &file], 0);
    let first = "3 × own flat by weight: its rating of 21.5 kg bears no more at about 7.2 kg each when watered";
    assert_eq!(out.lines().next(), Some(first), "{out}");
    assert!(out.lines().any(|line| line.starts_with("by size: 4 × own flat")), "{out}");
    let answer = json(args!["holds", "Rack, shelf 1", "own flat", "--in", &file, "--json"], 0);
    assert_eq!((number(&answer, "fits"), number(&answer["rating"], "each")), (3, 7_178));
    let answer = json(args!["holds", "Rack, shelf 2", "own flat", "--in", &file, "--json"], 0);
    assert_eq!((number(&answer, "fits"), answer["rating"].is_null()), (4, true));
    refuses(args!["holds", "Rack, shelf 3", "own flat", "--in", &file], &["the shelf"]);
}
