//! The window: the season drawn to scale, and everything a hand can do to it.
//!
//! The only place that uses egui. Drawing only collects `Action`s; a season changes
//! through `Do::Edit` and `Do::Nudge` alone, and by nothing else here. Has no clock: `today` is given.

mod action;
mod app;
mod asked;
mod axis;
mod carried;
mod changed;
mod derived;
mod desktop;
mod ending;
mod field_keys;
mod files;
mod glyphs;
mod how_many;
mod icon;
mod kept;
mod kept_paths;
mod kit;
mod last_frost;
mod menu;
mod new_rack;
mod notice;
mod open;
mod pages;
mod perform;
mod pictures;
mod preview;
mod scene;
mod screens;
mod shared_tray;
mod shelves;
mod shortcuts;
mod sowing;
mod space;
mod state;
mod theme;
mod tray_panel;
mod trying;
mod verdict;
mod waiting;
mod waits;
mod ways;
mod weeks;

use std::panic::resume_unwind;
use std::path::PathBuf;
use std::thread;

use chrono::NaiveDate;

use crate::words::window as words;

pub use app::App;
pub use desktop::{Answer, Desktop, Purpose, Question, Reply};

/// Why no window came up.
#[derive(Debug, thiserror::Error)]
pub enum WindowError {
    #[error("{}", words::NO_DISPLAY)]
    NoDisplay,
    #[error("{}", words::no_graphics(.0))]
    NoGraphics(String),
    #[error("{}", words::not_started(.0))]
    Start(String),
}

/// Opens the window with the season in `file`, or with the sample, and returns when it is closed.
///
/// # Errors
/// There is no display, or the graphics driver is of no use. A file that cannot be read is no
/// error here: the window says why.
pub fn run(file: Option<PathBuf>, today: NaiveDate) -> Result<(), WindowError> {
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title(words::PROGRAM)
            .with_app_id(kept::APP_ID)
            .with_icon(icon::icon())
            .with_inner_size(screens::USUAL_PT)
            .with_min_inner_size(screens::LEAST_PT),
        renderer: eframe::Renderer::Glow,
        ..Default::default()
    };
    kept::mend();
    // read while the system makes a window, which takes longer
    let opening = thread::Builder::new().name("open_season".to_owned()).spawn({
        let file = file.clone();
        move || App::opening(file, today)
    });
    let opened = eframe::run_native(
        kept::APP_ID,
        options,
        Box::new(move |cc| {
            let mut app = match opening {
                Ok(opening) => opening.join().unwrap_or_else(|fault| resume_unwind(fault)),
                Err(_) => App::opening(file, today),
            };
            app.settle_in(cc);
            Ok(Box::new(app))
        }),
    );
    opened.map_err(|why| {
        if matches!(why, eframe::Error::Winit(_) | eframe::Error::WinitEventLoop(_)) {
            return WindowError::NoDisplay;
        }
        // The rest of what this one says is for programmers.
        let said = if let eframe::Error::NoGlutinConfigs(_, why) = &why { why.to_string() } else { why.to_string() };
        if matches!(why, eframe::Error::AppCreation(_)) {
            WindowError::Start(said)
        } else {
            WindowError::NoGraphics(said)
        }
    })
}
