//! What several pages have of sowings: the line to write one, the form for plants that stand there
//! already, and the list of them all.

mod already_here;
mod can_wait;
mod line;
mod list;
mod meaning;
mod menu;
mod show_tray;

pub(super) use already_here::{AlreadyHere, already_here_ui};
pub(super) use can_wait::can_wait_ui;
pub(super) use line::{Line, sowing_line_ui};
pub(super) use list::{Listing, listed_ui};
pub(super) use menu::sowing_menu_ui;
pub(super) use show_tray::show_tray;
