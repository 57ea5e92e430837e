//! How many fit: answers by itself to what is typed, with no season at all.

use egui::{
    Align2, CornerRadius, Id, Rect, RichText, ScrollArea, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

use crate::season::Shelf;
use crate::trade::{Capacity, NamedTray, Outline, resolve, shelf_size};
use crate::units::{Length, LengthUnit, about, rounded, unit_of};
use crate::window::scene::Scene;
use crate::window::shelves::{dashed_rect_ui, mm};
use crate::window::theme::{self, Palette};
use crate::words;

use crate::window::kit::old_fields::text_ui;
use crate::window::kit::{button_ui, narrow_row_ui, reason_ui};

const LABEL_PT: f32 = 96.0;
const FIELD_PT: f32 = 128.0;
/// Beyond this many nobody counts outlines.
const MOST_DRAWN: usize = 3_000;

#[derive(Clone, Debug, Default)]
pub(in crate::window) struct HowMany {
    /// `None` is what the panel proposes.
    shelf: Option<String>,
    tray: Option<String>,
    asked: Option<Asked>,
    answer: Answer,
}

/// What the answer is one to.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Asked {
    shelf: String,
    tray: String,
    unit: LengthUnit,
    own: usize,
}

#[derive(Clone, Debug, Default)]
enum Answer {
    #[default]
    None,
    NoShelf(String),
    NoTray(String),
    Held(Box<Told>),
}

#[derive(Clone, Debug)]
struct Told {
    line: String,
    drawings: Vec<Drawing>,
}

/// The shelf with as many as stand on it when so much may stick out.
#[derive(Clone, Debug)]
struct Drawing {
    name: String,
    caption: String,
    width: Length,
    depth: Length,
    overhang: Length,
    round: bool,
    spots: Vec<crate::fit::Rect>,
}

fn answer(scene: &Scene<'_>, asked: &Asked) -> Answer {
    let size = match shelf_size(&asked.shelf, Some(asked.unit)) {
        Ok(size) => size,
        Err(why) => return Answer::NoShelf(why.to_string()),
    };
    let meant = match resolve(scene.season.containers(scene.library), &asked.tray, Some(asked.unit)) {
        Ok(meant) => meant,
        Err(why) => return Answer::NoTray(why.to_string()),
    };
    let (width, depth) = (size.width.value(), size.depth.value());
    let unit = unit_of(size.depth.typed());
    let hold = Capacity { outline: meant.outline, width, depth, allowed: Length::ZERO, unit };
    let mut drawings = vec![drawing(&hold, &meant, Length::ZERO)];
    drawings.extend(hold.more().map(|needed| drawing(&hold, &meant, needed)));
    Answer::Held(Box::new(Told { line: words::held(&hold, &meant), drawings }))
}

fn drawing(hold: &Capacity, meant: &NamedTray, overhang: Length) -> Drawing {
    let fits = hold.with(overhang).fits;
    let number = words::number_held(meant, fits);
    let caption = if overhang == Length::ZERO {
        number
    } else {
        format!("{number}, {} out", rounded(about(overhang, hold.unit), hold.unit))
    };
    Drawing {
        name: format!("Drawing: {caption}"),
        caption,
        width: hold.width,
        depth: hold.depth,
        overhang,
        round: matches!(hold.outline, Outline::Round { .. }),
        spots: hold.spots(overhang, MOST_DRAWN),
    }
}

