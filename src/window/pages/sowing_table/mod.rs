//! Taking in a grower's own sowing table: the file, what each column is taken for, what the rows become, and
//! what is odd about them. Nothing is changed before "Take in", and that is one edit.

mod odd;
mod preview;
mod reading;

use std::path::PathBuf;

use egui::{Button, Context, Frame, Label, Margin, Panel, RichText, ScrollArea, Ui, vec2};

use crate::store::sowings::{Column, Heading};

use crate::window::action::{Action, File, Go};
use crate::window::kit::{
    Drafts, Field, Owner, WIDE_PT, able_button_ui, bare_field_ui, button, button_ui, drop_down_ui, reason_ui, row_ui,
    soft_ui, title_ui,
};
use crate::window::scene::Scene;
use crate::window::state::Page;
use crate::window::theme::{self, Palette};
use crate::words::{fields, sowing_table as said};

use odd::OddView;
use preview::PreviewView;
use reading::{Reading, TableFile};

const COLUMN_PT: f32 = 138.0;
/// By the names that the command has for them.
const TAKEN_FOR: [(Option<Column>, &str); 10] = [
    (None, said::NOT_USED),
    (Some(Column::Crop), "crop"),
    (Some(Column::Variety), "variety"),
    (Some(Column::Plants), "plants"),
    (Some(Column::Container), "container"),
    (Some(Column::Days), "days"),
    (Some(Column::Weeks), "weeks"),
    (Some(Column::Sow), "sow"),
    (Some(Column::Out), "out"),
    (Some(Column::Note), "note"),
];

/// What the page keeps between frames; gone with the season, and when the table is taken in or left.
#[derive(Default)]
pub(in crate::window) struct SowingTablePage {
    path: String,
    file: Option<TableFile>,
    reading: Option<Reading>,
    /// Why no file could be read.
    refused: Option<String>,
    preview: PreviewView,
    odd: OddView,
}

impl SowingTablePage {
    /// Reads a table off this thread; the page says what became of it.
    pub(in crate::window) fn read(&mut self, path: PathBuf, scene: &Scene<'_>, ctx: &Context) {
        *self = Self { path: path.display().to_string(), ..Self::default() };
        self.take_up(Reading::of_file(path, scene.season, scene.library, scene.revision, ctx));
    }

    fn read_again(&mut self, scene: &Scene<'_>, ctx: &Context) {
        let Some(file) = &self.file else { return };
        self.take_up(Reading::again(file, scene.season, scene.library, scene.revision, ctx));
    }

    fn take_up(&mut self, started: Result<Reading, String>) {
        match started {
            Ok(reading) => self.reading = Some(reading),
            Err(why) => self.refused = Some(why),
        }
    }

    /// Takes in what was read, and reads once more for a season that has changed since.
    fn follow(&mut self, scene: &Scene<'_>, ctx: &Context) {
        if let Some(read) = self.reading.as_ref().and_then(Reading::poll) {
            self.reading = None;
            match read {
                Ok(file) => self.file = Some(file),
                Err(why) => self.refused = Some(why),
            }
        }
        let stale = self.file.as_ref().is_some_and(|file| !file.is_of(scene.revision));
        if stale && self.reading.is_none() && self.refused.is_none() {
            self.read_again(scene, ctx);
        }
    }
}

pub(in crate::window) fn sowing_table_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut SowingTablePage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let ctx = ui.ctx().clone();
    page.follow(scene, &ctx);
    let mut again = false;
    let paper = Frame::new().fill(palette.paper);
    let foot = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(20, 8));
    Panel::bottom("table_foot").frame(foot).show(ui, |ui| foot_ui(ui, page, actions));
    let odd = page.file.as_ref().and_then(|file| file.found.as_ref().ok()).is_some_and(|found| !found.odd.is_empty());
    if odd {
        let side = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(12, 10));
        Panel::right("odd_rows").frame(side).default_size(350.0).size_range(260.0..=560.0).show(ui, |ui| {
            let Some(file) = &mut page.file else { return };
            again |= odd::odd_ui(ui, file, &mut page.odd, &mut page.preview);
        });
    }
    egui::CentralPanel::default().frame(paper.inner_margin(Margin::symmetric(20, 10))).show(ui, |ui| {
        title_ui(ui, said::TITLE);
        file_ui(ui, scene, page, drafts, actions);
        frost_ui(ui, scene, actions);
        let Some(file) = &mut page.file else { return };
        again |= columns_ui(ui, file);
        ui.add_space(6.0);
        match &file.found {
            Ok(found) => preview::preview_ui(ui, found, &mut page.preview),
            Err(why) => reason_ui(ui, why),
        }
    });
    if again {
        page.read_again(scene, &ctx);
    }
}

