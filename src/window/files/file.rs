//! The file of the season that is open, the dialogs asked about it, and what is kept aside.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, sync_channel};
use std::time::Duration;

use egui::Context;

use crate::season::{Library, Season, differences};
use crate::store::{self, Content, Elsewhere, Expected, Keeper, Loaded, RealDisk, Recovery};

use crate::words::{self as worded};
use crate::words::{files as words, menu};

use crate::window::action::{Action, After, EarlierVersion};
use crate::window::desktop::{Answer, Desktop, NoDesktop, Purpose, Question};
use crate::window::state::ViewState;

use super::kept::{Kept, full};
use super::on_disk::OnDisk;
use super::path_box::{self, PathBox, path_action};
use super::recent::file_name;
use super::wake::Waker;

/// Nobody answers a dialog faster; what does is a dialog that never came up.
const TOO_QUICK: Duration = Duration::from_millis(300);
/// After so long, in seconds, with no answer and no other window in front, the field opens too.
const NO_DIALOG_AFTER: f64 = 2.0;

#[derive(Debug)]
struct Pending {
    purpose: Purpose,
    answer: Receiver<Answer>,
    /// Since when this window has been in front without an answer, in seconds of its clock.
    waiting_since: Option<f64>,
    /// The field was offered beside it.
    offered: bool,
}

/// What has to be known before the file is written over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::window) enum Asked {
    /// And what differs there.
    Elsewhere(Elsewhere, String),
    /// Notes written by hand would be dropped.
    Comments,
}

/// Something that the season was before, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Earlier {
    pub(super) version: EarlierVersion,
    pub(super) said: String,
    /// Against the season as it is here.
    pub(super) differs: String,
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
    pub(super) kept: Kept,
    on_disk: OnDisk,
    waker: Waker,
    pub(in crate::window) asked: Option<Asked>,
    pub(super) earlier: Option<Vec<Earlier>>,
    pub(super) standing: Standing,
}

/// What is so for longer, as it is shown.
#[derive(Debug, Default)]
pub(super) struct Standing {
    /// Why unsaved work can be lost just now.
    pub(super) not_kept: Option<String>,
    pub(super) elsewhere: Option<String>,
}

