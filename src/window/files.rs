//! Which file this is, what of it is not saved, and asking for names.
//!
//! The system's dialog is asked first, off this thread. Where it fails, hangs or answers at once
//! with nothing, a plain field for the path opens and says why: nothing fails in silence.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::time::{Duration, Instant};

use egui::{Button, Context, Key, Modal, RichText, TextEdit, Ui, vec2};

use crate::season::{Library, Season};
use crate::store::{self, Autosave, AutosaveStatus, Home, RealDisk, Recovery};

use super::action::Action;
use super::state::ViewState;
use super::theme::{self, Palette};

/// Nobody answers a dialog faster; what does is a dialog that never came up.
const TOO_QUICK: Duration = Duration::from_millis(300);
/// After so long, in seconds, without an answer the field opens beside the dialog.
const NO_DIALOG_AFTER: f64 = 2.0;
const AUTOSAVE_PAUSE: Duration = Duration::from_secs(3);

/// What was asked for before unsaved changes came in between.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum After {
    Close,
    Open,
    OpenSample,
    OpenPath(PathBuf),
    NewSeason,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Purpose {
    Open,
    Save,
}

#[derive(Debug)]
struct Pending {
    purpose: Purpose,
    answer: Receiver<Answer>,
    /// In seconds of the window's clock.
    asked_at: f64,
}

#[derive(Debug)]
enum Answer {
    Chosen(PathBuf),
    Nothing { after: Duration },
}

/// The plain field for a path.
#[derive(Debug)]
struct PathBox {
    purpose: Purpose,
    text: String,
    why: Option<String>,
    focused: bool,
}

#[derive(Debug)]
pub(super) struct Files {
    pub(super) path: Option<PathBuf>,
    /// As it is on the disk, or as it came; `None` for work that no file holds.
    saved: Option<Season>,
    unsaved: bool,
    checked_revision: u64,
    /// The system's dialogs are there; tests do without.
    dialogs: bool,
    pending: Option<Pending>,
    path_box: Option<PathBox>,
    pub(super) question: Option<After>,
    pub(super) after_saving: Option<After>,
    /// What a dialog was asked with, for the field that may take its place.
    suggestion: String,
    recovered: Option<Recovery>,
    /// What was taken up from another run; thrown away when its season is safe.
    taken: Option<Recovery>,
    autosave: Option<Autosave>,
    folder: Option<PathBuf>,
    autosave_failure: Option<String>,
}

impl Files {
    pub(super) fn new(path: Option<PathBuf>, season: &Season) -> Self {
        Self {
            path,
            saved: Some(season.clone()),
            unsaved: false,
            checked_revision: 0,
            dialogs: false,
            pending: None,
            path_box: None,
            question: None,
            after_saving: None,
            suggestion: String::new(),
            recovered: None,
            taken: None,
            autosave: None,
            folder: None,
            autosave_failure: None,
        }
    }

    /// Starts the autosave and looks for what a crash left; says what went wrong.
    pub(super) fn settle_in(&mut self, library: &Library) -> Option<String> {
        self.dialogs = true;
        self.folder = eframe::storage_dir("flatwright").map(|folder| folder.join("unsaved"));
        // The thread writes by itself; it does not wake the window, which would paint for nothing.
        let failed = match Autosave::start(Arc::new(RealDisk), AUTOSAVE_PAUSE, || {}) {
            Ok(autosave) => {
                self.autosave = Some(autosave);
                None
            }
            Err(why) => Some(format!("Unsaved work is not kept: {why}")),
        };
        let found = match (&self.path, &self.folder) {
            (Some(path), _) => store::recovery(&RealDisk, path, library),
            (None, Some(folder)) => store::unsaved(&RealDisk, folder, library).map(|mut found| found.pop()),
            (None, None) => Ok(None),
        };
        match found {
            Ok(found) => self.recovered = found,
            Err(why) => return Some(format!("Unsaved work was found but cannot be read: {why}")),
        }
        failed
    }

    /// Another season takes the place of this one; thread and dialogs stay.
    pub(super) fn replace(&mut self, by: Self) {
        let autosave = self.autosave.take();
        *self = Self { autosave, dialogs: self.dialogs, folder: self.folder.take(), ..by };
    }

    pub(super) fn unsaved(&self) -> bool {
        self.unsaved
    }

    /// Recovered work is in no file: it is kept aside again at once, until it is saved or given up.
    pub(super) fn keep_recovered(&mut self, recovery: Recovery) {
        self.saved = None;
        self.unsaved = true;
        if let (Some(autosave), Some(home)) = (&self.autosave, self.home()) {
            autosave.changed(home, &recovery.season);
        }
        self.taken = Some(recovery);
    }

