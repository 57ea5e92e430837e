//! How many plants the room carries, as the terminal says it.

use crate::args;
use crate::tools::{crowded, fields, json, list, number, refuses, roomy, says, text};

#[test]
fn the_most_of_a_crop_is_said_first_with_what_limits_it_and_what_one_more_adds() {
    let said = says(args!["room", roomy(), "--crop", "tomatoes"], 0);
    let mut lines = said.lines();
    lines.next();
    let first = lines.next().unwrap_or_default();
    assert!(first.starts_with("Tomato") && first.contains("every day holds"), "{said}");
    assert!(said.contains("are too many: "), "{said}");
    assert!(said.contains("What one more would add"), "{said}");
    assert!(said.contains("• Put up another shelf") || said.contains("Put up another shelf"), "{said}");
}

#[test]
fn json_has_the_same_figures() {
    let answer = json(args!["room", roomy(), "--crop", "tomato", "--json"], 0);
    let all = [
        "crop",
        "exact",
        "fits",
        "fits_as_planned",
        "more",
        "planned",
        "season",
        "standing",
        "text",
        "too_many",
        "well_lit",
    ];
    assert_eq!(fields(&answer), all);
    assert_eq!(text(&answer, "crop"), "tomato");
    let (fits, many) = (&answer["fits"], &answer["too_many"]);
    assert!(number(fits, "plants") >= number(&answer, "planned"));
    assert!(number(fits, "plants") < number(many, "plants"));
    assert!(number(fits, "trays") > 0 && fits["percent"].is_null());
    assert_eq!(number(many, "needed"), number(many, "held") + number(many, "short"));
    for more in list(&answer, "more") {
        assert_eq!(number(more, "plants"), number(fits, "plants") + number(more, "more"), "{more}");
        assert!(!text(more, "text").is_empty());
    }
}

#[test]
fn a_season_that_is_short_carries_less_than_is_planned() {
    let answer = json(args!["room", crowded(), "--json"], 1);
    assert!(answer["crop"].is_null());
    assert_eq!(answer["fits_as_planned"].as_bool(), Some(false));
    let fits = &answer["fits"];
    assert!(number(fits, "percent") < 100 && number(fits, "plants") < number(&answer, "planned"), "{fits}");
    assert!(number(&answer["too_many"], "percent") <= 100);
}

#[test]
fn a_crop_that_is_not_known_names_what_there_is() {
    refuses(args!["room", roomy(), "--crop", "no such crop"], &["no crop “no such crop”", "this season grows"]);
    refuses(args!["room", roomy(), "--crop", "tomatto"], &["did you mean tomato?"]);
    refuses(args!["room", "tests/files/broken.ron"], &["broken.ron"]);
}

#[test]
fn an_empty_season_has_nothing_to_be_scaled() {
    let folder = tempfile::tempdir().unwrap();
    let empty = folder.path().join("empty.ron");
    std::fs::write(&empty, r#"(format: "flatwright season", version: 2, name: "Empty")"#).unwrap();
    refuses(args!["room", &empty], &["nothing in this season is still to be sown"]);
    refuses(args!["room", &empty, "--crop", "tomato"], &["out when?"]);
    refuses(args!["room", &empty, "--crop", "x"], &["nothing is sown in this season"]);
}