pub(in crate::window) fn how_many_ui(ui: &mut Ui, scene: &Scene<'_>, many: &mut HowMany, here: Option<&Shelf>) {
    ui.label(RichText::new("How many fit").font(theme::strong(16.0)));
    let proposed = if scene.unit == LengthUnit::Inch { "48 × 18 in" } else { "120 × 45 cm" };
    let mut shelf = many.shelf.clone().unwrap_or_else(|| proposed.to_owned());
    let mut tray = many.tray.clone().unwrap_or_else(|| "flat".to_owned());
    let asked = Asked {
        shelf: shelf.clone(),
        tray: tray.clone(),
        unit: scene.unit,
        own: scene.season.own_containers().count(),
    };
    if many.asked.as_ref() != Some(&asked) {
        many.answer = answer(scene, &asked);
        many.asked = Some(asked);
    }
    narrow_row_ui(ui, LABEL_PT, "On a shelf of", |ui, label| {
        if text_ui(ui, &mut shelf, Id::unique("how many: shelf"), "48 × 18 in", FIELD_PT)
            .labelled_by(label.id)
            .changed()
        {
            many.shelf = Some(shelf);
        }
        if let Some(here) = here
            && button_ui(ui, "This shelf")
        {
            many.shelf = Some(format!("{} × {}", here.width.typed(), here.depth.typed()));
        }
    });
    if let Answer::NoShelf(why) = &many.answer {
        reason_ui(ui, why);
    }
    narrow_row_ui(ui, LABEL_PT, "Tray or pot", |ui, label| {
        if text_ui(ui, &mut tray, Id::unique("how many: tray"), "flat, 72, 7 cm", FIELD_PT)
            .labelled_by(label.id)
            .changed()
        {
            many.tray = Some(tray);
        }
    });
    narrow_row_ui(ui, LABEL_PT, "", |ui, _| {
        if let Some(chosen) = choose_ui(ui, scene) {
            many.tray = Some(chosen);
        }
    });
    match &many.answer {
        Answer::NoTray(why) => reason_ui(ui, why),
        Answer::Held(told) => {
            ui.add_space(4.0);
            ui.label(RichText::new(&told.line).font(theme::strong(15.0)));
            drawings_ui(ui, &told.drawings);
        }
        Answer::None | Answer::NoShelf(_) => {}
    }
}

fn choose_ui(ui: &mut Ui, scene: &Scene<'_>) -> Option<String> {
    let mut chosen = None;
    ui.menu_button("Choose a tray or pot…", |ui| {
        ScrollArea::vertical().max_height(300.0).show(ui, |ui| {
            let known = scene.season.containers(scene.library);
            for container in known.filter(|one| !matches!(one.kind, crate::season::ContainerKind::Class { .. })) {
                let button = egui::Button::new(&container.name).min_size(vec2(240.0, theme::TARGET_PT));
                if ui.add(button).clicked() {
                    chosen = Some(container.name.clone());
                    ui.close();
                }
            }
        });
    });
    chosen
}

/// Side by side, at one scale.
fn drawings_ui(ui: &mut Ui, drawings: &[Drawing]) {
    let palette = Palette::of(ui);
    let apart = 14.0;
    let across = (ui.available_width() - apart * (drawings.len().max(1) - 1) as f32) / drawings.len().max(1) as f32;
    let deepest = drawings.iter().map(|one| mm(one.depth + one.overhang)).fold(1.0, f32::max);
    let widest = drawings.iter().map(|one| mm(one.width)).fold(1.0, f32::max);
    let zoom = ((across - 4.0) / widest).min(170.0 / deepest);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = apart;
        for one in drawings {
            let size = vec2(across.floor(), deepest * zoom + 26.0);
            let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
            response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &one.name));
            drawing_ui(ui, palette, one, rect, zoom);
        }
    });
}

fn drawing_ui(ui: &Ui, palette: &Palette, one: &Drawing, rect: Rect, zoom: f32) {
    let painter = ui.painter();
    let corner = rect.min + vec2(2.0, 2.0);
    let shelf = Rect::from_min_size(corner, vec2(mm(one.width), mm(one.depth)) * zoom);
    painter.rect_filled(shelf, CornerRadius::ZERO, palette.shelf);
    let family = palette.family("other");
    for spot in &one.spots {
        let length = |units: i64| mm(Length::from_units(units)) * zoom;
        let tray =
            Rect::from_min_size(corner + vec2(length(spot.x), length(spot.y)), vec2(length(spot.w), length(spot.d)));
        let stroke = Stroke::new(1.0, family.ink);
        if one.round {
            painter.circle(tray.center(), tray.width() / 2.0, family.fill, stroke);
        } else {
            painter.rect(tray, CornerRadius::same(1), family.fill, stroke, StrokeKind::Inside);
        }
    }
    let mut bottom = shelf.bottom();
    if one.overhang > Length::ZERO {
        bottom += mm(one.overhang) * zoom;
        let front = Rect::from_min_max(shelf.left_bottom(), pos2(shelf.right(), bottom));
        dashed_rect_ui(painter, front, Stroke::new(1.0, palette.soft_ink), 2.0, 3.0);
    }
    painter.rect_stroke(shelf, CornerRadius::ZERO, palette.ink_stroke(), StrokeKind::Outside);
    let at = pos2(shelf.left(), bottom + 5.0);
    painter.text(at, Align2::LEFT_TOP, &one.caption, theme::small(), palette.soft_ink);
}
