//! A grower's own sowing table: read, looked at, taken in.

use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use egui::accesskit::Role;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::season::{EditLabel, Frost, Op, OutRule, Season, Settings, Sowing};
use flatwright::window::Purpose;
use flatwright::words;
use flatwright::words::sowing_table as said;

use crate::desktop::{Dialogs, Fake};
use crate::hand::{choose, field, page_of, press, season, settle, undo, value};
use crate::{Window, menu, until};

/// Of the case with one row off its rule.
const TABLE: &str = include_str!("../cases/data/one_bad_row.csv");

fn with_frost() -> Season {
    let mut season = Season::new("2008");
    let frost = NaiveDate::from_ymd_opt(2008, 5, 1).map(Frost::on);
    season.apply(&Op::SetSettings(Settings { frost, ..Settings::default() }).into()).expect("a frost date");
    season
}

fn window(season: Season, desktop: Option<Fake>) -> Window {
    page_of(season, desktop, said::OPEN)
}

fn file(text: impl AsRef<[u8]>) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("plan.csv");
    std::fs::write(&path, text).expect("a file");
    (folder, path)
}

/// Draws until nothing is being read.
fn wait(window: &mut Window) {
    until(window, |window| window.query_by_label(said::READING).is_none());
    settle(window);
}

fn read(window: &mut Window, path: &Path) {
    field(window, said::FILE, &path.display().to_string());
    wait(window);
}

/// With that text in a file that was read.
fn looking_at(season: Season, text: impl AsRef<[u8]>) -> Window {
    let (_folder, path) = file(text);
    let mut window = window(season, None);
    read(&mut window, &path);
    window
}

fn taken_for(window: &mut Window, column: &str, what: &str) {
    window.get_by_label(column).click();
    settle(window);
    window.get_by_role_and_label(Role::Button, what).click();
    settle(window);
    wait(window);
}

fn sowing<'a>(window: &'a Window, crop: &str) -> &'a Sowing {
    season(window).sowings().find(|one| &*one.crop.0 == crop).unwrap_or_else(|| panic!("no {crop}"))
}

fn says(window: &Window, text: &str) {
    assert!(window.query_all_by_label_contains(text).count() > 0, "nothing says {text:?}");
}

#[test]
fn a_table_is_looked_at_before_it_is_taken_in_and_one_step_undoes_it() {
    let mut window = looking_at(with_frost(), TABLE);
    assert_eq!(season(&window).sowings().count(), 0, "nothing is changed before");
    for (column, what) in [
        (&said::is_taken_for(1, "Crop"), "crop"),
        (&said::is_taken_for(2, "Days from sowing"), "days"),
        (&said::is_taken_for(3, "Weeks from frost"), "weeks"),
        (&said::is_taken_for(5, "Set out"), "out"),
    ] {
        assert_eq!(window.get_by_label(column).value().as_deref(), Some(what), "{column}");
    }
    says(&window, "line 2, Basil, 1 plant, sow Thu 27 Mar 2008, out Thu 8 May 2008, 1 week after the frost date");
    press(&mut window, &said::show_row(12, 5));
    says(
        &window,
        "line 12, Garden pea, 1 plant, sow Sat 23 Feb 2008, out Sat 15 Mar 2008, the date given, off its rule",
    );
    window.get_by_label("Off their own rule: 1");
    says(&window, "47 days before the frost date of Thu 1 May 2008, 6.7 weeks, no whole number from 6 to 8");
    says(&window, "Line 12, column 5");
    press(&mut window, &said::take_in(11));
    assert_eq!(season(&window).sowings().count(), 11);
    assert_eq!(window.state().history().undo_label(), Some(&EditLabel::TakeIn(11)));
    assert_eq!(sowing(&window, "pea").wanted[0].rule, OutRule::Day);
    says(&window, words::sowings::FIND);
    undo(&mut window);
    assert_eq!(season(&window).sowings().count(), 0, "one step");
}

