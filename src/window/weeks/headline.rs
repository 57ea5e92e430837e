//! One sentence that names the crunch, and beside it the one thing to do.

use egui::{Align, Button, Layout, RichText, Sense, Ui, vec2};

use crate::outlook::{Outlook, PoolKind};
use crate::season::ZoneKind;
use crate::words::{ways_out, weeks as said};

use crate::window::action::{Action, Do, Go};
use crate::window::scene::Scene;
use crate::window::state::Page;
use crate::window::theme::{self, Palette};

use super::band::band_sign_ui;

/// How far the work on the outlook is.
#[derive(Clone, Copy, Debug)]
pub(in crate::window) struct Work<'a> {
    /// While it goes on, from 0 to 1.
    pub(in crate::window) progress: Option<f32>,
    /// Its layout is wanted as soon as it is there.
    pub(in crate::window) finding: bool,
    /// The grower stopped it.
    pub(in crate::window) stopped: bool,
    pub(in crate::window) failure: Option<&'a str>,
    /// The layout that was found is the one that stands.
    pub(in crate::window) layout_stands: bool,
}

pub(super) fn headline_ui(ui: &mut Ui, scene: &Scene<'_>, pool: PoolKind, work: &Work<'_>, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    ui.horizontal(|ui| {
        ui.set_min_height(32.0);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            button_ui(ui, palette, scene, work, actions);
            ui.add_space(8.0);
            legend_ui(ui, palette, scene);
            if scene.outlook.is_some() && !scene.outlook_is_fresh {
                ui.label(RichText::new(said::BEFORE_LAST_CHANGE).color(palette.soft_ink));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                sentence_ui(ui, palette, scene, work, actions);
            });
        });
    });
    pools_ui(ui, scene, pool, actions);
}

fn button_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, work: &Work<'_>, actions: &mut Vec<Action>) {
    find_ui(ui, palette, scene, work, actions);
    make_room_ui(ui, scene, actions);
    if let Some(progress) = work.progress {
        if ui.add(Button::new(said::STOP).min_size(vec2(84.0, 30.0))).clicked() {
            actions.push(Action::Do(Do::StopWork));
        }
        let text = said::progress(work.finding, progress);
        let bar = egui::ProgressBar::new(progress).desired_width(150.0).text(text);
        ui.add(bar.fill(palette.plugs).animate(false));
        return;
    }
    if (work.stopped || work.failure.is_some())
        && ui.add(Button::new(said::WORK_IT_OUT).min_size(vec2(110.0, 30.0))).clicked()
    {
        actions.push(Action::Do(Do::WorkItOut));
    }
}

/// Beside it, as long as there is something to make room for.
fn make_room_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    if scene.outlook.is_none_or(|outlook| outlook.crunches.is_empty()) {
        return;
    }
    let palette = Palette::of(ui);
    let text = RichText::new(said::MAKE_ROOM).font(theme::strong(13.5)).color(palette.on_selected);
    let button = Button::new(text).min_size(vec2(96.0, 30.0)).fill(palette.selected);
    if ui.add(button).on_hover_text(ways_out::WHAT_IT_DOES).clicked() {
        actions.push(Action::Go(Go::Page(Page::MakeRoom)));
    }
}

/// Always at the right end: no other button comes to lie where it was.
fn find_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, work: &Work<'_>, actions: &mut Vec<Action>) {
    let idle = work.progress.is_none() && !work.stopped && work.failure.is_none();
    let can = idle && scene.outlook.is_some() && !work.layout_stands;
    let text = RichText::new(said::FIND_SPOTS).font(theme::strong(13.5));
    // the one thing to do while room is short is to make some
    let first = can && scene.outlook.is_some_and(|outlook| outlook.crunches.is_empty());
    let text = if first { text.color(palette.on_selected) } else { text };
    let button = Button::new(text).min_size(vec2(112.0, 30.0));
    let button = if first { button.fill(palette.selected) } else { button };
    let does = if work.layout_stands { said::ALL_HAVE_A_SPOT } else { said::WHAT_FINDING_DOES };
    if ui.add_enabled(can, button).on_hover_text(does).on_disabled_hover_text(does).clicked() {
        actions.push(Action::Do(Do::FindSpots));
    }
}

