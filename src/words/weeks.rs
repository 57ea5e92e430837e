//! The week strip and its headline.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::outlook::{Chance, ChanceWeek, Outlook, Verdict, Week};
use crate::season::{Away, Sowing, SowingId};

use super::amounts::capital;
use super::chance::but_too_full;
use super::days_away::called;
use super::names::pool_kind;
use super::{Words, counted, day, fullest, held_of, seasons, short_of, short_range, span, wanted_in_most, week};

pub const STOP: &str = "Stop";
pub const WORK_IT_OUT: &str = "Work it out";
pub const FIND_SPOTS: &str = "Find spots";
pub const ALL_HAVE_A_SPOT: &str = "Every tray has a spot on all its days";
pub const WHAT_FINDING_DOES: &str =
    "Looks for a spot for every tray; trays stay where they are if they can, pinned ones always";
pub const MAKE_ROOM: &str = super::ways_out::PAGE;
pub const MOST_SEASONS: &str = "8 of 10 seasons";
pub const WHAT_MOST_SEASONS_ARE: &str = "8 of 10 seasons want between these, drawn between early and late";
pub const STOPPED: &str = "Stopped: what the shelves hold is not known for this season";
pub const WORKING: &str = "Working out what the shelves hold…";
pub const NOTHING_SOWN: &str = "Nothing is sown yet";
pub const BEFORE_LAST_CHANGE: &str = "before the last change";
/// Behind the name of shelves that are short of room.
pub const SHORT: &str = "short";
pub const CRUNCH: &str = "Short of room";
pub const WORKING_ON_WEEKS: &str = "working out what the shelves hold…";
pub const NOT_WORKED_OUT: &str = "not worked out";
pub const STOP_DAYS: &str = "Stop the days";
pub const RUN_DAYS: &str = "Let the days run";
pub const FOLD: &str = "Fold the weeks to one line";
pub const UNFOLD: &str = "Show the weeks";
pub const CLOSER: &str = "Fewer days on the axis";
pub const WIDER: &str = "More days on the axis";
/// Why the axis gives no more days.
pub const ALL_SHOWN: &str = "the whole season is shown";
pub const WHOLE_SEASON: &str = "The whole season on the axis";

/// Of a button, with why it can't be pressed.
pub fn can_t(name: &str, why: &str) -> String {
    format!("{name}: {why}")
}

/// `Finding spots 40 %`.
pub fn progress(finding: bool, part: f32) -> String {
    let text = if finding { "Finding spots" } else { "Working it out" };
    format!("{text} {:.0} %", part * 100.0)
}

/// Over the week that is shown, by crop: `The week of 19 Apr: 34 on 20 Apr`.
pub fn who_fills(of: &Week) -> String {
    format!("{}: {} on {}", capital(&week(of.label)), of.needed, day(of.worst_day))
}

/// So many of a crop that week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CropStands {
    /// The family that gives it its fill.
    pub family: String,
    name: String,
    number: u32,
}

impl CropStands {
    pub const fn number(&self) -> u32 {
        self.number
    }

    /// `tomato 12`.
    pub fn text(&self) -> String {
        format!("{} {}", self.name, self.number)
    }
}

/// Where several crops share a tray.
const SHARED: &str = "shared trays";
/// What was not sown.
const NOT_SOWN: &str = "other plants";

/// What a crop is called, and its family.
type Crop<'a> = (&'a str, &'a str);

impl<'a> Words<'a> {
    /// Of each week whose they are, by crop, most first; together what is wanted.
    pub fn who_fills(&self, weeks: &[Week]) -> Vec<Vec<CropStands>> {
        let of_sowing = |sowing: &'a Sowing| {
            let crop = self.season.crop(self.library, &sowing.crop)?;
            Some((sowing.id, (crop.name.as_str(), crop.family.as_str())))
        };
        let known: BTreeMap<SowingId, Crop<'_>> = self.season.sowings().filter_map(of_sowing).collect();
        weeks.iter().map(|week| fills(week, &known)).collect()
    }
}

fn fills(of: &Week, known: &BTreeMap<SowingId, Crop<'_>>) -> Vec<CropStands> {
    let mut numbers: BTreeMap<Crop<'_>, u32> = BTreeMap::new();
    let mut order: Vec<Crop<'_>> = Vec::new();
    for stands in &of.who {
        let mut all = stands.sowings.iter().filter_map(|id| known.get(id)).copied();
        let first = all.next();
        let alike = all.all(|other| Some(other) == first);
        let crop = match first {
            None => (NOT_SOWN, ""),
            Some(one) if alike => one,
            Some(_) => (SHARED, ""),
        };
        if !numbers.contains_key(&crop) {
            order.push(crop);
        }
        let number = numbers.entry(crop).or_insert(0);
        *number = number.saturating_add(stands.number);
    }
    order.sort_by_key(|crop| std::cmp::Reverse(numbers.get(crop).copied()));
    let stands = |crop @ (name, family): Crop<'_>| {
        let number = numbers.get(&crop).copied().unwrap_or_default();
        CropStands { family: family.to_owned(), name: name.to_owned(), number }
    };
    order.into_iter().map(stands).collect()
}

