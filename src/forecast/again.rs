//! What makes up for plants that are missing of a sowing.

use chrono::NaiveDate;

use crate::season::{Library, Lot, LotId, Rule, Season, Sowing, Wanted};

use super::all::Forecast;
use super::course::What;
use super::problem::Problem;
use super::work_out::of_one;

/// Fewer are alive than are wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Missing<'a> {
    pub problem: &'a Problem,
    pub plants: u32,
    pub made_up: Option<MadeUp<'a>>,
}

/// Another sowing for what is missing, and when it is to be sown.
#[derive(Clone, Debug, PartialEq)]
pub enum MadeUp<'a> {
    /// It is in the season.
    By(&'a Sowing, Option<NaiveDate>),
    /// It may be.
    Offered(Box<Sowing>, Option<NaiveDate>),
}

/// What is missing of the sowing; nothing where as many are alive as are wanted.
pub fn missing<'a>(
    season: &'a Season,
    library: &Library,
    forecast: &'a Forecast,
    sowing: &Sowing,
    today: NaiveDate,
) -> Option<Missing<'a>> {
    let (problem, plants) = forecast.problems.iter().find_map(|problem| match problem {
        Problem::TooFew { sowing: of, alive, wanted, .. } if *of == sowing.id => Some((problem, wanted - alive)),
        _ => None,
    })?;
    let made_up = match sown_again(season, sowing, plants) {
        Some(again) => {
            let starts = forecast.courses_of(again.id).find_map(|course| course.date(What::Sown));
            Some(MadeUp::By(again, starts))
        }
        None => again(season, library, sowing, plants, today).map(|again| {
            let starts = due(season, library, &again);
            MadeUp::Offered(Box::new(again), starts)
        }),
    };
    Some(Missing { problem, plants, made_up })
}

/// Another sowing that makes up for what is missing of this one.
fn sown_again<'a>(season: &'a Season, sowing: &Sowing, missing: u32) -> Option<&'a Sowing> {
    season.sowings().find(|other| {
        other.id > sowing.id
            && (&other.crop, &other.variety) == (&sowing.crop, &sowing.variety)
            && other.out() == sowing.out()
            && other.plants_wanted() == missing
    })
}

/// The same chain for the plants that are missing, out on the same day; sown when due, today where that
/// is past.
fn again(season: &Season, library: &Library, sowing: &Sowing, missing: u32, today: NaiveDate) -> Option<Sowing> {
    let last = sowing.wanted.iter().max_by_key(|wanted| wanted.date)?;
    let mut copy = Sowing {
        begun: None,
        wanted: vec![Wanted { plants: missing, ..*last }],
        lots: vec![Lot { id: LotId(0), share: 1, later: 0 }],
        ..sowing.clone()
    };
    for step in &mut copy.steps {
        if matches!(step.start, Rule::On(_)) {
            step.start = Rule::WhenDue;
        }
    }
    let mut copy = copy.renumbered(season.next_id());
    if let Some(due) = due(season, library, &copy)
        && due < today
        && let Some(first) = copy.steps.first_mut()
    {
        first.start = Rule::On(today);
    }
    Some(copy)
}

fn due(season: &Season, library: &Library, sowing: &Sowing) -> Option<NaiveDate> {
    of_one(season, library, sowing).courses.first().and_then(|course| course.date(What::Sown))
}
