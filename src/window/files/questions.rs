//! What has to be answered before going on.

use chrono::{DateTime, Local};
use egui::{Button, RichText, Ui, vec2};

use crate::store::Recovery;
use crate::window::action::{Action, File};
use crate::window::theme;
use crate::words::{self, files as said};

use super::file::Files;
use super::modal::modal;
use super::path_box::path_box_ui;

pub(in crate::window) fn questions_ui(ui: &mut Ui, files: &mut Files, actions: &mut Vec<Action>) {
    if files.question.is_some() {
        unsaved_ui(ui, files, actions);
    } else if files.path_box.is_some() {
        if path_box_ui(ui, &mut files.path_box, files.base.as_deref(), files.path.as_deref(), actions) {
            files.after_saving = None;
            files.give_up_path();
        }
    } else if let Some(recovery) = &files.recovered {
        recovery_ui(ui, recovery, files.path.is_some(), actions);
    }
}

fn unsaved_ui(ui: &mut Ui, files: &mut Files, actions: &mut Vec<Action>) {
    let Some(after) = files.question.clone() else { return };
    let mut done = false;
    let modal = modal(ui, "unsaved_changes").show(ui, |ui| {
        ui.set_width(420.0);
        ui.label(RichText::new(said::SAVE_CHANGES).font(theme::strong(16.0)));
        let said = match &files.path {
            Some(path) => said::changes_not_in(path),
            None => said::IT_IS_IN_NO_FILE.to_owned(),
        };
        ui.label(said);
        ui.add_space(12.0);
        ui.horizontal(|ui| {
            let size = vec2(110.0, 32.0);
            if ui.add(Button::new(said::SAVE).min_size(size)).clicked() {
                actions.push(Action::File(File::SaveThen(after.clone())));
                done = true;
            }
            if ui.add(Button::new(said::DO_NOT_SAVE).min_size(size)).clicked() {
                actions.push(Action::File(File::DontSave(after.clone())));
                done = true;
            }
            if ui.add(Button::new(said::CANCEL).min_size(size)).clicked() {
                done = true;
            }
        });
    });
    if done || modal.should_close() {
        files.question = None;
    }
}

fn recovery_ui(ui: &mut Ui, recovery: &Recovery, has_file: bool, actions: &mut Vec<Action>) {
    modal(ui, "unsaved_work_found").show(ui, |ui| {
        ui.set_width(460.0);
        ui.label(RichText::new(said::WORK_FOUND).font(theme::strong(16.0)));
        let kept = DateTime::<Local>::from(recovery.modified).naive_local();
        ui.label(said::kept_on(recovery.season.name(), kept));
        ui.label(said::differs(has_file, &words::differences(&recovery.differs)));
        ui.label(RichText::new(recovery.file.display().to_string()).font(theme::small()));
        ui.add_space(12.0);
        ui.horizontal(|ui| {
            let size = vec2(130.0, 32.0);
            if ui.add(Button::new(said::TAKE_IT_UP).min_size(size)).clicked() {
                actions.push(Action::File(File::TakeRecovered));
            }
            if ui.add(Button::new(said::THROW_IT_AWAY).min_size(size)).clicked() {
                actions.push(Action::File(File::DropRecovered));
            }
            // Beside a file the next change would write over it: there it has to be decided now.
            if !has_file && ui.add(Button::new(said::NOT_NOW).min_size(vec2(90.0, 32.0))).clicked() {
                actions.push(Action::File(File::LeaveRecovered));
            }
        });
    });
}
