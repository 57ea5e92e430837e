//! What follows from the season: the forecast at once, the outlook from a thread of its own, and
//! then how likely each week is too full from another.

use std::num::NonZero;
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use chrono::NaiveDate;

use crate::fit::Memory;
use crate::forecast::{About, Forecast, Problem, Stay, forecast};
use crate::outlook::{
    self, Chance, Draws, Effort, Keep, Outlook, ProblemHash, Spots, Task, TaskState, look_ahead, problem_hash,
};
use crate::season::{Edit, History, Library, Op, TrayKey};
use crate::units::LengthUnit;
use crate::words::{CropStands, Words, window as said};

pub(super) struct Derived {
    today: NaiveDate,
    /// Of the season that `forecast` was made from.
    revision: Option<u64>,
    pub(super) forecast: Arc<Forecast>,
    wanted: ProblemHash,
    pub(super) outlook: Option<Outlook>,
    /// Who fills each of its weeks.
    pub(super) fills: Vec<Vec<CropStands>>,
    /// Of the layout that stands.
    pub(super) spots: Spots,
    job: Option<Task<Outlook>>,
    pub(super) stopped: bool,
    pub(super) failure: Option<String>,
    /// Held by one job at a time.
    memory: Arc<Mutex<Memory>>,
    /// "Find spots" at work: its layout is to be taken over as soon as it is there.
    finder: Option<Task<Outlook>>,
    found: Option<Outlook>,
    /// Kept until what it answers is no longer asked.
    chance: Option<Chance>,
    chances: Option<Task<Chance>>,
    /// What is asked about chance, of the season at that revision.
    chance_wanted: Option<(u64, ProblemHash)>,
    /// The draws crashed on it; once is enough.
    chance_failed: Option<ProblemHash>,
    /// Every tray has a spot on all its days, and none is in another's way.
    pub(super) layout_stands: bool,
    /// Everything worth a look; those of the shelves as soon as the outlook is there.
    pub(super) problems: Vec<Problem>,
    /// What the season was measured in.
    pub(super) unit: LengthUnit,
}

impl Derived {
    pub(super) fn new(today: NaiveDate) -> Self {
        Self {
            today,
            revision: None,
            forecast: Arc::default(),
            wanted: ProblemHash(0),
            outlook: None,
            fills: Vec::new(),
            spots: Spots::default(),
            job: None,
            stopped: false,
            failure: None,
            memory: Arc::default(),
            finder: None,
            found: None,
            chance: None,
            chances: None,
            chance_wanted: None,
            chance_failed: None,
            layout_stands: false,
            problems: Vec::new(),
            unit: LengthUnit::Inch,
        }
    }

    /// For a season that differs by a change, with what is known of this one.
    pub(super) fn of_change(&self) -> Self {
        Self { memory: Arc::clone(&self.memory), ..Self::new(self.today) }
    }

    /// Whether the last answer is one to the season as it is.
    pub(super) fn is_fresh(&self) -> bool {
        self.outlook.as_ref().is_some_and(|outlook| outlook.problem == self.wanted)
    }

    pub(super) fn progress(&self) -> Option<f32> {
        self.finder.as_ref().or(self.job.as_ref()).map(Task::progress)
    }

    /// Of the same problem, worked out while it was only shown.
    pub(super) fn take_answer(&mut self, shown: Self) {
        if self.wanted == shown.wanted && !self.is_fresh() && shown.is_fresh() {
            self.outlook = shown.outlook;
            self.fills = shown.fills;
            self.job = None;
            self.problems = shown.problems;
            self.layout_stands = shown.layout_stands;
        }
    }

    pub(super) const fn finding(&self) -> bool {
        self.finder.is_some()
    }

