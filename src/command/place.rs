//! `place`: gives every tray a spot and saves the season with them.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::outlook::{Keep, Verdict};
use crate::season::{Op, TrayKey};
use crate::store;
use crate::words::{self, commands};

use super::opened::Opened;
use super::output::IsoDay;
use super::report::{Exit, Failure, Report, bullet};
use super::{Place, output};

#[derive(Serialize)]
struct LaidOut<'a> {
    season: &'a str,
    verdict: &'static str,
    /// Trays, stacks and blocks of pots that have a spot on all their days.
    placed: usize,
    moves: usize,
    no_spot: Vec<NoSpot>,
}

#[derive(Serialize)]
struct NoSpot {
    tray: String,
    from: IsoDay,
    /// The first day on which it needs none any more.
    until: IsoDay,
}

pub(super) fn place(args: &Place) -> Result<Report, Failure> {
    output::known_ending(&args.output, commands::A_SEASON_FILE, &["ron"])?;
    let mut opened = Opened::load(&args.file)?;
    let outlook = opened.look_ahead(Keep::Spots)?;
    opened.season.apply(&Op::SetLayout(outlook.layout.clone()).into())?;
    store::save(&args.output, &opened.season)?;

    let words = opened.words();
    let homeless: BTreeSet<TrayKey> = outlook.no_spot.iter().map(|(tray, _)| *tray).collect();
    let all: BTreeSet<TrayKey> = opened.forecast.stays.iter().filter_map(crate::forecast::Stay::tray).collect();
    let placed = all.difference(&homeless).count();
    let fits = outlook.verdict == Verdict::Fits && homeless.is_empty();
    let text = if args.json {
        let no_spot = outlook.no_spot.iter().map(|(tray, span)| NoSpot {
            tray: words.tray(*tray),
            from: IsoDay(span.from()),
            until: IsoDay(span.until()),
        });
        output::json(&LaidOut {
            season: opened.season.name(),
            verdict: words::verdict(outlook.verdict),
            placed,
            moves: outlook.moves,
            no_spot: no_spot.collect(),
        })?
    } else {
        let mut text = commands::placed(opened.season.name(), placed, all.len(), outlook.moves, &args.output) + "\n";
        if !outlook.no_spot.is_empty() {
            text.extend(["\n", commands::NO_SPOT_FOR, "\n"]);
        }
        let lines = outlook.no_spot.iter().map(|(tray, span)| (words.tray(*tray), words::span(*span)));
        text.extend(lines.map(|(tray, span)| bullet(&format!("{tray}, {span}"))));
        text
    };
    Ok(Report { text, exit: if fits { Exit::Good } else { Exit::NotAll } })
}
