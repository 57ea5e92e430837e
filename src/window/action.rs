use std::path::PathBuf;

use chrono::NaiveDate;

use crate::outlook::PoolKind;
use crate::season::{Edit, TrayKey};

use super::files::After;
use super::state::{Fit, Page, UnitsShown};

/// What the grower asked for. Drawing only collects these; `App::perform` carries them out.
#[expect(clippy::large_enum_variant, reason = "a few a frame, each moved once")]
#[derive(Clone, Debug)]
pub(super) enum Action {
    /// The only way the window changes a season.
    Edit(Edit),
    Undo,
    Redo,
    Select(Option<TrayKey>),
    /// Shows that day; the strip and the shelves follow.
    ShowDay(NaiveDate),
    ShowPool(PoolKind),
    ShowPage(Page),
    /// Goes to the worst day of a crunch and marks the trays that prove it.
    ShowCrunch(usize),
    Play(bool),
    FindSpots,
    /// Gives one tray the first spot that is free.
    FindSpotFor(TrayKey),
    StopWork,
    /// Starts the work again after it was stopped.
    WorkItOut,
    FitToView(Fit),
    Units(UnitsShown),
    Theme(egui::ThemePreference),
    InterfaceZoom(f32),
    HideHint,
    Open,
    OpenSample,
    OpenPath(PathBuf),
    Save,
    SaveAs,
    SaveTo(PathBuf),
    /// Answers to the question about unsaved changes.
    SaveThen(After),
    DontSave(After),
    /// Recovers the copy that was kept when the program last ended without saving.
    TakeRecovered,
    DropRecovered,
    LeaveRecovered,
    Close,
    /// Says at the foot of the shelves why something was not done.
    Complain(String),
    HideNotice,
    /// An empty season, and the page where it gets its shelves.
    NewSeason,
    /// A field for the path, with no dialog of the system.
    OpenByPath,
    SaveByPath,
    /// In the folder that is ours, under the season's name; asks nothing.
    SaveInFolder,
    ForgetRecent,
    CopyText(String),
    OpenFolder(PathBuf),
}
