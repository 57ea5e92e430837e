//! The verdict at the top right, in the season's own words.

use chrono::NaiveDate;

use crate::outlook::{Chance, Outlook, Verdict, Week};

use super::chance::but_too_full;
use super::{Words, counted, day, fullest, short_range, span, week};

pub const WORKING: &str = "Working it out…";
pub const STOPPED: &str = "Stopped: not known";
pub const NOT_KNOWN: &str = "Could not be worked out";
pub const NOTHING_YET: &str = "Nothing is sown yet";
/// Over what else there is to see to.
pub const ALSO: &str = "Also worth a look";
pub const ALL_OF_IT: &str = "All that is worth a look…";
pub const LOOKING: &str = "Looking for ways out…";
/// What a click on it does, for a screen reader.
pub const OPENS: &str = "what is short, why, and what else is worth a look";

/// What is beside the cheapest: `Or: Put up another shelf …`.
pub fn or(change: &str) -> String {
    format!("Or: {change}")
}

/// `3 ways out`.
pub fn ways(number: usize) -> String {
    match number {
        0 => "no single change is enough".to_owned(),
        number => counted(number, "way out", "ways out"),
    }
}

/// `5 more things`.
pub fn and_more(number: usize) -> String {
    format!("{} …", counted(number, "more thing", "more things"))
}

/// `5 more things are worth a look…`, where none is listed.
pub fn worth_a_look(number: usize) -> String {
    format!("{} worth a look…", counted(number, "more thing is", "more things are"))
}

/// `Working it out… 40 %`.
pub fn working(part: f32) -> String {
    format!("{WORKING} {:.0} %", part * 100.0)
}

impl Words<'_> {
    /// `4 trays short, 16 Apr – 2 May`; where other days are short before, `Short first on 10 Apr, most 19 Apr – 2 May: 5
    /// trays`; `Fits, 3 trays to spare in the week of 10 May`, unless it often does not.
    pub fn short_verdict(&self, outlook: &Outlook, chance: Option<&Chance>) -> String {
        match outlook.verdict {
            Verdict::Crunch => outlook.worst().map_or_else(String::new, |(at, crunch)| {
                let (least, most) = (crunch.short, crunch.short_at_most);
                let trays = if (least, most) == (1, 1) { "tray" } else { "trays" };
                let first = outlook.crunches.first().filter(|_| at > 0).map(|first| first.span.from());
                let later = once_more(outlook.crunches.len().saturating_sub(at + 1));
                let trays = format!("{} {trays}", short_range(least, most));
                format!("{}{later}", at_worst(first, &span(crunch.span), &trays))
            }),
            Verdict::Fits if !but_too_full(chance).is_empty() => format!("Fits{}", but_too_full(chance)),
            Verdict::Fits => fullest(outlook).map_or_else(|| "Fits".to_owned(), fits_with),
            Verdict::Unsettled => {
                let open = outlook.weeks.iter().filter(|week| week.verdict == Verdict::Unsettled).count();
                format!("Not proven for {}", counted(open, "week", "weeks"))
            }
        }
    }
}

/// `Fits, 3 trays to spare in the week of 10 May`.
fn fits_with(fullest: &Week) -> String {
    let spare = match fullest.spare {
        0 => "full to the last tray".to_owned(),
        spare => format!("{} to spare", counted(spare, "tray", "trays")),
    };
    format!("Fits, {spare} in {}", week(fullest.label))
}

/// How short on its worst days, and since when, where it is short before them.
fn at_worst(first: Option<NaiveDate>, worst: &str, trays: &str) -> String {
    match first {
        None => format!("{trays} short, {worst}"),
        Some(first) => format!("Short first on {}, most {worst}: {trays}", day(first)),
    }
}

/// `, and once more later`: how often after the worst time.
fn once_more(later: usize) -> String {
    match later {
        0 => String::new(),
        1 => ", and once more later".to_owned(),
        later => format!(", and {later} times more later"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_day_that_is_short_is_not_the_first_of_the_worst() {
        let april = NaiveDate::from_ymd_opt(2027, 4, 10);
        for (first, said) in
            [(None, "5 trays short, 19 Apr – 2 May"), (april, "Short first on 10 Apr, most 19 Apr – 2 May: 5 trays")]
        {
            assert_eq!(at_worst(first, "19 Apr – 2 May", "5 trays"), said);
        }
    }

    #[test]
    fn other_times_are_said_to_be_later() {
        for (later, said) in [(0, ""), (1, ", and once more later"), (2, ", and 2 times more later")] {
            assert_eq!(once_more(later), said);
        }
    }
}
