//! Sowings: the line to write one, the list of them, and what one comes to, before and after it is in
//! the season.

use chrono::NaiveDate;

use crate::forecast::{Course, Fill, Forecast, InTrays, Peak, What};
use crate::outlook::week_label;
use crate::season::{Begun, CropKey, Frost, SeedLight, Sowing};
use crate::trade::{self, Again, Germination, QuickLineError};
use crate::units::LengthUnit;

use super::{Words, counted, day, full_day, listed, out_by_frost, plural, stage_name, week};

pub const PAGE: &str = "Sowings";
pub const NONE_YET: &str = "Nothing is sown in this season yet: write what to grow in the line above";
/// From wherever there is nothing sown.
pub const WRITE_FIRST: &str = "Write the first sowing";
pub const BACK: &str = "Back to the sowings";
pub const LAST_FROST: &str = super::frost::OPEN;
pub const TAKE_IN: &str = super::sowing_table::OPEN;

pub const WHAT_TO_GROW: &str = "What to grow";
pub const ADD: &str = "Add sowing";
pub const HOW_TO_WRITE: &str = "Number, crop, the day it goes out, or “sell 7 May” for the day it is sold in flower; a variety in quotation marks, \
     “sow 7 Feb” and “in 50 cells” if you like. Or “10 trays tomato, sow 2 Mar”; “5 fills of 6 trays lettuce, sow 2 Mar, \
     until 1 Oct” follow one another in the same place; “144 lettuce, 3 sowings 3 weeks apart, out from 1 Apr” are 144 each";
/// The same in one example, behind the one that stands in the field.
pub const HOW_TO_REPEAT: &str = "“144 lettuce, 3 sowings 3 weeks apart, out from 1 Apr”: 144 each";
pub const ALL_WAYS: &str = "More ways to write it";
pub const NOT_BY_THE_TRAY: &str = "no tray is known for it to be sown in: write a number of plants";
pub const NONE_WOULD_COME: &str = "not one plant is sure to come of that";
/// A line that may be written for a sowing.
pub const LINE_EXAMPLE: &str = "72 tomato, out 16 May";
/// The same where the season knows its last frost.
pub const LINE_BY_FROST: &str = "72 tomato";

pub const FIND: &str = "Find a sowing";
pub const NONE_OF_THAT_NAME: &str = "No sowing of that name";
pub const NAME: &str = "Name";
pub const SOWN: &str = "Sown";
pub const OUT: &str = "Out";
/// Of a date that is not known.
pub const NO_DATE: &str = "?";

pub const DATES: &str = "Dates, and why then";
pub const SOURCES: &str = "Where these dates come from";

/// The name of the button that sorts by that heading.
pub fn sort_by(heading: &str) -> String {
    format!("Sort by {}", heading.to_lowercase())
}

/// A heading that the list is sorted by.
pub fn sorted_by(heading: &str, backwards: bool) -> String {
    format!("{heading} {}", if backwards { "↑" } else { "↓" })
}

/// What a row of the list says.
#[derive(Clone, Debug)]
pub struct Brief {
    pub name: String,
    pub plants: u32,
    pub sown: Option<NaiveDate>,
    /// It stood there already on that date.
    pub begun: bool,
    pub out: Option<NaiveDate>,
}

impl Brief {
    /// `Tomato, 72 plants, sown 21 Mar, out 16 May`.
    pub fn said(&self) -> String {
        let since = if self.begun { "here" } else { "sown" };
        let (sown, out) = (date_or_not(self.sown), date_or_not(self.out));
        format!("{}, {} plants, {since} {sown}, out {out}", self.name, self.plants)
    }

    pub fn title(&self) -> String {
        if self.begun { format!("{}, here already", self.name) } else { self.name.clone() }
    }

    pub fn many(&self) -> String {
        format!("{}: {} plants", self.name, self.plants)
    }

    /// Plants, sown, out.
    pub fn cells(&self) -> Vec<String> {
        vec![self.plants.to_string(), date_or_not(self.sown), format!("out {}", date_or_not(self.out))]
    }
}

fn date_or_not(date: Option<NaiveDate>) -> String {
    date.map_or_else(|| NO_DATE.to_owned(), day)
}

pub fn no_crop(key: &CropKey) -> String {
    format!("no crop “{key}”")
}

/// What a line would mean, with the frost its day out goes by.
pub fn meant_by_frost(meant: &str, out: NaiveDate, frost: &Frost, unit: LengthUnit) -> String {
    format!("{meant}; out {}", out_by_frost(out, frost, unit))
}

/// `720 cells give 612 plants on average, 598 or more 90 times in 100`.
pub fn come_of_trays(held: InTrays) -> String {
    let InTrays { cells, on_average, sure, sure_percent } = held;
    format!("{cells} cells give {} on average, {sure} or more {sure_percent} times in 100", plants(on_average))
}

