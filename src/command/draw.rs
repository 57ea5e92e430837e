//! `draw`: the shelves as they stand on a day, to scale.

use serde::Serialize;

use crate::export;
use crate::store;
use crate::words::{self, commands};

use super::opened::Opened;
use super::output::IsoDay;
use super::report::{Exit, Failure, Report};
use super::{Draw, output};

#[derive(Serialize)]
struct Drawn<'a> {
    season: &'a str,
    on: IsoDay,
    scale: String,
    placed: usize,
    no_spot: Vec<NoSpot<'a>>,
}

#[derive(Serialize)]
struct NoSpot<'a> {
    tray: &'a str,
    /// The shelves that it wants.
    place: &'a str,
}

pub(super) fn draw(args: &Draw) -> Result<Report, Failure> {
    output::known_ending(&args.output, commands::A_DRAWING, &["svg"])?;
    let opened = Opened::load(&args.file)?;
    let words = opened.words();
    let scale =
        args.scale.unwrap_or_else(|| export::largest_scale(|scale| export::shelf_map(&words, args.on, scale).drawing));
    let map = export::shelf_map(&words, args.on, scale);
    store::write(&args.output, export::svg(&map.drawing).as_bytes())?;

    let text = if args.json {
        output::json(&Drawn {
            season: opened.season.name(),
            on: IsoDay(args.on),
            scale: scale.to_string(),
            placed: map.placed,
            no_spot: map
                .no_spot
                .iter()
                .flat_map(|(place, marks)| marks.iter().map(move |tray| NoSpot { tray, place }))
                .collect(),
        })?
    } else {
        let mut text = commands::drawn(&args.output, args.on, scale, map.placed) + "\n";
        text.extend(map.no_spot.iter().map(|(place, marks)| words::map::no_spot_yet(place, marks) + "\n"));
        text
    };
    Ok(Report { text, exit: Exit::Good })
}
