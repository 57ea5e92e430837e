//! One shelf: every figure it has, each in a field of its own.

use egui::Ui;

use crate::season::{FieldId, Op, Season, Shelf, Zone, ZoneKind, make};
use crate::units::{LengthUnit, Measure, ParseError, read_grams};
use crate::window::action::Action;
use crate::window::kit::{
    Drafts, Fault, Field, Owner, SpanWords, button_ui, cautions_ui, choice_ui, field_ui, length_or_none, row_ui,
    spans_ui, title_ui, tried,
};
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words::cautions::Care;
use crate::words::{self, fields, places as said};

use super::chosen::Space;
use super::copied::copied_ui;

const CLOSED: SpanWords =
    SpanWords { from: said::CLOSED_FROM, until: said::OPEN_AGAIN, add: said::ADD_CLOSED, remove: said::REMOVE_DATES };

fn put(season: &Season, shelf: Shelf) -> Result<Action, Fault> {
    tried(season, Op::PutShelf(shelf))
}

/// Gives what is to be shown next.
pub(super) fn shelf_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    drafts: &mut Drafts,
    shelf: &Shelf,
    actions: &mut Vec<Action>,
) -> Option<Space> {
    let season = scene.season;
    title_ui(ui, &scene.words().shelf(shelf.id));
    ui.add_space(6.0);
    let chosen = whole_ui(ui, season, shelf, actions).or_else(|| back_ui(ui, season, shelf));
    ui.add_space(6.0);
    figures_ui(ui, scene, drafts, shelf, actions);
    cautions_ui(ui, Care::Load, scene.unit);
    let reach = choice_ui(ui, said::REACHED_FROM, shelf.reach, &said::REACHES);
    actions.extend(reach.and_then(|reach| put(season, Shelf { reach, ..shelf.clone() }).ok()));
    let light = choice_ui(ui, said::SHELF_LIGHT, shelf.light, &said::LIGHTS_OF_SHELF);
    actions.extend(light.and_then(|light| put(season, Shelf { light, ..shelf.clone() }).ok()));
    ui.add_space(8.0);
    ui.label(theme::bold(said::ZONES));
    ui.horizontal_wrapped(|ui| {
        for (kind, text) in [(ZoneKind::Lamp, said::ADD_LAMP), (ZoneKind::Heat, said::ADD_MAT)] {
            if button_ui(ui, text) {
                let mut shelf = shelf.clone();
                shelf.zones.push(make::whole(kind, &shelf.width, &shelf.depth));
                actions.extend(put(season, shelf).ok());
            }
        }
    });
    for at in 0..shelf.zones.len() {
        zone_ui(ui, scene, drafts, (shelf, at), actions);
    }
    cautions_ui(ui, Care::Power, scene.unit);
    ui.add_space(8.0);
    ui.label(theme::bold(if shelf.closed.is_empty() { said::NEVER_CLOSED } else { said::CLOSED_BETWEEN }));
    let owner = Owner::Shelf(shelf.id);
    let closed = |closed| put(season, Shelf { closed, ..shelf.clone() });
    actions.extend(spans_ui(ui, drafts, &owner, &CLOSED, (&shelf.closed, scene.near()), closed));
    copied_ui(ui, scene, shelf, actions);
    chosen
}

/// To the rack that it belongs to.
fn back_ui(ui: &mut Ui, season: &Season, shelf: &Shelf) -> Option<Space> {
    let rack = season.rack(shelf.rack)?;
    ui.link(said::of_rack(&rack.name)).clicked().then_some(Space::Rack(rack.id))
}

/// What is done with the whole of it.
fn whole_ui(ui: &mut Ui, season: &Season, shelf: &Shelf, actions: &mut Vec<Action>) -> Option<Space> {
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        if button_ui(ui, said::COPY_BELOW) {
            let (edit, id) = make::copy_below(season, shelf);
            actions.push(Action::edit(edit));
            chosen = Some(Space::Shelf(id));
        }
        if button_ui(ui, said::REMOVE_SHELF) {
            actions.push(Action::edit(make::remove(season, shelf)));
            chosen = Some(Space::Rack(shelf.rack));
        }
    });
    chosen
}

fn length(text: &str, unit: LengthUnit) -> Result<Measure, ParseError> {
    Measure::parse_length(text, Some(unit))
}

