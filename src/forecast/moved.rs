//! What a change moved, and what it left where it was.

use chrono::NaiveDate;

use crate::season::{LotId, SowingId};

use super::all::Forecast;
use super::course::{What, Why};

/// One event of a lot that has another date now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moved {
    pub sowing: SowingId,
    pub lot: LotId,
    pub what: What,
    pub from: NaiveDate,
    pub to: NaiveDate,
}

/// An event that has its date still, and why it has it: seen, or given by the grower.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kept {
    pub sowing: SowingId,
    pub lot: LotId,
    pub what: What,
    pub date: NaiveDate,
    pub why: Why,
}

/// By sowing, lot and date.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DatesMoved {
    pub moved: Vec<Moved>,
    /// Of sowing, moving on and going out alone: what the grower does.
    pub kept: Vec<Kept>,
}

/// Compares the dates of what is in both.
pub fn dates_moved(before: &Forecast, after: &Forecast) -> DatesMoved {
    let mut found = DatesMoved::default();
    for new in &after.courses {
        let Some(old) = before.courses.iter().find(|old| (old.sowing, old.lot) == (new.sowing, new.lot)) else {
            continue;
        };
        let mut taken = vec![false; old.events.len()];
        for event in &new.events {
            let at = old
                .events
                .iter()
                .enumerate()
                .position(|(at, one)| one.what == event.what && taken.get(at).is_some_and(|taken| !taken));
            let Some((at, was)) = at.and_then(|at| Some((at, old.events.get(at)?))) else { continue };
            if let Some(taken) = taken.get_mut(at) {
                *taken = true;
            }
            let (sowing, lot, what) = (new.sowing, new.lot, event.what);
            if was.date != event.date {
                found.moved.push(Moved { sowing, lot, what, from: was.date, to: event.date });
            } else if matches!(what, What::Sown | What::MovedOn(_) | What::Out { .. }) {
                found.kept.push(Kept { sowing, lot, what, date: event.date, why: event.why });
            }
        }
    }
    found
}
