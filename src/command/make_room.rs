//! `make-room`: what can be changed so that everything fits, and what it costs.

use serde::Serialize;

use crate::fit::{Cancel, Memory, Progress};
use crate::outlook::ways_out::{self, Beyond, Effect, Found, Price, ShortOf, Standing, WayOut};
use crate::outlook::{Crunch, Keep, Outlook, Verdict};
use crate::store;
use crate::words::{self, Words, commands};

use super::MakeRoom;
use super::opened::Opened;
use super::output::{self, IsoDay};
use super::report::{Exit, Failure, Report, bullet, frost_line};

/// Ways of one crunch that are printed; JSON has all of them.
const SHOWN: usize = 8;

#[derive(Serialize)]
struct Answer<'a> {
    season: &'a str,
    verdict: &'static str,
    crunches: Vec<CrunchRow>,
    /// The cheapest changes together with which everything fits, or which come closest.
    best: Option<WayRow>,
    fits: bool,
    /// Proven by counts alone: with these changes nothing does.
    none_fits: bool,
    /// Proven by counts: none of the changes that were looked at is cheaper.
    cheapest: bool,
}

#[derive(Serialize)]
struct CrunchRow {
    from: IsoDay,
    /// The first day that is no crunch any more.
    until: IsoDay,
    place: String,
    needed: u32,
    held: u32,
    short: u32,
    /// Those that remove it first, cheapest first.
    ways: Vec<WayRow>,
}

#[derive(Serialize)]
struct WayRow {
    changes: Vec<String>,
    price: PriceRow,
    /// One figure for the price: less is cheaper.
    points: u64,
    verdict: &'static str,
    removes: bool,
    crunch_before: ShortRow,
    crunch_after: ShortRow,
    season_before: ShortRow,
    season_after: ShortRow,
    /// Trays, or loose pots, that stand beyond the good reach of lamps.
    beyond_lamps: BeyondRow,
    beyond_before: BeyondRow,
    text: String,
}

#[derive(Serialize)]
struct PriceRow {
    held_plant_days: u64,
    sown_plant_days: u64,
    out_plant_days: u64,
    outside_plant_days: u64,
    smaller_pots: u32,
    soon_too_small: u32,
    larger_pots: u32,
    other_pots: u32,
    leaves_meet: u32,
    plants_fewer: u32,
    shelves: u32,
    lamps: u32,
    edges: u32,
    moved_together: u32,
    place_days: u32,
    dark_plant_days: u64,
}

#[derive(Serialize)]
struct BeyondRow {
    most: u32,
    days: u32,
    tray_days: u64,
}

#[derive(Serialize)]
struct ShortRow {
    tray_days: u64,
    trays: u32,
    crunches: usize,
}

pub(super) fn make_room(args: &MakeRoom) -> Result<Report, Failure> {
    if let Some(output) = &args.output {
        output::known_ending(output, commands::A_SEASON_FILE, &["ron"])?;
    }
    let mut opened = Opened::load(&args.file)?;
    let outlook = opened.look_ahead(Keep::Pinned)?;
    let (progress, cancel, mut memory) = (Progress::default(), Cancel::default(), Memory::default());
    let standing = Standing {
        season: &opened.season,
        library: opened.library,
        forecast: &opened.forecast,
        outlook: &outlook,
        today: None,
    };
    let found = ways_out::find(&standing, &mut memory, &progress, &cancel)?;
    let words = opened.words();
    let text = if args.json { json(&outlook, &found, &words)? } else { text(&outlook, &found, &words) };
    let fits = outlook.verdict == Verdict::Fits || found.fits();
    if let Some(output) = &args.output {
        if let Some(way) = &found.best.way {
            opened.season.apply(&way.edit)?;
        }
        store::save(output, &opened.season)?;
        let saved = if args.json { String::new() } else { format!("\n{}\n", commands::saved_as(output)) };
        return Ok(Report { text: text + &saved, exit: exit(fits) });
    }
    Ok(Report { text, exit: exit(fits) })
}

