//! How many fit: answers by itself to what is typed, with no season at all.

use egui::{
    Align2, Button, CornerRadius, Label, Rect, RichText, ScrollArea, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2,
    vec2,
};

use crate::season::{ContainerKind, Shelf};
use crate::trade::{Capacity, NamedTray, Outline, resolve, shelf_size};
use crate::units::{Length, LengthUnit, Size, about, rounded, unit_of};
use crate::words::{self, places as said};

use super::kit::{Drafts, Field, Form, Owner, Typed, button_ui, narrow_row_ui};
use super::scene::Scene;
use super::shelves::{dashed_rect_ui, mm};
use super::theme::{self, Palette};

const OWNER: Owner = Owner::Form("how_many");
const LABEL_PT: f32 = 96.0;
const FIELD_PT: f32 = 128.0;
/// Beyond this many nobody counts outlines.
const MOST_DRAWN: usize = 3_000;

/// The answer, kept until something else is asked.
#[derive(Clone, Debug, Default)]
pub(super) struct HowMany {
    answered: Option<(Asked, Counted)>,
    /// The size of what it was about last.
    about: String,
}

/// What is looked at beside it, whose size it answers for until another is written.
pub(super) struct About<'a> {
    pub(super) size: String,
    pub(super) shelf: Option<&'a Shelf>,
}

/// What the answer is one to.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Asked {
    shelf: String,
    tray: String,
    unit: LengthUnit,
    /// Of the season, which may have trays of its own.
    revision: u64,
}

#[derive(Clone, Debug)]
struct Counted {
    typed: Typed<(Size, NamedTray)>,
    /// Where there is nothing wrong with what is typed.
    told: Option<Told>,
}

#[derive(Clone, Debug)]
struct Told {
    line: String,
    fits: i64,
    /// By how much one more misses.
    one_more: Option<String>,
    drawings: Vec<Drawing>,
}

/// The shelf with as many as stand on it when so much may stick out.
#[derive(Clone, Debug)]
struct Drawing {
    caption: String,
    width: Length,
    depth: Length,
    overhang: Length,
    round: bool,
    spots: Vec<crate::fit::Rect>,
}

fn fields(size: &str, unit: LengthUnit) -> Form<'static> {
    let fields = [
        Field::new(said::ON_A_SHELF, size.to_owned()).hint(said::usual_size(unit)),
        Field::new(said::TRAY, said::FLAT).hint(said::tray_hint(unit)),
    ];
    Form::new(OWNER, fields.map(|field| field.width(FIELD_PT))).label_pt(LABEL_PT)
}

fn answer(scene: &Scene<'_>, form: &Form<'_>, drafts: &Drafts) -> Counted {
    let typed = form.typed(
        drafts,
        |reader| {
            let size = reader.read(said::ON_A_SHELF, |text| shelf_size(text, Some(scene.unit)));
            let tray =
                reader.read(said::TRAY, |text| resolve(scene.season.containers(scene.library), text, Some(scene.unit)));
            size.zip(tray)
        },
        |_| Ok(()),
    );
    let told = typed.read.as_ref().ok().map(|(size, meant)| told(size, meant));
    Counted { typed, told }
}

fn told(size: &Size, meant: &NamedTray) -> Told {
    let (width, depth) = (size.width.value(), size.depth.value());
    let unit = unit_of(size.depth.typed());
    let hold = Capacity { outline: meant.outline, width, depth, allowed: Length::ZERO, unit };
    let mut drawings = vec![drawing(&hold, meant, Length::ZERO)];
    drawings.extend(hold.more().map(|needed| drawing(&hold, meant, needed)));
    let fits = hold.with(Length::ZERO).fits;
    Told { line: words::held(&hold, meant), fits, one_more: words::one_more(&hold), drawings }
}

fn drawing(hold: &Capacity, meant: &NamedTray, overhang: Length) -> Drawing {
    let number = words::number_held(meant, hold.with(overhang).fits);
    Drawing {
        caption: said::held_with(&number, overhang, &rounded(about(overhang, hold.unit), hold.unit)),
        width: hold.width,
        depth: hold.depth,
        overhang,
        round: matches!(hold.outline, Outline::Round { .. }),
        spots: hold.spots(overhang, MOST_DRAWN),
    }
}

/// What was written of another shelf is not about this one.
pub(super) fn how_many_ui(ui: &mut Ui, scene: &Scene<'_>, many: &mut HowMany, drafts: &mut Drafts, about: &About<'_>) {
    let here = about.shelf;
    ui.label(RichText::new(said::HOW_MANY).font(theme::strong(theme::HEAD_PT)));
    let form = fields(&about.size, scene.unit);
    if many.about != about.size {
        drafts.forget(&OWNER, said::ON_A_SHELF);
        many.about.clone_from(&about.size);
    }
    let text = |name: &str| form.text(drafts, name).to_owned();
    let (shelf, tray) = (text(said::ON_A_SHELF), text(said::TRAY));
    let asked = Asked { shelf, tray, unit: scene.unit, revision: scene.revision };
    let (_, answer) = match many.answered.take() {
        Some((last, answer)) if last == asked => many.answered.insert((last, answer)),
        _ => many.answered.insert((asked, answer(scene, &form, drafts))),
    };
    let faults = answer.typed.faults();
    let is_other = form.text(drafts, said::ON_A_SHELF) != about.size;
    let (mut this, mut chosen) = (false, None);
    form.line_ui(ui, drafts, &faults, said::ON_A_SHELF, |ui| {
        this = here.is_some() && is_other && button_ui(ui, said::THIS_SHELF);
    });
    form.line_ui(ui, drafts, &faults, said::TRAY, |_| ());
    narrow_row_ui(ui, LABEL_PT, "", |ui, _| chosen = choose_ui(ui, scene));
    if this {
        drafts.forget(&OWNER, said::ON_A_SHELF);
    }
    if let Some(chosen) = chosen {
        form.set(drafts, said::TRAY, chosen);
    }
    if let Some(told) = &answer.told {
        ui.add_space(4.0);
        ui.label(RichText::new(&told.line).font(theme::strong(theme::HEAD_PT)));
        let borne = here.zip(answer.typed.read.as_ref().ok()).and_then(|(here, (size, meant))| {
            let same = (here.width.value(), here.depth.value()) == (size.width.value(), size.depth.value());
            let rated = here.load_grams.filter(|_| same);
            scene.words().borne(meant, told.fits, rated)
        });
        if let Some(borne) = borne {
            ui.add(Label::new(RichText::new(borne).font(theme::strong(theme::BODY_PT))).wrap());
        }
        if let Some(one_more) = &told.one_more {
            ui.label(one_more);
        }
        drawings_ui(ui, &told.drawings);
    }
}

/// What was chosen now, by its name.
fn choose_ui(ui: &mut Ui, scene: &Scene<'_>) -> Option<String> {
    let mut chosen = None;
    ui.menu_button(said::CHOOSE_TRAY, |ui| {
        ScrollArea::vertical().max_height(300.0).show(ui, |ui| {
            let known = scene.season.containers(scene.library);
            for container in known.filter(|one| !matches!(one.kind, ContainerKind::Class { .. })) {
                if ui.add(Button::new(&container.name).min_size(vec2(240.0, theme::TARGET_PT))).clicked() {
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
            let name = said::drawing_of(&one.caption);
            response.widget_info(|| WidgetInfo::labeled(egui::Role::Image, true, &name));
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
