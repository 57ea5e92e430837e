//! What the needs mean on these shelves: verdict by day and week, crunches with their reasons, a
//! layout, and the problems of the layout that stands.
//!
//! Never a guess: a day *fits* only with a layout that `fit::check` accepted, and is a *crunch*
//! only with a proof; else it is unsettled.

mod alike_shelves;
mod answer;
mod arrangement;
mod becomes;
pub mod carries;
mod chance;
mod changed;
mod floor;
mod free_spot;
pub mod group;
mod layout;
pub mod let_go;
mod light;
mod moves;
mod on_day;
mod other_days;
mod pots;
mod problems;
mod proof;
mod question;
mod room;
mod run;
mod shortage;
pub mod slack;
mod snap;
mod spots;
mod standing;
mod stay_put;
mod task;
#[cfg(test)]
mod tests;
mod verdict;
mod view;
pub mod ways_out;
mod weeks;
mod what_if;

pub use alike_shelves::{AlikeShelves, OnEach, alike_shelves};
pub use answer::{
    Crunch, Effort, Keep, Outlook, Pool, PoolKind, ProblemHash, Reason, ShortOn, Stands, Verdict, Week, WeekLabel,
};
pub use arrangement::{Arranged, NotArranged, arrange, arrangement};
pub use becomes::{Becomes, Later, becomes};
pub use chance::{Chance, ChanceWeek, Draws, chance, chance_hash};
pub use changed::{Changed, Known, RoomLeft, Short, WeekChanged, day_to_see_to, is_same};
pub use floor::{FloorOf, RackOutline, outline};
pub use free_spot::free_spot;
pub use group::WhyNone;
pub use layout::{RectOnShelf, Spots, spot_of};
pub use let_go::LetGo;
pub use on_day::{OnDay, OnDayCount, Placed, PlacedId, carried, in_each_others_way};
pub use other_days::{Handle, handles, on_other_days};
pub use problems::{layout_problems, problems, problems_of_tray};
pub use snap::{Edges, on_grid, snaps};
pub use spots::{Counts, Landing, landing, put, turned};
pub use standing::{Obstacle, Overload, Standing, standing, without_lamp};
pub use stay_put::Settled;
pub use task::{Task, TaskState};
pub use verdict::{look_ahead, look_at_day, problem_hash};
pub use weeks::week_label;
pub use what_if::{Otherwise, otherwise, what_if_edit};
