//! Runs the capacity solver on reference seasons, so that anyone can repeat the comparison.
//!
//! `cargo run --release --example solve_reference -- [--witness DIR] [--budget N] FILE…`
//!
//! Each FILE is JSON: `name`; `shelves` with `id`, `w`, `d`, `clear_height` (mm) and `load_limit_kg`; `stays` with
//! `id`, `w`, `d`, `h` (mm), `kg`, `start` and `end` (half-open, in days). Prints a JSON line each, and for a
//! season that fits writes `DIR/NAME.json`: `placements` of `[stay, shelf, x, y, dx, dy, from, until]`.

use std::error::Error;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Instant;
use std::{env, fs};

use flatwright::fit::{
    Answer, Bound, BoundKind, Cancel, Days, Item, Phase, Problem, Progress, Rect, Region, RegionSet, Shelf, Verdict,
    check, solve,
};
use serde::Deserialize;
use serde_json::json;

/// As fine as the program measures.
const UNITS_PER_MM: f64 = 8_000.0;
/// Some seconds of work where a season is hard to settle.
const BUDGET: u64 = 300_000_000;

#[derive(Deserialize)]
struct Season {
    name: String,
    shelves: Vec<ShelfIn>,
    stays: Vec<StayIn>,
}

#[derive(Deserialize)]
struct ShelfIn {
    id: String,
    w: f64,
    d: f64,
    clear_height: f64,
    load_limit_kg: Option<f64>,
}

#[derive(Deserialize)]
struct StayIn {
    id: String,
    w: f64,
    d: f64,
    h: f64,
    kg: f64,
    start: i32,
    end: i32,
}

struct Asked {
    files: Vec<PathBuf>,
    witness: Option<PathBuf>,
    budget: u64,
}

fn main() -> ExitCode {
    match asked(env::args_os().skip(1)).and_then(|asked| run(&asked)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            complain(&why.to_string());
            ExitCode::from(2)
        }
    }
}

fn asked(mut arguments: impl Iterator<Item = OsString>) -> Result<Asked, Box<dyn Error>> {
    let mut asked = Asked { files: Vec::new(), witness: None, budget: BUDGET };
    while let Some(argument) = arguments.next() {
        match argument.to_str() {
            Some("--witness") => {
                asked.witness = Some(arguments.next().ok_or("--witness needs a folder")?.into());
            }
            Some("--budget") => {
                let number = arguments.next().and_then(|text| text.to_str()?.parse().ok());
                asked.budget = number.ok_or("--budget needs a whole number")?;
            }
            _ => asked.files.push(argument.into()),
        }
    }
    if asked.files.is_empty() {
        return Err("usage: solve_reference [--witness DIR] [--budget N] FILE…".into());
    }
    Ok(asked)
}

fn run(asked: &Asked) -> Result<(), Box<dyn Error>> {
    if let Some(folder) = &asked.witness {
        fs::create_dir_all(folder).map_err(|why| format!("{}: {why}", folder.display()))?;
    }
    for file in &asked.files {
        let text = fs::read_to_string(file).map_err(|why| format!("{}: {why}", file.display()))?;
        let season: Season = serde_json::from_str(&text).map_err(|why| format!("{}: {why}", file.display()))?;
        let problem = problem(&season);
        let start = Instant::now();
        let answer = solve(&problem, asked.budget, &Progress::default(), &Cancel::default())?;
        let seconds = start.elapsed().as_secs_f64();
        if let Err(faults) = check(&problem, &answer.layout) {
            return Err(format!("{}: a layout with faults: {faults:?}", file.display()).into());
        }
        say(&line(&season, &problem, &answer, seconds));
        if let (Some(folder), true) = (&asked.witness, answer.is_fit()) {
            write_witness(folder, &season, &problem, &answer)?;
        }
    }
    Ok(())
}

fn units(mm: f64) -> i64 {
    (mm * UNITS_PER_MM).round() as i64
}

fn grams(kg: f64) -> i64 {
    (kg * 1_000.0).round() as i64
}

