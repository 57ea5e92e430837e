//! Carries out what was asked for; the only place that changes the season, the day, the view.

use egui::{Context, ViewportCommand};

use crate::forecast::About;
use crate::season::{EditError, Season, TrayKey};
use crate::store;
use crate::words::Words;

use super::action::Action;
use super::app::App;
use super::containers::ContainersPage;
use super::crops::CropsPage;
use super::derived::Derived;
use super::files::{After, Files};
use super::guests::GuestsPage;
use super::notice::Notice;
use super::places::PlacesView;
use super::seen::{Seen, counted};
use super::shelves;
use super::sowings::SowingsPage;
use super::start::StartPage;
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
                self.selection.tray = tray;
                if tray.is_none() {
                    self.selection.marked.clear();
                }
            }
            Action::ShowDay(day) => self.shown.day = day,
            Action::ShowPool(pool) => self.pool = pool,
            Action::ShowPage(page) => self.view.page = page,
            Action::ShowCrunch(at) => self.show_crunch(at),
            Action::ShowProblem(at) => self.show_problem(at),
            Action::LookAtSowing(sowing) => self.sowings.look_at(sowing),
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
            Action::InterfaceZoom(factor) => ctx.set_zoom_factor(factor.clamp(0.5, 3.0)),
            Action::HideHint => self.view.hint_hidden = true,
            Action::Complain(text) => self.notice = Some(Notice::complaint(text)),
            Action::HideNotice => self.notice = None,
            other => self.perform_on_files(other, ctx),
        }
    }

    fn perform_on_files(&mut self, action: Action, ctx: &Context) {
        match action {
            // What could not be read must not be written over by what is not there.
            Action::Save | Action::SaveAs | Action::SaveTo(_) if self.trouble.is_some() => {}
            Action::Open => self.unless_unsaved(After::Open, ctx),
            Action::OpenSample => self.unless_unsaved(After::OpenSample, ctx),
            Action::OpenPath(path) => self.unless_unsaved(After::OpenPath(path), ctx),
            Action::NewSeason => self.unless_unsaved(After::NewSeason, ctx),
            Action::Close => self.unless_unsaved(After::Close, ctx),
            Action::Save => self.save(ctx),
            Action::SaveAs => self.files.ask_where_to_save(ctx, self.history.season(), &self.view),
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
        self.selection.tray = self.selection.tray.filter(|tray| forecast.marks.contains_key(tray));
        self.selection.marked.retain(|tray| forecast.marks.contains_key(tray));
        self.files.season_changed(self.history.season(), self.history.revision());
    }

    fn show_crunch(&mut self, at: usize) {
        let Some(crunch) = self.derived.outlook.as_ref().and_then(|outlook| outlook.crunches.get(at)) else { return };
        self.shown.day = crunch.worst_day;
        self.shown.playing = false;
        self.pool = crunch.pool.kind;
        self.selection.marked = crunch.proof.iter().copied().collect();
        let words = Words {
            season: self.history.season(),
            library: self.library,
            forecast: &self.derived.forecast,
            unit: self.view.units.length_unit(),
        };
        self.notice = Some(Notice::said(format!("Framed in red: {}", words.reason(crunch))));
        self.view.page = Page::Shelves;
    }

    fn show_problem(&mut self, at: usize) {
        let Some(problem) = self.derived.problems.get(at) else { return };
        let about = problem.about();
        let words = Words {
            season: self.history.season(),
            library: self.library,
            forecast: &self.derived.forecast,
            unit: self.view.units.length_unit(),
        };
        self.notice = Some(Notice::said(words.problem(problem)));
        let day = match about {
            About::Tray(tray, None) => self.derived.forecast.stays_of(tray).map(|stay| stay.span.from()).min(),
            About::Tray(_, day) | About::Shelf(_, day) => day,
            About::Place(_, day) | About::Lamps(day) => Some(day),
            About::Season | About::Sowing(_) => None,
        };
        if let Some(day) = day {
            self.shown.day = day;
            self.shown.playing = false;
        }
        self.view.page = match about {
            About::Season => Page::Start,
            About::Sowing(sowing) => {
                self.sowings.look_at(sowing);
                Page::Sowings
            }
            About::Tray(tray, _) => {
                self.selection.tray = Some(tray);
                Page::Shelves
            }
            About::Shelf(_, Some(_)) | About::Lamps(_) => Page::Shelves,
            About::Shelf(shelf, None) => {
                self.places.look_at_shelf(shelf);
                Page::Places
            }
            About::Place(..) => Page::Places,
        };
    }

    fn find_spots(&mut self, ctx: &Context) {
        self.derived.find(&self.history, ctx);
    }

    /// The layout that "Find spots" waits for, as soon as it is there.
    pub(super) fn take_found(&mut self, ctx: &Context) {
        let Some((found, left)) = self.derived.take_found() else { return };
        self.perform(Action::Edit(found), ctx);
        if self.notice.is_none() && left > 0 {
            let said = format!("All that have room have a spot; {} without one for some days", counted(left, "tray"));
            self.notice = Some(Notice::said(said));
        }
    }

    fn find_spot_for(&mut self, tray: TrayKey, ctx: &Context) {
        let forecast = std::sync::Arc::clone(&self.derived.forecast);
        let seen = Seen {
            season: self.history.season(),
            library: self.library,
            forecast: &forecast,
            outlook: None,
            outlook_is_fresh: false,
            day: self.shown.day,
            unit: self.view.units.length_unit(),
            selection: &self.selection,
            from_day: self.from_day,
        };
        let Some(stay) = shelves::stay_of(&seen, tray) else { return };
        let action = match shelves::free_spot(&seen, stay, None) {
            Some(spot) => Action::Edit(shelves::put(&seen, stay, spot, false)),
            None => Action::Complain(format!("No shelf has a free spot for {} on this day", seen.mark(stay))),
        };
        self.perform(action, ctx);
    }

    fn unless_unsaved(&mut self, after: After, ctx: &Context) {
        if self.files.unsaved() {
            self.files.question = Some(after);
        } else {
            self.go_on(after, ctx);
        }
    }

    /// After the question was answered, or did not have to be asked.
    fn go_on(&mut self, after: After, ctx: &Context) {
        self.files.question = None;
        match after {
            After::Close => {
                self.files.let_go();
                self.closing = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            After::Open => self.files.ask_what_to_open(ctx, &self.view),
            After::OpenSample => {
                self.files.let_go();
                self.take_season(store::sample(), None, ctx);
            }
            After::OpenPath(path) => match store::load(&path) {
                Ok(season) => {
                    self.remember_folder(&path);
                    self.files.let_go();
                    self.take_season(season, Some(path), ctx);
                }
                Err(why) if self.trouble.is_some() => self.trouble = Some(why.to_string()),
                Err(why) => self.notice = Some(Notice::complaint(format!("Not opened: {why}"))),
            },
            After::NewSeason => {
                self.files.let_go();
                self.take_season(Season::new("New season"), None, ctx);
                self.view.page = Page::Start;
            }
        }
    }

    fn take_season(&mut self, season: Season, path: Option<std::path::PathBuf>, ctx: &Context) {
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
        self.start = StartPage::default();
        self.trouble = None;
        self.notice = None;
        self.shown.day = self.today;
        self.derived.follow(&self.history, self.library, ctx);
        self.first_day();
    }

    fn save(&mut self, ctx: &Context) {
        match self.files.path.clone() {
            Some(path) => self.save_to(path, ctx),
            None => self.files.ask_where_to_save(ctx, self.history.season(), &self.view),
        }
    }

    fn save_to(&mut self, path: std::path::PathBuf, ctx: &Context) {
        match store::save(&path, self.history.season()) {
            Ok(()) => {
                self.remember_folder(&path);
                let full = std::fs::canonicalize(&path).unwrap_or_else(|_| path.clone());
                self.files.saved(path, self.history.season());
                self.notice = Some(Notice::said(format!("Saved to {}", full.display())));
                if let Some(after) = self.files.after_saving.take() {
                    self.go_on(after, ctx);
                }
            }
            Err(why) => {
                self.files.after_saving = None;
                self.files.question = None;
                self.notice = Some(Notice::complaint(format!("Not saved: {why}")));
            }
        }
    }

    fn remember_folder(&mut self, path: &std::path::Path) {
        self.view.last_folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).map(Into::into);
    }
}
