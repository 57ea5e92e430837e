//! What has to be answered before going on.

use chrono::{DateTime, Local};
use egui::{Button, Label, RichText, ScrollArea, Ui, vec2};

use crate::store::{Elsewhere, Recovery};
use crate::window::action::{Action, File, Keep};
use crate::window::kit::{Named, State, state_ui, stop_ui};
use crate::window::theme;
use crate::words::{self, files as said};

use super::file::{Asked, Files};
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
    } else if files.asked.is_some() {
        before_saving_ui(ui, files, actions);
    } else if files.earlier.is_some() {
        earlier_ui(ui, files, actions);
    } else if let Some(recovery) = files.kept.offered() {
        recovery_ui(ui, recovery, files.kept.place(), actions);
    }
}

/// What is written over is chosen by the grower.
fn before_saving_ui(ui: &mut Ui, files: &mut Files, actions: &mut Vec<Action>) {
    let (Some(asked), Some(path)) = (files.asked.clone(), files.path.clone()) else { return };
    let (title, told, mine) = match &asked {
        Asked::Elsewhere(Elsewhere::Changed(_), differs) => (
            said::changed_elsewhere(&path),
            vec![said::theirs(differs), said::WHAT_BECOMES.to_owned()],
            said::KEEP_MINE,
        ),
        Asked::Elsewhere(Elsewhere::Gone, _) => (said::is_gone(&path), Vec::new(), said::KEEP_MINE),
        Asked::Comments => (said::HAS_COMMENTS.to_owned(), vec![said::comments_go(&path)], said::SAVE_WITHOUT),
    };
    let mut done = false;
    let modal = modal(ui, "before_saving").show(ui, |ui| {
        ui.set_width(560.0);
        ui.add(Label::new(RichText::new(title).font(theme::strong(theme::HEAD_PT))).wrap());
        for line in told {
            ui.add(Label::new(line).wrap());
        }
        ui.add_space(12.0);
        ui.horizontal(|ui| {
            let mut answer = |ui: &mut Ui, name: &str, action: Option<File>| {
                if ui.add(Button::new(name).min_size(vec2(110.0, 32.0))).clicked() {
                    done |= action.is_none();
                    actions.extend(action.map(Action::File));
                }
            };
            answer(ui, mine, Some(File::Keep(Keep::Mine)));
            if matches!(asked, Asked::Elsewhere(Elsewhere::Changed(_), _)) {
                answer(ui, said::TAKE_THEIRS, Some(File::Keep(Keep::Theirs)));
            }
            answer(ui, said::ANOTHER_NAME, Some(File::Keep(Keep::UnderAnotherName)));
            answer(ui, said::CANCEL, None);
        });
    });
    if done || modal.should_close() {
        (files.asked, files.after_saving) = (None, None);
    }
}

fn earlier_ui(ui: &mut Ui, files: &mut Files, actions: &mut Vec<Action>) {
    let earlier = files.earlier.as_deref().unwrap_or_default();
    let mut done = false;
    let modal = modal(ui, "earlier_versions").show(ui, |ui| {
        ui.set_width(560.0);
        ui.label(RichText::new(said::EARLIER).font(theme::strong(theme::HEAD_PT)));
        if earlier.is_empty() {
            state_ui(ui, State::Empty, said::NONE_EARLIER);
        } else {
            ui.label(said::EARLIER_HINT);
        }
        ui.add_space(6.0);
        ScrollArea::vertical().max_height(320.0).show(ui, |ui| {
            stop_ui(ui, "earlier_versions", said::EARLIER, |ui, stop| {
                for earlier in earlier {
                    let button = Button::new(&earlier.said).min_size(vec2(300.0, 30.0));
                    if stop.row_ui(ui, button, Named::new(&earlier.said)) {
                        actions.push(Action::File(File::Keep(Keep::OpenVersion(earlier.version.clone()))));
                    }
                    ui.add(Label::new(RichText::new(&earlier.differs).font(theme::small())).wrap());
                }
            });
        });
        ui.add_space(12.0);
        done = ui.add(Button::new(said::CANCEL).min_size(vec2(110.0, 32.0))).clicked();
    });
    if done || modal.should_close() {
        files.earlier = None;
    }
}

fn unsaved_ui(ui: &mut Ui, files: &mut Files, actions: &mut Vec<Action>) {
    let Some(after) = files.question.clone() else { return };
    let mut done = false;
    let modal = modal(ui, "unsaved_changes").show(ui, |ui| {
        ui.set_width(420.0);
        ui.label(RichText::new(said::SAVE_CHANGES).font(theme::strong(theme::HEAD_PT)));
        let said = match &files.path {
            Some(path) if files.elsewhere() == Some(Elsewhere::Gone) => said::is_gone(path),
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

fn recovery_ui(ui: &mut Ui, recovery: &Recovery, (at, of): (usize, usize), actions: &mut Vec<Action>) {
    modal(ui, "unsaved_work_found").show(ui, |ui| {
        ui.set_width(500.0);
        ui.label(RichText::new(said::work_found(at, of)).font(theme::strong(theme::HEAD_PT)));
        let kept = DateTime::<Local>::from(recovery.modified).naive_local();
        ui.add(Label::new(said::kept_on(recovery.season.name(), kept)).wrap());
        ui.add(
            Label::new(recovery.of.as_deref().map_or_else(|| said::IT_IS_IN_NO_FILE.to_owned(), said::work_of)).wrap(),
        );
        ui.label(said::differs(recovery.of.is_some(), &words::differences(&recovery.differs)));
        ui.label(RichText::new(recovery.file().display().to_string()).font(theme::small()));
        ui.add_space(12.0);
        ui.horizontal(|ui| {
            for (name, answer) in [
                (said::RESUME, File::Keep(Keep::TakeRecovered)),
                (said::DISCARD, File::Keep(Keep::DropRecovered)),
                (said::NOT_NOW, File::Keep(Keep::LeaveRecovered)),
            ] {
                if ui.add(Button::new(name).min_size(vec2(130.0, 32.0))).clicked() {
                    actions.push(Action::File(answer));
                }
            }
        });
    });
}
