//! Carries out what was asked for; the only place that changes the season, the day, the view.

use std::path::{Path, PathBuf};

use egui::{Context, ViewportCommand};

use crate::forecast::{self, About, Problem};
use crate::outlook::{arrange, arrangement, free_spot, put, without_lamp};
use crate::season::{Edit, EditError, EditLabel, Season, TrayKey};
use crate::store;
use crate::words::Words;

use super::action::Action;
use super::app::{App, Leaving};
use super::derived::Derived;
use super::files::{self, After, Files};
use super::notice::Notice;
use super::pages::containers::ContainersPage;
use super::pages::crops::CropsPage;
use super::pages::days::DaysPage;
use super::pages::frost::FrostPage;
use super::pages::guests::GuestsPage;
use super::pages::next_year::NextYearPage;
use super::pages::places::PlacesView;
use super::pages::records::RecordsPage;
use super::pages::sowing_table::SowingTablePage;
use super::pages::sowings::SowingsPage;
use super::pages::start::StartPage;
use super::scene::{Scene, counted};
use super::state::{BoardView, Gesture, Page, Selection};

impl App {
    pub(super) fn perform(&mut self, action: Action, ctx: &Context) {
        match action {
            Action::Edit(edit) => {
                self.notice = None;
                if let Err(why) = self.history.commit(&edit) {
                    self.refused(&why);
                }
                self.changed(ctx);
            }
            Action::Undo => {
                if self.history.undo() {
                    self.notice = None;
                    self.changed(ctx);
                }
            }
            Action::Redo => {
                if self.history.redo() {
                    self.notice = None;
                    self.changed(ctx);
                }
            }
            Action::Select(tray) => {
                self.selection.choose(tray);
                if tray.is_none() {
                    self.selection.marked.clear();
                }
            }
            Action::ShowDay(day) => self.shown.day = day,
            Action::ChooseToo(tray) => self.selection.toggle(tray),
            Action::Choose(trays) => {
                self.selection.choose(trays.first().copied());
                self.selection.more = trays.into_iter().skip(1).collect();
            }
            Action::Lead(tray) => self.selection.lead(tray),
            Action::Nudge(edit) => self.nudge(&edit, ctx),
            Action::CopyTrays => self.copy_trays(ctx),
            Action::PasteTrays => {
                let forecast = std::sync::Arc::clone(&self.derived.forecast);
                let scene = self.scene_with(&forecast);
                let action = match arrange(&scene.on_day(), &self.board.copied, self.board.shelf) {
                    Ok(edit) => Action::Edit(edit),
                    Err(why) => Action::Complain(scene.words().not_arranged(&why)),
                };
                self.perform(action, ctx);
            }
            Action::Highlight(sowing) => self.selection.sowing = sowing,
            Action::ShowLater(shown) => self.selection.later = shown,
            Action::ShowPool(pool) => self.pool = pool,
            Action::ShowPage(page) => {
                // what was said was said of the page before
                if page != self.view.page {
                    self.notice = None;
                }
                self.view.page = page;
            }
            Action::ShowCrunch(at) => self.show_crunch(at),
            Action::ShowProblem(at) => self.show_problem(at),
            Action::LookAtSowing(sowing) => self.sowings.look_at(sowing),
            Action::LookAtRecords(sowing) => {
                self.records.look_at(sowing);
                self.view.page = Page::Records;
            }
            Action::LookAtRack(rack) => {
                self.places.look_at_rack(rack);
                self.view.page = Page::Places;
            }
            Action::Play(playing) => {
                self.shown.playing = playing;
                self.shown.next_step_at = ctx.input(|i| i.time);
            }
            Action::FindSpots => self.find_spots(ctx),
            Action::FindSpotFor(tray) => self.find_spot_for(tray, ctx),
            Action::StopWork => self.derived.stop(),
            Action::WorkItOut => {
                self.derived.restart();
                self.derived.follow(&self.history, self.library, ctx);
            }
            Action::FitToView(fit) => self.board.fit_wanted = Some(fit),
            Action::Units(units) => self.view.units = units,
            Action::Theme(theme) => {
                self.view.theme = Some(theme);
                ctx.set_theme(theme);
            }
            Action::InterfaceZoom(factor) => ctx.set_zoom_factor((factor * 10.0).round().clamp(5.0, 30.0) / 10.0),
            Action::HideHint => self.view.hint_hidden = true,
            Action::Complain(text) => self.notice = Some(Notice::complaint(text)),
            Action::HideNotice => self.notice = None,
            other => self.perform_on_files(other, ctx),
        }
    }

