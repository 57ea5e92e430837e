//! What the grower wrote down, and how far it is from what was planned.

use chrono::NaiveDate;

use crate::forecast::{CameUp, DateBeside, GapUp, NotSo, Offer, Seed, SowCount, TraysBeside};
use crate::season::{
    FieldId, Grown, Loss, LotId, Observation, Observed, Potting, RecordId, Sight, Sowing, SowingId, Verdict,
};

use super::amounts::capital;
use super::refusal::field;
use super::{Words, counted, day, grown_name, plural, potting};

pub const PAGE: &str = "Records";
pub const NOTHING_SOWN: &str = "Nothing is sown in this season yet: there is nothing to write down";
pub const CHANGE_PLAN: &str = "Change the plan…";
pub const NEXT_YEAR: &str = super::next_year::OPEN;

pub const SEEN_SO_FAR: &str = "Seen so far";
pub const NOTHING_SEEN: &str = "Nothing yet: the plan stands as it was made";
/// Behind the number of a record.
pub const CELLS: &str = "cells";
pub const OF_THEM: &str = "of them";
pub const PLANTS: &str = "plants";
pub const UNCOUNTED: &str = "uncounted";

pub const WRITE_DOWN: &str = "Write down";
pub const WRITE_IT: &str = "Write it down";
pub const WHAT: &str = "What";
pub const WHAT_WAS_SEEN: &str = "What was seen";
pub const INTO: &str = "Into";
pub const MOVED_ON_INTO: &str = "Into which container";
pub const BATCH: &str = "Batch";
pub const WHICH_BATCH: &str = "Which batch it was";
pub const ALL_BATCHES: &str = "all of them";
pub const WHY: &str = "Why";
pub const WHY_LOST: &str = "Why they were lost";
pub const FOR_THEIR_AGE: &str = "For their age";
pub const GROWN: &str = "For their age they were";
pub const VERDICTS: [(Grown, &str); 3] = [
    (Grown::TooSmall, grown_name(Grown::TooSmall)),
    (Grown::Right, grown_name(Grown::Right)),
    (Grown::TooBig, grown_name(Grown::TooBig)),
];
pub const DAY: &str = field(FieldId::RecordDate(RecordId(0)));
pub const NOT_COUNTED: &str = "not counted";

pub const PLANNED_AND_ACTUAL: &str = "Planned and actual";
pub const NOT_SEEN_YET: &str = "What was not seen yet is as expected now";
pub const HEADS: [&str; 4] = ["", "Planned", "Actual", "Difference"];

/// A day that was seen, not reckoned.
pub const SEEN: &str = "seen";
const EXPECTED: &str = "expected";

impl Words<'_> {
    /// `up, 60 of them`, `lost 4: damping off`.
    pub fn record(&self, what: Observed) -> String {
        match what {
            Observed::Sown { cells: None } => "sown".to_owned(),
            Observed::Sown { cells: Some(cells) } => {
                format!("sown, {}", counted(cells, "cell", "cells"))
            }
            Observed::Up { plants: None } => "up".to_owned(),
            Observed::Up { plants: Some(plants) } => format!("up, {plants} of them"),
            Observed::TrueLeaves(leaves) => {
                format!("{leaves} true {}", plural(leaves, "leaf", "leaves"))
            }
            Observed::MovedOn(step) => format!("{} into {}", self.verb_into(step).done, self.step_anywhere(step)),
            Observed::Lost { plants, why } => format!("lost {plants}: {}", loss_name(why)),
            Observed::PutOut(plants) => format!("{plants} planted out"),
            Observed::Sold(plants) => format!("{plants} sold"),
            Observed::Prepared
            | Observed::Unstacked
            | Observed::SpacedOut
            | Observed::HardeningBegun
            | Observed::NightOut
            | Observed::GappedUp => plain_record(what).to_owned(),
            Observed::Grown(grown) => format!("{} for their age", grown_name(grown)),
        }
    }

    /// Without its number: what the fields of a record are known by while that is changed.
    pub fn record_kind(&self, what: Observed) -> String {
        match what {
            Observed::Sown { .. } => "sown".to_owned(),
            Observed::Up { .. } => "up".to_owned(),
            Observed::TrueLeaves(_) => "true leaves".to_owned(),
            Observed::Lost { why, .. } => format!("lost, {}", loss_name(why)),
            Observed::PutOut(_) => "planted out".to_owned(),
            Observed::Sold(_) => "sold".to_owned(),
            Observed::MovedOn(_)
            | Observed::Prepared
            | Observed::Unstacked
            | Observed::SpacedOut
            | Observed::HardeningBegun
            | Observed::NightOut
            | Observed::GappedUp
            | Observed::Grown(_) => self.record(what),
        }
    }

    /// `sown 24 Mar`; `potted on into 9 cm pot 24 Mar, batch 2`.
    pub fn record_on(&self, sowing: &Sowing, record: &Observation) -> String {
        let kind = format!("{} {}", self.record_kind(record.what), day(record.date));
        match batch_of(sowing, record.lot) {
            Some(batch) => format!("{kind}, {batch}"),
            None => kind,
        }
    }
}

