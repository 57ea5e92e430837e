use std::path::PathBuf;
use std::sync::Arc;

use chrono::{Datelike as _, NaiveDate};
use egui::{Context, Frame, Margin, Panel, Ui, ViewportCommand};

use crate::outlook::{self, PoolKind};
use crate::season::{History, Library, Season, TrayKey};
use crate::store::{self, Loaded};
use crate::words;

use super::action::{Action, After, Do, File, Go};
use super::axis::Axis;
use super::derived::Derived;
use super::desktop::{Desktop, SystemDesktop};
use super::ending;
use super::field_keys;
use super::files::{self, Files, Recent};
use super::kit::{Drafts, edge_keys, focus_ring_ui, hold_field};
use super::menu::{Bar, menu_ui, over_ui};
use super::notice::{self, Notice};
use super::open::{Open, Parts};
use super::pages::can_wait::can_wait_ui;
use super::pages::carries::carries_ui;
use super::pages::containers::containers_ui;
use super::pages::crops::crops_ui;
use super::pages::days::days_ui;
use super::pages::floor::floor_ui;
use super::pages::frost::frost_ui;
use super::pages::guests::guests_ui;
use super::pages::make_room::make_room_ui;
use super::pages::next_year::next_year_ui;
use super::pages::places::places_ui;
use super::pages::plan::plan_ui;
use super::pages::records::records_ui;
use super::pages::sowing_table::sowing_table_ui;
use super::pages::sowings::sowings_ui;
use super::pages::start::start_ui;
use super::pages::supplies::supplies_ui;
use super::pages::what_if::what_if_ui;
use super::pages::work::work_ui;
use super::pages::worth_a_look::worth_a_look_ui;
use super::preview::preview_ui;
use super::scene::Scene;
use super::screens::Screens;
use super::shelves::{in_hand_ui, shelves_ui};
use super::shortcuts::{escape, shortcuts};
use super::space::{Space, space_ui};
use super::state::{Gesture, Page, ViewState};
use super::theme::{self, Palette};
use super::tray_panel::tray_panel_ui;
use super::verdict::{Work, verdict_ui};
use super::waiting::waiting_ui;
use super::ways::Shown;
use super::weeks::{self, Strip, weeks_ui};

/// In a lower window the week strip is one line.
const LOW_PT: f32 = 500.0;
/// What is looked at, beside the shelves.
const RIGHT_PT: f32 = 320.0;
/// In a narrower one the shelves have one side only.
const NARROW_PT: f32 = 760.0;

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
    pub(super) open: Open,
    pub(super) library: &'static Library,
    pub(super) view: ViewState,
    pub(super) files: Files,
    pub(super) today: NaiveDate,
    pub(super) leaving: Leaving,
    screens: Screens,
    frames: u64,
    /// In the last frame, in points.
    size: egui::Vec2,
    /// By a field, a menu or a hand, in the last frame.
    escape_is_taken: bool,
    /// In a field, at the end of the last frame.
    was_written: bool,
    dressed: bool,
    /// Of the window, as it was last set.
    title: String,
}

impl App {
    /// With that season, as read from `path`; touches no disk.
    pub fn new(season: Season, path: Option<PathBuf>, today: NaiveDate) -> Self {
        Self {
            files: Files::new(path, &season),
            open: Open::new(season, today),
            library: store::library(),
            view: ViewState::default(),
            today,
            leaving: Leaving::No,
            screens: Screens::default(),
            frames: 0,
            size: egui::Vec2::ZERO,
            escape_is_taken: false,
            was_written: false,
            dressed: false,
            title: String::new(),
        }
    }

    /// With the season in `file`, or with the sample, and what is foreseen of it.
    pub(super) fn opening(file: Option<PathBuf>, today: NaiveDate) -> Self {
        let mut app = match file {
            None => Self::new(store::sample(), None, today),
            Some(path) => match store::load_whole(&store::RealDisk, &path) {
                Ok(loaded) => Self::opened(loaded, path, today),
                Err(why) => Self::in_trouble(why.to_string(), path, today),
            },
        };
        app.open.foresee(app.library);
        app
    }

    /// With a season, and what has to be known of its file.
    fn opened(loaded: Loaded, path: PathBuf, today: NaiveDate) -> Self {
        let files = Files::of(path, &loaded);
        Self { files, ..Self::new(loaded.season, None, today) }
    }

