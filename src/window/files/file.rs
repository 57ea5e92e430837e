//! The file of the season that is open, the dialogs asked about it, and what is kept aside.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::time::Duration;

use egui::Context;

use crate::season::{Library, Season};
use crate::store::{self, Autosave, AutosaveStatus, Home, NotKept, RealDisk, Recovery};

use crate::words::files as words;

use crate::window::action::{Action, After, Go};
use crate::window::desktop::{Answer, Desktop, NoDesktop, Purpose, Question};
use crate::window::state::ViewState;

use super::path_box::{self, PathBox, path_action};
use super::recent::file_name;

/// Nobody answers a dialog faster; what does is a dialog that never came up.
const TOO_QUICK: Duration = Duration::from_millis(300);
/// After so long, in seconds, with no answer and no other window in front, the field opens too.
const NO_DIALOG_AFTER: f64 = 2.0;
const AUTOSAVE_PAUSE: Duration = Duration::from_secs(3);

#[derive(Debug)]
struct Pending {
    purpose: Purpose,
    answer: Receiver<Answer>,
    /// Since when this window has been in front without an answer, in seconds of its clock.
    waiting_since: Option<f64>,
    /// The field was offered beside it.
    offered: bool,
}

#[derive(Debug)]
pub(in crate::window) struct Files {
    pub(in crate::window) path: Option<PathBuf>,
    /// As it is on the disk, or as it came; `None` for work that no file holds.
    saved: Option<Season>,
    unsaved: bool,
    checked_revision: u64,
    desktop: Arc<dyn Desktop>,
    pending: Option<Pending>,
    pub(super) path_box: Option<PathBox>,
    pub(in crate::window) question: Option<After>,
    pub(in crate::window) after_saving: Option<After>,
    /// What a dialog was asked with, for the field that may take its place.
    suggestion: String,
    /// The folder that a bare name in the field is in.
    pub(super) base: Option<PathBuf>,
    pub(super) recovered: Option<Recovery>,
    /// What was taken up from another run; thrown away when its season is safe.
    taken: Option<Recovery>,
    autosave: Option<Autosave>,
    autosave_failure: Option<NotKept>,
}

impl Files {
    pub(in crate::window) fn new(path: Option<PathBuf>, season: &Season) -> Self {
        Self {
            path,
            saved: Some(season.clone()),
            unsaved: false,
            checked_revision: 0,
            desktop: Arc::new(NoDesktop),
            pending: None,
            path_box: None,
            question: None,
            after_saving: None,
            suggestion: String::new(),
            base: None,
            recovered: None,
            taken: None,
            autosave: None,
            autosave_failure: None,
        }
    }

    /// Starts the autosave and looks for what a crash left; says what went wrong.
    pub(in crate::window) fn settle_in(&mut self, desktop: Arc<dyn Desktop>, library: &Library) -> Option<String> {
        self.desktop = desktop;
        // The thread writes by itself; it does not wake the window, which would paint for nothing.
        let failed = match Autosave::start(Arc::new(RealDisk), AUTOSAVE_PAUSE, || {}) {
            Ok(autosave) => {
                self.autosave = Some(autosave);
                None
            }
            Err(why) => Some(words::not_kept(&why)),
        };
        self.look_for_unsaved(library).or(failed)
    }

    /// Offers what a crash left of this season, or of one without a file.
    pub(in crate::window) fn look_for_unsaved(&mut self, library: &Library) -> Option<String> {
        self.autosave.as_ref()?;
        let found = match (&self.path, self.desktop.unsaved_folder()) {
            (Some(path), _) => store::recovery(&RealDisk, path, library),
            (None, Some(folder)) => store::unsaved(&RealDisk, &folder, library).map(|mut found| found.pop()),
            (None, None) => Ok(None),
        };
        match found {
            Ok(found) => {
                self.recovered = found;
                None
            }
            Err(why) => Some(words::found_unreadable(why)),
        }
    }

    /// Another season takes the place of this one; thread and desktop stay.
    pub(in crate::window) fn replace(&mut self, by: Self) {
        let autosave = self.autosave.take();
        *self = Self { autosave, desktop: Arc::clone(&self.desktop), ..by };
    }

