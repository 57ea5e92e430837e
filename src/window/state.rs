//! What the window knows beside the document.
//!
//! [`ViewState`] is kept between starts; selection and gestures are gone when done. None of it is
//! in a season file, and none of it can be undone.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use egui::emath::TSTransform;
use serde::{Deserialize, Serialize};

use crate::season::{Role, TrayKey};
use crate::units::LengthUnit;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) enum Page {
    #[default]
    Shelves,
    Sowings,
    Places,
    Start,
    WorthALook,
    Guests,
    Containers,
    Crops,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) enum UnitsShown {
    Millimetres,
    #[default]
    Inches,
}

impl UnitsShown {
    pub(super) const fn length_unit(self) -> LengthUnit {
        match self {
            Self::Millimetres => LengthUnit::Millimetre,
            Self::Inches => LengthUnit::Inch,
        }
    }
}

/// Kept in eframe's storage.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct ViewState {
    pub(super) page: Page,
    pub(super) units: UnitsShown,
    pub(super) theme: Option<egui::ThemePreference>,
    pub(super) hint_hidden: bool,
    /// Where the last file was, so that the next dialog opens there.
    pub(super) last_folder: Option<std::path::PathBuf>,
}

/// A tray as it stands on the day shown: hardening trays may have one spot by day, one by night.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Standing {
    pub(super) tray: TrayKey,
    pub(super) role: Role,
}

/// What is looked at; dropped when it is gone from the season.
#[derive(Clone, Debug, Default)]
pub(super) struct Selection {
    pub(super) tray: Option<TrayKey>,
    /// The trays that prove the crunch last asked about.
    pub(super) marked: BTreeSet<TrayKey>,
}

/// What the hand is doing; the document hears of it only when it is done.
#[derive(Clone, Debug, Default)]
pub(super) enum Gesture {
    #[default]
    None,
    InHand(InHand),
}

/// A tray in the hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct InHand {
    pub(super) standing: Standing,
    /// Where it is held, from its corner as it lies in the hand, in millimetres.
    pub(super) grab_mm: egui::Vec2,
    pub(super) quarter_turns: u8,
}

/// What is to be brought into view.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fit {
    /// Where plants grow on, as large as it goes.
    Growing,
    All,
}

/// How the board is seen.
#[derive(Clone, Copy, Debug)]
pub(super) struct BoardView {
    /// Points on the screen from millimetres on the board; `None` until the first fit.
    pub(super) screen_from_board: Option<TSTransform>,
    pub(super) fit_wanted: Option<Fit>,
    /// Where the shelves are drawn, and where those without a spot wait, on the screen.
    pub(super) pane: egui::Rect,
    pub(super) waiting: egui::Rect,
}

/// The day that is shown, and whether it runs on by itself.
#[derive(Clone, Copy, Debug)]
pub(super) struct DayShown {
    pub(super) day: NaiveDate,
    pub(super) playing: bool,
    /// When the next step is due, in seconds of the window's clock.
    pub(super) next_step_at: f64,
}

impl Default for BoardView {
    fn default() -> Self {
        Self { screen_from_board: None, fit_wanted: None, pane: egui::Rect::NOTHING, waiting: egui::Rect::NOTHING }
    }
}
