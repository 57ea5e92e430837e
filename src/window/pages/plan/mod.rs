//! The plan: every sowing as a row on the time axis of the week strip, drawn as what it takes, put on other days by hand.

mod bar;
mod detail;
mod hand;
mod rows;

use egui::{
    Align2, CentralPanel, CornerRadius, Frame, Margin, Panel, Rect, Role, ScrollArea, Sense, Stroke, StrokeKind, Ui,
    WidgetInfo, pos2, vec2,
};

use crate::forecast::{Forecast, What};
use crate::outlook::Handle;
use crate::season::{Season, Sowing, SowingId};
use crate::words::{already_here, frost, plan as said, sowing_table, sowings};

use crate::window::action::{Action, Go};
use crate::window::axis::{self, Axis};
use crate::window::glyphs::family_ui;
use crate::window::kit::{Drafts, State, state_in_the_middle_ui, told_beside};
use crate::window::scene::Scene;
use crate::window::sowing::{Line, sowing_line_ui, sowing_menu_ui};
use crate::window::state::Page;
use crate::window::theme::{self, Palette};
use crate::window::weeks::behind_ui;

use detail::detail_ui;
use hand::{Chosen, Grip, held_ui, keys_ui, row_hand_ui, told_ui};
use rows::{Group, Row, Rows};

const ROW_PT: f32 = 34.0;
const GROUP_PT: f32 = 26.0;
const SMALL_PT: f32 = 560.0;

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct PlanPage {
    line: Line,
    group: Group,
    rows: Rows,
    chosen: Chosen,
    grip: Option<Grip>,
    /// A row was pressed: the keys go on from there.
    wants_keys: bool,
    /// Put on other days: brought into view where its group takes it.
    moved: Option<SowingId>,
    /// Brought into view in the next frame.
    bring: Option<SowingId>,
    /// Where there is no room for both: what is selected in place of the rows.
    shows_detail: bool,
}

impl PlanPage {
    pub(in crate::window) fn look_at(&mut self, sowing: SowingId) {
        self.chosen.only(sowing);
        self.bring = Some(sowing);
        self.shows_detail = true;
    }

    /// The line above the rows is to be written in.
    pub(in crate::window) const fn write(&mut self) {
        self.line.asked_for = true;
    }
}

/// `planned` is the season itself, whatever is shown of it.
pub(in crate::window) fn plan_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    axis: Option<&Axis>,
    (page, drafts): (&mut PlanPage, &mut Drafts),
    planned: (&Season, &Forecast),
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let top = Frame::new().fill(palette.paper).inner_margin(Margin { left: 14, right: 16, top: 8, bottom: 4 });
    Panel::top("plan_line").frame(top).show_separator_line(false).show(ui, |ui| {
        // in a small window they are in the menu alone
        let is_small = ui.ctx().content_rect().size().min_elem() < SMALL_PT;
        let beside = |ui: &mut Ui, actions: &mut Vec<Action>| {
            if !is_small {
                head_ui(ui, actions);
            }
        };
        if let Some(added) = sowing_line_ui(ui, scene, &mut page.line, drafts, actions, beside) {
            page.look_at(added);
        }
    });
    // a row stays where it is as long as a hand holds it
    if page.grip.is_none() && page.rows.follow(scene, page.group) {
        page.bring = page.moved.take().or(page.bring);
    }
    let there = |id: &SowingId| scene.season.sowing(*id).is_some();
    page.chosen.one = page.chosen.one.filter(there);
    page.chosen.more.retain(there);
    let Some(axis) = axis else {
        CentralPanel::default().frame(Frame::new().fill(palette.paper).inner_margin(20)).show(ui, |ui| {
            let next = Some(sowings::WRITE_FIRST);
            if state_in_the_middle_ui(ui, State::NothingSown, sowings::NONE_YET, next) {
                page.write();
            }
        });
        return;
    };
    if let Some(grip) = &mut page.grip
        && !there(&grip.sowing)
    {
        page.grip = None;
    }
    let held = page.grip.map(|grip| grip.sowing);
    held_ui(ui, axis, planned, (&page.chosen, &mut page.grip), actions);
    if let Some(grip) = page.grip.filter(|grip| grip.days != 0) {
        told_ui(ui, scene, planned.1, &grip);
    }
    if page.grip.is_none() && held.is_some() {
        page.moved = held;
    }
    let narrow = axis.margins.right <= 0.0;
    let side = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(14, 10));
    if !narrow {
        let right = Panel::right("plan_detail").frame(side).resizable(false).exact_size(axis.margins.right);
        right.show(ui, |ui| detail_ui(ui, scene, &page.chosen, actions));
    } else if page.shows_detail && page.chosen.one.is_some() {
        CentralPanel::default().frame(side).show(ui, |ui| {
            if ui.add(egui::Button::new(said::BACK_TO_ROWS).min_size(vec2(0.0, 28.0))).clicked() {
                page.shows_detail = false;
            }
            detail_ui(ui, scene, &page.chosen, actions);
        });
        return;
    }
    CentralPanel::default()
        .frame(Frame::new().fill(palette.paper))
        .show(ui, |ui| rows_ui(ui, scene, axis, page, actions));
}