    fn perform_on_files(&mut self, action: Action, ctx: &Context) {
        match action {
            // What could not be read must not be written over by what is not there.
            Action::Save | Action::SaveAs | Action::SaveTo(_) | Action::SaveByPath | Action::SaveInFolder
                if self.trouble.is_some() => {}
            // Asked about unsaved changes is only who has chosen something to open.
            Action::Open => self.files.ask_what_to_open(ctx, &self.view, false),
            Action::OpenByPath => self.files.ask_what_to_open(ctx, &self.view, true),
            Action::OpenSample => self.unless_unsaved(After::OpenSample, ctx),
            Action::OpenPath(path) => self.open(path, ctx),
            Action::NewSeason => self.unless_unsaved(After::NewSeason, ctx),
            Action::OpenNextYear(year) => self.unless_unsaved(After::NextYear(year), ctx),
            Action::Close => self.unless_unsaved(After::Close, ctx),
            Action::Save => self.save(ctx),
            Action::SaveAs => self.files.ask_where_to_save(ctx, self.history.season(), &self.view, false),
            Action::SaveByPath => self.files.ask_where_to_save(ctx, self.history.season(), &self.view, true),
            Action::SaveInFolder => self.save_in_folder(ctx),
            Action::ForgetRecent => self.view.recent.clear(),
            Action::CopyText(text) => ctx.copy_text(text),
            Action::OpenFolder(folder) => self.open_folder(&folder),
            Action::ChooseWeather => self.files.ask_for_weather(ctx, &self.view),
            Action::ReadWeather(path) => {
                self.files.give_up_path();
                self.view.page = Page::Frost;
                self.frost.read(path, ctx);
            }
            Action::ChooseTable => self.files.ask_for_table(ctx, &self.view),
            Action::ReadTable(path) => {
                self.files.give_up_path();
                self.view.page = Page::SowingTable;
                let forecast = std::sync::Arc::clone(&self.derived.forecast);
                let mut page = std::mem::take(&mut self.sowing_table);
                page.read(path, &self.scene_with(&forecast), ctx);
                self.sowing_table = page;
            }
            Action::LeaveTable => {
                self.sowing_table = SowingTablePage::default();
                self.perform(Action::ShowPage(Page::Sowings), ctx);
            }
            Action::SaveTo(path) => self.save_to(path, ctx),
            Action::SaveThen(after) => {
                self.files.after_saving = Some(after);
                self.save(ctx);
            }
            Action::DontSave(after) => self.go_on(after, ctx),
            Action::TakeRecovered => {
                if let Some(recovery) = self.files.take_recovered() {
                    let path = self.files.path.clone();
                    self.take_season(recovery.season.clone(), path, ctx);
                    self.files.keep_recovered(recovery);
                }
            }
            Action::LeaveRecovered => self.files.leave_recovered(),
            Action::DropRecovered => {
                if let Err(why) = self.files.drop_recovered() {
                    self.notice = Some(Notice::complaint(why));
                }
            }
            _ => {}
        }
    }

    /// Keys pressed one after the other are one step of undo; a pause or any other edit ends it.
    fn nudge(&mut self, edit: &Edit, ctx: &Context) {
        const PAUSE_S: f64 = 1.0;
        let now = ctx.input(|i| i.time);
        let same = |label: Option<&EditLabel>| label == Some(&edit.label);
        let goes_on = self.nudged.is_some_and(|(at, revision)| {
            now - at <= PAUSE_S && revision == self.history.revision() && same(self.history.undo_label())
        });
        let done = if goes_on { self.history.add_to_last(edit) } else { self.history.commit(edit) };
        self.notice = None;
        if let Err(why) = done {
            self.refused(&why);
        }
        self.nudged = Some((now, self.history.revision()));
        self.changed(ctx);
    }

