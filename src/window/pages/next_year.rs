//! Next year's season from this one: which year, and every date and figure that is not the same in it,
//! before anything is made.

use chrono::Datelike as _;
use egui::{Button, Frame, Id, Label, Margin, RichText, ScrollArea, Ui, vec2};

use crate::forecast::{NextYear, forecast, next_year, year_of};
use crate::units::DATE_YEARS;
use crate::words;
use crate::words::Words;

use crate::window::action::{Action, File};
use crate::window::kit::old_form::{Form, Lines, Reader};
use crate::window::kit::{FIELD_PT, Fault, row_ui, whole};
use crate::window::scene::{Scene, counted};
use crate::window::theme::{self, Palette};

const YEAR: &str = "For the year";

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct NextYearPage {
    form: Form,
    made: Option<Made>,
}

/// What the season of that revision becomes in that year.
struct Made {
    year: i32,
    revision: u64,
    said: Result<Said, String>,
}

struct Said {
    name: String,
    changes: Vec<String>,
}

pub(in crate::window) fn next_year_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut NextYearPage,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(20, 14));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ui.label(RichText::new("Next year’s season").font(theme::strong(theme::TITLE_PT)));
        let said = "Made from this one: rules and dates move, the layout comes along, records teach. This season stays as it is";
        ui.add(Label::new(RichText::new(said).color(palette.soft_ink)).wrap());
        ui.add_space(6.0);
        let usual = year_of(scene.season).map_or_else(|| scene.day.year(), |year| year + 1).to_string();
        let mut reader = Reader::new(&page.form);
        let year = reader.read(YEAR, &usual, year);
        let faults = reader.faults;
        let mut lines = Lines { form: &mut page.form, faults: &faults, of: Id::unique("next year") };
        lines.line_ui(ui, YEAR, &usual, "2028", FIELD_PT);
        let Some(year) = year else { return };
        let said = page.follow(scene, year);
        match said {
            Err(why) => drop(ui.add(Label::new(RichText::new(why).color(palette.trouble)).wrap())),
            Ok(said) => changes_ui(ui, year, said, actions),
        }
    });
}

fn year(text: &str) -> Result<i32, String> {
    let year: i32 = whole(text).map_err(Fault::into_text)?;
    let (least, most) = (DATE_YEARS.start(), DATE_YEARS.end());
    if DATE_YEARS.contains(&year) { Ok(year) } else { Err(format!("found {year}; a year from {least} to {most}")) }
}

fn changes_ui(ui: &mut Ui, year: i32, said: &Said, actions: &mut Vec<Action>) {
    row_ui(ui, "", |ui, _| {
        if ui.add(Button::new(format!("Open “{}”", short(&said.name))).min_size(vec2(160.0, 30.0))).clicked() {
            actions.push(Action::File(File::OpenNextYear(year)));
        }
        if ui.add(Button::new("Copy this list").min_size(vec2(120.0, 30.0))).clicked() {
            actions.push(Action::File(File::CopyText(said.changes.join("\n"))));
        }
    });
    ui.add_space(6.0);
    let changes = counted(said.changes.len(), "change");
    ui.label(RichText::new(format!("What differs: {changes}")).font(theme::strong(14.0)));
    let height = ui.text_style_height(&egui::TextStyle::Body) + 4.0;
    ScrollArea::both().auto_shrink([false, false]).show_rows(ui, height, said.changes.len(), |ui, rows| {
        for line in said.changes.get(rows).unwrap_or_default() {
            ui.add(Label::new(line).extend());
        }
    });
}

fn short(name: &str) -> String {
    let some: String = name.chars().take(40).collect();
    if some.len() < name.len() { format!("{some}…") } else { some }
}

impl NextYearPage {
    /// Works it out when the year or the season has changed, and only then.
    fn follow(&mut self, scene: &Scene<'_>, year: i32) -> &Result<Said, String> {
        let revision = scene.revision;
        let known = self.made.take().filter(|made| (made.year, made.revision) == (year, revision));
        let made = known.unwrap_or_else(|| Made { year, revision, said: said(scene, year) });
        &self.made.insert(made).said
    }
}

/// In the names of the new season: plants and containers are looked up where they will be.
fn said(scene: &Scene<'_>, year: i32) -> Result<Said, String> {
    let NextYear { season, changes, .. } =
        next_year(scene.season, scene.library, year).map_err(|why| words::no_next_year(&why))?;
    let forecast = forecast(&season, scene.library);
    let words = Words { season: &season, library: scene.library, forecast: &forecast, unit: scene.unit };
    let changes = changes.iter().map(|change| words.change(change)).collect();
    Ok(Said { name: season.name().to_owned(), changes })
}