#[test]
fn a_row_off_its_rule_is_moved_to_it_by_a_click_and_back() {
    let mut window = looking_at(with_frost(), TABLE);
    choose(&mut window, "Line 12: 6 weeks before: out Thu 20 Mar 2008");
    wait(&mut window);
    says(&window, "out Thu 20 Mar 2008, 6 weeks before the frost date, now by its rule");
    says(&window, "the row keeps to 6 weeks");
    choose(&mut window, "Line 12: its own dates: out Sat 15 Mar 2008");
    wait(&mut window);
    says(&window, "out Sat 15 Mar 2008, the date given, off its rule");
    choose(&mut window, "Line 12: 7 weeks before: out Thu 13 Mar 2008");
    wait(&mut window);
    press(&mut window, &said::take_in(11));
    let wanted = &sowing(&window, "pea").wanted[0];
    assert_eq!(wanted.rule, OutRule::Frost { days: -49, waits: false });
    assert_eq!(Some(wanted.date), NaiveDate::from_ymd_opt(2008, 3, 13));
}

#[test]
fn another_choice_for_a_column_reads_again() {
    let mut window = looking_at(with_frost(), TABLE);
    taken_for(&mut window, &said::is_taken_for(3, "Weeks from frost"), "not used");
    assert!(window.query_by_label_contains(said::OFF_RULE).is_none());
    says(&window, "line 2, Basil, 1 plant, sow Thu 27 Mar 2008, out Thu 8 May 2008, the date given");
    taken_for(&mut window, &said::is_taken_for(1, "Crop"), "note");
    says(&window, "plan.csv:1:1: found the headings");
    says(&window, "one must be for the crop");
    assert!(window.get_by_label(said::TAKE_IN).accesskit_node().is_disabled());
    taken_for(&mut window, &said::is_taken_for(1, "Crop"), "crop");
    taken_for(&mut window, &said::is_taken_for(4, "Sow"), "out");
    says(&window, "plan.csv:1:5: two columns are taken for the out: \"Sow\" and \"Set out\"");
    taken_for(&mut window, &said::is_taken_for(4, "Sow"), "not used");
    press(&mut window, &said::take_in(11));
    assert_eq!(sowing(&window, "basil").wanted[0].rule, OutRule::Day);
}

#[test]
fn leaving_it_changes_nothing() {
    let mut window = looking_at(with_frost(), TABLE);
    press(&mut window, said::LEAVE);
    says(&window, "Nothing is sown in this season yet");
    assert_eq!(window.state().history().undo_label(), None);
    press(&mut window, said::OPEN);
    assert_eq!(value(&window, said::FILE), "");
}

#[test]
fn rows_that_are_left_out_are_told_with_their_place() {
    let text = "Crop,Plants,Out\nPea,12,3 Apr\nrubbish,4,3 Apr\nOnion,,4 Apr\nLeek,2,31 Apr\n";
    let mut window = looking_at(with_frost(), text);
    window.get_by_label("Left out: 2");
    window.get_by_label("Without a number of plants: 1");
    says(&window, "line 3, rubbish, left out");
    says(&window, "Line 5, column 3");
    says(&window, "31 Apr");
    says(&window, "3 things to look at; 2 rows left out");
    press(&mut window, &said::show_row(5, 3));
    press(&mut window, &said::take_in(2));
    assert_eq!(sowing(&window, "pea").plants_wanted(), 12);
}

#[test]
fn what_is_no_table_is_refused_in_words_beside_the_button() {
    for (text, why) in [
        (&b" \n"[..], "plan.csv: the file is empty"),
        (b"Crop,Out\nPea,3 Apr\nP\xFF,3 Apr\n", "plan.csv:3:2: this is not text in UTF-8"),
        (b"Bed,Out\n4,3 Apr\n", "plan.csv:1:1: found the headings \"Bed\", \"Out\""),
        (b"Crop,Sow,Sown\nPea,3 Apr,4 Apr\n", "plan.csv:1:3: two columns are taken for the sow"),
        (b"Crop,Out\nrubbish,3 Apr\nPea,soon\n", "plan.csv: no row could be read: 2:1: rubbish:"),
        (b"Crop,Out\n", "it has headings only"),
    ] {
        let window = looking_at(with_frost(), text);
        says(&window, why);
        assert!(window.get_by_label(said::TAKE_IN).accesskit_node().is_disabled(), "{why}");
        assert_eq!(season(&window).sowings().count(), 0, "{why}");
    }
    let mut gone = window(with_frost(), None);
    read(&mut gone, Path::new("/nowhere/plan.csv"));
    says(&gone, "plan.csv: there is no such file");
    assert_eq!(value(&gone, said::FILE), "/nowhere/plan.csv", "what was typed stays");
}