    fn refused(&mut self, why: &EditError) {
        self.notice = Some(Notice::complaint(format!("Not done: {why}")));
    }

    /// What is derived follows at once, so that the next frame draws one truth.
    pub(super) fn changed(&mut self, ctx: &Context) {
        let nothing_before = self.derived.forecast.span().is_none();
        self.derived.follow(&self.history, self.library, ctx);
        if nothing_before {
            self.first_day();
        }
        let forecast = &self.derived.forecast;
        // a proof is one about the season as it was
        self.selection.marked.clear();
        self.selection.keep(|tray| forecast.marks.contains_key(tray));
        self.selection.sowing = self.selection.sowing.filter(|id| self.history.season().sowing(*id).is_some());
        self.files.season_changed(self.history.season(), self.history.revision());
    }

    fn show_crunch(&mut self, at: usize) {
        let Some(crunch) = self.derived.outlook.as_ref().and_then(|outlook| outlook.crunches.get(at)) else { return };
        self.shown.day = crunch.worst_day;
        self.shown.playing = false;
        self.pool = crunch.pool.kind;
        self.selection.marked = crunch.proof.iter().copied().collect();
        let words = self.words();
        self.notice = Some(Notice::said(format!("Framed in red: {}", words.reason(crunch))));
        self.view.page = Page::Shelves;
    }

