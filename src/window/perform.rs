//! Carries out what was asked for; the only place that changes the season, the day, the view.

use std::path::{Path, PathBuf};

use egui::{Context, ViewportCommand};

use crate::forecast::{self, About, Problem};
use crate::outlook::{arrange, arrangement, free_spot, put, without_lamp};
use crate::season::{Edit, EditError, EditLabel, Season, TrayKey};
use crate::store;
use crate::words;
use crate::words::Words;

use super::action::Action;
use super::app::{App, Leaving};
use super::files::{self, After, Files};
use super::notice::Notice;
use super::open::Open;
use super::pages::sowing_table::SowingTablePage;
use super::scene::{Scene, counted};
use super::state::Page;

impl App {
    pub(super) fn perform(&mut self, action: Action, ctx: &Context) {
        match action {
            Action::Edit(edit) => {
                self.open.notice = None;
                if let Err(why) = self.open.history.commit(&edit) {
                    self.refused(&why);
                }
                self.changed(ctx);
            }
            Action::Undo => {
                if self.open.history.undo() {
                    self.open.notice = None;
                    self.changed(ctx);
                }
            }
            Action::Redo => {
                if self.open.history.redo() {
                    self.open.notice = None;
                    self.changed(ctx);
                }
            }
            Action::Select(tray) => {
                self.open.selection.choose(tray);
                if tray.is_none() {
                    self.open.selection.marked.clear();
                }
            }
            Action::ShowDay(day) => self.open.shown.day = day,
            Action::ChooseToo(tray) => self.open.selection.toggle(tray),
            Action::Choose(trays) => {
                self.open.selection.choose(trays.first().copied());
                self.open.selection.more = trays.into_iter().skip(1).collect();
            }
            Action::Lead(tray) => self.open.selection.lead(tray),
            Action::Nudge(edit) => self.nudge(&edit, ctx),
            Action::CopyTrays => self.copy_trays(ctx),
            Action::PasteTrays => {
                let scene = self.scene();
                let action = match arrange(&scene.on_day(), &self.open.board.copied, self.open.board.shelf) {
                    Ok(edit) => Action::Edit(edit),
                    Err(why) => Action::Complain(scene.words().not_arranged(&why)),
                };
                self.perform(action, ctx);
            }
            Action::Highlight(sowing) => self.open.selection.sowing = sowing,
            Action::ShowLater(shown) => self.open.selection.later = shown,
            Action::ShowPool(pool) => self.open.pool = pool,
            Action::ShowPage(page) => {
                // what was said was said of the page before
                if page != self.view.page {
                    self.open.notice = None;
                }
                self.view.page = page;
            }
            Action::ShowCrunch(at) => self.show_crunch(at),
            Action::ShowProblem(at) => self.show_problem(at),
            Action::LookAtSowing(sowing) => self.open.pages.sowings.look_at(sowing),
            Action::LookAtRecords(sowing) => {
                self.open.pages.records.look_at(sowing);
                self.view.page = Page::Records;
            }
            Action::LookAtRack(rack) => {
                self.open.pages.places.look_at_rack(rack);
                self.view.page = Page::Places;
            }
            Action::Play(playing) => {
                self.open.shown.playing = playing;
                self.open.shown.next_step_at = ctx.input(|i| i.time);
            }
            Action::FindSpots => self.find_spots(ctx),
            Action::FindSpotFor(tray) => self.find_spot_for(tray, ctx),
            Action::StopWork => self.open.derived.stop(),
            Action::WorkItOut => {
                self.open.derived.restart();
                self.open.derived.follow(&self.open.history, self.library, ctx);
            }
            Action::FitToView(fit) => self.open.board.fit_wanted = Some(fit),
            Action::Units(units) => self.view.units = units,
            Action::Theme(theme) => {
                self.view.theme = Some(theme);
                ctx.set_theme(theme);
            }
            Action::InterfaceZoom(factor) => ctx.set_zoom_factor((factor * 10.0).round().clamp(5.0, 30.0) / 10.0),
            Action::HideHint => self.view.hint_hidden = true,
            Action::Complain(text) => self.open.notice = Some(Notice::complaint(text)),
            Action::HideNotice => self.open.notice = None,
            other => self.perform_on_files(other, ctx),
        }
    }