    pub(super) fn asks_something(&self) -> bool {
        self.question.is_some() || self.path_box.is_some() || self.recovered.is_some()
    }

    pub(super) fn shown_path(&self) -> String {
        self.path.as_ref().map_or_else(|| "not in a file yet".to_owned(), |path| path.display().to_string())
    }

    fn home(&self) -> Option<Home> {
        match (&self.path, &self.folder) {
            (Some(path), _) => Some(Home::Beside(path.clone())),
            (None, Some(folder)) => Some(Home::Folder(folder.clone())),
            (None, None) => None,
        }
    }

    pub(super) fn season_changed(&mut self, season: &Season, revision: u64) {
        if self.checked_revision == revision {
            return;
        }
        self.checked_revision = revision;
        self.unsaved = self.saved.as_ref() != Some(season);
        if let (Some(autosave), Some(home)) = (&self.autosave, self.home()) {
            if self.unsaved {
                autosave.changed(home, season);
            } else {
                autosave.settled(home);
            }
        }
    }

    pub(super) fn saved(&mut self, path: PathBuf, season: &Season) {
        // The season may have had another home, or none: its autosave goes too.
        self.let_go();
        self.path = Some(path);
        self.saved = Some(season.clone());
        self.unsaved = false;
        self.let_go();
    }

    /// What is kept aside is not needed any more: saved, or given up on purpose.
    pub(super) fn let_go(&mut self) {
        if let (Some(autosave), Some(home)) = (&self.autosave, self.home()) {
            autosave.settled(home);
        }
        if let Some(taken) = self.taken.take() {
            store::discard(&RealDisk, &taken).ok(); // at worst it is offered once more
        }
    }

    pub(super) fn take_recovered(&mut self) -> Option<Recovery> {
        self.recovered.take()
    }

    /// It is offered again at the next start.
    pub(super) fn leave_recovered(&mut self) {
        self.recovered = None;
    }

    pub(super) fn drop_recovered(&mut self) -> Result<(), String> {
        let Some(recovery) = self.recovered.take() else { return Ok(()) };
        store::discard(&RealDisk, &recovery).map_err(|why| why.to_string())
    }

    pub(super) fn ask_what_to_open(&mut self, ctx: &Context, view: &ViewState) {
        self.ask(ctx, Purpose::Open, view, String::new());
    }

    pub(super) fn ask_where_to_save(&mut self, ctx: &Context, season: &Season, view: &ViewState) {
        let name = file_name(season.name());
        self.ask(ctx, Purpose::Save, view, name);
    }

    fn ask(&mut self, ctx: &Context, purpose: Purpose, view: &ViewState, name: String) {
        let folder =
            self.path.as_deref().and_then(Path::parent).map(Path::to_owned).or_else(|| view.last_folder.clone());
        // A full path from the start: nobody should have to ask where it went.
        let folder = folder.or_else(|| std::env::current_dir().ok());
        let suggestion = match (&self.path, &folder) {
            (Some(path), _) if purpose == Purpose::Save => path.display().to_string(),
            (_, Some(folder)) => folder.join(&name).display().to_string(),
            (_, None) => name.clone(),
        };
        self.path_box = None;
        if !self.dialogs {
            self.path_box = Some(PathBox { purpose, text: suggestion, why: None, focused: false });
            return;
        }
        self.suggestion.clone_from(&suggestion);
        match spawn_dialog(ctx, purpose, folder, name) {
            Ok(answer) => {
                let asked_at = ctx.input(|i| i.time);
                self.pending = Some(Pending { purpose, answer, asked_at });
                ctx.request_repaint_after(Duration::from_secs_f64(NO_DIALOG_AFTER + 0.1));
            }
            Err(why) => {
                let why = Some(format!("The system’s dialog could not be asked: {why}"));
                self.path_box = Some(PathBox { purpose, text: suggestion, why, focused: false });
            }
        }
    }