fn file_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut SowingTablePage, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    if page.file.is_none() {
        soft_ui(ui, said::WHAT_IT_IS);
    }
    row_ui(ui, said::FILE, |ui, _| {
        let field = Field::new("", page.path.clone()).named(said::FILE).hint(said::FILE_HINT).width(WIDE_PT);
        if let Some(path) = bare_field_ui(ui, drafts, &Owner::Form("sowing_table"), &field, |text| Ok(text.into())) {
            page.read(path, scene, ui.ctx());
        }
        if button_ui(ui, said::CHOOSE) {
            actions.push(Action::File(File::ChooseTable));
        }
        let why_not = match &page.reading {
            Some(_) => Some(said::READING),
            None => page.path.trim().is_empty().then_some(fields::FILE_FIRST),
        };
        if able_button_ui(ui, button(said::READ), why_not) {
            page.read(page.path.clone().into(), scene, ui.ctx());
        }
        if let Some(why) = &page.refused {
            reason_ui(ui, why);
        }
    });
}

fn frost_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    if scene.season.settings().frost.is_some() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        reason_ui(ui, said::NO_FROST);
        if button_ui(ui, said::LAST_FROST) {
            actions.push(Action::Go(Go::Page(Page::Frost)));
        }
    });
}

/// Each column with what it is taken for; whether something else is said now.
fn columns_ui(ui: &mut Ui, file: &mut TableFile) -> bool {
    ui.add_space(4.0);
    ui.label(theme::bold(said::COLUMNS));
    let mut changed = false;
    ScrollArea::vertical().id_salt("table_columns").max_height(142.0).auto_shrink([false, true]).show(ui, |ui| {
        let in_a_row = ((ui.available_width() / (COLUMN_PT + ui.spacing().item_spacing.x)) as usize).max(1);
        let mut columns = file.headings.iter().zip(&mut file.taken_for).enumerate().peekable();
        while columns.peek().is_some() {
            ui.horizontal_top(|ui| {
                for (place, (heading, taken_for)) in columns.by_ref().take(in_a_row) {
                    changed |= column_ui(ui, place, heading, taken_for);
                }
            });
        }
    });
    changed
}

fn column_ui(ui: &mut Ui, place: usize, heading: &Heading, now: &mut Option<Column>) -> bool {
    let number = place + 1;
    let size = vec2(COLUMN_PT, 62.0);
    let inner = ui.allocate_ui_with_layout(size, egui::Layout::top_down(egui::Align::Min), |ui| {
        ui.set_min_size(size);
        ui.spacing_mut().item_spacing.y = 1.0;
        let shown = if heading.text.is_empty() { said::column(number) } else { heading.text.clone() };
        let text = if now.is_none() { RichText::new(&shown) } else { theme::bold(&shown) };
        ui.add(Label::new(text).truncate());
        let name = said::is_taken_for(number, &shown);
        let chosen = drop_down_ui(ui, &name, COLUMN_PT - 4.0, *now, &TAKEN_FOR);
        let such_as = if heading.first.is_empty() { said::EMPTY } else { &heading.first };
        let soft = RichText::new(such_as).font(theme::small()).color(Palette::of(ui).soft_ink);
        ui.add(Label::new(soft).truncate());
        chosen
    });
    if let Some(other) = inner.inner {
        *now = other;
    }
    inner.inner.is_some()
}

fn foot_ui(ui: &mut Ui, page: &mut SowingTablePage, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        let found = page.file.as_ref().and_then(|file| file.found.as_ref().ok());
        let text = match found {
            Some(found) => said::take_in(found.taken),
            None => said::TAKE_IN.to_owned(),
        };
        let ready = found.filter(|_| page.reading.is_none());
        let button = Button::new(theme::bold(text)).min_size(vec2(160.0, 30.0));
        if able_button_ui(ui, button, ready.is_none().then_some(said::NOT_READ_YET))
            && let Some(found) = ready
        {
            actions.extend([
                Action::edit(found.edit.clone()),
                Action::File(File::LeaveTable),
                Action::Go(Go::Sowing(found.first)),
            ]);
        }
        if ui.add(Button::new(said::LEAVE).min_size(vec2(96.0, 30.0))).clicked() {
            actions.push(Action::File(File::LeaveTable));
        }
        let odd = match found {
            Some(found) => {
                let left_out = found.odd.iter().filter(|odd| odd.is_left_out()).count();
                said::to_look_at(found.odd.len(), left_out)
            }
            None => said::NOTHING_CHANGED.to_owned(),
        };
        ui.label(RichText::new(odd).color(Palette::of(ui).soft_ink));
    });
}
