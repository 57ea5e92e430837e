//! Last frosts: what is computed from records against what is printed of them.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use chrono::{Datelike as _, Days, NaiveDate};
use flatwright::season::{Frost, FrostMethod};
use flatwright::store::{Record, WeatherAsk, WeatherUnit, read_weather};
use flatwright::trade::{FrostWish, Half, LastFrosts, NormalLaw, Spring, frost_from_springs, springs};
use flatwright::units::{Temperature, Typed};

use crate::check;

const STATIONS: &str = include_str!("data/frost_station_checks.csv");
const FORT_COLLINS: &str = include_str!("data/frost_fort_collins_last_spring_dates.csv");
const STATE_COLLEGE: &str = include_str!("../../examples/state-college.csv");

fn rows(text: &str) -> Vec<BTreeMap<String, String>> {
    csv::Reader::from_reader(text.as_bytes()).deserialize().map(|row| row.expect("a row of the data")).collect()
}

/// Days from the 1st of January to `04-18`, in a year without a leap day.
fn place(month_day: &str) -> f64 {
    let date: NaiveDate = format!("2001-{month_day}").parse().unwrap_or_else(|why| panic!("{month_day}: {why}"));
    f64::from(date.ordinal0())
}

#[track_caller]
fn within_a_day(found: f64, printed: &str, what: &str) {
    let printed_place = place(printed);
    let found = (found + 0.5).floor();
    assert!((found - printed_place).abs() <= 1.0, "{what}: found day {found}, printed {printed} is {printed_place}");
}

#[track_caller]
fn law(even: &str, one_in_ten: &str) -> NormalLaw {
    NormalLaw::through((place(even), 0.5), (place(one_in_ten), 0.1)).expect("the later date has the smaller chance")
}

#[test]
fn printed_dates_lie_as_the_normal_law_says() {
    let mut checked = 0;
    let mut source = String::new();
    for row in rows(STATIONS) {
        let (station, threshold) = (&row["station"], &row["threshold_f"]);
        if !row["source"].starts_with("same") {
            source.clone_from(&row["source"]);
        }
        if row["spring_90"].is_empty() {
            continue;
        }
        let what = format!("9 in 10 from 5 and 1 in 10: {station}, {threshold} °F");
        check(&what, &source);
        let early = law(&row["spring_50"], &row["spring_10"]).place(0.9).expect("a chance");
        within_a_day(early, &row["spring_90"], &what);
        checked += 1;
    }
    assert_eq!(checked, 48);
}

#[test]
fn the_deciles_of_kremmling() {
    let source = "NOAA-style freeze-probability table copied on a seed-trade web page";
    check("Kremmling, Colorado, 32 °F: nine deciles from two, within a day", source);
    let law = law("06-23", "07-10");
    let printed = ["07-10", "07-04", "06-30", "06-26", "06-23", "06-19", "06-16", "06-12", "06-06"];
    for (later, printed) in (1..=9).zip(printed) {
        within_a_day(law.place(f64::from(later) / 10.0).expect("a chance"), printed, &format!("{later} in 10"));
    }
}

fn read(text: &str) -> Record {
    read_weather(text.as_bytes(), Path::new("state-college.csv"), &WeatherAsk::default())
        .unwrap_or_else(|why| panic!("{why}"))
}

fn temperature(text: &str) -> Typed<Temperature> {
    Typed::parse_temperature(text).expect("a temperature")
}

/// The last frosts that were printed for 2001 to 2009, at 2.2, 0 and −2.2 °C.
const LAST: [(i32, [&str; 3]); 9] = [
    (2001, ["05-15", "04-29", "04-19"]),
    (2002, ["05-22", "05-21", "04-08"]),
    (2003, ["04-25", "04-10", "04-07"]),
    (2004, ["05-04", "04-28", "04-07"]),
    (2005, ["05-06", "05-05", "03-18"]),
    (2006, ["04-28", "04-26", "04-09"]),
    (2007, ["04-17", "04-14", "04-11"]),
    (2008, ["05-13", "04-16", "04-15"]),
    (2009, ["04-23", "04-16", "04-13"]),
];

#[track_caller]
fn is_state_college(record: &Record) -> Vec<Spring> {
    assert_eq!((record.station.as_str(), record.unit), ("USC00368449", WeatherUnit::TenthsCelsius));
    let half = Half::of_lows(&record.lows);
    assert_eq!(half, Some(Half::North));
    let (springs, refused) = springs(&record.lows, Half::North);
    let [refused] = refused.as_slice() else { panic!("one spring is refused: {refused:?}") };
    let may = ["2000-05-01", "2000-05-31"].map(|day| day.parse::<NaiveDate>().expect("a date"));
    assert_eq!((refused.year, refused.missing >= 31, refused.longest), (2000, true, (may[0], may[1])));
    let thresholds = ["2.2 °C", "0 °C", "-2.2 °C"].map(|text| temperature(text).value());
    for (spring, (year, printed)) in springs.iter().zip(LAST) {
        assert_eq!(spring.year, year);
        for (at, printed) in thresholds.iter().zip(printed) {
            let last = spring.last_frost(*at).map(|date| date.to_string());
            assert_eq!(last, Some(format!("{year}-{printed}")), "{at}");
        }
    }
    assert_eq!(springs.len(), LAST.len());
    springs
}