/// `batch 2`, of several.
pub fn batch_of(sowing: &Sowing, lot: Option<LotId>) -> Option<String> {
    let at = sowing.lots.iter().position(|known| Some(known.id) == lot).filter(|_| sowing.lots.len() > 1)?;
    Some(format!("batch {}", at + 1))
}

/// What says nothing but that it was done.
const fn plain_record(what: Observed) -> &'static str {
    match what {
        Observed::Prepared => "seed prepared",
        Observed::Unstacked => "stack taken apart",
        Observed::SpacedOut => "spaced out",
        Observed::HardeningBegun => "hardening off begun",
        Observed::NightOut => "first night out",
        _ => "gapped up",
    }
}

/// The name of a record's day, of its number and of the button that takes it out.
pub fn day_of(record: &str) -> String {
    format!("Day: {record}")
}

pub fn how_many(record: &str) -> String {
    format!("How many: {record}")
}

pub fn remove(record: &str) -> String {
    format!("Remove: {record}")
}

/// One line of what was planned beside what became of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowBeside {
    pub what: String,
    pub planned: String,
    pub actual: String,
    /// `SEEN` or `EXPECTED`, of dates.
    pub known: &'static str,
    pub apart: String,
}

impl RowBeside {
    /// `24 Mar, seen`.
    pub fn actual_and_how(&self) -> String {
        if self.known == SEEN { format!("{}, {SEEN}", self.actual) } else { self.actual.clone() }
    }

    /// As one sentence, not cell by cell.
    pub fn said(&self) -> String {
        let Self { what, planned, actual, known, apart } = self;
        let known = if known.is_empty() { String::new() } else { format!(", {known}") };
        format!("{what}: planned {planned}, actual {actual}{known}, {apart}")
    }
}

impl Words<'_> {
    pub fn date_beside(&self, date: &DateBeside) -> RowBeside {
        let shown = |date: Option<_>| date.map_or_else(|| "–".to_owned(), day);
        let known = match (date.actual, date.seen) {
            (Some(_), true) => SEEN,
            (Some(_), false) => EXPECTED,
            (None, _) => "",
        };
        let apart = match (date.planned, date.actual) {
            (Some(planned), Some(actual)) => days_apart((actual - planned).num_days()),
            (None, _) => "not planned".to_owned(),
            (_, None) => "not any more".to_owned(),
        };
        let what = capital(&self.what_moved(date.what));
        RowBeside { what, planned: shown(date.planned), actual: shown(date.actual), known, apart }
    }

    pub fn trays_beside(&self, sowing: &Sowing, trays: &TraysBeside) -> RowBeside {
        let step = sowing.steps.iter().find(|step| step.id == trays.step);
        let container = step.map_or_else(String::new, |step| self.container(&step.container));
        RowBeside {
            what: format!("Trays of {container}"),
            planned: trays.planned.to_string(),
            actual: trays.actual.to_string(),
            known: "",
            apart: number_apart(trays.planned, trays.actual),
        }
    }

    /// What cannot have been so.
    pub(super) fn not_so(&self, sowing: SowingId, (what, on): (Observed, NaiveDate), why: NotSo) -> String {
        let why = match why {
            NotSo::ToCome => "a day that is still to come".to_owned(),
            NotSo::BeforeSown(sown) => format!("before it is sown, {}", day(sown)),
            NotSo::MoreThanSown(cells) => format!("only {cells} are sown by the plan"),
        };
        format!("{}: {} is written down for {}, {why}", self.which(sowing), self.record(what), day(on))
    }

    /// `Lettuce: lost, 6 of them, on 3 Apr: it names a batch that there is not; it counts for all of it`.
    pub(super) fn of_no_batch(&self, sowing: SowingId, on: NaiveDate, what: Observed, is_there: bool) -> String {
        let why = if is_there { "a batch, and is of the whole sowing" } else { "a batch that there is not" };
        format!("{}: {} on {} names {why}; it counts for all of it", self.which(sowing), self.record(what), day(on))
    }

    /// `Tomato: up, 60 of them`: what the edit of that record is called.
    pub fn record_of(&self, sowing: &Sowing, what: Observed) -> String {
        format!("{}: {}", self.which(sowing.id), self.record(what))
    }
}

/// `Came up: 1010 of 1152 cells, 87.7 % germination`; few seeds say little.
pub fn came_up(found: &CameUp) -> String {
    let CameUp { up, cells, rate, is_weak } = found;
    let weak = if *is_weak { "; few seeds, so this says little" } else { "" };
    format!("Came up: {up} of {cells} cells, {:.1} % germination{weak}", 100.0 * rate)
}

