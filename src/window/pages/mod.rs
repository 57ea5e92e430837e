//! One page each. A page never imports a page.

pub(super) mod containers;
pub(super) mod crops;
pub(super) mod days;
pub(super) mod frost;
pub(super) mod guests;
pub(super) mod next_year;
pub(super) mod places;
pub(super) mod records;
pub(super) mod sowing_table;
pub(super) mod sowings;
pub(super) mod start;
pub(super) mod worth_a_look;
