//! Figures of a floor: how large it is, its doors, the barrow, and the rack that is chosen.

use egui::Ui;

use crate::forecast::Problem;
use crate::outlook::FloorOf;
use crate::season::{Door, Edit, EditLabel, FieldId, Floor, Op, Place, Rack, Stands, Wall, faces};
use crate::units::{Length, Measure};
use crate::words::cautions::Care;
use crate::words::{self, floor as said};

use crate::window::action::Action;
use crate::window::kit::{
    Drafts, Fault, Field, Owner, button_ui, cautions_ui, choice_ui, drop_down_ui, field_ui, length_or_none,
    part_title_ui, reason_ui, remove_at, row_ui, small_button_ui, soft_ui, title_ui, tried, wrapped_ui,
};
use crate::window::scene::Scene;

use super::hand::turned;
use super::state::{FloorPage, put};

fn put_floor(place: &Place, floor: Option<Floor>) -> Edit {
    Edit::new(EditLabel::ChangeFloor(place.name.clone()), vec![Op::PutPlace(Place { floor, ..place.clone() })])
}

/// A floor to begin with, and a door in its front wall.
pub(super) fn usual(scene: &Scene<'_>, place: &Place) -> Option<Action> {
    let [width, depth, door] = said::usual_floor(scene.unit).map(|text| Measure::parse_length(text, None).ok());
    let door = Door { wall: Wall::Front, along: nothing(scene)?, width: door? };
    let floor = Floor { width: width?, depth: depth?, doors: vec![door], barrow: None };
    Some(Action::edit(put_floor(place, Some(floor))))
}

fn nothing(scene: &Scene<'_>) -> Option<Measure> {
    Measure::parse_length("0", Some(scene.unit)).ok()
}

pub(super) fn fields_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut FloorPage,
    (place, of): (&Place, Option<&FloorOf>),
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let (Some(floor), Some(of)) = (&place.floor, of) else { return };
    wrong_ui(ui, scene, place, of);
    let chosen = page.chosen.and_then(|rack| scene.season.rack(rack));
    if let Some((rack, stands)) = chosen.and_then(|rack| Some((rack, rack.stands.as_ref()?))) {
        chosen_ui(ui, scene, page, of, (rack, stands), drafts, actions);
    }
    part_title_ui(ui, &place.name);
    let owner = Owner::Place(place.id);
    let mut line = |ui: &mut Ui, field: Field<'_>, read: &dyn Fn(&str) -> Result<Floor, Fault>| {
        let given =
            field_ui(ui, drafts, &owner, &field, |text| tried(scene.season, put_floor(place, Some(read(text)?))));
        actions.extend(given);
    };
    let length = |text: &str| Measure::parse_length(text, Some(scene.unit));
    line(ui, Field::new(said::WIDTH, floor.width.typed()), &|text| Ok(Floor { width: length(text)?, ..floor.clone() }));
    line(ui, Field::new(said::DEPTH, floor.depth.typed()), &|text| Ok(Floor { depth: length(text)?, ..floor.clone() }));
    let barrow = floor.barrow.as_ref().map_or("", Measure::typed);
    line(ui, Field::new(said::BARROW, barrow).hint(said::NO_BARROW), &|text| {
        Ok(Floor { barrow: length_or_none(text, scene.unit)?, ..floor.clone() })
    });
    doors_ui(ui, scene, (place, floor), drafts, actions);
    ui.add_space(8.0);
    cautions_ui(ui, Care::Ways, scene.unit);
    soft_ui(ui, said::MODEL);
    ui.add_space(8.0);
    if button_ui(ui, said::FORGET) {
        actions.push(Action::edit(put_floor(place, None)));
    }
}

fn wrong_ui(ui: &mut Ui, scene: &Scene<'_>, place: &Place, of: &FloorOf) {
    let mut in_order = true;
    for problem in scene.problems {
        if matches!(problem, Problem::OnFloor { place: on, .. } if *on == place.id) {
            reason_ui(ui, &scene.words().problem(problem));
            in_order = false;
        }
    }
    if in_order && !of.racks.is_empty() {
        soft_ui(ui, said::ALL_IN_ORDER);
    }
    wrapped_ui(ui, &scene.words().share_of_bench(of.bench, of.area(), of.bench_percent()));
    if let Some(barrow) = of.barrow.filter(|_| !of.plan.doors.is_empty()) {
        soft_ui(ui, &scene.words().hatched(barrow));
    }
}

