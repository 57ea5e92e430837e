use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use chrono::{Datelike as _, NaiveDate};
use flatwright::season::FrostMethod;
use flatwright::store;

use serde_json::Value;

use crate::args;
use crate::tools::{crowded, example, fields, json, list, number, refuses, run, says, text};

fn record() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/state-college.csv")
}

/// A folder, and a file in it.
fn with_file(name: &str, bytes: impl AsRef<[u8]>) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    fs::write(&path, bytes).unwrap();
    (folder, path)
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

#[test]
fn a_record_gives_the_season_its_last_frost() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out.ron");
    let said = says(args!["take", crowded(), "--weather", record(), "-o", &out, "--method", "empirical"], 0);
    for part in [
        "1 year in 10 has a later frost of 32 °F or colder; USC00368449, 2001–2009, 9 springs, weak: fewer than 20",
        "5 years in 10 have a later frost",
        "3 years in 10 have a later frost",
        "2.2 °C (36 °F)",
        "-2.2 °C (28 °F)",
        "Lows are in tenths of °C, told by the numbers",
        "Springs not used",
        "- Spring of 2000: ",
        "1 May – 31 May the longest run",
        "What moved, and what did not",
        ": not moved",
        "local advice comes first",
        "Saved as ",
    ] {
        assert!(said.contains(part), "no {part:?} in\n{said}");
    }
    let season = store::load(&out).unwrap();
    let frost = season.settings().frost.as_ref().expect("a frost");
    // the springs' last frosts: 10, 14, 16, 16, 26, 28, 29 April, 5 and 21 May
    assert_eq!((frost.even(), frost.later_in_ten, frost.springs), (date("2027-04-26"), 1, Some(9)));
    assert_eq!((frost.date, frost.method), (date("2027-05-08"), FrostMethod::Empirical));
    assert_eq!(frost.table.len(), 27);
    assert_eq!(season.sowings().count(), store::load(&crowded()).unwrap().sowings().count());
}

#[test]
fn its_answer_as_json_has_every_date() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out.ron");
    let answer = json(
        args!["take", crowded(), "--weather", record(), "-o", &out, "--at", "36 F", "--later-in-ten", "3", "--json"],
        0,
    );
    assert_eq!(fields(&answer), ["frost", "moved", "record", "season", "stayed"]);
    let frost = &answer["frost"];
    assert_eq!((text(frost, "temperature"), number(frost, "later_in_ten")), ("36 F", 3));
    assert_eq!((frost["weak"].as_bool(), number(frost, "springs")), (Some(true), 9));
    assert_eq!(text(frost, "method"), "by the normal law");
    let dated = list(frost, "table").iter().filter(|one| text(one, "temperature") == "36 F");
    assert_eq!(dated.clone().count(), 9);
    let chosen = dated.clone().find(|one| number(one, "later_in_ten") == 3).expect("the chance asked for");
    assert_eq!(text(chosen, "date"), text(frost, "date"));
    let record = &answer["record"];
    assert_eq!((text(record, "unit"), record["southern"].as_bool()), ("tenths of °C", Some(false)));
    assert_eq!(list(record, "refused").iter().map(|one| number(one, "spring")).collect::<Vec<_>>(), [2000]);
    // some of the sample's days out go by the frost, the others are set
    let (moved, stayed) = (list(&answer, "moved"), list(&answer, "stayed"));
    let onion = |one: &&Value| text(one, "sowing").starts_with("Onion") && text(one, "text").contains(": out ");
    let onions: Vec<&Value> = moved.iter().filter(onion).collect();
    // 14 days before the even date, which the record has on 25 April by the normal law
    assert_eq!(onions.len(), 1, "{moved:?}");
    assert_eq!(text(onions[0], "from"), "2027-04-18");
    assert!(stayed.iter().any(|one| text(one, "sowing").starts_with("Leek")), "{stayed:?}");
}

/// 30 years of lows by day of the year and year.
fn lows(low: impl Fn(u32, i32) -> i32) -> String {
    let mut text = "STATION,DATE,TMIN\n".to_owned();
    for day in date("1991-01-01").iter_days().take_while(|day| day.year() < 2021) {
        writeln!(text, "XX000000001,{day},{}", low(day.ordinal0(), day.year())).unwrap();
    }
    text
}

/// From −100 in the depth of winter to 200 tenths at the height of summer.
fn temperate(ordinal: u32) -> i32 {
    (50.0 - 150.0 * (std::f64::consts::TAU * (f64::from(ordinal) - 20.0) / 365.0).cos()) as i32
}