    /// Brings all that needs no solver up to the season; costs nothing when that is as it was.
    pub(super) fn foresee(&mut self, history: &History, library: &'static Library) {
        if self.revision == Some(history.revision()) {
            return;
        }
        self.revision = Some(history.revision());
        self.unit = history.season().length_unit();
        self.forecast = Arc::new(
            forecast(history.season(), library).without_past(self.today).with_doubts(history.season(), self.today),
        );
        let wanted = problem_hash(history.season(), &self.forecast, Keep::Pinned);
        // a layout for trays that were somewhere else must not be applied to these
        self.finder = None;
        self.found = None;
        if wanted != self.wanted {
            self.stopped = false;
            self.failure = None;
        }
        self.wanted = wanted;
        self.spots = Spots::of(history.season());
        self.look_at(history, library);
    }

    /// What was drawn before stays, until it is known what comes of this.
    pub(super) fn draw_as(&mut self, before: Self) {
        self.outlook = before.outlook;
        self.fills = before.fills;
    }

    /// The same of one that goes on.
    pub(super) fn draw_like(&mut self, before: &Self) {
        self.outlook.clone_from(&before.outlook);
        self.fills.clone_from(&before.fills);
    }

    /// Brings everything up to the season.
    pub(super) fn follow(&mut self, history: &History, library: &'static Library, ctx: &egui::Context) {
        self.foresee(history, library);
        if self.poll() {
            self.look_at(history, library);
        }
        if !self.is_fresh() && !self.stopped && self.failure.is_none() {
            self.start(history, ctx);
        } else if self.job.is_some() && self.is_fresh() {
            self.job = None;
        }
        self.draw(history, library, ctx);
    }

    fn look_at(&mut self, history: &History, library: &Library) {
        let words = Words { season: history.season(), library, forecast: &self.forecast, unit: self.unit };
        self.fills = words.who_fills(self.outlook.as_ref().map_or(&[], |outlook| &outlook.weeks));
        let outlook = self.outlook.as_ref().filter(|outlook| outlook.problem == self.wanted);
        self.problems = outlook::problems(history.season(), &self.forecast, outlook);
        self.problems.retain(|problem| !problem.is_over(self.today));
        self.layout_stands = self.stands();
    }

    /// How likely each week is too full, if that is known of the season as it is and not plain.
    pub(super) fn chance(&self) -> Option<&Chance> {
        let wanted = self.chance_wanted?.1;
        self.chance.as_ref().filter(|chance| self.is_fresh() && chance.problem == wanted)
    }

    /// Draws seasons once the outlook is there; nobody waits for it, and nothing is shown meanwhile.
    fn draw(&mut self, history: &History, library: &'static Library, ctx: &egui::Context) {
        if let Some((problem, state)) = self.chances.as_ref().and_then(|job| Some((job.problem(), job.poll()?))) {
            self.chances = None;
            match state {
                TaskState::Done(chance) => self.chance = Some(chance),
                TaskState::Cancelled => {}
                TaskState::Crashed(_) => self.chance_failed = Some(problem),
            }
        }
        if !self.is_fresh() {
            return;
        }
        let revision = history.revision();
        let known = self.chance_wanted.filter(|(of, _)| *of == revision);
        let wanted =
            known.map_or_else(|| outlook::chance_hash(history.season(), library, self.wanted), |(_, wanted)| wanted);
        self.chance_wanted = Some((revision, wanted));
        let answered = self.chance.as_ref().is_some_and(|chance| chance.problem == wanted);
        let asked = self.chances.as_ref().is_some_and(|job| job.problem() == wanted);
        if answered || asked || self.chance_failed == Some(wanted) {
            return;
        }
        let (season, wake) = (history.season().clone(), ctx.clone());
        let work = move |progress: &crate::fit::Progress, cancel: &crate::fit::Cancel| {
            let draws = Draws { threads: Some(beside_the_window()), ..Draws::default() };
            outlook::chance(&season, library, draws, wanted, progress, cancel)
        };
        let job = Task::spawn("draw_seasons", wanted, move || wake.request_repaint(), work);
        // without a thread there is no chance to show, and all else goes on
        self.chance_failed = job.is_err().then_some(wanted);
        self.chances = job.ok();
    }

