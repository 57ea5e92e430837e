//! A table as the grower has it read.

use std::path::Path;

use chrono::NaiveDate;

use super::error::{MOST_COLUMNS, MOST_ROWS};
use super::*;
use crate::season::{Frost, Op, OutRule, Season, Settings};
use crate::store::{LineCol, library};

fn season() -> Season {
    let mut season = Season::new("2027");
    let frost = NaiveDate::from_ymd_opt(2027, 5, 1).map(Frost::on);
    season.apply(&Op::SetSettings(Settings { frost, ..Settings::default() }).into()).expect("a frost date");
    season
}

fn kept(table: &str, weeks: &[(u64, i16)]) -> Table {
    let wish = Wish { weeks: weeks.iter().copied().collect(), ..Wish::default() };
    read(table.as_bytes(), &wish, &season(), library()).expect("a table")
}

fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, month, day).expect("a day")
}

const OFF: &str = "Crop,Days,Weeks from frost,Sow,Out\nPea,21,-8 to -6,23 Feb,16 Mar\nOnion,49,-4,13 Feb,3 Apr\n";

#[test]
fn a_row_off_its_rule_keeps_its_dates_or_to_weeks_that_it_names() {
    let table = kept(OFF, &[]);
    assert_eq!((table.rows[0].out, table.rows[0].rule), (day(3, 16), OutRule::Day));
    assert!(table.odd[0].in_words().ends_with("the row's own dates are kept"), "{}", table.odd[0]);
    let table = kept(OFF, &[(2, -7)]);
    let row = &table.rows[0];
    assert_eq!((row.out, row.rule), (day(3, 13), OutRule::Frost { days: -49, waits: false }));
    assert!(table.odd[0].in_words().ends_with("the row keeps to 7 weeks"), "{}", table.odd[0]);
    let OddKind::OffRule { kept_to, .. } = &table.odd[0].kind else { panic!("{:?}", table.odd) };
    assert_eq!(*kept_to, Some(-7));
    assert_eq!(kept(OFF, &[(2, -9), (3, -6)]), kept(OFF, &[]), "no weeks of theirs");
}

#[test]
fn days_are_held_against_the_day_that_was_chosen() {
    let off_days = |weeks: &[(u64, i16)]| {
        let odd = kept(OFF, weeks).odd;
        odd.into_iter().filter(|odd| matches!(odd.kind, OddKind::OffDays { .. })).map(|odd| odd.line).collect()
    };
    // 23 February and 21 days is 16 March
    let none: Vec<u64> = off_days(&[]);
    assert_eq!(none, [] as [u64; 0], "{:?}", kept(OFF, &[]).odd);
    let with: Vec<u64> = off_days(&[(2, -7)]);
    assert_eq!(with, [2]);
}

#[test]
fn headings_say_what_they_mean_and_what_stands_below() {
    let found = headings(b"Crop;Set out;;Plot\nPea;3 Apr;x\n").expect("headings");
    let found: Vec<_> = found.iter().map(|one| (one.text.as_str(), one.means, one.first.as_str())).collect();
    let wanted = [("Crop", Some(Column::Crop), "Pea"), ("Set out", Some(Column::Out), "3 Apr"), ("", None, "x")];
    assert_eq!(found[..3], wanted);
    assert_eq!(found[3], ("Plot", None, ""));
    assert_eq!(headings(b" \n"), Err(TableError::Empty));
    assert_eq!(headings(b"Crop\nP\xFF\n"), Err(TableError::NotText(LineCol { line: 2, col: 2 })));
    assert_eq!(headings(",".repeat(MOST_COLUMNS).as_bytes()), Err(TableError::TooWide));
}

#[test]
fn lines_are_those_of_the_file() {
    let table = kept("Crop,Out,Note\n\nPea,3 Apr,\"a\nb\"\n\n\nOnion,4 Apr,\nrubbish,4 Apr\n", &[]);
    assert_eq!(table.rows.iter().map(|row| row.line).collect::<Vec<_>>(), [3, 7]);
    assert_eq!(table.odd.iter().map(|odd| (odd.line, odd.column)).collect::<Vec<_>>(), [(8, 1)]);
}

#[test]
fn more_rows_than_anyone_sows_are_refused_good_or_bad() {
    for row in ["Pea,3 Apr", "Pea,soon"] {
        let table = format!("Crop,Out\nPea,3 Apr\n{}", format!("{row}\n").repeat(MOST_ROWS));
        assert_eq!(read(table.as_bytes(), &Wish::default(), &season(), library()), Err(TableError::TooLong), "{row}");
    }
}

#[test]
fn an_error_stands_behind_the_name_of_its_file() {
    let twice = read(b"Crop,Sow,Sown\nPea,1 Mar,2 Mar\n", &Wish::default(), &season(), library());
    let said = twice.expect_err("two of a kind").of_file(Path::new("plan.csv"));
    assert!(said.starts_with("plan.csv:1:3: two columns are taken for the sow"), "{said}");
    assert_eq!(TableError::Empty.of_file(Path::new("plan.csv")), "plan.csv: the file is empty");
}

#[test]
fn what_the_rows_become_is_known_without_changing_the_season() {
    let season = season();
    let table = kept(OFF, &[(2, -6)]);
    let planned = table.planned(&season, library()).expect("sowings");
    let said: Vec<_> = planned.iter().map(|one| (one.line, one.sowing.as_str(), one.sow, one.out)).collect();
    assert_eq!(
        said,
        [(2, "Garden pea", Some(day(2, 27)), day(3, 20)), (3, "Onion (bulb, from seed)", Some(day(2, 13)), day(4, 3))]
    );
    assert_eq!(season.sowings().count(), 0);
}

#[test]
fn a_table_may_say_what_it_is_sown_in() {
    let table = kept(
        "Crop,Plants,Sown in,Out\nOnion,600,flat,11 Apr\nOnion,600,288,11 Apr\nTomato,60,bath,16 May\nPea,20,plug,1 Apr\n",
        &[],
    );
    let mut season = season();
    season.apply(&table.edit(&season, library())).expect("sowings");
    let first: Vec<String> =
        season.sowings().filter_map(|sowing| Some(sowing.steps.first()?.container.to_string())).collect();
    assert_eq!(first, ["flat_1020", "plug_288", "plug_72", "plug_50"], "the usual one where none is known");
    let odd: Vec<String> = table.odd.iter().map(ToString::to_string).collect();
    assert_eq!(odd[0], "4:3: Tomato: no tray or pot \"bath\"; the usual one is taken");
    assert!(
        odd[1].starts_with("5:3: Pea: \"plug\" may be ") && odd[1].ends_with("; the usual one is taken"),
        "{odd:?}"
    );
    assert!(table.odd.iter().all(|odd| !odd.is_left_out()));
}
