//! The figures of a place.

use egui::Ui;

use crate::season::{Light, Op, PartOfDay, Place, Role, Temperatures};
use crate::units::{ParseError, Temperature, Typed};
use crate::window::action::{Action, Go};
use crate::window::kit::{
    Drafts, Field, Owner, SpanWords, WIDE_PT, button_ui, cautions_ui, choice_ui, field_ui, spans_ui, title_ui, tried,
};
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words::cautions::Care;
use crate::words::{floor, places as said};

const OPEN: SpanWords =
    SpanWords { from: said::OPEN_FROM, until: said::SHUT_AGAIN, add: said::ADD_OPEN, remove: said::REMOVE_DATES };

pub(super) fn place_ui(ui: &mut Ui, scene: &Scene<'_>, drafts: &mut Drafts, place: &Place, actions: &mut Vec<Action>) {
    let owner = Owner::Place(place.id);
    let put = |place: Place| tried(scene.season, Op::PutPlace(place));
    title_ui(ui, &place.name);
    ui.add_space(6.0);
    let name = Field::new(said::PLACE_NAME, &place.name).width(WIDE_PT);
    let named = |text: &str| put(Place { name: text.to_owned(), ..place.clone() });
    actions.extend(field_ui(ui, drafts, &owner, &name, named));
    let role = choice_ui::<Role>(ui, said::IS_FOR, place.role, &said::ROLES);
    actions.extend(role.and_then(|role| put(Place { role, ..place.clone() }).ok()));
    let part = choice_ui::<PartOfDay>(ui, said::USED, place.part, &said::PARTS);
    actions.extend(part.and_then(|part| put(Place { part, ..place.clone() }).ok()));
    let light = choice_ui::<Light>(ui, said::LIGHT, place.light, &said::LIGHTS);
    actions.extend(light.and_then(|light| put(Place { light, ..place.clone() }).ok()));
    for (label, part) in TEMPERATURES {
        let mut temperatures = place.temperatures.clone();
        let shown = part(&mut temperatures).as_ref().map_or_else(String::new, |one| one.typed().to_owned());
        let field = Field::new(label, shown).hint(said::warmth_hint(scene.unit));
        let given = field_ui(ui, drafts, &owner, &field, |text| {
            *part(&mut temperatures) = temperature_or_none(text)?;
            put(Place { temperatures, ..place.clone() })
        });
        actions.extend(given);
    }
    let cares: &[Care] = match place.role {
        Role::Germinating => &[Care::Power],
        Role::Growing => &[Care::Power, Care::Houses],
        Role::Hardening => &[Care::Houses],
    };
    for care in cares {
        cautions_ui(ui, *care, scene.unit);
    }
    ui.add_space(8.0);
    ui.label(theme::bold(if place.open.is_empty() { said::OPEN_ALL_YEAR } else { said::OPEN_BETWEEN }));
    let open = |open| put(Place { open, ..place.clone() });
    actions.extend(spans_ui(ui, drafts, &owner, &OPEN, (&place.open, scene.near()), open));
    ui.add_space(12.0);
    if button_ui(ui, floor::ITS_FLOOR) {
        actions.push(Action::Go(Go::Floor(place.id)));
    }
    if button_ui(ui, said::REMOVE_PLACE) {
        actions.push(Action::edit(Op::RemovePlace(place.id)));
    }
}

/// The label of a temperature, and where it is.
type PartOf = fn(&mut Temperatures) -> &mut Option<Typed<Temperature>>;

const TEMPERATURES: [(&str, PartOf); 3] =
    [(said::BY_DAY, |of| &mut of.day), (said::BY_NIGHT, |of| &mut of.night), (said::ON_A_MAT, |of| &mut of.mat)];

fn temperature_or_none(text: &str) -> Result<Option<Typed<Temperature>>, ParseError> {
    if text.is_empty() { Ok(None) } else { Typed::parse_temperature(text).map(Some) }
}
