//! One sowing with all that the grower says of it; every value taken is one edit.

use chrono::{Days, NaiveDate};
use egui::{RichText, Ui};

use crate::season::{Begun, Edit, EditLabel, FieldId, Lot, LotId, Op, OutRule, Sowing, SowingId, Stack, Stage, Wanted};
use crate::units::read_date;

use super::dates::dates_ui;

use super::out::out_ui;
use super::steps::steps_ui;
use crate::window::action::{Action, Go};
use crate::window::kit::old_typed::{Fields, Look, whole, whole_or_none};
use crate::window::kit::{drop_down_ui, pick_ui, remove_at, small_button_ui};
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words;

/// Trays to a stack, where none was said.
const USUAL_STACK: u16 = 6;
const FORM_PT: f32 = 566.0;
const DATES_PT: f32 = 270.0;

/// The sowing at hand, as it becomes in this frame.
pub(super) struct Editor<'a, 'b> {
    pub(super) scene: &'a Scene<'a>,
    /// Every change of the frame is in it, so that none replaces another.
    pub(super) sowing: Sowing,
    fields: &'b mut Fields,
    actions: &'b mut Vec<Action>,
}

/// The copy that was made in this frame.
pub(super) fn editor_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sowing: &Sowing,
    fields: &mut Fields,
    actions: &mut Vec<Action>,
) -> Option<SowingId> {
    let mut editor = Editor { scene, sowing: sowing.clone(), fields, actions };
    let copied = editor.head_ui(ui);
    // Dates stand beside what sets them where the page is wide enough.
    let beside = ui.available_width() >= FORM_PT + DATES_PT;
    let width = if beside { FORM_PT } else { ui.available_width() };
    ui.horizontal_top(|ui| {
        ui.vertical(|ui| {
            ui.set_width(width);
            editor.begun_ui(ui);
            editor.wanted_ui(ui);
            if editor.sowing.begun.is_none() {
                editor.seed_ui(ui);
            }
            steps_ui(ui, &mut editor);
            editor.lots_ui(ui);
            editor.note_ui(ui);
        });
        if beside {
            ui.add_space(12.0);
            ui.vertical(|ui| dates_ui(ui, scene, sowing, editor.actions));
        }
    });
    if !beside {
        ui.add_space(10.0);
        dates_ui(ui, scene, sowing, editor.actions);
    }
    ui.add_space(16.0);
    copied
}

impl Editor<'_, '_> {
    /// Takes the change over as one edit, or says why not.
    pub(super) fn change(&mut self, change: impl FnOnce(&mut Sowing) -> Result<(), String>) -> Result<(), String> {
        let mut next = self.sowing.clone();
        change(&mut next)?;
        if next == self.sowing {
            return Ok(());
        }
        let edit = Op::PutSowing(next.clone()).into();
        self.scene.season.may(&edit).map_err(|why| words::refusal(&why))?;
        self.sowing = next;
        self.actions.push(Action::edit(edit));
        Ok(())
    }

    /// A change that is chosen, not typed: what is wrong with it is said above the page.
    pub(super) fn choose(&mut self, change: impl FnOnce(&mut Sowing)) {
        let done = self.change(|sowing| {
            change(sowing);
            Ok(())
        });
        if let Err(why) = done {
            self.actions.push(Action::Go(Go::Complain(format!("Not done: {why}"))));
        }
    }

    pub(super) fn field_ui(
        &mut self,
        ui: &mut Ui,
        look: &Look<'_>,
        shown: &str,
        change: impl FnOnce(&mut Sowing, &str) -> Result<(), String>,
    ) {
        // The fields are lent out meanwhile: taking a value needs the rest of the editor.
        let mut fields = std::mem::take(self.fields);
        let id = self.sowing.id.0;
        fields.field_ui(ui, id, look, shown, |text| self.change(|sowing| change(sowing, text)));
        *self.fields = fields;
    }

    pub(super) fn date_field_ui(
        &mut self,
        ui: &mut Ui,
        look: &Look<'_>,
        date: NaiveDate,
        set: impl FnOnce(&mut Sowing, NaiveDate),
    ) {
        // Without a year the nearest such day is meant.
        let near = date.checked_sub_days(Days::new(183)).unwrap_or(date);
        let mut set = Some(set);
        self.field_ui(ui, look, &date.format("%-d %b %Y").to_string(), |sowing, text| {
            let date = read_date(text, near).map_err(|why| why.to_string())?;
            if let Some(set) = set.take() {
                set(sowing, date);
            }
            Ok(())
        });
        if let Some(picked) = pick_ui(ui, look.name, date)
            && let Some(set) = set.take()
        {
            self.choose(|sowing| set(sowing, picked));
            self.fields.forget_one(self.sowing.id.0, look.name);
        }
    }

