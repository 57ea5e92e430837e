//! What is copied for other programs holds text and figures, whatever a grower's things are called.

use std::collections::BTreeSet;
use std::path::Path;

use flatwright::forecast::{forecast, next_year};
use flatwright::outlook::OnDay;
use flatwright::store;
use flatwright::units::LengthUnit;
use flatwright::words::{Words, as_column};

/// The season of every kind of thing, its names such that a program for tables would work them out.
fn names_like_formulas() -> flatwright::season::Season {
    let mut text = std::fs::read_to_string("tests/files/v2-rich.ron").expect("it stands there");
    for (name, formula) in [
        ("\"Plain\"", "\"=1+1\""),
        ("\"Pepper, own\"", "\" =HYPERLINK(1)\""),
        ("\"Bag of mix\"", "\"@mix\""),
        ("\"Wire rack\"", "\"-rack\""),
        ("\"Lawn\", position", "\"+lawn\", position"),
        ("\"Lemon tree\"", "\"\\u{ff1d}tree\""),
        (
            "Own(lot: 13, step: 11, n: 1), mark: \"A 1\", parents: [Own(lot: 14, step: 11, n: 1)]",
            "Guest(guest: 22, n: 2), mark: \"=A1\"",
        ),
        ("x: \"303.175 mm\", y: \"0 mm\"", "x: \"303.175 mm\", y: \"-12.7 mm\""),
        ("mark: \"Pl\"", "mark: \"+P\""),
    ] {
        assert!(text.contains(name), "{name}");
        text = text.replace(name, formula);
    }
    store::parse(&text, Path::new("formulas.ron")).unwrap_or_else(|why| panic!("{why}"))
}

#[test]
fn copied_tables_carry_no_formulas() {
    let season = names_like_formulas();
    let library = store::library();
    let forecast = forecast(&season, library);
    let words = Words { season: &season, library, forecast: &forecast, unit: LengthUnit::Inch };
    let mut texts = BTreeSet::new();
    let mut figures = BTreeSet::new();
    for day in forecast.span().unwrap().from().iter_days().take(200) {
        let on_day = OnDay { season: &season, forecast: &forecast, day, from_day: false };
        for line in words.as_table(&on_day.placed()).lines().skip(1) {
            let cells: Vec<&str> = line.split('\t').collect();
            assert_eq!(cells.len(), 7, "{line:?}");
            texts.extend(cells.iter().take(4).map(|cell| (*cell).to_owned()));
            figures.extend(cells.iter().skip(4).map(|cell| (*cell).to_owned()));
        }
    }
    let formula = |cell: &String| cell.trim_start().starts_with(['=', '+', '-', '@', '\u{ff1d}', '"']);
    assert_eq!(texts.iter().filter(|cell| formula(cell)).collect::<Vec<_>>(), [""; 0]);
    for wanted in ["'=A1", "'+P 1", "'=1+1", "' =HYPERLINK(1)", "'@mix", "'-rack, shelf 1", "'+lawn", "'\u{ff1d}tree"] {
        assert!(texts.iter().any(|cell| cell.starts_with(wanted)), "{wanted} is not among {texts:?}");
    }
    // half an inch past the back of the shelf: a figure of ours
    assert!(figures.contains("-0.5 in"), "{figures:?}");
}

#[test]
fn copied_lines_carry_no_formulas() {
    let season = names_like_formulas();
    let next = next_year(&season, store::library(), 2028, flatwright::words::own_records).unwrap();
    let words = Words {
        season: &season,
        library: store::library(),
        forecast: &forecast(&season, store::library()),
        unit: LengthUnit::Inch,
    };
    let said: Vec<String> = next.changes.iter().map(|change| words.change(change)).collect();
    assert!(said.iter().any(|line| line.starts_with('=')), "{said:?}");
    assert!(as_column(&said).lines().all(|line| !line.starts_with(['=', '+', '-', '@'])));
}
