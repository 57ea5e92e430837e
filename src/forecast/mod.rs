//! From the season to its stays: who needs room, what kind, from when to when.
//!
//! Derived anew from the document each time; nothing here is stored. Says nothing about whether
//! the shelves have that room: `outlook` does.

mod again;
mod all;
mod away;
mod beside;
mod bottom_heat;
mod chances;
mod chill;
mod climate;
mod clock;
mod course;
mod dates;
mod gap_up;
mod handful;
mod hardening;
mod holding;
mod in_trays;
pub mod jobs;
mod late;
mod leaves;
mod long_stay;
mod moved;
mod next;
mod not_so;
mod past;
mod peak;
mod plan;
mod prepared;
mod problem;
mod ready;
mod records;
mod rules;
mod scenario;
mod see_to;
mod shared;
mod shared_tray;
mod sharing;
mod sown;
mod starts;
mod stay;
mod stays;
pub mod supplies;
mod to_come;
mod trial;
mod whole;
mod work_out;

pub use again::{MadeUp, Missing, Offer, Seed, missing};
pub use all::{Alike, Forecast};
pub use beside::{DateBeside, LotBeside, TraysBeside, planned_beside};
pub use chances::{Bunch, Chances};
pub use course::{Course, Event, SowCount, What, Why};
pub use gap_up::{GapUp, gap_up};
pub use holding::{container_shape, step_shape};
pub use in_trays::{Fill, InTrays, fills, in_trays};
pub use late::start_late;
pub use moved::{DatesMoved, Kept, Moved, dates_moved};
pub use next::{
    CameUp, Change, Learned, NextYear, NoNextYear, NotLearned, Rate, came_up, next_year, year_of, years_on,
};
pub use not_so::may_be_seen;
pub use peak::Peak;
pub use prepared::{Prepared, Redone};
pub use problem::{About, Cramped, Hurried, Instead, NotReady, NotSo, Problem, RoomApart, Sooner, Unlike};
pub use records::still_to_go;
pub use rules::{all_broken, broken};
pub use scenario::{Interval, Scenario};
pub use shared_tray::{FewerTrays, SharedPart, SharedTray};
pub use stay::{Growth, Heights, Inside, Needs, Phase, Shape, Stay};
pub use to_come::{Put, puts_work_away, with_the_past};
pub use trial::{Trial, trial};
pub use whole::{forecast, with_one};
pub use work_out::{drawn, frost_near, of_one};
