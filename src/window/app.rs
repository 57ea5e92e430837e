use std::path::PathBuf;
use std::sync::Arc;

use chrono::NaiveDate;
use egui::{Context, Frame, Margin, Panel, Ui, ViewportCommand};

use crate::outlook::PoolKind;
use crate::season::{History, Library, Role, Season, TrayKey};
use crate::store;

use super::action::Action;
use super::derived::Derived;
use super::desktop::{Desktop, SystemDesktop};
use super::field_keys;
use super::files::{self, After, Files};
use super::kit::widgets;
use super::menu::{Bar, menu_ui};
use super::notice::{self, Notice};
use super::pages::containers::{ContainersPage, containers_ui};
use super::pages::crops::{CropsPage, crops_ui};
use super::pages::days::{DaysPage, days_ui};
use super::pages::frost::{FrostPage, frost_ui};
use super::pages::guests::{GuestsPage, guests_ui};
use super::pages::next_year::{NextYearPage, next_year_ui};
use super::pages::places::{PlacesView, places_ui};
use super::pages::records::{RecordsPage, records_ui};
use super::pages::sowing_table::{SowingTablePage, sowing_table_ui};
use super::pages::sowings::{SowingsPage, sowings_ui};
use super::pages::start::{StartPage, start_ui};
use super::pages::worth_a_look::worth_a_look_ui;
use super::scene::Scene;
use super::screens::Screens;
use super::shelves::{in_hand_ui, shelves_ui};
use super::shortcuts::shortcuts;
use super::state::{BoardView, DayShown, Gesture, Page, Selection, ViewState};
use super::theme::{self, Palette};
use super::tray_panel::tray_panel_ui;
use super::waiting::waiting_ui;
use super::weeks::{Work, weeks_ui};

/// A day takes so long while they run by themselves, in seconds.
const DAY_RUNS: f64 = 0.16;

/// How far the request to close has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Leaving {
    No,
    /// Something was being written: asked again when that is taken.
    AfterField,
    /// Asked and answered: the next request is let through.
    Now,
}

/// The whole window.
pub struct App {
    pub(super) history: History,
    pub(super) library: &'static Library,
    pub(super) view: ViewState,
    pub(super) selection: Selection,
    pub(super) gesture: Gesture,
    pub(super) shown: DayShown,
    pub(super) board: BoardView,
    pub(super) sowings: SowingsPage,
    pub(super) guests: GuestsPage,
    pub(super) places: PlacesView,
    pub(super) containers: ContainersPage,
    pub(super) crops: CropsPage,
    pub(super) records: RecordsPage,
    pub(super) days: DaysPage,
    pub(super) next_year: NextYearPage,
    pub(super) start: StartPage,
    pub(super) frost: FrostPage,
    pub(super) sowing_table: SowingTablePage,
    pub(super) pool: PoolKind,
    /// Moves count from the day shown on, not in place of the spot that counts then.
    pub(super) from_day: bool,
    /// When trays were last nudged, and what the season was afterwards.
    pub(super) nudged: Option<(f64, u64)>,
    pub(super) derived: Derived,
    pub(super) files: Files,
    pub(super) notice: Option<Notice>,
    /// Why the file asked for could not be opened; nothing else is shown then.
    pub(super) trouble: Option<String>,
    pub(super) today: NaiveDate,
    pub(super) leaving: Leaving,
    screens: Screens,
    frames: u64,
    dressed: bool,
    /// Of the window, as it was last set.
    title: String,
    /// Opened out of season: shows this day until the crunch is known, if nobody has moved on.
    waits_on: Option<NaiveDate>,
}

