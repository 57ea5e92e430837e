//! What an edit changed, said once that is worked out: what was written down, whether there is more room or less, which
//! works move, and what is to be seen to now.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::forecast::{Moved, Problem, What};
use crate::outlook::{Changed, RoomLeft, Short};
use crate::season::{Away, Edit, EditLabel, Observation, Observed, Op, Sowing, TrayKey};

use super::amounts::capital;
use super::records::days_apart;
use super::{Words, counted, day, plural, short_range, span};

/// That many are read at a glance.
const MOST_WORDS: usize = 30;

/// What an edit changed: as much of it as is read at a glance, and all of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    pub short: String,
    pub whole: String,
}

/// How many problems and works are named.
#[derive(Clone, Copy)]
struct Most {
    problems: usize,
    moved: usize,
    /// Of a problem what it is, without what to do about it.
    brief: bool,
}

impl Most {
    const ALL: Self = Self { problems: usize::MAX, moved: usize::MAX, brief: false };
    /// From most to least.
    const SHORTER: [Self; 4] = [
        Self::ALL,
        Self { brief: true, ..Self::ALL },
        Self { problems: 1, moved: 2, brief: true },
        Self { problems: 1, moved: 1, brief: true },
    ];
    const LEAST: Self = Self { problems: 1, moved: 0, brief: true };
}

