//! The work of a week, as a grower would write it on a list.

use chrono::{Datelike as _, NaiveDate};

use crate::forecast::jobs::{Job, Kind, UpThen, Written, next_event};
use crate::forecast::{Course, Why};
use crate::outlook::{WeekLabel, week_label};
use crate::season::{ContainerKind, Observation, Observed, Sowing, SowingId, StepId};
use crate::units::shifted;

use super::amounts::capital;
use super::days::{full_day, month, week, weekday_and_day};
use super::days_away::called;
use super::sowings::come_up;
use super::{Words, counted, day, plural};

pub const PAGE: &str = "Work";
pub const THIS_WEEK: &str = "This week";
pub const WEEK_BEFORE: &str = "Week before";
pub const WEEK_AFTER: &str = "Week after";
pub const THE_LIST: &str = "Work of the week";

pub const NOTHING_SOWN: &str = "Nothing is sown in this season yet: there is no work";
pub const ALL_DONE: &str = "All that is due this week is done and written down";
pub const SHOW: &str = "Show";
pub const HIDE: &str = "Hide";
pub const ALL_AS_PLANNED: &str = "All done as planned";
pub const TO_SEE_TO: &str = "To see to";
pub const SEE_TO_IT: &str = "See to it";
pub const CHOOSE_ONE: &str = "Choose a piece of work to see where it goes, how much it is, and what comes next";

pub const DONE_AS_PLANNED: &str = "Done as planned";
pub const OTHERWISE: &str = "Otherwise";
pub const MORE: &str = "More…";
pub const NOT_DONE: &str = "Not done after all";
pub const PASSED: &str = "Not written down, but what comes later is";
pub const TRAYS: &str = "Trays";
pub const COME_FROM: &str = "Come from";
pub const TO_THE_TRAY: &str = "to the tray on its shelf";

const FROM: &str = "From";
const INTO: &str = "Into";
const IN: &str = "In";
const DEPTH: &str = "How deep";
const HOW_MANY: &str = "How many";
const FOR: &str = "For";
const SEED: &str = "To the seed";
const UNTIL: &str = "Until";
const THEN: &str = "Then";

/// `12 – 18 April 2027`.
fn days_of_week(monday: NaiveDate, with_year: bool) -> String {
    let sunday = shifted(monday, 6);
    let year = if with_year { format!(" {}", sunday.year()) } else { String::new() };
    if monday.month() == sunday.month() {
        format!("{} – {} {}{year}", monday.day(), sunday.day(), month(sunday))
    } else {
        format!("{} {} – {} {}{year}", monday.day(), month(monday), sunday.day(), month(sunday))
    }
}

/// `3 of 9 written down`; nothing where nothing can be.
pub fn written_of(done: usize, of: usize) -> String {
    if of == 0 { String::new() } else { format!("{done} of {of} written down") }
}

/// What an empty week says, with the day of what is next.
pub fn nothing_due(next: Option<NaiveDate>) -> String {
    match next {
        Some(next) => format!("Nothing is due this week; the next work is on {}", full_day(next)),
        None => "Nothing is due this week, and nothing comes after it".to_owned(),
    }
}

pub fn go_to(day: NaiveDate) -> String {
    format!("Go to {}", weekday_and_day(day))
}

/// `74 works before today were never written down`.
pub fn never_written(number: usize) -> String {
    let were = plural(number, "was", "were");
    format!("{} before today {were} never written down", counted(number, "work", "works"))
}

/// `Plan it for Sun 4 Apr`.
pub fn plan_for(on: NaiveDate) -> String {
    format!("Plan it for {}", weekday_and_day(on))
}

/// Of those that are shown no more than so many; the rest stands in the weeks before.
pub fn and_more_before(number: usize) -> String {
    format!("{}, in the weeks before", and_more(number))
}

pub fn and_more(number: usize) -> String {
    format!("and {number} more")
}