fn legend_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>) {
    if scene.chance.is_some() {
        let name =
            ui.add(egui::Label::new(RichText::new(said::MOST_SEASONS).font(theme::small()).color(palette.soft_ink)));
        name.on_hover_text(said::WHAT_MOST_SEASONS_ARE);
        let (rect, _) = ui.allocate_exact_size(vec2(9.0, 14.0), Sense::hover());
        band_sign_ui(ui.painter(), palette, rect.center().x, rect.y_range(), 4.0);
    }
}

fn sentence_ui(ui: &mut Ui, palette: &Palette, scene: &Scene<'_>, work: &Work<'_>, actions: &mut Vec<Action>) {
    if let Some(failure) = work.failure {
        ui.add(egui::Label::new(RichText::new(failure).color(palette.trouble)).truncate());
        return;
    }
    if work.stopped && !scene.outlook_is_fresh {
        ui.label(said::STOPPED);
        return;
    }
    let Some(outlook) = scene.outlook else {
        ui.label(said::WORKING);
        return;
    };
    let Some((at, crunch)) = outlook.worst() else {
        // Of nothing there is nothing to say: the empty strip says so.
        if scene.forecast.span().is_some() {
            calm_ui(ui, outlook);
        }
        return;
    };
    ui.label(RichText::new(said::CRUNCH).font(theme::strong(14.0)).color(palette.trouble));
    let words = scene.words();
    let more = outlook.crunches.len() - 1;
    let sentence = RichText::new(words.crunch(crunch)).color(palette.ink);
    let room = ui.available_width() - if more > 0 { 90.0 } else { 0.0 };
    ui.scope(|ui| {
        ui.set_max_width(room.max(80.0));
        let link = ui.add(Button::new(sentence).frame(false).truncate().min_size(vec2(0.0, theme::TARGET_PT)));
        if link.on_hover_text(said::leads_to_proof(&words.reason(crunch))).clicked() {
            actions.push(Action::Go(Go::Crunch(at)));
        }
    });
    if more > 0 {
        ui.menu_button(said::more(more), |ui| {
            for (other, crunch) in outlook.crunches.iter().enumerate().filter(|(other, _)| *other != at) {
                if ui.button(words.crunch(crunch)).clicked() {
                    actions.push(Action::Go(Go::Crunch(other)));
                }
            }
        });
    }
}

fn calm_ui(ui: &mut Ui, outlook: &Outlook) {
    ui.label(said::calm(outlook));
}

fn may_have_several_pools(scene: &Scene<'_>) -> bool {
    let mut roles: Vec<_> = scene.season.places().map(|place| place.role).collect();
    roles.sort_unstable();
    roles.dedup();
    let mats = scene.season.shelves().any(|shelf| shelf.has(ZoneKind::Heat));
    roles.len() + usize::from(mats) > 1
}

/// Which shelves the columns count; one choice needs no choosing.
fn pools_ui(ui: &mut Ui, scene: &Scene<'_>, pool: PoolKind, actions: &mut Vec<Action>) {
    let weeks = scene.outlook.iter().flat_map(|outlook| &outlook.weeks);
    let mut pools: Vec<_> = weeks.map(|week| &week.pool).collect();
    pools.sort();
    pools.dedup_by_key(|one| one.kind);
    let crunches = scene.outlook.map_or(&[][..], |outlook| &outlook.crunches);
    if pools.len() < 2 {
        // kept free for them, so that the strip stays where it is when they are known
        if may_have_several_pools(scene) {
            ui.allocate_space(vec2(0.0, ui.spacing().interact_size.y));
        }
        return;
    }
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for one in pools {
            let is_short = crunches.iter().any(|crunch| crunch.days.iter().any(|days| days.pool.kind == one.kind));
            let name = scene.words().pool(one);
            let widest = said::with_crunch(&name);
            let text = if is_short { widest.clone() } else { name };
            // as wide with a crunch as without, so that none moves when an answer comes
            let widest = ui.painter().layout_no_wrap(widest, theme::small(), Palette::of(ui).ink).size().x;
            let width = widest + 2.0 * ui.spacing().button_padding.x;
            let button = Button::selectable(one.kind == pool, RichText::new(text).font(theme::small()));
            if ui.add(button.min_size(vec2(width, 0.0))).clicked() {
                actions.push(Action::Go(Go::Pool(one.kind)));
            }
        }
    });
}