pub fn leads_to_proof(reason: &str) -> String {
    format!("{reason} — shows the day, and marks the trays that prove it")
}

pub fn more(number: usize) -> String {
    format!("{number} more")
}

/// Below the crops of a week that are listed.
pub fn more_crops(number: usize) -> String {
    counted(number, "more crop", "more crops")
}

/// No crunch is known.
pub fn calm(outlook: &Outlook, chance: Option<&Chance>) -> String {
    let open = outlook.weeks.iter().filter(|week| week.verdict == Verdict::Unsettled).count();
    match outlook.verdict {
        Verdict::Fits => {
            let room = fullest(outlook).map_or_else(String::new, |fullest| match fullest.spare {
                0 => format!("; the fullest is {}, full to the last tray", week(fullest.label)),
                spare => format!("; the fullest is {}, {spare} to spare", week(fullest.label)),
            });
            format!("Fits: every tray has room on every day{room}{}", but_too_full(chance))
        }
        _ => format!("Not proven yet: neither a layout nor a proof was found for {}", counted(open, "week", "weeks")),
    }
}

pub fn with_crunch(pool: &str) -> String {
    format!("{pool} (short of room)")
}

pub fn day_shown(said: &str) -> String {
    format!("Day shown: {said}")
}

/// Over a bar of the strip.
pub fn short(of: &Week) -> String {
    short_of(of.short, of.short_at_most)
}

/// The same where there is no room for the word.
pub fn short_number(of: &Week) -> String {
    short_range(of.short, of.short_at_most)
}

pub fn held(number: u32) -> String {
    format!("room for {number}")
}

pub fn lit(number: u32) -> String {
    format!("{number} lit")
}

pub fn of_week(of: &Week, chance: Option<(&Chance, &ChanceWeek)>, is_fresh: bool) -> String {
    let what = counts(of, &with_others(of));
    let lamps = if of.over_lit > 0 { format!(", {} beyond the lamps", of.over_lit) } else { String::new() };
    let stale = if is_fresh { "" } else { " (before the last change)" };
    let chance = chance.map_or_else(String::new, |(chance, drawn)| {
        format!("; {}; too full in {}", wanted_in_most(drawn), seasons(chance, drawn))
    });
    format!("{}, worst day {}: {what}{lamps}{chance}{stale}", capital(&week(of.label)), day(of.worst_day))
}

/// `32 wanted, room for 28, 4 short`; `others` behind what is wanted.
pub(super) fn counts(of: &Week, others: &str) -> String {
    match of.verdict {
        Verdict::Crunch => {
            let held = held_of(of.needed, of.held, of.short, of.short_at_most);
            format!("{} wanted{others}, room for {held}, {}", of.needed, short_of(of.short, of.short_at_most))
        }
        Verdict::Fits => format!("{} wanted, all have room, {} to spare", of.needed, of.spare),
        Verdict::Unsettled => {
            let found = of.needed.saturating_sub(of.short_at_most);
            format!("{} wanted, room found for {found}, not proven yet", of.needed)
        }
    }
}

/// ` together with bottom heat`; nothing where the week is counted by itself.
fn with_others(of: &Week) -> String {
    let others = of.together.iter().filter(|pool| pool.kind != of.pool.kind);
    let others: Vec<_> = others.map(|pool| pool_kind(pool.kind)).collect();
    if others.is_empty() { String::new() } else { format!(" together with {}", others.join(" and ")) }
}

pub fn stands_from_to(sowing: &str, from: NaiveDate, to: NaiveDate) -> String {
    format!("{sowing} stands from {} to {}", day(from), day(to))
}

/// `Nobody there: spring break, 12 – 19 Mar; nobody waters`; `Away` where somebody waters.
pub fn nobody_there(away: &Away) -> String {
    let (is, waters) = match away.waters.trim() {
        "" => ("Nobody there", "nobody"),
        waters => ("Away", waters),
    };
    format!("{is}: {}, {}; {waters} waters", called(&away.name), span(away.span))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Works that can wait are listed with the same word, and are no crops.
    #[test]
    fn only_what_is_left_of_crops_is_called_so() {
        assert_eq!(
            (more(9), more_crops(9), more_crops(1)),
            ("9 more".into(), "9 more crops".into(), "1 more crop".into())
        );
    }
}