    fn words(&self) -> Words<'_> {
        Words {
            season: self.history.season(),
            library: self.library,
            forecast: &self.derived.forecast,
            unit: self.view.units.length_unit(),
        }
    }

    fn show_problem(&mut self, at: usize) {
        let Some(problem) = self.derived.problems.get(at) else { return };
        let about = problem.about();
        let of_days = matches!(problem, Problem::NobodyThere { .. } | Problem::NobodyWaters { .. });
        let of_records = matches!(problem, Problem::TooFew { .. });
        let words = self.words();
        self.notice = Some(Notice::said(words.problem(problem)));
        let day = match about {
            About::Tray(tray, None) => self.derived.forecast.stays_of(tray).map(|stay| stay.span.from()).min(),
            About::Tray(_, day) | About::Shelf(_, day) => day,
            About::Place(_, day) | About::Lamps(day) | About::Day(day) => Some(day),
            About::Season | About::Sowing(_) => None,
        };
        if let Some(day) = day {
            self.shown.day = day;
            self.shown.playing = false;
        }
        if let About::Lamps(day) = about {
            self.mark_beyond_lamps(day);
        }
        self.view.page = match about {
            _ if of_days => Page::Days,
            About::Sowing(sowing) if of_records => {
                self.records.look_at(sowing);
                Page::Records
            }
            About::Season => Page::Start,
            About::Sowing(sowing) => {
                self.sowings.look_at(sowing);
                Page::Sowings
            }
            About::Tray(tray, _) => {
                self.selection.choose(Some(tray));
                Page::Shelves
            }
            About::Shelf(_, Some(_)) | About::Lamps(_) | About::Day(_) => Page::Shelves,
            About::Shelf(shelf, None) => {
                self.places.look_at_shelf(shelf);
                Page::Places
            }
            About::Place(..) => Page::Places,
        };
    }

    /// Frames the trays that want light and have none: beyond a lamp's good reach, or without a spot.
    fn mark_beyond_lamps(&mut self, day: chrono::NaiveDate) {
        self.selection.marked = without_lamp(self.history.season(), &self.derived.forecast, day);
        let framed = self.selection.marked.len();
        let said = match framed {
            0 => "as they stand on this day, each has its middle below a lamp".to_owned(),
            _ => format!("framed in red: {} beyond a lamp or without a spot on this day", counted(framed, "tray")),
        };
        if let Some(notice) = &mut self.notice {
            notice.text = format!("{}; {said}", notice.text);
        }
    }

    fn find_spots(&mut self, ctx: &Context) {
        self.derived.find(&self.history, ctx);
    }

    /// The layout that "Find spots" waits for, as soon as it is there.
    pub(super) fn take_found(&mut self, ctx: &Context) {
        let Some((found, left)) = self.derived.take_found() else { return };
        self.perform(Action::Edit(found), ctx);
        if self.notice.is_none() {
            self.notice = Some(Notice::said(match left {
                0 => "Every tray has a spot on all its days; the shelves show where".to_owned(),
                _ => format!("All that have room have a spot; {} without one for some days", counted(left, "tray")),
            }));
        }
    }

    fn scene_with<'a>(&'a self, forecast: &'a crate::forecast::Forecast) -> Scene<'a> {
        Scene {
            season: self.history.season(),
            library: self.library,
            forecast,
            outlook: None,
            outlook_is_fresh: false,
            chance: None,
            day: self.shown.day,
            unit: self.view.units.length_unit(),
            selection: &self.selection,
            from_day: self.from_day,
            revision: self.history.revision(),
        }
    }

    fn copy_trays(&mut self, ctx: &Context) {
        let forecast = std::sync::Arc::clone(&self.derived.forecast);
        let scene = self.scene_with(&forecast);
        let chosen = scene.chosen();
        if chosen.is_empty() {
            return;
        }
        let (copied, table) = (arrangement(&chosen), scene.words().as_table(&chosen));
        self.notice = Some(Notice::said(format!("Copied {} as a table", counted(chosen.len(), "tray"))));
        self.board.copied = copied;
        ctx.copy_text(table);
    }

    fn find_spot_for(&mut self, tray: TrayKey, ctx: &Context) {
        let forecast = std::sync::Arc::clone(&self.derived.forecast);
        let scene = self.scene_with(&forecast);
        let at = scene.on_day();
        let Some(stay) = at.stay_of(tray) else { return };
        let action = match free_spot(&at, stay, None) {
            Some(spot) => Action::Edit(put(&at, stay, spot, false)),
            None => Action::Complain(format!("No shelf has a free spot for {} on this day", scene.mark(stay))),
        };
        self.perform(action, ctx);
    }

    fn unless_unsaved(&mut self, after: After, ctx: &Context) {
        if self.files.unsaved() {
            self.files.ask_before(after);
        } else {
            self.go_on(after, ctx);
        }
    }

    /// What cannot be opened is said before anything is asked about what is open.
    fn open(&mut self, path: PathBuf, ctx: &Context) {
        if self.files.unsaved()
            && let Err(why) = store::load(&path)
        {
            self.not_opened(&why);
            return;
        }
        self.unless_unsaved(After::OpenPath(path), ctx);
    }

    fn not_opened(&mut self, why: &store::FileError) {
        let Some(why) = self.files.refuse(format!("Not opened: {why}")) else { return };
        if self.trouble.is_some() {
            self.trouble = Some(why);
        } else {
            self.notice = Some(Notice::complaint(why));
        }
    }

    /// After the question was answered, or did not have to be asked.
    fn go_on(&mut self, after: After, ctx: &Context) {
        self.files.question = None;
        match after {
            After::Close => {
                self.files.let_go();
                self.leaving = Leaving::Now;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            After::OpenSample => {
                self.files.let_go();
                self.take_season(store::sample(), None, ctx);
            }
            After::OpenPath(path) => match store::load(&path) {
                Ok(season) => {
                    self.remember(&path);
                    self.files.let_go();
                    self.take_season(season, Some(path), ctx);
                    self.notice = self.files.look_for_unsaved(self.library).map(Notice::complaint);
                }
                Err(why) => self.not_opened(&why),
            },
            After::NewSeason => {
                self.files.let_go();
                self.take_season(Season::new("New season"), None, ctx);
                self.view.page = Page::Start;
            }
            After::NextYear(year) => self.open_next_year(year, ctx),
        }
    }

    /// The old season stays in its file as it is; the new one has none yet.
    fn open_next_year(&mut self, year: i32, ctx: &Context) {
        let next = match forecast::next_year(self.history.season(), self.library, year) {
            Ok(next) => next.season,
            Err(why) => {
                self.notice = Some(Notice::complaint(format!("Not made: {why}")));
                return;
            }
        };
        let before = self.history.season().name().to_owned();
        self.files.let_go();
        self.take_season(next, None, ctx);
        self.files.in_no_file(self.history.season());
        self.view.page = Page::Sowings;
        let said = format!("{}, made from {before}; it is not in a file yet", self.history.season().name());
        self.notice = Some(Notice::said(said));
    }

    fn take_season(&mut self, season: Season, path: Option<PathBuf>, ctx: &Context) {
        let settled = Files::new(path, &season);
        self.files.replace(settled);
        self.history = crate::season::History::new(season);
        self.derived = Derived::default();
        self.selection = Selection::default();
        self.gesture = Gesture::None;
        self.board = BoardView::default();
        self.sowings = SowingsPage::default();
        self.guests = GuestsPage::default();
        self.places = PlacesView::default();
        self.containers = ContainersPage::default();
        self.crops = CropsPage::default();
        self.records = RecordsPage::default();
        self.days = DaysPage::default();
        self.next_year = NextYearPage::default();
        self.start = StartPage::default();
        self.frost = FrostPage::default();
        self.sowing_table = SowingTablePage::default();
        self.trouble = None;
        self.notice = None;
        self.shown.day = self.today;
        self.derived.follow(&self.history, self.library, ctx);
        self.first_day();
    }

    fn save(&mut self, ctx: &Context) {
        match self.files.path.clone() {
            Some(path) => self.save_to(path, ctx),
            None => self.files.ask_where_to_save(ctx, self.history.season(), &self.view, false),
        }
    }

    /// Under its own name if it is there already, else under one that no other file has.
    fn save_in_folder(&mut self, ctx: &Context) {
        let Some(folder) = self.files.desktop().seasons_folder() else {
            self.notice =
                Some(Notice::complaint("No folder for documents is known here; use Save under a path".to_owned()));
            return;
        };
        let own = self.files.path.clone().filter(|path| path.parent() == Some(&folder));
        let path = own.unwrap_or_else(|| files::free_name(&folder, self.history.season().name(), Path::exists));
        self.save_to(path, ctx);
    }

    fn save_to(&mut self, path: PathBuf, ctx: &Context) {
        // Ours is made when it is first needed; where that fails, saving says why.
        if let Some(folder) = self.files.desktop().seasons_folder()
            && path.parent() == Some(&folder)
        {
            std::fs::create_dir_all(&folder).ok();
        }
        match store::save(&path, self.history.season()) {
            Ok(()) => {
                self.remember(&path);
                let full = std::fs::canonicalize(&path).unwrap_or_else(|_| path.clone());
                self.files.saved(path, self.history.season());
                self.notice = Some(Notice::about_file(format!("Saved to {}", full.display()), full));
                if let Some(after) = self.files.after_saving.take() {
                    self.go_on(after, ctx);
                }
            }
            Err(why) => {
                self.files.question = None;
                if let Some(why) = self.files.refuse(format!("Not saved: {why}")) {
                    self.files.after_saving = None;
                    self.notice = Some(Notice::complaint(why));
                }
            }
        }
    }

    fn open_folder(&mut self, folder: &Path) {
        if let Err(why) = self.files.desktop().open_folder(folder) {
            let said = format!("No program showed the folder {}: {why}", folder.display());
            self.notice = Some(Notice::complaint(said));
        }
    }

    pub(super) fn remember(&mut self, path: &Path) {
        let Ok(path) = std::path::absolute(path) else { return };
        self.view.last_folder = path.parent().map(Into::into);
        files::remember(&mut self.view.recent, &path);
    }

    /// From a field, or on a page that does not show what changed, a step is not taken back in silence.
    pub(super) fn step_named(&mut self, action: Action, ctx: &Context) {
        let words = self.words();
        let said = match action {
            Action::Undo => self.history.undo_label().map(|label| format!("Taken back: {}", words.edit(label))),
            _ => self.history.redo_label().map(|label| format!("Done again: {}", words.edit(label))),
        };
        if let Some(said) = said {
            self.perform(action, ctx);
            self.notice = Some(Notice::said(said));
        }
    }
}
