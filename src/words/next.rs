//! What changed from one year to the next, and what a change moved.

use std::sync::Arc;

use chrono::NaiveDate;

use crate::forecast::{Change, DatesMoved, Kept, Learned, Moved, NoNextYear, NotLearned, What, Why};
use crate::season::{CropKey, DayRange, Grown, OutRule, Verdict};

use super::days_away::called;
use super::names::with_variety;
use super::{Words, counted, full_day, out_rule, plural, refusal, span, weeks};

/// Why there is no such next year.
pub fn no_next_year(why: &NoNextYear) -> String {
    match why {
        NoNextYear::NoDates => {
            "the season has no date to go by: nothing is sown in it and it knows no frost".to_owned()
        }
        NoNextYear::SameYear(year) => format!("{year} is the season's own year"),
        NoNextYear::Edit(why) => refusal(why),
    }
}

/// The source of a figure that so many sowings of the grower's taught.
pub fn own_records(sowings: u32) -> Arc<str> {
    match sowings {
        1 => "own record, 1 sowing".into(),
        n => format!("own records, {n} sowings").into(),
    }
}

impl Words<'_> {
    /// `Pepper: out Mon 27 Oct 2025 → Mon 26 Oct 2026 (the fourth Monday of October)`.
    pub fn change(&self, change: &Change) -> String {
        let moved = |from: NaiveDate, to: NaiveDate| format!("{} → {}", full_day(from), full_day(to));
        match change {
            Change::Frost { from, to } => format!("Last frost {}", moved(*from, *to)),
            Change::WeekOne { from, to } => format!("Week 1 starts {}", moved(*from, *to)),
            Change::Out { sowing, rule, from, to } => {
                let by = match rule {
                    OutRule::Day => "the same day of the month".to_owned(),
                    rule => out_rule(*rule),
                };
                format!("{}: out {} ({by})", self.which(*sowing), moved(*from, *to))
            }
            Change::Start { sowing, step, from, to } => {
                format!(
                    "{}: {} {} (by its rule)",
                    self.which(*sowing),
                    self.start_of(*sowing, *step),
                    moved(*from, *to)
                )
            }
            Change::StartOn { sowing, step, from, to } => format!(
                "{}: {} {} (the same day of the month)",
                self.which(*sowing),
                self.start_of(*sowing, *step),
                moved(*from, *to)
            ),
            Change::SownAnew { sowing } => {
                format!("{}: stood here already this year; sown next year", self.which(*sowing))
            }
            Change::TripLeft { away } => format!("{} ({}): left behind", called(&away.name), span(away.span)),
            Change::Holiday { name, from, to } => {
                format!("{}: {} → {}; check it", called(name), span(*from), span(*to))
            }
            Change::Spans { number } => format!(
                "{} of places, shelves and other plants: the same days of the month",
                counted(*number, "span", "spans")
            ),
            Change::DoneLeft { records } => format!(
                "{} in the old year; nothing is marked as done",
                counted(*records, "record stays", "records stay")
            ),
            Change::Learned(learned) => self.learned(learned),
            Change::NotLearned { sowing, why } => format!("{}: {}", self.which(*sowing), not_learned(*why)),
            Change::AgainLeft { crop, variety, plants } => format!(
                "{}: {} sown again for those that were missing are left behind",
                with_variety(&self.crop_name(crop), variety),
                counted(*plants, "plant", "plants")
            ),
        }
    }

    fn start_of(&self, sowing: crate::season::SowingId, step: crate::season::StepId) -> String {
        let first = self.season.sowing(sowing).and_then(|sowing| sowing.steps.first());
        if first.is_some_and(|first| first.id == step) {
            "sown".to_owned()
        } else {
            format!("into {}", self.step(sowing, step))
        }
    }

    /// `Pepper: 88 % germination instead of 85 %: 1,010 of 1,152 came up (87.7 %) in 2025`.
    pub fn learned(&self, learned: &Learned) -> String {
        match learned {
            Learned::Germination { sowing, rate } => {
                let weak = if rate.is_weak() { "; few seeds, so it is pulled towards the figure before" } else { "" };
                format!(
                    "{}: {} % germination, {} % before: {} of {} came up ({:.1} %) in {}{weak}",
                    self.which(*sowing),
                    rate.percent,
                    rate.before_percent,
                    rate.up,
                    rate.sown,
                    rate.counted_percent(),
                    rate.year
                )
            }
            Learned::Emergence { crop, from, to, observations } => {
                format!("{}: up {}", self.crop_name(crop), days_learned(*from, *to, *observations))
            }
            Learned::MovingOn { crop, from, to, observations } => {
                let (crop, learned) = (self.crop_name(crop), days_learned(*from, *to, *observations));
                format!("{crop}: ready to {} {learned}", self.verb().to_do)
            }
            Learned::Verdict { sowing, verdict } => format!(
                "{}: {}; the plan is as it was, think about {}",
                self.which(*sowing),
                verdict_of_year(*verdict),
                match verdict.grown {
                    Grown::TooSmall => "sowing earlier",
                    Grown::Right => "nothing",
                    Grown::TooBig => "sowing later or a larger pot",
                }
            ),
        }
    }

    pub fn crop_name(&self, key: &CropKey) -> String {
        self.season.crop(self.library, key).map_or_else(|| key.to_string(), |crop| crop.name.clone())
    }

    /// `Tomato: out 9 May → 16 May`.
    pub fn moved(&self, moved: &Moved) -> String {
        format!(
            "{}: {} {} → {}",
            self.which(moved.sowing),
            self.what_moved(moved.what),
            full_day(moved.from),
            full_day(moved.to)
        )
    }

    /// `Pepper: out Sat 1 Jun, the date given: not moved`.
    pub fn kept(&self, kept: &Kept) -> String {
        let frost = self.season.settings().frost.as_ref().filter(|_| matches!(kept.what, What::Out { .. }));
        let gap = frost.map_or_else(String::new, |frost| {
            let days = (kept.date - frost.even()).num_days();
            let by = plural(days.unsigned_abs(), "day", "days");
            format!(", {} {by} {} the frost date", days.abs(), if days < 0 { "before" } else { "after" })
        });
        let why = match kept.why {
            Why::Seen => ", done".to_owned(),
            Why::Set => format!(", the date given{gap}"),
            _ => String::new(),
        };
        format!("{}: {} {}{why}: not moved", self.which(kept.sowing), self.what_moved(kept.what), full_day(kept.date))
    }

    /// Every date that moved, then those that did not, one a line.
    pub fn moved_and_kept(&self, difference: &DatesMoved) -> Vec<String> {
        let moved = difference.moved.iter().filter(|moved| is_work(moved.what)).map(|moved| self.moved(moved));
        moved.chain(difference.kept.iter().map(|kept| self.kept(kept))).collect()
    }

    /// `into 9 cm pots`, `hardening off`.
    pub fn what_moved(&self, what: What) -> String {
        match what {
            What::Prepared(_) => "seed made ready".to_owned(),
            What::Sown => "sown".to_owned(),
            What::Begun => "here already".to_owned(),
            What::Unstacked => "taken out of the stack".to_owned(),
            What::Up => "up".to_owned(),
            What::Due => format!("large enough to {}", self.verb().to_do),
            What::MovedOn(step) => format!("into {}", self.step_anywhere(step)),
            What::Latest(step) => format!("at the latest out of {}", self.step_anywhere(step)),
            What::Spaced => "spaced out".to_owned(),
            What::GappedUp => "gapped up".to_owned(),
            What::LeavesMeet(_) => "leaves meet".to_owned(),
            What::Hardening => "hardening off".to_owned(),
            What::FirstNightOut => "first night out".to_owned(),
            What::InFlower => "in flower".to_owned(),
            What::Out { .. } => "out".to_owned(),
        }
    }
}

