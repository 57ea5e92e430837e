//! Counts the rectangles of every row of a table, with a packing to check the count by.
//!
//! The table is a CSV file whose first line names its columns, among them `L`, `W`, `a` and `b` in
//! whole millimetres: how many a × b, turned or not, stand in L × W? A column `optimum` is compared
//! with. Out come `L,W,a,b,count,bound,witness`; a witness is one `x:y:turned` a rectangle, `a` along
//! L unless turned. The last line, after a `#`, sums up.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use flatwright::fit::{CountOne, count_within};

const UNITS_PER_MM: i64 = 8_000;
/// Some seconds for a row that stays open.
const STEPS: u64 = 5_000_000;

#[derive(clap::Parser)]
#[command(about = "Counts equal rectangles in a rectangle, row by row of a CSV file with columns L, W, a and b")]
struct Arguments {
    file: PathBuf,
    /// How far to search where the bound is not met; a million steps take a second or two
    #[arg(long, default_value_t = STEPS)]
    steps: u64,
}

struct Row {
    sizes: [i64; 4],
    optimum: Option<i64>,
}

#[expect(clippy::print_stdout, clippy::print_stderr, reason = "a program for the terminal")]
fn main() -> ExitCode {
    let arguments = <Arguments as clap::Parser>::parse();
    let file = arguments.file.display();
    let rows = std::fs::read_to_string(&arguments.file).map_err(|error| error.to_string()).and_then(|text| read(&text));
    let rows = match rows {
        Ok(rows) => rows,
        Err(why) => {
            eprintln!("{file}: {why}");
            return ExitCode::from(2);
        }
    };
    println!("L,W,a,b,count,bound,witness");
    let (mut proven, mut known, mut met, mut spent, mut slowest) = (0, 0, 0, Duration::ZERO, Duration::ZERO);
    for row in &rows {
        let [length, width, a, b] = row.sizes;
        let [l, w, p, q] = row.sizes.map(|mm| mm * UNITS_PER_MM);
        let start = Instant::now();
        let found = count_within(l, w, p, q, arguments.steps);
        let took = start.elapsed();
        println!("{length},{width},{a},{b},{},{},{}", found.most, found.at_most, witness(&found, p));
        proven += usize::from(found.is_proven());
        known += usize::from(row.optimum.is_some());
        met += usize::from(row.optimum == Some(found.most));
        spent += took;
        slowest = slowest.max(took);
    }
    println!(
        "# {} rows, {proven} proven, {met} of {known} known optima met, {:.3} s, the slowest row {:.3} s",
        rows.len(),
        spent.as_secs_f64(),
        slowest.as_secs_f64(),
    );
    ExitCode::SUCCESS
}

fn witness(found: &CountOne, a: i64) -> String {
    let spots = found.spots().map(|spot| {
        let (x, y) = (spot.x / UNITS_PER_MM, spot.y / UNITS_PER_MM);
        format!("{x}:{y}:{}", u8::from(spot.w != a))
    });
    spots.collect::<Vec<_>>().join(" ")
}

/// # Errors
/// What is wrong, and in which line.
fn read(text: &str) -> Result<Vec<Row>, String> {
    let at = |line: usize| move |why: String| format!("line {line}: {why}");
    let mut lines = (1..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
    let (line, header) = lines.next().ok_or("no line that names the columns")?;
    let header = fields(header.trim_start_matches('\u{feff}')).map_err(at(line))?;
    let column = |name: &str| header.iter().position(|field| field.trim() == name);
    let mut sizes = [0; 4];
    for (place, name) in sizes.iter_mut().zip(["L", "W", "a", "b"]) {
        *place = column(name).ok_or_else(|| format!("line {line}: no column is named {name}"))?;
    }
    let optimum = column("optimum");
    lines
        .map(|(line, text)| {
            let fields = fields(text).map_err(at(line))?;
            let mut row = Row { sizes: [0; 4], optimum: None };
            for (size, &column) in row.sizes.iter_mut().zip(&sizes) {
                *size = length(fields.get(column), &header[column]).map_err(at(line))?;
            }
            if let Some(text) = optimum.and_then(|column| fields.get(column)).filter(|text| !text.trim().is_empty()) {
                let whole = text.trim().parse().map_err(|error| format!("line {line}: optimum {text:?}: {error}"));
                row.optimum = Some(whole?);
            }
            Ok(row)
        })
        .collect()
}

fn length(field: Option<&String>, name: &str) -> Result<i64, String> {
    let text = field.ok_or_else(|| format!("nothing in column {name}"))?;
    let mm = text.trim().parse().map_err(|error| format!("{name} is {text:?}: {error}"))?;
    if (1..=10_000_000).contains(&mm) { Ok(mm) } else { Err(format!("{name} is {mm}, not from 1 to 10000000")) }
}

/// The fields of a line; a quoted one may hold commas, and quotes written twice.
fn fields(line: &str) -> Result<Vec<String>, String> {
    let mut fields = vec![String::new()];
    let (mut quoted, mut rest) = (false, line.chars().peekable());
    while let Some(c) = rest.next() {
        match (c, fields.last_mut()) {
            ('"', Some(field)) if quoted && rest.peek() == Some(&'"') => {
                field.push('"');
                rest.next();
            }
            ('"', Some(field)) if quoted || field.is_empty() => quoted = !quoted,
            (',', _) if !quoted => fields.push(String::new()),
            (c, Some(field)) => field.push(c),
            (_, None) => {}
        }
    }
    if quoted { Err("a quote is not closed".to_owned()) } else { Ok(fields) }
}
