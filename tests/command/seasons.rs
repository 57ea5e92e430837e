use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::args;
use crate::tools::{crowded, example, fields, json, list, number, roomy, run, says, text};

const WEEK: [&str; 14] = [
    "chance",
    "from",
    "held",
    "lit",
    "needed",
    "over_lit",
    "place",
    "plants",
    "short",
    "short_at_most",
    "spare",
    "trays",
    "verdict",
    "week",
];

#[track_caller]
fn check_weeks(answer: &Value) {
    let weeks = list(answer, "weeks");
    assert!(!weeks.is_empty(), "{answer}");
    weeks.iter().for_each(check_week);
}

#[track_caller]
fn check_week(week: &Value) {
    assert_eq!(fields(week), WEEK);
    assert!(is_day(text(week, "from")), "{week}");
    assert_eq!(fields(&week["chance"]), ["at_most", "proven"]);
    let part = |name: &str| week["chance"][name].as_f64().expect("a part of one");
    assert!(0.0 <= part("proven") && part("proven") <= part("at_most") && part("at_most") <= 1.0, "{week}");
    assert!(["fits", "crunch", "unsettled"].contains(&text(week, "verdict")), "{week}");
    let (needed, held, spare) = (number(week, "needed"), number(week, "held"), number(week, "spare"));
    match text(week, "verdict") {
        "fits" => assert_eq!(held, needed + spare, "{week}"),
        "crunch" => assert!(held < needed && spare == 0, "{week}"),
        _ => assert!(held == needed && spare == 0 && number(week, "short_at_most") > 0, "{week}"),
    }
    assert!(number(week, "over_lit") <= needed && needed <= number(week, "trays"), "{week}");
    // guests are no plants that were sown
    assert!(needed > 0 || number(week, "plants") == 0, "{week}");
}

fn is_day(text: &str) -> bool {
    let mut parts = text.split('-').map(str::len);
    (parts.next(), parts.next(), parts.next(), parts.next()) == (Some(4), Some(2), Some(2), None)
}

#[test]
fn check_says_that_a_roomy_season_fits() {
    let out = says(args!["check", roomy()], 0);
    assert!(out.starts_with("Roomy spare room 2027\nEverything fits"), "{out}");
    assert!(out.contains("\nweek "), "{out}");
    assert!(out.lines().all(|line| line.trim_end() == line), "{out}");
    let answer = json(args!["check", roomy(), "--json"], 0);
    assert_eq!(fields(&answer), ["crunches", "problems", "season", "verdict", "weeks"]);
    assert_eq!((text(&answer, "season"), text(&answer, "verdict")), ("Roomy spare room 2027", "fits"));
    assert!(list(&answer, "crunches").is_empty());
    check_weeks(&answer);
}

#[test]
fn check_proves_each_crunch_in_numbers() {
    let out = says(args!["check", crowded()], 1);
    assert!(out.starts_with("Community room 2027\nThe shelves run out of room"), "{out}");
    let answer = json(args!["check", crowded(), "--json"], 1);
    assert_eq!(text(&answer, "verdict"), "crunch");
    let crunches = list(&answer, "crunches");
    assert!(!crunches.is_empty());
    for crunch in crunches {
        assert_eq!(
            fields(crunch),
            [
                "days",
                "from",
                "held",
                "needed",
                "place",
                "places",
                "proof",
                "reason",
                "short",
                "short_at_most",
                "until",
                "worst_day"
            ]
        );
        let (from, until, worst) = (text(crunch, "from"), text(crunch, "until"), text(crunch, "worst_day"));
        assert!(is_day(from) && from <= worst && worst < until, "{crunch}");
        assert_eq!(number(crunch, "held"), number(crunch, "needed") - number(crunch, "short"), "{crunch}");
        assert!(number(crunch, "short") > 0 && number(crunch, "short") <= number(crunch, "short_at_most"));
        assert_eq!(text(&crunch["proof"], "day"), worst);
        let stays = list(&crunch["proof"], "stays");
        assert_eq!(i64::try_from(stays.len()), Ok(number(crunch, "needed")), "{crunch}");
        let enough = list(&crunch["proof"], "enough");
        assert!(!enough.is_empty() && enough.iter().all(|stay| stays.contains(stay)), "{crunch}");
        assert!(out.contains(text(crunch, "reason")), "{out}");
        let weeks = list(&answer, "weeks").iter();
        let mut there = weeks.filter(|week| text(week, "place") == text(crunch, "place"));
        assert!(there.any(|week| text(week, "verdict") == "crunch"), "{crunch}");
    }
    let problems = list(&answer, "problems");
    assert!(!problems.is_empty(), "{answer}");
    for problem in problems {
        assert_eq!(fields(problem), ["about", "kind", "text"]);
        assert!(out.contains(text(problem, "text")), "{problem}");
    }
}

