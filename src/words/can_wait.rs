//! What can't wait: until when each work may be done, and what comes after that.

use chrono::NaiveDate;

use crate::outlook::Verdict;
use crate::outlook::slack::{CanWait, End, Overflow, Slack, Work};
use crate::season::Sowing;

use super::amounts::capital;
use super::would_break::done_on;
use super::{Words, counted, day, short_of};

pub const PAGE: &str = "What can’t wait";
pub const OPEN: &str = "What can’t wait…";
/// On the page of one sowing.
pub const OF_ONE: &str = "How long it can wait";
pub const WHAT_IT_SAYS: &str = "How many days each sowing, moving on and going out may slip before a day is short of room; \
     what is written down as done has no such days";
pub const STOPPED: &str = "Stopped before all was worked out";
/// Where a row leads.
pub const TO_THE_SOWING: &str = "to the sowing";
pub const LOOK_AGAIN: &str = "Work it out";
pub const NOTHING: &str = "Nothing is still to be done";
pub const SHORT_ALREADY: &str =
    "The season is short of room as it is planned: a day counts as worse where more would be short than now";
pub const NOT_SETTLED_ALREADY: &str = "Whether the season fits as it is planned is not settled";
pub const BY_ROOM: &str = "Room ends it";
pub const NOT_SETTLED: &str = "Not settled";
pub const BY_RULE: &str = "The plants end it first";
pub const NO_OTHER: &str = "No later day";
pub const NEVER: &str = "Four weeks and more";

/// `Slipping, day after day 40 %`.
pub fn looking(part: f32) -> String {
    format!("Slipping each work day after day {:.0} %", part * 100.0)
}

/// What is to be known of the season as it is planned; nothing where it fits.
pub const fn as_planned(verdict: Verdict) -> Option<&'static str> {
    match verdict {
        Verdict::Fits => None,
        Verdict::Unsettled => Some(NOT_SETTLED_ALREADY),
        Verdict::Crunch => Some(SHORT_ALREADY),
    }
}

/// What JSON calls what ends it.
pub const fn end_kind(end: &End) -> &'static str {
    match end {
        End::Short(_) => "short",
        End::Open(_) => "not_settled",
        End::Rule { .. } => "rule",
        End::NoOther => "no_other_day",
        End::Never => "none",
    }
}

/// Over those that end alike.
pub const fn heading(end: &End) -> &'static str {
    match end {
        End::Short(_) => BY_ROOM,
        End::Open(_) => NOT_SETTLED,
        End::Rule { .. } => BY_RULE,
        End::NoOther => NO_OTHER,
        End::Never => NEVER,
    }
}

/// What JSON calls the work.
pub const fn work_kind(work: Work) -> &'static str {
    match work {
        Work::Sown => "sown",
        Work::MovedOn(_) => "moved_on",
        Work::Out => "out",
    }
}

impl Words<'_> {
    /// `Tomato may be sown until 9 Mar (4 days later): the 5th day would leave growing shelves (Room) 2 short on 20 Apr`.
    pub fn slack(&self, slack: &Slack) -> String {
        format!("{} {}", self.which(slack.sowing), self.may_wait(slack))
    }

    /// The same without the sowing.
    pub fn may_wait(&self, slack: &Slack) -> String {
        let work = self.work_done(slack);
        let until = match slack.days() {
            0 => format!("must be {}", done_on(work, slack.on)),
            _ => format!("may be {work} until {}", later(slack)),
        };
        self.and_then(&until, slack)
    }

    /// On its own page: `May be sown until 9 Mar (4 days later): the 5th day would leave …`.
    pub fn last_safe_day(&self, slack: &Slack) -> String {
        capital(&self.may_wait(slack))
    }

    /// With what the first day after it brings.
    fn and_then(&self, until: &str, slack: &Slack) -> String {
        match &slack.end {
            End::Short(over) => format!(
                "{until}: {} would leave {} {} on {}{}",
                nth_day(slack.on, over.to),
                self.pools(&over.pools),
                short_of(over.short, over.short_at_most),
                day(over.day),
                instead_of(over)
            ),
            End::Open(over) => format!(
                "{until}: whether {} would leave room for all in {} on {} is not settled",
                nth_day(slack.on, over.to),
                self.pools(&over.pools),
                day(over.day)
            ),
            End::Rule { to, problem } => format!(
                "{until}, and no later: {} {}",
                done_on(self.work_done(slack), *to),
                self.would_break(slack.sowing, problem)
            ),
            End::NoOther => format!("{until}: no later day can be its day"),
            End::Never => format!("{until} and longer"),
        }
    }

    /// What the whole list comes to.
    pub fn first_to_overflow(&self, found: &CanWait) -> String {
        match found.first() {
            Some(first) => format!("First of all: {}", self.slack(first)),
            None if found.all.is_empty() => NOTHING.to_owned(),
            None => {
                "No slip of up to four weeks is proven to leave a day short of room before a rule ends it".to_owned()
            }
        }
    }

    /// `sown`, `potted on`, `planted out`, `sold`.
    pub fn work_done(&self, slack: &Slack) -> &'static str {
        match slack.work {
            Work::Sown => "sown",
            Work::MovedOn(step) => self.verb_into(step).done,
            Work::Out if self.season.sowing(slack.sowing).is_some_and(Sowing::is_to_sell) => "sold",
            Work::Out => "planted out",
        }
    }
}

/// `9 Mar (4 days later)`.
fn later(slack: &Slack) -> String {
    format!("{} ({} later)", day(slack.until), counted(slack.days(), "day", "days"))
}

/// `the 5th day`; `one day later`.
fn nth_day(on: NaiveDate, to: NaiveDate) -> String {
    let number = (to - on).num_days();
    let ending = match (number % 10, number % 100) {
        (1, last) if last != 11 => "st",
        (2, last) if last != 12 => "nd",
        (3, last) if last != 13 => "rd",
        _ => "th",
    };
    if number == 1 { "one day later".to_owned() } else { format!("the {number}{ending} day") }
}

/// ` instead of 1`, where it is short as it is planned.
fn instead_of(over: &Overflow) -> String {
    if over.before == 0 { String::new() } else { format!(" instead of {}", over.before) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::shifted;

    #[test]
    fn days_are_counted_from_the_day_after() {
        let on = NaiveDate::default();
        let said = |days| nth_day(on, shifted(on, days));
        assert_eq!(said(1), "one day later");
        let ordinals = [(2, "2nd"), (3, "3rd"), (4, "4th"), (11, "11th"), (12, "12th"), (13, "13th"), (21, "21st")];
        for (days, ordinal) in ordinals {
            assert_eq!(said(days), format!("the {ordinal} day"));
        }
    }
}