    pub(in crate::window) fn desktop(&self) -> &dyn Desktop {
        &*self.desktop
    }

    pub(in crate::window) fn unsaved(&self) -> bool {
        self.unsaved
    }

    /// Recovered work is in no file: it is kept aside again at once, until it is saved or given up.
    pub(in crate::window) fn keep_recovered(&mut self, recovery: Recovery) {
        self.in_no_file(&recovery.season);
        self.taken = Some(recovery);
    }

    /// Made here and in no file: kept aside at once, and asked about before it goes.
    pub(in crate::window) fn in_no_file(&mut self, season: &Season) {
        self.saved = None;
        self.unsaved = true;
        if let (Some(autosave), Some(home)) = (&self.autosave, self.home()) {
            autosave.changed(home, season);
        }
    }

    pub(in crate::window) fn asks_something(&self) -> bool {
        self.question.is_some() || self.path_box.is_some() || self.recovered.is_some()
    }

    pub(in crate::window) fn shown_path(&self) -> String {
        self.path.as_ref().map_or_else(|| words::NOT_IN_A_FILE.to_owned(), |path| path.display().to_string())
    }

    fn home(&self) -> Option<Home> {
        let path = self.path.clone().map(Home::Beside);
        path.or_else(|| self.desktop.unsaved_folder().map(Home::Folder))
    }

