//! The exact words for files that are wrong.

use std::path::Path;

use flatwright::store::{load, parse, to_text};

const SPRING: &str = include_str!("spring.ron");

#[track_caller]
fn check_file(name: &str, message: &str) {
    let path = Path::new("tests/files").join(name);
    let refused = load(&path).expect_err("it is wrong").to_string();
    assert_eq!(refused, format!("tests/files/{name}{message}"));
}

/// The season of `spring.ron` with something changed in it.
#[track_caller]
fn check(from: &str, to: &str, message: &str) {
    assert!(SPRING.contains(from), "{from} is in spring.ron");
    check_text(SPRING.replacen(from, to, 1).as_bytes(), message);
}

#[track_caller]
fn check_text(bytes: &[u8], message: &str) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("spring.ron");
    std::fs::write(&path, bytes).unwrap();
    let refused = load(&path).expect_err("it is wrong").to_string();
    let shown = refused.strip_prefix(&format!("{}", folder.path().join("").display())).unwrap_or(&refused);
    assert_eq!(shown, format!("spring.ron{message}"));
}

#[test]
fn files_that_are_no_seasons_are_told_apart() {
    let wanted = "where format: \"flatwright season\" should stand";
    check_file("empty.ron", &format!(": this is not a season file: it is empty, {wanted}"));
    check_file("letter.ron", &format!(": this is not a season file: it says something else, {wanted}"));
    check_text(b" \r\n\t", &format!(": this is not a season file: it is empty, {wanted}"));
    check_text(&[0; 4096], &format!(": this is not a season file: it holds nothing but zeros, {wanted}"));
    check_text(
        b"\x89PNG\r\n\x1a\n\0\xff",
        &format!(":1:1: this is not a season file: it is not text (UTF-8) from here on, {wanted}"),
    );
    check(
        "flatwright season",
        "flatwright crops",
        &format!(": this is not a season file: it says format: \"flatwright crops\", {wanted}"),
    );
    check(
        "    format: \"flatwright season\",\n",
        "",
        &format!(": this is not a season file: it names no format, {wanted}"),
    );
}

#[test]
fn versions_that_cannot_be_read_are_named() {
    check_file("too-new.ron", ": made by a newer release (file version 7, this program reads up to 2)");
    check("version: 2", "version: 0", ": there is no file version 0; this program writes version 2");
    check("    version: 2,\n", "", ": the season's version is missing; write version: 2");
}

#[test]
fn slips_of_the_keyboard_have_a_line_and_a_column() {
    check_file("broken.ron", ":14:42: found the unit \"im\"; use one of mm, cm, m, in, ft");
    check_file("half-written.ron", ":23:71: the file ends too early; was it cut off?");
    check("tier: 2, size", "tier: 2 size", ":13:34: a comma belongs here");
    check("\"Early Red\"", "\"Early Red", ":20:30: a comma belongs here");
    check("clear_height", "clear_hight", ":12:55: this shelf has a field clear_hight; did you mean clear_height?");
    check(
        "clear_height",
        "colour",
        ":12:55: this shelf has a field colour; its fields are id, rack, tier, size, clear_height, reach, overhang, allowance_percent, load_grams, light, closed, zones",
    );
    check("Growing", "Growin", ":6:39: found Growin; write Germinating, Growing or Hardening");
    check("role: Growing", "role: 3", ":6:39: found 3, where a word belongs");
    check(", size: \"48 x 18 in\"", "", ":12:56: the field size is missing from this shelf");
    check("tier: 1", "tier: 1, tier: 1", ":12:35: the field tier stands twice in this shelf");
    check("plants: 72", "plants: \"72\"", ":20:50: a whole number belongs here");
    check("plants: 72", "plants: -72", ":20:52: this number is too large, or below 0");
    check("plants: 72", "plants: 7e9", ":20:51: found 'e' in a whole number");
    check_text(
        &SPRING.as_bytes()[..SPRING.find(", clear_height").unwrap()],
        ":12:53: the file ends too early; was it cut off?",
    );
    check("lots: [(id: 8)]", "lots: (id: 8)", ":25:18: a list in [ ] belongs here");
    check("id: 5", "id: 50000000000", ":17:17: this number is too large, or below 0");
}