    /// Without a season: the one asked for could not be read.
    pub fn in_trouble(why: String, path: PathBuf, today: NaiveDate) -> Self {
        let open = Open::in_trouble(why, today);
        Self { open, ..Self::new(Season::new(words::window::NO_SEASON), Some(path), today) }
    }

    /// Takes up what was kept from last time, the system's dialogs and the autosave.
    pub(super) fn settle_in(&mut self, cc: &eframe::CreationContext<'_>) {
        theme::install(&cc.egui_ctx);
        self.dressed = true;
        if let Some(kept) = cc.storage.and_then(|storage| eframe::get_value::<ViewState>(storage, eframe::APP_KEY)) {
            self.view = kept.mended();
            self.screens.was_open_before = true;
            self.open_where_it_was_left();
        }
        if let Some(theme) = self.view.theme {
            cc.egui_ctx.set_theme(theme);
        }
        if let Some(path) = self.files.path.clone().filter(|_| self.open.trouble.is_none()) {
            let season = self.open.history.season().clone();
            self.remember(&path, &season);
        }
        self.meet(Arc::new(SystemDesktop));
        if let Some(keeper) = self.files.keeper() {
            ending::keep_at_the_end(&keeper);
        }
    }

    /// The season that was open last and the day that it showed, where no other was asked for; the sample where it is
    /// gone.
    fn open_where_it_was_left(&mut self) {
        let Some(path) = self.view.left.clone().filter(|_| self.files.path.is_none() && self.open.trouble.is_none())
        else {
            return;
        };
        let Ok(loaded) = store::load_whole(&store::RealDisk, &path) else { return };
        self.files = Files::of(path, &loaded);
        self.open = Open::new(loaded.season, self.today);
        self.open.foresee(self.library);
        if let Some(day) = NaiveDate::from_num_days_from_ce_opt(self.view.left_on)
            && self.open.derived.forecast.span().is_some_and(|span| span.contains(day))
        {
            self.open.show_day(day);
        }
    }

    /// With file dialogs, folders and an autosave; without this it has none of them.
    #[must_use]
    pub fn on(mut self, desktop: Arc<dyn Desktop>) -> Self {
        self.meet(desktop);
        self
    }

    fn meet(&mut self, desktop: Arc<dyn Desktop>) {
        self.open.notice = self.files.settle_in(desktop, self.library).map(Notice::complaint);
    }

    pub fn history(&self) -> &History {
        &self.open.history
    }

    /// The day shown.
    pub fn day(&self) -> NaiveDate {
        self.open.shown.day
    }

    /// The shelves that the strip counts.
    pub fn pool(&self) -> PoolKind {
        self.open.pool_shown()
    }

    pub fn selected(&self) -> Option<TrayKey> {
        self.open.selection.tray
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
        self.open.derived.outlook.as_ref().filter(|_| self.open.derived.is_fresh())
    }

    /// Anything is being worked out that a page shows.
    pub fn is_working(&self) -> bool {
        self.open.is_working()
    }

    /// How likely each week is too full, once that is known of the season as it is.
    pub fn chance(&self) -> Option<&crate::outlook::Chance> {
        self.open.derived.chance()
    }

    pub fn forecast(&self) -> &crate::forecast::Forecast {
        &self.open.derived.forecast
    }