    pub(in crate::window) fn season_changed(&mut self, season: &Season, revision: u64) {
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

    pub(in crate::window) fn saved(&mut self, path: PathBuf, season: &Season) {
        // The season may have had another home, or none: its autosave goes too.
        self.let_go();
        self.path_box = None;
        self.path = Some(path);
        self.saved = Some(season.clone());
        self.unsaved = false;
        self.let_go();
    }

    /// What is kept aside is not needed any more: saved, or given up on purpose.
    pub(in crate::window) fn let_go(&mut self) {
        // What is still offered is not ours to take away.
        if let (Some(autosave), Some(home), None) = (&self.autosave, self.home(), &self.recovered) {
            autosave.settled(home);
        }
        if let Some(taken) = self.taken.take() {
            store::discard(&RealDisk, &taken).ok(); // at worst it is offered once more
        }
    }

    pub(in crate::window) fn take_recovered(&mut self) -> Option<Recovery> {
        self.recovered.take()
    }

    /// It is offered again at the next start.
    pub(in crate::window) fn leave_recovered(&mut self) {
        self.recovered = None;
    }

    pub(in crate::window) fn drop_recovered(&mut self) -> Result<(), String> {
        let Some(recovery) = self.recovered.take() else { return Ok(()) };
        store::discard(&RealDisk, &recovery).map_err(|why| why.to_string())
    }

    pub(in crate::window) fn ask_what_to_open(&mut self, ctx: &Context, view: &ViewState, by_path: bool) {
        self.ask(ctx, Purpose::Open, view, String::new(), by_path);
    }

    pub(in crate::window) fn ask_where_to_save(
        &mut self,
        ctx: &Context,
        season: &Season,
        view: &ViewState,
        by_path: bool,
    ) {
        self.ask(ctx, Purpose::Save, view, file_name(season.name()), by_path);
    }

    pub(in crate::window) fn ask_for_weather(&mut self, ctx: &Context, view: &ViewState) {
        self.ask(ctx, Purpose::Weather, view, String::new(), false);
    }

    pub(in crate::window) fn ask_for_table(&mut self, ctx: &Context, view: &ViewState) {
        self.ask(ctx, Purpose::SowingTable, view, String::new(), false);
    }

    fn ask(&mut self, ctx: &Context, purpose: Purpose, view: &ViewState, name: String, by_path: bool) {
        let own = self.path.as_deref().and_then(Path::parent).filter(|folder| !folder.as_os_str().is_empty());
        let folder = own.map(Path::to_owned).or_else(|| view.last_folder.clone());
        // A full path from the start: nobody should have to ask where it went.
        let folder = folder.or_else(|| self.desktop.seasons_folder()).or_else(|| std::env::current_dir().ok());
        // A dialog shows what is there; ours is made by the first season that is saved in it.
        let there =
            folder.as_deref().and_then(|folder| folder.ancestors().find(|one| one.is_dir())).map(Path::to_owned);
        let folder = if purpose == Purpose::Save { folder } else { there.clone() };
        let own_name = self.path.as_deref().and_then(Path::file_name).filter(|_| purpose == Purpose::Save);
        let name = own_name.map_or(name, |name| name.to_string_lossy().into_owned());
        self.suggestion =
            folder.as_ref().map_or_else(|| name.clone(), |folder| folder.join(&name).display().to_string());
        self.base.clone_from(&folder);
        self.path_box = None;
        self.pending = None;
        if by_path {
            self.path_box = Some(PathBox::new(purpose, self.suggestion.clone(), None));
            return;
        }
        if let Some(why) = self.desktop.no_dialog() {
            self.fall_back(purpose, &why);
            return;
        }
        let (sender, answer) = sync_channel(1);
        let wake = ctx.clone();
        let reply = Box::new(move |answer| {
            sender.send(answer).ok(); // nobody listens once another dialog was asked for
            wake.request_repaint();
        });
        match self.desktop.ask(&Question { purpose, folder: there, name }, reply) {
            Ok(()) => {
                self.pending = Some(Pending { purpose, answer, waiting_since: None, offered: false });
                ctx.request_repaint();
            }
            Err(why) => self.fall_back(purpose, &words::dialog_not_asked(why)),
        }
    }

    /// Takes in what dialogs and the autosave have to say.
    pub(in crate::window) fn poll(&mut self, ctx: &Context, season: &Season, revision: u64, actions: &mut Vec<Action>) {
        self.season_changed(season, revision);
        if let Some(AutosaveStatus::Failed { why }) = self.autosave.as_ref().map(Autosave::status)
            && self.autosave_failure.as_ref() != Some(&why)
        {
            actions.push(Action::Go(Go::Complain(words::not_kept(&why))));
            self.autosave_failure = Some(why);
        }
        let Some(pending) = &mut self.pending else { return };
        let purpose = pending.purpose;
        match pending.answer.try_recv() {
            Ok(Answer::Chosen(path)) => {
                self.pending = None;
                self.path_box = None;
                let path = if purpose == Purpose::Save { path_box::ended(path, Path::exists) } else { path };
                actions.push(path_action(purpose, path));
            }
            Ok(Answer::Nothing { after }) if after < TOO_QUICK => {
                self.pending = None;
                self.fall_back(purpose, words::NO_DIALOG_CAME);
            }
            Ok(Answer::Nothing { .. }) => {
                self.pending = None;
                self.path_box = None;
                self.after_saving = None;
            }
            Err(TryRecvError::Disconnected) => {
                self.pending = None;
                self.fall_back(purpose, words::DIALOG_FAILED);
            }
            Err(TryRecvError::Empty) if pending.offered => {}
            Err(TryRecvError::Empty) => {
                // A dialog that came up has taken the focus.
                let (now, in_front) = ctx.input(|i| (i.time, i.focused));
                let since = *pending.waiting_since.get_or_insert(now);
                if !in_front {
                    pending.waiting_since = None;
                } else if now - since >= NO_DIALOG_AFTER {
                    pending.offered = true;
                    self.fall_back(purpose, words::IF_NO_DIALOG_CAME);
                } else {
                    ctx.request_repaint_after(Duration::from_secs_f64(NO_DIALOG_AFTER - (now - since) + 0.01));
                }
            }
        }
    }

    fn fall_back(&mut self, purpose: Purpose, why: &str) {
        self.path_box = Some(PathBox::new(purpose, self.suggestion.clone(), Some(why.to_owned())));
    }

    /// Where the path was written, if it was; else the reason comes back to be said elsewhere.
    pub(in crate::window) fn refuse(&mut self, why: String) -> Option<String> {
        match &mut self.path_box {
            Some(path_box) => {
                path_box.refuse(why);
                None
            }
            None => Some(why),
        }
    }

    pub(in crate::window) fn give_up_path(&mut self) {
        self.path_box = None;
    }

    /// Nothing that was asked before holds any longer.
    pub(in crate::window) fn ask_before(&mut self, after: After) {
        self.after_saving = None;
        self.question = Some(after);
    }
}
