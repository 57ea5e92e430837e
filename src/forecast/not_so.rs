//! Records that the plan and the day that it is don't allow: refused where they are written, worth a look where a file
//! has them.

use chrono::NaiveDate;

use crate::season::{Edit, EditError, FieldId, Observation, Observed, Op, Refusal, Season, Sowing};

use super::all::Forecast;
use super::course::What;
use super::problem::{NotSo, Problem};

/// Whether all records that an edit writes or changes can be so.
///
/// # Errors
/// The first that can't.
pub fn may_be_seen(season: &Season, forecast: &Forecast, edit: &Edit, today: NaiveDate) -> Result<(), EditError> {
    let mut then = season.clone();
    for op in &edit.ops {
        if let Op::PutRecord(id, record) = op
            && let Some(sowing) = then.sowing(*id)
            && !sowing.seen.contains(record)
            && let Some(why) = not_so(forecast, &sowing.with_record(*record), record, today)
        {
            return Err(refused(record, why, today));
        }
        then.apply(&op.clone().into())?;
    }
    Ok(())
}

fn refused(record: &Observation, why: NotSo, today: NaiveDate) -> EditError {
    let (day, found) = (FieldId::RecordDate(record.id), record.date);
    match why {
        NotSo::ToCome => EditError { field: day, why: Refusal::ToCome { today, found } },
        NotSo::BeforeSown(sown) => EditError { field: day, why: Refusal::BeforeSown { sown, found } },
        NotSo::MoreThanSown(most) => {
            let found = record.what.number().unwrap_or_default();
            EditError { field: FieldId::RecordUp(record.id), why: Refusal::MoreThanSown { most, found } }
        }
    }
}

/// Of a record of the sowing.
fn not_so(forecast: &Forecast, sowing: &Sowing, record: &Observation, today: NaiveDate) -> Option<NotSo> {
    if record.date > today {
        return Some(NotSo::ToCome);
    }
    if sowing.begun.is_some() {
        return None;
    }
    let mut courses = forecast.courses_of(sowing.id).peekable();
    courses.peek()?;
    let first = sowing.steps.first()?.id;
    let (mut sown, mut cells) = (None::<NaiveDate>, 0_u32);
    for course in courses {
        let here = course.date(What::Sown);
        sown = sown.into_iter().chain(here).min();
        cells = cells.saturating_add(course.places_in(first));
    }
    let is_before = matches!(record.what, Observed::Prepared | Observed::Sown { .. });
    let was_sown = sowing.seen.iter().any(|seen| matches!(seen.what, Observed::Sown { .. }));
    match record.what {
        _ if !is_before && !was_sown && sown.is_some_and(|sown| record.date < sown) => sown.map(NotSo::BeforeSown),
        Observed::Up { plants: Some(up) } if sowing.cells_sown().is_none() && cells > 0 && up > cells => {
            Some(NotSo::MoreThanSown(cells))
        }
        _ => None,
    }
}

impl Forecast {
    /// With records of the season that can't be so among what is worth a look.
    #[must_use]
    pub fn with_doubts(mut self, season: &Season, today: NaiveDate) -> Self {
        let mut found = Vec::new();
        for sowing in season.sowings() {
            found.extend(sowing.seen.iter().filter_map(|record| {
                let why = not_so(&self, sowing, record, today)?;
                Some(Problem::NotSo { sowing: sowing.id, on: record.date, what: record.what, why })
            }));
        }
        self.problems.extend(found);
        self
    }
}