    fn perform_on_files(&mut self, action: Action, ctx: &Context) {
        match action {
            // What could not be read must not be written over by what is not there.
            Action::Save | Action::SaveAs | Action::SaveTo(_) | Action::SaveByPath | Action::SaveInFolder
                if self.open.trouble.is_some() => {}
            // Asked about unsaved changes is only who has chosen something to open.
            Action::Open => self.files.ask_what_to_open(ctx, &self.view, false),
            Action::OpenByPath => self.files.ask_what_to_open(ctx, &self.view, true),
            Action::OpenSample => self.unless_unsaved(After::OpenSample, ctx),
            Action::OpenPath(path) => self.open(path, ctx),
            Action::NewSeason => self.unless_unsaved(After::NewSeason, ctx),
            Action::OpenNextYear(year) => self.unless_unsaved(After::NextYear(year), ctx),
            Action::Close => self.unless_unsaved(After::Close, ctx),
            Action::Save => self.save(ctx),
            Action::SaveAs => self.files.ask_where_to_save(ctx, self.open.history.season(), &self.view, false),
            Action::SaveByPath => self.files.ask_where_to_save(ctx, self.open.history.season(), &self.view, true),
            Action::SaveInFolder => self.save_in_folder(ctx),
            Action::ForgetRecent => self.view.recent.clear(),
            Action::CopyText(text) => ctx.copy_text(text),
            Action::OpenFolder(folder) => self.open_folder(&folder),
            Action::ChooseWeather => self.files.ask_for_weather(ctx, &self.view),
            Action::ReadWeather(path) => {
                self.files.give_up_path();
                self.view.page = Page::Frost;
                self.open.pages.frost.read(path, ctx);
            }
            Action::ChooseTable => self.files.ask_for_table(ctx, &self.view),
            Action::ReadTable(path) => {
                self.files.give_up_path();
                self.view.page = Page::SowingTable;
                let (scene, open) = self.open.parts(self.library, self.view.units.length_unit());
                open.pages.sowing_table.read(path, &scene, ctx);
            }
            Action::LeaveTable => {
                self.open.pages.sowing_table = SowingTablePage::default();
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
                    self.open.notice = Some(Notice::complaint(why));
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
        let goes_on = self.open.nudged.is_some_and(|(at, revision)| {
            now - at <= PAUSE_S && revision == self.open.history.revision() && same(self.open.history.undo_label())
        });
        let done = if goes_on { self.open.history.add_to_last(edit) } else { self.open.history.commit(edit) };
        self.open.notice = None;
        if let Err(why) = done {
            self.refused(&why);
        }
        self.open.nudged = Some((now, self.open.history.revision()));
        self.changed(ctx);
    }

    fn refused(&mut self, why: &EditError) {
        self.open.notice = Some(Notice::complaint(format!("Not done: {}", words::refusal(why))));
    }

    /// What is derived follows at once, so that the next frame draws one truth.
    pub(super) fn changed(&mut self, ctx: &Context) {
        self.open.changed(self.library, ctx);
        self.files.season_changed(self.open.history.season(), self.open.history.revision());
    }

    fn show_crunch(&mut self, at: usize) {
        let Some(crunch) = self.open.derived.outlook.as_ref().and_then(|outlook| outlook.crunches.get(at)) else {
            return;
        };
        self.open.shown.day = crunch.worst_day;
        self.open.shown.playing = false;
        self.open.pool = crunch.pool.kind;
        self.open.selection.marked = crunch.proof.iter().copied().collect();
        let words = self.words();
        self.open.notice = Some(Notice::said(format!("Framed in red: {}", words.reason(crunch))));
        self.view.page = Page::Shelves;
    }

    fn words(&self) -> Words<'_> {
        self.open.words(self.library, self.view.units.length_unit())
    }

    fn scene(&self) -> Scene<'_> {
        self.open.scene(self.library, self.view.units.length_unit())
    }

    fn show_problem(&mut self, at: usize) {
        let Some(problem) = self.open.derived.problems.get(at) else { return };
        let about = problem.about();
        let of_days = matches!(problem, Problem::NobodyThere { .. } | Problem::NobodyWaters { .. });
        let of_records = matches!(problem, Problem::TooFew { .. });
        let words = self.words();
        self.open.notice = Some(Notice::said(words.problem(problem)));
        let day = match about {
            About::Tray(tray, None) => self.open.derived.forecast.stays_of(tray).map(|stay| stay.span.from()).min(),
            About::Tray(_, day) | About::Shelf(_, day) => day,
            About::Place(_, day) | About::Lamps(day) | About::Day(day) => Some(day),
            About::Season | About::Sowing(_) => None,
        };
        if let Some(day) = day {
            self.open.shown.day = day;
            self.open.shown.playing = false;
        }
        if let About::Lamps(day) = about {
            self.mark_beyond_lamps(day);
        }
        self.view.page = match about {
            _ if of_days => Page::Days,
            About::Sowing(sowing) if of_records => {
                self.open.pages.records.look_at(sowing);
                Page::Records
            }
            About::Season => Page::Start,
            About::Sowing(sowing) => {
                self.open.pages.sowings.look_at(sowing);
                Page::Sowings
            }
            About::Tray(tray, _) => {
                self.open.selection.choose(Some(tray));
                Page::Shelves
            }
            About::Shelf(_, Some(_)) | About::Lamps(_) | About::Day(_) => Page::Shelves,
            About::Shelf(shelf, None) => {
                self.open.pages.places.look_at_shelf(shelf);
                Page::Places
            }
            About::Place(..) => Page::Places,
        };
    }

    /// Frames the trays that want light and have none: beyond a lamp's good reach, or without a spot.
    fn mark_beyond_lamps(&mut self, day: chrono::NaiveDate) {
        self.open.selection.marked = without_lamp(self.open.history.season(), &self.open.derived.forecast, day);
        let framed = self.open.selection.marked.len();
        let said = match framed {
            0 => "as they stand on this day, each has its middle below a lamp".to_owned(),
            _ => format!("framed in red: {} beyond a lamp or without a spot on this day", counted(framed, "tray")),
        };
        if let Some(notice) = &mut self.open.notice {
            notice.text = format!("{}; {said}", notice.text);
        }
    }

