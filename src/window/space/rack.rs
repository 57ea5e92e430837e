//! A rack as one thing: how many tiers, and what all of them have; below that each tier by itself.

use egui::Ui;

use crate::season::{Light, Op, PlaceId, Rack, Shelf, ShelfId, ZoneKind, make};
use crate::trade::shelf_size;
use crate::units::{Length, Measure};
use crate::window::action::Action;
use crate::window::kit::{
    Drafts, Fault, Field, Owner, Row, button_ui, cautions_ui, choice_ui, field_ui, length_or_none, row_in_stop_ui,
    soft_ui, stop_ui, title_ui, tried, whole,
};
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words::cautions::Care;
use crate::words::{fields, places as said};

use super::chosen::Space;

/// Beside a label, in the side panel.
const WIDTH_PT: f32 = 176.0;

/// Gives what is to be looked at next.
pub(super) fn rack_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    drafts: &mut Drafts,
    rack: &Rack,
    actions: &mut Vec<Action>,
) -> Option<Space> {
    let season = scene.season;
    let put = |rack: Rack| tried(season, Op::PutRack(rack));
    title_ui(ui, &rack.name);
    let place = season.place(rack.place);
    let back = place.filter(|place| ui.link(said::of_place(&place.name)).clicked());
    let mut chosen = back.map(|place| Space::Place(place.id));
    ui.add_space(6.0);
    let name = Field::new(said::RACK_NAME, &rack.name).width(WIDTH_PT);
    let named = |text: &str| put(Rack { name: text.to_owned(), ..rack.clone() });
    actions.extend(field_ui(ui, drafts, &Owner::Rack(rack.id), &name, named));
    let places: Vec<(PlaceId, &str)> = season.places().map(|place| (place.id, place.name.as_str())).collect();
    if places.len() > 1 {
        let place = choice_ui(ui, said::STANDS_IN, rack.place, &places);
        actions.extend(place.and_then(|place| put(Rack { place, ..rack.clone() }).ok()));
    }
    let shelves = season.shelves_of(rack.id);
    if !shelves.is_empty() {
        alike_ui(ui, scene, drafts, (rack, &shelves), actions);
        lit_ui(ui, scene, (rack, &shelves), actions);
        cautions_ui(ui, Care::Load, scene.unit);
        cautions_ui(ui, Care::Power, scene.unit);
        chosen = chosen.or_else(|| tiers_ui(ui, scene, &shelves));
    }
    ui.add_space(12.0);
    ui.horizontal_wrapped(|ui| {
        if button_ui(ui, said::COPY_RACK) {
            let (edit, id) = make::copy_rack(season, rack);
            actions.push(Action::edit(edit));
            chosen = Some(Space::Rack(id));
        }
        if shelves.is_empty() && button_ui(ui, said::ADD_SHELF) {
            let id = ShelfId(season.next_id());
            if let Ok(size) = shelf_size(said::usual_size(scene.unit), Some(scene.unit)) {
                actions.push(Action::edit(Op::PutShelf(make::new_shelf(id, rack.id, 1, &size))));
                chosen = Some(Space::Shelf(id));
            }
        }
        if button_ui(ui, said::REMOVE_RACK) {
            actions.push(Action::edit(Op::RemoveRack(rack.id)));
        }
    });
    chosen
}

/// What all of them have, or what they have from the top down where that differs: the text, and the hint.
fn of_all(shelves: &[&Shelf], text: impl Fn(&Shelf) -> String) -> (String, String) {
    let mut all: Vec<String> = shelves.iter().map(|shelf| text(shelf)).collect();
    let first = all.first().cloned().unwrap_or_default();
    if all.iter().all(|one| *one == first) {
        return (first, String::new());
    }
    all.dedup();
    (String::new(), said::from_the_top(&all))
}