impl App {
    /// With that season, as read from `path`; touches no disk.
    pub fn new(season: Season, path: Option<PathBuf>, today: NaiveDate) -> Self {
        Self {
            files: Files::new(path, &season),
            history: History::new(season),
            library: store::library(),
            view: ViewState::default(),
            selection: Selection::default(),
            gesture: Gesture::None,
            shown: DayShown { day: today, playing: false, next_step_at: 0.0 },
            board: BoardView::default(),
            sowings: SowingsPage::default(),
            guests: GuestsPage::default(),
            places: PlacesView::default(),
            containers: ContainersPage::default(),
            crops: CropsPage::default(),
            records: RecordsPage::default(),
            days: DaysPage::default(),
            next_year: NextYearPage::default(),
            start: StartPage::default(),
            frost: FrostPage::default(),
            sowing_table: SowingTablePage::default(),
            pool: PoolKind::Of(Role::Growing),
            from_day: false,
            nudged: None,
            derived: Derived::default(),
            notice: None,
            trouble: None,
            today,
            leaving: Leaving::No,
            screens: Screens::default(),
            frames: 0,
            dressed: false,
            title: String::new(),
            waits_on: None,
        }
    }

    /// Without a season: the one asked for could not be read.
    pub(super) fn in_trouble(why: String, path: PathBuf, today: NaiveDate) -> Self {
        Self { trouble: Some(why), ..Self::new(Season::new("No season"), Some(path), today) }
    }

    /// Takes up what was kept from last time, the system's dialogs and the autosave.
    pub(super) fn settle_in(&mut self, cc: &eframe::CreationContext<'_>) {
        theme::install(&cc.egui_ctx);
        self.dressed = true;
        if let Some(kept) = cc.storage.and_then(|storage| eframe::get_value(storage, eframe::APP_KEY)) {
            self.view = kept;
        }
        if let Some(theme) = self.view.theme {
            cc.egui_ctx.set_theme(theme);
        }
        if let Some(path) = self.files.path.clone().filter(|_| self.trouble.is_none()) {
            self.remember(&path);
        }
        self.meet(Arc::new(SystemDesktop));
    }

    /// With file dialogs, folders and an autosave; without this it has none of them.
    #[must_use]
    pub fn on(mut self, desktop: Arc<dyn Desktop>) -> Self {
        self.meet(desktop);
        self
    }

    fn meet(&mut self, desktop: Arc<dyn Desktop>) {
        self.notice = self.files.settle_in(desktop, self.library).map(Notice::complaint);
    }

    pub fn history(&self) -> &History {
        &self.history
    }

    /// The day shown.
    pub fn day(&self) -> NaiveDate {
        self.shown.day
    }

    pub fn selected(&self) -> Option<TrayKey> {
        self.selection.tray
    }

    /// Asked and answered: the window sends itself away.
    pub fn is_leaving(&self) -> bool {
        self.leaving == Leaving::Now
    }

    /// How often the window was drawn.
    pub fn frames(&self) -> u64 {
        self.frames
    }

    /// The answer that the strip shows, if it is one to the season as it is.
    pub fn outlook(&self) -> Option<&crate::outlook::Outlook> {
        self.derived.outlook.as_ref().filter(|_| self.derived.is_fresh())
    }

    /// How likely each week is too full, once that is known of the season as it is.
    pub fn chance(&self) -> Option<&crate::outlook::Chance> {
        self.derived.chance()
    }

    pub fn forecast(&self) -> &crate::forecast::Forecast {
        &self.derived.forecast
    }

