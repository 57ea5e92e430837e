//! What makes up for plants that are missing of a sowing.

use chrono::{Datelike as _, NaiveDate};

use crate::season::{Counted, Library, Lot, LotId, Observed, Rule, Season, Sowing, Wanted};

use super::all::Forecast;
use super::course::{SowCount, What};
use super::next::came_up_of;
use super::problem::Problem;
use super::records::last_useful_day;
use super::work_out::of_one;

/// Fewer are alive than are wanted, or were before more was sown.
#[derive(Clone, Debug, PartialEq)]
pub struct Missing<'a> {
    /// Of what nothing makes up for yet.
    pub problem: Option<&'a Problem>,
    /// Plants that nothing makes up for yet.
    pub plants: u32,
    /// What is sown again, then what may be.
    pub made_up: Vec<MadeUp<'a>>,
}

/// Another sowing for what is missing, and when it is to be sown.
#[derive(Clone, Debug, PartialEq)]
pub enum MadeUp<'a> {
    /// It is in the season.
    By(&'a Sowing, Option<NaiveDate>),
    /// It may be.
    Offered(Box<Offer>),
    /// What is sown now is not ready by then.
    TooLate { last: NaiveDate, out: NaiveDate },
}

/// A sowing that may be added.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    pub sowing: Sowing,
    pub starts: Option<NaiveDate>,
    pub out: NaiveDate,
    pub sow: Option<SowCount>,
    pub seed: Seed,
}

/// What seed it is reckoned with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seed {
    /// Nobody counted how much came up.
    AsPlanned,
    /// The same, at the rate that was seen of it.
    Seen(Counted),
    /// Nothing came up: other seed, at the crop's own rate.
    Other,
}

/// What is missing of the sowing and what makes up for it; nothing where as many are alive as are wanted.
pub fn missing<'a>(
    season: &'a Season,
    library: &Library,
    forecast: &'a Forecast,
    sowing: &Sowing,
    today: NaiveDate,
) -> Option<Missing<'a>> {
    let found = forecast.problems.iter().find_map(|problem| match problem {
        Problem::TooFew { sowing: of, missing, .. } | Problem::SownTooFew { sowing: of, missing, .. }
            if *of == sowing.id =>
        {
            Some((problem, *missing))
        }
        _ => None,
    });
    let again = season.sowings().filter(|other| other.again_of == Some(sowing.id));
    let mut made_up: Vec<MadeUp<'a>> = again
        .map(|again| MadeUp::By(again, forecast.courses_of(again.id).find_map(|course| course.date(What::Sown))))
        .collect();
    if let Some((_, plants)) = found {
        made_up.extend(more(season, library, forecast, sowing, plants, today));
    }
    let (problem, plants) = found.map_or((None, 0), |(problem, plants)| (Some(problem), plants));
    (problem.is_some() || !made_up.is_empty()).then_some(Missing { problem, plants, made_up })
}

/// The same chain for the plants that are missing, out on the last of its days; sown when due, no sooner
/// than it was known that they are missing, and never so late that they are not ready.
fn more<'a>(
    season: &Season,
    library: &Library,
    forecast: &Forecast,
    sowing: &Sowing,
    plants: u32,
    today: NaiveDate,
) -> Option<MadeUp<'a>> {
    let crop = season.crop(library, &sowing.crop)?;
    let last_out = sowing.wanted.iter().max_by_key(|wanted| wanted.date)?;
    let mut copy = Sowing {
        begun: None,
        wanted: vec![Wanted { plants, ..*last_out }],
        lots: vec![Lot::new(LotId(0))],
        ..sowing.clone()
    }
    .renumbered(season.next_id());
    copy.again_of = Some(sowing.id);
    let seed = seed(forecast, sowing);
    match seed {
        Seed::AsPlanned => {}
        Seed::Seen(counted) => {
            let percent = 100.0 * f64::from(counted.up) / f64::from(counted.sown.max(1));
            copy.germination_percent = Some(percent.floor().clamp(1.0, 100.0) as u8);
            copy.germination_from = Some(counted);
        }
        Seed::Other => (copy.germination_percent, copy.germination_from) = (None, None),
    }
    for step in &mut copy.steps {
        if matches!(step.start, Rule::On(_)) {
            step.start = Rule::WhenDue;
        }
    }
    let last = last_useful_day(crop, &copy)?;
    let known = sowing.seen.iter().filter(|seen| tells_of_number(seen.what)).map(|seen| seen.date).max();
    let soonest = known.map_or(today, |known| known.max(today));
    if soonest > last {
        return Some(MadeUp::TooLate { last, out: last_out.date });
    }
    let course = |sowing: &Sowing| of_one(season, library, sowing).courses.into_iter().next();
    let due = course(&copy).and_then(|course| course.date(What::Sown));
    if let Some(due) = due.filter(|due| !(soonest..=last).contains(due))
        && let Some(first) = copy.steps.first_mut()
    {
        first.start = Rule::On(due.clamp(soonest, last));
    }
    let course = course(&copy);
    let starts = course.as_ref().and_then(|course| course.date(What::Sown));
    let sow = course.map(|course| course.sow);
    Some(MadeUp::Offered(Box::new(Offer { sowing: copy, starts, out: last_out.date, sow, seed })))
}

const fn tells_of_number(what: Observed) -> bool {
    matches!(what, Observed::Sown { .. } | Observed::Up { plants: Some(_) } | Observed::Lost { .. })
}

fn seed(forecast: &Forecast, sowing: &Sowing) -> Seed {
    let Some((date, _)) = sowing.counted_up(NaiveDate::MAX).filter(|_| sowing.begun.is_none()) else {
        return Seed::AsPlanned;
    };
    let planned = forecast.courses_of(sowing.id).map(|course| course.sow.sure).fold(0_u32, u32::saturating_add);
    match came_up_of(sowing, sowing.cells_sown().unwrap_or(planned)) {
        Some((_, 0)) | None => Seed::AsPlanned,
        Some((rate, _)) if rate <= 0.0 => Seed::Other,
        Some((rate, sown)) => {
            let up = (rate * f64::from(sown)).round().max(1.0) as u32;
            Seed::Seen(Counted { up, sown, year: date.year() })
        }
    }
}
