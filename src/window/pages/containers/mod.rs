//! The containers page: trays, flats and pots of the library and the grower's own. A list on the
//! left; in the middle the one chosen or a form for a new one, drawn as it is typed.

mod draft;
mod facts;

use egui::Ui;

use crate::forecast::container_shape;
use crate::season::{Container, ContainerKey, Edit, EditLabel, Op};
use crate::words::{containers as said, fields};

use crate::window::action::{Action, Go};
use crate::window::kit::{
    Drafts, List, Row, beside_ui, button, button_ui, choice_ui, container_picture_ui, list_ui, middle_ui, part_ui,
    row_button_ui, row_ui, side_ui, soft_ui, title_ui, tried,
};
use crate::window::scene::Scene;

use draft::{KINDS, Kind, form, free_key};
use facts::{OnShelves, told_ui};

const FORM_PT: f32 = 520.0;

/// What the page keeps between frames.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct ContainersPage {
    /// The form for a new one where nothing is chosen.
    chosen: Option<ContainerKey>,
    part: String,
    /// Of the new one.
    kind: Kind,
    shelves: OnShelves,
}

pub(in crate::window) fn containers_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut ContainersPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    page.chosen = page.chosen.take().filter(|key| scene.season.container(scene.library, key).is_some());
    side_ui(ui, "containers", 340.0, 240.0..=480.0, |ui| listed_ui(ui, scene, page));
    middle_ui(ui, ("container", page.chosen.clone()), |ui| {
        let chosen = page.chosen.clone();
        let own = chosen.as_ref().and_then(|key| scene.season.own_containers().find(|own| own.key == *key));
        match (own, chosen) {
            (Some(own), _) => own_ui(ui, scene, own, page, drafts, actions),
            (None, Some(key)) => library_ui(ui, scene, &key, page, actions),
            (None, None) => add_ui(ui, scene, page, drafts, actions),
        }
    });
}

fn listed_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut ContainersPage) {
    if row_button_ui(ui, &Row::new(said::ADD_TITLE, ""), page.chosen.is_none()) {
        page.chosen = None;
    }
    let fits = part_ui(ui, &mut page.part, said::FIND, fields::PART_OF_A_NAME);
    let is_own = |one: &Container| scene.season.own_containers().any(|own| own.key == one.key);
    let named = scene.season.containers(scene.library).filter(|one| fits(&one.name));
    let mut all: Vec<(bool, &Container)> = named.map(|one| (is_own(one), one)).collect();
    // the grower's own first
    all.sort_by_key(|(is_own, one)| (!is_own, &one.name));
    if all.is_empty() {
        ui.label(said::NONE_OF_THAT_NAME);
    }
    let row = |at: usize| {
        all.get(at).map_or_else(Row::default, |(is_own, one)| {
            let more = if *is_own { said::own_brief(one) } else { said::brief(one) };
            Row { container: container_shape(one), ..Row::new(&*one.name, more) }
        })
    };
    let chosen = all.iter().position(|(_, one)| page.chosen.as_ref() == Some(&one.key));
    let now = list_ui(ui, &List::new("containers", said::PAGE), all.len(), chosen, row);
    if let Some((_, one)) = now.and_then(|at| all.get(at)) {
        page.chosen = Some(one.key.clone());
    }
}

fn add_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut ContainersPage, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    title_ui(ui, said::ADD_TITLE);
    ui.label(said::HOW_MEASURED);
    ui.add_space(6.0);
    let form = form(page.kind, None, scene.unit);
    let key = free_key(scene.season, scene.library, form.text(drafts, said::NAME));
    let (kind, may) = (page.kind, |one: &Container| scene.season.may(&Op::PutContainer(one.clone()).into()));
    let typed = form.typed(drafts, |reader| draft::read(reader, key.clone(), kind, None, scene.unit), may);
    let form_ui = |ui: &mut Ui, page: &mut ContainersPage| {
        page.kind = choice_ui(ui, said::KIND, page.kind, &KINDS).unwrap_or(page.kind);
        form.ui(ui, drafts, &typed.faults());
        ui.add_space(6.0);
        row_ui(ui, "", |ui, _| {
            if form.take_ui(ui, drafts, &typed, button(said::ADD)).clicked()
                && let Ok(container) = &typed.read
            {
                page.chosen = Some(container.key.clone());
                actions.push(added(container.clone()));
                form.forget(drafts);
            }
        });
    };
    beside_ui(ui, FORM_PT, page, form_ui, |ui, page| {
        if let Some(container) = &typed.drawn {
            told_ui(ui, scene, container, &mut page.shelves);
        }
    });
}

fn added(container: Container) -> Action {
    let label = EditLabel::AddContainer(container.name.clone());
    Action::edit(Edit::new(label, vec![Op::PutContainer(container)]))
}

/// The grower's own of that container, chosen at once.
fn start_from(scene: &Scene<'_>, container: &Container, page: &mut ContainersPage, actions: &mut Vec<Action>) {
    let name = said::own_name(&container.name);
    let key = free_key(scene.season, scene.library, &name);
    page.chosen = Some(key.clone());
    actions.push(added(Container { key, name, ..container.clone() }));
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
        container_picture_ui(ui, container_shape(container).as_ref());
        title_ui(ui, &container.name);
        if Kind::of(container).is_some() && button_ui(ui, said::START_FROM) {
            start_from(scene, container, page, actions);
        }
    });
    soft_ui(ui, said::OF_THE_LIBRARY);
    if let Some(source) = facts::source(container) {
        ui.label(source);
    }
    if !container.note.is_empty() {
        ui.label(&container.note);
    }
    told_ui(ui, scene, container, &mut page.shelves);
}

fn own_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    own: &Container,
    page: &mut ContainersPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    ui.horizontal_wrapped(|ui| {
        container_picture_ui(ui, container_shape(own).as_ref());
        title_ui(ui, &own.name);
        if Kind::of(own).is_some() && button_ui(ui, said::START_FROM) {
            start_from(scene, own, page, actions);
        }
        if button_ui(ui, said::REMOVE) {
            let removed = tried(scene.season, Op::RemoveContainer(own.key.clone()));
            actions.push(removed.unwrap_or_else(|why| Action::Go(Go::Complain(fields::not_removed(&why.into_text())))));
        }
    });
    soft_ui(ui, said::YOUR_OWN);
    ui.add_space(6.0);
    let Some(kind) = Kind::of(own) else {
        told_ui(ui, scene, own, &mut page.shelves);
        return;
    };
    let form = form(kind, Some(own), scene.unit);
    let may = |one: &Container| scene.season.may(&Op::PutContainer(one.clone()).into());
    let read = |drafts: &Drafts| {
        form.typed(drafts, |reader| draft::read(reader, own.key.clone(), kind, Some(own), scene.unit), may)
    };
    let typed = read(drafts);
    let form_ui = |ui: &mut Ui, _: &mut ContainersPage| {
        form.ui(ui, drafts, &typed.faults());
        if form.is_left(ui, drafts)
            && let Ok(container) = read(drafts).read
        {
            actions.push(Action::edit(Op::PutContainer(container)));
            form.forget(drafts);
        }
    };
    beside_ui(ui, FORM_PT, page, form_ui, |ui, page| {
        told_ui(ui, scene, typed.drawn.as_ref().unwrap_or(own), &mut page.shelves);
    });
}