    /// Takes in what dialogs and the autosave have to say.
    pub(super) fn poll(&mut self, ctx: &Context, season: &Season, revision: u64, actions: &mut Vec<Action>) {
        self.season_changed(season, revision);
        if let Some(AutosaveStatus::Failed { why }) = self.autosave.as_ref().map(Autosave::status)
            && self.autosave_failure.as_ref() != Some(&why)
        {
            actions.push(Action::Complain(format!("Unsaved work is not kept: {why}")));
            self.autosave_failure = Some(why);
        }
        let Some(pending) = &self.pending else { return };
        let purpose = pending.purpose;
        match pending.answer.try_recv() {
            Ok(Answer::Chosen(path)) => {
                self.pending = None;
                self.path_box = None;
                actions.push(path_action(purpose, path));
            }
            Ok(Answer::Nothing { after }) if after < TOO_QUICK => {
                self.pending = None;
                self.fall_back(purpose, "No file dialog came up on this system; type the path here");
            }
            Ok(Answer::Nothing { .. }) => {
                self.pending = None;
                self.path_box = None;
                self.after_saving = None;
            }
            Err(TryRecvError::Disconnected) => {
                self.pending = None;
                self.fall_back(purpose, "The system’s file dialog failed; type the path here");
            }
            Err(TryRecvError::Empty) => {
                if self.path_box.is_none() && ctx.input(|i| i.time) - pending.asked_at > NO_DIALOG_AFTER {
                    let why = "If no file dialog has come up by now, type the path here";
                    self.fall_back(purpose, why);
                }
            }
        }
    }

    fn fall_back(&mut self, purpose: Purpose, why: &str) {
        let text = self.suggestion.clone();
        self.path_box = Some(PathBox { purpose, text, why: Some(why.to_owned()), focused: false });
    }
}

fn file_name(season: &str) -> String {
    let name: String = season.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    format!("{}.ron", name.trim_matches('-').to_lowercase())
}

fn path_action(purpose: Purpose, path: PathBuf) -> Action {
    match purpose {
        Purpose::Open => Action::OpenPath(path),
        Purpose::Save => Action::SaveTo(path),
    }
}

/// The dialog is made on this thread, as some systems ask, and waited for on another.
fn spawn_dialog(
    ctx: &Context,
    purpose: Purpose,
    folder: Option<PathBuf>,
    name: String,
) -> std::io::Result<Receiver<Answer>> {
    let mut dialog = rfd::AsyncFileDialog::new().add_filter("Seasons", &["ron"]);
    if let Some(folder) = folder {
        dialog = dialog.set_directory(folder);
    }
    let (sender, answer) = sync_channel(1);
    let started = Instant::now();
    let wake = ctx.clone();
    let tell = move |chosen: Option<rfd::FileHandle>| {
        let answer = match chosen {
            Some(file) => Answer::Chosen(file.path().to_owned()),
            None => Answer::Nothing { after: started.elapsed() },
        };
        sender.send(answer).ok(); // nobody listens once another dialog was asked for
        wake.request_repaint();
    };
    let thread = std::thread::Builder::new().name("file dialog".to_owned());
    match purpose {
        Purpose::Open => {
            let asked = dialog.set_title("Open a season").pick_file();
            thread.spawn(move || tell(pollster::block_on(asked)))?;
        }
        Purpose::Save => {
            let asked = dialog.set_title("Save the season").set_file_name(name).save_file();
            thread.spawn(move || tell(pollster::block_on(asked)))?;
        }
    }
    Ok(answer)
}

/// Everything that has to be answered before going on.
pub(super) fn questions_ui(ui: &mut Ui, files: &mut Files, actions: &mut Vec<Action>) {
    if files.path_box.is_some() {
        path_box_ui(ui, files, actions);
    } else if files.question.is_some() {
        unsaved_ui(ui, files, actions);
    } else if let Some(recovery) = &files.recovered {
        recovery_ui(ui, recovery, files.path.is_some(), actions);
    }
}

fn modal(ui: &Ui, name: &'static str) -> Modal {
    let frame = egui::Frame::popup(ui.style()).inner_margin(18).corner_radius(4);
    Modal::new(egui::Id::unique(name)).frame(frame)
}

