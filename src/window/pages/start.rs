//! A season from nothing: shelves, the last frost, what to grow; the forecast stands as soon as
//! there is something to forecast. Nothing else is asked.

use egui::{Button, Frame, Label, Margin, Panel, RichText, ScrollArea, Ui, WidgetInfo, vec2};

use crate::forecast::What;
use crate::season::{FieldId, Op, Rack, Sowing, ZoneKind, make};
use crate::trade::frost_on_own_day;
use crate::units::read_date;
use crate::words;

use crate::window::action::{Action, Go};
use crate::window::kit::old_fields::{Drafts as OldDrafts, Field, Owner, date_field_ui, field_ui, tried};
use crate::window::kit::{Drafts, FIELD_PT, WIDE_PT};
use crate::window::pages::frost::put_frost;
use crate::window::pages::places::{HowMany, RackForm, add_ui, how_many_ui};
use crate::window::scene::{Scene, counted};
use crate::window::sowing::{AlreadyHere, Line, already_here_ui, sowing_line_ui};
use crate::window::state::Page;
use crate::window::theme::{self, Palette};

/// Shelves on the left, what is to grow on the right; in a narrower window one above the other.
const TWO_COLUMNS_PT: f32 = 780.0;

/// What the page keeps between frames; gone with the season.
#[derive(Default)]
pub(in crate::window) struct StartPage {
    drafts: OldDrafts,
    rack: RackForm,
    line: Line,
    here: AlreadyHere,
    /// The form for plants that stand there already is shown.
    adds_here: bool,
    many: HowMany,
}

pub(in crate::window) fn start_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut StartPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    let side = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(12, 10));
    let room = (ui.available_width() - 480.0).max(260.0);
    Panel::right("how many at the start").frame(side).default_size(360.0).size_range(240.0..=room).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            how_many_ui(ui, scene, &mut page.many, None);
        });
    });
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(20, 12));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            if ui.available_width() >= TWO_COLUMNS_PT {
                ui.columns_const(|[left, right]| {
                    left.vertical(|ui| shelves_part_ui(ui, scene, page, actions));
                    right.vertical(|ui| plan_part_ui(ui, scene, page, drafts, actions));
                });
            } else {
                shelves_part_ui(ui, scene, page, actions);
                plan_part_ui(ui, scene, page, drafts, actions);
            }
        });
    });
}

fn shelves_part_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut StartPage, actions: &mut Vec<Action>) {
    let key = (Owner::Season, "name", 0);
    let shown = scene.season.name();
    let field = Field { key, label: words::field(FieldId::SeasonName), shown, hint: "", width: WIDE_PT };
    field_ui(ui, &mut page.drafts, &field, actions, |text| tried(scene.season, Op::Rename(text.to_owned())));
    title_ui(ui, "1  Shelves");
    racks_ui(ui, scene, actions);
    add_ui(ui, scene, &mut page.rack, actions);
}

fn plan_part_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut StartPage, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    title_ui(ui, "2  Last frost");
    frost_ui(ui, scene, &mut page.drafts, actions);
    title_ui(ui, "3  Sowings");
    if let Some(added) = sowing_line_ui(ui, scene, &mut page.line, drafts, actions) {
        actions.push(Action::Go(Go::Sowing(added)));
    }
    let open = page.adds_here;
    let text = if open { "Put this form away" } else { "They stand here already…" };
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

fn title_ui(ui: &mut Ui, title: &str) {
    ui.add_space(8.0);
    ui.label(RichText::new(title).font(theme::strong(theme::TITLE_PT)));
    ui.add_space(2.0);
}

/// What stands there so far, with buttons behind it that each have a longer name.
fn line_ui(ui: &mut Ui, said: &str, buttons: &[(&str, String)]) -> Option<usize> {
    let mut pressed = None;
    ui.horizontal(|ui| {
        let room = (ui.available_width() - 88.0 * buttons.len() as f32).clamp(120.0, 420.0);
        ui.allocate_ui(vec2(room, 28.0), |ui| {
            ui.set_min_size(vec2(room, 28.0));
            ui.add(Label::new(said).wrap());
        });
        for (at, (text, name)) in buttons.iter().enumerate() {
            let button = ui.add(Button::new(*text).min_size(vec2(76.0, 28.0)));
            button.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, name));
            if button.clicked() {
                pressed = Some(at);
            }
        }
    });
    pressed
}

