use std::fs;

use crate::args;
use crate::tools::{example, fields, json, list, refuses, says, text};

#[test]
fn the_sample_s_next_year_opens_and_says_what_moved_by_rule() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("next.ron");
    let said = says(args!["next", example("community-room.ron"), "--year", "2028", "-o", &out], 0);
    assert!(said.starts_with("Community room 2028, from Community room 2027\n"), "{said}");
    for line in [
        "- Last frost Sun 2 May 2027 → Tue 2 May 2028",
        "- Onion (bulb, from seed) ‘Brown Globe’: out Sun 18 Apr 2027 → Tue 18 Apr 2028 (2 weeks before the frost date)",
        "- Tomato ‘Early Red’: out Sun 16 May 2027 → Tue 16 May 2028 \
         (2 weeks after the frost date, not before the date whose risk you take)",
        "- Leek ‘Long White’: out Tue 4 May 2027 → Thu 4 May 2028 (the same day of the month)",
    ] {
        assert!(said.contains(line), "no {line:?} in {said}");
    }
    assert!(said.ends_with(&format!("\nSaved as {}\n", out.display())), "{said}");

    let check = json(args!["check", &out, "--json"], 1);
    assert_eq!(text(&check, "season"), "Community room 2028");
    let first = list(&check, "weeks").iter().map(|week| text(week, "from")).min().unwrap();
    assert!(first.starts_with("2028-0"), "{first}");
    // the layout came along: the spots of the sample, those of stays that start on other days moved
    let spots = |path: &std::path::Path| fs::read_to_string(path).unwrap().matches("shelf: ").count();
    let (old, new) = (spots(&example("community-room.ron")), spots(&out));
    assert!(new * 10 >= old * 9, "{new} of {old} spots");
}

#[test]
fn its_answer_as_json() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("next.ron");
    let answer = json(args!["next", example("southern.ron"), "--year", "2030", "-o", &out, "--json"], 0);
    assert_eq!(fields(&answer), ["changes", "from", "season", "years"]);
    assert!(!list(&answer, "changes").is_empty());
    for change in list(&answer, "changes") {
        assert_eq!(fields(change), ["kind", "text"]);
    }
}

#[test]
fn there_and_back_gives_the_same_dates() {
    let folder = tempfile::tempdir().unwrap();
    let (there, back) = (folder.path().join("there.ron"), folder.path().join("back.ron"));
    says(args!["next", example("community-room.ron"), "--year", "2028", "-o", &there], 0);
    says(args!["next", &there, "--year", "2027", "-o", &back], 0);
    let weeks = |path: &std::path::Path| json(args!["weeks", path, "--json", "--draws", "1"], 0)["weeks"].clone();
    assert_eq!(weeks(&back), weeks(&example("community-room.ron")));
}

#[test]
fn bad_years_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("next.ron");
    let sample = example("community-room.ron");
    refuses(args!["next", &sample, "--year", "2027", "-o", &out], &["2027 is the season's own year"]);
    refuses(args!["next", &sample, "--year", "3000", "-o", &out], &["3000"]);
    refuses(args!["next", &sample, "--year", "soon", "-o", &out], &["soon"]);
    refuses(args!["next", &sample, "--year", "2028", "-o", folder.path().join("next.txt")], &[".ron"]);
    let empty = folder.path().join("empty.ron");
    fs::write(&empty, "(format: \"flatwright season\", version: 1, name: \"Empty\")").unwrap();
    refuses(args!["next", &empty, "--year", "2028", "-o", &out], &["no date to go by"]);
    assert!(!out.exists());
}