fn path_box_ui(ui: &mut Ui, files: &mut Files, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let Some(path_box) = &mut files.path_box else { return };
    let (title, go) = match path_box.purpose {
        Purpose::Open => ("Open a season", "Open"),
        Purpose::Save => ("Save the season", "Save"),
    };
    let mut done = None;
    let modal = modal(ui, "path box").show(ui, |ui| {
        ui.set_width(520.0);
        ui.label(RichText::new(title).font(theme::strong(16.0)));
        if let Some(why) = &path_box.why {
            ui.label(RichText::new(why).color(palette.soft_ink));
        }
        ui.add_space(6.0);
        let label = ui.label("Path of the file");
        let field = TextEdit::singleline(&mut path_box.text).desired_width(f32::INFINITY).min_size(vec2(0.0, 28.0));
        let response = ui.add(field).labelled_by(label.id);
        if !path_box.focused {
            response.request_focus();
            path_box.focused = true;
        }
        let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        let named = !path_box.text.trim().is_empty();
        ui.add_space(10.0);
        ui.horizontal(|ui| {
            let pressed = ui.add_enabled(named, Button::new(go).min_size(vec2(96.0, 30.0))).clicked();
            if pressed || (entered && named) {
                done = Some(true);
            }
            if ui.add(Button::new("Cancel").min_size(vec2(96.0, 30.0))).clicked() {
                done = Some(false);
            }
        });
    });
    if done.is_none() && modal.should_close() {
        done = Some(false);
    }
    match done {
        Some(true) => {
            let path = PathBuf::from(path_box.text.trim());
            actions.push(path_action(path_box.purpose, path));
        }
        Some(false) => files.after_saving = None,
        None => return,
    }
    files.path_box = None;
    files.pending = None;
}

fn unsaved_ui(ui: &mut Ui, files: &mut Files, actions: &mut Vec<Action>) {
    let Some(after) = files.question.clone() else { return };
    let mut done = false;
    let modal = modal(ui, "unsaved changes").show(ui, |ui| {
        ui.set_width(420.0);
        ui.label(RichText::new("Save the changes to this season?").font(theme::strong(16.0)));
        let said = match (&after, &files.path) {
            (_, Some(path)) => format!("They are not in {} yet", path.display()),
            (_, None) => "It is not in a file yet".to_owned(),
        };
        ui.label(said);
        ui.add_space(12.0);
        ui.horizontal(|ui| {
            let size = vec2(110.0, 32.0);
            if ui.add(Button::new("Save").min_size(size)).clicked() {
                actions.push(Action::SaveThen(after.clone()));
                done = true;
            }
            if ui.add(Button::new("Don’t save").min_size(size)).clicked() {
                actions.push(Action::DontSave(after.clone()));
                done = true;
            }
            if ui.add(Button::new("Cancel").min_size(size)).clicked() {
                done = true;
            }
        });
    });
    if done || modal.should_close() {
        files.question = None;
    }
}

fn recovery_ui(ui: &mut Ui, recovery: &Recovery, has_file: bool, actions: &mut Vec<Action>) {
    modal(ui, "unsaved work found").show(ui, |ui| {
        ui.set_width(460.0);
        ui.label(RichText::new("Work that was never saved was found").font(theme::strong(16.0)));
        let minutes = recovery.modified.elapsed().map_or(0, |age| age.as_secs() / 60);
        ui.label(format!("“{}”, kept {}", recovery.season.name(), ago(minutes)));
        let differs: Vec<String> = recovery.differs.iter().map(difference).collect();
        let against = if has_file { "What differs from the file" } else { "It holds" };
        ui.label(format!("{against}: {}", differs.join(", ")));
        ui.label(RichText::new(recovery.file.display().to_string()).font(theme::small()));
        ui.add_space(12.0);
        ui.horizontal(|ui| {
            let size = vec2(130.0, 32.0);
            if ui.add(Button::new("Take it up").min_size(size)).clicked() {
                actions.push(Action::TakeRecovered);
            }
            if ui.add(Button::new("Throw it away").min_size(size)).clicked() {
                actions.push(Action::DropRecovered);
            }
            // Beside a file the next change would write over it: there it has to be decided now.
            if !has_file && ui.add(Button::new("Not now").min_size(vec2(90.0, 32.0))).clicked() {
                actions.push(Action::LeaveRecovered);
            }
        });
    });
}

fn ago(minutes: u64) -> String {
    match minutes {
        0 => "less than a minute ago".to_owned(),
        1..=119 => format!("{minutes} minutes ago"),
        120..=2_879 => format!("{} hours ago", minutes / 60),
        _ => format!("{} days ago", minutes / 1_440),
    }
}

fn difference(difference: &store::Difference) -> String {
    use store::Part;
    let name = match difference.part {
        Part::Name => return "name".to_owned(),
        Part::Note => return "note".to_owned(),
        Part::Settings => return "settings".to_owned(),
        Part::Crops => "crop",
        Part::Containers => "container",
        Part::Places => "place",
        Part::Racks => "rack",
        Part::Shelves if difference.count != 1 => return format!("{} shelves", difference.count),
        Part::Shelves => "shelf",
        Part::Sowings => "sowing",
        Part::Guests => "guest",
        Part::TrayNotes => "tray note",
        Part::Spots => "spot",
    };
    super::seen::counted(difference.count, name)
}
