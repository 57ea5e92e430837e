//! Which season is open, and what is on the disk.

use std::path::{Path, PathBuf};

use egui::{Context, ViewportCommand};

use crate::forecast;
use crate::season::Season;
use crate::store::{self, Elsewhere, Expected, Loaded, NotSaved, RealDisk};
use crate::window::action::{After, File};
use crate::window::app::{App, Leaving};
use crate::window::files::{self, Files};
use crate::window::notice::Notice;
use crate::window::open::Open;
use crate::window::pages::sowing_table::SowingTablePage;
use crate::window::state::Page;
use crate::words::{self, notices};

impl App {
    pub(super) fn perform_file(&mut self, asked: File, ctx: &Context) {
        match asked {
            // What could not be read must not be written over by what is not there.
            File::Save | File::SaveAs | File::SaveTo(_) | File::SaveByPath | File::SaveInFolder
                if self.open.trouble.is_some() => {}
            // Asked about unsaved changes is only who has chosen something to open.
            File::Open => self.files.ask_what_to_open(ctx, &self.view, false),
            File::OpenByPath => self.files.ask_what_to_open(ctx, &self.view, true),
            File::OpenSample => self.unless_unsaved(After::OpenSample, ctx),
            File::OpenPath(path) => self.open(path, ctx),
            File::NewSeason => self.unless_unsaved(After::NewSeason, ctx),
            File::OpenNextYear(year) => self.unless_unsaved(After::NextYear(year), ctx),
            File::Close => self.unless_unsaved(After::Close, ctx),
            File::Save => self.save(ctx),
            File::SaveAs => self.files.ask_where_to_save(ctx, self.open.history.season(), &self.view, false),
            File::SaveByPath => self.files.ask_where_to_save(ctx, self.open.history.season(), &self.view, true),
            File::SaveInFolder => self.save_in_folder(ctx),
            File::ForgetRecent => {
                self.view.recent.clear();
                self.view.recent_names.clear();
            }
            File::CopyText(text) => ctx.copy_text(text),
            File::OpenFolder(folder) => self.open_folder(&folder),
            File::ChooseWeather => self.files.ask_for_weather(ctx, &self.view),
            File::ReadWeather(path) => {
                self.files.give_up_path();
                self.view.page = Page::Frost;
                self.open.pages.frost.read(path, &mut self.open.drafts, ctx);
            }
            File::ChooseTable => self.files.ask_for_table(ctx, &self.view),
            File::ReadTable(path) => {
                self.files.give_up_path();
                self.view.page = Page::SowingTable;
                let (scene, open) = self.open.parts(self.library, self.view.units.length_unit(self.open.derived.unit));
                open.pages.sowing_table.read(path, &scene, ctx);
            }
            File::LeaveTable => {
                self.open.pages.sowing_table = SowingTablePage::default();
                self.show_page(Page::Sowings);
            }
            File::SaveTo(path) => self.save_to(path, ctx),
            File::SaveThen(after) => {
                self.files.after_saving = Some(after);
                match (self.files.elsewhere(), self.files.path.clone()) {
                    // The question has said that it is gone.
                    (Some(Elsewhere::Gone), Some(path)) => self.write_to(path, Expected::Only(None), ctx),
                    _ => self.save(ctx),
                }
            }
            File::DontSave(after) => self.go_on(after, ctx),
            File::Keep(asked) => self.perform_keep(asked, ctx),
        }
    }

