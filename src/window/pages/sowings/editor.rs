//! The sowing at hand: every value taken is one edit.

use std::str::FromStr;

use chrono::NaiveDate;
use egui::Ui;

use crate::season::{Op, Season, Sowing};
use crate::words::fields;

use crate::window::action::{Action, Go};
use crate::window::kit::{Drafts, Fault, Field, Owner, bare_field_ui, date, whole, whole_or_none};
use crate::window::scene::Scene;

pub(super) struct Editor<'a, 'b> {
    pub(super) scene: &'a Scene<'a>,
    /// Every change of the frame is in it, so that none replaces another.
    pub(super) sowing: Sowing,
    pub(super) actions: &'b mut Vec<Action>,
    owner: Owner,
    drafts: &'b mut Drafts,
}

fn changed(
    season: &Season,
    now: &Sowing,
    change: impl FnOnce(&mut Sowing) -> Result<(), Fault>,
) -> Result<Sowing, Fault> {
    let mut next = now.clone();
    change(&mut next)?;
    season.may(&Op::PutSowing(next.clone()).into())?;
    Ok(next)
}

impl<'a, 'b> Editor<'a, 'b> {
    pub(super) fn new(
        scene: &'a Scene<'a>,
        sowing: &Sowing,
        drafts: &'b mut Drafts,
        actions: &'b mut Vec<Action>,
    ) -> Self {
        Self { scene, sowing: sowing.clone(), actions, owner: Owner::Sowing(sowing.id), drafts }
    }

    fn take(&mut self, next: Sowing) {
        if next != self.sowing {
            self.actions.push(Action::edit(Op::PutSowing(next.clone())));
            self.sowing = next;
        }
    }

    /// A change that is chosen, not typed: what is wrong with it is said above the page.
    pub(super) fn choose(&mut self, change: impl FnOnce(&mut Sowing)) {
        let next = changed(self.scene.season, &self.sowing, |sowing| {
            change(sowing);
            Ok(())
        });
        match next {
            Ok(next) => self.take(next),
            Err(why) => self.actions.push(Action::Go(Go::Complain(fields::not_done(&why.into_text())))),
        }
    }

    /// Of a sowing that is gone.
    pub(super) fn forget_all(&mut self) {
        self.drafts.forget_all(&self.owner);
    }

    /// What is typed for a rule that is another now.
    pub(super) fn forget(&mut self, names: &[String]) {
        for name in names {
            self.drafts.forget(&self.owner, name);
        }
    }

    /// The part at `at` of `number` was taken out; what is typed for the others stays theirs. `names`
    /// gives the fields of a part.
    pub(super) fn close_up<const N: usize>(&mut self, at: usize, number: usize, names: impl Fn(usize) -> [String; N]) {
        for field in 0..N {
            let name = |at| names(at).into_iter().nth(field).unwrap_or_default();
            self.drafts.close_up(&self.owner, at, number, name);
        }
    }

    pub(super) fn field_ui(
        &mut self,
        ui: &mut Ui,
        field: &Field<'_>,
        change: impl FnOnce(&mut Sowing, &str) -> Result<(), Fault>,
    ) {
        let (season, now) = (self.scene.season, &self.sowing);
        let next = bare_field_ui(ui, self.drafts, &self.owner, field, |text| {
            changed(season, now, |sowing| change(sowing, text))
        });
        if let Some(next) = next {
            self.take(next);
        }
    }

    pub(super) fn text_ui(&mut self, ui: &mut Ui, field: &Field<'_>, set: impl FnOnce(&mut Sowing, String)) {
        self.field_ui(ui, field, |sowing, text| {
            set(sowing, text.to_owned());
            Ok(())
        });
    }

    pub(super) fn whole_ui<T: FromStr>(&mut self, ui: &mut Ui, field: &Field<'_>, set: impl FnOnce(&mut Sowing, T)) {
        self.field_ui(ui, field, |sowing, text| {
            set(sowing, whole(text)?);
            Ok(())
        });
    }

    pub(super) fn whole_or_none_ui<T: FromStr>(
        &mut self,
        ui: &mut Ui,
        field: &Field<'_>,
        set: impl FnOnce(&mut Sowing, Option<T>),
    ) {
        self.field_ui(ui, field, |sowing, text| {
            set(sowing, whole_or_none(text)?);
            Ok(())
        });
    }

    /// Of a field made by `Field::date`; without a year the day nearest to `shown` is meant.
    pub(super) fn date_ui(
        &mut self,
        ui: &mut Ui,
        field: &Field<'_>,
        shown: NaiveDate,
        set: impl FnOnce(&mut Sowing, NaiveDate),
    ) {
        self.field_ui(ui, field, |sowing, text| {
            set(sowing, date::near(text, shown)?);
            Ok(())
        });
    }
}

/// What stands in a field for a number that may be missing.
pub(super) fn or_nothing<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}