const fn exit(fits: bool) -> Exit {
    if fits { Exit::Good } else { Exit::NotAll }
}

fn text(outlook: &Outlook, found: &Found, words: &Words<'_>) -> String {
    let best = &found.best;
    let mut parts = vec![format!("{}\n{}\n{}", words.season.name(), words.headline(outlook), frost_line(words))];
    for (crunch, ways) in outlook.crunches.iter().zip(&found.of_crunches) {
        let mut part = words.crunch(crunch) + "\n";
        part.extend(ways.iter().take(SHOWN).map(|way| bullet(&words.way(way))));
        if ways.is_empty() {
            part += &bullet(words::ways_out::NONE_FOUND);
        }
        parts.push(part);
    }
    if let Some(way) = &best.way {
        let mut part = words.combined(best) + "\n";
        part.extend(way.changes.iter().map(|change| bullet(&words.to_change(change))));
        part.extend([words.comes_of(way).as_str(), "\n"]);
        parts.push(part);
    } else if outlook.verdict != Verdict::Fits {
        parts.push(words.combined(best) + "\n");
    }
    parts.join("\n")
}

fn json(outlook: &Outlook, found: &Found, words: &Words<'_>) -> Result<String, Failure> {
    let crunches = outlook.crunches.iter().zip(&found.of_crunches);
    output::json(&Answer {
        season: words.season.name(),
        verdict: words::verdict(outlook.verdict),
        crunches: crunches.map(|(crunch, ways)| crunch_row(crunch, ways, words)).collect(),
        best: found.best.way.as_ref().map(|way| way_row(way, words)),
        fits: outlook.verdict == Verdict::Fits || found.fits(),
        none_fits: found.best.none_fits,
        cheapest: found.best.cheapest,
    })
}

fn crunch_row(crunch: &Crunch, ways: &[WayOut], words: &Words<'_>) -> CrunchRow {
    CrunchRow {
        from: IsoDay(crunch.span.from()),
        until: IsoDay(crunch.span.until()),
        place: words.pools(&crunch.pools),
        needed: crunch.needed,
        held: crunch.held,
        short: crunch.short,
        ways: ways.iter().map(|way| way_row(way, words)).collect(),
    }
}

fn way_row(way: &WayOut, words: &Words<'_>) -> WayRow {
    let Effect { verdict, of_crunch, crunch_before, after, before, beyond_lamps, beyond_before, .. } = way.effect;
    WayRow {
        changes: way.changes.iter().map(|change| words.to_change(change)).collect(),
        price: price_row(way.price),
        points: way.price.points(&words.season.settings().matters),
        verdict: words::verdict(verdict),
        removes: way.effect.removes(),
        crunch_before: short_row(crunch_before),
        crunch_after: short_row(of_crunch),
        season_before: short_row(before),
        season_after: short_row(after),
        beyond_lamps: beyond_row(beyond_lamps),
        beyond_before: beyond_row(beyond_before),
        text: words.way(way),
    }
}

const fn price_row(price: Price) -> PriceRow {
    PriceRow {
        held_plant_days: price.held,
        sown_plant_days: price.sown,
        out_plant_days: price.out,
        outside_plant_days: price.outside,
        smaller_pots: price.smaller,
        larger_pots: price.larger,
        other_pots: price.other,
        soon_too_small: price.soon,
        leaves_meet: price.touching,
        plants_fewer: price.fewer,
        shelves: price.shelves,
        lamps: price.lamps,
        edges: price.edges,
        moved_together: price.moved_together,
        place_days: price.open_days,
        dark_plant_days: price.dark,
    }
}

const fn beyond_row(of: Beyond) -> BeyondRow {
    BeyondRow { most: of.most, days: of.days, tray_days: of.tray_days }
}

const fn short_row(of: ShortOf) -> ShortRow {
    ShortRow { tray_days: of.tray_days, trays: of.trays, crunches: of.crunches }
}