    pub(super) fn unless_unsaved(&mut self, after: After, ctx: &Context) {
        self.files.look(self.open.history.season());
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

    pub(super) fn not_opened(&mut self, why: &store::FileError) {
        let file = why.path.clone();
        let Some(why) = self.files.refuse(notices::not_opened(why)) else { return };
        if self.open.trouble.is_some() {
            self.open.trouble = Some(why);
        } else {
            self.open.notice = Some(Notice::not_opened(why, file));
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
            After::OpenPath(path) => match store::load_whole(&RealDisk, &path) {
                Ok(loaded) => {
                    self.remember(&path, &loaded.season);
                    self.files.let_go();
                    self.take_loaded(loaded, path, ctx);
                    self.open.notice = self.files.look_for_unsaved(self.library).map(Notice::complaint);
                }
                Err(why) => self.not_opened(&why),
            },
            After::NewSeason => {
                self.files.let_go();
                self.take_season(Season::new(words::menu::NEW), None, ctx);
                self.view.page = Page::Start;
            }
            After::OpenVersion(version) => self.open_version(version, ctx),
            After::NextYear(year) => self.open_next_year(year, ctx),
        }
    }

    /// The old season stays in its file as it is; the new one has none yet.
    fn open_next_year(&mut self, year: i32, ctx: &Context) {
        let next = match forecast::next_year(self.open.history.season(), self.library, year, words::own_records) {
            Ok(next) => next.season,
            Err(why) => {
                self.open.notice = Some(Notice::complaint(notices::not_made(words::no_next_year(&why))));
                return;
            }
        };
        let before = self.open.history.season().name().to_owned();
        self.files.let_go();
        self.take_season(next, None, ctx);
        self.files.in_no_file(self.open.history.season());
        self.view.page = Page::Sowings;
        let said = notices::made_from(self.open.history.season().name(), &before);
        self.open.notice = Some(Notice::said(said));
    }

    /// Opens it in the place of the one that is open.
    pub(super) fn take_season(&mut self, season: Season, path: Option<PathBuf>, ctx: &Context) {
        self.take(Files::new(path, &season), season, ctx);
    }

    pub(super) fn take_loaded(&mut self, loaded: Loaded, path: PathBuf, ctx: &Context) {
        self.take(Files::of(path, &loaded), loaded.season, ctx);
    }

    fn take(&mut self, files: Files, season: Season, ctx: &Context) {
        self.files.replace(files);
        self.open = Open::new(season, self.today);
        self.view.trail.clear();
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
            self.open.notice = Some(Notice::complaint(notices::NO_DOCUMENTS.to_owned()));
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
        if !self.files.is_own(&path) {
            return self.write_to(path, Expected::Anything, ctx);
        }
        let season = self.open.history.season();
        self.files.look(season);
        if !self.files.unsaved() && self.files.elsewhere().is_none() {
            self.files.give_up_path();
            self.open.notice = Some(Notice::about_file(notices::nothing_to_save(&path), path));
            return self.go_on_after_saving(ctx);
        }
        if self.files.ask_before_saving(season) {
            self.files.give_up_path();
            self.files.question = None;
            return;
        }
        self.write_to(path, self.files.expected(), ctx);
    }

    pub(super) fn write_to(&mut self, path: PathBuf, over: Expected, ctx: &Context) {
        let season = self.open.history.season();
        match store::save_over(&RealDisk, &path, season, over) {
            Ok(content) => {
                self.files.saved(path.clone(), season, content);
                let season = season.clone();
                self.remember(&path, &season);
                let full = std::fs::canonicalize(&path).unwrap_or(path);
                self.open.notice = Some(Notice::about_file(notices::saved_to(&full), full));
                self.go_on_after_saving(ctx);
            }
            // It came between looking and writing: looked at again, and asked.
            Err(NotSaved::Elsewhere(_)) => self.save_to(path, ctx),
            Err(NotSaved::File(why)) => {
                self.files.question = None;
                if let Some(why) = self.files.refuse(notices::not_saved(why)) {
                    self.files.after_saving = None;
                    self.open.notice = Some(Notice::complaint(why));
                }
            }
        }
    }

    fn go_on_after_saving(&mut self, ctx: &Context) {
        if let Some(after) = self.files.after_saving.take() {
            self.go_on(after, ctx);
        }
    }

    fn open_folder(&mut self, folder: &Path) {
        if let Err(why) = self.files.desktop().open_folder(folder) {
            let said = notices::no_program_for_folder(folder, why);
            self.open.notice = Some(Notice::complaint(said));
        }
    }

    pub(in crate::window) fn remember(&mut self, path: &Path, season: &Season) {
        let Ok(path) = std::path::absolute(path) else { return };
        self.view.last_folder = path.parent().map(Into::into);
        files::remember(&mut self.view.recent, &path);
        let name = words::start::named_with_year(season.name(), forecast::year_of(season));
        files::remember_name(&mut self.view.recent_names, &self.view.recent, &path, name);
    }
}