#[test]
fn a_southern_record_has_its_frost_in_the_southern_spring() {
    let (folder, path) = with_file("south.csv", lows(|day, _| temperate((day + 182) % 365)));
    let out = folder.path().join("out.ron");
    let said = says(args!["take", example("southern.ron"), "--weather", &path, "-o", &out], 0);
    assert!(said.contains("A southern station: its spring runs from 24 July to 23 January"), "{said}");
    let season = store::load(&out).unwrap();
    let frost = season.settings().frost.as_ref().expect("a frost");
    assert!((8..=11).contains(&frost.date.month()), "{}", frost.date);
    let out = season.sowings().flat_map(|sowing| &sowing.wanted).map(|wanted| wanted.date).min().unwrap();
    assert!((out - frost.date).num_days().abs() < 183, "{out} and {}", frost.date);
    assert!(!frost.is_weak());
}

#[test]
fn stations_without_a_frost_or_without_an_end_of_it_get_an_answer() {
    for (name, low, parts) in [
        ("never.csv", 0_i32, ["no night was as cold as 0 °C in any of 30 springs", "no last frost"]),
        ("always.csv", -400, ["go on into the second half of the year", "no last frost"]),
    ] {
        let (folder, path) = with_file(name, lows(|day, _| temperate(day) + if low == 0 { 150 } else { low }));
        let out = folder.path().join("out.ron");
        refuses(args!["take", crowded(), "--weather", &path, "-o", &out], &[name, parts[0], parts[1]]);
        assert!(!out.exists());
    }
    let rare = lows(|day, year| if year % 10 < 2 && day == 40 { -5 } else { temperate(day) + 120 });
    let (folder, path) = with_file("rare.csv", rare);
    let out = folder.path().join("out.ron");
    says(args!["take", crowded(), "--weather", &path, "-o", &out], 0);
    let part = "came in 6 of 30 springs, so on no day do 3 years in 10";
    refuses(args!["take", crowded(), "--weather", &path, "-o", &out, "--later-in-ten", "3"], &["rare.csv", part]);
}

#[test]
fn bad_records_are_refused_with_their_place() {
    let head = "STATION,DATE,TMIN\n";
    let cases: [(&str, &str, &[&str]); 17] = [
        ("empty.csv", "", &["empty.csv: this file is empty"]),
        ("blank.csv", "\n \n\r\n", &["blank.csv: this file is empty"]),
        ("letter.txt", "Dear neighbour,\nit froze.\n", &["letter.txt:1:1:", "no weather record", "Dear neighbour"]),
        ("max.csv", "STATION,DATE,TMAX\nA,2001-01-01,50\n", &["max.csv:1:1:", "no column TMIN", "TMAX"]),
        ("nodate.csv", "STATION,DAY,TMIN\nA,2001-01-01,50\n", &["nodate.csv:1:1:", "no column DATE"]),
        ("two.csv", "DATE,TMIN (C),TMIN (F)\n", &["two.csv:1:15:", "more than one column of lows"]),
        ("word.csv", "STATION,DATE,TMIN\nA,2001-01-01,50\nA,2001-01-02,warm\n", &["word.csv:3:14:", "\"warm\""]),
        ("feb.csv", "STATION,DATE,TMIN\nA,2001-02-30,50\n", &["feb.csv:2:3:", "2001-02-30", "no such day"]),
        ("us.csv", "STATION,DATE,TMIN\nA,1/2/2001,50\n", &["us.csv:2:3:", "year-month-day"]),
        ("old.csv", "STATION,DATE,TMIN\nA,0001-01-01,150\n", &["old.csv:2:14:", "1650 to 2200"]),
        ("short.csv", "STATION,DATE,TMIN\nA,2001-01-01\n", &["short.csv:2:3:", "ends before its column TMIN"]),
        (
            "twice.csv",
            "STATION,DATE,TMIN\nA,2001-01-01,150\n\nA,2001-01-01,160\n",
            &["twice.csv:4:14:", "Mon 1 Jan 2001 is in this file twice", "150 in line 2"],
        ),
        (
            "several.csv",
            "STATION,DATE,TMIN\nA,2001-01-01,150\nB,2001-01-01,160\n",
            &["several.csv: there are 2 stations", "A, B"],
        ),
        ("unit.csv", "STATION,DATE,TMIN\nA,2001-01-01,-5\nA,2001-01-02,28\n", &["could be °F, °C", "F, C or tenths"]),
        ("missing.csv", "STATION,DATE,TMIN\nA,2001-01-01,-9999\n", &["no low in this file", "1 are missing"]),
        ("hot.csv", "STATION,DATE,TMIN\nA,2001-01-01,700\n", &["hot.csv:2:14:", "700", "tenths of °C"]),
        ("few.csv", "STATION,DATE,TMIN\nA,2001-03-01,150\n", &["few.csv: no spring", "each of the 1"]),
    ];
    for (name, content, parts) in cases {
        let (folder, path) = with_file(name, content);
        refuses(args!["take", crowded(), "--weather", &path, "-o", folder.path().join("out.ron")], parts);
        assert!(!folder.path().join("out.ron").exists(), "{name}");
    }
    let (folder, path) = with_file("bytes.csv", [head.as_bytes(), b"A,2001-01-01,\xFF\xFE\n"].concat());
    let out = folder.path().join("out.ron");
    refuses(args!["take", crowded(), "--weather", &path, "-o", &out], &["bytes.csv:2:14:", "UTF-8"]);
    refuses(args!["take", crowded(), "--weather", folder.path(), "-o", &out], &["this is a folder"]);
    refuses(args!["take", crowded(), "--weather", folder.path().join("no.csv"), "-o", &out], &["no such file"]);
}