/// `Sown again: 12 plants, to be sown Fri 12 Mar`.
pub fn sown_again(plants: u32, starts: Option<NaiveDate>) -> String {
    let date = starts.map_or_else(String::new, |date| format!(" {}", day(date)));
    format!("Sown again: {plants} {}, to be sown{date}", plural(plants, "plant", "plants"))
}

/// `Sow 12 more on Fri 12 Mar, out Sun 16 May`.
pub fn sow_more(plants: u32, starts: Option<NaiveDate>, out: NaiveDate) -> String {
    let date = starts.map_or_else(String::new, |date| format!(" on {}", day(date)));
    format!("Sow {plants} more{date}, out {}", day(out))
}

/// How much of it: `18 of 72 came up: 216 cells on average, 325 to be sure 90 times in 100`.
pub fn how_much_seed(offer: &Offer) -> String {
    let rate = match offer.seed {
        Seed::AsPlanned => "What came up was not counted".to_owned(),
        Seed::Seen(counted) => format!("{} of {} came up", counted.up, counted.sown),
        Seed::Other => "Nothing came up: sow other seed".to_owned(),
    };
    let cells = offer.sow.map_or_else(String::new, |sow| {
        let SowCount { on_average, sure, sure_percent, germination: _ } = sow;
        let cells = counted(on_average, "cell", "cells");
        format!(": {cells} on average, {sure} to be sure {sure_percent} times in 100")
    });
    format!("{rate}{cells}")
}

/// Of a year before.
pub fn verdict_before(verdict: Verdict) -> String {
    format!("They were {}", super::next::verdict_of_year(verdict))
}

/// What moving plugs together would spare.
pub fn gap_up(offer: &GapUp) -> String {
    let GapUp { before, after, .. } = offer;
    format!("Gapped up, the plugs would fill {after} {} in place of {before}", plural(*after, "tray", "trays"))
}

pub fn gapped_up_on(date: NaiveDate) -> String {
    format!("Gapped up on {}", day(date))
}

/// What was seen, without its number.
pub const fn sight(sight: Sight, word: Potting) -> &'static str {
    match sight {
        Sight::Prepared => plain_record(Observed::Prepared),
        Sight::Unstacked => plain_record(Observed::Unstacked),
        Sight::SpacedOut => plain_record(Observed::SpacedOut),
        Sight::HardeningBegun => plain_record(Observed::HardeningBegun),
        Sight::NightOut => plain_record(Observed::NightOut),
        Sight::Sown => "sown",
        Sight::Up => "up",
        Sight::TrueLeaves => "true leaves",
        Sight::MovedOn => potting(word).done,
        Sight::Lost => "plants lost",
        Sight::GappedUp => plain_record(Observed::GappedUp),
        Sight::PutOut => "planted out",
        Sight::Sold => "sold",
        Sight::Grown => "how they turned out",
    }
}

/// What its number counts.
pub const fn sight_number(sight: Sight) -> Option<&'static str> {
    match sight {
        Sight::Sown => Some(field(FieldId::RecordSown(RecordId(0)))),
        Sight::Up => Some(field(FieldId::RecordUp(RecordId(0)))),
        Sight::TrueLeaves => Some(field(FieldId::RecordLeaves(RecordId(0)))),
        Sight::Lost | Sight::PutOut | Sight::Sold => Some(field(FieldId::RecordPlants(RecordId(0)))),
        Sight::MovedOn
        | Sight::GappedUp
        | Sight::Prepared
        | Sight::Unstacked
        | Sight::SpacedOut
        | Sight::HardeningBegun
        | Sight::NightOut
        | Sight::Grown => None,
    }
}

/// `damping off`.
pub const fn loss_name(why: Loss) -> &'static str {
    match why {
        Loss::NotKnown => "not known why",
        Loss::DampingOff => "damping off",
        Loss::TooDry => "too dry",
        Loss::TooWet => "too wet",
        Loss::Cold => "cold",
        Loss::Heat => "heat",
        Loss::Pests => "pests",
        Loss::Handling => "broken in handling",
        Loss::Surplus => "thinned or given away",
    }
}

/// `3 days later`, `as planned`.
pub fn days_apart(days: i64) -> String {
    let far = days.unsigned_abs();
    match days {
        0 => "as planned".to_owned(),
        1.. => format!("{} later", counted(far, "day", "days")),
        _ => format!("{} earlier", counted(far, "day", "days")),
    }
}

/// `12 fewer`, `as planned`.
pub fn number_apart(planned: u32, actual: u32) -> String {
    match actual.cmp(&planned) {
        std::cmp::Ordering::Less => format!("{} fewer", planned - actual),
        std::cmp::Ordering::Equal => "as planned".to_owned(),
        std::cmp::Ordering::Greater => format!("{} more", actual - planned),
    }
}