    fn head_ui(&mut self, ui: &mut Ui) -> Option<SowingId> {
        let mut copied = None;
        ui.horizontal_wrapped(|ui| {
            let name = self.scene.words().sowing(self.sowing.id);
            ui.label(RichText::new(name).font(theme::strong(theme::TITLE_PT)));
            ui.add_space(8.0);
            if small_button_ui(ui, "Duplicate", "Duplicate") {
                let copy = self.sowing.renumbered(self.scene.season.next_id());
                copied = Some(copy.id);
                let crop = self.scene.season.crop(self.scene.library, &copy.crop);
                let name = crop.map_or_else(|| copy.crop.to_string(), |crop| crop.name.clone());
                let edit = Edit::new(EditLabel::AddSowing(name), vec![Op::PutSowing(copy)]);
                self.actions.push(Action::edit(edit));
            }
            if small_button_ui(ui, "Records…", "Records of this sowing") {
                self.actions.push(Action::Go(Go::Records(self.sowing.id)));
            }
            if small_button_ui(ui, "Remove", "Remove this sowing") {
                self.actions.push(Action::edit(Op::RemoveSowing(self.sowing.id)));
                self.fields.forget(self.sowing.id.0);
            }
        });
        ui.horizontal_wrapped(|ui| {
            let variety = self.sowing.variety.clone();
            self.field_ui(ui, &Look::labelled("Variety", 200.0), &variety, |sowing, text| {
                text.clone_into(&mut sowing.variety);
                Ok(())
            });
        });
        copied
    }

    /// How far the plants were that stood there already, and when.
    fn begun_ui(&mut self, ui: &mut Ui) {
        let Some(begun) = self.sowing.begun else { return };
        ui.horizontal_wrapped(|ui| {
            self.date_field_ui(ui, &Look::labelled(words::field(FieldId::BegunOn), 100.0), begun.on, |sowing, on| {
                sowing.begun = Some(Begun { on, ..begun });
            });
            ui.label("They are");
            let leaves = if let Stage::TrueLeaves(leaves) = begun.stage { leaves } else { 2 };
            let all = [
                (Stage::Sown, "sown, not up yet"),
                (Stage::Up, "just up"),
                (Stage::TrueLeaves(leaves), "in true leaf"),
            ];
            if let Some(stage) = drop_down_ui(ui, "They are", 130.0, begun.stage, &all) {
                self.choose(|sowing| sowing.begun = Some(Begun { stage, ..begun }));
            }
            if let Stage::TrueLeaves(leaves) = begun.stage {
                self.field_ui(
                    ui,
                    &Look::labelled(words::field(FieldId::BegunLeaves), 44.0),
                    &leaves.to_string(),
                    |sowing, text| {
                        sowing.begun = Some(Begun { stage: Stage::TrueLeaves(whole(text)?), ..begun });
                        Ok(())
                    },
                );
            }
        });
    }

    fn wanted_ui(&mut self, ui: &mut Ui) {
        let wanted = self.sowing.wanted.clone();
        for (at, one) in wanted.iter().enumerate() {
            let which = if at == 0 { String::new() } else { format!(" {}", at + 1) };
            ui.horizontal_wrapped(|ui| {
                let plants = format!("{}{which}", words::field(FieldId::OutPlants(at)));
                self.field_ui(ui, &Look::labelled(&plants, 70.0), &one.plants.to_string(), |sowing, text| {
                    let plants = whole(text)?;
                    if let Some(one) = sowing.wanted.get_mut(at) {
                        one.plants = plants;
                    }
                    Ok(())
                });
                let out = format!("{}{which}", words::field(FieldId::OutDate(at)));
                self.date_field_ui(ui, &Look::labelled(&out, 100.0), one.date, |sowing, date| {
                    if let Some(one) = sowing.wanted.get_mut(at) {
                        (one.date, one.rule) = (date, OutRule::Day);
                    }
                });
                if wanted.len() > 1 && small_button_ui(ui, "Remove", &format!("Remove day out {}", at + 1)) {
                    self.choose(|sowing| remove_at(&mut sowing.wanted, at));
                    self.fields.forget(self.sowing.id.0);
                }
                if at + 1 == wanted.len() && small_button_ui(ui, "Add a day out", "Add a day out") {
                    let date = one.date.checked_add_days(Days::new(7)).unwrap_or(one.date);
                    self.choose(|sowing| sowing.wanted.push(Wanted { date, plants: one.plants, rule: OutRule::Day }));
                }
            });
            ui.horizontal_wrapped(|ui| {
                ui.add_space(24.0);
                out_ui(ui, self, at, one, &which);
            });
        }
    }