/// Beside the line: what is rarely wanted.
fn head_ui(ui: &mut Ui, actions: &mut Vec<Action>) {
    for (text, to) in
        [(already_here::OPEN, Page::Sowings), (frost::OPEN, Page::Frost), (sowing_table::OPEN, Page::SowingTable)]
    {
        if ui.add(egui::Button::new(text).min_size(vec2(0.0, theme::TARGET_PT))).clicked() {
            if to == Page::Sowings {
                actions.push(Action::Go(Go::AlreadyHere));
            }
            actions.push(Action::Go(Go::Page(to)));
        }
    }
}

/// In what groups the rows stand.
fn group_ui(ui: &mut Ui, page: &mut PlanPage) {
    ui.horizontal(|ui| {
        ui.set_height(GROUP_PT);
        ui.add_space(14.0);
        ui.label(theme::bold(said::GROUP));
        for (group, name) in
            [(Group::Date, said::BY_DATE), (Group::Crop, said::BY_CROP), (Group::Place, said::BY_PLACE)]
        {
            if ui.add(egui::Button::selectable(page.group == group, name).min_size(vec2(0.0, 24.0))).clicked() {
                page.group = group;
            }
        }
    });
}

fn rows_ui(ui: &mut Ui, scene: &Scene<'_>, axis: &Axis, page: &mut PlanPage, actions: &mut Vec<Action>) {
    group_ui(ui, page);
    let area = ui.available_rect_before_wrap();
    let list = ui.interact(area, egui::Id::unique("plan_rows"), Sense::focusable_noninteractive());
    list.widget_info(|| WidgetInfo::labeled(Role::ListBox, true, said::ROWS));
    let at = page.chosen.one.and_then(|one| page.rows.at(one));
    let rows = &page.rows;
    let before = actions.len();
    if keys_ui(ui, &list, scene, &mut page.chosen, |down| rows.beside(at, down), actions) {
        page.bring = page.chosen.one;
    }
    if actions.len() > before {
        page.moved = page.chosen.one;
    }
    let lane = Rect::from_x_y_ranges(axis.x, area.y_range());
    behind_ui(&ui.painter_at(lane), Palette::of(ui), scene, axis, area.y_range());
    actions.extend(axis::wheel_ui(ui, lane, axis).map(|in_view| Action::Go(Go::Along(Some(in_view)))));
    let bring = page.bring.take().and_then(|sowing| page.rows.at(sowing));
    let mut scroll = ScrollArea::vertical().id_salt("plan_rows").auto_shrink([false, false]);
    if let Some(at) = bring {
        let top = at as f32 * ROW_PT - area.height() / 2.0 + ROW_PT / 2.0;
        scroll = scroll.vertical_scroll_offset(top.max(0.0));
    }
    ui.spacing_mut().item_spacing.y = 0.0;
    let number = page.rows.rows.len();
    let mut pressed = false;
    scroll.show_rows(ui, ROW_PT, number, |ui, range| {
        for at in range {
            let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), ROW_PT), Sense::hover());
            match page.rows.rows.get(at).cloned() {
                Some(Row::Head(name, number)) => head_row_ui(ui, rect, axis, &said::group(&name, number)),
                Some(Row::Sowing(id)) => {
                    let by_key = list.has_focus() && page.chosen.one == Some(id);
                    pressed |= row_ui(ui, scene, axis, rect, (id, by_key), page, actions);
                }
                None => {}
            }
        }
    });
    if pressed {
        page.wants_keys = true;
        ui.request_repaint();
    } else if page.wants_keys && !ui.input(|i| i.pointer.any_click()) {
        // not in the frame of the click, which takes the keys from all that does not lie under it
        page.wants_keys = false;
        list.request_focus();
    }
    // over the rows, so that it runs from the top through the strip
    if axis.is_in_view(scene.day) {
        let x = axis.x(scene.day) + axis.day_pt() / 2.0;
        ui.painter_at(lane).vline(x, area.y_range(), Stroke::new(2.0, Palette::of(ui).selected));
    }
    if list.has_focus() {
        let stroke = Stroke::new(2.0, Palette::of(ui).selected);
        ui.painter().rect_stroke(area.shrink(1.0), CornerRadius::same(3), stroke, StrokeKind::Inside);
    }
}