    fn drawing_ui(&mut self, ui: &mut Ui, actions: &mut Vec<Action>) {
        let axis = self.open.axis(ui.max_rect().x_range());
        let axis = axis.as_ref();
        let (scene, open) = self.open.parts(self.library, self.view.units.length_unit(self.open.derived.unit));
        let view = &self.view;
        // asked for by several parts of the room
        let standing = (view.page == Page::Shelves).then(|| scene.placed());
        let carried = standing.as_deref().map(outlook::carried);
        let scene = Scene { standing: standing.as_deref(), carried: carried.as_ref(), ..scene };
        let recent = Recent { paths: &view.recent, names: &view.recent_names };
        if !self.files.asks_something() {
            let in_hand = matches!(open.gesture, Gesture::InHand(_)) || open.board.zone.is_some();
            shortcuts(ui, &scene, (in_hand, self.was_written), view.page, open.shown.playing, actions);
        }
        let bar = Bar {
            page: view.page,
            under: view.under,
            to_look_at: open.derived.problems.len() + scene.outlook.map_or(0, |outlook| outlook.crunches.len()),
            units: view.units,
            theme: view.theme.unwrap_or(egui::ThemePreference::System),
            file: &self.files.shown_path(),
            recent,
            kept: self.files.is_kept(),
            as_saved: self.files.as_saved(),
            in_trouble: open.trouble.is_some(),
        };
        let panel = panel_frame(ui);
        let bar_frame = panel.inner_margin(Margin::symmetric(12, 2));
        let work = work(open.derived);
        let ways = open.preview.is_none().then_some(open.ways);
        Panel::top("menu").frame(bar_frame).show(ui, |ui| {
            let verdict = |ui: &mut Ui, actions: &mut Vec<Action>| verdict_ui(ui, &scene, &work, ways, actions);
            menu_ui(ui, &scene, open.history, &bar, verdict, actions);
        });
        files::standing_ui(ui, &self.files, actions);
        // that page says itself what is shown, and nothing on it moves as a slider is dragged
        let is_said_elsewhere = |shown: &Shown| matches!(shown, Shown::ByHand) || view.page == Page::WhatIf;
        if let Some(preview) = open.preview.filter(|preview| !is_said_elsewhere(&preview.shown)) {
            preview_ui(ui, preview, &scene.words(), actions);
        }
        if let Some(why) = open.trouble {
            notice::trouble_ui(ui, why, actions);
            return;
        }
        let low = ui.ctx().content_rect().height() < LOW_PT;
        let (folded, working) = (view.strip_folded.unwrap_or(low), work.progress);
        let strip = Strip { shown: open.shown, pool: open.pool, folded, working };
        strip_ui(ui, &scene, axis, &strip, actions);
        if view.page == Page::Shelves {
            let is_sample = self.files.path.is_none() && !self.files.unsaved() && scene.season.spots().next().is_some();
            let hint = (!view.hint_hidden).then_some(is_sample);
            shelves_page_ui(ui, &scene, open, (hint, &work), actions);
        } else {
            let (notice, back) = (open.notice, view.leads_back().then(|| view.back()));
            let draw = |ui: &mut Ui, actions: &mut Vec<Action>| {
                page_ui(ui, &scene, (view.page, axis, recent), open, actions);
            };
            said_around_ui(ui, (view.page, back), notice, draw, actions);
        }
    }

    /// Every way to close comes through here.
    fn close_requested(&mut self, ctx: &Context) {
        if !ctx.input(|i| i.viewport().close_requested()) || self.leaving == Leaving::Now {
            return;
        }
        self.files.look(self.open.history.season());
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
            actions.extend(dropped.map(|path| Action::File(File::OpenPath(path))));
        }
    }
}

fn panel_frame(ui: &Ui) -> Frame {
    Frame::new().fill(Palette::of(ui).panel)
}

fn work(derived: &Derived) -> Work<'_> {
    Work {
        progress: derived.progress(),
        finding: derived.finding(),
        stopped: derived.stopped,
        failure: derived.failure.as_deref(),
        layout_stands: derived.layout_stands,
    }
}

/// The weeks, in every room.
fn strip_ui(ui: &mut Ui, scene: &Scene<'_>, axis: Option<&Axis>, strip: &Strip<'_>, actions: &mut Vec<Action>) {
    let frame = panel_frame(ui).inner_margin(Margin { left: 14, right: 14, top: 6, bottom: 4 });
    let panel = if strip.folded {
        Panel::bottom("weeks_folded").resizable(false).exact_size(weeks::FOLDED_PT + 10.0)
    } else {
        let most = (ui.available_height() * 0.6).max(151.0);
        Panel::bottom("weeks").resizable(true).default_size(184.0).size_range(150.0..=most)
    };
    panel.frame(frame).show(ui, |ui| weeks_ui(ui, scene, axis, strip, actions));
}

/// Over a page that leads back a line does so, and notices stand in it; in a room they lie over its foot.
fn said_around_ui(
    ui: &mut Ui,
    (page, back): (Page, Option<Page>),
    notice: Option<&Notice>,
    draw: impl FnOnce(&mut Ui, &mut Vec<Action>),
    actions: &mut Vec<Action>,
) {
    let Some(back) = back else {
        let middle = ui.available_rect_before_wrap();
        draw(ui, actions);
        if let Some(notice) = notice {
            notice::floating_ui(ui, middle, notice, actions);
        }
        return;
    };
    notice::line_ui(ui, |ui| {
        ui.horizontal(|ui| {
            over_ui(ui, page, back, actions);
            if let Some(notice) = notice {
                notice::notice_ui(ui, notice, actions);
            }
        });
    });
    draw(ui, actions);
}

