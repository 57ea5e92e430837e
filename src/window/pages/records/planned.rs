//! What was planned of a sowing and what became of it, side by side.

use chrono::NaiveDate;
use egui::{Grid, Label, RichText, Ui, WidgetInfo, vec2};

use crate::forecast::{self, Course, Event, What, Why};
use crate::season::Sowing;
use crate::words;

use crate::window::scene::{Scene, counted};
use crate::window::theme::{self, Palette};

const SEEN: &str = "seen";

/// One line: what, how it was planned, how it is, how far apart.
struct Row {
    what: String,
    planned: String,
    actual: String,
    /// `seen` or `expected`, of dates.
    known: &'static str,
    apart: String,
}

pub(super) fn planned_ui(ui: &mut Ui, scene: &Scene<'_>, sowing: &Sowing) {
    let unseen = Sowing { seen: Vec::new(), ..sowing.clone() };
    let plan = forecast::of_one(scene.season, scene.library, &unseen);
    let said = "What was not seen yet is as expected now";
    ui.label(RichText::new(said).font(theme::small()).color(Palette::of(ui).soft_ink));
    for (at, actual) in scene.forecast.courses_of(sowing.id).enumerate() {
        let Some(planned) = plan.courses.iter().find(|course| course.lot == actual.lot) else { continue };
        if sowing.lots.len() > 1 {
            ui.label(theme::bold(format!("Lot {}: {}", at + 1, counted(actual.plants as usize, "plant"))));
        }
        let mut rows = dates(scene, planned, actual);
        rows.extend(trays(scene, sowing, planned, actual));
        rows_ui(ui, &rows, at);
    }
}

fn rows_ui(ui: &mut Ui, rows: &[Row], lot: usize) {
    let palette = Palette::of(ui);
    let grid =
        Grid::new(("planned and actual", lot)).spacing(vec2(12.0, 4.0)).min_row_height(20.0).max_col_width(176.0);
    grid.striped(true).show(ui, |ui| {
        for head in ["", "Planned", "Actual", "Difference"] {
            ui.label(RichText::new(head).font(theme::small()).color(palette.soft_ink));
        }
        ui.end_row();
        for row in rows {
            let what = ui.add(Label::new(theme::bold(&row.what)).wrap());
            // read as one sentence, not cell by cell
            let known = if row.known.is_empty() { String::new() } else { format!(", {}", row.known) };
            let said = format!("{}: planned {}, actual {}{known}, {}", row.what, row.planned, row.actual, row.apart);
            what.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, &said));
            let seen = if row.known == SEEN { format!("{}, {SEEN}", row.actual) } else { row.actual.clone() };
            for text in [&row.planned, &seen, &row.apart] {
                ui.label(text);
            }
            ui.end_row();
        }
    });
}

fn dates(scene: &Scene<'_>, planned: &Course, actual: &Course) -> Vec<Row> {
    let mut left: Vec<&Event> = planned.events.iter().filter(|event| happens(event.what)).collect();
    let mut rows: Vec<(NaiveDate, Row)> = Vec::new();
    for event in actual.events.iter().filter(|event| happens(event.what)) {
        let at = left.iter().position(|one| alike(one.what, event.what));
        rows.push((event.date, row(scene, at.map(|at| left.remove(at)), Some(event))));
    }
    rows.extend(left.into_iter().map(|event| (event.date, row(scene, Some(event), None))));
    rows.sort_by_key(|(date, _)| *date);
    rows.into_iter().map(|(_, row)| row).collect()
}

/// Not a limit that nothing happens on.
const fn happens(what: What) -> bool {
    !matches!(what, What::Latest(_))
}

fn alike(one: What, other: What) -> bool {
    one == other || matches!((one, other), (What::Out { .. }, What::Out { .. }))
}

fn row(scene: &Scene<'_>, planned: Option<&Event>, actual: Option<&Event>) -> Row {
    let what = actual.or(planned).map_or_else(String::new, |event| capital(&scene.words().what_moved(event.what)));
    let shown = |event: Option<&Event>| event.map_or_else(|| "–".to_owned(), |event| words::day(event.date));
    let known = match actual.map(|event| event.why) {
        Some(Why::Seen) => SEEN,
        Some(_) => "expected",
        None => "",
    };
    let apart = match (planned, actual) {
        (Some(planned), Some(actual)) => words::days_apart((actual.date - planned.date).num_days()),
        (None, _) => "not planned".to_owned(),
        (_, None) => "not any more".to_owned(),
    };
    Row { what, planned: shown(planned), actual: shown(actual), known, apart }
}

fn trays<'a>(
    scene: &'a Scene<'_>,
    sowing: &'a Sowing,
    planned: &'a Course,
    actual: &'a Course,
) -> impl Iterator<Item = Row> + 'a {
    actual.trays.iter().filter_map(|(id, number)| {
        let step = sowing.steps.iter().find(|step| step.id == *id)?;
        let before = planned.trays.iter().find(|(planned, _)| planned == id)?.1;
        Some(Row {
            what: format!("Trays of {}", scene.words().container(&step.container)),
            planned: before.to_string(),
            actual: number.to_string(),
            known: "",
            apart: words::number_apart(before, *number),
        })
    })
}

/// As a heading has it.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
