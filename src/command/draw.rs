//! `draw`: the shelves as they stand on a day, to scale.

use serde::Serialize;

use crate::export;
use crate::outlook::Week;
use crate::store;
use crate::words::{self, Words, commands};

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
    /// What the shelves have room for that day, as in the weeks.
    room: Vec<RoomRow>,
    no_spot: Vec<NoSpot<'a>>,
}

/// Places that are in each other's way are counted together.
#[derive(Serialize)]
struct RoomRow {
    places: Vec<String>,
    verdict: &'static str,
    needed: u32,
    held: u32,
    short: u32,
    short_at_most: u32,
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
    let room = opened.look_at_day(args.on)?;
    let room = counted_once(&room);
    let at = |scale| export::shelf_map(&words, args.on, &room, scale);
    let scale = args.scale.unwrap_or_else(|| export::largest_scale(|scale| at(scale).drawing));
    let map = at(scale);
    store::write(&args.output, export::svg(&map.drawing).as_bytes())?;

    let text = if args.json {
        output::json(&Drawn {
            season: opened.season.name(),
            on: IsoDay(args.on),
            scale: scale.to_string(),
            placed: map.placed,
            room: room.iter().map(|row| room_row(row, &words)).collect(),
            no_spot: map
                .no_spot
                .iter()
                .flat_map(|(place, marks)| marks.iter().map(move |tray| NoSpot { tray, place }))
                .collect(),
        })?
    } else {
        let mut text = commands::drawn(&args.output, args.on, scale, map.placed) + "\n";
        text.extend(room.iter().map(|row| words.room_on_map(row) + "\n"));
        text.extend(map.no_spot.iter().map(|(place, marks)| words::map::no_spot_yet(place, marks) + "\n"));
        text
    };
    Ok(Report { text, exit: Exit::Good })
}

fn room_row(row: &Week, words: &Words<'_>) -> RoomRow {
    RoomRow {
        places: row.together.iter().map(|pool| words.pool(pool)).collect(),
        verdict: words::verdict(row.verdict),
        needed: row.needed,
        held: row.held,
        short: row.short,
        short_at_most: row.short_at_most,
    }
}

/// Rows that are counted together with another are the same row.
fn counted_once(rows: &[Week]) -> Vec<&Week> {
    let mut kept: Vec<&Week> = Vec::new();
    for row in rows {
        if !kept.iter().any(|other| other.together.contains(&row.pool)) {
            kept.push(row);
        }
    }
    kept
}
