//! Which dates of sowings another season has moved.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::season::SowingId;

use super::{Forecast, What};

/// When a sowing's first lot is sown and its first plants leave.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ends {
    pub sown: Option<NaiveDate>,
    pub out: Option<NaiveDate>,
}

/// A sowing whose dates are others now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shift {
    pub sowing: SowingId,
    pub before: Ends,
    pub after: Ends,
}

/// The ends of every sowing.
pub fn ends(forecast: &Forecast) -> BTreeMap<SowingId, Ends> {
    let mut all = BTreeMap::new();
    for course in &forecast.courses {
        let first =
            |is: fn(What) -> bool| course.events.iter().filter(|event| is(event.what)).map(|event| event.date).min();
        let (sown, out) = (first(|what| what == What::Sown), first(|what| matches!(what, What::Out { .. })));
        let known = all.entry(course.sowing).or_insert(Ends { sown, out });
        known.sown = [known.sown, sown].into_iter().flatten().min();
        known.out = [known.out, out].into_iter().flatten().min();
    }
    all
}

/// Those that moved, and those that stayed, among the sowings in both.
pub fn shifts(before: &BTreeMap<SowingId, Ends>, after: &BTreeMap<SowingId, Ends>) -> (Vec<Shift>, Vec<SowingId>) {
    let (mut moved, mut stayed) = (Vec::new(), Vec::new());
    for (&sowing, &after) in after {
        match before.get(&sowing) {
            Some(&before) if before != after => moved.push(Shift { sowing, before, after }),
            Some(_) => stayed.push(sowing),
            None => {}
        }
    }
    (moved, stayed)
}