    fn drawing_ui(&mut self, ui: &mut Ui, actions: &mut Vec<Action>) {
        let forecast = Arc::clone(&self.derived.forecast);
        let scene = Scene {
            season: self.history.season(),
            library: self.library,
            forecast: &forecast,
            outlook: self.derived.outlook.as_ref(),
            outlook_is_fresh: self.derived.is_fresh(),
            chance: self.derived.chance().filter(|chance| chance.varies),
            day: self.shown.day,
            unit: self.view.units.length_unit(),
            selection: &self.selection,
            from_day: self.from_day,
            revision: self.history.revision(),
        };
        if !self.files.asks_something() {
            shortcuts(ui, &scene, &self.gesture, self.view.page, self.shown.playing, actions);
        }
        let bar = Bar {
            page: self.view.page,
            to_look_at: self.derived.problems.len() + scene.outlook.map_or(0, |outlook| outlook.crunches.len()),
            units: self.view.units,
            theme: self.view.theme.unwrap_or(egui::ThemePreference::System),
            file: &self.files.shown_path(),
            recent: &self.view.recent,
            unsaved: self.files.unsaved(),
            in_trouble: self.trouble.is_some(),
        };
        let is_sample = self.files.path.is_none() && !self.files.unsaved() && scene.season.spots().next().is_some();
        let palette = Palette::of(ui);
        let panel = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(12, 2));
        Panel::top("menu").frame(panel).show(ui, |ui| menu_ui(ui, &scene, &self.history, &bar, actions));
        if let Some(why) = &self.trouble {
            notice::trouble_ui(ui, why, actions);
            return;
        }
        let work = Work {
            progress: self.derived.progress(),
            finding: self.derived.finding(),
            stopped: self.derived.stopped,
            failure: self.derived.failure.as_deref(),
            layout_stands: self.derived.layout_stands,
        };
        let strip = panel.inner_margin(Margin { left: 14, right: 14, top: 6, bottom: 4 });
        Panel::bottom("weeks")
            .frame(strip)
            .resizable(true)
            .default_size(236.0)
            .size_range(150.0..=420.0)
            .show(ui, |ui| weeks_ui(ui, &scene, &self.shown, self.pool, &work, actions));
        let line = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(16, 3));
        let line = Panel::top("line").frame(line).show_separator_line(false);
        match self.view.page {
            Page::Sowings
            | Page::Places
            | Page::Start
            | Page::WorthALook
            | Page::Guests
            | Page::Containers
            | Page::Crops
            | Page::Frost
            | Page::Records
            | Page::Days
            | Page::NextYear
            | Page::SowingTable => {
                if let Some(notice) = &self.notice {
                    line.show(ui, |ui| notice::notice_ui(ui, notice, actions));
                }
                match self.view.page {
                    Page::Guests => guests_ui(ui, &scene, &mut self.guests, actions),
                    Page::Containers => containers_ui(ui, &scene, &mut self.containers, actions),
                    Page::Frost => frost_ui(ui, &scene, &mut self.frost, actions),
                    Page::SowingTable => sowing_table_ui(ui, &scene, &mut self.sowing_table, actions),
                    Page::Crops => crops_ui(ui, &scene, &mut self.crops, actions),
                    Page::Records => records_ui(ui, &scene, &mut self.records, actions),
                    Page::Days => days_ui(ui, &scene, &mut self.days, actions),
                    Page::NextYear => next_year_ui(ui, &scene, &mut self.next_year, actions),
                    Page::Places => places_ui(ui, &scene, &mut self.places, actions),
                    Page::Start => start_ui(ui, &scene, &mut self.start, self.history.revision(), actions),
                    Page::WorthALook => worth_a_look_ui(ui, &scene, &self.derived.problems, actions),
                    _ => sowings_ui(ui, &scene, &mut self.sowings, self.history.revision(), actions),
                }
            }
            Page::Shelves => {
                let side = panel.inner_margin(Margin::symmetric(12, 10));
                Panel::left("waiting").frame(side).default_size(214.0).size_range(180.0..=360.0).show(ui, |ui| {
                    waiting_ui(ui, &scene, &mut self.board, &mut self.gesture, actions);
                });
                Panel::right("tray").frame(side).default_size(252.0).size_range(220.0..=420.0).show(ui, |ui| {
                    tray_panel_ui(ui, &scene, &mut self.from_day, actions);
                });
                if let Some(notice) = &self.notice {
                    line.show(ui, |ui| notice::notice_ui(ui, notice, actions));
                } else if !self.view.hint_hidden {
                    line.show(ui, |ui| notice::hint_ui(ui, &scene, is_sample, actions));
                }
                shelves_ui(ui, &scene, &mut self.board, &mut self.gesture, actions);
                in_hand_ui(ui, &scene, &self.board, &mut self.gesture, actions);
            }
        }
    }

    /// Every way to close comes through here.
    fn close_requested(&mut self, ctx: &Context) {
        if !ctx.input(|i| i.viewport().close_requested()) || self.leaving == Leaving::Now {
            return;
        }
        let visible = ctx.input(|i| i.viewport().visible()) != Some(false);
        if visible && ctx.text_edit_focused() && !self.files.asks_something() {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            field_keys::leave(ctx);
            self.leaving = Leaving::AfterField;
        } else if self.files.unsaved() {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.files.give_up_path();
            self.files.ask_before(After::Close);
        } else {
            self.files.let_go();
        }
    }

    /// Dropped on the window: as good as chosen.
    fn take_dropped(&self, ctx: &Context, actions: &mut Vec<Action>) {
        if !self.files.asks_something() {
            let dropped = ctx.input(|i| i.raw.dropped_files.first().map(|file| file.path().to_owned()));
            actions.extend(dropped.map(Action::OpenPath));
        }
    }

    fn run_days(&mut self, ctx: &Context) {
        if !self.shown.playing {
            return;
        }
        let now = ctx.input(|i| i.time);
        if now >= self.shown.next_step_at {
            let end = self.derived.forecast.span().map(crate::units::DateSpan::last);
            match self.shown.day.succ_opt().filter(|day| end.is_some_and(|end| *day <= end)) {
                Some(day) => self.shown.day = day,
                None => self.shown.playing = false,
            }
            self.shown.next_step_at = now + DAY_RUNS;
        }
        if self.shown.playing {
            ctx.request_repaint_after(std::time::Duration::from_secs_f64(DAY_RUNS));
        }
    }

    /// The first forecast shows where the season lies; a day outside of it would show nothing.
    pub(super) fn first_day(&mut self) {
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
            && let Some(crunch) = outlook.crunches.iter().max_by_key(|crunch| crunch.short)
        {
            self.shown.day = crunch.worst_day;
        }
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &Context, frame: &mut eframe::Frame) {
        self.screens.follow(ctx, frame, &mut self.view.zooms);
        if !self.dressed {
            theme::install(ctx);
            self.dressed = true;
        }
        let first = self.frames == 0;
        self.derived.follow(&self.history, self.library, ctx);
        if first {
            self.first_day();
        }
        if self.waits_on.is_some() {
            self.show_the_crunch();
        }
        self.take_found(ctx);
        if self.derived.progress().is_some() {
            ctx.request_repaint_after(std::time::Duration::from_millis(100));
        }
        self.run_days(ctx);
        let title = format!("{} – Flatwright", self.history.season().name());
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
        let mut actions = Vec::new();
        self.files.poll(ctx, self.history.season(), self.history.revision(), &mut actions);
        for action in actions {
            self.perform(action, ctx);
        }
        self.close_requested(ctx);
    }

    fn ui(&mut self, ui: &mut Ui, _: &mut eframe::Frame) {
        self.frames += 1;
        let mut actions = Vec::new();
        let asks = self.files.asks_something();
        let late = if asks { None } else { field_keys::left_for(ui) };
        self.drawing_ui(ui, &mut actions);
        files::questions_ui(ui, &mut self.files, &mut actions);
        widgets::focus_ring_ui(ui);
        let beyond_field = if asks { None } else { field_keys::beyond_field(ui) };
        let ctx = ui.ctx().clone();
        self.take_dropped(&ctx, &mut actions);
        actions.extend(late);
        if self.leaving == Leaving::AfterField {
            self.leaving = Leaving::No;
            actions.push(Action::Close);
        }
        if !actions.is_empty() || beyond_field.is_some() {
            ui.request_repaint();
        }
        for action in actions {
            match action {
                Action::Undo | Action::Redo if self.view.page != Page::Shelves => self.step_named(action, &ctx),
                _ => self.perform(action, &ctx),
            }
        }
        if let Some(step) = beyond_field {
            self.step_named(step, &ctx);
        }
        if !asks && self.files.asks_something() {
            egui::Popup::close_all(&ctx);
        }
    }

    fn save(&mut self, storage: &mut dyn eframe::Storage) {
        eframe::set_value(storage, eframe::APP_KEY, &self.view);
    }
}
