//! A season that is open, with all that belongs to it and to no other.
//!
//! Another season is another value: nothing of the last one is left because nobody thought of it.
//! What outlives a season (how things are shown, the library, the day, the desktop) is the
//! `App`'s.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::forecast::Problem;
use crate::outlook::ways_out::WayOut;
use crate::outlook::{Otherwise, PoolKind, what_if_edit};
use crate::season::{Edit, History, Library, Role, Season, WhatIf};
use crate::units::{DateSpan, LengthUnit};
use crate::words::{self, Words};

use super::asked::Asked;
use super::axis::{Axis, InView};
use super::carried::Carried;
use super::changed::Awaited;
use super::derived::Derived;
use super::kit::Drafts;
use super::notice::Notice;
use super::pages::Pages;
use super::scene::Scene;
use super::state::{BoardView, DayShown, Gesture, Page, Selection};
use super::trying::{Ground, Tried, Trying};
use super::waits::Waits;
use super::ways::{Preview, Shown, Ways};

/// A day takes so long while they run by themselves, in seconds.
const DAY_RUNS: f64 = 0.16;

pub(super) struct Open {
    /// What day it is, as the program was told when it started.
    today: NaiveDate,
    pub(super) history: History,
    pub(super) derived: Derived,
    pub(super) ways: Ways,
    /// Of the what-ifs that are kept, in their order; `None` where the season does not take one.
    pub(super) what_ifs: Asked<u64, Vec<Option<Otherwise>>>,
    pub(super) waits: Waits,
    pub(super) carried: Carried,
    /// Shown in place of the season, until it is taken or left.
    pub(super) preview: Option<Box<Preview>>,
    pub(super) trying: Trying,
    pub(super) pages: Pages,
    pub(super) drafts: Drafts,
    pub(super) selection: Selection,
    pub(super) gesture: Gesture,
    pub(super) shown: DayShown,
    pub(super) board: BoardView,
    /// The days of the axis that are in view, where not all are.
    pub(super) in_view: Option<InView>,
    /// As it was chosen; the one that is shown is `pool_shown`.
    pub(super) pool: PoolKind,
    /// Moves count from the day shown on, not in place of the spot that counts then.
    pub(super) from_day: bool,
    /// When trays were last nudged, and what the season was afterwards.
    pub(super) nudged: Option<(f64, u64)>,
    /// The season as it was when a way out had been taken, until its trays have their spots.
    pub(super) way_taken: Option<u64>,
    pub(super) notice: Option<Notice>,
    /// An edit of which it isn't said yet what it changed.
    pub(super) awaited: Option<Awaited>,
    /// What the last edit brought of all that is worth a look.
    pub(super) brought: Vec<Problem>,
    /// Why the file asked for could not be opened; nothing else is shown then.
    pub(super) trouble: Option<String>,
    /// Opened out of season: shows this day until the crunch is known, if nobody has moved on.
    waits_on: Option<NaiveDate>,
}

impl Open {
    pub(super) fn new(season: Season, today: NaiveDate) -> Self {
        Self {
            today,
            history: History::new(season),
            derived: Derived::new(today),
            ways: Ways::default(),
            what_ifs: Asked::default(),
            waits: Waits::default(),
            carried: Carried::default(),
            preview: None,
            trying: Trying::default(),
            pages: Pages::default(),
            drafts: Drafts::default(),
            selection: Selection::default(),
            gesture: Gesture::None,
            shown: DayShown { day: today, playing: false, next_step_at: 0.0 },
            board: BoardView::default(),
            in_view: None,
            pool: PoolKind::Of(Role::Growing),
            from_day: false,
            nudged: None,
            way_taken: None,
            notice: None,
            awaited: None,
            brought: Vec::new(),
            trouble: None,
            waits_on: None,
        }
    }

    /// Without a season: the one asked for could not be read.
    pub(super) fn in_trouble(why: String, today: NaiveDate) -> Self {
        Self { trouble: Some(why), ..Self::new(Season::new(words::window::NO_SEASON), today) }
    }

    /// Brings the forecast up to the season, and the day that is shown with the first.
    pub(super) fn foresee(&mut self, library: &'static Library) {
        let nothing_before = self.derived.forecast.span().is_none();
        self.derived.foresee(&self.history, library);
        if nothing_before {
            self.first_day();
        }
    }

    /// Brings all that is derived up to the season, and what it is looked at through with it.
    pub(super) fn follow(&mut self, library: &'static Library, ctx: &egui::Context) {
        self.foresee(library);
        self.derived.follow(&self.history, library, ctx);
        let revision = self.history.revision();
        self.ways.poll(|of| *of == revision);
        self.what_ifs.poll(|of| *of == revision);
        self.waits.poll(revision);
        self.carried.asked.poll(|(_, of)| *of == revision);
        self.take_tried(library, ctx);
        // while the hand moves on, nobody waits for what the shelves say to the days before
        if let Some(preview) = self.preview.as_mut().filter(|_| !self.trying.is_working()) {
            preview.derived.follow(&preview.history, library, ctx);
        }
        if self.waits_on.is_some() {
            self.show_the_crunch();
        }
    }

