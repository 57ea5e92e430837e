//! What the needs mean on these shelves: verdict by day and week, crunches with their reasons, a
//! layout, and the problems of the layout that stands.
//!
//! Never a guess: a day *fits* only with a layout that `fit::check` accepted, and is a *crunch*
//! only with a proof; else it is unsettled.

mod answer;
mod chance;
mod layout;
mod problems;
mod proof;
mod question;
mod room;
mod run;
mod standing;
mod task;
mod verdict;
mod view;
mod weeks;

pub use answer::{Crunch, Effort, Keep, Outlook, Pool, PoolKind, ProblemHash, Reason, Verdict, Week, WeekLabel};
pub use chance::{Chance, ChanceWeek, Draws, chance, chance_hash};
pub use layout::spot_of;
pub use problems::{layout_problems, problems};
pub use standing::{Obstacle, Standing, standing};
pub use task::{Task, TaskState};
pub use verdict::{look_ahead, problem_hash};
pub use weeks::week_label;
