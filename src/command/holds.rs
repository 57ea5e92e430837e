//! `holds`: how many trays or pots of one kind stand on one shelf.

use serde::Serialize;

use crate::fit::{count, round_rows};
use crate::store;
use crate::units::{Length, LengthUnit, Measure, Size};

use super::container::{Meant, Outline, resolve, size_text};
use super::typed::{about_up, exact_up, hundredth, unit_of};
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

/// How many fit, and how.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Held {
    fits: i64,
    at_most: Option<i64>,
    in_rows: Option<i64>,
    turned: Turned,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Turned {
    /// Nothing to say: square, round, too many to list, or none.
    Alike,
    /// So many with the long side along the shelf, and so many with it across.
    Each { lengthwise: i64, crosswise: i64 },
}

pub(super) fn holds(args: &Holds) -> Result<Report, Failure> {
    let bad = |why: String| Failure::Bad(why);
    let size = Size::parse(&args.shelf, None).map_err(|why| bad(format!("the shelf: {why}")))?;
    let shelf = (size.width.value(), size.depth.value());
    for side in [shelf.0, shelf.1] {
        within("a side of the shelf", side, &args.shelf, Length::from_mm(50), Length::from_mm(100_000))?;
    }
    let meant = resolve(store::library(), &args.container).map_err(bad)?;
    let allowed = match &args.overhang {
        None => Length::ZERO,
        Some(text) => {
            let typed = Measure::parse_length(text, None).map_err(|why| bad(format!("the overhang: {why}")))?;
            within("the overhang", typed.value(), text, Length::ZERO, Length::from_mm(1_000))?;
            typed.value()
        }
    };
    let unit = unit_of(&args.shelf);
    let outline = meant.outline;
    let plain = held(outline, shelf.0, shelf.1);
    let now = held(outline, shelf.0, shelf.1 + allowed);
    let sticks_out = if now.fits > plain.fits {
        least_overhang(outline, shelf, now.fits, Length::ZERO, allowed, unit).unwrap_or(allowed)
    } else {
        Length::ZERO
    };
    // What stands less than half on its shelf falls off.
    let most = outline.short_side() / 2;
    let more = least_overhang(outline, shelf, now.fits + 1, allowed, most, unit)
        .map(|needed| (needed, held(outline, shelf.0, shelf.1 + needed)));

    let text = if args.json {
        output::json(&Answer {
            shelf: size_text(&size),
            container: Named { name: meant.name, size: meant.size, round: matches!(outline, Outline::Round { .. }) },
            fits: now.fits,
            at_most: now.at_most,
            in_rows: now.in_rows,
            sticks_out: exact_up(sticks_out, unit),
            overhang: more.map(|(needed, held)| More { needed: exact_up(needed, unit), fits: held.fits }),
        })?
    } else {
        words(&meant, &size, &plain, &now, sticks_out, more.as_ref(), unit)
    };
    Ok(Report { text, exit: Exit::Good })
}

fn within(what: &str, found: Length, typed: &str, least: Length, most: Length) -> Result<(), Failure> {
    if (least..=most).contains(&found) {
        return Ok(());
    }
    let most = most.in_words(LengthUnit::Metre);
    Err(Failure::Bad(format!("{what} must be from {least} to {most}, found {typed:?}")))
}

fn held(outline: Outline, width: Length, depth: Length) -> Held {
    match outline {
        Outline::Rectangle { width: w, depth: d } => {
            let counted = count(width.units(), depth.units(), w.units(), d.units());
            let long = w.max(d).units();
            let turned = if w == d || !(1..=100_000).contains(&counted.most) {
                Turned::Alike
            } else {
                let lengthwise = counted.spots().fold(0, |n, rect| n + i64::from(rect.w == long));
                Turned::Each { lengthwise, crosswise: counted.most - lengthwise }
            };
            Held { fits: counted.most, at_most: Some(counted.at_most), in_rows: None, turned }
        }
        Outline::Round { across } => {
            let rows = round_rows(width.units(), depth.units(), across.units());
            let plain = (width.units() / across.units()) * (depth.units() / across.units());
            Held { fits: rows.count(), at_most: None, in_rows: Some(plain), turned: Turned::Alike }
        }
    }
}