#[test]
fn without_a_frost_date_the_page_leads_to_one_and_reads_again_afterwards() {
    let mut window = looking_at(Season::new("New"), "Crop,Weeks from frost\nPea,-4\nOnion,-6\n");
    says(&window, "weeks from the frost, and the season has no frost date");
    says(&window, "This season has no frost date");
    press(&mut window, said::LAST_FROST);
    field(&mut window, words::frost::DAY, "1 May 2027");
    menu(&mut window, words::menu::SEASON, said::OPEN);
    settle(&mut window);
    wait(&mut window);
    assert!(window.query_by_label_contains("This season has no frost date").is_none());
    says(&window, "out Sat 3 Apr 2027, 4 weeks before the frost date");
    press(&mut window, &said::take_in(2));
}

#[test]
fn it_is_chosen_in_a_dialog_or_by_the_path_where_none_comes_up() {
    let (folder, path) = file(TABLE);
    let desktop = Fake::new(folder.path(), Dialogs::Answer(path.clone()));
    let mut chosen = window(with_frost(), Some(desktop.clone()));
    press(&mut chosen, said::CHOOSE);
    wait(&mut chosen);
    assert_eq!(desktop.asked().iter().map(|one| one.purpose).collect::<Vec<_>>(), [Purpose::SowingTable]);
    assert_eq!(value(&chosen, said::FILE), path.display().to_string());
    chosen.get_by_label(&said::take_in(11));

    let mut window = window(with_frost(), Some(Fake::new(folder.path(), Dialogs::Missing)));
    press(&mut window, said::CHOOSE);
    window.get_by_label_contains("There is no dialog service");
    window.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    settle(&mut window);
    window.event(egui::Event::Text(path.display().to_string()));
    settle(&mut window);
    press(&mut window, words::files::READ);
    wait(&mut window);
    window.get_by_label(&said::take_in(11));
}

#[test]
fn of_a_long_table_only_what_is_in_view_is_drawn() {
    let mut text = "Crop,Plants,Out\n".to_owned();
    for row in 0..20_000 {
        text.push_str(if row % 2 == 0 { "Pea,3,3 Apr\n" } else { "Onion,,3 Apr\n" });
    }
    let mut window = looking_at(with_frost(), text);
    window.get_by_label(&said::take_in(20000));
    let drawn = |window: &Window| window.query_all_by_role(Role::ListItem).count();
    assert!((5..60).contains(&drawn(&window)), "{}", drawn(&window));
    window.get_by_label("1 to 40 of 10000");
    press(&mut window, said::AFTER);
    window.get_by_label("41 to 80 of 10000");
    window.get_by_role(Role::ListBox).focus();
    settle(&mut window);
    window.key_press(egui::Key::End);
    settle(&mut window);
    says(&window, "line 20001, Onion");
    assert!((5..60).contains(&drawn(&window)), "{}", drawn(&window));
    window.key_press(egui::Key::ArrowUp);
    settle(&mut window);
    says(&window, "Rows of the table, 20000; line 20000, Garden pea");
}

#[test]
fn every_part_of_the_page_is_reached_by_keys() {
    let mut window = looking_at(with_frost(), TABLE);
    let mut reached = std::collections::BTreeSet::new();
    for _ in 0..60 {
        window.key_press(egui::Key::Tab);
        settle(&mut window);
        let focused = window.root().children_recursive().find(|node| node.accesskit_node().is_focused());
        reached.extend(focused.and_then(|node| node.accesskit_node().label()));
    }
    for name in [
        said::FILE,
        said::CHOOSE,
        said::READ,
        &said::is_taken_for(3, "Weeks from frost"),
        &said::show_row(12, 5),
        "Line 12: its own dates: out Sat 15 Mar 2008",
        &said::take_in(11),
        said::LEAVE,
    ] {
        assert!(reached.contains(name), "{name} in {reached:?}");
    }
    assert!(reached.iter().any(|name| name.starts_with("Rows of the table")), "{reached:?}");
}