fn head_row_ui(ui: &Ui, rect: Rect, axis: &Axis, name: &str) {
    let palette = Palette::of(ui);
    let head = ui.interact(rect, ui.scope_id().with(("plan_group", name)), Sense::hover());
    head.widget_info(|| WidgetInfo::labeled(Role::Label, true, name));
    let at = pos2(rect.left() + 14.0, rect.bottom() - 6.0);
    let clip = rect.with_max_x(axis.x.max);
    ui.painter_at(clip).text(at, Align2::LEFT_BOTTOM, name, theme::small(), palette.soft_ink);
    ui.painter_at(clip).hline(rect.left() + 14.0..=axis.x.max, rect.bottom() - 2.0, palette.line_stroke());
}

/// Whether it was pressed: the keys go on from there.
fn row_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    axis: &Axis,
    rect: Rect,
    (id, by_key): (SowingId, bool),
    page: &mut PlanPage,
    actions: &mut Vec<Action>,
) -> bool {
    let palette = Palette::of(ui);
    let Some(sowing) = scene.season.sowing(id) else { return false };
    let words = scene.words();
    let is_chosen = page.chosen.holds(id);
    let whole = rect.with_max_x(axis.x.max + 8.0);
    if is_chosen {
        ui.painter().rect_filled(whole, CornerRadius::ZERO, palette.selected.gamma_multiply(0.12));
        let edge = whole.with_max_x(whole.left() + 3.0);
        ui.painter().rect_filled(edge, CornerRadius::ZERO, palette.selected);
    }
    let name = words.sowing(id);
    let courses: Vec<_> = scene.forecast.courses_of(id).collect();
    let sown = courses.iter().filter_map(|course| course.date(What::Sown).or_else(|| course.date(What::Begun))).min();
    let brief = crate::words::sowings::Brief {
        name: name.clone(),
        plants: sowing.plants_wanted(),
        sown,
        begun: sowing.begun.is_some(),
        out: sowing.out(),
    };
    let row = ui.interact(whole, ui.scope_id().with(("plan_row", id)), Sense::CLICK);
    row.widget_info(|| WidgetInfo::selected(Role::Button, true, is_chosen, brief.said()));
    let mut pressed = row.clicked();
    if pressed {
        if ui.input(|i| i.modifiers.command) {
            page.chosen.toggle(id);
        } else {
            page.chosen.only(id);
            page.shows_detail = true;
        }
    }
    sowing_menu_ui(&row, scene, (id, by_key), actions);
    told_beside(&row, rect.with_max_x(axis.x.max), &brief.said());
    let family = scene.season.crop(scene.library, &sowing.crop).map_or("", |crop| crop.family.as_str());
    let look = palette.family(family);
    let picture = Rect::from_center_size(rect.left_center() + vec2(20.0, 0.0), vec2(22.0, 22.0));
    family_ui(ui.painter(), picture, look);
    let left = picture.right() + 7.0;
    let room = axis.x.min - left - 12.0;
    let font = if is_chosen { theme::strong(theme::BODY_PT) } else { theme::body() };
    let crop = scene.season.crop(scene.library, &sowing.crop).map_or(name.as_str(), |crop| crop.name.as_str());
    let (first, second) = said::row_name(crop, &sowing.variety, brief.plants);
    let galley = theme::cut_at_a_word(ui.painter(), &first, font, palette.ink, room);
    ui.painter().galley(pos2(left, rect.top() + 2.0), galley, palette.ink);
    let galley = theme::cut_at_a_word(ui.painter(), &second, theme::small(), palette.soft_ink, room);
    ui.painter().galley(pos2(left, rect.bottom() - 3.0 - galley.size().y), galley, palette.soft_ink);
    let lane = Rect::from_x_y_ranges(axis.x, rect.y_range());
    let painter = ui.painter_at(lane.expand2(vec2(5.0, 0.0)).intersect(ui.clip_rect()));
    let several = courses.len().max(1) as f32;
    for (at, course) in courses.iter().enumerate() {
        let y = rect.center().y + (at as f32 - (several - 1.0) / 2.0) * 6.0 - 1.0;
        bar::bar_ui(&painter, palette, axis, look, course, y);
    }
    if let Some(first) = courses.first() {
        handle_ui(ui, palette, axis, rect, (sowing, first), page);
        pressed |= row_hand_ui(ui, scene, axis, rect, (sowing, first), (&mut page.chosen, &mut page.grip));
    }
    pressed
}

