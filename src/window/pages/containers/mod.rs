//! The containers page: trays, flats and pots of the library and the grower's own. A list on the
//! left; in the middle the one chosen or a form for a new one, drawn as it is typed.

mod draft;
mod facts;

use std::collections::BTreeMap;

use egui::{Button, Frame, Id, Margin, Panel, RichText, ScrollArea, TextEdit, Ui, WidgetInfo, vec2};

use crate::season::{Container, ContainerKey, Edit, EditLabel, Op};

use crate::window::action::Action;
use crate::window::kit::fields::{FIELD_PT, WIDE_PT, beside_ui, button_ui, choice_ui, row_ui, tried};
use crate::window::kit::form::{Faults, Form, Lines};
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

use draft::{KINDS, Kind, Shown, free_key};
use facts::{OnShelves, told_ui};

const FORM_PT: f32 = 520.0;

/// What the page keeps between frames; gone with the season.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct ContainersPage {
    /// The form for a new one where nothing is chosen.
    chosen: Option<ContainerKey>,
    part: String,
    kind: Kind,
    forms: BTreeMap<Option<ContainerKey>, Form>,
    shelves: OnShelves,
}

pub(in crate::window) fn containers_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut ContainersPage,
    actions: &mut Vec<Action>,
) {
    let palette = Palette::of(ui);
    page.chosen = page.chosen.take().filter(|key| scene.season.container(scene.library, key).is_some());
    let side = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(12, 10));
    Panel::left("containers").frame(side).default_size(340.0).size_range(240.0..=480.0).show(ui, |ui| {
        list_ui(ui, scene, page);
    });
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(20, 14));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).id_salt(("container", &page.chosen)).show(ui, |ui| {
            let chosen = page.chosen.clone();
            let own = chosen.as_ref().and_then(|key| scene.season.own_containers().find(|own| own.key == *key));
            match (own, chosen) {
                (Some(own), _) => own_ui(ui, scene, own, page, actions),
                (None, Some(key)) => library_ui(ui, scene, &key, page, actions),
                (None, None) => add_ui(ui, scene, page, actions),
            }
        });
    });
}

fn list_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut ContainersPage) {
    row_button_ui(ui, page, None, "Add a container", "");
    let field = TextEdit::singleline(&mut page.part).hint_text("Part of a name").min_size(vec2(0.0, theme::TARGET_PT));
    let field = ui.add(field.desired_width(f32::INFINITY));
    field.ctx.accesskit_node_builder(field.id, |node| node.set_label("Find a container"));
    let part = page.part.trim().to_lowercase();
    let own: Vec<&Container> = scene.season.own_containers().collect();
    let others = scene.library.containers.values().filter(|one| own.iter().all(|own| own.key != one.key));
    let fits = |one: &&Container| part.is_empty() || one.name.to_lowercase().contains(&part);
    let mut all: Vec<(&Container, bool)> = own.iter().map(|own| (*own, true)).filter(|(one, _)| fits(one)).collect();
    let mut others: Vec<&Container> = others.filter(fits).collect();
    others.sort_by(|a, b| a.name.cmp(&b.name));
    all.sort_by(|a, b| a.0.name.cmp(&b.0.name));
    all.extend(others.into_iter().map(|one| (one, false)));
    if all.is_empty() {
        ui.label("No container of that name");
    }
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        for (one, is_own) in all {
            let brief = facts::briefly(one);
            let more = if is_own { format!("your own · {brief}") } else { brief };
            row_button_ui(ui, page, Some(&one.key), &one.name, &more);
        }
    });
}

fn row_button_ui(ui: &mut Ui, page: &mut ContainersPage, key: Option<&ContainerKey>, text: &str, more: &str) {
    let open = page.chosen.as_ref() == key;
    let name = if more.is_empty() { text.to_owned() } else { format!("{text}, {more}") };
    let soft = RichText::new(more).color(Palette::of(ui).soft_ink);
    let button = Button::new(text).right_text(soft).min_size(vec2(ui.available_width(), 28.0)).truncate();
    let response = ui.add(button.selected(open).frame_when_inactive(false)).on_hover_text(&name);
    response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, open, &name));
    if response.clicked() {
        page.chosen = key.cloned();
    }
}