impl Words<'_> {
    /// `Written down: Lettuce, 11 of 20 up`; nothing of an edit that is neither a record nor days away.
    pub fn done(&self, edit: &Edit) -> Option<String> {
        if let EditLabel::AddRecords(works) = edit.label {
            return Some(format!("Written down: {} as planned", counted(works, "work", "works")));
        }
        let is_planned = matches!(edit.label, EditLabel::ChangeDay(_));
        edit.ops.iter().find_map(|op| match op {
            Op::PutSowing(sowing) if is_planned => Some(format!("Planned: {}", self.which(sowing.id))),
            Op::PutRecord(id, record) => {
                let sowing = self.season.sowing(*id)?;
                Some(format!("Written down: {}, {}", self.which(*id), self.seen(sowing, record)))
            }
            Op::RemoveRecord(id, record) => {
                let sowing = self.season.sowing(*id)?;
                let seen = sowing.seen.iter().find(|seen| seen.id == *record)?;
                Some(format!("Not written down any more: {}, {}", self.which(*id), self.seen(sowing, seen)))
            }
            Op::PutAway(away) => Some(format!("Away {}{}", span(away.span), self.who_waters(away))),
            Op::RemoveAway(id) => {
                let away = self.season.away().into_iter().find(|away| away.id == *id)?;
                Some(format!("There {}", span(away.span)))
            }
            _ => None,
        })
    }

    /// `, Jo waters 32 trays`; nothing where nobody does.
    fn who_waters(&self, away: &Away) -> String {
        let there = self.forecast.stays.iter().filter(|stay| stay.span.overlaps(away.span));
        let trays: BTreeSet<TrayKey> = there.flat_map(|stay| stay.trays.iter().copied()).collect();
        match (away.waters.trim(), trays.len()) {
            ("", _) => String::new(),
            (waters, 0) => format!(", {waters} waters"),
            (waters, number) => format!(", {waters} waters {}", counted(number, "tray", "trays")),
        }
    }

    /// `11 of 20 up`; what isn't counted with its day.
    fn seen(&self, sowing: &Sowing, record: &Observation) -> String {
        match (record.what, sowing.cells_sown().or_else(|| self.cells_to_sow(sowing))) {
            (Observed::Up { plants: Some(up) }, Some(cells)) => format!("{up} of {cells} up"),
            (what, _) => format!("{} {}", self.record(what), day(record.date)),
        }
    }

    /// As many as are planned.
    pub(super) fn cells_to_sow(&self, sowing: &Sowing) -> Option<u32> {
        let first = sowing.steps.first()?.id;
        let cells: u32 = self.forecast.courses_of(sowing.id).map(|course| course.places_in(first)).sum();
        (cells > 0).then_some(cells)
    }

    /// With what was done, where that is to be said.
    pub fn changed(&self, done: Option<&str>, changed: &Changed) -> Told {
        let whole = self.with_most(done, changed, Most::ALL);
        let mut shorter = Most::SHORTER.iter().map(|most| self.with_most(done, changed, *most));
        let is_short = |said: &String| said.split_whitespace().count() <= MOST_WORDS;
        let short = shorter.find(is_short).unwrap_or_else(|| self.with_most(done, changed, Most::LEAST));
        Told { short, whole }
    }

    fn with_most(&self, done: Option<&str>, changed: &Changed, most: Most) -> String {
        let room = format!("{}{}", room(&changed.before, &changed.after), other_week(changed));
        let room = if changed.is_nothing() { format!("Nothing else changed: {room}") } else { capital(&room) };
        let mut said: Vec<String> = done.map(str::to_owned).into_iter().chain([room]).collect();
        said.extend(self.problems_brought(changed, most));
        said.extend(self.works_moved(&changed.moved, most.moved));
        said.join(". ")
    }

    fn problems_brought(&self, changed: &Changed, most: Most) -> Vec<String> {
        let others = changed.others.iter().map(|problem| self.problem(problem));
        let mut all: Vec<String> = self.brought(&changed.to_see_to).into_iter().chain(others).collect();
        let more = all.len().saturating_sub(most.problems);
        all.truncate(most.problems);
        if most.brief {
            for said in &mut all {
                *said = what_it_is(said).to_owned();
            }
        }
        if let Some(last) = all.last_mut().filter(|_| more > 0) {
            last.push_str(&and_more(more));
        }
        all
    }

    /// `Potting on 3 days later: 14 Apr`; of several sowings whose work it is.
    fn works_moved(&self, moved: &[Moved], most: usize) -> Option<String> {
        let first = moved.first()?;
        if most == 0 {
            return Some(format!("{} on other days", counted(moved.len(), "work", "works")));
        }
        let more = and_more(moved.len().saturating_sub(most));
        let named = moved.iter().take(most);
        if moved.iter().any(|other| other.sowing != first.sowing) {
            let mut before = None;
            let named = named.map(|moved| {
                let said = self.whose_work_moved(moved, before != Some(moved.what));
                before = Some(moved.what);
                said
            });
            return Some(format!("{}{more}", named.collect::<Vec<_>>().join("; ")));
        }
        let named: Vec<String> = named.map(|moved| self.work_moved(moved)).collect();
        Some(format!("{}{more}", capital(&named.join(", "))))
    }

    fn work_moved(&self, moved: &Moved) -> String {
        let what = match moved.what {
            What::Sown => "sowing",
            What::MovedOn(step) => self.verb_into(step).doing,
            What::Spaced => "spacing out",
            What::Hardening => "hardening off",
            What::FirstNightOut => "first night out",
            _ => "going out",
        };
        format!("{what} {}: {}", days_apart((moved.to - moved.from).num_days()), day(moved.to))
    }

    /// `Petunia potted on 1 day earlier, 11 Apr`; without what is done where the one before said it.
    fn whose_work_moved(&self, moved: &Moved, with_work: bool) -> String {
        let what = match moved.what {
            _ if !with_work => "",
            What::Sown => "sown ",
            What::MovedOn(step) => &format!("{} ", self.verb_into(step).done),
            What::Spaced => "spaced out ",
            What::Hardening => "hardened off ",
            What::FirstNightOut => "first night out ",
            _ => "out ",
        };
        let (whose, apart) = (self.which(moved.sowing), days_apart((moved.to - moved.from).num_days()));
        format!("{whose} {what}{apart}, {}", day(moved.to))
    }

    /// Trays that nobody waters or carries counted over all days away; what is missing by its sowing.
    fn brought(&self, problems: &[Problem]) -> Vec<String> {
        let (mut dry, mut carried, mut stuck) = (BTreeSet::<TrayKey>::new(), BTreeSet::<TrayKey>::new(), 0_usize);
        let mut others = Vec::new();
        for problem in problems {
            match problem {
                Problem::NobodyWaters { trays, .. } => dry.extend(trays),
                Problem::NobodyCarries { trays, .. } => carried.extend(trays),
                Problem::NobodyThere { .. } => stuck += 1,
                Problem::TooFew { missing, wanted, sow_again_until, too_late, .. }
                | Problem::SownTooFew { missing, wanted, sow_again_until, too_late, .. } => {
                    others.push(to_be_sown((*missing, *wanted), *sow_again_until, *too_late));
                }
                other => others.push(self.problem(other)),
            }
        }
        let trays = |number| counted(number, "tray", "trays");
        let mut away = Vec::new();
        if !dry.is_empty() {
            away.push(format!("nobody waters {}", trays(dry.len())));
        }
        if !carried.is_empty() {
            away.push(format!("nobody carries {} out and in", trays(carried.len())));
        }
        if stuck > 0 {
            away.push(format!("{stuck} {} nobody there", plural(stuck, "work has", "works have")));
        }
        if !away.is_empty() {
            others.insert(0, capital(&away.join(", ")));
        }
        others
    }
}

