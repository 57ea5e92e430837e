//! A place or a rack in the middle of the places page.

use egui::{RichText, Ui};

use crate::season::{FieldId, Op, PartOfDay, Place, PlaceId, Rack, ShelfId, Temperatures, make};
use crate::units::{Measure, Size, Temperature, Typed};
use crate::window::action::Action;
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words;

use super::Chosen;
use crate::window::kit::old_fields::{Drafts, Field, Owner, SpanWords, field_ui, spans_ui, tried};
use crate::window::kit::{FIELD_PT, WIDE_PT, button_ui, choice_ui, row_ui};
use crate::window::new_rack::ROLES;

const fn open(near: chrono::NaiveDate) -> SpanWords {
    SpanWords { from: "Open from", until: "Shut again on", add: "Add open dates", remove: "Remove these dates", near }
}

const PARTS: [(PartOfDay, &str); 3] =
    [(PartOfDay::Whole, "Day and night"), (PartOfDay::Days, "Days only"), (PartOfDay::Nights, "Nights only")];

pub(super) fn place_ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut Drafts, place: &Place, actions: &mut Vec<Action>) {
    let season = scene.season;
    let owner = Owner::Place(place.id);
    let put = |place: Place| tried(season, Op::PutPlace(place));
    ui.label(RichText::new(&place.name).font(theme::strong(theme::TITLE_PT)));
    ui.add_space(6.0);
    let field = Field {
        key: (owner, "name", 0),
        label: words::field(FieldId::PlaceName),
        shown: &place.name,
        hint: "",
        width: WIDE_PT,
    };
    field_ui(ui, drafts, &field, actions, |text| put(Place { name: text.to_owned(), ..place.clone() }));
    if let Some(role) = choice_ui(ui, "The place is for", place.role, &ROLES) {
        actions.extend(put(Place { role, ..place.clone() }).ok());
    }
    if let Some(part) = choice_ui(ui, "It can be used", place.part, &PARTS) {
        actions.extend(put(Place { part, ..place.clone() }).ok());
    }
    for (at, label) in ["By day", "By night", "On a heat mat"].into_iter().enumerate() {
        let shown = temperature(&mut place.temperatures.clone(), at)
            .as_ref()
            .map_or_else(String::new, |one| one.typed().to_owned());
        let field = Field { key: (owner, "temperature", at), label, shown: &shown, hint: "21 °C", width: FIELD_PT };
        field_ui(ui, drafts, &field, actions, |text| {
            let mut temperatures = place.temperatures.clone();
            *temperature(&mut temperatures, at) = match text {
                "" => None,
                text => Some(Typed::parse_temperature(text).map_err(|why| why.to_string())?),
            };
            put(Place { temperatures, ..place.clone() })
        });
    }
    ui.add_space(8.0);
    let when =
        if place.open.is_empty() { "Open all year, unless dates are added" } else { "Open between these dates only" };
    ui.label(theme::bold(when));
    spans_ui(ui, drafts, owner, &open(scene.near()), &place.open, actions, |open| put(Place { open, ..place.clone() }));
    ui.add_space(12.0);
    if button_ui(ui, "Remove place with its racks") {
        actions.push(Action::edit(Op::RemovePlace(place.id)));
    }
}

/// In the order of their fields.
const fn temperature(of: &mut Temperatures, at: usize) -> &mut Option<Typed<Temperature>> {
    match at {
        0 => &mut of.day,
        1 => &mut of.night,
        _ => &mut of.mat,
    }
}

/// Gives what is to be shown next.
pub(super) fn rack_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    drafts: &mut Drafts,
    rack: &Rack,
    actions: &mut Vec<Action>,
) -> Option<Chosen> {
    let season = scene.season;
    let put = |rack: Rack| tried(season, Op::PutRack(rack));
    ui.label(RichText::new(&rack.name).font(theme::strong(theme::TITLE_PT)));
    ui.add_space(6.0);
    let key = (Owner::Rack(rack.id), "name", 0);
    let field = Field { key, label: words::field(FieldId::RackName), shown: &rack.name, hint: "", width: WIDE_PT };
    field_ui(ui, drafts, &field, actions, |text| put(Rack { name: text.to_owned(), ..rack.clone() }));
    let places: Vec<(PlaceId, &str)> = season.places().map(|place| (place.id, place.name.as_str())).collect();
    if let Some(place) = choice_ui(ui, "It stands in", rack.place, &places) {
        actions.extend(put(Rack { place, ..rack.clone() }).ok());
    }
    let shelves = season.shelves_of(rack.id);
    row_ui(ui, "Shelves", |ui, _| {
        ui.label(shelves.len().to_string());
    });
    ui.add_space(12.0);
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        if button_ui(ui, "Copy rack") {
            let (edit, id) = make::copy_rack(season, rack);
            actions.push(Action::edit(edit));
            chosen = Some(Chosen::Rack(id));
        }
        if shelves.is_empty() && button_ui(ui, "Add a shelf") {
            let id = ShelfId(season.next_id());
            let size = Size { width: Measure::mm(1200), depth: Measure::mm(450) };
            actions.push(Action::edit(Op::PutShelf(make::new_shelf(id, rack.id, 1, &size))));
            chosen = Some(Chosen::Shelf(id));
        }
        if button_ui(ui, "Remove rack") {
            actions.push(Action::edit(Op::RemoveRack(rack.id)));
        }
    });
    chosen
}
