//! The catalogue: every reason, problem, label and step name that a person reads, in one place.
//!
//! Sentence case; one sentence has no full stop. The same thing has one name in the window, the
//! file, the command line and the docs.

pub mod already_here;
mod amounts;
pub mod can_wait;
pub mod carries;
pub mod cautions;
mod cells;
mod chance;
mod changed;
pub mod commands;
pub mod containers;
pub mod crops;
mod crunches;
mod days;
pub mod days_away;
mod difference;
mod edits;
mod events;
pub mod fields;
pub mod files;
pub mod floor;
pub mod frost;
pub mod guests;
mod held;
pub mod jobs;
mod links;
mod long_stay;
pub mod map;
pub mod menu;
mod names;
mod next;
pub mod next_year;
pub mod notices;
mod out_rule;
pub mod places;
pub mod plan;
mod potting;
mod problems;
mod problems_of_room;
mod ready;
pub mod records;
mod refusal;
pub mod sharing;
pub mod shelves;
mod sources;
pub mod sowing;
pub mod sowing_table;
pub mod sowings;
mod spots;
mod standing;
pub mod start;
mod stays;
pub mod supplies;
pub mod tray;
pub mod verdict;
pub mod ways_out;
pub mod weeks;
pub mod what_if;
pub mod window;
pub mod worth_a_look;
mod would_break;

pub use amounts::{both_scales, counted, in_field, listed, measure, one_of, plural, temperature, volume};
pub use cells::as_column;
pub use chance::{but_too_full, seasons, wanted_in_most};
pub use changed::Told;
pub use crunches::{fullest, held_of, short, short_of, short_range, verdict, verdict_of};
pub use days::{
    day, every_label, full_day, moment, month_name, month_on_axis, span, week, week_code, weekday_and_day,
    weekday_name, weeks,
};
pub use difference::differences;
pub use events::stage_name;
pub use frost::{
    from_frost, frost_basis, frost_cautions, frost_risk, frost_with_basis, last_frost, last_frost_line, later_frost,
    out_by_frost, refused_spring,
};
pub use held::{by_weight_and_size, held, held_in_full, kind_held, number_held, one_more};
pub use links::Named;
pub use names::{WAITING, Words, family, with_variety};
pub use next::{change_kind, grown_name, no_next_year, own_records};
pub use out_rule::out_rule;
pub use potting::potting;
pub use problems::{problem_about, problem_kind};
pub use records::{days_apart, number_apart};
pub use refusal::{field, refusal, refusal_in};
pub use sources::{rooting_source, source};
pub use sowings::{found, quick_line_error};
pub use spots::NO_SPOT_YET;
pub use weeks::CropStands;
