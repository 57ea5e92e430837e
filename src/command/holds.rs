//! `holds`: how many trays or pots of one kind stand on one shelf.

use serde::Serialize;

use crate::store;
use crate::trade::{Capacity, Misses, NamedTray, Outline, resolve, shelf_size};
use crate::units::{Length, LengthUnit, Measure, Size, exact_up, size_text, unit_of};
use crate::words::{commands, held_in_full};

use super::report::{Exit, Failure, Report};
use super::{Holds, output};

#[derive(Serialize)]
struct Held {
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
    /// The least by which the shelf misses one more.
    one_more: Option<Missing>,
}

#[derive(Serialize)]
struct Named {
    name: Option<String>,
    size: String,
    round: bool,
}

#[derive(Serialize)]
struct Missing {
    width: String,
    depth: String,
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
    let season = args.season.as_deref().map(store::load).transpose()?;
    let library = store::library();
    let meant = match &season {
        Some(season) => resolve(season.containers(library), &args.container, None),
        None => resolve(library.containers.values(), &args.container, None),
    }
    .map_err(|why| bad(why.to_string()))?;
    let allowed = match &args.overhang {
        None => Length::ZERO,
        Some(text) => {
            let typed =
                Measure::parse_length(text, None).map_err(|why| bad(commands::about(commands::OVERHANG, why)))?;
            within(commands::OVERHANG, typed.value(), text, Length::ZERO, Length::from_mm(1_000))?;
            typed.value()
        }
    };
    let hold = Capacity { outline: meant.outline, width, depth, allowed, unit: unit_of(&args.shelf) };
    let text = if args.json { output::json(&answer(&hold, meant, &size))? } else { held_in_full(&hold, &meant, &size) };
    Ok(Report { text, exit: Exit::Good })
}

fn within(what: &str, found: Length, typed: &str, least: Length, most: Length) -> Result<(), Failure> {
    if (least..=most).contains(&found) {
        return Ok(());
    }
    let most = most.in_words(LengthUnit::Metre);
    Err(Failure::Bad(commands::out_of_range(what, least, most, typed)))
}

fn answer(hold: &Capacity, meant: NamedTray, shelf: &Size) -> Held {
    let now = hold.with(hold.allowed);
    Held {
        shelf: size_text(shelf),
        container: Named { name: meant.name, size: meant.size, round: matches!(meant.outline, Outline::Round { .. }) },
        fits: now.fits,
        at_most: now.at_most,
        in_rows: now.in_rows,
        sticks_out: exact_up(hold.sticks_out(), hold.unit),
        one_more: hold.one_more().map(|Misses { width, depth }| Missing {
            width: exact_up(width, hold.unit),
            depth: exact_up(depth, hold.unit),
        }),
        overhang: hold.more().map(|needed| More { needed: exact_up(needed, hold.unit), fits: hold.with(needed).fits }),
    }
}