/// What of the chosen row is moved, with its day; while it is dragged, by how much.
fn handle_ui(
    ui: &Ui,
    palette: &Palette,
    axis: &Axis,
    row: Rect,
    (sowing, course): (&Sowing, &crate::forecast::Course),
    page: &PlanPage,
) {
    let Some(handle) = page.chosen.handle.filter(|_| page.chosen.one == Some(sowing.id)) else { return };
    let Some(date) = handle.date(course) else { return };
    let x = axis.x(date);
    let grip = page.grip.filter(|grip| grip.sowing == sowing.id);
    let text = match (grip, handle) {
        (Some(grip), _) => said::dragged(handle, date, grip.days),
        (None, Handle::MovedOn(step)) => {
            // what it is moved on out of holds it so long
            let at = sowing.steps.iter().position(|one| one.id == step);
            let before = at.and_then(|at| sowing.steps.get(at.checked_sub(1)?));
            said::may_wait(date, before.and_then(|before| course.date(What::Latest(before.id))))
        }
        (None, _) => said::on_its_day(handle, date),
    };
    let painter = ui.painter();
    if handle != Handle::Whole {
        let edge = Rect::from_x_y_ranges(x - 4.0..=x + 4.0, row.center().y - 11.0..=row.center().y + 9.0);
        painter.rect_filled(edge, CornerRadius::same(2), palette.selected);
    }
    let galley = painter.layout_no_wrap(text, theme::strong(theme::SMALL_PT), palette.selected);
    let left = (x + 8.0).min(axis.x.max - galley.size().x - 4.0).max(axis.x.min);
    let at = Rect::from_min_size(pos2(left, row.top() - 9.0), galley.size());
    painter.rect_filled(at.expand2(vec2(3.0, 0.0)), CornerRadius::same(2), palette.paper);
    let said = galley.text().to_owned();
    painter.galley(at.min, galley, palette.selected);
    let label = ui.interact(at, ui.scope_id().with(("plan_label", sowing.id)), Sense::hover());
    label.widget_info(|| WidgetInfo::labeled(Role::Label, true, &said));
}
