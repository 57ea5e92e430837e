//! `room`: how many plants every day can hold, what limits it, and what one more of something would add.

use serde::Serialize;

use crate::fit::{Cancel, Memory, Progress};
use crate::outlook::carries::{Carries, Fits, More, NotAsked, Of, TooMany, carries};
use crate::trade::{QuickLineError, find_crop};
use crate::words::{self, Words};

use super::Room;
use super::opened::Opened;
use super::output::{self, IsoDay};
use super::report::{Exit, Failure, Report, bullet};

#[derive(Serialize)]
struct Answer<'a> {
    season: &'a str,
    /// The crop's key; `null` for the whole season.
    crop: Option<String>,
    planned: u32,
    /// Of them, sown already.
    standing: u32,
    /// Whether as many as are planned fit.
    fits_as_planned: bool,
    /// The most that were laid out on every day; `null` where not even none fits.
    fits: Option<FitsRow>,
    /// Those of which none stands beyond the lamps; `null` where no lamp is drawn.
    well_lit: Option<FitsRow>,
    /// The fewest that are proven too many.
    too_many: Option<TooManyRow>,
    /// No number lies between the two.
    exact: bool,
    more: Vec<MoreRow>,
    text: Vec<String>,
}

#[derive(Serialize)]
struct FitsRow {
    plants: u32,
    trays: u32,
    /// Per cent of the season; `null` for a crop.
    percent: Option<u64>,
}

#[derive(Serialize)]
struct TooManyRow {
    plants: u32,
    percent: Option<u64>,
    from: IsoDay,
    /// The first day that is no crunch any more.
    until: IsoDay,
    place: String,
    needed: u32,
    held: u32,
    short: u32,
    reason: String,
}

#[derive(Serialize)]
struct MoreRow {
    plants: Option<u32>,
    more: u32,
    well_lit: Option<u32>,
    exact: bool,
    limit: Option<String>,
    limit_on: Option<IsoDay>,
    text: String,
}

pub(super) fn room(args: &Room) -> Result<Report, Failure> {
    let opened = Opened::load(&args.file)?;
    let words = opened.words();
    let of = match &args.crop {
        None => Of::Season,
        Some(crop) => {
            let found = find_crop(crop, opened.season.crops(opened.library)).map_err(|why| no_crop(&why, &words))?;
            Of::Crop(found.key.clone())
        }
    };
    let (progress, cancel, mut memory) = (Progress::default(), Cancel::default(), Memory::default());
    let found = carries(&of, &opened.season, opened.library, &mut memory, &progress, &cancel)?;
    let found = found.map_err(|why| Failure::Bad(not_asked(why, &words)))?;
    let fits = found.most.fits.is_some_and(|fits| fits.plants >= found.planned);
    let text = if args.json { json(&found, fits, &words)? } else { text(&found, &words) };
    Ok(Report { text, exit: if fits { Exit::Good } else { Exit::NotAll } })
}

fn no_crop(why: &QuickLineError, words: &Words<'_>) -> Failure {
    Failure::Bad(words::carries::no_such_crop(why, &words.crops_grown()))
}

fn not_asked(why: NotAsked, words: &Words<'_>) -> String {
    words::carries::not_asked(why, &words.crops_grown())
}

fn text(found: &Carries, words: &Words<'_>) -> String {
    let mut text = format!("{}\n", words.season.name());
    for said in sentences(found, words) {
        text += &said;
        text.push('\n');
    }
    if !found.more.is_empty() {
        text.extend(["\n", words::carries::WHAT_ONE_MORE_BUYS, "\n"]);
        text.extend(found.more.iter().map(|more| bullet(&words.one_more(found, more))));
    }
    text
}

fn sentences(found: &Carries, words: &Words<'_>) -> Vec<String> {
    let mut all = words.carries(found);
    all.extend(found.most.too_many.as_ref().map(|many| words.why_no_more(many)));
    all
}

fn json(found: &Carries, fits_as_planned: bool, words: &Words<'_>) -> Result<String, Failure> {
    let is_season = found.of == Of::Season;
    let percent = |plants: u32| is_season.then(|| found.per_cent(plants));
    let fits = |fits: Fits| FitsRow { plants: fits.plants, trays: fits.trays, percent: percent(fits.plants) };
    output::json(&Answer {
        season: words.season.name(),
        crop: match &found.of {
            Of::Crop(key) => Some(key.to_string()),
            Of::Season => None,
        },
        planned: found.planned,
        standing: found.standing,
        fits_as_planned,
        fits: found.most.fits.map(fits),
        well_lit: found.most.well_lit.map(fits),
        too_many: found.most.too_many.as_ref().map(|many| too_many(many, percent(many.plants), words)),
        exact: found.most.is_exact(),
        more: found.more.iter().map(|more| more_row(found, more, words)).collect(),
        text: sentences(found, words),
    })
}

fn too_many(many: &TooMany, percent: Option<u64>, words: &Words<'_>) -> TooManyRow {
    let crunch = &many.crunch;
    TooManyRow {
        plants: many.plants,
        percent,
        from: IsoDay(crunch.span.from()),
        until: IsoDay(crunch.span.until()),
        place: words.pools(&crunch.pools),
        needed: crunch.needed,
        held: crunch.held,
        short: crunch.short,
        reason: words.why_no_more(many),
    }
}

fn more_row(found: &Carries, more: &More, words: &Words<'_>) -> MoreRow {
    let limit = more.most.too_many.as_ref().map(|many| &many.crunch);
    MoreRow {
        plants: more.most.fits.map(|fits| fits.plants),
        more: more.most.plants().saturating_sub(found.most.plants()),
        well_lit: more.most.well_lit.map(|lit| lit.plants),
        exact: more.most.is_exact(),
        limit: limit.map(|crunch| words.pools(&crunch.pools)),
        limit_on: limit.map(|crunch| IsoDay(crunch.worst_day)),
        text: words.one_more(found, more),
    }
}
