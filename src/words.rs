//! The catalogue: every reason, problem, label and step name that a person reads, in one place.
//!
//! Sentence case; one sentence has no full stop. The same thing has one name in the window, the
//! file, the command line and the docs.

use chrono::NaiveDate;

use crate::forecast::{Event, Forecast, Problem, Stay};
use crate::outlook::{Crunch, Obstacle, Pool, Verdict, WeekLabel};
use crate::season::{EditLabel, Library, Season, ShelfId, SowingId, TrayKey};
use crate::units::{DateSpan, Length, LengthUnit};

/// What the names of things are looked up in, and the unit lengths are shown in.
#[derive(Clone, Copy, Debug)]
pub struct Words<'a> {
    pub season: &'a Season,
    pub library: &'a Library,
    pub forecast: &'a Forecast,
    pub unit: LengthUnit,
}

impl Words<'_> {
    /// `move of To 7`: what undo would take back.
    pub fn edit(&self, label: &EditLabel) -> String {
        format!("{label:?}")
    }

    pub fn problem(&self, problem: &Problem) -> String {
        format!("{problem:?}")
    }

    /// One sentence: when, where, how many are wanted, held and short.
    pub fn crunch(&self, crunch: &Crunch) -> String {
        format!("{crunch:?}")
    }

    /// One or two sentences that prove it in numbers.
    pub fn reason(&self, crunch: &Crunch) -> String {
        format!("{:?}", crunch.reason)
    }

    /// `second true leaves 8 – 17 Apr, likely 12`.
    pub fn event(&self, event: &Event) -> String {
        format!("{event:?}")
    }

    pub fn pool(&self, pool: &Pool) -> String {
        format!("{pool:?}")
    }

    /// `To 7`.
    pub fn tray(&self, tray: TrayKey) -> String {
        self.forecast.mark(tray).to_owned()
    }

    /// `tomato ‘Early Red’`.
    pub fn sowing(&self, sowing: SowingId) -> String {
        format!("{sowing}")
    }

    /// `Window rack, shelf 2`.
    pub fn shelf(&self, shelf: ShelfId) -> String {
        format!("{shelf}")
    }

    /// What it is: `18 pots, 83 mm square, in a flat`.
    pub fn what(&self, stay: &Stay) -> String {
        format!("{:?}", stay.shape)
    }

    /// What it needs, a line each: `a spot under lights, 12 Apr – 16 May`.
    pub fn needs(&self, stay: &Stay) -> Vec<String> {
        vec![format!("{:?}", stay.needs)]
    }

    pub fn obstacle(&self, obstacle: &Obstacle) -> String {
        format!("{obstacle:?}")
    }

    pub fn length(&self, length: Length) -> String {
        length.in_words(self.unit)
    }
}

/// `14 Apr`.
pub fn day(date: NaiveDate) -> String {
    date.format("%-d %b").to_string()
}

/// `Wed 14 Apr 2027`.
pub fn full_day(date: NaiveDate) -> String {
    date.format("%a %-d %b %Y").to_string()
}

/// `12 Apr – 16 May`, the last day included.
pub fn span(span: DateSpan) -> String {
    format!("{} – {}", day(span.from()), day(span.last()))
}

/// `fits`, `unsettled`, `crunch`.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "fits",
        Verdict::Unsettled => "unsettled",
        Verdict::Crunch => "crunch",
    }
}

/// `2027-W15`, or `week 12` of the grower's own count.
pub fn week(label: WeekLabel) -> String {
    match label {
        WeekLabel::Iso { year, week } => format!("{year}-W{week:02}"),
        WeekLabel::Own(week) => format!("week {week}"),
    }
}

/// A word for the kind of problem, the same in `--json` for good: `too_tall`.
pub fn problem_kind(problem: &Problem) -> &'static str {
    let _ = problem;
    "problem"
}

/// What the problem is about: a sowing's id, a tray's mark, a shelf.
pub fn problem_about(words: &Words<'_>, problem: &Problem) -> String {
    let _ = (words, problem);
    String::new()
}
