//! `holds`: how many trays or pots of one kind stand on one shelf.

use serde::Serialize;

use crate::store;
use crate::trade::{Capacity, Held, NamedTray, Outline, Turned, resolve, shelf_size};
use crate::units::{Length, LengthUnit, Measure, Size, about, exact_up, rounded, size_text, unit_of};
use crate::words::{kind_held, number_held};

use super::{Exit, Failure, Holds, Report, output};

#[derive(Serialize)]
struct Answer {
    shelf: String,
    container: Named,
    /// With what may stick out, where anything may.
    fits: i64,
    /// More can't fit, however they are turned; unknown for round pots.
    at_most: Option<i64>,
    /// Round pots in plain rows; `fits` may be staggered.
    in_rows: Option<i64>,
    /// How far the ones in front stick out.
    sticks_out: String,
    /// The least that must stick out for more to fit, and how many then do.
    overhang: Option<More>,
}

#[derive(Serialize)]
struct Named {
    name: Option<String>,
    size: String,
    round: bool,
}

#[derive(Serialize)]
struct More {
    needed: String,
    fits: i64,
}

pub(super) fn holds(args: &Holds) -> Result<Report, Failure> {
    let bad = |why: String| Failure::Bad(why);
    let size = shelf_size(&args.shelf, None).map_err(|why| bad(why.to_string()))?;
    let (width, depth) = (size.width.value(), size.depth.value());
    let meant =
        resolve(store::library().containers.values(), &args.container, None).map_err(|why| bad(why.to_string()))?;
    let allowed = match &args.overhang {
        None => Length::ZERO,
        Some(text) => {
            let typed = Measure::parse_length(text, None).map_err(|why| bad(format!("the overhang: {why}")))?;
            within("the overhang", typed.value(), text, Length::ZERO, Length::from_mm(1_000))?;
            typed.value()
        }
    };
    let hold = Capacity { outline: meant.outline, width, depth, allowed, unit: unit_of(&args.shelf) };
    let text = if args.json { output::json(&answer(&hold, meant, &size))? } else { words(&hold, &meant, &size) };
    Ok(Report { text, exit: Exit::Good })
}

fn within(what: &str, found: Length, typed: &str, least: Length, most: Length) -> Result<(), Failure> {
    if (least..=most).contains(&found) {
        return Ok(());
    }
    let most = most.in_words(LengthUnit::Metre);
    Err(Failure::Bad(format!("{what} must be from {least} to {most}, found {typed:?}")))
}

fn answer(hold: &Capacity, meant: NamedTray, shelf: &Size) -> Answer {
    let now = hold.with(hold.allowed);
    Answer {
        shelf: size_text(shelf),
        container: Named { name: meant.name, size: meant.size, round: matches!(meant.outline, Outline::Round { .. }) },
        fits: now.fits,
        at_most: now.at_most,
        in_rows: now.in_rows,
        sticks_out: exact_up(hold.sticks_out(), hold.unit),
        overhang: hold.more().map(|needed| More { needed: exact_up(needed, hold.unit), fits: hold.with(needed).fits }),
    }
}

fn words(hold: &Capacity, meant: &NamedTray, shelf: &Size) -> String {
    let (plain, now, unit) = (hold.with(Length::ZERO), hold.with(hold.allowed), hold.unit);
    let mut lines = vec![if now.fits == 0 {
        "None: one is larger than the shelf, turned either way".to_owned()
    } else {
        format!("{}{}", number_held(meant, now.fits), how(&now))
    }];
    let sticks_out = hold.sticks_out();
    if sticks_out > Length::ZERO {
        let far = rounded(about(sticks_out, unit).min(hold.allowed), unit);
        lines.push(format!("with {far} sticking out; {} if nothing may stick out", plain.fits));
    } else if hold.allowed > Length::ZERO {
        lines.push("no more than with nothing sticking out".to_owned());
    }
    if let Some(needed) = hold.more() {
        // What is said must be true of the rounded figure too.
        let most = about(needed, unit);
        let more = hold.with(most);
        lines.push(format!("and {} if {} may stick out{}", more.fits, rounded(most, unit), how(&more)));
    }
    lines.push(format!("\nShelf {}, {} {}, no gaps between\n", size_text(shelf), kind_held(meant), meant.size));
    lines.join("\n")
}

/// `, lengthwise`, `, 3 lengthwise and 2 crosswise`, `, staggered (112 in rows)`.
fn how(held: &Held) -> String {
    let mut how = match (held.in_rows, held.turned) {
        (Some(rows), _) if rows < held.fits => format!(", staggered ({rows} in rows)"),
        (Some(_), _) if held.fits > 0 => ", in rows; staggered holds no more".to_owned(),
        (_, Turned::Each { crosswise: 0, .. }) => ", lengthwise".to_owned(),
        (_, Turned::Each { lengthwise: 0, .. }) => ", crosswise".to_owned(),
        (_, Turned::Each { lengthwise, crosswise }) => {
            format!(", {lengthwise} lengthwise and {crosswise} crosswise")
        }
        (_, Turned::Alike) => String::new(),
    };
    if let Some(at_most) = held.at_most.filter(|at_most| *at_most > held.fits) {
        let very_most = format!(", and {at_most} at the very most");
        how.push_str(&very_most);
    }
    how
}
