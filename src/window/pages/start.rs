//! A season from nothing: shelves, the last frost, what to grow; the forecast stands as soon as
//! there is something to forecast. Nothing else is asked.

use egui::{Button, Ui, vec2};

use crate::forecast::What;
use crate::season::{Op, Sowing, make};
use crate::words::start::{self as said, Begins};
use crate::words::{self, menu};

use crate::window::action::{Action, File, Go};
use crate::window::files::Recent;
use crate::window::how_many::{About, HowMany, how_many_ui};
use crate::window::kit::{
    Drafts, Field, Named, Owner, Stop, WIDE_PT, field_ui, middle_ui, part_title_ui, right_side_ui, soft_ui, stop_ui,
    tried, wrapped_ui,
};
use crate::window::last_frost::last_frost_ui;
use crate::window::new_rack::{RackForm, first_rack_ui, table_ui};
use crate::window::scene::Scene;
use crate::window::sowing::{AlreadyHere, Line, already_here_ui, sowing_line_ui};
use crate::window::state::Page;

/// Shelves on the left, what is to grow on the right; in a narrower window one above the other.
const TWO_COLUMNS_PT: f32 = 780.0;
const RACK: Owner = Owner::Form("rack_at_the_start");

/// What the page keeps between frames.
#[derive(Default)]
pub(in crate::window) struct StartPage {
    rack: RackForm,
    line: Line,
    here: AlreadyHere,
    /// The form for plants that stand there already is shown.
    adds_here: bool,
    many: HowMany,
    was_shown: bool,
}

pub(in crate::window) fn start_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (page, recent): (&mut StartPage, Recent<'_>),
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    if !std::mem::replace(&mut page.was_shown, true) && is_new(scene) {
        page.rack.ask();
    }
    let room = (ui.available_width() - 480.0).max(260.0);
    right_side_ui(ui, "how_many_at_the_start", 360.0, 240.0..=room, |ui| {
        let size = page.rack.size(scene, &RACK, drafts);
        how_many_ui(ui, scene, &mut page.many, drafts, &About { size, shelf: None });
    });
    middle_ui(ui, "start", |ui| {
        used_before_ui(ui, scene, recent, actions);
        if ui.available_width() >= TWO_COLUMNS_PT {
            ui.columns_const(|[left, right]| {
                left.vertical(|ui| shelves_part_ui(ui, scene, page, drafts, actions));
                right.vertical(|ui| plan_part_ui(ui, scene, page, drafts, actions));
            });
        } else {
            shelves_part_ui(ui, scene, page, drafts, actions);
            plan_part_ui(ui, scene, page, drafts, actions);
        }
    });
}

/// Of a season with nothing in it yet: others, to be opened instead.
fn used_before_ui(ui: &mut Ui, scene: &Scene<'_>, recent: Recent<'_>, actions: &mut Vec<Action>) {
    if !is_new(scene) || recent.paths.is_empty() {
        return;
    }
    part_title_ui(ui, said::USED_BEFORE);
    ui.horizontal_wrapped(|ui| {
        stop_ui(ui, "used_before", said::USED_BEFORE, |ui, stop| {
            for path in recent.paths {
                let name = recent.name(path);
                let leads = said::open_used(&name, path);
                let button = Button::new(&name).min_size(vec2(120.0, 28.0));
                if stop.row_ui(ui, button, Named { hover: &leads, ..Named::new(&leads) }) {
                    actions.push(Action::File(File::OpenPath(path.clone())));
                }
            }
        });
    });
    ui.add_space(8.0);
}

fn is_new(scene: &Scene<'_>) -> bool {
    scene.season.racks().is_empty() && scene.season.sowings().next().is_none()
}

fn shelves_part_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut StartPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    part_title_ui(ui, said::SHELVES);
    racks_ui(ui, scene, actions);
    first_rack_ui(ui, scene, &RACK, &mut page.rack, drafts, actions);
    ui.add_space(6.0);
    table_ui(ui, scene, &Owner::Form("table_at_the_start"), drafts, actions);
    ui.add_space(14.0);
    let name = Field::new(said::SEASON_NAME, scene.season.name()).width(WIDE_PT);
    actions
        .extend(field_ui(ui, drafts, &Owner::Season, &name, |text| tried(scene.season, Op::Rename(text.to_owned()))));
}