    fn start(&mut self, history: &History, ctx: &egui::Context) {
        if self.job.as_ref().is_some_and(|job| job.problem() == self.wanted) {
            return;
        }
        self.job = self.spawn("look_ahead", self.wanted, Keep::Pinned, history, ctx);
    }

    /// Looks for a spot for every tray, from where they stand now.
    pub(super) fn find(&mut self, history: &History, ctx: &egui::Context) {
        let problem = problem_hash(history.season(), &self.forecast, Keep::Spots);
        self.finder = self.spawn("find_spots", problem, Keep::Spots, history, ctx);
    }

    fn spawn(
        &mut self,
        name: &str,
        problem: ProblemHash,
        keep: Keep,
        history: &History,
        ctx: &egui::Context,
    ) -> Option<Task<Outlook>> {
        let (season, forecast) = (history.season().clone(), Arc::clone(&self.forecast));
        let wake = ctx.clone();
        let memory = Arc::clone(&self.memory);
        let work = move |progress: &crate::fit::Progress, cancel: &crate::fit::Cancel| {
            let mut memory = memory.lock().unwrap_or_else(PoisonError::into_inner);
            cancel.check()?;
            look_ahead(&season, &forecast, keep, Effort::default(), &mut memory, progress, cancel)
        };
        match Task::spawn(name, problem, move || wake.request_repaint(), work) {
            Ok(job) => Some(job),
            Err(why) => {
                self.failure = Some(said::not_worked_out(why));
                None
            }
        }
    }

    /// Whether there is a new answer.
    fn poll(&mut self) -> bool {
        let mut answered = false;
        if let Some((problem, state)) = self.job.as_ref().and_then(|job| Some((job.problem(), job.poll()?))) {
            self.job = None;
            if problem == self.wanted {
                self.outlook = self.ended(state).or_else(|| self.outlook.take());
                answered = true;
            }
        }
        if let Some(state) = self.finder.as_ref().and_then(Task::poll) {
            self.finder = None;
            self.found = self.ended(state);
        }
        answered
    }

    fn ended(&mut self, state: TaskState<Outlook>) -> Option<Outlook> {
        match state {
            TaskState::Done(outlook) => return Some(outlook),
            TaskState::Cancelled => self.stopped = true,
            TaskState::Crashed(why) => self.failure = Some(said::fault_of_the_program(why)),
        }
        None
    }

    /// The layout that "Find spots" found, once; it is taken by an edit like any other.
    /// With it come the trays that have none for some of their days, those first that are without one first.
    pub(super) fn take_found(&mut self) -> Option<(Edit, Vec<TrayKey>)> {
        let outlook = self.found.take()?;
        let mut without: Vec<TrayKey> = outlook.no_spot.iter().map(|(tray, _)| *tray).collect();
        let mut told = std::collections::BTreeSet::new();
        without.retain(|tray| told.insert(*tray));
        Some((Op::SetLayout(outlook.layout).into(), without))
    }

    pub(super) fn stop(&mut self) {
        // dropping a job stops it
        if self.finder.take().is_none() && self.job.take().is_some() {
            self.stopped = true;
        }
    }

    fn stands(&self) -> bool {
        let has_spot = |stay: &Stay| self.spots.of_stay(stay, stay.span.from()).is_some();
        let of_layout = |problem: &Problem| match problem {
            Problem::TooTall { .. } => false,
            problem => matches!(problem.about(), About::Tray(_, Some(_)) | About::Shelf(_, Some(_))),
        };
        self.forecast.stays.iter().all(has_spot) && !self.problems.iter().any(of_layout)
    }

    pub(super) fn restart(&mut self) {
        self.stopped = false;
        self.failure = None;
    }
}

/// For work that nobody waits for: all but one, so that the window is drawn as quickly as ever.
fn beside_the_window() -> NonZero<usize> {
    let all = thread::available_parallelism().map_or(1, NonZero::get);
    NonZero::new(all - 1).unwrap_or(NonZero::<usize>::MIN)
}
