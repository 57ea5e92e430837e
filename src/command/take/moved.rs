//! What another last frost does to the dates of a season.

use chrono::NaiveDate;
use serde::Serialize;

use crate::forecast::{Forecast, What};
use crate::season::Season;
use crate::words::{self, Words};

use super::super::output::IsoDay;

/// A date of a sowing that is another one now.
#[derive(Serialize)]
pub(super) struct Moved {
    pub(super) sowing: String,
    pub(super) what: &'static str,
    pub(super) from: IsoDay,
    pub(super) to: IsoDay,
}

/// A sowing that stays as it was.
#[derive(Serialize)]
pub(super) struct Stayed {
    pub(super) sowing: String,
    pub(super) out: Option<IsoDay>,
    /// To the last frost: `1 week after the last frost`.
    pub(super) from_frost: Option<String>,
}

pub(super) fn compare(before: &Forecast, words: &Words<'_>) -> (Vec<Moved>, Vec<Stayed>) {
    let (season, after) = (words.season, words.forecast);
    let (mut moved, mut stayed) = (Vec::new(), Vec::new());
    for sowing in season.sowings() {
        let name = words.sowing(sowing.id);
        let dates = |forecast: &Forecast, is: Is| -> Option<NaiveDate> {
            let events = forecast.courses_of(sowing.id).flat_map(|course| &course.events);
            events.filter(|event| is(event.what)).map(|event| event.date).min()
        };
        let changes: Vec<Moved> = [("sown", is_sown as Is), ("out", is_out)]
            .into_iter()
            .filter_map(|(what, is)| {
                let (from, to) = (dates(before, is)?, dates(after, is)?);
                let (from, to) = (from != to).then_some((IsoDay(from), IsoDay(to)))?;
                Some(Moved { sowing: name.clone(), what, from, to })
            })
            .collect();
        if changes.is_empty() {
            let out = sowing.out();
            let from_frost = out.and_then(|out| Some(words::from_frost(out, frost_of(season)?)));
            stayed.push(Stayed { sowing: name, out: out.map(IsoDay), from_frost });
        }
        moved.extend(changes);
    }
    (moved, stayed)
}

type Is = fn(What) -> bool;

fn is_sown(what: What) -> bool {
    what == What::Sown
}

const fn is_out(what: What) -> bool {
    matches!(what, What::Out { .. })
}

fn frost_of(season: &Season) -> Option<NaiveDate> {
    season.settings().frost.as_ref().map(|frost| frost.date)
}

/// Lines for the terminal.
pub(super) fn text(moved: &[Moved], stayed: &[Stayed]) -> String {
    let mut text = String::new();
    if !moved.is_empty() {
        text.push_str("\nMoved\n");
        text.extend(moved.iter().map(|Moved { sowing, what, from, to }| {
            format!("- {sowing}: {what} {}, was {}\n", words::day(to.0), words::day(from.0))
        }));
    }
    if !stayed.is_empty() {
        text.push_str("\nDid not move\n");
        text.extend(stayed.iter().map(|Stayed { sowing, out, from_frost }| {
            let out = out.as_ref().map_or_else(String::new, |out| format!(": out {}", words::day(out.0)));
            let from_frost = from_frost.as_ref().map_or_else(String::new, |said| format!(", {said}"));
            format!("- {sowing}{out}{from_frost}\n")
        }));
    }
    text
}