fn plan_part_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut StartPage, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    part_title_ui(ui, said::FROST);
    frost_ui(ui, scene, drafts, actions);
    part_title_ui(ui, said::SOWINGS);
    page.line.say_little();
    if let Some(added) = sowing_line_ui(ui, scene, &mut page.line, drafts, actions, |_, _| {}) {
        actions.push(Action::Go(Go::Sowing(added)));
    }
    let open = page.adds_here;
    let text = if open { said::PUT_AWAY } else { said::HERE_ALREADY };
    if ui.add(Button::new(text).selected(open).min_size(vec2(180.0, 28.0))).clicked() {
        page.adds_here = !open;
    }
    if open && let Some(added) = already_here_ui(ui, scene, &mut page.here, drafts, actions) {
        actions.push(Action::Go(Go::Sowing(added)));
        page.adds_here = false;
    }
    next_ui(ui, scene, actions);
    sowings_ui(ui, scene, actions);
}

/// What stands there so far, with buttons behind it that each have a longer name.
fn line_ui(ui: &mut Ui, stop: &mut Stop, said: &str, buttons: &[(&str, String)]) -> Option<usize> {
    let mut pressed = None;
    ui.horizontal(|ui| {
        let room = (ui.available_width() - 88.0 * buttons.len() as f32).clamp(120.0, 420.0);
        ui.allocate_ui(vec2(room, 28.0), |ui| {
            ui.set_min_size(vec2(room, 28.0));
            wrapped_ui(ui, said);
        });
        for (at, (text, name)) in buttons.iter().enumerate() {
            if stop.row_ui(ui, Button::new(*text).min_size(vec2(76.0, 28.0)), Named::new(name)) {
                pressed = Some(at);
            }
        }
    });
    pressed
}

fn racks_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    stop_ui(ui, "racks_at_the_start", said::SHELVES, |ui, stop| {
        for rack in scene.season.racks() {
            let buttons = [(said::ONE_MORE, said::one_more_like(&rack.name)), (said::CHANGE, said::change(&rack.name))];
            match line_ui(ui, stop, &said::rack(scene.season, rack), &buttons) {
                Some(0) => actions.push(Action::edit(make::copy_rack(scene.season, rack).0)),
                Some(_) => actions.push(Action::Go(Go::Rack(rack.id))),
                None => {}
            }
        }
    });
}

fn frost_ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    last_frost_ui(ui, scene, drafts, said::ON_AVERAGE, actions);
    match &scene.season.settings().frost {
        Some(frost) => soft_ui(ui, &said::lines_go_by(&words::frost_with_basis(frost, scene.unit))),
        None => soft_ui(ui, said::WHAT_AVERAGE),
    }
    if ui.add(Button::new(said::MORE_OF_FROST).min_size(vec2(180.0, 28.0))).clicked() {
        actions.push(Action::Go(Go::Page(Page::Frost)));
    }
}

/// What was written last stands below the line that it was written in.
fn sowings_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    stop_ui(ui, "sowings_at_the_start", said::SOWINGS, |ui, stop| {
        for sowing in scene.season.sowings().collect::<Vec<_>>().into_iter().rev() {
            let name = scene.words().sowing(sowing.id);
            let buttons = [(said::CHANGE, said::change(&name)), (said::REMOVE, said::remove(&name))];
            match line_ui(ui, stop, &sowing_words(scene, sowing, &name), &buttons) {
                Some(0) => {
                    actions.push(Action::Go(Go::Sowing(sowing.id)));
                    actions.push(Action::Go(Go::Page(Page::Sowings)));
                }
                Some(_) => actions.push(Action::edit(Op::RemoveSowing(sowing.id))),
                None => {}
            }
        }
    });
}

fn sowing_words(scene: &Scene<'_>, sowing: &Sowing, name: &str) -> String {
    let (what, begins) = match sowing.begun {
        Some(_) => (What::Begun, Begins::HereFrom),
        None => (What::Sown, Begins::Sown),
    };
    let first = scene.forecast.courses_of(sowing.id).filter_map(|course| course.date(what)).min().map(words::day);
    let out = sowing.out().map(words::day);
    said::sowing(sowing.plants_wanted(), name, first.as_deref().map(|day| (begins, day)), out.as_deref())
}

/// What to do next, once there is something on the shelves.
fn next_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    if scene.season.shelves().next().is_none() || scene.season.sowings().next().is_none() {
        return;
    }
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        let worth = (!scene.problems.is_empty()).then(|| menu::worth_a_look(scene.problems.len()));
        let shelves = (said::SEE_SHELVES.to_owned(), Page::Shelves);
        for (text, page) in [shelves].into_iter().chain(worth.map(|text| (text, Page::WorthALook))) {
            if ui.add(Button::new(text).min_size(vec2(140.0, 30.0))).clicked() {
                actions.push(Action::Go(Go::Page(page)));
            }
        }
    });
}