    fn seed_ui(&mut self, ui: &mut Ui) {
        let crop = self.scene.season.crop(self.scene.library, &self.sowing.crop);
        let usual = crop.map_or_else(String::new, |crop| crop.germination_percent.value.to_string());
        ui.horizontal_wrapped(|ui| {
            let shown = self.sowing.germination_percent.map_or_else(String::new, |percent| percent.to_string());
            let look = Look { hint: &usual, ..Look::labelled(words::field(FieldId::SowingGermination), 50.0) };
            self.field_ui(ui, &look, &shown, |sowing, text| {
                sowing.germination_percent = whole_or_none(text)?;
                Ok(())
            });
            let shown = self.sowing.losses_percent.to_string();
            self.field_ui(ui, &Look::labelled(words::field(FieldId::SowingLosses), 50.0), &shown, |sowing, text| {
                sowing.losses_percent = whole(text)?;
                Ok(())
            });
            let shown = self.sowing.seeds_per_cell.to_string();
            self.field_ui(ui, &Look::labelled(words::field(FieldId::SeedsPerCell), 50.0), &shown, |sowing, text| {
                sowing.seeds_per_cell = whole(text)?;
                Ok(())
            });
        });
        ui.horizontal_wrapped(|ui| {
            ui.label("Bottom heat");
            let all = [(None, "as the crop does"), (Some(true), "yes"), (Some(false), "no")];
            if let Some(heat) = drop_down_ui(ui, "Bottom heat", 130.0, self.sowing.bottom_heat, &all) {
                self.choose(|sowing| sowing.bottom_heat = heat);
            }
            let shown = self.sowing.stack.map_or_else(String::new, |stack| stack.days.to_string());
            let look = Look { hint: "none", ..Look::labelled(words::field(FieldId::StackDays), 64.0) };
            self.field_ui(ui, &look, &shown, |sowing, text| {
                let high = sowing.stack.map_or(USUAL_STACK, |stack| stack.high);
                sowing.stack = whole_or_none(text)?.map(|days| Stack { days, high });
                Ok(())
            });
            if let Some(stack) = self.sowing.stack {
                let shown = stack.high.to_string();
                self.field_ui(ui, &Look::labelled(words::field(FieldId::StackHigh), 50.0), &shown, |sowing, text| {
                    let high = whole(text)?;
                    sowing.stack = sowing.stack.map(|stack| Stack { high, ..stack });
                    Ok(())
                });
            }
        });
    }

    fn lots_ui(&mut self, ui: &mut Ui) {
        ui.add_space(6.0);
        ui.label(theme::bold("Lots"));
        let lots = self.sowing.lots.clone();
        for (at, lot) in lots.iter().enumerate() {
            ui.horizontal_wrapped(|ui| {
                let which = if at == 0 { String::new() } else { format!(" {}", at + 1) };
                let share = format!("{}{which}", words::field(FieldId::LotShare(lot.id)));
                self.field_ui(ui, &Look::labelled(&share, 50.0), &lot.share.to_string(), |sowing, text| {
                    let share = whole(text)?;
                    if let Some(lot) = sowing.lots.get_mut(at) {
                        lot.share = share;
                    }
                    Ok(())
                });
                let later = format!("Days later{which}");
                self.field_ui(ui, &Look::labelled(&later, 50.0), &lot.later.to_string(), |sowing, text| {
                    let later = whole(text)?;
                    if let Some(lot) = sowing.lots.get_mut(at) {
                        lot.later = later;
                    }
                    Ok(())
                });
                if lots.len() > 1 && small_button_ui(ui, "Remove", &format!("Remove lot {}", at + 1)) {
                    self.choose(|sowing| remove_at(&mut sowing.lots, at));
                    self.fields.forget(self.sowing.id.0);
                }
                if at + 1 == lots.len() && small_button_ui(ui, "Add a lot", "Add a lot") {
                    let id = LotId(self.scene.season.next_id());
                    self.choose(|sowing| sowing.lots.push(Lot { id, share: 1, later: lot.later.saturating_add(7) }));
                }
            });
        }
    }

    fn note_ui(&mut self, ui: &mut Ui) {
        ui.add_space(6.0);
        ui.horizontal_wrapped(|ui| {
            let note = self.sowing.note.clone();
            self.field_ui(ui, &Look::labelled("Note", 400.0), &note, |sowing, text| {
                text.clone_into(&mut sowing.note);
                Ok(())
            });
        });
    }

    pub(super) fn forget(&mut self) {
        self.fields.forget(self.sowing.id.0);
    }
}
