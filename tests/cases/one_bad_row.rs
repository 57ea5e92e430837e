//! A sowing table with one bad row, and the same again next year.

use chrono::NaiveDate;
use flatwright::forecast::{Change, What, forecast, next_year};
use flatwright::season::{Frost, Observed, Op, OutRule, RecordId, Season, Settings, SowingId};
use flatwright::store::library;
use flatwright::store::sowings::{self, OddKind};
use flatwright::words::own_records;

use crate::support::day;

/// The rows that the case gives, as a sheet writes them.
const TABLE: &str = include_str!("data/one_bad_row.csv");

const DATES: [(&str, &str, &str); 10] = [
    ("basil", "2008-03-27", "2008-05-08"),
    ("broccoli", "2008-03-13", "2008-04-17"),
    ("cabbage", "2008-02-28", "2008-04-03"),
    ("cucumber", "2008-04-17", "2008-05-08"),
    ("eggplant", "2008-03-12", "2008-05-15"),
    ("lettuce", "2008-03-06", "2008-04-03"),
    ("muskmelon", "2008-04-24", "2008-05-15"),
    ("onion", "2008-02-14", "2008-04-03"),
    ("parsley", "2008-02-13", "2008-04-17"),
    ("pepper", "2008-03-06", "2008-05-15"),
];

fn empty() -> Season {
    let mut season = Season::new("2008");
    let settings = Settings { frost: Some(Frost::on(day("2008-05-01"))), ..Settings::default() };
    season.apply(&Op::SetSettings(settings).into()).expect("a frost date");
    season
}

fn taken() -> (Season, sowings::Table) {
    let season = empty();
    let table = sowings::read(TABLE.as_bytes(), &sowings::Wish::default(), &season, library()).expect("a table");
    let mut with = season.clone();
    with.apply(&table.edit(&season, library())).expect("its sowings");
    (with, table)
}

fn of_crop(season: &Season, crop: &str) -> SowingId {
    season.sowings().find(|sowing| &*sowing.crop.0 == crop).unwrap_or_else(|| panic!("no {crop}")).id
}

/// Sown and out.
fn dates(season: &Season, crop: &str) -> [NaiveDate; 2] {
    let (id, forecast) = (of_crop(season, crop), forecast(season, library()));
    [What::Sown, What::Out { plants: 1 }].map(|what| crate::support::date_of(&forecast, id, what))
}

#[test]
fn ten_rows_come_out_as_the_sheet_has_them() {
    let (season, _) = taken();
    for (crop, sown, out) in DATES {
        assert_eq!(dates(&season, crop), [day(sown), day(out)], "{crop}");
        let rule = season.sowing(of_crop(&season, crop)).map(|sowing| sowing.wanted[0].rule);
        assert!(matches!(rule, Some(OutRule::Frost { .. })), "{crop} is taken by its rule");
    }
}

#[test]
fn the_row_of_peas_is_off_its_rule() {
    let (season, table) = taken();
    assert_eq!(table.odd.len(), 1, "{:?}", table.odd);
    let odd = &table.odd[0];
    assert_eq!((odd.line, odd.column), (12, 5));
    let OddKind::OffRule { out, frost, weeks, would_be, .. } = &odd.kind else { panic!("{odd}") };
    assert_eq!((*out, *frost, *weeks), (day("2008-03-15"), day("2008-05-01"), (-8, -6)));
    assert_eq!((*frost - *out).num_days(), 47);
    let wanted = [("2008-03-20", "2008-02-28"), ("2008-03-13", "2008-02-21"), ("2008-03-06", "2008-02-14")];
    let found: Vec<_> = would_be.iter().map(|(_, out, sow)| (*out, *sow)).collect();
    assert_eq!(found, wanted.map(|(out, sow)| (day(out), Some(day(sow)))));
    let said = odd.to_string();
    assert!(
        said.contains("47 days before the frost date of Thu 1 May 2008, 6.7 weeks, no whole number from 6 to 8"),
        "{said}"
    );
    assert!(said.contains("6 weeks = Thu 20 Mar 2008 (sown Thu 28 Feb 2008)"), "{said}");
    // its own dates are kept
    assert_eq!(dates(&season, "pea"), [day("2008-02-23"), day("2008-03-15")]);
}

#[test]
fn next_year_goes_by_the_rules() {
    let (season, _) = taken();
    let next = next_year(&season, library(), 2009, own_records).expect("it has a frost date").season;
    assert_eq!(next.settings().frost.as_ref().map(|frost| frost.date), Some(day("2009-05-01")));
    // before 1 March one day earlier, for 2008 had a 29 February
    for (crop, sown) in [
        ("onion", "2009-02-13"),
        ("parsley", "2009-02-12"),
        ("cabbage", "2009-02-27"),
        ("pepper", "2009-03-06"),
        ("lettuce", "2009-03-06"),
    ] {
        assert_eq!(dates(&next, crop)[0], day(sown), "{crop}");
    }
    for (crop, _, out) in DATES {
        assert_eq!(dates(&next, crop)[1].format("%m-%d").to_string(), out[5..], "{crop}");
    }
}

#[test]
fn what_was_done_stays_in_its_year() {
    let (mut season, _) = taken();
    let id = of_crop(&season, "onion");
    let mut onion = season.sowing(id).expect("there").clone();
    let next = season.next_id();
    let seen = |n, date: &str, what| flatwright::season::Observation {
        id: RecordId(next + n),
        date: day(date),
        what,
        lot: None,
    };
    onion.seen =
        vec![seen(0, "2008-02-16", Observed::Sown { cells: None }), seen(1, "2008-04-05", Observed::PutOut(1))];
    season.apply(&Op::PutSowing(onion).into()).expect("records");
    let next = next_year(&season, library(), 2009, own_records).expect("it has a frost date");
    assert_eq!(season.sowing(id).map(|sowing| sowing.seen.len()), Some(2));
    assert!(next.season.sowings().all(|sowing| sowing.seen.is_empty()));
    assert!(next.changes.contains(&Change::DoneLeft { records: 2 }), "{:?}", next.changes);
    assert_eq!(dates(&next.season, "onion")[0], day("2009-02-13"), "by the rule, not by the day it was done");
}
