//! `holds`: how many trays or pots of one kind stand on one shelf.

use serde::Serialize;

use crate::forecast::Forecast;
use crate::season::Shelf;
use crate::store;
use crate::trade::{Capacity, Misses, NamedTray, Outline, borne, resolve, shelf_size};
use crate::units::{Length, LengthUnit, Measure, Size, exact_up, size_text, unit_of};
use crate::words::{Words, by_weight_and_size, commands, held_in_full};

use super::report::{Exit, Failure, Report};
use super::{Holds, output};

#[derive(Serialize)]
struct Held {
    shelf: String,
    container: Named,
    /// With what may stick out, where anything may, and no more than the rating bears.
    fits: i64,
    /// Where a shelf of the season is named that has a rating: in grams, of each when watered, and how many that is.
    rating: Option<Rating>,
    /// More can't fit, however they are turned; unknown for round pots.
    at_most: Option<i64>,
    /// Round pots in plain rows; `fits` may be staggered, or out of line.
    in_rows: Option<i64>,
    /// Round pots in the best rows, plain or staggered; `fits` may be out of line.
    staggered: Option<i64>,
    /// How far the ones in front stick out.
    sticks_out: String,
    /// The least that must stick out for more to fit, and how many then do.
    overhang: Option<More>,
    /// The least by which the shelf misses one more.
    one_more: Option<Missing>,
}

#[derive(Serialize)]
struct Rating {
    rated: u32,
    each: u32,
    bears: i64,
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
    let season = args.season.as_deref().map(store::load).transpose()?;
    let library = store::library();
    let forecast = Forecast::default();
    let words =
        season.as_ref().map(|season| Words { season, library, forecast: &forecast, unit: season.length_unit() });
    let named = words.as_ref().and_then(|words| shelf_named(words, &args.shelf));
    let size = match named {
        Some(shelf) => Size { width: shelf.width.clone(), depth: shelf.depth.clone() },
        None => shelf_size(&args.shelf, None).map_err(|why| bad(why.to_string()))?,
    };
    let (width, depth) = (size.width.value(), size.depth.value());
    let meant = match &season {
        Some(season) => resolve(season.containers(library), &args.container, None),
        None => resolve(library.containers.values(), &args.container, None),
    }
    .map_err(|why| bad(why.to_string()))?;
    let allowed = match &args.overhang {
        None => named.map_or(Length::ZERO, |shelf| shelf.overhang.value()),
        Some(text) => {
            let typed =
                Measure::parse_length(text, None).map_err(|why| bad(commands::about(commands::OVERHANG, why)))?;
            within(commands::OVERHANG, typed.value(), text, Length::ZERO, Length::from_mm(1_000))?;
            typed.value()
        }
    };
    let hold = Capacity { outline: meant.outline, width, depth, allowed, unit: unit_of(size.width.typed()) };
    let rated = named.and_then(|shelf| shelf.load_grams);
    if args.json {
        return Ok(Report { text: output::json(&answer(&hold, meant, &size, rated))?, exit: Exit::Good });
    }
    let borne = words.as_ref().and_then(|words| words.borne(&meant, hold.with(allowed).fits, rated));
    let by_size = held_in_full(&hold, &meant, &size);
    let text = borne.map_or_else(|| by_size.clone(), |borne| by_weight_and_size(&borne, &by_size));
    Ok(Report { text, exit: Exit::Good })
}

/// By the name that it has in the window, such as `Rack 1, shelf 2`.
fn shelf_named<'a>(words: &Words<'a>, text: &str) -> Option<&'a Shelf> {
    let name = text.trim().to_lowercase();
    words.season.shelves().find(|shelf| words.shelf(shelf.id).to_lowercase() == name)
}

fn within(what: &str, found: Length, typed: &str, least: Length, most: Length) -> Result<(), Failure> {
    if (least..=most).contains(&found) {
        return Ok(());
    }
    let most = most.in_words(LengthUnit::Metre);
    Err(Failure::Bad(commands::out_of_range(what, least, most, typed)))
}

fn answer(hold: &Capacity, meant: NamedTray, shelf: &Size, rated: Option<u32>) -> Held {
    let now = hold.with(hold.allowed);
    let rating = rated.and_then(|rated| {
        let bears = borne(Some(rated), meant.grams)?;
        Some(Rating { rated, each: meant.grams, bears })
    });
    Held {
        shelf: size_text(shelf),
        container: Named { name: meant.name, size: meant.size, round: matches!(meant.outline, Outline::Round { .. }) },
        fits: rating.as_ref().map_or(now.fits, |rating| now.fits.min(rating.bears)),
        rating,
        at_most: now.at_most,
        in_rows: now.in_rows,
        staggered: now.staggered,
        sticks_out: exact_up(hold.sticks_out(), hold.unit),
        one_more: hold.one_more().map(|Misses { width, depth }| Missing {
            width: exact_up(width, hold.unit),
            depth: exact_up(depth, hold.unit),
        }),
        overhang: hold.more().map(|needed| More { needed: exact_up(needed, hold.unit), fits: hold.with(needed).fits }),
    }
}
