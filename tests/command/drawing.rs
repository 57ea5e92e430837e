//! Drawings, read and measured by someone else's parser.

use std::fs;
use std::path::{Path, PathBuf};

use roxmltree::{Document, Node};

use crate::args;
use crate::tools::{crowded, example, fields, json, list, number, roomy, run, says, text};

/// Millionths of a millimetre, exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Rect {
    x: i128,
    y: i128,
    w: i128,
    h: i128,
}

impl Rect {
    fn overlaps(self, other: Self) -> bool {
        self.x < other.x + other.w
            && other.x < self.x + self.w
            && self.y < other.y + other.h
            && other.y < self.y + self.h
    }

    fn holds(self, other: Self) -> bool {
        self.x <= other.x
            && self.y <= other.y
            && other.x + other.w <= self.x + self.w
            && other.y + other.h <= self.y + self.h
    }
}

#[track_caller]
fn millionths(text: &str) -> i128 {
    let (whole, decimals) = text.split_once('.').unwrap_or((text, ""));
    assert!(decimals.len() <= 6, "{text}");
    let digits = format!("{whole}{decimals:0<6}");
    digits.parse().unwrap_or_else(|why| panic!("{text}: {why}"))
}

#[track_caller]
fn rect(node: Node<'_, '_>) -> Rect {
    let side = |name| millionths(node.attribute(name).unwrap_or_else(|| panic!("no {name} in {node:?}")));
    Rect { x: side("x"), y: side("y"), w: side("width"), h: side("height") }
}

fn rects<'a>(svg: &'a Document<'_>, class: &str) -> Vec<Node<'a, 'a>> {
    svg.descendants().filter(|node| node.has_tag_name("rect") && node.attribute("class") == Some(class)).collect()
}

/// Gives every tray a spot, so that there is something to draw; with the marks of those that
/// `check` says are in each other's way.
fn placed(season: &Path, folder: &Path, code: i32) -> (PathBuf, Vec<String>) {
    let placed = folder.join("placed.ron");
    says(args!["place", season, "-o", &placed], code);
    let checked = json(args!["check", &placed, "--json"], code);
    let clashes = list(&checked, "problems").iter().filter(|problem| text(problem, "kind") == "clash");
    let marks = clashes.flat_map(|problem| text(problem, "about").split(", ")).map(str::to_owned).collect();
    (placed, marks)
}

/// Checks the map of a day and gives the number of trays on it; those of `clashing` may overlap.
#[track_caller]
fn check_map(season: &Path, on: &str, shelves: usize, clashing: &[String]) -> usize {
    let folder = tempfile::tempdir().unwrap();
    let map = folder.path().join("map.svg");
    let answer = json(args!["draw", season, "--on", on, "-o", &map, "--json"], 0);
    assert_eq!(fields(&answer), ["no_spot", "on", "placed", "room", "scale", "season"]);
    assert_eq!(text(&answer, "on"), on);
    let source = fs::read_to_string(&map).unwrap();
    let svg = Document::parse(&source).unwrap();

    let scale = text(&answer, "scale").strip_prefix("1:").unwrap().parse::<i128>().unwrap();
    let root = svg.root_element();
    let view: Vec<&str> = root.attribute("viewBox").unwrap().split(' ').collect();
    for (name, side) in [("width", view[2]), ("height", view[3])] {
        let printed = millionths(root.attribute(name).unwrap().strip_suffix("mm").unwrap());
        // Printed sizes are cut to 1/8000 mm.
        assert!((printed * scale - millionths(side)).abs() <= 125 * scale, "{name} at 1:{scale}");
    }
    assert!(svg.descendants().all(|node| !node.has_attribute("transform")));

    let page = Rect { x: 0, y: 0, w: millionths(view[2]), h: millionths(view[3]) };
    let ground: Vec<Rect> = rects(&svg, "shelf").into_iter().map(rect).collect();
    assert_eq!(ground.len(), shelves);
    let over: Vec<Rect> = rects(&svg, "overhang").into_iter().map(rect).collect();
    let trays = rects(&svg, "tray");
    assert_eq!(i64::try_from(trays.len()), Ok(number(&answer, "placed")));
    let mut ids: Vec<&str> = svg.descendants().filter_map(|node| node.attribute("id")).collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all, "an id stands twice");

    let mut on_shelves: Vec<Vec<Rect>> = vec![Vec::new(); ground.len()];
    for tray in &trays {
        let outer = rect(*tray);
        assert!(page.holds(outer));
        let title = tray.children().find(|child| child.has_tag_name("title")).and_then(|title| title.text());
        let title = title.unwrap_or_else(|| panic!("{tray:?} has no title"));
        if clashing.iter().any(|mark| title.starts_with(&format!("{mark}:"))) {
            continue;
        }
        let shelf = ground.iter().position(|shelf| {
            let overhang = over.iter().find(|over| over.x == shelf.x && over.y == shelf.y + shelf.h);
            let deep = shelf.h + overhang.map_or(0, |over| over.h);
            Rect { h: deep, ..*shelf }.holds(outer)
        });
        let shelf = shelf.unwrap_or_else(|| panic!("{tray:?} stands on no shelf"));
        if let Some(other) = on_shelves[shelf].iter().find(|other| other.overlaps(outer)) {
            panic!("{outer:?} stands on {other:?}");
        }
        on_shelves[shelf].push(outer);
    }
    for (one, shelf) in ground.iter().enumerate() {
        assert!(ground[..one].iter().all(|other| !other.overlaps(*shelf)));
    }
    trays.len()
}