/// `hint`: whether the sample is shown, where a hint is wanted.
fn shelves_page_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    open: Parts<'_>,
    (hint, work): (Option<bool>, &Work<'_>),
    actions: &mut Vec<Action>,
) {
    let Parts { board, gesture, from_day, drafts, .. } = open;
    let side = panel_frame(ui).inner_margin(Margin::symmetric(12, 10));
    // in a small window the shelves keep their room: one side at a time, that of what is in the hand or looked at
    let narrow = ui.max_rect().width() < NARROW_PT;
    let looked_at = scene.selection.tray.is_some() || scene.selection.space.is_some();
    let right_alone = narrow && looked_at && !matches!(gesture, Gesture::InHand(_));
    if right_alone {
        board.waiting = egui::Rect::NOTHING;
    } else {
        let left = Panel::left("waiting").frame(side).default_size(214.0).size_range(180.0..=360.0);
        left.show(ui, |ui| waiting_ui(ui, scene, (board, gesture), work, actions));
    }
    if right_alone || !narrow {
        // of one width whatever it tells, so that the shelves stay where they are
        let right = Panel::right("beside").frame(side).default_size(RIGHT_PT).size_range(252.0..=480.0);
        right.show(ui, |ui| match scene.selection.space {
            Some(space) => space_panel_ui(ui, scene, space, drafts, actions),
            None => tray_panel_ui(ui, scene, from_day, drafts, actions),
        });
    }
    notice::line_ui(ui, |ui| {
        if let Some(notice) = open.notice {
            notice::notice_ui(ui, notice, actions);
        } else if let Some(is_sample) = hint {
            notice::hint_ui(ui, scene, is_sample, actions);
        }
    });
    shelves_ui(ui, scene, board, gesture, actions);
    in_hand_ui(ui, scene, board, gesture, actions);
}

/// What is looked at of the room, beside its drawing.
fn space_panel_ui(ui: &mut Ui, scene: &Scene<'_>, space: Space, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    let area = egui::ScrollArea::vertical().auto_shrink([false, false]).id_salt(("space", space));
    area.show(ui, |ui| {
        if let Some(next) = space_ui(ui, scene, space, drafts, actions) {
            actions.push(Action::Go(Go::Space(Some(next))));
        }
    });
}

/// Crops and containers beside each other, in one room.
fn library_ui(ui: &mut Ui, page: Page, actions: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        for (to, name) in [(Page::Crops, words::crops::PAGE), (Page::Containers, words::containers::PAGE)] {
            let button = egui::Button::selectable(page == to, theme::bold(name)).min_size(egui::vec2(96.0, 28.0));
            if ui.add(button).clicked() {
                actions.push(Action::Go(Go::Page(to)));
            }
        }
    });
}