#[test]
fn weeks_are_the_same_as_in_check_and_never_an_error() {
    for file in [roomy(), crowded(), example("southern.ron")] {
        let (weeks, check) = (json(args!["weeks", &file, "--json"], 0), run(args!["check", &file, "--json"]));
        let check: Value = serde_json::from_str(&check.out).unwrap();
        assert_eq!(fields(&weeks), ["season", "weeks"]);
        assert_eq!(weeks["weeks"], check["weeks"]);
        check_weeks(&weeks);
        let out = says(args!["weeks", &file], 0);
        // Name, the last frost where there is one, an empty line, the head, the rows and an empty line from place to place.
        let frost = usize::from(flatwright::store::load(&file).unwrap().settings().frost.is_some());
        let places: BTreeSet<&str> = list(&weeks, "weeks").iter().map(|week| text(week, "place")).collect();
        assert_eq!(out.lines().count(), 2 + frost + list(&weeks, "weeks").len() + places.len(), "{out}");
    }
}

#[test]
fn the_same_season_gives_the_same_answer() {
    let once = run(args!["check", crowded(), "--json"]);
    let again = run(args!["check", crowded(), "--json"]);
    assert_eq!(once.out, again.out);
}

#[test]
fn place_gives_every_tray_a_spot_where_all_fit() {
    let folder = tempfile::tempdir().unwrap();
    let placed = folder.path().join("placed.ron");
    let answer = json(args!["place", roomy(), "-o", &placed, "--json"], 0);
    assert_eq!(fields(&answer), ["moves", "no_spot", "placed", "season", "verdict"]);
    assert_eq!((text(&answer, "verdict"), list(&answer, "no_spot").len()), ("fits", 0));
    assert!(number(&answer, "placed") > 0);
    // What was saved is a season whose layout has no fault, and placing again changes nothing.
    let checked = json(args!["check", &placed, "--json"], 0);
    let kinds: Vec<&str> = list(&checked, "problems").iter().map(|problem| text(problem, "kind")).collect();
    assert!(!kinds.iter().any(|kind| ["clash", "off_shelf", "too_tall_there"].contains(kind)), "{kinds:?}");
    let first = fs::read_to_string(&placed).unwrap();
    says(args!["place", &placed, "-o", &placed], 0);
    assert_eq!(fs::read_to_string(&placed).unwrap(), first);
}

#[test]
fn place_saves_what_it_found_and_says_what_has_no_spot() {
    let folder = tempfile::tempdir().unwrap();
    let placed = folder.path().join("placed.ron");
    let answer = json(args!["place", crowded(), "-o", &placed, "--json"], 1);
    let no_spot = list(&answer, "no_spot");
    assert!(!no_spot.is_empty());
    for tray in no_spot {
        assert_eq!(fields(tray), ["from", "tray", "until"]);
        assert!(is_day(text(tray, "from")) && text(tray, "from") < text(tray, "until"), "{tray}");
    }
    assert!(number(&answer, "placed") > 0);
    let out = says(args!["place", crowded(), "-o", &placed], 1);
    for tray in no_spot {
        assert!(out.contains(&format!("- {}, ", text(tray, "tray"))), "{out}");
    }
    // Only the season itself is left behind.
    let names: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert!(names.iter().all(|name| name == "placed.ron" || name == "placed.ron~"), "{names:?}");
}

/// A reader that leaves early is no fault: `flatwright weeks … | head -1`.
#[cfg(unix)]
#[test]
fn a_closed_pipe_is_no_trouble() {
    use std::process::{Command, Stdio};
    let mut child = Command::new(env!("CARGO_BIN_EXE_flatwright"))
        .args(args!["weeks", roomy()])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let done = child.wait_with_output().unwrap();
    assert_eq!((done.status.code(), String::from_utf8(done.stderr).unwrap().as_str()), (Some(0), ""));
}

/// The season in `file` with its lines changed, as another file in `folder`.
fn changed(file: &Path, folder: &Path, change: impl Fn(&str) -> Option<String>) -> PathBuf {
    let text = fs::read_to_string(file).unwrap();
    let path = folder.join("changed.ron");
    fs::write(&path, text.lines().filter_map(|line| change(line).map(|line| line + "\n")).collect::<String>()).unwrap();
    path
}

#[test]
fn twice_the_plants_are_too_many_for_the_roomy_season() {
    let folder = tempfile::tempdir().unwrap();
    let doubled = changed(&roomy(), folder.path(), |line| {
        let Some((before, after)) = line.split_once("plants: ") else { return Some(line.to_owned()) };
        let (plants, rest) = after.split_once(')')?;
        Some(format!("{before}plants: {}){rest}", 2 * plants.parse::<u32>().unwrap()))
    });
    let answer = json(args!["check", doubled, "--json"], 1);
    assert_eq!(text(&answer, "verdict"), "crunch");
}

#[test]
fn without_most_of_its_sowings_the_crowded_season_fits() {
    let folder = tempfile::tempdir().unwrap();
    let season = flatwright::store::load(&crowded()).unwrap();
    let mut fewer = season.clone();
    for sowing in season.sowings().skip(10) {
        fewer.apply(&flatwright::season::Op::RemoveSowing(sowing.id).into()).unwrap();
    }
    let path = folder.path().join("fewer.ron");
    flatwright::store::save(&path, &fewer).unwrap();
    says(args!["check", &path], 0);
}