#[test]
fn last_frosts_of_state_college() {
    let source = "GHCN-Daily USC00368449, 2000–2009, worked out by another program";
    check("last nights at or below 2.2, 0 and −2.2 °C in 2001–2009; 2000 lacks May", source);
    let springs = is_state_college(&read(STATE_COLLEGE));
    check("their medians are 4 May, 26 April and 9 April", source);
    for (at, printed) in [("2.2 °C", "2027-05-04"), ("0 °C", "2027-04-26"), ("-2.2 °C", "2027-04-09")] {
        let frosts = LastFrosts::of(&springs, Half::North, temperature(at).value());
        let date = frosts.date(5, FrostMethod::Empirical, 2027).map(|date| date.to_string());
        assert_eq!(date.as_deref(), Some(printed), "{at}");
    }
}

/// The same lows in another layout.
#[derive(Clone, Copy, Debug)]
enum Layout {
    Fixed,
    ByYear,
    Station,
}

fn written(lows: &BTreeMap<NaiveDate, i16>, layout: Layout) -> String {
    let mut text = String::new();
    match layout {
        Layout::Fixed => {
            let first_of = |date: NaiveDate| date.with_day(1).expect("every month has one");
            let mut month = first_of(*lows.keys().next().expect("a low"));
            let last = *lows.keys().next_back().expect("a low");
            while month <= last {
                // another element, and a value that a check has failed, must not count
                for element in ["TMAX", "TMIN"] {
                    write!(text, "USC00368449{}{element}", month.format("%Y%m")).expect("a string");
                    for day in 1..=31 {
                        let date = month.with_day(day);
                        let low = date.and_then(|date| lows.get(&date));
                        match low.filter(|_| element == "TMIN") {
                            Some(low) => write!(text, "{low:>5}  0").expect("a string"),
                            None if element == "TMIN" && date.is_some() => text.push_str(" -400 I0"),
                            None => text.push_str("-9999   "),
                        }
                    }
                    text.push('\n');
                }
                month = first_of(month + Days::new(31));
            }
        }
        Layout::ByYear => {
            for (date, low) in lows {
                let day = date.format("%Y%m%d");
                writeln!(text, "USC00368449,{day},TMAX,300,,,0,0700").expect("a string");
                writeln!(text, "USC00368449,{day},TMIN,{low},,,0,0700").expect("a string");
            }
            text.push_str("USC00368449,20030601,TMIN,-400,,I,0,0700\n");
            let day = "USC00368449,20030601,TMIN,";
            let real = lows[&NaiveDate::from_ymd_opt(2003, 6, 1).expect("a date")];
            assert!(text.contains(&format!("{day}{real}")), "the flagged row stands beside a good one");
        }
        Layout::Station => {
            text.push_str("\"STATION\",\"DATE\",\"LATITUDE\",\"NAME\",\"TMIN\",\"TMIN_ATTRIBUTES\"\r\n");
            let days = lows.keys().next().expect("a low").iter_days().take(3_653);
            for date in days {
                let (low, flags) = match lows.get(&date) {
                    Some(low) => (format!("{low:>5}"), ",,0"),
                    None => (" -400".to_owned(), ",I,0"),
                };
                write!(
                    text,
                    "\"USC00368449\",\"{date}\",\"40.7933\",\"STATE COLLEGE, PA US\",\"{low}\",\"{flags}\"\r\n"
                )
                .expect("a string");
            }
        }
    }
    text
}

#[test]
fn every_layout_reads_to_the_same_lows() {
    check("fixed width, by year and one station's file read alike", "GHCN-Daily readme, columns of .dly");
    let plain = read(STATE_COLLEGE);
    for layout in [Layout::Fixed, Layout::ByYear, Layout::Station] {
        let record = read(&written(&plain.lows, layout));
        assert_eq!(record.lows, plain.lows, "{layout:?}");
        assert!(record.flagged > 0, "{layout:?}");
        is_state_college(&record);
    }
}

