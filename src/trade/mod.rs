//! The rules of the trade, one file a rule: small pure functions with formula, units, range and
//! source.
//!
//! They take what they need and nothing else; none reads a whole season.

mod capacity;
mod cells;
mod clock;
mod footprint;
mod frost;
mod growth;
mod named_tray;
mod nearest;
mod normal;
mod pot_size;
mod quick_line;
mod sharing;
mod stages;
mod usual_chain;
mod weight;

pub use capacity::{Capacity, Held, Misses, NoShelf, Turned, shelf_size};
pub use cells::{cell_success, cells_on_average, cells_sure, least_rate, share_out, whole_trays};
pub use clock::{
    Emergence, EmergenceBy, days_by_row, days_by_warmth, days_to_leaves, emergence, germination_limit,
    mean_temperature, scaled,
};
pub use footprint::{Block, PotsInFlat, TraysInFlat, block_of_pots, one_block, pots_in_flat, trays_in_flat};
pub use frost::{
    FrostWish, Half, LastFrosts, NoFrostDate, NormalLaw, RefusedSpring, Spring, TOO_MANY_MISSING, another_risk,
    frost_from_springs, frost_from_table, frost_of_table, frost_on_own_day, is_tender, out_after_frost, out_rule,
    risk_taken, springs, with_risk,
};
pub use growth::{clear_height_needed, grown_mm};
pub use named_tray::{NamedTray, NoSuchTray, Outline, resolve};
pub use nearest::nearest;
pub use normal::normal_quantile;
pub use pot_size::{SmallStep, cell_volume, frustum_ml, holds_enough, step_up};
pub use quick_line::{QuickLine, QuickLineError, find_crop};
pub use sharing::{Remainder, RowsTaken, SHARED_LEAVE_DAYS, SHARED_START_DAYS, SHARED_UP_DAYS, share_rows};
pub use stages::{CellClass, cell_class, days_to_stage, latest_weeks, sowing_weeks_before_out, wants_bottom_heat};
pub use usual_chain::{UsualStep, chain_for, chain_from, sowing_in};
pub use weight::wet_grams;