/// `3 sowings of so many each, 21 days apart, out 1 Apr, 22 Apr, 13 May; the first`.
pub fn again(again: Again, outs: &[NaiveDate]) -> String {
    let outs: Vec<String> = outs.iter().map(|out| day(*out)).collect();
    let apart = counted(again.days_apart, "day", "days");
    format!("{} sowings of that number each, {apart} apart, out {}; of the first", again.times, listed(&outs))
}

/// `3 sowings, out 1 Apr, 22 Apr, 13 May; the first`.
pub fn again_briefly(outs: &[NaiveDate]) -> String {
    let days: Vec<String> = outs.iter().map(|out| day(*out)).collect();
    format!("{} sowings, out {}; the first", outs.len(), listed(&days))
}

/// What sowings are called together that are the same again some days apart.
pub fn repeated(crop: &str, first: NaiveDate) -> String {
    format!("{crop}, again and again, out from {}", full_day(first))
}

/// What sowings are called together that follow one another in the same place.
pub fn fills_of(crop: &str, first: NaiveDate) -> String {
    format!("{crop}, fills from {}", full_day(first))
}

/// `5 fills, sown 2 Mar, …, each on the day on which the one before leaves the shelves inside; …`.
pub fn one_after_the_other(fills: &[Fill], until: Option<NaiveDate>) -> String {
    let left = |leaves: NaiveDate| {
        until.map_or_else(String::new, |until| match (until - leaves).num_days() {
            late if late < 0 => format!(", {} too late for {}", counted(-late, "day", "days"), day(until)),
            0 => format!(", on the last day, {}", day(until)),
            days => format!(", {} before {}", counted(days, "day", "days"), day(until)),
        })
    };
    if let [one] = fills {
        return format!("leaves the shelves inside on {}{}", day(one.leaves), left(one.leaves));
    }
    let sown: Vec<String> = fills.iter().map(|fill| day(fill.sown)).collect();
    let between = fills.iter().zip(fills.iter().skip(1)).map(|(one, next)| (next.sown - one.leaves).num_days());
    let slack = match between.max() {
        Some(days) if days > 0 => format!("with up to {} between them", counted(days, "day", "days")),
        _ => "with no day between them".to_owned(),
    };
    let last = fills.last().map_or_else(String::new, |last| {
        format!("; the last leaves the shelves inside on {}{}", day(last.leaves), left(last.leaves))
    });
    format!("{} fills one after the other, {slack}: sown {}{last}", fills.len(), listed(&sown))
}

fn plants(number: u32) -> String {
    format!("{number} {}", plural(u64::from(number), "plant", "plants"))
}

/// `48 of 144 go out`.
pub fn go_out(number: u32, wanted: u32) -> String {
    format!("{number} of {wanted} {}", plural(u64::from(number), "goes out", "go out"))
}

/// `Lot 2: 48 of 144 go out`.
pub fn lot_of(at: usize, number: u32, wanted: u32) -> String {
    format!("Batch {}: {}", at + 1, go_out(number, wanted))
}

/// `0.3 g`; ounces where lengths are in inches.
pub(super) fn seed_weight(seeds: u64, per_gram: u32, unit: LengthUnit) -> String {
    let grams = seeds as f64 / f64::from(per_gram.max(1));
    let (amount, sign) = if unit.is_of_inches() { (grams / 28.35, "oz") } else { (grams, "g") };
    match amount {
        amount if amount < 0.1 => format!("{amount:.3} {sign}"),
        amount if amount < 10.0 => format!("{amount:.1} {sign}"),
        amount => format!("{amount:.0} {sign}"),
    }
}

/// How many to sow; how far they were where they stood there already.
pub fn to_sow(course: &Course, sowing: &Sowing) -> String {
    let sow = &course.sow;
    match sowing.begun {
        Some(begun) => format!("{} here already: {}", plants(sow.sure), found(begun)),
        None => format!(
            "{}: {} to sow on average, {} to be sure {} times in 100, as {}",
            plants(course.go_out),
            sow.on_average,
            sow.sure,
            sow.sure_percent,
            come_up(sow.germination.percent, sowing)
        ),
    }
}

/// `85 % come up and 10 % of them are lost later`.
pub(super) fn come_up(percent: u8, sowing: &Sowing) -> String {
    match sowing.losses_percent {
        0 => format!("{percent} % come up"),
        lost => format!("{percent} % come up and {lost} % of them are lost later"),
    }
}

pub fn show_on_shelves(date: NaiveDate) -> String {
    format!("Show {} on the shelves", full_day(date))
}

pub fn with_source(event: &str, source: &str) -> String {
    format!("{event}: {source}")
}

