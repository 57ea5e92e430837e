//! The rules of the trade, one file a rule: small pure functions with formula, units, range and
//! source.
//!
//! They take what they need and nothing else; none reads a whole season.

mod again;
mod aisles;
mod before_sowing;
mod bottom_heat;
mod capacity;
mod cells;
mod climate;
mod clock;
mod footprint;
mod frost;
mod growth;
mod named_tray;
mod nearest;
mod normal;
mod open_flat;
mod pot_size;
mod quick_line;
mod ready;
mod sharing;
mod stages;
mod usual_chain;
mod weight;

pub use again::{Again, AgainError};
pub use aisles::{Doorway, FloorPlan, OnPlan};
pub use before_sowing::days_before_sowing;
pub use bottom_heat::wants_bottom_heat;
pub use capacity::{Capacity, Held, Misses, NoShelf, Turned, shelf_size};
pub use cells::{
    cell_success, cells_on_average, cells_sure, chance_of, least_rate, plants_sure, share_out, whole_trays,
};
pub use climate::{Bears, Harm, checks, coldest, mix_temperature, too_warm_above};
pub use clock::{
    Emergence, EmergenceBy, Germination, days_by_row, days_by_warmth, days_to_leaves, emergence, germinates_best,
    germination, germination_limit, mean_temperature, percent_by_row, scaled,
};
pub use footprint::{
    Block, PotsInFlat, TraysInFlat, block_of_pots, leaves_in_flat, one_block, pots_in_flat, trays_in_flat,
};
pub use frost::{
    FrostWish, Half, LastFrosts, NoFrostDate, NormalLaw, RefusedSpring, Spring, TOO_MANY_MISSING, another_risk,
    frost_from_springs, frost_from_table, frost_of_table, frost_on_own_day, is_tender, out_after_frost, out_rule,
    risk_taken, springs, with_risk,
};
pub use growth::{clear_height_needed, grown_mm};
pub use named_tray::{NamedTray, NoSuchTray, Outline, named_container, resolve};
pub use nearest::nearest;
pub use normal::normal_quantile;
pub use open_flat::plants_in_open_flat;
pub use pot_size::{SmallStep, cell_volume, frustum_ml, holds_enough, step_up};
pub use quick_line::{Amount, QuickLine, QuickLineError, find_crop};
pub use ready::{hardening_days, least_days_through, least_days_to_out, nights_from, rooting_days, safe_night};
pub use sharing::{Remainder, RowsTaken, SHARED_LEAVE_DAYS, SHARED_START_DAYS, SHARED_UP_DAYS, share_rows};
pub use stages::{
    CellClass, cell_class, days_to_stage, latest_days, may_be_stacked, sowing_weeks_before_out, weeks_until_ready,
};
pub use usual_chain::{
    UsualStep, chain_for, chain_from, chain_in, next_pot, sowing_in, usual_course_days, usual_days, usual_flat,
};
pub use weight::{WetWeight, borne, dome_height, grams_by_size, rim_height};
