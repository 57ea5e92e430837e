//! Lengths, weights, temperatures and days as the season shows them, on every page.

use std::collections::BTreeSet;
use std::path::Path;

use flatwright::season::{ContainerKind, Op, Season};
use flatwright::store;
use flatwright::units::{Measure, size_text};
use flatwright::window::App;
use flatwright::words;

use crate::hand::settle;
use crate::pages::{each, texts};
use crate::{Window, day, press, sized};

const METRIC: [&str; 8] = ["mm", "cm", "m", "kg", "g", "°C", "litres", "ml"];
const INCHES: [&str; 6] = ["in", "ft", "lb", "oz", "°F", "\""];

/// The first unit of those that stands behind a number.
fn unit_behind_a_number<'a>(text: &str, units: &[&'a str]) -> Option<&'a str> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_number = |word: &str| word.ends_with(|c: char| c.is_ascii_digit() || "½¼¾".contains(c));
    let bare = |word: &'_ str| word.trim_end_matches([',', '.', ';', ')', ':']).trim_start_matches('(').to_owned();
    // `3 in 10` is a chance, and `8 in all` a number
    let behind = |words: &[&str]| {
        let unit = units.iter().find(|unit| is_number(words[0]) && bare(words[1]) == **unit);
        unit.filter(|_| !is_number(words[2]) && words[2] != "all")
    };
    let words: Vec<&str> = words.into_iter().chain([""]).collect();
    let joined = |word: &&str| {
        let word = bare(word);
        units.iter().find(|unit| word.strip_suffix(**unit).is_some_and(is_number))
    };
    words.windows(3).find_map(behind).or_else(|| words.iter().find_map(joined)).copied()
}

/// What the grower or a library typed stays as it was typed.
fn typed(season: &Season) -> BTreeSet<String> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("season.ron");
    store::save(&path, season).expect("saved");
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let files = [path, root.join("assets/containers.ron"), root.join("assets/crops.ron")];
    let read = |file: &std::path::PathBuf| std::fs::read_to_string(file).expect("a file of the crate");
    let in_quotes = |line: &str| {
        let line = line.split("//").next().unwrap_or_default().to_owned();
        line.split('"').skip(1).step_by(2).map(str::to_owned).collect::<Vec<_>>()
    };
    let texts: String = files.iter().map(|file| read(file) + "\n").collect();
    let typed = texts.lines().flat_map(in_quotes).filter(|one| one.contains(|c: char| c.is_ascii_digit()));
    let zones = season.shelves().flat_map(|shelf| &shelf.zones);
    let zones = zones.flat_map(|zone| [&zone.x, &zone.y, &zone.width, &zone.depth].map(|one| one.typed().to_owned()));
    let sides = season.shelves().flat_map(|shelf| [shelf.width.typed(), shelf.depth.typed()].map(str::to_owned));
    let sizes = season.own_containers().filter_map(|own| match &own.kind {
        ContainerKind::Flat(flat) => {
            Some([&flat.outer.value, flat.floor.as_ref().map_or(&flat.outer.value, |of| &of.value)])
        }
        ContainerKind::Plug(plug) => Some([&plug.outer.value; 2]),
        _ => None,
    });
    let sizes: Vec<_> = sizes.flatten().chain(season.guests().map(|guest| &guest.size)).collect();
    let apart = sizes.iter().flat_map(|size| [size.width.typed(), size.depth.typed()].map(str::to_owned));
    let sizes = sizes.iter().map(|size| size_text(size)).chain(apart);
    typed.chain(sides).chain(zones).chain(sizes).collect()
}

fn without(text: &str, typed: &BTreeSet<String>) -> String {
    let mut longest: Vec<&String> = typed.iter().filter(|one| one.len() > 2 && text.contains(*one)).collect();
    longest.sort_by_key(|one| std::cmp::Reverse(one.len()));
    longest.iter().fold(text.to_owned(), |text, one| {
        let mut parts = text.split(one.as_str());
        let first = parts.next().unwrap_or_default().to_owned();
        // `0 mm` is no part of `110 mm`
        parts.fold(first, |said, rest| {
            let within = said.ends_with(|c: char| c.is_ascii_digit() || c == '.');
            said + if within { one } else { "typed" } + rest
        })
    })
}

fn opened(season: Season, unit: &str) -> Window {
    let mut window = sized(1400.0, 1600.0).build_eframe(move |_| App::new(season, None, day(4, 14)));
    settle(&mut window);
    press(&mut window, words::menu::VIEW);
    press(&mut window, unit);
    window.key_press(egui::Key::Escape);
    settle(&mut window);
    window
}

#[track_caller]
fn check(season: &Season, unit: &str, others: &[&str]) {
    let typed = typed(season);
    let mut window = opened(season.clone(), unit);
    crate::wait(&mut window);
    let mut wrong = BTreeSet::new();
    each(&mut window, 4, |window, page| {
        for text in texts(window) {
            let rest = without(&text, &typed);
            if let Some(unit) = unit_behind_a_number(&rest, others) {
                wrong.insert(format!("{page}: {unit} in {text:?}"));
            }
        }
    });
    assert!(wrong.is_empty(), "{} with {unit}:\n{}", season.name(), wrong.into_iter().collect::<Vec<_>>().join("\n"));
}

#[test]
fn a_season_shows_the_units_that_it_was_measured_in_unless_the_grower_chose() {
    let mut metric = store::sample();
    let shelves: Vec<_> = metric.shelves().cloned().collect();
    for mut shelf in shelves {
        (shelf.width, shelf.depth) = (Measure::mm(1200), Measure::mm(600));
        metric.apply(&Op::PutShelf(shelf).into()).unwrap();
    }
    for (season, unit) in [(store::sample(), "inches"), (metric, "mm")] {
        let mut window = opened(season, words::menu::AS_THE_SEASON);
        settle(&mut window);
        assert!(texts(&window).iter().any(|text| text.ends_with(&format!("· {unit}"))), "{unit}");
    }
}

fn rich() -> Season {
    store::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/files/v2-rich.ron")).expect("a season")
}

#[test]
fn a_season_in_inches_shows_no_millimetre_kilogram_or_degree_celsius() {
    check(&store::sample(), words::menu::INCHES, &METRIC);
    check(&rich(), words::menu::INCHES, &METRIC);
}

#[test]
fn a_season_in_millimetres_shows_no_inch_pound_or_degree_fahrenheit() {
    check(&store::sample(), words::menu::MILLIMETRES, &INCHES);
    check(&rich(), words::menu::MILLIMETRES, &INCHES);
}
