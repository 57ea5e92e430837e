//! What the grower asked for. Drawing only collects these; `App::perform` carries them out.

use std::path::PathBuf;

use chrono::NaiveDate;

use crate::forecast::Problem;
use crate::forecast::jobs::Job;
use crate::outlook::PoolKind;
use crate::outlook::carries::Of;
use crate::outlook::ways_out::WayOut;
use crate::season::{CropKey, Edit, PlaceId, RackId, SowingId, TrayKey, WhatIf};

use super::axis::InView;
use super::space::Space;
use super::state::{Fit, Page, UnitsShown};

#[derive(Clone, Debug)]
pub(super) enum Action {
    Do(Do),
    Go(Go),
    File(File),
}

impl Action {
    pub(super) fn edit(edit: impl Into<Edit>) -> Self {
        Self::Do(Do::Edit(edit.into()))
    }
}

/// What is done to the season, and the work on it.
#[derive(Clone, Debug)]
pub(super) enum Do {
    /// With `Nudge` the only way the window changes a season.
    Edit(Edit),
    /// An edit by keys; those that follow at once are one step with it.
    Nudge(Edit),
    Undo,
    Redo,
    CopyTrays,
    /// On the shelf that was pointed at, or stepped to, last.
    PasteTrays,
    FindSpots,
    /// Makes the changes of a way out, and finds its trays their spots.
    TakeWay(Edit),
    /// Gives one tray the first spot that is free.
    FindSpotFor(TrayKey),
    StopWork,
    /// Starts the work again after it was stopped.
    WorkItOut,
    LookForWays,
    StopLookingForWays,
    /// Holds what might be, as it is kept, against the shelves.
    CompareWhatIfs,
    /// How long the works of one sowing can wait, or all.
    WorkOutWaits(Option<SowingId>),
    StopWaits,
    AskHowMuch(Of),
    StopAskingHowMuch,
    /// The change that is shown is made.
    TakePreview,
}

impl Do {
    /// As the window does for itself; what is shown before it is made is left alone by it.
    pub(super) const fn changes_the_season(&self) -> bool {
        !matches!(
            self,
            Self::CopyTrays
                | Self::StopWork
                | Self::WorkItOut
                | Self::LookForWays
                | Self::StopLookingForWays
                | Self::CompareWhatIfs
                | Self::WorkOutWaits(_)
                | Self::StopWaits
                | Self::AskHowMuch(_)
                | Self::StopAskingHowMuch
                | Self::TakePreview
        )
    }
}

/// What is looked at, and how.
#[derive(Clone, Debug)]
pub(super) enum Go {
    /// Shows that day; the strip and the shelves follow.
    Day(NaiveDate),
    Pool(PoolKind),
    Page(Page),
    /// To what is known of it, in the library; back leads from there to where it was asked for.
    Crop(CropKey),
    /// To how much the room carries of that crop.
    HowMuch(CropKey),
    /// To the worst day of a crunch; marks the trays that prove it.
    Crunch(usize),
    /// To what a problem is about, by its place in the list.
    Problem(usize),
    /// To the work that it is, or else to what it is about.
    SeeTo(Box<Problem>),
    /// Chosen when its page is next shown.
    Sowing(SowingId),
    /// To the line where what to grow is written, on the plan.
    WriteSowing,
    /// The page with what was seen of it.
    Records(SowingId),
    /// The same, with that piece of work to be written down next.
    WriteDown(Box<Job>),
    /// On the page of places.
    Rack(RackId),
    /// What of the room is looked at beside the shelves, to be changed.
    Space(Option<Space>),
    FromTheFront(bool),
    /// The floor of that place, from above.
    Floor(PlaceId),
    Select(Option<TrayKey>),
    /// One more tray, or one less.
    ChooseToo(TrayKey),
    /// These and no others.
    Choose(Vec<TrayKey>),
    /// Looks at another of those that are chosen.
    Lead(TrayKey),
    /// Draws all others faint, or none.
    Highlight(Option<SowingId>),
    Later(bool),
    Play(bool),
    Fit(Fit),
    Units(UnitsShown),
    Theme(egui::ThemePreference),
    Zoom(f32),
    HideHint,
    /// Shows the season as it would be with a change made.
    Preview(Box<WayOut>),
    /// The same as it might go, on the page that it is asked from; as it is where nothing is shifted.
    WhatIf(WhatIf),
    LeavePreview,
    /// The same with an edit that a hand has not let go of yet.
    TryOut(Edit),
    /// The days of the axis that are in view; all of them without any.
    Along(Option<InView>),
    /// The strip as one line.
    FoldWeeks(bool),
    /// To the form for plants that stand there already, when its page is next shown.
    AlreadyHere,
    /// Back to the room that a page was opened over.
    Back,
    /// Says at the foot of the shelves why something was not done.
    Complain(String),
    /// What was done, where the page alone doesn't show all of it.
    Say(String),
    HideNotice,
}

/// Which season is open, and what is on the disk.
#[derive(Clone, Debug)]
pub(super) enum File {
    /// An empty season, and the page where it gets its shelves.
    NewSeason,
    Open,
    /// A field for the path, with no dialog of the system.
    OpenByPath,
    OpenPath(PathBuf),
    OpenSample,
    /// The season made from this one for that year.
    OpenNextYear(i32),
    Save,
    SaveAs,
    SaveByPath,
    /// In the folder that is ours, under the season's name; asks nothing.
    SaveInFolder,
    SaveTo(PathBuf),
    /// Answers to the question about unsaved changes.
    SaveThen(After),
    DontSave(After),
    Keep(Keep),
    ForgetRecent,
    CopyText(String),
    OpenFolder(PathBuf),
    /// Asks for a weather record; what is chosen is read.
    ChooseWeather,
    ReadWeather(PathBuf),
    /// Asks for a table of sowings; what is chosen is read.
    ChooseTable,
    ReadTable(PathBuf),
    /// The table is not taken in.
    LeaveTable,
    Close,
}

/// What becomes of work that is in no file, or in another than it seemed.
#[derive(Clone, Debug)]
pub(super) enum Keep {
    /// Asks what becomes of a file that somebody else changed.
    Decide,
    /// Answers to that.
    Mine,
    Theirs,
    UnderAnotherName,
    /// Of the season that is open, or of a file that could not be.
    ShowVersions(Option<PathBuf>),
    OpenVersion(EarlierVersion),
    /// Takes up what was kept of a window that ended without saving.
    TakeRecovered,
    DropRecovered,
    LeaveRecovered,
}

/// What a season's file held before, or what was thrown away of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct EarlierVersion {
    pub(super) file: PathBuf,
    /// The season's own file, where it has one.
    pub(super) of: Option<PathBuf>,
}

/// What was asked for before unsaved changes came in between.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum After {
    Close,
    OpenSample,
    OpenPath(PathBuf),
    NewSeason,
    OpenVersion(EarlierVersion),
    /// Made from the one that is open.
    NextYear(i32),
}
