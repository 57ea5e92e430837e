//! The season: one year's space, crops, sowings, layout and records, and every way to change them.
//!
//! Pure data: no clock, no disk, no window. [`Season::apply`] is the only way to change one, and
//! [`History`] keeps every state it had. What can be derived (stays, dates, verdicts) is not here.

mod agrees;
mod apply;
mod away;
mod container;
mod crop;
mod difference;
mod document;
mod edit;
mod frost;
mod grows_by;
mod history;
mod ids;
mod library;
mod limits;
pub mod make;
mod map;
mod matters;
mod order;
mod out_rule;
mod owners;
mod place;
mod refusal;
mod settings;
mod sight;
mod sourced;
mod sowing;
mod tray;
mod unwanted;
mod valid;
mod what_if;

pub use container::{Container, ContainerKind, Flat, Plug, Pot, RimShape};
pub use crop::{
    Chill, Crop, DayRange, GerminationTemperatures, GrowthPoint, Hardening, Hardiness, LatestWeeks, MovingOn,
    SeedLight, SettingDepth, ThermalTime, Transplants,
};
pub use difference::{Difference, Part, differences};
pub use document::Season;
pub use edit::{Edit, EditLabel, Op};
pub use frost::{Frost, FrostChance, FrostMethod};
pub use grows_by::NoLamps;
pub use history::History;
pub use ids::{
    AwayId, ContainerKey, CropKey, GuestId, LotId, PlaceId, RackId, RecordId, ShelfId, SowingId, StepId, TrayId,
};
pub use library::{ComesUp, EmergenceRow, GerminationRow, Library};
pub use map::Map;
pub use matters::{Matter, Matters};
pub use out_rule::OutRule;
pub use place::{
    Door, Floor, Light, Lit, PartOfDay, Place, Rack, Reach, Role, Shelf, Stands, Temperatures, Wall, Zone, ZoneKind,
    faces,
};
pub use refusal::{EditError, FieldId, LotName, Refusal};
pub use settings::{Away, Potting, Settings, WeekLabels};
pub use sight::Sight;
pub use sourced::{Sourced, Trust};
pub use sowing::{
    Begun, Counted, Delays, Grown, Guest, Loss, Lot, Observation, Observed, Rule, Slack, Sowing, Spaced, Spacing,
    Stack, Stage, Step, Verdict, Wanted,
};
pub use tray::{Side, Spot, SpotFrom, TrayKey, TrayNote, TrayRows};
pub use unwanted::{PlaceChange, SowingChange, Unwanted};
pub use what_if::{Shift, Shifting, WhatIf};