#[test]
fn values_that_cannot_be_are_refused_where_they_stand() {
    check("48 x 18 in", "-48 x 18 in", ":12:42: found \"-48 in\"; it must be from 0 to 1 km");
    check("48 x 18 in", "48 x 18", ":12:42: found \"18\" without a unit; add one of mm, cm, m, in, ft");
    check("48 x 18 in", "48 in", ":12:42: found \"48 in\"; write a size such as 48 x 18 in");
    check("16 in", "16 inch es", ":12:70: found the unit \"inch es\"; use one of mm, cm, m, in, ft");
    check("2027-05-16", "2027-02-30", ":20:30: found \"2027-02-30\"; the calendar has no such day");
    check("2027-05-16", "16 May", ":20:30: found \"16 May\"; write a date such as 2027-04-14");
    let wrong_order = "role: Growing, open: [(from: \"2027-05-01\", until: \"2027-04-01\")]";
    check(
        "role: Growing",
        wrong_order,
        ":6:95: the last day must come after the first, found Sat 1 May 2027 to Thu 1 Apr 2027",
    );
    check("crop: \"tomato\"", "series: [], crop: \"tomato\"", ":18:20: text in \" \" belongs here");
}

#[test]
fn what_an_edit_would_refuse_a_file_cannot_smuggle_in() {
    check("48 x 18 in", "480 x 18 m", ":12:9: shelf 3: a shelf's width must be from 50 mm to 100 m, found 480 m");
    let twice = "role: Growing, open: [(from: \"2027-04-20\", until: \"2027-06-01\"), \
                 (from: \"2027-03-01\", until: \"2027-04-21\")]";
    check(
        "role: Growing",
        twice,
        ":6:9: place 1 (\"Cellar\"): open days must not overlap, found Mon 1 Mar 2027 to Wed 21 Apr 2027 and \
         Tue 20 Apr 2027 to Tue 1 Jun 2027; make one of the two",
    );
    check("place: 1", "place: 9", ":9:9: rack 2 (\"Wire rack\"): there is no place 9 in this season");
    check("\"Wire rack\"", "\" \"", ":9:9: rack 2 (\" \"): a name is missing");
    check(
        "plants: 72",
        "plants: 0",
        ":16:9: sowing 5 (tomato \"Early Red\"): the number of plants must be from 1 to 1000000, found 0",
    );
    check("lots: [(id: 8)]", "lots: []", ":16:9: sowing 5 (tomato \"Early Red\"): a sowing needs at least one batch");
    check("Spring in the cellar", "", ":4:11: the season: a name is missing");
    check(
        "version: 2,",
        "version: 2, settings: (gap: \"1 m\"),",
        ":3:33: the settings: the gap beside a tray must be from 0 mm to 200 mm, found 1 m",
    );
    let spots = "spots: [\n(tray: Own(lot: 8, step: 6, n: 1), shelf: 30, x: \"0 mm\", y: \"0 mm\")], places:";
    check("places:", spots, ":6:1: the spot of tray 1 of lot 8 in step 6: there is no shelf 30 in this season");
    check(
        "places:",
        &spots.replace("shelf: 30", "shelf: 3").replace("lot: 8", "lot: 80"),
        ":6:1: the spot of tray 1 of lot 80 in step 6: there is no such tray in this season",
    );
    check(
        "places:",
        &spots.replace("shelf: 30", "shelf: 3, from: \"2027-03-01\"").replace("n: 1", "n: 0"),
        ":6:1: the spot of tray 0 of lot 8 in step 6 from Mon 1 Mar 2027: there is no such tray in this season",
    );
}

/// A name of two lines could write a verdict of its own at a terminal.
#[test]
fn names_stand_within_a_line() {
    let one_line = "must be one line of plain text, found";
    check("Spring in", "Spring\\nFits: in", &format!(":4:11: the season: the season's name {one_line} '\\n'"));
    check(
        "Cellar",
        "Cel\\u{1b}[31mlar",
        &format!(":6:9: place 1 (\"Cel\\u{{1b}}[31mlar\"): a place's name {one_line} '\\u{{1b}}'"),
    );
    check(
        "Early Red",
        "Early\u{202e}Red",
        &format!(":16:9: sowing 5 (tomato \"Early\\u{{202e}}Red\"): a variety's name {one_line} '\\u{{202e}}'"),
    );
    let frost = |station: &str| {
        format!(
            "version: 2, note: \"two\\nlines\",\nsettings: (frost: (date: \"2027-05-02\", later_in_ten: 5, temperature: \"0 °C\", station: \"{station}\")),"
        )
    };
    check("version: 2,", &frost("a\\rb"), &format!(":4:87: the settings: a station's name {one_line} '\\r'"));
    let note = "version: 2, note: \"a \\u{7} bell\",";
    check("version: 2,", note, ":3:23: the season: the season's note must be plain text, found '\\u{7}'");
}