/// Over the work of a day.
pub fn day_head(on: NaiveDate) -> String {
    weekday_and_day(on)
}

/// What is told from others of other days.
pub fn on_day(work: &str, on: NaiveDate) -> String {
    format!("{}, {work}", weekday_and_day(on))
}

pub fn done_on(on: NaiveDate) -> String {
    format!("done {}", day(on))
}

/// `due Mon 12 Apr; may wait until 26 Apr`.
pub fn due(job: &Job) -> String {
    let due = format!("due {}", weekday_and_day(job.day));
    match job.may_wait_until {
        Some(until) if job.is_open() => format!("{due}; {}", may_wait(until)),
        _ => due,
    }
}

/// What is counted where a record of it counts something.
pub const fn counts(kind: Kind) -> Option<&'static str> {
    match kind {
        Kind::Sow => Some("Cells sown"),
        Kind::LookIfUp(_) => Some("How many up"),
        Kind::PlantOut => Some("Planted out"),
        Kind::Sell => Some("Sold"),
        _ => None,
    }
}

fn may_wait(until: NaiveDate) -> String {
    format!("may wait until {}", day(until))
}

/// Of one line that says what the job is about.
pub const fn is_trouble(job: &Job) -> bool {
    job.nobody_there.is_some() && matches!(job.written, Written::NotYet)
}