fn figures_ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut Drafts, shelf: &Shelf, actions: &mut Vec<Action>) {
    let (unit, owner) = (scene.unit, Owner::Shelf(shelf.id));
    let [width, depth, overhang] = said::length_hints(unit);
    let mut line = |field: Field<'_>, read: &dyn Fn(&str) -> Result<Shelf, Fault>| {
        actions.extend(field_ui(ui, drafts, &owner, &field, |text| put(scene.season, read(text)?)));
    };
    line(Field::new(said::WIDTH, shelf.width.typed()).hint(width), &|text| {
        Ok(make::resized(shelf, length(text, unit)?, shelf.depth.clone()))
    });
    line(Field::new(said::DEPTH, shelf.depth.typed()).hint(depth), &|text| {
        Ok(make::resized(shelf, shelf.width.clone(), length(text, unit)?))
    });
    let height = shelf.clear_height.as_ref().map_or("", Measure::typed);
    line(Field::new(said::HEIGHT, height).hint(fields::UNKNOWN), &|text| {
        Ok(Shelf { clear_height: length_or_none(text, unit)?, ..shelf.clone() })
    });
    line(Field::new(said::OVERHANG, words::in_field(&shelf.overhang, unit)).hint(overhang), &|text| {
        Ok(Shelf { overhang: length(text, unit)?, ..shelf.clone() })
    });
    line(Field::new(said::ALLOWANCE, shelf.allowance_percent.to_string()).hint("0"), &|text| {
        let percent = text.trim_end_matches('%').trim_end().parse().ok();
        Ok(Shelf { allowance_percent: percent.ok_or_else(|| said::no_percentage(text))?, ..shelf.clone() })
    });
    line(
        Field::new(said::LOAD, shelf.load_grams.map_or_else(String::new, |grams| said::load(grams, unit)))
            .hint(fields::UNKNOWN),
        &|text| {
            let load_grams = if text.is_empty() {
                None
            } else {
                Some(read_grams(text, unit).ok_or_else(|| said::no_weight(text, unit))?)
            };
            Ok(Shelf { load_grams, ..shelf.clone() })
        },
    );
}

/// Which of its kind the zone at that number is, and how many of it there are.
fn of_kind(shelf: &Shelf, at: usize) -> (usize, usize) {
    let kind = shelf.zones.get(at).map(|zone| zone.kind);
    let like = |zones: &[Zone]| zones.iter().filter(|zone| Some(zone.kind) == kind).count();
    (like(shelf.zones.get(..at).unwrap_or_default()), like(&shelf.zones))
}

/// The zone at that number.
fn zone_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    drafts: &mut Drafts,
    (shelf, at): (&Shelf, usize),
    actions: &mut Vec<Action>,
) {
    let Some(zone) = shelf.zones.get(at) else { return };
    let owner = Owner::Shelf(shelf.id);
    let what = said::zone(zone.kind, of_kind(shelf, at).0);
    let changed = |zone: Zone| {
        let mut shelf = shelf.clone();
        if let Some(one) = shelf.zones.get_mut(at) {
            *one = zone;
        }
        put(scene.season, shelf)
    };
    let mut line = |id: FieldId, now: &Measure, with: &dyn Fn(Measure) -> Zone| {
        let field = Field::new(said::zone_field(&what, words::field(id)), words::in_field(now, scene.unit));
        let given = field_ui(ui, drafts, &owner, &field, |text| changed(with(length(text, scene.unit)?)));
        actions.extend(given);
    };
    line(FieldId::ZoneX(at), &zone.x, &|x| Zone { x, ..zone.clone() });
    line(FieldId::ZoneY(at), &zone.y, &|y| Zone { y, ..zone.clone() });
    line(FieldId::ZoneWidth(at), &zone.width, &|width| Zone { width, ..zone.clone() });
    line(FieldId::ZoneDepth(at), &zone.depth, &|depth| Zone { depth, ..zone.clone() });
    row_ui(ui, "", |ui, _| {
        if button_ui(ui, &said::remove_zone(&what)) {
            let (place, number) = of_kind(shelf, at);
            let mut shelf = shelf.clone();
            shelf.zones.remove(at);
            actions.extend(put(scene.season, shelf).ok());
            // those behind it get its number
            for id in [FieldId::ZoneX(0), FieldId::ZoneY(0), FieldId::ZoneWidth(0), FieldId::ZoneDepth(0)] {
                let name = |at| said::zone_field(&said::zone(zone.kind, at), words::field(id));
                drafts.close_up(&owner, place, number, name);
            }
        }
    });
}