fn to_be_sown((missing, wanted): (u32, u32), until: NaiveDate, too_late: bool) -> String {
    let of = format!("{missing} of {wanted} wanted {} missing", plural(missing, "is", "are"));
    if too_late { format!("{of}, too late to sow more") } else { format!("{of}: sow more by {}", day(until)) }
}

/// The first of its sentences' parts: the others say what to do.
fn what_it_is(said: &str) -> &str {
    said.split("; ").next().unwrap_or(said)
}

/// `, and 2 more`; nothing where there are none.
fn and_more(number: usize) -> String {
    if number == 0 { String::new() } else { format!(", and {number} more") }
}

fn room(before: &RoomLeft, after: &RoomLeft) -> String {
    match (before, after) {
        (RoomLeft::Short(before), RoomLeft::Short(after)) => shorter(before, after),
        (RoomLeft::Unsettled { .. }, RoomLeft::Short(after)) => {
            format!("{} short, first on {}", trays(after), day(after.first))
        }
        (RoomLeft::Fits { .. }, RoomLeft::Short(after)) => {
            format!("{} short, first on {}; it fitted before", trays(after), day(after.first))
        }
        (RoomLeft::Short(before), RoomLeft::Fits { .. }) => {
            format!("it fits now, in place of {} short on {}", trays(before), day(before.first))
        }
        (RoomLeft::Fits { spare: Some(before) }, RoomLeft::Fits { spare: Some(after) }) if before != after => {
            format!("it still fits, {after} to spare in place of {before}")
        }
        (RoomLeft::Fits { .. }, RoomLeft::Fits { .. }) => "it still fits".to_owned(),
        (RoomLeft::Unsettled { .. }, RoomLeft::Fits { .. }) => "it fits now".to_owned(),
        (_, RoomLeft::Unsettled { weeks }) => format!("not proven for {}", counted(*weeks, "week", "weeks")),
    }
}

/// `5 trays short in place of 6, first on 9 Apr in place of 10 Apr`.
fn shorter(before: &Short, after: &Short) -> String {
    let (is, was) = (short_range(after.least, after.most), short_range(before.least, before.most));
    let number = if is == was {
        format!("still {} short", trays(after))
    } else {
        format!("{} short in place of {was}", trays(after))
    };
    let days = if after.first != before.first {
        format!(", first on {} in place of {}", day(after.first), day(before.first))
    } else if after.worst != before.worst {
        format!(", {} in place of {}", span(after.worst), span(before.worst))
    } else if after.times != before.times {
        format!(", {} in place of {}", counted(after.times, "time", "times"), before.times)
    } else if is == was {
        format!(", {}", span(after.worst))
    } else {
        String::new()
    };
    format!("{number}{days}")
}

