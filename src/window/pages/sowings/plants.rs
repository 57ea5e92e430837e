//! How many plants, when they go out, and what they come from.

use chrono::NaiveDate;
use egui::Ui;

use crate::season::{Begun, OutRule, Sowing, Stack, Stage, Wanted};
use crate::units::shifted;
use crate::words::{already_here, fields, sowing as said};

use super::editor::{Editor, or_nothing};
use super::out::out_ui;
use crate::window::kit::{Field, drop_down_ui, remove_at, small_button_ui};

/// Trays to a stack, where none was said.
const USUAL_STACK: u16 = 6;
const DATE_PT: f32 = 100.0;

/// How far the plants were that stood there already, and when.
pub(super) fn begun_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) {
    let Some(begun) = editor.sowing.begun else { return };
    ui.horizontal_wrapped(|ui| {
        let field = Field::date(said::BEGUN_ON, begun.on).width(DATE_PT);
        editor.date_ui(ui, &field, begun.on, |sowing, on| sowing.begun = Some(Begun { on, ..begun }));
        ui.label(said::STAGE);
        let leaves = if let Stage::TrueLeaves(leaves) = begun.stage { leaves } else { 2 };
        let all = [
            (Stage::Sown, already_here::SOWN),
            (Stage::Up, already_here::UP),
            (Stage::TrueLeaves(leaves), already_here::IN_LEAF),
        ];
        if let Some(stage) = drop_down_ui(ui, said::STAGE, 130.0, begun.stage, &all) {
            editor.choose(|sowing| sowing.begun = Some(Begun { stage, ..begun }));
        }
        if let Stage::TrueLeaves(leaves) = begun.stage {
            let field = Field::new(said::LEAVES, leaves.to_string()).width(44.0);
            editor.whole_ui(ui, &field, |sowing, leaves| {
                sowing.begun = Some(Begun { stage: Stage::TrueLeaves(leaves), ..begun });
            });
        }
    });
}

pub(super) fn wanted_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) {
    let wanted = editor.sowing.wanted.clone();
    for (at, one) in wanted.iter().enumerate() {
        ui.horizontal_wrapped(|ui| day_out_ui(ui, editor, at, one, wanted.len()));
        ui.horizontal_wrapped(|ui| {
            ui.add_space(24.0);
            out_ui(ui, editor, at, one);
        });
    }
}

fn day_out_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, one: &Wanted, number: usize) {
    let field = Field::new(said::which(said::PLANTS, at), one.plants.to_string()).width(70.0);
    editor.whole_ui(ui, &field, |sowing, plants| {
        if let Some(one) = sowing.wanted.get_mut(at) {
            one.plants = plants;
        }
    });
    let field = Field::date(said::which(said::OUT, at), one.date).width(DATE_PT);
    editor.date_ui(ui, &field, one.date, |sowing, date| set_date(sowing, at, date));
    let mut to_sell = one.to_sell;
    if ui.checkbox(&mut to_sell, said::which(said::TO_SELL, at)).changed() {
        editor.choose(|sowing| {
            if let Some(one) = sowing.wanted.get_mut(at) {
                one.to_sell = to_sell;
            }
        });
    }
    if at == 0
        && small_button_ui(ui, said::ADD_OUT, said::ADD_OUT)
        && let Some(last) = editor.sowing.wanted.last().copied()
    {
        let more = Wanted { date: shifted(last.date, 7), rule: OutRule::Day, ..last };
        editor.choose(|sowing| sowing.wanted.push(more));
    }
    if number > 1 && small_button_ui(ui, fields::REMOVE, &said::remove_out(at)) {
        editor.choose(|sowing| remove_at(&mut sowing.wanted, at));
        let fields = [said::PLANTS, said::OUT, said::WEEK_OUT, said::FROM_FROST];
        editor.close_up(at, number, |at| fields.map(|label| said::which(label, at)));
    }
}

fn set_date(sowing: &mut Sowing, at: usize, date: NaiveDate) {
    if let Some(one) = sowing.wanted.get_mut(at) {
        (one.date, one.rule) = (date, OutRule::Day);
    }
}

pub(super) fn seed_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) {
    let scene = editor.scene;
    let crop = scene.season.crop(scene.library, &editor.sowing.crop);
    let reckoned = scene.forecast.courses_of(editor.sowing.id).next().map(|course| course.sow.germination.percent);
    let usual = or_nothing(reckoned.or(crop.map(|crop| crop.germination_percent.value)));
    ui.horizontal_wrapped(|ui| {
        let shown = or_nothing(editor.sowing.germination_percent);
        let field = Field::new(said::GERMINATION, shown).hint(&usual).width(50.0);
        editor.whole_or_none_ui(ui, &field, |sowing, percent| sowing.germination_percent = percent);
        let field = Field::new(said::LOSSES, editor.sowing.losses_percent.to_string()).width(50.0);
        editor.whole_ui(ui, &field, |sowing, percent| sowing.losses_percent = percent);
        let field = Field::new(said::SEEDS, editor.sowing.seeds_per_cell.to_string()).width(50.0);
        editor.whole_ui(ui, &field, |sowing, seeds| sowing.seeds_per_cell = seeds);
    });
    ui.horizontal_wrapped(|ui| {
        ui.label(said::HEAT);
        if let Some(heat) = drop_down_ui(ui, said::HEAT, 130.0, editor.sowing.bottom_heat, &said::HEATED) {
            editor.choose(|sowing| sowing.bottom_heat = heat);
        }
        let usual = or_nothing(crop.map(|crop| crop.hardening.value.days));
        let field = Field::new(said::HARDEN, or_nothing(editor.sowing.harden_days)).hint(&usual).width(50.0);
        editor.whole_or_none_ui(ui, &field, |sowing, days| sowing.harden_days = days);
        stack_ui(ui, editor);
    });
}

fn stack_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>) {
    let shown = or_nothing(editor.sowing.stack.map(|stack| stack.days));
    let field = Field::new(said::STACK_DAYS, shown).hint(said::NO_STACK).width(64.0);
    editor.whole_or_none_ui(ui, &field, |sowing, days| {
        let high = sowing.stack.map_or(USUAL_STACK, |stack| stack.high);
        sowing.stack = days.map(|days| Stack { days, high });
    });
    if let Some(stack) = editor.sowing.stack {
        let field = Field::new(said::STACK_HIGH, stack.high.to_string()).width(50.0);
        editor.whole_ui(ui, &field, |sowing, high| {
            sowing.stack = sowing.stack.map(|stack| Stack { high, ..stack });
        });
    }
}
