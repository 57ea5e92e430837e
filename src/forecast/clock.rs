//! The plants' clock of one sowing: when it is up and when its leaves are due, from what was seen,
//! else from the warmth it stands in, else from the crop's days.

use chrono::NaiveDate;

use crate::season::{Crop, DayRange, Library, Observed, Season, Sowing};
use crate::trade::{self, EmergenceBy, Germination};
use crate::units::shifted;

use super::climate;
use super::course::Why;
use super::problem::Problem;
use super::records::seen;
use super::scenario::{Interval, Scenario};

/// A day of the plants' own, and what it rests on.
#[derive(Clone, Copy)]
pub(super) struct Tick {
    /// As luck has it.
    pub(super) date: NaiveDate,
    likely: NaiveDate,
    pub(super) range: Option<(NaiveDate, NaiveDate)>,
    pub(super) why: Why,
}

impl Tick {
    fn counted(from: NaiveDate, days: DayRange, drawn: u16, why: Why) -> Self {
        let date = |days: u16| shifted(from, i64::from(days));
        let range = Some((date(days.early), date(days.late)));
        Self { date: date(drawn), likely: date(days.likely), range, why }
    }

    fn later(self, days: i64) -> Self {
        let later = |date| shifted(date, days);
        let range = self.range.map(|(early, late)| (later(early), later(late)));
        Self { date: later(self.date), likely: later(self.likely), range, why: self.why }
    }

    /// The day on which the first of them may be so far.
    pub(super) fn first(&self) -> NaiveDate {
        self.range.map_or(self.date, |(early, _)| early.min(self.date))
    }

    const fn seen(date: NaiveDate) -> Self {
        Self { date, likely: date, range: None, why: Why::Seen }
    }
}

pub(super) struct Clock {
    pub(super) up: Tick,
    pub(super) due: Tick,
}

impl Clock {
    /// So many days later in all.
    pub(super) fn later(self, days: i64) -> Self {
        Self { up: self.up.later(days), due: self.due.later(days) }
    }

    pub(super) fn of(
        season: &Season,
        library: &Library,
        crop: &Crop,
        sowing: &Sowing,
        sown: NaiveDate,
        scenario: &Scenario,
        problems: &mut Vec<Problem>,
    ) -> Self {
        let up = up(season, library, crop, sowing, sown, scenario, problems);
        Self { due: due(season, crop, sowing, sown, &up, scenario), up }
    }
}

/// Days until moving on is likely to be due of what is sown that day, whatever was seen.
pub(super) fn days_to_due(season: &Season, library: &Library, crop: &Crop, sowing: &Sowing, sown: NaiveDate) -> u16 {
    let planned = Sowing { seen: Vec::new(), ..sowing.clone() };
    let clock = Clock::of(season, library, crop, &planned, sown, &Scenario::none(), &mut Vec::new());
    u16::try_from((clock.due.likely - sown).num_days()).unwrap_or(0)
}

fn up(
    season: &Season,
    library: &Library,
    crop: &Crop,
    sowing: &Sowing,
    sown: NaiveDate,
    scenario: &Scenario,
    problems: &mut Vec<Problem>,
) -> Tick {
    if let Some(date) = seen(sowing, |what| matches!(what, Observed::Up { .. })) {
        return Tick::seen(date);
    }
    // plants that stood there already are reckoned by the crop's days, both ways
    let at = if sowing.begun.is_some() { None } else { climate::of_mix(season, crop, sowing, sown) };
    let emergence = trade::emergence(crop, library, at);
    if let Some(at) = at {
        let limit = trade::germination_limit(crop, at);
        if limit.is_some() || matches!(emergence.by, EmergenceBy::Never { .. }) {
            problems.push(Problem::WontComeUp { sowing: sowing.id, at, limit });
        }
    }
    let why = match emergence.by {
        EmergenceBy::Warmth { at, base } => Why::Warmth { at, base },
        EmergenceBy::Row { at } => Why::ByTemperature { at },
        EmergenceBy::CropDays | EmergenceBy::Never { .. } => Why::CropDays,
    };
    let drawn = scenario.of(&emergence.days, &crop.key, sowing.id, Interval::Emergence);
    Tick::counted(sown, emergence.days, drawn, why)
}