fn chosen_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut FloorPage,
    of: &FloorOf,
    (rack, stands): (&Rack, &Stands),
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    ui.add_space(8.0);
    title_ui(ui, &rack.name);
    if let Some(at) = of.racks.iter().position(|one| *one == rack.id)
        && !of.plan.doors.is_empty()
    {
        let (before, widest) = (Length::from_units(of.plan.before(at)), page.widest(of, at));
        wrapped_ui(ui, &scene.words().way_to(before, widest));
    }
    let owner = Owner::Rack(rack.id);
    let mut line = |ui: &mut Ui, field: Field<'_>, with: &dyn Fn(Measure) -> Stands| {
        let given = field_ui(ui, drafts, &owner, &field, |text| {
            let stands = with(Measure::parse_length(text, Some(scene.unit))?);
            tried(scene.season, put(rack, Some(stands), EditLabel::MoveRack))
        });
        actions.extend(given);
    };
    let shown = |length: &Measure| words::in_field(length, scene.unit);
    line(ui, Field::new(said::FROM_LEFT, shown(&stands.x)), &|x| Stands { x, ..stands.clone() });
    line(ui, Field::new(said::FROM_BACK, shown(&stands.y)), &|y| Stands { y, ..stands.clone() });
    let to = choice_ui::<Wall>(ui, said::FACES, stands.faces(), &said::WALLS);
    let turns = to.and_then(|wall| (0..4).find(|turns| faces(*turns) == wall));
    if let Some(turns) = turns {
        actions.push(Action::edit(put(rack, turned(scene, of, rack, turns), EditLabel::TurnRack)));
    }
    ui.horizontal_wrapped(|ui| {
        if button_ui(ui, said::TURN) {
            let stands = turned(scene, of, rack, (stands.quarter_turns + 1) % 4);
            actions.push(Action::edit(put(rack, stands, EditLabel::TurnRack)));
        }
        if button_ui(ui, said::TAKE_OFF) {
            actions.push(Action::edit(put(rack, None, EditLabel::RackOffPlan)));
        }
    });
    ui.add_space(4.0);
    ui.separator();
}

fn doors_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (place, floor): (&Place, &Floor),
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let owner = Owner::Place(place.id);
    part_title_ui(ui, said::DOORS);
    let length = |text: &str| Measure::parse_length(text, Some(scene.unit));
    for (at, door) in floor.doors.iter().enumerate() {
        let changed = |door: Door| {
            let mut floor = floor.clone();
            if let Some(one) = floor.doors.get_mut(at) {
                *one = door;
            }
            tried(scene.season, put_floor(place, Some(floor)))
        };
        row_ui(ui, &said::door_in(at), |ui, _| {
            if let Some(wall) = drop_down_ui(ui, &said::door_in(at), 110.0, door.wall, &said::WALLS) {
                actions.extend(changed(fitted(floor, Door { wall, ..door.clone() })).ok());
            }
        });
        for (id, now) in [(FieldId::DoorAlong(at), &door.along), (FieldId::DoorWidth(at), &door.width)] {
            let field = Field::new(said::door_field(at, words::field(id)), words::in_field(now, scene.unit));
            let given = field_ui(ui, drafts, &owner, &field, |text| {
                let given = length(text)?;
                changed(if matches!(id, FieldId::DoorAlong(_)) {
                    Door { along: given, ..door.clone() }
                } else {
                    Door { width: given, ..door.clone() }
                })
            });
            actions.extend(given);
        }
        row_ui(ui, "", |ui, _| {
            if small_button_ui(ui, &said::remove_door(at), &said::remove_door(at)) {
                let mut floor = floor.clone();
                remove_at(&mut floor.doors, at);
                actions.push(Action::edit(put_floor(place, Some(floor))));
                for id in [FieldId::DoorAlong(at), FieldId::DoorWidth(at)] {
                    drafts.close_up(&owner, at, place.floor.as_ref().map_or(0, |floor| floor.doors.len()), |at| {
                        said::door_field(at, words::field(id))
                    });
                }
            }
        });
    }
    if button_ui(ui, said::ADD_DOOR)
        && let Some(along) = nothing(scene)
    {
        let [_, _, width] = said::usual_floor(scene.unit);
        if let Ok(width) = Measure::parse_length(width, None) {
            let mut floor = floor.clone();
            let door = fitted(&floor, Door { wall: Wall::Front, along, width });
            floor.doors.push(door);
            actions.extend(tried(scene.season, put_floor(place, Some(floor))).ok());
        }
    }
}

/// Where it would end beyond another wall it begins at that one's corner, as wide as the wall at most.
fn fitted(floor: &Floor, door: Door) -> Door {
    let wall = floor.wall(door.wall);
    if door.along.value() + door.width.value() <= wall.value() {
        return door;
    }
    let width = if door.width.value() > wall.value() { wall.clone() } else { door.width };
    Door { along: Measure::mm(0), width, ..door }
}