/// `, but 5 trays short in place of 4 in the week of 5 Apr`: where the worst week is as short as it was.
fn other_week(changed: &Changed) -> String {
    let is_same = matches!((changed.before, changed.after), (RoomLeft::Short(before), RoomLeft::Short(after))
        if (before.least, before.most) == (after.least, after.most));
    match changed.weeks.first().filter(|_| is_same) {
        Some(week) => {
            let is = counted(week.after, "tray", "trays");
            let of = format!(", but {is} short in place of {} in the week of {}", week.before, day(week.monday));
            match changed.weeks.len() - 1 {
                0 => of,
                more => format!("{of}, and {}", counted(more, "week more", "weeks more")),
            }
        }
        None => String::new(),
    }
}

/// `5 trays`.
fn trays(short: &Short) -> String {
    let trays = if (short.least, short.most) == (1, 1) { "tray" } else { "trays" };
    format!("{} {trays}", short_range(short.least, short.most))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outlook::WeekChanged;
    use crate::units::DateSpan;

    fn april(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2027, 4, day).expect("a day in April")
    }

    fn short(number: u32, first: u32, until: u32) -> RoomLeft {
        let worst = DateSpan::new(april(first), april(until)).expect("in order");
        RoomLeft::Short(Short { least: number, most: number, worst, first: april(first), times: 1 })
    }

    #[test]
    fn how_many_are_short_and_since_when_stands_beside_what_it_was() {
        let fits = |spare| RoomLeft::Fits { spare: Some(spare) };
        for (before, after, said) in [
            (short(6, 10, 20), short(6, 10, 20), "still 6 trays short, 10 Apr – 19 Apr"),
            (short(6, 10, 20), short(5, 9, 20), "5 trays short in place of 6, first on 9 Apr in place of 10 Apr"),
            (short(6, 10, 20), short(6, 12, 20), "still 6 trays short, first on 12 Apr in place of 10 Apr"),
            (short(2, 10, 20), short(1, 10, 20), "1 tray short in place of 2"),
            (short(2, 10, 20), short(2, 10, 16), "still 2 trays short, 10 Apr – 15 Apr in place of 10 Apr – 19 Apr"),
            (short(6, 10, 20), fits(0), "it fits now, in place of 6 trays short on 10 Apr"),
            (fits(3), short(1, 10, 20), "1 tray short, first on 10 Apr; it fitted before"),
            (fits(3), fits(1), "it still fits, 1 to spare in place of 3"),
            (fits(3), fits(3), "it still fits"),
            (RoomLeft::Unsettled { weeks: 2 }, short(1, 10, 20), "1 tray short, first on 10 Apr"),
            (fits(3), RoomLeft::Unsettled { weeks: 1 }, "not proven for 1 week"),
        ] {
            assert_eq!(room(&before, &after), said);
        }
    }

    #[test]
    fn a_week_that_is_shorter_is_told_where_the_worst_is_as_it_was() {
        let week = |monday, before, after| WeekChanged { monday: april(monday), before, after };
        let changed = |after, weeks: &[WeekChanged]| Changed {
            before: short(6, 10, 20),
            after,
            weeks: weeks.to_vec(),
            moved: Vec::new(),
            to_see_to: Vec::new(),
            others: Vec::new(),
        };
        let same = short(6, 10, 20);
        assert_eq!(other_week(&changed(same, &[])), "");
        assert_eq!(
            other_week(&changed(same, &[week(5, 4, 5)])),
            ", but 5 trays short in place of 4 in the week of 5 Apr"
        );
        assert_eq!(
            other_week(&changed(same, &[week(5, 4, 5), week(12, 5, 4)])),
            ", but 5 trays short in place of 4 in the week of 5 Apr, and 1 week more"
        );
        assert_eq!(other_week(&changed(short(5, 10, 20), &[week(5, 6, 5)])), "", "that is the worst");
    }
}