/// A word for the kind of change, the same in `--json` for good: `learned`.
pub const fn change_kind(change: &Change) -> &'static str {
    match change {
        Change::Frost { .. } => "frost",
        Change::WeekOne { .. } => "week_one",
        Change::Out { .. } => "out",
        Change::Start { .. } => "start",
        Change::StartOn { .. } => "start_on",
        Change::SownAnew { .. } => "sown_anew",
        Change::TripLeft { .. } => "trip_left",
        Change::Holiday { .. } => "holiday",
        Change::Spans { .. } => "spans",
        Change::DoneLeft { .. } => "done_left",
        Change::Learned(_) => "learned",
        Change::NotLearned { .. } => "not_learned",
        Change::AgainLeft { .. } => "again_left",
    }
}

const fn is_work(what: What) -> bool {
    matches!(what, What::Sown | What::MovedOn(_) | What::Hardening | What::Out { .. })
}

/// `too big at 8 weeks in 2027`.
pub(super) fn verdict_of_year(verdict: Verdict) -> String {
    format!("{} at {} weeks in {}", grown_name(verdict.grown), weeks(i64::from(verdict.days)), verdict.year)
}

/// Why no rate is learned.
fn not_learned(why: NotLearned) -> String {
    let no = "no germination rate is learned";
    match why {
        NotLearned::SownNotCounted { up } => format!("{up} came up, but the cells sown were not counted: {no}"),
        NotLearned::UpNotCounted { cells } => {
            format!("{} sown, but what came up was not counted: {no}", counted(cells, "cell was", "cells were"))
        }
        NotLearned::StoodHere { up } => format!("{up} were up, but they stood there already: {no}"),
    }
}

/// `too big`.
pub const fn grown_name(grown: Grown) -> &'static str {
    match grown {
        Grown::TooSmall => "too small",
        Grown::Right => "just right",
        Grown::TooBig => "too big",
    }
}

fn days_learned(from: DayRange, to: DayRange, observations: u32) -> String {
    let range = |days: DayRange| format!("{} – {} days, likely {}", days.early, days.late, days.likely);
    format!(
        "after {}; {} before ({observations} {} behind it)",
        range(to),
        range(from),
        plural(observations, "record", "records")
    )
}
