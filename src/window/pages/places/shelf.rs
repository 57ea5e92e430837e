//! One shelf in the middle of the places page: every figure it has, each in a field of its own.

use egui::{RichText, Ui};

use crate::season::{FieldId, Op, Reach, Shelf, Zone, ZoneKind, make};
use crate::units::{LengthUnit, Measure};
use crate::window::action::Action;
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words;

use super::Chosen;
use crate::window::kit::old_fields::{Drafts, Field, Owner, SpanWords, field_ui, spans_ui, tried};
use crate::window::kit::{FIELD_PT, button_ui, choice_ui, row_ui};

const fn closed(near: chrono::NaiveDate) -> SpanWords {
    SpanWords {
        from: "Closed from",
        until: "Open again on",
        add: "Add closed dates",
        remove: "Remove these dates",
        near,
    }
}

/// Gives what is to be shown next.
pub(super) fn shelf_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    drafts: &mut Drafts,
    shelf: &Shelf,
    actions: &mut Vec<Action>,
) -> Option<Chosen> {
    let season = scene.season;
    let put = |shelf: Shelf| tried(season, Op::PutShelf(shelf));
    ui.label(RichText::new(scene.words().shelf(shelf.id)).font(theme::strong(theme::TITLE_PT)));
    ui.add_space(6.0);
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        if button_ui(ui, "Copy shelf below") {
            let (edit, id) = make::copy_below(season, shelf);
            actions.push(Action::edit(edit));
            chosen = Some(Chosen::Shelf(id));
        }
        if season.shelves_of(shelf.rack).len() > 1 && button_ui(ui, "All of this rack like it") {
            actions.push(Action::edit(make::all_like(season, shelf)));
        }
        if button_ui(ui, "Remove shelf") {
            actions.push(Action::edit(make::remove(season, shelf)));
            chosen = Some(Chosen::Rack(shelf.rack));
        }
    });
    ui.add_space(6.0);
    figures_ui(ui, scene.unit, drafts, shelf, actions, &put);
    if let Some(reach) =
        choice_ui(ui, "Reached from", shelf.reach, &[(Reach::OneSide, "one side"), (Reach::BothSides, "both sides")])
    {
        actions.extend(put(Shelf { reach, ..shelf.clone() }).ok());
    }
    ui.add_space(8.0);
    ui.label(theme::bold("Lamps and heat mats, from the back left corner"));
    for at in 0..shelf.zones.len() {
        zone_ui(ui, scene.unit, drafts, shelf, at, actions, &put);
    }
    row_ui(ui, "", |ui, _| {
        for (kind, text) in [(ZoneKind::Lamp, "Add a lamp"), (ZoneKind::Heat, "Add a heat mat")] {
            if button_ui(ui, text) {
                let mut shelf = shelf.clone();
                shelf.zones.push(make::whole(kind, &shelf.width, &shelf.depth));
                actions.extend(put(shelf).ok());
            }
        }
    });
    ui.add_space(8.0);
    let when =
        if shelf.closed.is_empty() { "Never closed, unless dates are added" } else { "Closed between these dates" };
    ui.label(theme::bold(when));
    let owner = Owner::Shelf(shelf.id);
    spans_ui(ui, drafts, owner, &closed(scene.near()), &shelf.closed, actions, |closed| {
        put(Shelf { closed, ..shelf.clone() })
    });
    chosen
}

fn length(text: &str, unit: LengthUnit) -> Result<Measure, String> {
    Measure::parse_length(text, Some(unit)).map_err(|why| why.to_string())
}