    /// The same after an edit: what was looked at may be gone.
    pub(super) fn changed(&mut self, library: &'static Library, ctx: &egui::Context) {
        self.follow(library, ctx);
        let forecast = &self.derived.forecast;
        // a proof is one about the season as it was
        self.selection.marked.clear();
        self.selection.keep(|tray| forecast.marks.contains_key(tray));
        self.selection.space = self.selection.space.filter(|space| space.is_there(self.history.season()));
        self.selection.sowing = self.selection.sowing.filter(|id| self.history.season().sowing(*id).is_some());
    }

    /// The first forecast shows where the season lies; a day outside of it would show nothing.
    fn first_day(&mut self) {
        if let Some(span) = self.derived.forecast.span()
            && !span.contains(self.shown.day)
        {
            self.shown.day = self.shown.day.clamp(span.from(), span.last());
            self.waits_on = Some(self.shown.day);
        }
    }

    /// Out of season no day is today: the worst one says most.
    fn show_the_crunch(&mut self) {
        let Some(outlook) = self.derived.outlook.as_ref().filter(|_| self.derived.is_fresh()) else { return };
        if self.waits_on.take() == Some(self.shown.day)
            && let Some((_, crunch)) = outlook.worst()
        {
            let day = crunch.worst_day;
            self.show_day(day);
        }
    }

    /// The pool chosen while there is one of its kind; else the growing shelves, or the first there is.
    pub(super) fn pool_shown(&self) -> PoolKind {
        let weeks = self.looked_at().1.outlook.iter().flat_map(|outlook| &outlook.weeks);
        let kinds: BTreeSet<PoolKind> = weeks.map(|week| week.pool.kind).collect();
        let wanted = [self.pool, PoolKind::Of(Role::Growing)].into_iter().find(|kind| kinds.contains(kind));
        wanted.or_else(|| kinds.first().copied()).unwrap_or(self.pool)
    }

    /// Shows the season as it would be with that change made.
    pub(super) fn show_first(&mut self, way: Box<WayOut>) {
        let edit = way.edit.clone();
        self.preview = self.with(Shown::Way(way), edit);
    }

    /// Shows the season itself again; says which page it was shown from.
    pub(super) fn leave_preview(&mut self) -> Option<Page> {
        self.trying.take();
        match self.preview.take()?.shown {
            Shown::WhatIf(_) => Some(Page::WhatIf),
            Shown::Way(_) => Some(Page::MakeRoom),
            Shown::ByHand => None,
        }
    }

    /// Shows the season as it might go; as it is where nothing is shifted.
    pub(super) fn might_go(&mut self, what_if: WhatIf, library: &'static Library) {
        let Ok(edit) = what_if_edit(self.history.season(), library, &what_if, Some(self.today)) else {
            self.notice = Some(Notice::complaint(words::what_if::NOT_POSSIBLE.to_owned()));
            return;
        };
        if edit.ops.is_empty() {
            self.preview = None;
            return;
        }
        let shown = Shown::WhatIf(what_if);
        let is_one = |preview: &Preview| matches!(preview.shown, Shown::WhatIf(_));
        let turned = match self.preview.as_mut().filter(|preview| is_one(preview)) {
            Some(preview) => preview.turn_to(shown.clone(), edit.clone()),
            None => false,
        };
        if !turned {
            self.preview = self.with(shown, edit);
        }
    }

    fn with(&self, shown: Shown, edit: Edit) -> Option<Box<Preview>> {
        Preview::of(shown, edit, &self.history, self.derived.of_change()).map(Box::new)
    }

    /// Shows what comes of an edit while a hand still holds it, as soon as that is worked out.
    pub(super) fn try_out(&mut self, edit: Edit, library: &'static Library, ctx: &egui::Context) {
        let Self { trying, history, derived, .. } = self;
        trying.ask(edit, &Ground { season: history.season(), library, derived }, ctx);
    }

    fn take_tried(&mut self, library: &'static Library, ctx: &egui::Context) {
        let Self { trying, history, derived, .. } = self;
        let ground = Ground { season: history.season(), library, derived };
        let Some(then) = trying.poll(&ground, ctx) else { return };
        let before = self.preview.take().filter(|preview| matches!(preview.shown, Shown::ByHand));
        if let Tried::Known(mut then) = then {
            // what is drawn stays until it is known what comes of it
            match before {
                Some(before) => then.derived.draw_as(before.derived),
                None => then.derived.draw_like(&self.derived),
            }
            self.preview = Some(then);
        }
    }

    /// The axis across a window between those edges; of the season itself, so that it lies still while something is
    /// shown that may be.
    pub(super) fn axis(&self, window: egui::Rangef) -> Option<Axis> {
        let outlook = self.derived.outlook.as_ref();
        Axis::of(&self.derived.forecast, outlook, self.in_view, window)
    }

    /// Shows that day, and brings it into view on the axis.
    pub(super) fn show_day(&mut self, day: NaiveDate) {
        self.shown.day = day;
        // the width is of no account here: only which days are in view
        if let (Some(_), Some(axis)) = (self.in_view, self.axis(egui::Rangef::new(0.0, 1_000.0))) {
            self.in_view = Some(axis.with(day));
        }
    }