fn racks_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    for rack in scene.season.racks() {
        let said = rack_words(scene, rack);
        let buttons =
            [("One more", format!("One more like {}", rack.name)), ("Change…", format!("Change {}", rack.name))];
        match line_ui(ui, &said, &buttons) {
            Some(0) => actions.push(Action::edit(make::copy_rack(scene.season, rack).0)),
            Some(_) => actions.push(Action::Go(Go::Rack(rack.id))),
            None => {}
        }
    }
}

/// `Rack 1: 4 shelves of 48 × 18 in, with lamps`.
fn rack_words(scene: &Scene<'_>, rack: &Rack) -> String {
    let shelves = scene.season.shelves_of(rack.id);
    let mut said = format!(
        "{}: {}",
        rack.name,
        if shelves.len() == 1 { "1 shelf".into() } else { format!("{} shelves", shelves.len()) }
    );
    if let Some(first) = shelves.first() {
        let alike = shelves
            .iter()
            .all(|one| (one.width.value(), one.depth.value()) == (first.width.value(), first.depth.value()));
        let size = format!("{} × {}", first.width.typed(), first.depth.typed());
        said = if alike { format!("{said} of {size}") } else { format!("{said}, the first {size}") };
        if shelves.iter().all(|shelf| shelf.has(ZoneKind::Lamp)) {
            said.push_str(", with lamps");
        }
    }
    said
}

fn frost_ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut OldDrafts, actions: &mut Vec<Action>) {
    let frost = scene.season.settings().frost.as_ref();
    let shown = frost.map_or_else(String::new, |frost| words::full_day(frost.date));
    let near = scene.near();
    let key = (Owner::Season, "Last frost", 0);
    let field = Field { key, label: "On average", shown: &shown, hint: "such as 2 May", width: FIELD_PT };
    let date = frost.map_or(near, |frost| frost.date);
    date_field_ui(ui, drafts, &field, date, actions, |text| {
        let date = if text.is_empty() { None } else { Some(read_date(text, near).map_err(|why| why.to_string())?) };
        put_frost(scene, date.map(|date| frost_on_own_day(frost, date)))
    });
    let said = match frost {
        Some(frost) => format!("{}; lines without a day go by it", words::last_frost(frost)),
        None => "The day after which 5 years in 10 have a later frost; may be left empty".to_owned(),
    };
    ui.add(Label::new(RichText::new(said).color(Palette::of(ui).soft_ink)).wrap());
    if ui.add(Button::new("Risk, station, table…").min_size(vec2(180.0, 28.0))).clicked() {
        actions.push(Action::Go(Go::Page(Page::Frost)));
    }
}

fn sowings_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    for sowing in scene.season.sowings() {
        let name = scene.words().sowing(sowing.id);
        let buttons = [("Change…", format!("Change {name}")), ("Remove", format!("Remove {name}"))];
        match line_ui(ui, &sowing_words(scene, sowing), &buttons) {
            Some(0) => {
                actions.push(Action::Go(Go::Sowing(sowing.id)));
                actions.push(Action::Go(Go::Page(Page::Sowings)));
            }
            Some(_) => actions.push(Action::edit(Op::RemoveSowing(sowing.id))),
            None => {}
        }
    }
}

/// `72 × Tomato: sown 21 Mar, out 16 May`.
fn sowing_words(scene: &Scene<'_>, sowing: &Sowing) -> String {
    let (what, since) = if sowing.begun.is_some() { (What::Begun, ": here from") } else { (What::Sown, ": sown") };
    let sown = scene.forecast.courses_of(sowing.id).filter_map(|course| course.date(what)).min();
    let mut said = format!("{} × {}", sowing.plants_wanted(), scene.words().sowing(sowing.id));
    for (what, date) in [(since, sown), (", out", sowing.out())] {
        if let Some(date) = date {
            said = format!("{said}{what} {}", words::day(date));
        }
    }
    said
}

/// What to do next, once there is something on the shelves.
fn next_ui(ui: &mut Ui, scene: &Scene<'_>, actions: &mut Vec<Action>) {
    let season = scene.season;
    let (shelves, sowings) = (season.shelves().count(), season.sowings().count());
    if shelves == 0 || sowings == 0 {
        return;
    }
    ui.add_space(12.0);
    let said = format!(
        "{} and {}: the weeks below say whether they fit",
        counted(sowings, "sowing"),
        if shelves == 1 { "1 shelf".to_owned() } else { format!("{shelves} shelves") }
    );
    ui.label(said);
    ui.horizontal(|ui| {
        for (text, page) in [("See the shelves", Page::Shelves), ("What is worth a look", Page::WorthALook)] {
            if ui.add(Button::new(text).min_size(vec2(140.0, 30.0))).clicked() {
                actions.push(Action::Go(Go::Page(page)));
            }
        }
    });
}