impl Files {
    /// What is in the file is looked at when there is a desktop.
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
            kept: Kept::default(),
            on_disk: OnDisk::default(),
            waker: Waker::default(),
            asked: None,
            earlier: None,
            standing: Standing::default(),
        }
    }

    pub(in crate::window) fn of(path: PathBuf, loaded: &Loaded) -> Self {
        Self { on_disk: OnDisk::of(loaded), ..Self::new(Some(path), &loaded.season) }
    }

    /// Starts the autosave and looks for what a crash left; says what went wrong.
    pub(in crate::window) fn settle_in(&mut self, desktop: Arc<dyn Desktop>, library: &Library) -> Option<String> {
        self.desktop = desktop;
        let failed = self.kept.start(self.desktop.unsaved_folder(), &self.waker);
        self.on_disk.start(&self.waker);
        self.first_look();
        self.kept.look(self.path.as_deref(), false, library).or(failed)
    }

    /// Offers what a crash left of this season.
    pub(in crate::window) fn look_for_unsaved(&mut self, library: &Library) -> Option<String> {
        self.kept.look(self.path.as_deref(), true, library)
    }

    fn first_look(&mut self) {
        if let Some(path) = &self.path {
            self.on_disk.first_look(path, self.saved.as_ref());
        }
    }

    /// Another season takes the place of this one; threads and desktop stay.
    pub(in crate::window) fn replace(&mut self, by: Self) {
        self.kept.leave_offered();
        let kept = std::mem::take(&mut self.kept);
        let mut on_disk = std::mem::take(&mut self.on_disk);
        on_disk.replace(&by.on_disk);
        let (desktop, waker) = (Arc::clone(&self.desktop), self.waker.clone());
        *self = Self { desktop, kept, on_disk, waker, ..by };
    }

    pub(in crate::window) fn desktop(&self) -> &dyn Desktop {
        &*self.desktop
    }

    pub(in crate::window) fn keeper(&self) -> Option<Keeper> {
        self.kept.keeper()
    }

    pub(in crate::window) fn unsaved(&self) -> bool {
        self.unsaved || self.on_disk.elsewhere() == Some(Elsewhere::Gone)
    }

    /// A season that came from nowhere, or whose file is gone, is in no file; what of it is worth keeping is kept aside.
    pub(in crate::window) fn is_kept(&self) -> menu::Kept {
        let has_file = self.path.is_some() && self.on_disk.elsewhere() != Some(Elsewhere::Gone);
        match (has_file, self.unsaved()) {
            (true, false) => menu::Kept::InItsFile,
            (true, true) => menu::Kept::NotSaved,
            (false, unsaved) => {
                menu::Kept::InNoFile { aside: unsaved && self.keeper().is_some() && self.standing.not_kept.is_none() }
            }
        }
    }

    /// What it was when it was opened or saved last; `None` of work that no file ever held.
    pub(in crate::window) const fn as_saved(&self) -> Option<&Season> {
        self.saved.as_ref()
    }

    pub(in crate::window) fn elsewhere(&self) -> Option<Elsewhere> {
        self.on_disk.elsewhere()
    }

    /// Recovered work is in no file: it is kept again at once, until it is saved or given up.
    pub(in crate::window) fn keep_recovered(&mut self, recovery: Recovery) {
        self.in_no_file(&recovery.season);
        self.kept.took(recovery);
    }

    /// Not as in its file, or in none: kept at once, and asked about before it goes.
    pub(in crate::window) fn in_no_file(&mut self, season: &Season) {
        self.saved = None;
        self.unsaved = true;
        self.first_look();
        self.kept.changed(self.path.as_deref(), season);
    }

    pub(in crate::window) fn asks_something(&self) -> bool {
        self.question.is_some()
            || self.path_box.is_some()
            || self.asked.is_some()
            || self.earlier.is_some()
            || self.kept.offered().is_some()
    }

    pub(in crate::window) fn shown_path(&self) -> String {
        self.path.as_ref().map_or_else(String::new, |path| path.display().to_string())
    }

    pub(in crate::window) fn season_changed(&mut self, season: &Season, revision: u64) {
        if self.checked_revision == revision {
            return;
        }
        self.checked_revision = revision;
        self.unsaved = self.saved.as_ref() != Some(season);
        self.keep(season);
    }

    fn keep(&mut self, season: &Season) {
        if self.unsaved() {
            self.kept.changed(self.path.as_deref(), season);
        } else {
            self.kept.settled();
        }
    }

    /// Looks at the file; a season whose file is gone is kept.
    pub(in crate::window) fn look(&mut self, season: &Season) {
        let before = self.on_disk.elsewhere();
        if let Some(path) = &self.path {
            self.on_disk.look(path);
        }
        if self.on_disk.elsewhere() != before {
            self.keep(season);
        }
    }

    /// By whatever name.
    pub(in crate::window) fn is_own(&self, path: &Path) -> bool {
        self.path.as_deref().is_some_and(|own| full(own) == full(path))
    }

    pub(in crate::window) fn expected(&self) -> Expected {
        self.on_disk.expected()
    }

    /// Asks what has to be known before the file is written over, if anything has.
    pub(in crate::window) fn ask_before_saving(&mut self, season: &Season) -> bool {
        self.asked = match self.on_disk.elsewhere() {
            Some(elsewhere) => {
                let theirs = self.path.as_deref().and_then(|path| store::load(path).ok());
                let differs = theirs.map(|theirs| worded::differences(&differences(season, &theirs)));
                Some(Asked::Elsewhere(elsewhere, differs.unwrap_or_default()))
            }
            None if self.on_disk.own_comments => Some(Asked::Comments),
            None => None,
        };
        self.asked.is_some()
    }

    pub(in crate::window) fn saved(&mut self, path: PathBuf, season: &Season, content: Content) {
        self.path_box = None;
        self.path = Some(path);
        self.on_disk.saved(content);
        self.saved = Some(season.clone());
        self.unsaved = false;
        self.let_go();
    }

    /// What is kept is not needed any more: saved, or given up on purpose.
    pub(in crate::window) fn let_go(&mut self) {
        if self.unsaved() {
            self.kept.given_up();
        } else {
            self.kept.settled();
        }
    }

    pub(in crate::window) fn take_recovered(&mut self) -> Option<Recovery> {
        self.kept.next_offered()
    }

    /// It is offered again at the next start.
    pub(in crate::window) fn leave_recovered(&mut self) {
        drop(self.kept.next_offered());
    }

    pub(in crate::window) fn drop_recovered(&mut self) -> Result<(), String> {
        let Some(recovery) = self.kept.next_offered() else { return Ok(()) };
        recovery.throw(&RealDisk).map_err(|why| why.to_string())
    }

    /// Lists what the season in `of` was before; says why it can't.
    pub(in crate::window) fn show_earlier(&mut self, of: Option<&Path>, season: &Season) -> Option<String> {
        let versions = of.map_or(Ok(Vec::new()), |path| store::versions(&RealDisk, path));
        let path = of.map(full);
        let thrown =
            self.kept.folder().map_or(Ok(Vec::new()), |folder| store::thrown_away(&RealDisk, folder, path.as_deref()));
        let (versions, thrown) = match (versions, thrown) {
            (Ok(versions), Ok(thrown)) => (versions, thrown),
            (Err(why), _) | (_, Err(why)) => return Some(words::no_versions(why)),
        };
        let versions = versions.into_iter().map(|version| (version, false));
        let mut all: Vec<_> = versions.chain(thrown.into_iter().map(|version| (version, true))).collect();
        all.sort_by_key(|(version, _)| std::cmp::Reverse(version.at));
        let said = |(version, thrown): (store::Version, bool)| {
            let at = chrono::DateTime::<chrono::Local>::from(version.at).naive_local();
            let differs = match store::load(&version.file) {
                Ok(earlier) if earlier == *season => words::THE_SAME.to_owned(),
                Ok(earlier) => worded::differences(&differences(season, &earlier)),
                Err(why) => words::unreadable(&why),
            };
            let version = EarlierVersion { file: version.file, of: of.map(Path::to_owned) };
            Earlier { version, said: words::version_of(at, thrown), differs }
        };
        self.earlier = Some(all.into_iter().map(said).collect());
        None
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

    /// Takes in what dialogs and the disk have to say.
    pub(in crate::window) fn poll(&mut self, ctx: &Context, season: &Season, revision: u64, actions: &mut Vec<Action>) {
        self.waker.is_of(ctx);
        self.season_changed(season, revision);
        let before = self.on_disk.elsewhere();
        if self.on_disk.follow(ctx, self.path.as_deref()) && self.on_disk.elsewhere() != before {
            self.keep(season);
        }
        // Nothing moves away below a button that is down.
        if !ctx.input(|i| i.pointer.any_down()) {
            let elsewhere = self.on_disk.elsewhere().zip(self.path.as_deref());
            self.standing = Standing {
                not_kept: self.kept.failure().map(words::not_kept),
                elsewhere: elsewhere.map(|(elsewhere, path)| match elsewhere {
                    Elsewhere::Changed(_) => words::changed_elsewhere(path),
                    Elsewhere::Gone => words::is_gone(path),
                }),
            };
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

    pub(in crate::window) fn give_up_versions(&mut self) {
        self.earlier = None;
    }

    /// Nothing that was asked before holds any longer.
    pub(in crate::window) fn ask_before(&mut self, after: After) {
        self.after_saving = None;
        self.question = Some(after);
    }
}