#[test]
fn every_tray_stands_on_its_shelf_and_on_no_other_tray() {
    let folder = tempfile::tempdir().unwrap();
    for (season, code, shelves, days) in [
        (roomy(), 0, 4, ["2027-03-24", "2027-04-20", "2027-05-12"]),
        (crowded(), 1, 13, ["2027-03-02", "2027-04-20", "2027-05-07"]),
        (example("southern.ron"), 0, 0, ["2027-10-12", "2027-12-20", "2028-01-05"]),
    ] {
        let shelves = if shelves == 0 { count_shelves(&season) } else { shelves };
        let (placed, clashing) = placed(&season, folder.path(), code);
        for day in days {
            assert!(check_map(&placed, day, shelves, &clashing) > 0, "{day}");
        }
        if code == 0 {
            assert_eq!(clashing, Vec::<String>::new(), "{}", season.display());
        }
    }
}

fn count_shelves(season: &Path) -> usize {
    fs::read_to_string(season).unwrap().matches("rack: ").count()
}

#[test]
fn a_season_without_spots_is_drawn_with_empty_shelves() {
    assert_eq!(check_map(&roomy(), "2027-04-20", 4, &[]), 0);
    let folder = tempfile::tempdir().unwrap();
    let map = folder.path().join("map.svg");
    let answer = json(args!["draw", roomy(), "--on", "2027-04-20", "-o", &map, "--json"], 0);
    let no_spot = list(&answer, "no_spot");
    assert!(no_spot.len() > 3, "{answer}");
    assert_eq!(fields(&no_spot[0]), ["place", "tray"]);
    // And on a day without plants, too.
    assert_eq!(check_map(&crowded(), "1999-12-31", 13, &[]), 0);
}

/// On 10 May tomatoes are out by day and in by night: on paper their trays say so, in both places.
#[test]
fn paper_says_crop_variety_count_and_who_is_out_by_day() {
    let folder = tempfile::tempdir().unwrap();
    let (placed, _) = placed(&crowded(), folder.path(), 1);
    let map = folder.path().join("map.svg");
    says(args!["draw", &placed, "--on", "2027-05-10", "-o", &map, "--scale", "1:10"], 0);
    let source = fs::read_to_string(&map).unwrap();
    let svg = Document::parse(&source).unwrap();
    let texts: Vec<&str> =
        svg.descendants().filter(|node| node.has_tag_name("text")).filter_map(|n| n.text()).collect();
    for said in ["Tomato ‘Early Red’", "18 pots in a flat", "Lettuce ‘Crisp’", "72 of 72 cells filled"] {
        assert!(texts.contains(&said), "{said}: {texts:?}");
    }
    let times = |said| texts.iter().filter(|text| **text == said).count();
    assert!(times("out by day") > 3, "{texts:?}");
    let below = |tray: &&str| {
        let at = texts.iter().position(|text| text == tray).unwrap_or_else(|| panic!("{tray}"));
        texts.get(at + 1..at + 4).unwrap_or_default().join("; ")
    };
    assert_eq!(below(&"To 3"), "Tomato ‘Early Red’; 18 pots in a flat; out by day");
}