/// Counted from the leaves that were seen, else from the day it is up.
fn due(season: &Season, crop: &Crop, sowing: &Sowing, sown: NaiveDate, up: &Tick, scenario: &Scenario) -> Tick {
    let moving_on = crop.moving_on.value;
    let leaves = moving_on.true_leaves.unwrap_or(0);
    let count = |from: NaiveDate, days: DayRange, why: Why| {
        Tick::counted(from, days, scenario.of(&days, &crop.key, sowing.id, Interval::Leaves), why)
    };
    let mut why = moving_on.true_leaves.map_or(Why::Age, Why::Leaves);
    let mut growing = growing_days(crop, up.why == Why::Seen);
    let at = if sowing.begun.is_some() || leaves == 0 {
        None
    } else {
        climate::growing_place(season, crop, sowing, half_grown(crop, up))
            .and_then(|place| trade::mean_temperature(&place.temperatures))
    };
    if let Some((at, likely)) = at.and_then(|at| Some((at, trade::days_to_leaves(crop, leaves, at)?))) {
        growing = trade::scaled(growing, likely);
        why = Why::LeavesByWarmth { leaves, at };
    }
    let grown = sowing.seen.iter().rev().find_map(|seen| match seen.what {
        Observed::TrueLeaves(grown) => Some((seen.date, grown)),
        _ => None,
    });
    match grown {
        Some((date, grown)) if grown >= leaves && leaves > 0 => {
            // the day on which so many leaves were first seen
            let first = sowing.seen.iter().find(|seen| matches!(seen.what, Observed::TrueLeaves(n) if n >= leaves));
            Tick::seen(first.map_or(date, |seen| seen.date))
        }
        Some((date, grown)) if leaves > 0 => {
            let left = |days: u16| {
                let (days, leaves) = (u32::from(days), u32::from(leaves));
                u16::try_from((days * (leaves - u32::from(grown))).div_ceil(leaves)).unwrap_or(u16::MAX)
            };
            count(date, growing_left(growing, left), why)
        }
        _ if up.why == Why::Seen => count(up.date, growing, why),
        // its range holds that of coming up
        _ if up.why != Why::CropDays || matches!(why, Why::LeavesByWarmth { .. }) => count(up.likely, growing, why),
        // a crop's days are known from sowing
        _ => count(sown, moving_on.days, why),
    }
}

fn growing_left(days: DayRange, left: impl Fn(u16) -> u16) -> DayRange {
    DayRange { early: left(days.early), likely: left(days.likely), late: left(days.late) }
}

/// Days from coming up until moving on is due; once it is up, without what was not sure about that.
fn growing_days(crop: &Crop, is_up: bool) -> DayRange {
    let (all, up) = (crop.moving_on.value.days, crop.emergence.value);
    let likely = all.likely.saturating_sub(up.likely);
    let (early, late) = if is_up { (up.early, up.late) } else { (up.likely, up.likely) };
    DayRange {
        early: all.early.saturating_sub(early).min(likely),
        likely,
        late: all.late.saturating_sub(late).max(likely),
    }
}

/// How many in a hundred of the sowing's seeds come up: by the packet or a record, else by the warmth they
/// stand in if they are sown that day, else by the crop's figure.
pub(super) fn germination(
    season: &Season,
    library: &Library,
    crop: &Crop,
    sowing: &Sowing,
    sown: NaiveDate,
) -> Germination {
    match sowing.germination_percent {
        Some(percent) => Germination { percent, at: None },
        None if sowing.begun.is_some() => trade::germination(crop, library, None),
        None => trade::germination(crop, library, climate::of_mix(season, crop, sowing, sown)),
    }
}

/// Half way from coming up to moving on, by the crop's days: where it stands then, it grows.
pub(super) fn half_grown(crop: &Crop, up: &Tick) -> NaiveDate {
    shifted(up.likely, i64::from(growing_days(crop, true).likely / 2))
}