fn page_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (page, axis, recent): (Page, Option<&Axis>, Recent<'_>),
    open: Parts<'_>,
    actions: &mut Vec<Action>,
) {
    let Parts { pages, drafts, .. } = open;
    if matches!(page, Page::Crops | Page::Containers) {
        let top =
            Frame::new().fill(Palette::of(ui).paper).inner_margin(Margin { left: 20, right: 20, top: 8, bottom: 4 });
        Panel::top("library").frame(top).show_separator_line(false).show(ui, |ui| library_ui(ui, page, actions));
    }
    match page {
        Page::Plan => {
            let planned = (open.planned.0.season(), &*open.planned.1.forecast);
            plan_ui(ui, scene, axis, (&mut pages.plan, drafts), planned, actions);
        }
        // drawn with its own sides
        Page::Shelves => {}
        Page::Sowings => sowings_ui(ui, scene, &mut pages.sowings, drafts, actions),
        Page::Work => work_ui(ui, scene, (&mut pages.work, drafts), &open.derived.forecast, actions),
        Page::Supplies => supplies_ui(ui, scene, &mut pages.supplies, &open.derived.forecast, actions),
        Page::Places => places_ui(ui, scene, &mut pages.places, drafts, actions),
        Page::Floor => floor_ui(ui, scene, &mut pages.floor, drafts, actions),
        Page::Start => start_ui(ui, scene, (&mut pages.start, recent), drafts, actions),
        Page::WorthALook => worth_a_look_ui(ui, scene, (&open.derived.problems, open.brought), actions),
        Page::MakeRoom => {
            let ways = open.preview.is_none().then_some(open.ways);
            make_room_ui(ui, scene, &mut pages.make_room, ways, actions);
        }
        Page::WhatIf => {
            let Parts { planned, what_ifs, preview, .. } = open;
            what_if_ui(ui, scene, &mut pages.what_if, drafts, (planned, what_ifs, preview), actions);
        }
        Page::CanWait => can_wait_ui(ui, scene, &mut pages.can_wait, actions),
        Page::Carries => {
            let carried = open.preview.is_none().then_some(open.carried);
            carries_ui(ui, scene, &mut pages.carries, carried, actions);
        }
        Page::Guests => guests_ui(ui, scene, &mut pages.guests, drafts, actions),
        Page::Containers => containers_ui(ui, scene, &mut pages.containers, drafts, actions),
        Page::Crops => crops_ui(ui, scene, &mut pages.crops, drafts, actions),
        Page::Frost => frost_ui(ui, scene, &mut pages.frost, drafts, actions),
        Page::Records => records_ui(ui, scene, &mut pages.records, drafts, actions),
        Page::Days => days_ui(ui, scene, &mut pages.days, drafts, actions),
        Page::NextYear => next_year_ui(ui, scene, &mut pages.next_year, drafts, actions),
        Page::SowingTable => sowing_table_ui(ui, scene, &mut pages.sowing_table, drafts, actions),
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &Context, frame: &mut eframe::Frame) {
        self.screens.follow(ctx, frame, &mut self.view.zooms);
        if !self.dressed {
            theme::install(ctx);
            self.dressed = true;
        }
        if self.frames == 0 {
            // the first picture waits for nothing that it doesn't show
            self.open.foresee(self.library);
        } else {
            self.open.follow(self.library, ctx);
        }
        self.take_found(ctx);
        self.say_what_changed();
        if self.open.is_working() {
            ctx.request_repaint_after(std::time::Duration::from_millis(100));
        }
        self.open.run_days(ctx);
        let mut actions = Vec::new();
        self.files.poll(ctx, self.open.history.season(), self.open.history.revision(), &mut actions);
        for action in actions {
            self.perform(action, ctx);
        }
        let title = words::window::title(self.open.history.season().name(), self.files.unsaved());
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
        self.close_requested(ctx);
    }

    fn ui(&mut self, ui: &mut Ui, _: &mut eframe::Frame) {
        if self.frames == 0 {
            ui.request_repaint();
        }
        self.frames += 1;
        // what wraps needs a second frame to know how high it is
        let size = ui.max_rect().size();
        if std::mem::replace(&mut self.size, size) != size {
            ui.request_repaint();
        }
        hold_field(ui.ctx());
        edge_keys(ui);
        let mut actions = Vec::new();
        let asks = self.files.asks_something();
        let late = if asks { None } else { field_keys::left_for(ui) };
        self.drawing_ui(ui, &mut actions);
        files::questions_ui(ui, &mut self.files, &mut actions);
        if !asks {
            actions.extend(escape(ui, self.view.leads_back(), &mut self.escape_is_taken));
        }
        focus_ring_ui(ui);
        self.was_written = ui.ctx().text_edit_focused();
        let beyond_field = if asks { None } else { field_keys::beyond_field(ui) };
        let ctx = ui.ctx().clone();
        self.take_dropped(&ctx, &mut actions);
        actions.extend(late.map(Action::File));
        if self.leaving == Leaving::AfterField {
            self.leaving = Leaving::No;
            actions.push(Action::File(File::Close));
        }
        if !actions.is_empty() || beyond_field.is_some() {
            ui.request_repaint();
        }
        for action in actions {
            match action {
                Action::Do(step @ (Do::Undo | Do::Redo)) if self.view.page != Page::Shelves => {
                    self.step_named(step, &ctx);
                }
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
        if self.open.trouble.is_none() {
            self.view.left.clone_from(&self.files.path);
            self.view.left_on = self.open.shown.day.num_days_from_ce();
        }
        eframe::set_value(storage, eframe::APP_KEY, &self.view);
    }
}