#[test]
fn shelves_measure_what_they_measure() {
    let folder = tempfile::tempdir().unwrap();
    let map = folder.path().join("map.svg");
    let out = says(args!["draw", crowded(), "--on", "2027-04-20", "-o", &map, "--scale", "1:10"], 0);
    assert!(out.contains("1:10"), "{out}");
    let source = fs::read_to_string(&map).unwrap();
    let svg = Document::parse(&source).unwrap();
    let shelf = |id: &str| {
        let found = rects(&svg, "shelf").into_iter().find(|node| node.attribute("id") == Some(id)).unwrap();
        (found.attribute("width").unwrap(), found.attribute("height").unwrap())
    };
    assert_eq!(shelf("shelf-4"), ("1219.2", "609.6"));
    assert_eq!(shelf("shelf-9"), ("1219.2", "457.2"));
    assert_eq!(shelf("shelf-14"), ("914.4", "457.2"));
    let root = svg.root_element();
    let width = millionths(root.attribute("viewBox").unwrap().split(' ').nth(2).unwrap());
    assert_eq!(millionths(root.attribute("width").unwrap().strip_suffix("mm").unwrap()) * 10, width);
}

#[test]
fn the_default_scale_fits_a_page() {
    let folder = tempfile::tempdir().unwrap();
    let map = folder.path().join("map.svg");
    for season in [roomy(), crowded()] {
        says(args!["draw", season, "--on", "2027-04-20", "-o", &map], 0);
        let source = fs::read_to_string(&map).unwrap();
        let svg = Document::parse(&source).unwrap();
        let side = |name| millionths(svg.root_element().attribute(name).unwrap().strip_suffix("mm").unwrap());
        assert!(side("width") <= 297_000_000 && side("height") <= 210_000_000, "{source}");
    }
}

/// Needed, held, short, and short at most.
fn counts(row: &serde_json::Value) -> [i64; 4] {
    ["needed", "held", "short", "short_at_most"].map(|name| number(row, name))
}

/// What the map of a day says of the room there is: rows, and lines.
fn room_on(season: &Path, on: &str) -> (Vec<serde_json::Value>, Vec<String>) {
    let folder = tempfile::tempdir().unwrap();
    let map = folder.path().join("map.svg");
    let answer = json(args!["draw", season, "--on", on, "-o", &map, "--json"], 0);
    let source = fs::read_to_string(&map).unwrap();
    let svg = Document::parse(&source).unwrap();
    let lines = svg.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text());
    (list(&answer, "room").to_vec(), lines.map(str::to_owned).collect())
}

#[test]
fn a_map_says_of_its_day_what_the_list_says() {
    let checked = json(args!["check", crowded(), "--json"], 1);
    for crunch in list(&checked, "crunches") {
        let (rooms, lines) = room_on(&crowded(), text(crunch, "worst_day"));
        assert!(rooms.iter().any(|row| counts(row) == counts(crunch)), "{crunch}: {rooms:?}");
        let [needed, held, short, _] = counts(crunch);
        let line = format!("{needed} wanted, room for {held}, {short} short");
        assert!(lines.iter().any(|one| one.ends_with(&line)), "{line}: {lines:?}");
    }
    // Of 28 trays indoors on 6 May some stand on mats that the others want: one row less, 27 is the most.
    let (rooms, lines) = room_on(&crowded(), "2027-05-06");
    let both = "Growing shelves (Community room) and bottom heat (Community room): 28 wanted, room for 27, 1 short";
    assert_eq!(lines.iter().filter(|line| line.contains("wanted, room for 27")).collect::<Vec<_>>(), [both]);
    assert_eq!(counts(&rooms[0]), [28, 27, 1, 1]);
    let (rooms, lines) = room_on(&roomy(), "2027-04-20");
    assert!(!rooms.is_empty() && rooms.iter().all(|row| text(row, "verdict") == "fits"), "{rooms:?}");
    assert!(lines.iter().any(|line| line.contains("all have room")), "{lines:?}");
    assert!(room_on(&crowded(), "1999-12-31").0.is_empty());
}