/// The least overhang, beyond `from` and up to `most`, that lets `wanted` stand on the shelf.
fn least_overhang(
    outline: Outline,
    shelf: (Length, Length),
    wanted: i64,
    from: Length,
    most: Length,
    unit: LengthUnit,
) -> Option<Length> {
    let fits = |overhang: Length| held(outline, shelf.0, shelf.1 + overhang).fits >= wanted;
    let depths = match outline {
        // More fit only where another sum of sides comes within the depth.
        Outline::Rectangle { width, depth } => sums(width, depth, shelf.1 + from, shelf.1 + most),
        Outline::Round { .. } => {
            let step = hundredth(unit);
            let steps = ((most - from).units() / step.units()).max(0);
            (1..=steps).map(|n| shelf.1 + from + step * n).collect()
        }
    };
    let least = depths.partition_point(|depth| !fits(*depth - shelf.1));
    depths.get(least).map(|depth| *depth - shelf.1)
}

/// All `p a + q b` beyond `from` and up to `most`, in order.
fn sums(a: Length, b: Length, from: Length, most: Length) -> Vec<Length> {
    let mut sums = Vec::new();
    let mut rows = Length::ZERO;
    while rows <= most {
        let missing = (from - rows).units().max(0);
        let mut depth = rows + b * (missing / b.units());
        while depth <= most {
            if depth > from {
                sums.push(depth);
            }
            depth += b;
        }
        rows += a;
    }
    sums.sort_unstable();
    sums.dedup();
    sums
}

fn words(
    meant: &Meant,
    shelf: &Size,
    plain: &Held,
    now: &Held,
    sticks_out: Length,
    more: Option<&(Length, Held)>,
    unit: LengthUnit,
) -> String {
    let mut text = if now.fits == 0 {
        "None: one is larger than the shelf, turned either way\n".to_owned()
    } else {
        format!("{}{}\n", number(meant, now.fits), how(now))
    };
    if sticks_out > Length::ZERO {
        text.push_str(&format!(
            "with {} sticking out; {} if nothing may stick out\n",
            about_up(sticks_out, unit),
            plain.fits
        ));
    }
    if let Some((needed, held)) = more {
        text.push_str(&format!("and {} if {} may stick out{}\n", held.fits, about_up(*needed, unit), how(held)));
    }
    text.push_str(&format!("\nShelf {}, {} {}, no gaps between\n", size_text(shelf), kind(meant), meant.size));
    text
}

fn number(meant: &Meant, fits: i64) -> String {
    match (meant.name.as_deref(), meant.outline) {
        (Some("flat"), _) => format!("{fits} {}", if fits == 1 { "flat" } else { "flats" }),
        (Some(name), _) => format!("{fits} × {name}"),
        (None, outline) => {
            let kind = match outline {
                Outline::Round { .. } => "round pot",
                Outline::Rectangle { width, depth } if width == depth => "square pot",
                Outline::Rectangle { .. } => "tray",
            };
            format!("{fits} {kind}{}", if fits == 1 { "" } else { "s" })
        }
    }
}

fn kind(meant: &Meant) -> &'static str {
    match meant.outline {
        Outline::Round { .. } => "round pot",
        Outline::Rectangle { width, depth } if width == depth && meant.name.is_none() => "square pot",
        Outline::Rectangle { .. } if meant.name.as_deref() == Some("flat") => "flat",
        Outline::Rectangle { .. } => "outside",
    }
}

/// `, lengthwise`, `, 3 lengthwise and 2 crosswise`, `, staggered (112 in rows)`.
fn how(held: &Held) -> String {
    let mut how = match (held.in_rows, held.turned) {
        (Some(rows), _) if rows < held.fits => format!(", staggered ({rows} in rows)"),
        (Some(_), _) if held.fits > 0 => ", in rows (staggered holds no more)".to_owned(),
        (_, Turned::Each { crosswise: 0, .. }) => ", lengthwise".to_owned(),
        (_, Turned::Each { lengthwise: 0, .. }) => ", crosswise".to_owned(),
        (_, Turned::Each { lengthwise, crosswise }) => {
            format!(", {lengthwise} lengthwise and {crosswise} crosswise")
        }
        (_, Turned::Alike) => String::new(),
    };
    if let Some(at_most) = held.at_most.filter(|at_most| *at_most > held.fits) {
        how.push_str(&format!("; no proof that more than {} cannot stand, {at_most} at the very most", held.fits));
    }
    how
}