impl Words<'_> {
    /// How it germinates by the warmth it has, how much seed that is, what is done to it.
    pub fn of_the_seed(&self, sowing: &Sowing, course: &Course) -> Vec<String> {
        let Some(crop) = self.season.crop(self.library, &sowing.crop) else { return Vec::new() };
        let mut lines = Vec::new();
        if sowing.begun.is_none() {
            let Germination { percent, at } = course.sow.germination;
            lines.extend(
                at.map(|at| format!("{percent} % come up in a mix of {}, by the table", at.in_words(self.unit))),
            );
            lines.extend(crop.seeds_per_gram.map(|per_gram| {
                let seeds = u64::from(course.sow.sure) * u64::from(sowing.seeds_per_cell);
                format!("{seeds} {}, about {}", plural(seeds, "seed", "seeds"), seed_weight(seeds, per_gram, self.unit))
            }));
            // with a time it has a date among the events
            let undated = !crop.before_sowing.is_empty() && trade::days_before_sowing(&crop.before_sowing).is_none();
            lines.extend(undated.then(|| format!("before sowing: {}", crop.before_sowing)));
            lines.extend(match crop.light_to_germinate {
                SeedLight::Light => Some("wants light to sprout: leave the seed uncovered".to_owned()),
                SeedLight::Dark => Some("wants the dark to sprout: cover the seed".to_owned()),
                SeedLight::Either => None,
            });
        }
        lines
    }

    /// `2 trays of 72-cell plug tray, then 4 trays of flat`.
    pub fn trays_of(&self, sowing: &Sowing, course: &Course) -> String {
        let trays = course.trays.iter().filter_map(|(id, trays)| {
            let step = sowing.steps.iter().find(|step| step.id == *id)?;
            let unit = plural(u64::from(*trays), "tray", "trays");
            Some(format!("{trays} {unit} of {}", self.container(&step.container)))
        });
        trays.collect::<Vec<_>>().join(", then ")
    }

    /// `sown 28 Mar, potted on 25 Apr, out 16 May; 2 trays, then 4`: the same in a few words.
    pub fn would_mean_briefly(&self, sowing: &Sowing, with: &Forecast) -> String {
        let mut days = Vec::new();
        let mut trays = Vec::new();
        for course in with.courses_of(sowing.id) {
            for (at, (id, number)) in course.trays.iter().enumerate() {
                let Some(step) = sowing.steps.iter().find(|step| step.id == *id) else { continue };
                let on = |what, how: &str| course.date(what).map(|date| format!("{how} {}", day(date)));
                days.extend(match (at, sowing.begun) {
                    (0, Some(begun)) => Some(found(begun)),
                    (0, None) => on(What::Sown, "sown"),
                    _ => on(What::MovedOn(*id), self.verb_for(&step.container).done),
                });
                trays.push(match at {
                    0 => counted(*number, "tray", "trays"),
                    _ => number.to_string(),
                });
            }
        }
        days.extend(sowing.out().map(|out| format!("out {}", day(out))));
        [days.join(", "), trays.join(", then ")]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join("; ")
    }

    /// What a sowing that is not in the season would mean: its trays and dates by the forecast of the season
    /// `with` it, and how full the growing shelves would be.
    pub fn would_mean(&self, name: &str, sowing: &Sowing, with: &Forecast) -> String {
        let number = sowing.plants_wanted();
        let mut parts = Vec::new();
        for course in with.courses_of(sowing.id) {
            for (at, (id, trays)) in course.trays.iter().enumerate() {
                let Some(step) = sowing.steps.iter().find(|step| step.id == *id) else { continue };
                let trays = self.trays_of_its_own(with, (course.lot, *id), *trays, &self.container(&step.container));
                let date = |what| course.date(what);
                parts.extend(match (at, sowing.begun) {
                    (0, Some(begun)) => Some(format!("{}, in {trays}", found(begun))),
                    (0, None) => date(What::Sown).map(|date| format!("sown {} into {trays}", full_day(date))),
                    _ => date(What::MovedOn(*id))
                        .map(|date| format!("{} {} into {trays}", self.verb_for(&step.container).done, day(date))),
                });
            }
        }
        parts.extend(sowing.out().map(|out| format!("out {}", full_day(out))));
        let mut held: Vec<String> = with
            .problems
            .iter()
            .filter(|one| one.is_of_sowing(sowing.id))
            .filter_map(|one| self.held_too_long(sowing, one))
            .collect();
        held.dedup();
        parts.extend(held);
        parts.extend(with.peak_of(sowing.id).map(|Peak { day, own, all }| {
            let (week, trays) = (week(week_label(self.season, day)), counted(all, "tray", "trays"));
            let own = match own {
                0 => "theirs shared with others".to_owned(),
                own if own == all => "all theirs".to_owned(),
                own => format!("{own} of them theirs"),
            };
            format!("while they grow on the shelves hold most in {week}: {trays}, {own}")
        }));
        format!("{number} {} of {name}: {}", plural(number, "plant", "plants"), parts.join("; "))
    }
}

/// `4 true leaves on 3 Apr`: what the list says of plants that were found there.
pub fn found(begun: Begun) -> String {
    format!("{} on {}", stage_name(begun.stage), day(begun.on))
}

/// Why a line was not understood, with an example where nothing of it was.
pub fn quick_line_error(why: &QuickLineError) -> String {
    match why {
        QuickLineError::NoPlants(_) => format!("{why}; write it as {LINE_EXAMPLE}"),
        why => why.to_string(),
    }
}
