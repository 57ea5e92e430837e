//! What the window says by itself: a line that tells what to try, what was saved, what went wrong.

use std::path::PathBuf;

use egui::text::LayoutJob;
use egui::{
    Align, Align2, Area, Button, Frame, Id, Layout, Margin, Order, Panel, Rect, RichText, Role, Stroke, Ui, WidgetInfo,
    vec2,
};

use crate::forecast::Problem;
use crate::words::{files, jobs, menu, notices as said, ways_out};

use super::action::{Action, File, Go, Keep};
use super::kit::{State, state_ui};
use super::scene::Scene;
use super::state::Page;
use super::theme::{self, Palette};

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Notice {
    pub(super) text: String,
    /// As much of it as is read at a glance, where that isn't all.
    pub(super) short: Option<String>,
    pub(super) complains: bool,
    /// The file it tells of.
    pub(super) file: Option<PathBuf>,
    /// Ways out are offered beside it.
    pub(super) short_of_room: bool,
    /// What an edit brought, to be seen to first.
    pub(super) see_to: Option<Problem>,
}

impl Notice {
    pub(super) fn said(text: String) -> Self {
        Self { text, short: None, complains: false, file: None, short_of_room: false, see_to: None }
    }

    /// Tells of trays that no shelf has room for.
    pub(super) fn short_of_room(text: String) -> Self {
        Self { short_of_room: true, ..Self::said(text) }
    }

    pub(super) fn complaint(text: String) -> Self {
        Self { complains: true, ..Self::said(text) }
    }

    /// Tells of a file that could not be opened; what it held before can be.
    pub(super) fn not_opened(text: String, file: PathBuf) -> Self {
        Self { complains: true, file: Some(file), ..Self::said(text) }
    }

    /// Tells of a file whose path can be copied, whose folder can be opened.
    pub(super) fn about_file(text: String, file: PathBuf) -> Self {
        Self { file: Some(file), ..Self::said(text) }
    }
}

/// Of a notice that lies over the foot of a room.
const FLOATING_LINES: usize = 3;

/// Two lines are said at once where there is room for them; the rest is under the pointer.
fn lines(ui: &Ui) -> usize {
    if ui.ctx().content_rect().height() < 700.0 { 1 } else { 2 }
}

/// Where notices and hints stand; as high when nothing is said, so that what comes and goes by itself
/// moves nothing below it.
pub(super) fn line_ui(ui: &mut Ui, said: impl FnOnce(&mut Ui)) {
    let height = theme::TARGET_PT + (lines(ui) - 1) as f32 * 14.0;
    let frame = Frame::new().fill(Palette::of(ui).paper).inner_margin(Margin::symmetric(16, 3));
    Panel::top("line").frame(frame).exact_size(height + 6.0).resizable(false).show_separator_line(false).show(ui, said);
}

/// Over the foot of a room that keeps no line free for it.
pub(super) fn floating_ui(ui: &Ui, room: Rect, notice: &Notice, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let width = (room.width() - 40.0).clamp(120.0, 720.0);
    let foot = room.center_bottom() - vec2(0.0, 10.0);
    let area = Area::new(Id::unique("notice")).fixed_pos(foot).pivot(Align2::CENTER_BOTTOM).order(Order::Foreground);
    area.show(ui.ctx(), |ui| {
        let frame = Frame::new().fill(palette.shelf).stroke(Stroke::new(1.0, palette.soft_ink)).corner_radius(4);
        frame.inner_margin(Margin::symmetric(14, 8)).show(ui, |ui| {
            ui.allocate_ui(vec2(width, theme::TARGET_PT + 14.0), |ui| {
                ui.set_min_width(width);
                told_ui(ui, notice, FLOATING_LINES, actions);
            });
        });
    });
}

/// In place of the hint, until it is hidden or something else is said.
pub(super) fn notice_ui(ui: &mut Ui, notice: &Notice, actions: &mut Vec<Action>) {
    told_ui(ui, notice, lines(ui), actions);
}