fn fields_ui(ui: &mut Ui, form: &mut Form, shown: &Shown, faults: &Faults, of: Option<&ContainerKey>, kind: Kind) {
    let mut lines = Lines { form, faults, of: Id::unique(("container", of)) };
    lines.line_ui(ui, draft::NAME, &shown.name, "50-cell tray of mine", WIDE_PT);
    match kind {
        Kind::Cells => {
            lines.line_ui(ui, draft::SIZE, &shown.size, "28 × 54 cm, 11 × 21 in", FIELD_PT * 1.5);
            lines.line_ui(ui, draft::ROWS, &shown.rows, "offset", FIELD_PT);
            lines.line_ui(ui, draft::IN_ROW, &shown.in_row, "offset", FIELD_PT);
            lines.line_ui(ui, draft::CELLS, &shown.cells, "rows times cells", FIELD_PT);
            lines.line_ui(ui, draft::CELL_TOP, &shown.cell_top, "unknown", FIELD_PT);
            lines.line_ui(ui, draft::VOLUME, &shown.volume, "30 ml", FIELD_PT);
        }
        Kind::Open => {
            lines.line_ui(ui, draft::SIZE, &shown.size, "28 × 54 cm, 11 × 21 in", FIELD_PT * 1.5);
            lines.line_ui(ui, draft::FLOOR, &shown.floor, "as the outer size", FIELD_PT * 1.5);
        }
        Kind::SquarePot | Kind::RoundPot => {
            lines.line_ui(ui, draft::TOP, &shown.top, "9 cm, 3 1/2 in", FIELD_PT);
            lines.line_ui(ui, draft::BASE, &shown.base, "as the rim", FIELD_PT);
            lines.line_ui(ui, draft::VOLUME, &shown.volume, "from its shape", FIELD_PT);
            lines.line_ui(ui, draft::PER_FLAT, &shown.per_flat, "as many as fit", FIELD_PT);
        }
    }
    lines.line_ui(ui, draft::HEIGHT, &shown.height, "unknown", FIELD_PT);
    lines.line_ui(ui, draft::NOTE, &shown.note, "", WIDE_PT);
}

fn add_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut ContainersPage, actions: &mut Vec<Action>) {
    ui.label(RichText::new("Add a container").font(theme::strong(theme::TITLE_PT)));
    ui.label("Measured outside; a length without a unit is taken as the units shown");
    ui.add_space(6.0);
    beside_ui(
        ui,
        FORM_PT,
        page,
        |ui, page| add_form_ui(ui, scene, page, actions),
        |ui, page| drawn_ui(ui, scene, page),
    );
}

fn add_form_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut ContainersPage, actions: &mut Vec<Action>) {
    page.kind = choice_ui(ui, "It is a", page.kind, &KINDS).unwrap_or(page.kind);
    let shown = Shown::new(scene.unit);
    let form = page.forms.entry(None).or_default();
    let key = free_key(scene.season, scene.library, form.text(draft::NAME, "").trim());
    let read = shown.read(form, key, page.kind, None, (scene.season, scene.unit));
    let mut faults = read.as_ref().err().cloned().unwrap_or_default();
    let unnamed = !form.has(draft::NAME);
    if unnamed {
        faults.remove(draft::NAME);
    }
    fields_ui(ui, form, &shown, &faults, None, page.kind);
    ui.add_space(6.0);
    row_ui(ui, "", |ui, _| {
        ui.add_enabled_ui(read.is_ok(), |ui| {
            if button_ui(ui, "Add container")
                && let Ok(container) = &read
            {
                let put = Op::PutContainer(container.clone());
                let label = EditLabel::AddContainer(container.name.clone());
                actions.push(Action::Edit(Edit::new(label, vec![put])));
                page.chosen = Some(container.key.clone());
                page.forms.remove(&None);
            }
        });
        if unnamed {
            ui.label(RichText::new("It needs a name").color(Palette::of(ui).soft_ink));
        }
    });
}