fn figures_ui(
    ui: &mut Ui,
    unit: LengthUnit,
    drafts: &mut Drafts,
    shelf: &Shelf,
    actions: &mut Vec<Action>,
    put: &impl Fn(Shelf) -> Result<Action, String>,
) {
    let mut line = |label: &'static str, shown: &str, hint: &str, take: &dyn Fn(&str) -> Result<Shelf, String>| {
        let field = Field { key: (Owner::Shelf(shelf.id), label, 0), label, shown, hint, width: FIELD_PT };
        field_ui(ui, drafts, &field, actions, |text| put(take(text)?));
    };
    line(words::field(FieldId::ShelfWidth), shelf.width.typed(), "48 in", &|text| {
        Ok(make::resized(shelf, length(text, unit)?, shelf.depth.clone()))
    });
    line(words::field(FieldId::ShelfDepth), shelf.depth.typed(), "18 in", &|text| {
        Ok(make::resized(shelf, shelf.width.clone(), length(text, unit)?))
    });
    let height = shelf.clear_height.as_ref().map_or("", Measure::typed);
    line(words::field(FieldId::ShelfHeight), height, "unknown", &|text| {
        let clear_height = if text.is_empty() { None } else { Some(length(text, unit)?) };
        Ok(Shelf { clear_height, ..shelf.clone() })
    });
    line(words::field(FieldId::ShelfOverhang), shelf.overhang.typed(), "0 in", &|text| {
        Ok(Shelf { overhang: length(text, unit)?, ..shelf.clone() })
    });
    line(words::field(FieldId::ShelfAllowance), &shelf.allowance_percent.to_string(), "0", &|text| {
        let why = || format!("found {text:?}; write a whole number from 0 to 95");
        let allowance_percent = text.trim_end_matches('%').trim_end().parse().ok().ok_or_else(why)?;
        Ok(Shelf { allowance_percent, ..shelf.clone() })
    });
    let load = shelf.load_grams.map_or_else(String::new, |grams| format!("{} kg", f64::from(grams) / 1000.0));
    line("Rated load", &load, "unknown", &|text| {
        let load_grams = if text.is_empty() { None } else { Some(grams(text)?) };
        Ok(Shelf { load_grams, ..shelf.clone() })
    });
}

/// Kilograms, or pounds of 453.59237 g where it says so.
fn grams(text: &str) -> Result<u32, String> {
    let why = || format!("found {text:?}; write a weight from 0 to 10000 kg, such as 25 kg or 60 lb");
    let lower = text.to_lowercase();
    let (number, of_one) = match (lower.strip_suffix("kg"), lower.strip_suffix("lb")) {
        (Some(number), _) => (number, 1_000.0),
        (_, Some(number)) => (number, 453.592_37),
        _ => (lower.as_str(), 1_000.0),
    };
    let number: f64 = number.trim().replace(',', ".").parse().ok().ok_or_else(why)?;
    let grams = (number * of_one).round();
    if (0.0..=10_000_000.0).contains(&grams) { Ok(grams as u32) } else { Err(why()) }
}

fn zone_ui(
    ui: &mut Ui,
    unit: LengthUnit,
    drafts: &mut Drafts,
    shelf: &Shelf,
    at: usize,
    actions: &mut Vec<Action>,
    put: &impl Fn(Shelf) -> Result<Action, String>,
) {
    let Some(zone) = shelf.zones.get(at) else { return };
    let owner = Owner::Shelf(shelf.id);
    let number = shelf.zones.iter().take(at + 1).filter(|other| other.kind == zone.kind).count();
    let what = match zone.kind {
        ZoneKind::Lamp => format!("Lamp {number}"),
        ZoneKind::Heat => format!("Heat mat {number}"),
    };
    let changed = |zone: Zone| {
        let mut shelf = shelf.clone();
        if let Some(one) = shelf.zones.get_mut(at) {
            *one = zone;
        }
        put(shelf)
    };
    let mut line = |key: &'static str, name: &str, now: &Measure, with: &dyn Fn(Measure) -> Zone| {
        let label = format!("{what}: {name}");
        let field = Field { key: (owner, key, at), label: &label, shown: now.typed(), hint: "", width: FIELD_PT };
        field_ui(ui, drafts, &field, actions, |text| changed(with(length(text, unit)?)));
    };
    line("zone x", words::field(FieldId::ZoneX(at)), &zone.x, &|x| Zone { x, ..zone.clone() });
    line("zone y", words::field(FieldId::ZoneY(at)), &zone.y, &|y| Zone { y, ..zone.clone() });
    line("zone width", words::field(FieldId::ZoneWidth(at)), &zone.width, &|width| Zone { width, ..zone.clone() });
    line("zone depth", words::field(FieldId::ZoneDepth(at)), &zone.depth, &|depth| Zone { depth, ..zone.clone() });
    row_ui(ui, "", |ui, _| {
        if button_ui(ui, &format!("Remove {}", what.to_lowercase())) {
            let mut shelf = shelf.clone();
            shelf.zones.remove(at);
            actions.extend(put(shelf).ok());
            drafts.forget(owner, "zone");
        }
    });
}