fn told_ui(ui: &mut Ui, notice: &Notice, rows: usize, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let ink = if notice.complains { palette.trouble } else { palette.ink };
    ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
        let button = |text| Button::new(text).min_size(vec2(56.0, theme::TARGET_PT));
        if ui.add(button(said::HIDE)).clicked() {
            actions.push(Action::Go(Go::HideNotice));
        }
        if notice.short_of_room && ui.add(button(ways_out::OPEN)).clicked() {
            actions.push(Action::Go(Go::Page(Page::MakeRoom)));
        }
        if let Some(problem) = &notice.see_to
            && ui.add(button(jobs::SEE_TO_IT)).clicked()
        {
            actions.push(Action::Go(Go::SeeTo(Box::new(problem.clone()))));
        }
        if let Some(file) = &notice.file {
            if notice.complains {
                if ui.add(button(files::EARLIER_MENU)).clicked() {
                    actions.push(Action::File(File::Keep(Keep::ShowVersions(Some(file.clone())))));
                }
            } else if let Some(folder) = file.parent()
                && ui.add(button(said::OPEN_FOLDER)).clicked()
            {
                actions.push(Action::File(File::OpenFolder(folder.to_owned())));
            }
            if ui.add(button(said::COPY_PATH)).clicked() {
                actions.push(Action::File(File::CopyText(file.display().to_string())));
            }
        }
        let short = notice.short.as_deref().unwrap_or(&notice.text);
        said_ui(ui, (short, &notice.text), theme::strong(theme::BODY_PT), (ink, rows));
    });
}

/// What is shown, and all of it: that is read out, and told under the pointer.
fn said_ui(ui: &mut Ui, (short, whole): (&str, &str), font: egui::FontId, (ink, rows): (egui::Color32, usize)) {
    let mut job = LayoutJob::simple(short.to_owned(), font, ink, ui.available_width());
    (job.wrap.max_rows, job.wrap.break_anywhere) = (rows, false);
    let galley = ui.painter().layout_job(job);
    let (elided, one) = (galley.elided, galley.rows.len() < 2);
    ui.with_layout(Layout::top_down(Align::Min), |ui| {
        ui.add_space(if one { 4.0 } else { 1.0 });
        let line = ui.add(egui::Label::new(galley));
        // read out when it comes, wherever the keys are
        line.ctx.accesskit_node_builder(line.id, |node| node.set_live(egui::accesskit::Live::Polite));
        line.widget_info(|| WidgetInfo::labeled(Role::Label, true, whole));
        if elided || short != whole {
            line.on_hover_text(whole);
        }
    });
}

/// One sentence that says what to try.
pub(super) fn hint_ui(ui: &mut Ui, scene: &Scene<'_>, is_sample: bool, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let worst = scene.outlook.and_then(|outlook| outlook.worst()).map(|(_, crunch)| crunch);
    let said = match worst {
        Some(crunch) if scene.season.spots().next().is_none() => said::try_finding_spots(crunch.worst_day),
        Some(crunch) => said::try_moving(crunch.worst_day),
        None => said::TRY.to_owned(),
    };
    let said = if is_sample { said::of_the_sample(&said) } else { said };
    ui.with_layout(Layout::right_to_left(Align::Min), |ui| {
        if ui.add(Button::new(said::HIDE_HINT).min_size(vec2(56.0, theme::TARGET_PT))).clicked() {
            actions.push(Action::Go(Go::HideHint));
        }
        if is_sample && ui.add(Button::new(said::START_NEW).min_size(vec2(56.0, theme::TARGET_PT))).clicked() {
            actions.push(Action::File(File::NewSeason));
        }
        let rows = lines(ui);
        said_ui(ui, (&said, &said), theme::body(), (palette.selected, rows));
    });
}

/// In place of a season that could not be read.
pub(super) fn trouble_ui(ui: &mut Ui, why: &str, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let room = |ui: &mut Ui| {
        ui.label(RichText::new(said::NOT_OPENED).font(theme::strong(theme::TITLE_PT)));
        state_ui(ui, State::Failed, why);
        ui.add_space(12.0);
        if ui.add_sized(vec2(220.0, 32.0), Button::new(files::EARLIER_MENU)).clicked() {
            actions.push(Action::File(File::Keep(Keep::ShowVersions(None))));
        }
        if ui.add_sized(vec2(220.0, 32.0), Button::new(said::OPEN_ANOTHER)).clicked() {
            actions.push(Action::File(File::Open));
        }
        if ui.add_sized(vec2(220.0, 32.0), Button::new(menu::SAMPLE)).clicked() {
            actions.push(Action::File(File::OpenSample));
        }
        if ui.add_sized(vec2(220.0, 32.0), Button::new(said::START_NEW)).clicked() {
            actions.push(Action::File(File::NewSeason));
        }
    };
    egui::CentralPanel::default().frame(Frame::new().fill(palette.paper).inner_margin(40)).show(ui, |ui| {
        egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, room);
    });
}