    fn find_spots(&mut self, ctx: &Context) {
        self.open.derived.find(&self.open.history, ctx);
    }

    /// The layout that "Find spots" waits for, as soon as it is there.
    pub(super) fn take_found(&mut self, ctx: &Context) {
        let Some((found, left)) = self.open.derived.take_found() else { return };
        self.perform(Action::Edit(found), ctx);
        if self.open.notice.is_none() {
            self.open.notice = Some(Notice::said(match left {
                0 => "Every tray has a spot on all its days; the shelves show where".to_owned(),
                _ => format!("All that have room have a spot; {} without one for some days", counted(left, "tray")),
            }));
        }
    }

    fn copy_trays(&mut self, ctx: &Context) {
        let scene = self.scene();
        let chosen = scene.chosen();
        if chosen.is_empty() {
            return;
        }
        let (copied, table) = (arrangement(&chosen), scene.words().as_table(&chosen));
        let said = format!("Copied {} as a table", counted(chosen.len(), "tray"));
        self.open.notice = Some(Notice::said(said));
        self.open.board.copied = copied;
        ctx.copy_text(table);
    }

    fn find_spot_for(&mut self, tray: TrayKey, ctx: &Context) {
        let scene = self.scene();
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
        if self.open.trouble.is_some() {
            self.open.trouble = Some(why);
        } else {
            self.open.notice = Some(Notice::complaint(why));
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
                    self.open.notice = self.files.look_for_unsaved(self.library).map(Notice::complaint);
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
        let next = match forecast::next_year(self.open.history.season(), self.library, year) {
            Ok(next) => next.season,
            Err(why) => {
                self.open.notice = Some(Notice::complaint(format!("Not made: {}", words::no_next_year(&why))));
                return;
            }
        };
        let before = self.open.history.season().name().to_owned();
        self.files.let_go();
        self.take_season(next, None, ctx);
        self.files.in_no_file(self.open.history.season());
        self.view.page = Page::Sowings;
        let said = format!("{}, made from {before}; it is not in a file yet", self.open.history.season().name());
        self.open.notice = Some(Notice::said(said));
    }

    /// Opens it in the place of the one that is open.
    fn take_season(&mut self, season: Season, path: Option<PathBuf>, ctx: &Context) {
        self.files.replace(Files::new(path, &season));
        self.open = Open::new(season, self.today);
        self.open.follow(self.library, ctx);
    }

    fn save(&mut self, ctx: &Context) {
        match self.files.path.clone() {
            Some(path) => self.save_to(path, ctx),
            None => self.files.ask_where_to_save(ctx, self.open.history.season(), &self.view, false),
        }
    }

    /// Under its own name if it is there already, else under one that no other file has.
    fn save_in_folder(&mut self, ctx: &Context) {
        let Some(folder) = self.files.desktop().seasons_folder() else {
            self.open.notice =
                Some(Notice::complaint("No folder for documents is known here; use Save under a path".to_owned()));
            return;
        };
        let own = self.files.path.clone().filter(|path| path.parent() == Some(&folder));
        let path = own.unwrap_or_else(|| files::free_name(&folder, self.open.history.season().name(), Path::exists));
        self.save_to(path, ctx);
    }

    fn save_to(&mut self, path: PathBuf, ctx: &Context) {
        // Ours is made when it is first needed; where that fails, saving says why.
        if let Some(folder) = self.files.desktop().seasons_folder()
            && path.parent() == Some(&folder)
        {
            std::fs::create_dir_all(&folder).ok();
        }
        match store::save(&path, self.open.history.season()) {
            Ok(()) => {
                self.remember(&path);
                let full = std::fs::canonicalize(&path).unwrap_or_else(|_| path.clone());
                self.files.saved(path, self.open.history.season());
                self.open.notice = Some(Notice::about_file(format!("Saved to {}", full.display()), full));
                if let Some(after) = self.files.after_saving.take() {
                    self.go_on(after, ctx);
                }
            }
            Err(why) => {
                self.files.question = None;
                if let Some(why) = self.files.refuse(format!("Not saved: {why}")) {
                    self.files.after_saving = None;
                    self.open.notice = Some(Notice::complaint(why));
                }
            }
        }
    }

    fn open_folder(&mut self, folder: &Path) {
        if let Err(why) = self.files.desktop().open_folder(folder) {
            let said = format!("No program showed the folder {}: {why}", folder.display());
            self.open.notice = Some(Notice::complaint(said));
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
            Action::Undo => self.open.history.undo_label().map(|label| format!("Taken back: {}", words.edit(label))),
            _ => self.open.history.redo_label().map(|label| format!("Done again: {}", words.edit(label))),
        };
        if let Some(said) = said {
            self.perform(action, ctx);
            self.open.notice = Some(Notice::said(said));
        }
    }
}