fn problem(season: &Season) -> Problem {
    let shelves = season.shelves.iter().map(|shelf| Shelf { load: shelf.load_limit_kg.map(grams), cover: None });
    let items = season.stays.iter().map(|stay| {
        let high_enough = season.shelves.iter().enumerate().filter(|(_, shelf)| shelf.clear_height >= stay.h);
        let regions: RegionSet = high_enough
            .map(|(number, shelf)| Region {
                shelf: number,
                rect: Rect { x: 0, y: 0, w: units(shelf.w), d: units(shelf.d) },
            })
            .collect();
        let days = Days::new(stay.start, stay.end);
        let phases = vec![Phase { days, w: units(stay.w), d: units(stay.d), grams: grams(stay.kg) }];
        Item { phases, regions, pinned: None, wish: None }
    });
    Problem { shelves: shelves.collect(), items: items.collect() }
}

fn line(season: &Season, problem: &Problem, answer: &Answer, seconds: f64) -> String {
    // The day that is short of the most is the one to show.
    let crunches = answer.days.iter().filter_map(|run| match &run.verdict {
        Verdict::Crunch(bound) => Some((run, bound)),
        Verdict::Fits | Verdict::Unsettled => None,
    });
    let worst = crunches.max_by_key(|(run, _)| (run.short_least, -run.days.from));
    let verdict = match worst {
        Some(_) => "crunch",
        None if answer.is_fit() => "fits",
        None => "unsettled",
    };
    let stays = |bound: &Bound| -> Vec<&str> {
        bound.items.iter().filter_map(|&item| season.stays.get(item)).map(|stay| stay.id.as_str()).collect()
    };
    json!({
        "name": season.name,
        "verdict": verdict,
        "moves": answer.layout.moves(),
        "seconds": (seconds * 1e4).round() / 1e4,
        "work": answer.work,
        "reason": worst.map(|(_, bound)| reason(bound, problem)),
        "proof": worst.map(|(run, bound)| json!({ "day": run.days.from, "stays": stays(bound) })),
    })
    .to_string()
}

fn reason(bound: &Bound, problem: &Problem) -> String {
    let mm = |units: i64| units as f64 / UNITS_PER_MM;
    let shelves: std::collections::BTreeSet<usize> = bound
        .items
        .iter()
        .filter_map(|&item| problem.items.get(item))
        .flat_map(|item| item.regions.iter().map(|region| region.shelf))
        .collect();
    let held = format!("{} stays; {} shelves can take them and hold {}", bound.items.len(), shelves.len(), bound.held);
    match bound.kind {
        BoundKind::NoRegion => format!("{} stays fit on no shelf", bound.items.len()),
        BoundKind::PinClash => "pinned stays overlap".to_owned(),
        BoundKind::Count { w, d } => format!("{held}: each covers at least {} x {} mm", mm(w), mm(d)),
        BoundKind::Area => format!("{held}, by their area"),
        BoundKind::Patterns => format!("{held}, whichever of them share a shelf"),
        BoundKind::Tried => format!("{held}: every way to place them was tried"),
        BoundKind::Load => format!("{held}, by their weight"),
        BoundKind::Cover => format!("{held}, by the packing allowance"),
    }
}

fn write_witness(folder: &Path, season: &Season, problem: &Problem, answer: &Answer) -> Result<(), Box<dyn Error>> {
    let mut placements = Vec::new();
    for ((stay, item), spots) in season.stays.iter().zip(&problem.items).zip(&answer.layout.spots) {
        for (at, &(from, spot)) in spots.iter().enumerate() {
            let until = spots.get(at + 1).map_or(item.days().until, |next| next.0);
            let (Some(phase), Some(shelf)) = (item.phase_on(from), season.shelves.get(spot.shelf)) else {
                continue;
            };
            let rect = spot.rect(phase);
            let [x, y, dx, dy] = [rect.x, rect.y, rect.w, rect.d].map(|units| units as f64 / UNITS_PER_MM);
            placements.push(json!([stay.id, shelf.id, x, y, dx, dy, from, until]));
        }
    }
    let file = folder.join(format!("{}.json", season.name));
    let fields = ["stay", "shelf", "x", "y", "dx", "dy", "from", "until"];
    let witness = json!({ "name": season.name, "fields": fields, "placements": placements });
    fs::write(&file, format!("{witness}\n")).map_err(|why| format!("{}: {why}", file.display()))?;
    Ok(())
}

#[expect(clippy::print_stdout, reason = "an example prints its answer")]
fn say(text: &str) {
    println!("{text}");
}

#[expect(clippy::print_stderr, reason = "an example says what is wrong")]
fn complain(text: &str) {
    eprintln!("{text}");
}
