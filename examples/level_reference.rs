//! Finds the cheapest dates of seasons that are told as areas, and prints them.
//!
//! One JSON file a season: batches with a window to sow in and so many days that moving on may wait, the area of
//! their plugs and pots, and one capacity for every day. One JSON object a line on standard output; `cost` is null
//! where no dates fit, `proven` says whether nothing cheaper (or nothing at all) is proven. Exit code 2 for a file
//! that can't be read.

use std::io::{self, Write as _};
use std::process::ExitCode;
use std::time::Instant;

use flatwright::fit::{Batch, Cancel, Choice, DailyCapacity, Days, LevelProblem, Progress, Use, level};
use serde_json::{Map, Value, json};

/// Units of work; about two seconds of one core on a machine of 2025.
const BUDGET: u64 = 500_000_000;

/// When a batch is sown and moved on; plug-only batches never are.
type Dates = (i64, Option<i64>);

struct Season {
    name: String,
    problem: LevelProblem,
    ids: Vec<String>,
    /// Of each choice, by batch.
    dates: Vec<Vec<Dates>>,
}

fn main() -> ExitCode {
    match run(std::env::args().skip(1).collect()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            report(&why);
            ExitCode::from(2)
        }
    }
}

fn run(files: Vec<String>) -> Result<(), String> {
    if files.is_empty() {
        return Err("usage: level_reference FILE...".to_owned());
    }
    let mut out = io::stdout().lock();
    for file in files {
        let text = std::fs::read_to_string(&file).map_err(|why| format!("{file}: {why}"))?;
        let told: Value = serde_json::from_str(&text).map_err(|why| format!("{file}: {why}"))?;
        let season = season(&told).map_err(|why| format!("{file}: {why}"))?;
        let begun = Instant::now();
        let found = level(&season.problem, &[], BUDGET, &Cancel::default(), &Progress::default())
            .map_err(|why| format!("{file}: {why}"))?;
        let seconds = begun.elapsed().as_secs_f64();
        let mut dates = Map::new();
        for ((id, of_batch), choice) in season.ids.iter().zip(&season.dates).zip(found.chosen.iter().flatten()) {
            let (sow, move_on) = of_batch[*choice];
            dates.insert(id.clone(), json!([sow, move_on]));
        }
        let line = json!({
            "name": season.name, "cost": found.cost, "at_least": found.at_least, "proven": found.is_proven,
            "seconds": seconds, "dates": dates,
        });
        writeln!(out, "{line}").map_err(|why| why.to_string())?;
    }
    Ok(())
}

fn season(told: &Value) -> Result<Season, String> {
    let capacity = DailyCapacity { usual: whole(told, "capacity_cm2")?, other: Vec::new() };
    let mut season = Season {
        name: text(told, "name")?,
        problem: LevelProblem { resources: vec![capacity], ..LevelProblem::default() },
        ids: Vec::new(),
        dates: Vec::new(),
    };
    for told in told["batches"].as_array().ok_or("batches were expected")? {
        let id = text(told, "id")?;
        let (batch, dates) = batch(told).map_err(|why| format!("{id}: {why}"))?;
        season.ids.push(id);
        season.problem.batches.push(batch);
        season.dates.push(dates);
    }
    Ok(season)
}

/// Every sowing date with every delay that its window has.
fn batch(told: &Value) -> Result<(Batch, Vec<Dates>), String> {
    let number = |what: &str| whole(told, what);
    let (sow0, out, plug_days) = (number("sow0")?, number("out")?, number("plug_days")?);
    let (plug, pot, weight) = (number("area_plug_cm2")?, number("area_pot_cm2")?, number("weight")?);
    let (mut batch, mut dates) = (Batch::default(), Vec::new());
    for sow in number("sow_min")?..=number("sow_max")? {
        for delay in 0..=number("move_delay_max")? {
            let cost = weight * ((sow - sow0).abs() + delay);
            let move_on = sow + plug_days + delay;
            let uses = if pot == 0 {
                vec![used(sow, out - sow0 + sow, plug)?]
            } else if move_on > out {
                continue;
            } else {
                vec![used(sow, move_on, plug)?, used(move_on, out, pot)?]
            };
            batch.choices.push(Choice { cost, uses });
            dates.push((sow, (pot > 0).then_some(move_on)));
        }
    }
    Ok((batch, dates))
}

fn used(from: i64, until: i64, amount: i64) -> Result<Use, String> {
    let day = |day: i64| i32::try_from(day).map_err(|why| format!("day {day}: {why}"));
    Ok(Use { resource: 0, days: Days::new(day(from)?, day(until)?), amount })
}

fn whole(told: &Value, what: &str) -> Result<i64, String> {
    told[what].as_i64().ok_or_else(|| format!("{what} was expected as a whole number"))
}

fn text(told: &Value, what: &str) -> Result<String, String> {
    told[what].as_str().map(str::to_owned).ok_or_else(|| format!("{what} was expected as a text"))
}

#[expect(clippy::print_stderr, reason = "standard output is for programs")]
fn report(line: &str) {
    eprintln!("{line}");
}
