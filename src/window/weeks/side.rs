//! Left of the strip: which shelves it counts, how much they have room for, and how it is looked at.

use egui::{Button, Rect, Response, RichText, Role, Sense, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2};

use crate::outlook::{Pool, PoolKind, Week};
use crate::words::weeks as said;

use crate::window::action::{Action, Go};
use crate::window::axis::Axis;
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use super::band::band_sign_ui;
use super::scale::rim_of;

const BUTTON_PT: f32 = 26.0;

/// How the strip is shown.
#[derive(Clone, Copy, Debug)]
pub(super) struct Looks {
    pub(super) playing: bool,
    pub(super) folded: bool,
}

pub(super) fn side_ui(
    ui: &mut Ui,
    at: Rect,
    scene: &Scene<'_>,
    (axis, pool, here): (&Axis, PoolKind, Option<&Week>),
    looks: Looks,
    actions: &mut Vec<Action>,
) {
    let foot = Rect::from_min_max(pos2(at.left(), at.bottom() - BUTTON_PT - 2.0), at.max);
    ui.scope_builder(UiBuilder::new().max_rect(foot), |ui| {
        ui.horizontal(|ui| buttons_ui(ui, scene, axis, looks, actions));
    });
    if looks.folded {
        return;
    }
    let head = Rect::from_min_max(at.min, pos2(at.right(), foot.top() - 2.0));
    ui.scope_builder(UiBuilder::new().max_rect(head), |ui| {
        ui.set_clip_rect(head.intersect(ui.clip_rect()));
        ui.spacing_mut().item_spacing.y = 1.0;
        head_ui(ui, scene, pool, here, actions);
    });
}

fn head_ui(ui: &mut Ui, scene: &Scene<'_>, pool: PoolKind, here: Option<&Week>, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    pools_ui(ui, scene, pool, actions);
    let soft = |text: String| RichText::new(text).font(theme::small()).color(palette.soft_ink);
    if let Some(week) = here {
        let room = said::held(rim_of(week));
        // lamps over ground on which nothing more stands serve nobody
        let lit = week.lit.filter(|lit| *lit < rim_of(week));
        let lit = lit.map_or_else(String::new, |lit| format!(", {}", said::lit(lit)));
        ui.add(egui::Label::new(soft(format!("{room}{lit}"))).truncate());
    }
    if scene.outlook.is_some() && !scene.outlook_is_fresh {
        ui.label(soft(said::BEFORE_LAST_CHANGE.to_owned()));
    } else if scene.chance.is_some() {
        ui.horizontal(|ui| {
            let (rect, _) = ui.allocate_exact_size(vec2(9.0, 14.0), Sense::hover());
            band_sign_ui(ui.painter(), palette, rect.center().x, rect.y_range(), 4.0);
            let name = ui.add(egui::Label::new(soft(said::MOST_SEASONS.to_owned())).truncate());
            name.on_hover_text(said::WHAT_MOST_SEASONS_ARE);
        });
    }
}

/// Which shelves the columns count: the one that is shown first and large, the others below it.
fn pools_ui(ui: &mut Ui, scene: &Scene<'_>, pool: PoolKind, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    let weeks = scene.outlook.iter().flat_map(|outlook| &outlook.weeks);
    let mut pools: Vec<&Pool> = weeks.map(|week| &week.pool).collect();
    pools.sort();
    pools.dedup_by_key(|one| one.kind);
    let crunches = scene.outlook.map_or(&[][..], |outlook| &outlook.crunches);
    let is_short = |one: &Pool| crunches.iter().any(|crunch| crunch.days.iter().any(|days| days.pool.kind == one.kind));
    let only = pools.len() < 2;
    for one in pools {
        let open = one.kind == pool;
        let name = scene.words().pool(one);
        let short = is_short(one);
        let whole = if short { said::with_crunch(&name) } else { name.clone() };
        let font = if open { theme::strong(theme::BODY_PT) } else { theme::small() };
        let ink = if open { palette.ink } else { palette.selected };
        let shown = RichText::new(&name).font(font.clone()).color(ink);
        if only {
            ui.add(egui::Label::new(shown).truncate()).on_hover_text(whole);
            continue;
        }
        let sign = if short { said::SHORT } else { "" };
        let sign = RichText::new(sign).font(theme::strong(theme::SMALL_PT)).color(palette.trouble);
        let room = ui.available_width() - 2.0 * ui.spacing().button_padding.x - if short { 36.0 } else { 0.0 };
        let cut = theme::cut_at_a_word(ui.painter(), &name, font, ink, room);
        let button = Button::selectable(open, cut).right_text(sign);
        let button = ui.add(button.min_size(vec2(ui.available_width(), theme::TARGET_PT)));
        button.widget_info(|| WidgetInfo::selected(Role::Button, true, open, &whole));
        if button.on_hover_text(&whole).clicked() {
            actions.push(Action::Go(Go::Pool(one.kind)));
        }
    }
}

