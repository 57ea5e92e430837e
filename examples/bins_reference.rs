//! Packs published bin packing instances and prints each answer with its packing.
//!
//! One instance a line: `name W H n w1xh1 w2xh2 ...`, lengths in mm. One JSON object a line on
//! standard output, spots as `[bin, x, y, dx, dy]` in the items' order; a table by class and number
//! of items (names such as `cl03_040_07`) on standard error. Exit code 2 for a file that can't be read.

use std::collections::BTreeMap;
use std::io::{self, Write as _};
use std::process::ExitCode;
use std::time::Instant;

use flatwright::fit::{Cancel, pack_bins};

const UNITS_PER_MM: i64 = 8_000;
/// Looks; under half a second on a machine of 2025.
const BUDGET: u64 = 20_000_000;

struct Instance {
    name: String,
    bin: (i64, i64),
    items: Vec<(i64, i64)>,
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
        return Err("usage: bins_reference FILE...".to_owned());
    }
    let mut instances = Vec::new();
    for file in files {
        let text = std::fs::read_to_string(&file).map_err(|why| format!("{file}: {why}"))?;
        for (number, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
            instances.push(instance(line).map_err(|why| format!("{file}:{}: {why}", number + 1))?);
        }
    }
    let mut sums: BTreeMap<String, (usize, usize, usize, f64)> = BTreeMap::new();
    let mut out = io::stdout().lock();
    for Instance { name, bin, items } in &instances {
        let begun = Instant::now();
        let answer =
            pack_bins(bin.0, bin.1, items, BUDGET, &Cancel::default()).map_err(|why| format!("{name}: {why}"))?;
        let seconds = begun.elapsed().as_secs_f64();
        let mm = |length: i64| length as f64 / UNITS_PER_MM as f64;
        let spot = |&(bin, spot): &(usize, flatwright::fit::Rect)| {
            serde_json::json!([bin, mm(spot.x), mm(spot.y), mm(spot.w), mm(spot.d)])
        };
        let witness: Vec<serde_json::Value> = answer.spots.iter().map(spot).collect();
        let line = serde_json::json!({
            "name": name, "bins": answer.count, "bound": answer.bound, "seconds": seconds, "witness": witness,
        });
        writeln!(out, "{line}").map_err(|why| why.to_string())?;
        let group = name.rsplit_once('_').map_or(name.as_str(), |(group, _)| group);
        let sum = sums.entry(group.to_owned()).or_default();
        *sum = (sum.0 + 1, sum.1 + answer.count, sum.2 + answer.bound, sum.3.max(seconds));
    }
    report(&format!("{:10} {:>9} {:>6} {:>6} {:>11}", "group", "instances", "bins", "bound", "most s"));
    let mut all = (0, 0, 0, 0.0_f64);
    for (group, &(many, bins, bound, most)) in &sums {
        report(&format!("{group:10} {many:9} {bins:6} {bound:6} {most:11.2}"));
        all = (all.0 + many, all.1 + bins, all.2 + bound, all.3.max(most));
    }
    report(&format!("{:10} {:9} {:6} {:6} {:11.2}", "all", all.0, all.1, all.2, all.3));
    Ok(())
}

fn instance(line: &str) -> Result<Instance, String> {
    let mut words = line.split_whitespace();
    let name = words.next().ok_or("a name was expected")?.to_owned();
    let mut number = |what: &str| -> Result<i64, String> {
        let word = words.next().ok_or_else(|| format!("{what} was expected after the name"))?;
        word.parse().map_err(|why| format!("{what} {word:?}: {why}"))
    };
    let (width, depth, many) = (number("a width")?, number("a depth")?, number("a number of items")?);
    let items = words
        .map(|word| {
            let (w, d) = word.split_once('x').ok_or_else(|| format!("width x depth was expected, found {word:?}"))?;
            Ok((units(w)?, units(d)?))
        })
        .collect::<Result<Vec<_>, String>>()?;
    if i64::try_from(items.len()) != Ok(many) {
        return Err(format!("{many} items were announced, {} found", items.len()));
    }
    Ok(Instance { name, bin: (of_mm(width)?, of_mm(depth)?), items })
}

fn units(word: &str) -> Result<i64, String> {
    of_mm(word.parse().map_err(|why| format!("length {word:?}: {why}"))?)
}

fn of_mm(mm: i64) -> Result<i64, String> {
    mm.checked_mul(UNITS_PER_MM).ok_or_else(|| format!("{mm} mm is too long"))
}

#[expect(clippy::print_stderr, reason = "the table is for whoever runs it; standard output is for programs")]
fn report(line: &str) {
    eprintln!("{line}");
}
