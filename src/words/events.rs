//! What happens on a date, and why that date.

use chrono::Datelike as _;

use crate::forecast::{Event, What, Why};
use crate::season::{Crop, OutRule, SettingDepth, Stage, StepId};
use crate::units::{LengthUnit, measured_up};

use super::{Words, counted, day, out_by_frost, out_rule, plural};

impl Words<'_> {
    fn crop_in(&self, step: StepId) -> Option<&Crop> {
        self.season.sowing_with(step).and_then(|sowing| self.season.crop(self.library, &sowing.crop))
    }

    /// `soak 12 h`.
    pub(super) fn done_to_seed(&self, step: StepId) -> &str {
        self.crop_in(step).map_or("", |crop| &crop.before_sowing)
    }

    /// `set deep`; nothing where texts disagree.
    pub(super) fn depth_in(&self, step: StepId) -> Option<&'static str> {
        match self.crop_in(step)?.depth.value {
            SettingDepth::Deep => Some("set deep, to the seed leaves"),
            SettingDepth::Collar => Some("as deep as it stood"),
            SettingDepth::Either => None,
        }
    }

    /// `second true leaves 8 – 17 Apr, likely 12`.
    pub fn event(&self, event: &Event) -> String {
        let date = day(event.date);
        let what = match event.what {
            What::Prepared(step) => format!("{} from {date}, before it is sown", self.done_to_seed(step)),
            What::Sown => format!("sown {date}"),
            What::Begun => format!("here already {date}"),
            What::Unstacked => format!("taken out of the stack {date}, urgent: they need light"),
            What::Up => ranged("up", event),
            What::Due => match event.why {
                Why::Leaves(leaves) | Why::LeavesByWarmth { leaves, .. } => {
                    ranged(&format!("{} due", leaf_count(leaves)), event)
                }
                _ => ranged(&format!("large enough to {}", self.verb().to_do), event),
            },
            What::MovedOn(step) => format!(
                "{} {date} into {}{}",
                self.verb_into(step).done,
                self.step_anywhere(step),
                self.depth_in(step).map_or_else(String::new, |depth| format!(", {depth}"))
            ),
            What::Latest(step) => format!("may stay in {} until {date}", self.step_anywhere(step)),
            What::Spaced => format!("spaced out {date}"),
            What::GappedUp => format!("gapped up {date}"),
            What::LeavesMeet(step) => format!("leaves meet in {} {date}", self.step_anywhere(step)),
            What::Hardening => format!("hardening off from {date}"),
            What::FirstNightOut => format!("first night out {date}"),
            What::InFlower => match event.range {
                Some((from, until)) => format!("in flower about {} – {}", day(from), day(until)),
                None => format!("in flower about {date}"),
            },
            What::Out { plants } => format!("{plants} planted out or sold {date}"),
        };
        let frost = self.season.settings().frost.as_ref();
        let why = match (event.why, frost) {
            (Why::Out(OutRule::Frost { .. }), Some(frost)) => Some(out_by_frost(event.date, frost, self.unit)),
            _ => why(event.why, self.unit),
        };
        match why {
            Some(why) => format!("{what} ({why}{})", aged(event)),
            None => what,
        }
    }
}

fn ranged(what: &str, event: &Event) -> String {
    match event.range {
        Some((early, late)) if early < late => {
            let from = if early.month() == late.month() { early.day().to_string() } else { day(early) };
            format!("{what} {from} – {}, likely {}", day(late), day(event.date))
        }
        _ => format!("{what} {}", day(event.date)),
    }
}

/// What a sowing out of its day means for the plants.
fn aged(event: &Event) -> String {
    let Event { what: What::Sown, why: Why::Bent { days }, .. } = event else { return String::new() };
    let (by, age) = (u64::from(days.unsigned_abs()), if *days > 0 { "younger" } else { "older" });
    format!(", so {by} {} {age} when planted out", plural(by, "day", "days"))
}

fn leaf_count(leaves: u8) -> String {
    match leaves {
        1 => "first true leaf".to_owned(),
        2 => "first pair of true leaves".to_owned(),
        4 => "second pair of true leaves".to_owned(),
        n => format!("{n} true leaves"),
    }
}

/// `4 true leaves`.
pub fn stage_name(stage: Stage) -> String {
    match stage {
        Stage::Sown => "just sown".to_owned(),
        Stage::Up => "just up".to_owned(),
        Stage::TrueLeaves(leaves) => format!("{leaves} true {}", plural(leaves, "leaf", "leaves")),
    }
}

fn why(why: Why, unit: LengthUnit) -> Option<String> {
    Some(match why {
        Why::Seen => "seen".to_owned(),
        Why::Set => "the date given".to_owned(),
        Why::DaysAfterSowing(days) => format!("{} after sowing", counted(days, "day", "days")),
        Why::Prepared { days } => format!("{} after its seed was prepared", counted(days, "day", "days")),
        Why::DaysBeforeOut(days) => format!("{} before planting out", counted(days, "day", "days")),
        Why::WeeksBeforeOut(weeks) => {
            format!("{} before planting out", counted(weeks, "week", "weeks"))
        }
        Why::RootsByOut { moved_on, rooting } => format!(
            "{} before planting out: {moved_on} until it is moved on, {rooting} to root through",
            counted(moved_on.saturating_add(rooting), "day", "days")
        ),
        Why::ToRoot { days } => format!(
            "{} before its leaves are likely, so that it roots through before it goes out",
            counted(days, "day", "days")
        ),
        Why::LastFrost => "not before the last frost that you reckon with".to_owned(),
        Why::LatestWeeks(weeks) => format!("{} from sowing", counted(weeks, "week", "weeks")),
        Why::LaterLot(days) => format!("a later batch, by {}", counted(days, "day", "days")),
        Why::WeeksToFlower { low, high } => format!("{low} to {high} weeks from sowing"),
        Why::LatestDays(days) => format!("{} from sowing", counted(days, "day", "days")),
        Why::PlaceOpens => "the place opens then".to_owned(),
        Why::Stage { days: 0, stage } => stage_name(stage),
        Why::Stage { days, stage } => {
            format!("about {days} {} old: {}, by the crop's days", plural(days, "day", "days"), stage_name(stage))
        }
        Why::DueAlready => "due already".to_owned(),
        Why::StackDays(days) => format!("{days} dark {}", plural(days, "day", "days")),
        Why::Warmth { at, base } => {
            format!("by its warmth, a mix of {} above {}", at.in_words(unit), base.in_words(unit))
        }
        Why::ByTemperature { at } => format!("by the table, in a mix of {}", at.in_words(unit)),
        Why::LeavesByWarmth { at, .. } => format!("by their warmth, {} on average", at.in_words(unit)),
        Why::Bent { days } => format!(
            "nobody there on its day: {} {} {}",
            days.unsigned_abs(),
            plural(days.unsigned_abs(), "day", "days"),
            if days < 0 { "early" } else { "late" }
        ),
        Why::Out(rule) => out_rule(rule),
        Why::Wider { at, wide } => {
            format!("{} apart, plants up to {} wide by the end", at.in_words(unit), measured_up(wide, unit))
        }
        Why::CropDays | Why::Leaves(_) | Why::Age => return None,
    })
}