#[test]
fn lows_in_whole_degrees_fahrenheit_or_tenths_of_celsius_give_the_same_frosts() {
    check("an order in °F or °C has the same last frosts", "GHCN-Daily USC00368449, 2000–2009");
    let plain = read(STATE_COLLEGE);
    let table = |unit: &str, number: &dyn Fn(i16) -> String| {
        let mut text = format!("STATION,DATE,TMIN{unit}\n");
        for (date, low) in &plain.lows {
            writeln!(text, "USC00368449,{date},{}", number(*low)).expect("a string");
        }
        text
    };
    let fahrenheit = |low: i16| format!("{}", (f64::from(low) * 0.18 + 32.0).round());
    let celsius = |low: i16| format!("{:.1}", f64::from(low) / 10.0);
    for (text, unit) in [
        (table("", &fahrenheit), WeatherUnit::Fahrenheit),
        (table("", &celsius), WeatherUnit::Celsius),
        (table(" (Degrees Fahrenheit)", &fahrenheit), WeatherUnit::Fahrenheit),
        (table(" (C)", &celsius), WeatherUnit::Celsius),
    ] {
        let record = read(&text);
        assert_eq!(record.unit, unit);
        assert_eq!(record.lows, plain.lows, "{unit}: State College was read in whole °F");
    }
}

struct Period {
    years: std::ops::RangeInclusive<i32>,
    column: &'static str,
    empirical: [&'static str; 3],
    normal: [&'static str; 3],
}

const PERIODS: [Period; 5] = [
    Period {
        years: 1961..=1990,
        column: "last_le_32f",
        empirical: ["04-22", "05-06", "05-19"],
        normal: ["04-24", "05-06", "05-18"],
    },
    Period {
        years: 1970..=1999,
        column: "last_le_36f",
        empirical: ["04-29", "05-12", "05-24"],
        normal: ["04-28", "05-13", "05-27"],
    },
    Period {
        years: 1970..=1999,
        column: "last_le_32f",
        empirical: ["04-22", "05-03", "05-14"],
        normal: ["04-23", "05-04", "05-16"],
    },
    Period {
        years: 1970..=1999,
        column: "last_le_28f",
        empirical: ["04-06", "04-17", "05-02"],
        normal: ["04-05", "04-19", "05-02"],
    },
    Period {
        years: 1900..=1999,
        column: "last_le_32f",
        empirical: ["04-25", "05-09", "05-23"],
        normal: ["04-24", "05-10", "05-25"],
    },
];

fn fort_collins(years: &std::ops::RangeInclusive<i32>, column: &str) -> LastFrosts {
    let all = rows(FORT_COLLINS).into_iter().filter_map(|row| {
        let year = row["year"].parse::<i32>().expect("a year");
        years.contains(&year).then(|| (year, row[column].parse().ok()))
    });
    LastFrosts::from_dates(all, Half::North)
}

#[test]
fn fort_collins_by_both_methods() {
    let source = "daily data of Fort Collins, Colorado, worked out by another program";
    for Period { years, column, empirical, normal } in PERIODS {
        let what = format!("{column}, {years:?}: 9, 5 and 1 in 10");
        check(&what, source);
        let frosts = fort_collins(&years, column);
        assert_eq!(i32::try_from(frosts.springs()), Ok(years.end() - years.start() + 1));
        for (method, printed) in [(FrostMethod::Empirical, empirical), (FrostMethod::NormalLaw, normal)] {
            for (later, printed) in [9, 5, 1].into_iter().zip(printed) {
                let found = frosts.place(later, method).expect("frost in every spring");
                within_a_day(found, printed, &format!("{what}, {method:?}, {later}"));
            }
        }
    }
}

#[test]
fn fort_collins_as_printed_elsewhere() {
    check("28 °F: 5 in 10 after 18 April, 1 in 10 after 2 May", "Fort Collins Coloradoan, 11 April 2023");
    let frosts = fort_collins(&(1970..=1999), "last_le_28f");
    for method in [FrostMethod::Empirical, FrostMethod::NormalLaw] {
        within_a_day(frosts.place(5, method).expect("a date"), "04-18", "5 in 10");
        within_a_day(frosts.place(1, method).expect("a date"), "05-02", "1 in 10");
    }
}

#[test]
fn nine_springs_are_too_few_to_trust() {
    check("fewer than 20 usable springs are called weak", "our own bound; common practice is 30 years");
    let springs = is_state_college(&read(STATE_COLLEGE));
    let near = "2027-05-01".parse().expect("a date");
    let wish = FrostWish { at: temperature("0 °C"), later_in_ten: 1, method: FrostMethod::NormalLaw, near };
    let frost: Frost = frost_from_springs(&springs, Half::North, &wish).expect("a date");
    assert_eq!((frost.springs, frost.is_weak(), frost.years.as_str()), (Some(9), true, "2001–2009"));
    let thirty = Frost { springs: Some(30), ..frost };
    assert!(!thirty.is_weak());
}