/// The new one as it is typed, before it has a name.
fn drawn_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut ContainersPage) {
    let shown = Shown::new(scene.unit);
    let mut named = page.forms.get(&None).cloned().unwrap_or_default();
    named.set(draft::NAME, "new");
    let read = |form: &Form| shown.read(form, ContainerKey::new("new"), page.kind, None, (scene.season, scene.unit));
    if let Ok(container) = read(&named).or_else(|faults| read(&named.without(&faults))) {
        told_ui(ui, scene, &container, &mut page.shelves);
    }
}

/// The grower's own of that container, chosen at once.
fn start_from(scene: &Scene<'_>, container: &Container, page: &mut ContainersPage, actions: &mut Vec<Action>) {
    let name: String = format!("{}, own", container.name.trim_end_matches(", own")).chars().take(200).collect();
    let key = free_key(scene.season, scene.library, &name);
    page.chosen = Some(key.clone());
    let put = Op::PutContainer(Container { key, name: name.clone(), ..container.clone() });
    actions.push(Action::Edit(Edit::new(EditLabel::AddContainer(name), vec![put])));
}

fn library_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    key: &ContainerKey,
    page: &mut ContainersPage,
    actions: &mut Vec<Action>,
) {
    let Some(container) = scene.library.containers.get(key) else { return };
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(&container.name).font(theme::strong(theme::TITLE_PT)));
        if Kind::of(container).is_some() && button_ui(ui, "Start from this one") {
            start_from(scene, container, page, actions);
        }
    });
    ui.label(RichText::new("From the library; a copy of your own can be changed").color(Palette::of(ui).soft_ink));
    if let Some(source) = facts::source(container) {
        ui.label(source);
    }
    if !container.note.is_empty() {
        ui.label(&container.note);
    }
    told_ui(ui, scene, container, &mut page.shelves);
}

fn own_ui(ui: &mut Ui, scene: &Scene<'_>, own: &Container, page: &mut ContainersPage, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(&own.name).font(theme::strong(theme::TITLE_PT)));
        if Kind::of(own).is_some() && button_ui(ui, "Start from this one") {
            start_from(scene, own, page, actions);
        }
        if button_ui(ui, "Remove container") {
            actions.push(match tried(scene.season, Op::RemoveContainer(own.key.clone())) {
                Ok(action) => action,
                Err(why) => Action::Complain(format!("Not removed: {why}")),
            });
        }
    });
    ui.label(RichText::new("Your own").color(Palette::of(ui).soft_ink));
    ui.add_space(6.0);
    let Some(kind) = Kind::of(own) else {
        told_ui(ui, scene, own, &mut page.shelves);
        return;
    };
    let shown = Shown::of(own);
    let key = Some(own.key.clone());
    let read = |form: &Form| shown.read(form, own.key.clone(), kind, Some(own), (scene.season, scene.unit));
    let form = page.forms.entry(key.clone()).or_default();
    let typed = read(form);
    let faults = typed.as_ref().err().cloned().unwrap_or_default();
    let drawn = typed.or_else(|faults| read(&form.without(&faults)));
    let form_ui = |ui: &mut Ui, page: &mut ContainersPage| {
        let form = page.forms.entry(key).or_default();
        fields_ui(ui, form, &shown, &faults, Some(&own.key), kind);
        if form.is_left(ui)
            && let Ok(container) = read(form)
        {
            actions.push(Action::Edit(Op::PutContainer(container).into()));
            *form = Form::default();
        }
    };
    beside_ui(ui, FORM_PT, page, form_ui, |ui, page| {
        told_ui(ui, scene, drawn.as_ref().unwrap_or(own), &mut page.shelves);
    });
}