fn buttons_ui(ui: &mut Ui, scene: &Scene<'_>, axis: &Axis, looks: Looks, actions: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.x = 3.0;
    let middle = if axis.is_in_view(scene.day) { axis.x(scene.day) } else { axis.x.center() };
    let (fold, play) = (
        if looks.folded { said::UNFOLD } else { said::FOLD },
        if looks.playing { said::STOP_DAYS } else { said::RUN_DAYS },
    );
    let buttons = [
        (Sign::Play(looks.playing), play, Go::Play(!looks.playing), true),
        (Sign::Fold(looks.folded), fold, Go::FoldWeeks(!looks.folded), true),
        (Sign::Closer, said::CLOSER, Go::Along(Some(axis.closer(1.6, middle))), true),
        (Sign::Wider, said::WIDER, Go::Along(Some(axis.closer(1.0 / 1.6, middle))), !axis.shows_all()),
        (Sign::Whole, said::WHOLE_SEASON, Go::Along(None), !axis.shows_all()),
    ];
    let width = ((ui.available_width() + 3.0) / 5.0 - 3.0).clamp(14.0, 30.0);
    for (sign, name, does, can) in buttons {
        if sign_button_ui(ui, width, sign, name, can).clicked() {
            actions.push(Action::Go(does));
        }
    }
}

#[derive(Clone, Copy, Debug)]
enum Sign {
    /// Whether the days run.
    Play(bool),
    Fold(bool),
    Closer,
    Wider,
    Whole,
}

fn sign_button_ui(ui: &mut Ui, width: f32, sign: Sign, name: &str, can: bool) -> Response {
    let (rect, response) =
        ui.allocate_exact_size(vec2(width, BUTTON_PT), if can { Sense::click() } else { Sense::hover() });
    response.widget_info(|| WidgetInfo::labeled(Role::Button, can, name));
    let visuals = ui.style().interact(&response);
    let ink = if can { visuals.fg_stroke.color } else { Palette::of(ui).line };
    let painter = ui.painter();
    painter.rect(rect, visuals.corner_radius, visuals.bg_fill, visuals.bg_stroke, egui::StrokeKind::Inside);
    let centre = rect.center();
    let stroke = Stroke::new(1.6, ink);
    let line = |from: (f32, f32), to: (f32, f32)| {
        painter.line_segment([centre + vec2(from.0, from.1), centre + vec2(to.0, to.1)], stroke);
    };
    match sign {
        Sign::Play(true) => {
            for dx in [-4.0, 4.0] {
                line((dx, -5.0), (dx, 5.0));
            }
        }
        Sign::Play(false) => {
            let points = vec![centre + vec2(-4.0, -6.0), centre + vec2(6.0, 0.0), centre + vec2(-4.0, 6.0)];
            painter.add(egui::Shape::convex_polygon(points, ink, Stroke::NONE));
        }
        Sign::Fold(folded) => {
            let up = if folded { -1.0 } else { 1.0 };
            line((-5.0, -2.5 * up), (0.0, 2.5 * up));
            line((0.0, 2.5 * up), (5.0, -2.5 * up));
        }
        Sign::Closer | Sign::Wider => {
            line((-5.0, 0.0), (5.0, 0.0));
            if matches!(sign, Sign::Closer) {
                line((0.0, -5.0), (0.0, 5.0));
            }
        }
        Sign::Whole => {
            line((-6.0, 0.0), (6.0, 0.0));
            for side in [-6.0, 6.0] {
                line((side, -5.0), (side, 5.0));
            }
        }
    }
    if can {
        response.on_hover_text(name)
    } else {
        // signs in a row: there is room for a reason under the pointer alone
        response.on_hover_text(said::can_t(name, said::ALL_SHOWN))
    }
}