#[test]
fn a_wrong_unit_is_refused_or_told() {
    let (folder, path) = with_file("tenths.csv", lows(|day, _| temperate(day)));
    let out = folder.path().join("out.ron");
    let with = |unit: &str| args!["take", crowded(), "--weather", &path, "-o", &out, "--unit", unit];
    refuses(with("C"), &["tenths.csv:9:24:", "no night's low in °C", "another unit"]);
    refuses(with("K"), &["F, C or tenths"]);
    says(with("tenths"), 0);
    let (_kept, path) = with_file("degrees.csv", lows(|day, _| temperate(day) / 10));
    let with = |unit: &str| args!["take", crowded(), "--weather", &path, "-o", &out, "--unit", unit, "--at", "-12C"];
    assert!(run(with("F")).out.contains("The numbers look like °C, not like °F"), "{:?}", run(with("F")));
}

#[test]
fn lines_that_break_off_or_hold_another_thing_are_refused() {
    let day = "  150  0";
    let line =
        |month: &str, element: &str, days: usize| format!("USC003684492001{month}{element}{}\n", day.repeat(days));
    let good = line("01", "TMIN", 31);
    let cases = [
        (line("01", "TMIN", 30), ":1:261:", "breaks off"),
        (format!("{good}{}", line("02", "TMIN", 31)), ":2:246:", "2001-02-29"),
        (format!("{good}{}", line("13", "TMIN", 31)), ":2:12:", "2001-13"),
        (format!("{good}hello there, this is no line\n"), ":2:1:", "hello"),
        (good.replace("  150  0  150", "  150  0 warm"), ":1:30:", "warm"),
        (format!("{good}{}", good.replace("150", "151")), ":2:22:", "twice"),
        (line("01", "TMAX", 31), ": there is no low", "no row has one"),
    ];
    for (text, place, part) in cases {
        let (folder, path) = with_file("station.dly", &text);
        let out = folder.path().join("out.ron");
        let place = format!("station.dly{place}");
        refuses(args!["take", crowded(), "--weather", &path, "-o", &out], &[&place, part]);
    }
}

#[test]
fn one_of_several_stations_can_be_taken() {
    let mut both = lows(|day, _| temperate(day));
    for line in lows(|day, _| temperate(day) + 20).lines().skip(1) {
        writeln!(both, "{}", line.replace("XX000000001", "XX000000002")).unwrap();
    }
    let (folder, path) = with_file("both.csv", both);
    let out = folder.path().join("out.ron");
    let take = args!["take", crowded(), "--weather", &path, "-o", &out];
    refuses(take.clone(), &["there are 2 stations in this file: XX000000001, XX000000002"]);
    let with = |station: &str| [take.to_vec(), args!["--station", station].to_vec()].concat();
    refuses(with("nowhere"), &["no station \"nowhere\"", "XX000000001"]);
    let dates = ["xx000000001", "XX000000002"].map(|station| {
        says(with(station), 0);
        store::load(&out).unwrap().settings().frost.as_ref().expect("a frost").date
    });
    assert!(dates[1] < dates[0], "2 °C warmer: {dates:?}");
}

#[test]
fn two_hundred_years_are_read() {
    let mut text = "STATION,DATE,TMIN\n".to_owned();
    for day in date("1826-01-01").iter_days().take_while(|day| day.year() < 2026) {
        writeln!(text, "A,{day},{}", temperate(day.ordinal0())).unwrap();
    }
    let (folder, path) = with_file("long.csv", text);
    let said = says(args!["take", crowded(), "--weather", &path, "-o", folder.path().join("out.ron")], 0);
    assert!(said.contains("A, 1826–2025, 200 springs, from a normal curve"), "{said}");
}

const TABLE: &str = "36 F: 90% 27 Mar, 50% 11 Apr, 10% 18 May\n32 F: 90% 13 Feb, 50% 10 Mar, 10% 22 Apr\n";