    pub(super) fn run_days(&mut self, ctx: &egui::Context) {
        if !self.shown.playing {
            return;
        }
        let now = ctx.input(|i| i.time);
        if now >= self.shown.next_step_at {
            let end = self.derived.forecast.span().map(DateSpan::last);
            match self.shown.day.succ_opt().filter(|day| end.is_some_and(|end| *day <= end)) {
                Some(day) => self.show_day(day),
                None => self.shown.playing = false,
            }
            self.shown.next_step_at = now + DAY_RUNS;
        }
        if self.shown.playing {
            ctx.request_repaint_after(std::time::Duration::from_secs_f64(DAY_RUNS));
        }
    }

    /// Whether the window has to look now and then how far something is.
    pub(super) fn is_working(&self) -> bool {
        let shown = self.preview.as_ref().and_then(|shown| shown.derived.progress());
        let asked =
            [self.ways.progress(), self.what_ifs.progress(), self.waits.progress(), self.carried.asked.progress()];
        self.derived.progress().or(shown).is_some() || asked.iter().any(Option::is_some)
    }

    /// What is shown: the season, or what it would be.
    pub(super) fn looked_at(&self) -> (&History, &Derived) {
        self.preview.as_ref().map_or((&self.history, &self.derived), |shown| (&shown.history, &shown.derived))
    }

    pub(super) fn scene(&self, library: &'static Library, unit: LengthUnit) -> Scene<'_> {
        let (history, derived) = self.looked_at();
        let waits = self.preview.is_none().then_some(&self.waits);
        let days = (self.shown.day, self.today, self.from_day);
        let scene = scene(history, derived, &self.selection, days, (library, unit));
        Scene { waits, ..scene }
    }

    /// What drawing may read, apart from what it may change.
    pub(super) fn parts(&mut self, library: &'static Library, unit: LengthUnit) -> (Scene<'_>, Parts<'_>) {
        let pool = self.pool_shown();
        let Self {
            today,
            history,
            derived,
            ways,
            what_ifs,
            waits,
            carried,
            preview,
            pages,
            drafts,
            selection,
            gesture,
            shown,
            board,
            from_day,
            notice,
            brought,
            trouble,
            ..
        } = self;
        let preview = preview.as_deref();
        let planned = (&*history, &*derived);
        let (history, derived) = preview.map_or((&*history, &*derived), |shown| (&shown.history, &shown.derived));
        let scene = scene(history, derived, selection, (shown.day, *today, *from_day), (library, unit));
        let scene = Scene { waits: preview.is_none().then_some(&*waits), ..scene };
        let parts = Parts {
            history,
            derived,
            planned,
            ways,
            what_ifs,
            carried,
            preview,
            shown,
            pool,
            notice: notice.as_ref(),
            brought,
            trouble: trouble.as_deref(),
            pages,
            drafts,
            board,
            gesture,
            from_day,
        };
        (scene, parts)
    }

    pub(super) fn words(&self, library: &'static Library, unit: LengthUnit) -> Words<'_> {
        let (history, derived) = self.looked_at();
        Words { season: history.season(), library, forecast: &derived.forecast, unit }
    }
}

/// Of a season that is open, what the scene does not say.
pub(super) struct Parts<'a> {
    pub(super) history: &'a History,
    pub(super) derived: &'a Derived,
    /// The season itself, whatever is shown.
    pub(super) planned: (&'a History, &'a Derived),
    pub(super) ways: &'a Ways,
    pub(super) what_ifs: &'a Asked<u64, Vec<Option<Otherwise>>>,
    pub(super) carried: &'a Carried,
    pub(super) preview: Option<&'a Preview>,
    pub(super) shown: &'a DayShown,
    pub(super) pool: PoolKind,
    pub(super) notice: Option<&'a Notice>,
    /// What the last edit brought of all that is worth a look.
    pub(super) brought: &'a [Problem],
    pub(super) trouble: Option<&'a str>,
    pub(super) pages: &'a mut Pages,
    pub(super) drafts: &'a mut Drafts,
    pub(super) board: &'a mut BoardView,
    pub(super) gesture: &'a mut Gesture,
    pub(super) from_day: &'a mut bool,
}

fn scene<'a>(
    history: &'a History,
    derived: &'a Derived,
    selection: &'a Selection,
    (day, today, from_day): (NaiveDate, NaiveDate, bool),
    (library, unit): (&'static Library, LengthUnit),
) -> Scene<'a> {
    Scene {
        season: history.season(),
        library,
        forecast: &derived.forecast,
        outlook: derived.outlook.as_ref(),
        outlook_is_fresh: derived.is_fresh(),
        fills: &derived.fills,
        spots: &derived.spots,
        problems: &derived.problems,
        chance: derived.chance().filter(|chance| chance.varies),
        day,
        today,
        unit,
        selection,
        from_day,
        revision: history.revision(),
        waits: None,
        standing: None,
        carried: None,
    }
}
