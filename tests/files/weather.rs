//! Weather records and frost tables that are not what they should be never stop the program.

use std::path::Path;

use chrono::NaiveDate;
use flatwright::store::{Sense, WeatherAsk, WeatherUnit, read_frost_table, read_weather};
use proptest::prelude::*;
use proptest::sample::select;

fn near() -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, 5, 1).unwrap()
}

fn ask() -> impl Strategy<Value = WeatherAsk> {
    let unit =
        select(vec![None, Some(WeatherUnit::Fahrenheit), Some(WeatherUnit::Celsius), Some(WeatherUnit::TenthsCelsius)]);
    let station = select(vec![None, Some("A".to_owned()), Some("é".to_owned())]);
    (unit, station).prop_map(|(unit, station)| WeatherAsk { unit, station })
}

/// What is read, or a sentence with the file's name.
fn answers(bytes: &[u8], ask: &WeatherAsk) {
    match read_weather(bytes, Path::new("record.csv"), ask) {
        Ok(record) => {
            assert!(!record.lows.is_empty());
            assert!(record.lows.values().all(|low| (-950..=500).contains(low)));
        }
        Err(why) => {
            let said = why.to_string();
            assert!(said.starts_with("record.csv:"), "{said}");
            let lines = 1 + String::from_utf8_lossy(bytes).matches('\n').count();
            assert!(why.at.is_none_or(|at| at.line >= 1 && at.line <= lines && at.col >= 1), "{said}");
        }
    }
}

fn field() -> impl Strategy<Value = String> {
    prop_oneof![
        6 => select(vec![
            "A", "B", "2001-01-01", "2001-02-30", "20010101", "TMIN", "TMAX", "DATE", "STATION", "-9999", "150", "-50",
            "2,5", "1.5", "", ",I,", "NA", "LATITUDE", "TMIN_ATTRIBUTES", "é", "9999999999", "-", "1e5", "inf",
        ])
        .prop_map(str::to_owned),
        1 => "[ -~é\u{2028}]{0,12}",
    ]
}

fn table() -> impl Strategy<Value = String> {
    let row = (prop::collection::vec(field(), 0..8), select(vec![",", ";", "\t", ",\""]))
        .prop_map(|(fields, sign)| fields.join(sign));
    let head = select(vec![
        "STATION,DATE,TMIN",
        "DATE;TMIN (F)",
        "DATE,TMIN,TMIN_ATTRIBUTES,LATITUDE",
        "",
        "\u{feff}DATE,TMIN",
    ]);
    (head, prop::collection::vec(row, 0..12), select(vec!["\n", "\r\n", "\n\n"]))
        .prop_map(|(head, rows, end)| format!("{head}{end}{}", rows.join(end)))
}

fn fixed() -> impl Strategy<Value = String> {
    let day =
        prop_oneof![8 => select(vec!["  150  0", "-9999   ", " -400 I0"]).prop_map(str::to_owned), 1 => "[ -~é]{8}"];
    let line = ("[A-Z0-9é]{11}", "[0-9 ]{6}", select(vec!["TMIN", "TMAX"]), prop::collection::vec(day, 0..33))
        .prop_map(|(station, month, element, days)| format!("{station}{month}{element}{}", days.concat()));
    prop::collection::vec(line, 1..5).prop_map(|lines| lines.join("\n"))
}

fn frost_table() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        8 => select(vec!["32 F", "36 F", "-2,2 °C", ":", "%", " 50% ", " 10% ", "10 Mar", "22 Apr 2027", ",", ";", "\n", "temperature"])
            .prop_map(str::to_owned),
        1 => ".{0,6}",
    ];
    prop::collection::vec(piece, 0..24).prop_map(|pieces| pieces.concat())
}

proptest! {
    #[test]
    fn random_bytes_get_an_answer(bytes in prop::collection::vec(any::<u8>(), 0..400), ask in ask()) {
        answers(&bytes, &ask);
    }

    #[test]
    fn random_rows_get_an_answer(text in table(), ask in ask()) {
        answers(text.as_bytes(), &ask);
    }

    #[test]
    fn random_months_get_an_answer(text in fixed(), ask in ask()) {
        answers(text.as_bytes(), &ask);
    }

    #[test]
    fn random_frost_tables_get_an_answer(text in frost_table(), later in any::<bool>()) {
        let sense = if later { Sense::Later } else { Sense::Over };
        match read_frost_table(&text, sense, near()) {
            Ok(table) => prop_assert!(!table.is_empty()),
            Err(why) => prop_assert!(!why.to_string().is_empty()),
        }
    }
}

#[test]
fn columns_are_counted_in_characters_behind_quotes_and_empty_lines() {
    let text = "\u{feff}\"NAME\",DATE,TMIN\r\n\r\n\"Łódź, north\",2001-01-01,wärm\r\n";
    let why = read_weather(text.as_bytes(), Path::new("record.csv"), &WeatherAsk::default()).unwrap_err();
    assert!(why.to_string().starts_with("record.csv:3:26: found \"wärm\""), "{why}");
}

#[test]
fn what_the_numbers_can_only_be_is_found() {
    let read = |numbers: &[&str]| {
        let days = NaiveDate::from_ymd_opt(2001, 1, 1).unwrap().iter_days();
        let mut text = "DATE,TMIN\n".to_owned();
        text.extend(days.zip(numbers.iter().cycle()).take(365).map(|(day, number)| format!("{day},{number}\n")));
        read_weather(text.as_bytes(), Path::new("record.csv"), &WeatherAsk::default()).map(|record| record.unit).ok()
    };
    assert_eq!(read(&["-50", "0", "28", "3", "60"]), Some(WeatherUnit::TenthsCelsius), "nights differ by 3 °C");
    assert_eq!(read(&["-122", "140"]), Some(WeatherUnit::TenthsCelsius));
    assert_eq!(read(&["-5", "0", "3", "60", "63"]), Some(WeatherUnit::Fahrenheit));
    assert_eq!(read(&["-5", "-2", "3", "12", "18"]), Some(WeatherUnit::Celsius));
    assert_eq!(read(&["-5.0", "-2.5", "60.1", "58.0"]), Some(WeatherUnit::Fahrenheit));
    assert_eq!(read(&["-5", "0", "3", "35", "38"]), None, "a hot place in °C, or a cold one in °F");
    let short = |text: &str| read_weather(text.as_bytes(), Path::new("record.csv"), &WeatherAsk::default());
    assert!(short("DATE,TMIN\n2001-01-01,-5\n").unwrap_err().to_string().contains("say which unit"));
    assert_eq!(short("DATE,TMIN\n2001-01-01,-50\n").map(|record| record.unit).ok(), Some(WeatherUnit::TenthsCelsius));
}
