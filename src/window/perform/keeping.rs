//! What becomes of work that is in no file, or in another than it seemed.

use egui::Context;

use crate::store::{self, Elsewhere, Expected, RealDisk};
use crate::window::action::{After, EarlierVersion, Keep};
use crate::window::app::App;
use crate::window::files::Asked;
use crate::window::notice::Notice;
use crate::words::notices;

impl App {
    pub(super) fn perform_keep(&mut self, asked: Keep, ctx: &Context) {
        match asked {
            Keep::Decide => {
                self.files.look(self.open.history.season());
                if self.files.elsewhere().is_some() {
                    self.files.ask_before_saving(self.open.history.season());
                }
            }
            Keep::Mine => self.keep_mine(ctx),
            Keep::Theirs => self.take_theirs(ctx),
            Keep::UnderAnotherName => {
                self.files.asked = None;
                self.files.ask_where_to_save(ctx, self.open.history.season(), &self.view, false);
            }
            Keep::ShowVersions(of) => {
                let of = of.or_else(|| self.files.path.clone());
                if let Some(why) = self.files.show_earlier(of.as_deref(), self.open.history.season()) {
                    self.open.notice = Some(Notice::complaint(why));
                }
            }
            Keep::OpenVersion(version) => self.unless_unsaved(After::OpenVersion(version), ctx),
            Keep::TakeRecovered => {
                if let Some(recovery) = self.files.take_recovered() {
                    self.files.let_go();
                    self.take_season(recovery.season.clone(), recovery.of.clone(), ctx);
                    self.files.keep_recovered(recovery);
                }
            }
            Keep::LeaveRecovered => self.files.leave_recovered(),
            Keep::DropRecovered => {
                if let Err(why) = self.files.drop_recovered() {
                    self.open.notice = Some(Notice::complaint(why));
                }
            }
        }
    }

    /// In the place of the season that is open; nothing is written until it is saved.
    pub(super) fn open_version(&mut self, version: EarlierVersion, ctx: &Context) {
        match store::load(&version.file) {
            Ok(season) => {
                self.files.let_go();
                self.take_season(season, version.of, ctx);
                let season = self.open.history.season();
                self.files.in_no_file(season);
                self.open.notice = Some(Notice::said(notices::version_opened(season.name())));
            }
            Err(why) => {
                self.files.give_up_versions();
                self.not_opened(&why);
            }
        }
    }

    /// Over what the grower was told of, and nothing that came later.
    fn keep_mine(&mut self, ctx: &Context) {
        let (Some(asked), Some(path)) = (self.files.asked.take(), self.files.path.clone()) else { return };
        let over = match asked {
            Asked::Elsewhere(Elsewhere::Changed(found), _) => Expected::Only(Some(found)),
            Asked::Elsewhere(Elsewhere::Gone, _) => Expected::Only(None),
            Asked::Comments => self.files.expected(),
        };
        self.write_to(path, over, ctx);
    }

    fn take_theirs(&mut self, ctx: &Context) {
        (self.files.asked, self.files.after_saving) = (None, None);
        let Some(path) = self.files.path.clone() else { return };
        match store::load_whole(&RealDisk, &path) {
            Ok(loaded) => {
                let said = notices::took_theirs(&path, self.files.unsaved());
                self.files.let_go();
                self.take_loaded(loaded, path, ctx);
                self.open.notice = Some(Notice::said(said));
            }
            Err(why) => self.not_opened(&why),
        }
    }
}
