//! Seasons with fixed dates whose answers are known: `data/seasons/`, from the project's own bench.
//!
//! Whether there is a layout was settled there by another solver: assignment by day and pairwise
//! disjunctions in OR-Tools CP-SAT 9.15. Lengths in mm, weights in kg, days half-open.

use std::fs;
use std::path::Path;

use flatwright::fit::{
    Answer, Cancel, Days, Item, Phase, Problem, Progress, Rect, Region, RegionSet, Shelf, Verdict, solve,
};
use serde::Deserialize;

const BUDGET: u64 = 100_000_000;

#[derive(Deserialize)]
struct Season {
    shelves: Vec<ShelfIn>,
    stays: Vec<StayIn>,
}

#[derive(Deserialize)]
struct ShelfIn {
    w: i64,
    d: i64,
    clear_height: i64,
    load_limit_kg: f64,
}

#[derive(Deserialize)]
struct StayIn {
    w: i64,
    d: i64,
    h: i64,
    kg: f64,
    start: i32,
    end: i32,
}

fn season(name: &str) -> Season {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/solver/data/seasons").join(format!("{name}.json"));
    serde_json::from_str(&fs::read_to_string(file).expect("in the repository")).expect("as described")
}

fn grams(kg: f64) -> i64 {
    (kg * 1000.0).round() as i64
}

fn solved(season: &Season) -> Answer {
    let shelves =
        season.shelves.iter().map(|shelf| Shelf { load: Some(grams(shelf.load_limit_kg)), cover: None }).collect();
    let item = |stay: &StayIn| {
        let regions: RegionSet = (season.shelves.iter().enumerate())
            .filter(|(_, shelf)| shelf.clear_height >= stay.h)
            .map(|(shelf, size)| Region { shelf, rect: Rect { x: 0, y: 0, w: size.w, d: size.d } })
            .collect();
        let days = Days::new(stay.start, stay.end);
        let phases = vec![Phase { days, w: stay.w, d: stay.d, grams: grams(stay.kg) }];
        Item { phases, regions, pinned: None, wish: None }
    };
    let problem = Problem { shelves, items: season.stays.iter().map(item).collect() };
    solve(&problem, BUDGET, &Progress::default(), &Cancel::default()).expect("not cancelled")
}

/// One stay in one spot for some days, with nothing of the solver's.
struct Lies {
    shelf: usize,
    x: i64,
    y: i64,
    right: i64,
    back: i64,
    from: i32,
    until: i32,
    kg: f64,
}

/// Every stay lies on a shelf that is high enough, on all its days, on its own ground, and no shelf
/// bears more than it may.
#[track_caller]
fn assert_lies(season: &Season, answer: &Answer) {
    let mut lying: Vec<Lies> = Vec::new();
    for (stay, spots) in season.stays.iter().zip(&answer.layout.spots) {
        assert_eq!(spots.first().map(|spot| spot.0), Some(stay.start));
        for (at, &(from, spot)) in spots.iter().enumerate() {
            let until = spots.get(at + 1).map_or(stay.end, |next| next.0);
            let (w, d) = if spot.turned { (stay.d, stay.w) } else { (stay.w, stay.d) };
            let shelf = &season.shelves[spot.shelf];
            assert!(shelf.clear_height >= stay.h && from < until && until <= stay.end);
            assert!(spot.x >= 0 && spot.y >= 0 && spot.x + w <= shelf.w && spot.y + d <= shelf.d);
            let (right, back) = (spot.x + w, spot.y + d);
            lying.push(Lies { shelf: spot.shelf, x: spot.x, y: spot.y, right, back, from, until, kg: stay.kg });
        }
    }
    for (at, a) in lying.iter().enumerate() {
        for b in &lying[..at] {
            let same_days = a.shelf == b.shelf && a.from < b.until && b.from < a.until;
            assert!(!(same_days && a.x < b.right && b.x < a.right && a.y < b.back && b.y < a.back));
        }
        let there = lying.iter().filter(|b| b.shelf == a.shelf && b.from <= a.from && a.from < b.until);
        assert!(there.map(|b| b.kg).sum::<f64>() <= season.shelves[a.shelf].load_limit_kg + 1e-6);
    }
}

#[track_caller]
fn assert_fits(name: &str, most_moves: usize) {
    let season = season(name);
    let answer = solved(&season);
    assert!(answer.is_fit(), "{name}");
    assert_lies(&season, &answer);
    assert!(answer.layout.moves() <= most_moves, "{name}: {} moves", answer.layout.moves());
}

/// A crunch, on a day that has one; the proof names stays of that day, more than can stand.
#[track_caller]
fn assert_crunch(name: &str) {
    let season = season(name);
    let answer = solved(&season);
    let mut days = 0;
    for run in &answer.days {
        let Verdict::Crunch(bound) = &run.verdict else { continue };
        days += 1;
        let there = |&&item: &&usize| {
            let stay = &season.stays[item];
            stay.start <= run.days.from && run.days.from < stay.end
        };
        assert_eq!(bound.items.iter().filter(there).count(), bound.items.len(), "{name}");
        assert!(bound.held < i64::try_from(bound.items.len()).expect("few"), "{name}");
        assert!(run.short_least > 0 && run.short_least <= run.short_most, "{name}");
    }
    assert!(days > 0, "{name}");
    assert!(answer.days.iter().all(|run| run.verdict != Verdict::Unsettled), "{name}");
}

#[test]
fn small_seasons_that_fit_do_without_a_move() {
    for name in ["T07s", "T10s", "T23s"] {
        assert_fits(name, 0);
    }
}

#[test]
fn medium_seasons_at_their_limit_do_without_a_move() {
    assert_fits("T29m", 0);
    assert_fits("T34m", 0);
}

#[test]
fn seasons_without_a_layout_are_proven_to_have_none() {
    for name in ["T04s", "T05s", "T16s", "T20s", "T37m"] {
        assert_crunch(name);
    }
}
