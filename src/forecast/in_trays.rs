//! Sown forward: what so many full trays give, and trays that are filled one after the other.

use chrono::NaiveDate;

use crate::season::{Library, OutRule, Role, Rule, Season, Sowing};
use crate::trade;
use crate::units::{DateSpan, shifted};

use super::away::home_days;
use super::clock;
use super::dates::success;
use super::holding::{Standing, holding};
use super::starts::sown_about;
use super::work_out::of_one;

/// What so many trays give that are sown full.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InTrays {
    /// Or pots, or plants in open flats.
    pub cells: u32,
    /// Plants that go out, on average.
    pub on_average: u32,
    /// At least so many, as surely as the season asks.
    pub sure: u32,
    pub sure_percent: u8,
}

/// What the first step of a sowing gives in so many trays; `None` where its container is not known, or stands loose on
/// the shelf.
pub fn in_trays(season: &Season, library: &Library, sowing: &Sowing, trays: u32) -> Option<InTrays> {
    let crop = season.crop(library, &sowing.crop)?;
    let step = sowing.steps.first()?;
    let held = holding(season, library, crop, sowing, step, Standing::Tight, &mut Vec::new())?;
    let cells = held.loose.is_none().then(|| held.per_tray.saturating_mul(trays))?;
    let germination = clock::germination(season, library, crop, sowing, sown_about(crop, sowing));
    let success = success(sowing, germination, sowing.seeds_per_cell);
    let sure_percent = season.settings().sure_percent;
    // a hair more, so that 0.8 of 10 is 8 and not 7
    let on_average = (f64::from(cells) * success + 1e-9).floor() as u32;
    let sure = trade::plants_sure(cells, success, f64::from(sure_percent) / 100.0);
    Some(InTrays { cells, on_average, sure, sure_percent })
}

/// One of several sowings that follow one another in the same place.
#[derive(Clone, Debug, PartialEq)]
pub struct Fill {
    pub sowing: Sowing,
    pub sown: NaiveDate,
    /// It stands outside day and night from then on, or is gone.
    pub leaves: NaiveDate,
}

/// So many sowings like the first, each sown on the day on which the one before leaves the shelves inside, or when next
/// somebody is there; each is in the season only once it is put there. Empty where the first has no dates.
pub fn fills(season: &Season, library: &Library, first: &Sowing, number: u16) -> Vec<Fill> {
    let mut all: Vec<Fill> = Vec::new();
    let mut next = Some(first.clone());
    while let Some(sowing) = next.take().filter(|_| all.len() < usize::from(number)) {
        let Some((sown, leaves)) = inside(season, library, &sowing) else { break };
        let to = home_days(season, leaves).1;
        let mut copy = sowing.renumbered(after(&sowing));
        for wanted in &mut copy.wanted {
            wanted.date = shifted(wanted.date, (to - sown).num_days());
            wanted.rule = OutRule::Day;
        }
        if let Some(step) = copy.steps.first_mut() {
            step.start = Rule::On(to);
        }
        next = Some(copy);
        all.push(Fill { sowing, sown, leaves });
    }
    all
}

/// Since when it stands inside, and until when.
fn inside(season: &Season, library: &Library, sowing: &Sowing) -> Option<(NaiveDate, NaiveDate)> {
    let forecast = of_one(season, library, sowing);
    let stays = || forecast.stays.iter().filter(|stay| stay.needs.role != Role::Hardening).map(|stay| stay.span);
    Some((stays().map(DateSpan::from).min()?, stays().map(DateSpan::until).max()?))
}

/// A number that nothing of it has, nor of those before it.
fn after(sowing: &Sowing) -> u32 {
    let lots = sowing.lots.iter().map(|lot| lot.id.0);
    let last = sowing.steps.iter().map(|step| step.id.0).chain(lots).fold(sowing.id.0, u32::max);
    last.saturating_add(1)
}
