//! Next year's season from this one: which year, and every date and figure that is not the same in it,
//! before anything is made.

use chrono::Datelike as _;
use egui::{Button, Frame, Label, Margin, RichText, ScrollArea, Ui, vec2};

use crate::forecast::{NextYear, forecast, next_year, year_of};
use crate::units::DATE_YEARS;
use crate::words::{self, Words, next_year as said};

use crate::window::action::{Action, File};
use crate::window::kit::{Drafts, Fault, Field, Form, Owner, reason_ui, row_ui, soft_ui, title_ui, whole};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

/// What the page keeps between frames.
#[derive(Default)]
pub(in crate::window) struct NextYearPage {
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
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let frame = Frame::new().fill(Palette::of(ui).paper).inner_margin(Margin::symmetric(20, 14));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        title_ui(ui, said::TITLE);
        soft_ui(ui, said::WHAT_IT_IS);
        ui.add_space(6.0);
        let usual = year_of(scene.season).map_or_else(|| scene.day.year(), |year| year + 1).to_string();
        let form = Form::new(Owner::Form("next_year"), [Field::new(said::YEAR, usual).hint(said::YEAR_HINT)]);
        let typed = form.typed(drafts, |reader| reader.read(said::YEAR, year), |_| Ok(()));
        form.ui(ui, drafts, &typed.faults());
        let Ok(year) = typed.read else { return };
        match page.follow(scene, year) {
            Err(why) => reason_ui(ui, why),
            Ok(said) => changes_ui(ui, year, said, actions),
        }
    });
}

fn year(text: &str) -> Result<i32, Fault> {
    let year: i32 = whole(text)?;
    if DATE_YEARS.contains(&year) { Ok(year) } else { Err(said::no_such_year(year).into()) }
}

fn changes_ui(ui: &mut Ui, year: i32, next: &Said, actions: &mut Vec<Action>) {
    row_ui(ui, "", |ui, _| {
        if ui.add(Button::new(said::open(&next.name)).min_size(vec2(160.0, 30.0))).clicked() {
            actions.push(Action::File(File::OpenNextYear(year)));
        }
        if ui.add(Button::new(said::COPY).min_size(vec2(120.0, 30.0))).clicked() {
            actions.push(Action::File(File::CopyText(words::as_column(&next.changes))));
        }
    });
    ui.add_space(6.0);
    ui.label(RichText::new(said::differs(next.changes.len())).font(theme::strong(theme::PART_PT)));
    let height = ui.text_style_height(&egui::TextStyle::Body) + 4.0;
    ScrollArea::both().auto_shrink([false, false]).show_rows(ui, height, next.changes.len(), |ui, rows| {
        for line in next.changes.get(rows).unwrap_or_default() {
            ui.add(Label::new(line).extend());
        }
    });
}

impl NextYearPage {
    /// Works it out when the year or the season has changed, and only then.
    fn follow(&mut self, scene: &Scene<'_>, year: i32) -> &Result<Said, String> {
        let revision = scene.revision;
        let known = self.made.take().filter(|made| (made.year, made.revision) == (year, revision));
        let made = known.unwrap_or_else(|| Made { year, revision, said: made(scene, year) });
        &self.made.insert(made).said
    }
}

/// In the names of the new season: plants and containers are looked up where they will be.
fn made(scene: &Scene<'_>, year: i32) -> Result<Said, String> {
    let NextYear { season, changes, .. } =
        next_year(scene.season, scene.library, year, words::own_records).map_err(|why| words::no_next_year(&why))?;
    let forecast = forecast(&season, scene.library);
    let words = Words { season: &season, library: scene.library, forecast: &forecast, unit: scene.unit };
    let changes = changes.iter().map(|change| words.change(change)).collect();
    Ok(Said { name: season.name().to_owned(), changes })
}
