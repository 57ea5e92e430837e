//! Work on another day, tried: what that would move, keep and make wrong.

use chrono::NaiveDate;

use crate::season::{Edit, EditError, Library, OutRule, Rule, Season, Sowing, SowingId};
use crate::units::shifted;

use super::all::Forecast;
use super::course::{Course, Event, What, Why};
use super::moved::{DatesMoved, dates_moved};
use super::problem::Problem;
use super::work_out::of_one;

/// What comes of an edit for one sowing.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// With the edit made.
    pub season: Season,
    pub difference: DatesMoved,
    /// Those that it brings.
    pub problems: Vec<Problem>,
}

/// Makes the edit on a copy; what it makes wrong proposes nothing for days before `today`.
///
/// # Errors
/// The season does not take it.
pub fn trial(
    season: &Season,
    library: &Library,
    sowing: SowingId,
    edit: &Edit,
    today: NaiveDate,
) -> Result<Trial, EditError> {
    let mut then = season.clone();
    then.apply(edit)?;
    let one = |season: &Season| -> Forecast {
        season
            .sowing(sowing)
            .map_or_else(Forecast::default, |sowing| of_one(season, library, sowing))
            .without_past(today)
    };
    let (before, after) = (one(season), one(&then));
    let new = after.problems.iter().filter(|problem| !before.problems.contains(problem));
    Ok(Trial { difference: dates_moved(&before, &after), problems: new.cloned().collect(), season: then })
}

impl Forecast {
    /// The sowing with that work of `date` on `day`; `None` for work that it has not got.
    pub fn on_another_day(&self, sowing: &Sowing, work: What, date: NaiveDate, day: NaiveDate) -> Option<Sowing> {
        let mut next = sowing.clone();
        match work {
            What::Out { .. } => {
                let wanted = next.wanted.iter_mut().find(|wanted| wanted.date == date)?;
                (wanted.date, wanted.rule) = (day, OutRule::Day);
            }
            What::MovedOn(step) => {
                let at = next.steps.iter().position(|one| one.id == step)?;
                // a lot that moves on later counts from the step's own day
                let mut courses = self.courses_of(sowing.id);
                let lot = courses.find(|course| course.date(work) == Some(date)).map(|course| course.lot);
                let later = next.lots.iter().find(|one| Some(one.id) == lot).map_or(0, |lot| lot.later);
                let day = shifted(day, -i64::from(later));
                next.steps.get_mut(at)?.start = Rule::On(day);
            }
            What::Hardening => next.harden_days = Some(self.hardened_from(sowing, date, day)?),
            What::Sown => next.steps.first_mut()?.start = Rule::On(day),
            _ => return None,
        }
        Some(next)
    }

    /// For how many days it hardens off with what began on `date` begun on `day`; no place is open for it before
    /// one opens.
    fn hardened_from(&self, sowing: &Sowing, date: NaiveDate, day: NaiveDate) -> Option<u16> {
        let begins = |course: &&Course| {
            let may = |event: &Event| day > date || event.why != Why::PlaceOpens;
            course.events.iter().any(|event| (event.what, event.date) == (What::Hardening, date) && may(event))
        };
        let course = self.courses_of(sowing.id).find(begins)?;
        let out = |event: &&Event| matches!(event.what, What::Out { .. }) && event.date > date;
        let days = (course.events.iter().find(out)?.date - day).num_days();
        u16::try_from(days).ok().filter(|days| *days > 0)
    }
}
