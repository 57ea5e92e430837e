//! The plan: what grows when, and of one sowing what is done on which day, short.

use chrono::{Datelike as _, NaiveDate};

use crate::forecast::{Course, Event, What};
use crate::outlook::Handle;
use crate::season::Sowing;

use super::{Words, counted, day, frost, full_day, plural};

pub const PAGE: &str = "Plan";
pub const GROUP: &str = "By";
pub const BY_DATE: &str = "date";
pub const BY_CROP: &str = "crop";
pub const BY_PLACE: &str = "place";
pub const WHY: &str = "Why these dates…";
pub const MORE_FIGURES: &str = "More figures…";
pub const RECORDS: &str = "What was seen…";
pub const TRAYS: &str = "Trays";
pub const CLICK_A_TRAY: &str = "A click shows where it stands on its first day";
pub const CHOOSE_ONE: &str = "Choose a sowing to see what is done when";
pub const HOW_TO_DRAG: &str = "Drag a bar to put the sowing and all that follows on other days; drag an edge for sowing, moving on, \
     hardening off or going out alone. By keys: up and down for the row, left and right for what moves, and with Shift held \
     left and right put it a day, up and down a week earlier or later. Ctrl and a click choose several.";
pub const ONLY_SHOWN: &str = "What is drawn is only shown: take it or go back first";
pub const NO_SPOT: &str = "No spot yet";
pub const ROWS: &str = "Sowings on the time axis";
pub const BACK_TO_ROWS: &str = "Back to the rows";

/// One line of what is done: `Sow`, `131 seeds in 2 trays of 72, 7 Mar`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    pub what: What,
    pub head: &'static str,
    pub text: String,
    pub date: NaiveDate,
}

/// What can be dragged, as a screen reader says it: `Moving on of tomato, 10 Apr`.
pub fn handle(handle: Handle, sowing: &str, date: NaiveDate) -> String {
    format!("{} of {sowing}, {}", handle_name(handle), day(date))
}

const fn handle_name(handle: Handle) -> &'static str {
    match handle {
        Handle::Whole => "All days",
        Handle::Sown => "Sowing",
        Handle::MovedOn(_) => "Moving on",
        Handle::Hardening => "Hardening off",
        Handle::Out => "Going out",
    }
}

/// While it is dragged: `moving on 14 Apr, 4 days later`.
pub fn dragged(of: Handle, to: NaiveDate, days: i64) -> String {
    let by = match days {
        0 => "as it was".to_owned(),
        days if days > 0 => format!("{} later", counted(days, "day", "days")),
        days => format!("{} sooner", counted(-days, "day", "days")),
    };
    format!("{}, {by}", on_its_day(of, to))
}

/// `moving on 14 Apr`.
pub fn on_its_day(of: Handle, date: NaiveDate) -> String {
    let what = match of {
        Handle::Whole => "sown".to_owned(),
        other => handle_name(other).to_lowercase(),
    };
    format!("{what} {}", day(date))
}

/// Beside the first of several that are chosen.
pub fn several(number: usize) -> String {
    format!("{number} sowings are chosen: what is dragged or moved by keys moves all of them")
}

/// `moved on 10 Apr; may wait until 26 Apr`.
pub fn may_wait(moved_on: NaiveDate, latest: Option<NaiveDate>) -> String {
    let wait = latest.filter(|latest| *latest > moved_on);
    let wait = wait.map_or_else(String::new, |latest| format!("; may wait until {}", day(latest)));
    format!("moved on {}{wait}", day(moved_on))
}

/// `5 sowings`; over a group of rows.
pub fn group(name: &str, sowings: usize) -> String {
    format!("{}, {}", super::amounts::capital(name), counted(sowings, "sowing", "sowings"))
}

/// `108 plants`.
pub fn plants(number: u32) -> String {
    format!("{number} {}", plural(u64::from(number), "plant", "plants"))
}

/// The two lines of a row: `Pepper`, and `‘Red Bell’, 36 plants`.
pub fn row_name(crop: &str, variety: &str, number: u32) -> (String, String) {
    let plain = crop.split('(').next().unwrap_or(crop).trim().to_owned();
    let variety = if variety.is_empty() { String::new() } else { format!("‘{variety}’, ") };
    (plain, format!("{variety}{}", plants(number)))
}

/// The month of a row's sowing, as the heading of its group.
pub fn month(date: NaiveDate) -> String {
    super::days::month(date)
}

pub fn batch(at: usize) -> String {
    format!("Batch {}", at + 1)
}

fn with_range(event: &Event) -> String {
    match event.range {
        Some((early, late)) if early < late => {
            let early = if early.month() == late.month() { early.day().to_string() } else { day(early) };
            format!("{} ({early} – {})", day(event.date), day(late))
        }
        _ => day(event.date),
    }
}

impl Words<'_> {
    /// What is done to a lot on which day, short.
    pub fn told(&self, sowing: &Sowing, course: &Course) -> Vec<Told> {
        course.events.iter().filter_map(|event| self.told_of(sowing, course, event)).collect()
    }

    fn told_of(&self, sowing: &Sowing, course: &Course, event: &Event) -> Option<Told> {
        let date = day(event.date);
        let (head, text) = match event.what {
            What::Prepared(_) => ("Prepare", self.event(event)),
            What::Sown => {
                let seeds = u64::from(course.sow.sure) * u64::from(sowing.seeds_per_cell);
                let seeds = format!("{seeds} {}", plural(seeds, "seed", "seeds"));
                ("Sow", format!("{seeds} in {}, {date}", self.trays_in(sowing, course, 0)))
            }
            What::Begun => ("Here", format!("{}, {date}", self.trays_in(sowing, course, 0))),
            What::Up => ("Up", with_range(event)),
            What::MovedOn(step) => {
                let at = sowing.steps.iter().position(|one| one.id == step)?;
                let verb = super::amounts::capital(self.verb_into(step).to_do);
                let head = if verb.starts_with("Pot") { "Pot on" } else { "Move on" };
                (head, format!("{date} into {}", self.trays_in(sowing, course, at)))
            }
            What::Spaced => ("Space", format!("apart from {date}")),
            What::Hardening => ("Harden", format!("from {date}")),
            What::FirstNightOut => ("Night", format!("first night out {date}")),
            What::InFlower => ("Flower", with_range(event)),
            What::Out { plants } => {
                let head = if sowing.is_to_sell() { "Sell" } else { "Out" };
                let frost = self.season.settings().frost.as_ref().filter(|_| !sowing.is_to_sell());
                let frost = frost
                    .map_or_else(String::new, |of| format!(", {}", frost::out_by_frost(event.date, of, self.unit)));
                let number = if plants == sowing.plants_wanted() { String::new() } else { format!("{plants}, ") };
                (head, format!("{number}{}{frost}", full_day(event.date)))
            }
            What::Unstacked | What::Due | What::Latest(_) | What::LeavesMeet(_) | What::GappedUp => return None,
        };
        Some(Told { what: event.what, head, text, date: event.date })
    }

    /// `2 trays of 72-cell plug tray`.
    fn trays_in(&self, sowing: &Sowing, course: &Course, at: usize) -> String {
        let Some(step) = sowing.steps.get(at) else { return String::new() };
        let trays = course.trays.iter().find(|(id, _)| *id == step.id).map_or(0, |(_, trays)| *trays);
        format!("{trays} {} of {}", plural(u64::from(trays), "tray", "trays"), self.container(&step.container))
    }
}