#[test]
fn a_table_is_taken_in_either_sense() {
    let columns = "temperature,10%,50%,90%\n36 F,27 Mar,11 Apr,18 May\n32 F,13 Feb,10 Mar,22 Apr\n";
    for (content, sense) in [(TABLE, "later"), (columns, "over")] {
        let (folder, path) = with_file("table.txt", content);
        let out = folder.path().join("out.ron");
        let take = args!["take", crowded(), "--frost-table", &path, "-o", &out, "--sense", sense];
        let said = says(take.clone(), 0);
        assert!(said.contains("Thu 22 Apr 2027: 1 year in 10 has a later frost of 32 °F or colder"), "{said}");
        assert!(said.contains("from a table"), "{said}");
        let season = store::load(&out).unwrap();
        let frost = season.settings().frost.as_ref().expect("a frost");
        assert_eq!((frost.date, frost.even(), frost.table.len()), (date("2027-04-22"), date("2027-03-10"), 6));
        assert_eq!((frost.method, frost.is_weak()), (FrostMethod::Given, false));
        let between = [take.to_vec(), args!["--later-in-ten", "3"].to_vec()].concat();
        assert!(says(between, 0).contains("between the dates of a table"));
        let other = if sense == "later" { "over" } else { "later" };
        let wrong = args!["take", crowded(), "--frost-table", &path, "-o", &out, "--sense", other];
        refuses(wrong, &["table.txt:", "the dates run the other way", "is it the chance that"]);
    }
}

#[test]
fn bad_tables_are_refused_with_their_place() {
    let (folder, path) = with_file("table.txt", TABLE);
    let out = folder.path().join("out.ron");
    refuses(args!["take", crowded(), "--frost-table", &path, "-o", &out], &["--sense"]);
    refuses(args!["take", crowded(), "-o", &out], &["--weather", "--frost-table"]);
    for (content, parts) in [
        ("", ["table.txt: ", "nothing is written here"]),
        ("32 F 50% 10 Mar", ["table.txt:1:1:", "write a line such as"]),
        ("nothing", ["table.txt:1:1:", "32 F: 50%"]),
        ("32: 50% 10 Mar", ["table.txt:1:1:", "°C, °F"]),
        ("32 F: 50% 10 Mar\n28 F: 50% 31 Feb", ["table.txt:2:11:", "31 Feb"]),
        ("32 F: 55% 10 Mar", ["table.txt:1:7:", "10 % to 90 %"]),
        ("32 F: 50 10 Mar", ["table.txt:1:7:", "10 % to 90 %"]),
        ("32 F: 50% 10 Mar, 50% 11 Mar", ["table.txt:1:23:", "twice"]),
        ("t,50%\n32 F,10 Mar,11 Mar", ["table.txt:2:13:", "no chance for it"]),
        ("36 F: 10% 18 May", ["table.txt: the table has no dates at 0 °C", "36 F"]),
        ("32 F: 50% 10 Mar", ["table.txt: the table's dates at 0 °C are for 5", "1 lies outside"]),
    ] {
        let (folder, path) = with_file("table.txt", content);
        let out = folder.path().join("out.ron");
        refuses(args!["take", crowded(), "--frost-table", &path, "-o", &out, "--sense", "later"], &parts);
    }
    for (option, value) in [("--at", "cold"), ("--later-in-ten", "0"), ("--later-in-ten", "10"), ("--method", "guess")]
    {
        refuses(args!["take", crowded(), "--weather", record(), "-o", &out, option, value], &[option]);
    }
}

#[test]
fn a_season_without_a_date_asks_for_the_year() {
    let (folder, path) = with_file("new.ron", "(format: \"flatwright season\", version: 1, name: \"New\")");
    let out = folder.path().join("out.ron");
    let take = args!["take", &path, "--weather", record(), "-o", &out];
    refuses(take.clone(), &["--year"]);
    says([take.to_vec(), args!["--year", "2031"].to_vec()].concat(), 0);
    assert_eq!(store::load(&out).unwrap().settings().frost.as_ref().expect("a frost").date.year(), 2031);
}

#[test]
fn a_column_of_a_sowing_table_can_be_left_out() {
    let (_folder, path) = with_file("plan.csv", "Crop,Sow,Sowing date,Out\nPea,1 Jan 2027,2 Mar 2027,1 Apr 2027\n");
    let take = args!["take", crowded(), "--sowings", &path, "--preview"];
    refuses(take.clone(), &["plan.csv:1:3: two columns are taken for the sow: \"Sow\" and \"Sowing date\""]);
    let said = says([take.to_vec(), args!["--column", "none=sow"].to_vec()].concat(), 0);
    assert!(said.contains("Sow: not used") && said.contains("Sowing date: sow"), "{said}");
    assert!(said.contains("2 Mar 2027"), "{said}");
    refuses([take.to_vec(), args!["--column", "none=Plot"].to_vec()].concat(), &["no column \"Plot\""]);
    refuses([take.to_vec(), args!["--column", "plot=Sow"].to_vec()].concat(), &["crop, variety", "none"]);
}