#[test]
fn broken_letters_have_a_line_and_a_column() {
    let mut bytes = SPRING.replacen("Cellar", "Kühlraum", 1).into_bytes();
    let at = bytes.windows(2).position(|two| two == "ü".as_bytes()).unwrap();
    bytes.splice(at..at + 2, [0xFC]); // as it stands in Latin-1
    check_text(
        &bytes,
        ":6:25: this is not a season file: it is not text (UTF-8) from here on, where format: \"flatwright season\" should stand",
    );
}

#[test]
fn names_that_nothing_has_are_named_with_the_nearest_there_is() {
    check(
        "crop: \"tomato\"",
        "crop: \"tomatto\"",
        ":16:9: sowing 5 (tomatto \"Early Red\"): no crop \"tomatto\" in this season or the library; did you mean \"tomato\"?",
    );
    check(
        "crop: \"tomato\"",
        "crop: \"baobab\"",
        ":16:9: sowing 5 (baobab \"Early Red\"): no crop \"baobab\" in this season or the library",
    );
    check(
        "plug_72",
        "plug_73",
        ":16:9: sowing 5 (tomato \"Early Red\"): no container \"plug_73\" in this season or the library; did you mean \"plug_72\"?",
    );
    check(
        "flat_1020",
        "biscuit tin",
        ":16:9: sowing 5 (tomato \"Early Red\"): no container \"biscuit tin\" in this season or the library",
    );
}

#[test]
fn nothing_is_in_a_file_twice() {
    check("id: 4", "id: 3", ":13:9: shelf 3 is in this file twice");
    check("[(id: 8)]", "[(id: 8), (id: 8)]", ":16:9: sowing 5 (tomato \"Early Red\"): lot 8 is in this file twice");
    check(
        "(id: 7, container",
        "(id: 6, container",
        ":16:9: sowing 5 (tomato \"Early Red\"): step 6 is in this file twice",
    );
    let second = "sowings: [\n/* another */ (id: 20, crop: \"pepper\", wanted: [(date: \"2027-05-16\", plants: 6)], \
                  steps: [(id: 21, container: \"plug_72\")], lots: [(id: 8)]),";
    check("sowings: [", second, ":17:9: sowing 5 (tomato \"Early Red\"): lot 8 is there already");
    check(
        "sowings: [",
        &second.replace("id: 20", "id: 5").replace("id: 8", "id: 22"),
        ":17:9: sowing 5 (tomato \"Early Red\") is in this file twice",
    );
    let spots = "spots: [(tray: Guest(guest: 2, n: 1), shelf: 3, x: \"0 mm\", y: \"0 mm\"), \
                 (tray: Guest(guest: 2, n: 1), shelf: 4, x: \"0 mm\", y: \"0 mm\")], places:";
    check("places:", spots, ":5:76: the spot of tray 1 of guest 2 is in this file twice");
}

#[test]
fn foreign_line_ends_and_a_byte_order_mark_are_no_matter() {
    let season = parse(SPRING, Path::new("spring.ron")).unwrap();
    let crlf = SPRING.replace('\n', "\r\n");
    assert_eq!(parse(&crlf, Path::new("spring.ron")).unwrap(), season);
    assert_eq!(parse(&format!("\u{feff}{SPRING}"), Path::new("spring.ron")).unwrap(), season);
    check_text(
        crlf.replace("18 in", "18 im").as_bytes(),
        ":12:42: found the unit \"im\"; use one of mm, cm, m, in, ft",
    );
    let commented = SPRING.replace("sowings:", "/* all of /* them */ */ sowings: // here\n");
    assert_eq!(to_text(&parse(&commented, Path::new("spring.ron")).unwrap()), to_text(&season));
}
