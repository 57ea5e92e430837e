use std::path::PathBuf;

use chrono::NaiveDate;

use crate::outlook::PoolKind;
use crate::season::{Edit, RackId, SowingId, TrayKey};

use super::files::After;
use super::state::{Fit, Page, UnitsShown};

/// What the grower asked for. Drawing only collects these; `App::perform` carries them out.
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
    /// Goes to what a problem is about, by its place in the list.
    ShowProblem(usize),
    /// Chosen when its page is next shown.
    LookAtSowing(SowingId),
    /// Shows the page where it can be changed.
    LookAtRack(RackId),
    /// One more tray, or one less.
    ChooseToo(TrayKey),
    /// These and no others.
    Choose(Vec<TrayKey>),
    /// Looks at another of those that are chosen.
    Lead(TrayKey),
    /// An edit by keys; those that follow at once are one step with it.
    Nudge(Edit),
    CopyTrays,
    /// On the shelf that was pointed at, or stepped to, last.
    PasteTrays,
    /// Draws all others faint, or none.
    Highlight(Option<SowingId>),
    ShowLater(bool),
    /// A field for the path, with no dialog of the system.
    OpenByPath,
    SaveByPath,
    /// In the folder that is ours, under the season's name; asks nothing.
    SaveInFolder,
    ForgetRecent,
    CopyText(String),
    OpenFolder(PathBuf),
    /// Asks for a weather record; what is chosen is read.
    ChooseWeather,
    ReadWeather(PathBuf),
    /// Shows the page with what was seen of it.
    LookAtRecords(SowingId),
    /// Opens the season made from this one for that year.
    OpenNextYear(i32),
    /// Asks for a table of sowings; what is chosen is read.
    ChooseTable,
    ReadTable(PathBuf),
    /// The table is not taken in.
    LeaveTable,
}