/// A figure that is written once for all tiers.
fn alike_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    drafts: &mut Drafts,
    (rack, shelves): (&Rack, &[&Shelf]),
    actions: &mut Vec<Action>,
) {
    let (season, unit, owner) = (scene.season, scene.unit, Owner::Rack(rack.id));
    let tiers = Field::new(said::TIERS, shelves.len().to_string());
    actions.extend(field_ui(ui, drafts, &owner, &tiers, |text| {
        let tiers = whole(text).ok().filter(|tiers| (1..=make::MOST_TIERS).contains(tiers));
        let tiers = tiers.ok_or_else(|| said::tiers(make::MOST_TIERS, text))?;
        let edit = make::with_tiers(season, rack, tiers).ok_or_else(|| said::tiers(make::MOST_TIERS, text))?;
        tried(season, edit)
    }));
    let typed = |measure: Option<&Measure>| measure.map_or_else(String::new, |one| one.typed().to_owned());
    let mut line = |label: &str, of: &dyn Fn(&Shelf) -> String, usual: &str, read: Read<'_>| {
        let (text, hint) = of_all(shelves, of);
        let field = Field::new(label, text).hint(if hint.is_empty() { usual } else { &hint }).width(WIDTH_PT);
        actions.extend(field_ui(ui, drafts, &owner, &field, |text| {
            let with = read(text)?;
            tried(season, make::every_shelf(season, rack, with))
        }));
    };
    line(said::SIZE, &said::shelf_size, said::usual_size(unit), &|text| {
        let size = shelf_size(text, Some(unit))?;
        Ok(Box::new(move |shelf| make::resized(shelf, size.width.clone(), size.depth.clone())))
    });
    line(said::HEIGHT, &|shelf| typed(shelf.clear_height.as_ref()), fields::UNKNOWN, &|text| {
        let height = length_or_none(text, unit)?;
        Ok(Box::new(move |shelf| Shelf { clear_height: height.clone(), ..shelf.clone() }))
    });
    let sticks_out = |shelf: &Shelf| typed(Some(&shelf.overhang).filter(|out| out.value() > Length::ZERO));
    line(said::STICK_OUT, &sticks_out, said::NOT_AT_ALL, &|text| {
        let overhang = Measure::parse_length(if text.is_empty() { "0" } else { text }, Some(unit))?;
        Ok(Box::new(move |shelf| Shelf { overhang: overhang.clone(), ..shelf.clone() }))
    });
}

/// From what was written to what becomes of each shelf.
type Read<'a> = &'a dyn Fn(&str) -> Result<Box<dyn Fn(&Shelf) -> Shelf>, Fault>;

fn lit_ui(ui: &mut Ui, scene: &Scene<'_>, (rack, shelves): (&Rack, &[&Shelf]), actions: &mut Vec<Action>) {
    let mut put = |with: &dyn Fn(&Shelf) -> Shelf| {
        actions.push(Action::edit(make::every_shelf(scene.season, rack, with)));
    };
    let first = shelves.first().map(|shelf| shelf.light);
    let common = first.filter(|light| shelves.iter().all(|shelf| shelf.light == *light));
    let lights = said::LIGHTS_OF_SHELF.map(|(light, name)| (Some(light), name));
    let light: Option<Option<Option<Light>>> = choice_ui(ui, said::SHELF_LIGHT, common, &lights);
    if let Some(Some(light)) = light {
        put(&|shelf| Shelf { light, ..shelf.clone() });
    }
    for (kind, text) in [(ZoneKind::Lamp, said::LAMPS), (ZoneKind::Heat, said::MATS)] {
        let all = shelves.iter().all(|shelf| **shelf == make::covered(shelf, kind, true));
        let mut wanted = all;
        if ui.checkbox(&mut wanted, text).changed() {
            put(&|shelf| make::covered(shelf, kind, wanted));
        }
        let some = shelves.iter().filter(|shelf| shelf.has(kind)).count();
        if some > 0 && !all {
            soft_ui(ui, &said::some_have(kind, some, shelves.len()));
        }
    }
}

fn tiers_ui(ui: &mut Ui, scene: &Scene<'_>, shelves: &[&Shelf]) -> Option<Space> {
    ui.add_space(8.0);
    ui.label(theme::bold(said::EACH_TIER));
    let mut chosen = None;
    stop_ui(ui, "tiers", said::EACH_TIER, |ui, stop| {
        for shelf in shelves {
            let about = scene.shelf_notes(shelf).join(" · ");
            let text = said::tier(shelf);
            let name = scene.shelf_name(shelf, 0);
            if row_in_stop_ui(ui, stop, &Row { name, ..Row::new(&text, &about) }, false) {
                chosen = Some(Space::Shelf(shelf.id));
            }
        }
    });
    chosen
}
