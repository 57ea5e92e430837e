//! One sowing: all that the grower says of it.

use crate::season::{Delays, FieldId, LotId, NoLamps, Potting, StepId};

use super::refusal::field;

pub const DUPLICATE: &str = super::fields::DUPLICATE;
pub const RECORDS: &str = "Records…";
pub const RECORDS_OF_IT: &str = "Records of this sowing";
pub const REMOVE: &str = "Remove this sowing";

/// What its plants grow by, where no shelf for growing has a lamp.
pub const fn grows_by(light: NoLamps) -> &'static str {
    match light {
        NoLamps::Daylight => "It grows on by daylight alone: no shelf for growing has a lamp",
        NoLamps::Dark => "It has no light to grow by: every shelf for growing is dark",
    }
}

pub const VARIETY: &str = "Variety";
pub const NOTE: &str = super::fields::NOTE;
pub const BEGUN_ON: &str = field(FieldId::BegunOn);
pub const STAGE: &str = super::already_here::STAGE;
pub const LEAVES: &str = field(FieldId::BegunLeaves);
pub const PLANTS: &str = field(FieldId::OutPlants(0));
pub const OUT: &str = field(FieldId::OutDate(0));
/// Of a day on which plants leave that are not planted out.
pub const TO_SELL: &str = "to sell";
pub const ADD_OUT: &str = "Add a day out";
pub const GERMINATION: &str = field(FieldId::SowingGermination);
pub const LOSSES: &str = field(FieldId::SowingLosses);
pub const SEEDS: &str = field(FieldId::SeedsPerCell);
pub const HEAT: &str = "Bottom heat";
pub const HEATED: [(Option<bool>, &str); 3] = [(None, "as the crop does"), (Some(true), "yes"), (Some(false), "no")];
pub const HARDEN: &str = field(FieldId::HardenDays);
pub const STACK_DAYS: &str = field(FieldId::StackDays);
pub const STACK_HIGH: &str = field(FieldId::StackHigh);
pub const NO_STACK: &str = "none";

pub const LOTS: &str = "Batches";
pub const SHARE: &str = field(FieldId::LotShare(LotId(0)));
pub const LATER: &str = "Days later";
pub const WHAT_IS_LATER: &str = "What is later";
pub const ADD_LOT: &str = "Add a batch";

pub const KEPT_BY: &str = "date follows";
pub const OUT_KEPT_BY: &str = "Date follows";
pub const BY_DAY: &str = "the day itself";
pub const BY_FROST: &str = "weeks from the frost";
pub const BY_WEEKDAY: &str = "a weekday of a month";
pub const BY_OWN_WEEK: &str = "a week of your count";
pub const BY_ISO_WEEK: &str = "an ISO week";
pub const FROM_FROST: &str = field(FieldId::OutFrostDays(0));
pub const FROM_FROST_HINT: &str = "2, -4, 10 days";
pub const WAITS: &str = "not before the risk you take";
pub const WEEK: &str = "week";
pub const WEEK_OUT: &str = field(FieldId::OutWeek(0));
pub const WEEKDAY: &str = "Weekday out";
pub const NTH: &str = field(FieldId::OutNth(0));
pub const MONTH: &str = field(FieldId::OutMonth(0));
pub const NTHS: [(i8, &str); 6] =
    [(1, "first"), (2, "second"), (3, "third"), (4, "fourth"), (5, "fifth"), (-1, "last")];

pub const STEPS: &str = "Containers, one after the other";
pub const ADD_STEP: &str = "Add a stage";
pub const CARRIED_IN: &str = "carried in";
pub const LOOSE: &str = "loose on the shelf";
pub const PER_TRAY: &str = field(FieldId::StepPerTray(StepId(0)));
pub const BY_SIZE: &str = "by size";
pub const HERE_ALREADY: &str = "stand there already";
pub const STARTS: &str = "starts";
pub const WHEN_DUE: &str = "when due";
pub const ON_A_DATE: &str = "on a date";
pub const AFTER_SOWING: &str = "days after sowing";
pub const BEFORE_OUT: &str = "days before planting out";
pub const SLACK: &str = "round days away it may be";
pub const USUAL: &str = "usual";
/// Before the fields for days early and days late, and behind each.
pub const SLACKS: [(&str, &str); 2] =
    [(field(FieldId::StepEarly(StepId(0))), "days early,"), (field(FieldId::StepLate(StepId(0))), "days late")];

pub const SPACING: &str = "its pots stand";
pub const TIGHT: &str = "rim to rim until they go";
pub const WHEN_LEAVES_MEET: &str = "apart from the day leaves meet";
pub const SPACED_AT: &str = "apart from a day of yours";
pub const SPACED_AFTER: &str = "days after the start";
pub const PITCH: &str = field(FieldId::StepPitch(StepId(0)));

/// Where the grower says nothing.
pub const fn as_crop(spaced: bool) -> &'static str {
    if spaced { "as the crop does: apart" } else { "as the crop does: rim to rim" }
}

pub fn spacing_of(at: usize) -> String {
    format!("Spacing of step {}", at + 1)
}

/// The name of what a sowing may have several of: `Share`, `Share 2`.
pub fn which(label: &str, at: usize) -> String {
    if at == 0 { label.to_owned() } else { format!("{label} {}", at + 1) }
}

pub fn remove_out(at: usize) -> String {
    format!("Remove day out {}", at + 1)
}

pub fn remove_lot(at: usize) -> String {
    format!("Remove batch {}", at + 1)
}

pub fn step(at: usize) -> String {
    format!("Stage {}", at + 1)
}

pub fn remove_step(at: usize) -> String {
    format!("Remove stage {}", at + 1)
}

pub fn container_of(at: usize) -> String {
    format!("Container of stage {}", at + 1)
}

pub fn is_carried_in(at: usize) -> String {
    format!("Stage {} is carried in", at + 1)
}

pub fn start_of(at: usize) -> String {
    format!("Start of stage {}", at + 1)
}

pub fn date_of(at: usize) -> String {
    format!("Date of stage {}", at + 1)
}

pub fn days_of(at: usize) -> String {
    format!("Days of stage {}", at + 1)
}

/// `Plants per tray, step 2`.
pub fn of_step(label: &str, at: usize) -> String {
    format!("{label}, stage {}", at + 1)
}

/// `2` weeks, `-4`, or `10 days`.
pub fn weeks_or_days(days: i16) -> String {
    if days % 7 == 0 { (days / 7).to_string() } else { format!("{days} days") }
}

pub fn too_many(text: &str) -> String {
    format!("found {text}, which is too many")
}

pub fn no_signed_number(text: &str) -> String {
    format!("found {text:?}; write a whole number, with a minus for before")
}

/// What a batch may delay.
pub const fn delays(word: Potting) -> [(Delays, &'static str); 3] {
    let potted = match word {
        Potting::PotOn => "potted on later",
        Potting::PotUp => "potted up later",
        Potting::MoveOn => "moved on later",
    };
    [(Delays::Sowing, "sown later"), (Delays::MovingOn, potted), (Delays::Out, "planted out or sold later")]
}