impl Words<'_> {
    /// `This week, 12 – 18 April`; another with its year, and with its number where the grower counts them.
    pub fn week_title(&self, monday: NaiveDate, is_this: bool) -> String {
        if is_this {
            return format!("{THIS_WEEK}, {}", days_of_week(monday, false));
        }
        let days = days_of_week(monday, true);
        match week_label(self.season, monday) {
            WeekLabel::Iso { .. } => days,
            own @ WeekLabel::Own(_) => format!("{days}, {}", week(own)),
        }
    }

    /// `nobody is there: spring break`, or `away: spring break; Jo waters`; nothing on other days.
    pub fn away_on(&self, on: NaiveDate) -> Option<String> {
        let away = self.season.away().into_iter().find(|away| away.span.contains(on))?;
        Some(match away.waters.trim() {
            "" => format!("nobody is there: {}", called(&away.name)),
            waters if away.name.trim().is_empty() => format!("away; {waters} waters"),
            waters => format!("away: {}; {waters} waters", away.name.trim()),
        })
    }

    /// `out by day, in for the night: 6 trays (Broccoli and Cabbage)`.
    pub fn carried_out(&self, trays: usize, sowings: &[SowingId]) -> String {
        let whose = self.together(sowings);
        format!("out by day, in for the night: {} ({whose})", counted(trays, "tray", "trays"))
    }

    /// `Tomato ‘Early Red’: pot on 36`.
    pub fn job(&self, job: &Job) -> String {
        format!("{}: {}", self.which(job.sowing), self.work(job))
    }

    /// `of 20 sown`: behind the number that is written down.
    pub fn how_many_could(&self, job: &Job) -> String {
        let Some(sowing) = self.season.sowing(job.sowing) else { return String::new() };
        match job.kind {
            Kind::LookIfUp(_) => {
                let cells = sowing.cells_sown().or_else(|| self.cells_to_sow(sowing));
                cells.map_or_else(String::new, |cells| format!("of {cells} sown"))
            }
            _ => format!("of {}", job.number),
        }
    }

    /// Without whose it is.
    fn work(&self, job: &Job) -> String {
        let number = job.number;
        match job.kind {
            Kind::Prepare => {
                let step = job.step.map_or("", |step| self.done_to_seed(step));
                format!("{step}, {}", self.seeds(job))
            }
            Kind::Sow => format!("sow {}", self.seeds(job)),
            Kind::Unstack => "take the stack apart, they need light".to_owned(),
            Kind::LookIfUp(UpThen::StayThere) => "are they up?".to_owned(),
            Kind::LookIfUp(UpThen::ToTheLight) => "are they up? Then to the light".to_owned(),
            Kind::LookIfUp(UpThen::OffTheHeat) => "are they up? Then off the heat, to the light".to_owned(),
            Kind::MoveOn => {
                let verb = job.step.map_or_else(|| self.verb(), |step| self.verb_into(step));
                format!("{} {number}", verb.to_do)
            }
            Kind::SpaceOut => format!("space out {number}"),
            Kind::Harden { .. } => format!("harden off {number}, out by day and in for the night"),
            Kind::FirstNightOut => format!("{number} stay out, first night"),
            Kind::PlantOut => format!("plant out {}", left(job)),
            Kind::Sell => format!("sell {}", left(job)),
        }
    }

    fn seeds(&self, job: &Job) -> String {
        let each = self.season.sowing(job.sowing).map_or(1, |sowing| sowing.seeds_per_cell);
        counted(u64::from(job.number) * u64::from(each), "seed", "seeds")
    }

    /// What stands behind it in its line.
    pub fn job_aside(&self, job: &Job) -> String {
        match &job.written {
            Written::Done(done) => return done_on(done.on),
            Written::Passed => return "not written down".to_owned(),
            Written::NotYet => {}
        }
        let mut parts = Vec::new();
        parts.extend(job.nobody_there.map(|(before, after)| match before {
            Some(before) => format!("nobody is there: {} or {}", day(before), day(after)),
            None => format!("nobody is there until {}", day(after)),
        }));
        if let Why::Bent { days } = job.why {
            let how = if days < 0 { "early" } else { "late" };
            let days = counted(days.unsigned_abs(), "day", "days");
            parts.push(format!("{days} {how}, as nobody is there on its day"));
        }
        if let (Kind::LookIfUp(_), Some((early, late))) = (job.kind, job.range) {
            parts.push(format!("{} – {}", day(early), day(late)));
        }
        parts.extend(job.may_wait_until.map(may_wait));
        if let Kind::Harden { until } = job.kind {
            parts.push(format!("until {}", day(until)));
        }
        if parts.is_empty() && !job.trays.is_empty() {
            parts.push(counted(job.trays.len(), "tray", "trays"));
        }
        parts.join("; ")
    }

    /// What is known of it, by what each line says.
    pub fn job_details(&self, job: &Job) -> Vec<(&'static str, String)> {
        let Some(sowing) = self.season.sowing(job.sowing) else { return Vec::new() };
        let mut rows = Vec::new();
        let mut row = |label, text: String| {
            if !text.is_empty() {
                rows.push((label, text));
            }
        };
        let here = job.step.map_or_else(String::new, |step| self.in_trays(sowing, step, job));
        match job.kind {
            Kind::Prepare => {
                row(SEED, job.step.map_or_else(String::new, |step| self.done_to_seed(step).to_owned()));
                row(HOW_MANY, self.seeds(job));
            }
            Kind::Sow => {
                row(INTO, here);
                row(HOW_MANY, self.cells_and_seeds(sowing, job));
                row(FOR, self.for_plants(sowing, job));
                let before = job.step.map_or("", |step| self.done_to_seed(step));
                row(SEED, before.to_owned());
            }
            Kind::MoveOn => {
                let at = sowing.steps.iter().position(|step| Some(step.id) == job.step);
                let before = at.and_then(|at| sowing.steps.get(at.checked_sub(1)?));
                row(
                    FROM,
                    before.map_or_else(String::new, |step| so_many(job.from.len(), &self.container(&step.container))),
                );
                row(INTO, here);
                row(DEPTH, job.step.and_then(|step| self.depth_in(step)).unwrap_or_default().to_owned());
                row(HOW_MANY, counted(job.number, "plant", "plants"));
            }
            Kind::Unstack | Kind::LookIfUp(_) => {
                row(IN, here);
                if let Some(up) = up_in(sowing, job) {
                    row(HOW_MANY, format!("{}, {}", counted(up, "plant", "plants"), self.how_many_could(job)));
                } else {
                    row(HOW_MANY, self.cells_and_seeds(sowing, job));
                    row(FOR, self.for_plants(sowing, job));
                }
            }
            _ => {
                row(IN, here);
                row(HOW_MANY, counted(job.number, "plant", "plants"));
            }
        }
        if let Kind::Harden { until } = job.kind {
            row(UNTIL, full_day(until));
        }
        row(THEN, next_event(self.forecast, job).map_or_else(String::new, |event| self.event(event)));
        rows
    }

    /// `16 plants, as 85 % come up`: why that many are sown.
    fn for_plants(&self, sowing: &Sowing, job: &Job) -> String {
        let of = |course: &&Course| job.lots.contains(&course.lot);
        let mut courses = self.forecast.courses_of(job.sowing).filter(of).peekable();
        let percent = courses.peek().map_or(0, |course| course.sow.germination.percent);
        let plants: u32 = courses.map(|course| course.go_out).sum();
        format!("{}, as {}", counted(plants, "plant", "plants"), come_up(percent, sowing))
    }

    /// `144 cells, 2 seeds to each`.
    fn cells_and_seeds(&self, sowing: &Sowing, job: &Job) -> String {
        let step = job.step.and_then(|id| sowing.steps.iter().find(|step| step.id == id));
        let container = step.and_then(|step| self.season.container(self.library, &step.container));
        let (one, many) = match container.map(|container| &container.kind) {
            Some(ContainerKind::Pot(_)) => ("pot", "pots"),
            Some(ContainerKind::Flat(_)) => return self.seeds(job),
            _ => ("cell", "cells"),
        };
        let cells = counted(u64::from(job.number), one, many);
        match sowing.seeds_per_cell {
            1 => format!("{cells}, a seed to each"),
            seeds => format!("{cells}, {seeds} seeds to each"),
        }
    }

    /// `2 × 72-cell plug tray`; `36 × 9 cm pot, in 2 × flat`.
    fn in_trays(&self, sowing: &Sowing, id: StepId, job: &Job) -> String {
        let Some(step) = sowing.steps.iter().find(|step| step.id == id) else { return String::new() };
        let container = self.container(&step.container);
        let kind = self.season.container(self.library, &step.container).map(|container| &container.kind);
        let trays = job.trays.len();
        match (kind, &step.carried_in) {
            (Some(ContainerKind::Pot(_)), Some(flat)) => {
                format!("{} × {container}, in {}", job.number, so_many(trays, &self.container(flat)))
            }
            (Some(ContainerKind::Pot(_)), None) => format!("{} × {container}", job.number),
            (_, Some(flat)) => format!("{} with {container}", so_many(trays, &self.container(flat))),
            (_, None) => so_many(trays, &container),
        }
    }

    /// Of one line: what can't be ticked, and why.
    pub fn why_no_box(&self, job: &Job) -> Option<String> {
        match &job.written {
            Written::Passed => Some(PASSED.to_owned()),
            Written::NotYet | Written::Done(_) => None,
        }
    }

    /// The title of the piece of work that is chosen.
    pub fn job_title(&self, job: &Job) -> String {
        capital(&self.job(job))
    }
}

/// As many as were counted when they were up.
fn up_in(sowing: &Sowing, job: &Job) -> Option<u32> {
    let of_it = |seen: &&Observation| seen.lot.is_none_or(|lot| job.lots.contains(&lot));
    let counts = sowing.seen.iter().filter(of_it).filter_map(|seen| match seen.what {
        Observed::Up { plants } => plants,
        _ => None,
    });
    counts.reduce(u32::saturating_add)
}

/// `30`, `10 of 30` where some have left.
fn left(job: &Job) -> String {
    match job.left {
        left if left == job.number || left == 0 => job.number.to_string(),
        left => format!("{left} of {}", job.number),
    }
}

fn so_many(number: usize, what: &str) -> String {
    format!("{number} × {what}")
}
