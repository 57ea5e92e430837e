//! Carries out what was asked for; the only place that changes the season, the day, the view.

mod changing;
mod doing;
mod filing;
mod going;
mod keeping;

use egui::Context;

use crate::words::Words;

use super::action::Action;
use super::app::App;
use super::scene::Scene;

impl App {
    pub(super) fn perform(&mut self, action: Action, ctx: &Context) {
        let before = self.view.page;
        match action {
            Action::Do(asked) => self.perform_do(asked, ctx),
            Action::Go(to) => self.perform_go(to, ctx),
            Action::File(asked) => self.perform_file(asked, ctx),
        }
        self.view.came_from(before);
    }

    fn words(&self) -> Words<'_> {
        self.open.words(self.library, self.view.units.length_unit(self.open.derived.unit))
    }

    fn scene(&self) -> Scene<'_> {
        self.open.scene(self.library, self.view.units.length_unit(self.open.derived.unit))
    }
}