/// A shelf 18 in deep whose flats may stick out 4 in.
const OVERHANG: &str = r#"(
    format: "flatwright season",
    version: 1,
    name: "Over <the> \"edge\" & back",
    settings: (gap: "0 mm"),
    places: [(id: 1, name: "Room", role: Growing)],
    racks: [(id: 2, place: 1, name: "Rack", position: 1)],
    shelves: [(id: 3, rack: 2, tier: 1, size: "48 x 18 in", overhang: "4 in")],
    guests: [(id: 4, name: "Flats", size: "10.94 x 21.44 in", number: 4, span: (from: "2027-03-01", until: "2027-04-01"), role: Growing)],
)
"#;

#[test]
fn what_sticks_out_is_drawn_and_said() {
    let folder = tempfile::tempdir().unwrap();
    let season = folder.path().join("over.ron");
    fs::write(&season, OVERHANG).unwrap();
    let (placed, _) = placed(&season, folder.path(), 0);
    assert_eq!(check_map(&placed, "2027-03-10", 1, &[]), 4);
    let map = folder.path().join("map.svg");
    says(args!["draw", &placed, "--on", "2027-03-10", "-o", &map], 0);
    let source = fs::read_to_string(&map).unwrap();
    let svg = Document::parse(&source).unwrap();
    let (shelf, over) = (rect(rects(&svg, "shelf")[0]), rect(rects(&svg, "overhang")[0]));
    assert_eq!((over.y, over.h), (shelf.y + shelf.h, 101_600_000));
    let front = rects(&svg, "tray").into_iter().map(|tray| rect(tray).y + rect(tray).h).max().unwrap();
    // 21.44 - 18 in.
    assert_eq!(front - (shelf.y + shelf.h), 87_376_000);
    let words = |node: &Node<'_, '_>| node.has_tag_name("text") && node.text().is_some_and(|t| t.contains("3.44 in"));
    assert!(svg.descendants().any(|node| words(&node)), "{source}");
    // A name that means something in XML is only a name.
    assert!(svg.descendants().any(|node| node.text().is_some_and(|text| text.contains("Over <the> \"edge\" & back"))));
}

/// A link to a device was replaced by the file.
#[cfg(unix)]
#[test]
fn nothing_but_a_file_is_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let map = folder.path().join("map.svg");
    std::os::unix::fs::symlink("/dev/null", &map).unwrap();
    let refused = run(args!["draw", roomy(), "--on", "2027-03-10", "-o", &map]);
    let why = "it could not be saved: this is not a file but a device or a pipe; give a file's name";
    assert_eq!((refused.code, refused.err), (2, format!("{}: {why}\n", map.display())));
    assert!(fs::symlink_metadata(&map).unwrap().is_symlink());
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_printed_map_says_what_to_take_care_with() {
    let folder = tempfile::tempdir().unwrap();
    let map = folder.path().join("map.svg");
    says(args!["draw", roomy(), "--on", "2027-03-10", "-o", &map], 0);
    let source = fs::read_to_string(&map).unwrap();
    let svg = Document::parse(&source).unwrap();
    let said: Vec<&str> =
        svg.descendants().filter(|node| node.has_tag_name("text")).filter_map(|node| node.text()).collect();
    let said = said.join(" ");
    for caution in ["Take care: ", "heavy trays low", "(Legionella)", "Local codes, makers’ ratings"] {
        assert!(said.contains(caution), "{caution}: {said}");
    }
}
