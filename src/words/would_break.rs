//! Which rule a work would break if it were done on that day: in the conditional, as nothing of it is planned.

use crate::forecast::{NotReady, Problem, What};
use crate::season::{Sowing, SowingId};
use crate::units::{DateSpan, Temperature};

use super::names::role_of;
use super::{Words, counted, day, span};

impl Words<'_> {
    /// `it would be 27 days old when it goes out on 10 Apr, and wants 28`; `of` is the sowing whose work it is.
    pub(super) fn would_break(&self, of: SowingId, problem: &Problem) -> String {
        let it = |sowing: SowingId| if sowing == of { "it".to_owned() } else { self.which(sowing) };
        match problem {
            Problem::OutOfOrder { sowing, date, not_before, .. } => format!(
                "{} would have a step begin on {}, not after {}, when the one before it begins",
                it(*sowing),
                day(*date),
                day(*not_before)
            ),
            Problem::HeldTooLong { sowing, step, latest, until, .. } => format!(
                "{} would stand in {} until {}, which holds it until {}",
                it(*sowing),
                self.step(*sowing, *step),
                day(*until),
                day(*latest)
            ),
            Problem::MovedEarly { sowing, step, due, date, .. } => {
                let verb = self.verb_into(*step).done;
                let moved = done_on(verb, *date);
                format!(
                    "{} would be {moved}, before its leaves are likely to be there, about {}",
                    it(*sowing),
                    day(*due)
                )
            }
            Problem::NotReady { sowing, why } => format!("{} {}", it(*sowing), self.would_not_be_ready(*sowing, *why)),
            Problem::OutBeforeFrost { .. } | Problem::OutBeforeWindow { .. } | Problem::NobodyThere { .. } => {
                self.would_go_too_early(problem, it)
            }
            Problem::WontComeUp { .. }
            | Problem::FewComeUp { .. }
            | Problem::TooColdToHarden { .. }
            | Problem::Bolts { .. }
            | Problem::TooWarm { .. } => self.would_be_harmed(problem, it),
            Problem::NoRoomInside { sowing, container } => {
                format!("{} would have no room to grow in {}", it(*sowing), self.container(container))
            }
            Problem::InsertTooLarge { sowing, insert, tray, .. } => format!(
                "{} would stand in {}, which won’t lie flat in {}",
                it(*sowing),
                self.container(insert),
                self.container(tray)
            ),
            other => self.would_have_no_place(other),
        }
    }

    fn would_not_be_ready(&self, sowing: SowingId, why: NotReady) -> String {
        let is_sold = self.season.sowing(sowing).is_some_and(Sowing::is_to_sell);
        let goes = |is_sold| if is_sold { "is sold" } else { "goes out" };
        match why {
            NotReady::TooYoung { out, days, least, to_sell, in_flower, .. } => format!(
                "would be {} old when it {} on {}, and wants {least}{}",
                counted(days, "day", "days"),
                goes(to_sell),
                day(out),
                if in_flower { " to be in flower" } else { "" }
            ),
            NotReady::NotRooted { step, from, until, least, goes_out, .. } => format!(
                "would have {} of the {least} days in which it roots through {}, from {} until it {} on {}",
                (until - from).num_days(),
                self.step(sowing, step),
                day(from),
                if goes_out { goes(is_sold) } else { "moves again" },
                day(until)
            ),
            NotReady::HardenedShort { out, days, wanted, .. } => format!(
                "would have {days} of {} of hardening off before it {} on {}",
                counted(wanted, "day", "days"),
                goes(is_sold),
                day(out)
            ),
        }
    }

    fn would_go_too_early(&self, problem: &Problem, it: impl Fn(SowingId) -> String) -> String {
        match problem {
            Problem::OutBeforeFrost { sowing, out, frost, .. } => format!(
                "{} would be out on {}, before the last frost of {}, and is tender",
                it(*sowing),
                day(*out),
                day(*frost)
            ),
            Problem::OutBeforeWindow { sowing, out, from, .. } => format!(
                "{} would be out on {}, and stands the frosts only from {} on",
                it(*sowing),
                day(*out),
                day(*from)
            ),
            Problem::NobodyThere { sowing, work, date, .. } => {
                let what = match work {
                    What::MovedOn(step) => format!("be {}", done_on(self.verb_into(*step).done, *date)),
                    What::Out { .. } => format!("go out on {}", day(*date)),
                    _ => format!("be sown on {}", day(*date)),
                };
                format!("{} would {what}, when nobody is there", it(*sowing))
            }
            _ => String::new(),
        }
    }

    fn would_be_harmed(&self, problem: &Problem, it: impl Fn(SowingId) -> String) -> String {
        let warmth = |at: Temperature| at.in_words(self.unit);
        match problem {
            Problem::WontComeUp { sowing, at, limit } => {
                let seed = match limit {
                    Some(limit) if at < limit => {
                        format!("too cold for its seed, which wants {} at least", warmth(*limit))
                    }
                    Some(limit) => format!("too hot for its seed, which bears {} at most", warmth(*limit)),
                    None => "at which nothing came up where it was tried".to_owned(),
                };
                format!("{} would be in a mix of {}, {seed}", it(*sowing), warmth(*at))
            }
            Problem::FewComeUp { sowing, percent, at, best, best_at } => format!(
                "{} would be in a mix of {}, in which about {percent} % come up, and at {} {best} % do",
                it(*sowing),
                warmth(*at),
                warmth(*best_at)
            ),
            Problem::TooColdToHarden { sowing, place, from, nights_alone } => format!(
                "{} would harden off in {} from {}, too cold for it {}",
                it(*sowing),
                self.place(*place),
                day(*from),
                if *nights_alone { "at night" } else { "even by day" }
            ),
            Problem::Bolts { sowing, place, from, days, reached } => format!(
                "{} would be chilled for {} in {} from {} on, and bolt by {}",
                it(*sowing),
                counted(*days, "day", "days"),
                self.place(*place),
                day(*from),
                day(*reached)
            ),
            Problem::TooWarm { sowing, place, from, days } => format!(
                "{} would be too warm to grow well for {} in {} from {} on",
                it(*sowing),
                counted(*days, "day", "days"),
                self.place(*place),
                day(*from)
            ),
            _ => String::new(),
        }
    }

    fn would_have_no_place(&self, problem: &Problem) -> String {
        let in_all = |when: DateSpan| span(when);
        match problem {
            Problem::NoPlaceFor { role, span } => {
                format!("no place for {} would be open {}", role_of(*role), in_all(*span))
            }
            Problem::TooTall { tray, day: from, .. } => {
                format!("{} would outgrow every shelf on {}", self.tray_of(*tray), day(*from))
            }
            Problem::TooLarge { tray, .. } => {
                format!("{} would be larger than every shelf it may stand on", self.tray_of(*tray))
            }
            Problem::TooHeavy { tray, .. } => {
                format!("{} would be heavier than any shelf it may stand on is rated for", self.tray_of(*tray))
            }
            Problem::NoPlaceBears { tray, span, .. } => {
                format!("no place would suit {} {} by its warmth", self.tray_of(*tray), in_all(*span))
            }
            Problem::NoLight { tray, span, .. } => {
                format!("{} would have no place with light {}", self.tray_of(*tray), in_all(*span))
            }
            other => self.problem(other),
        }
    }
}

/// `sown on 14 Mar`, `potted on 14 Mar`: a small word that the work ends on stands once.
pub(super) fn done_on(done: &str, date: chrono::NaiveDate) -> String {
    let done = done.strip_suffix(" on").unwrap_or(done);
    format!("{done} on {}", day(date))
}
