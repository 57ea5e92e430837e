//! The form for a rack of equal tiers: one button, one step of undo.

use egui::{Id, RichText, Ui};

use crate::season::make::{InPlace, NewRack, free_name};
use crate::season::{Edit, FieldId, Op, PlaceId, Role, Season};
use crate::trade::shelf_size;
use crate::units::{LengthUnit, Measure, Size};
use crate::window::action::Action;
use crate::window::scene::Scene;
use crate::window::theme;
use crate::words;

use crate::window::kit::old_fields::text_ui;
use crate::window::kit::{button_ui, choice_ui, reason_ui, row_ui};

const FIELD_PT: f32 = 180.0;
const MOST_TIERS: u32 = 40;

/// What is typed in the form; `None` is what the form proposes.
#[derive(Clone, Debug)]
pub(in crate::window) struct RackForm {
    name: Option<String>,
    place: Option<ToPlace>,
    place_name: Option<String>,
    role: Role,
    tiers: String,
    size: Option<String>,
    height: String,
    overhang: String,
    lamp: Option<bool>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum ToPlace {
    Old(PlaceId),
    New,
}

impl Default for RackForm {
    fn default() -> Self {
        Self {
            name: None,
            place: None,
            place_name: None,
            role: Role::Growing,
            tiers: "4".to_owned(),
            size: None,
            height: String::new(),
            overhang: String::new(),
            lamp: None,
        }
    }
}

/// Reasons beside the fields they belong to.
#[derive(Clone, Debug, Default)]
struct Faults {
    name: Option<String>,
    place_name: Option<String>,
    tiers: Option<String>,
    size: Option<String>,
    height: Option<String>,
    overhang: Option<String>,
}

impl RackForm {
    fn to_place(&self, season: &Season) -> ToPlace {
        let there = |id: PlaceId| season.place(id).is_some();
        let chosen = self.place.filter(|to| matches!(to, ToPlace::New) || matches!(to, ToPlace::Old(id) if there(*id)));
        let growing = || season.places().find(|place| place.role == Role::Growing);
        let proposed = || growing().or_else(|| season.places().last()).map(|place| ToPlace::Old(place.id));
        chosen.or_else(proposed).unwrap_or(ToPlace::New)
    }

    fn shown_name(&self, season: &Season) -> String {
        self.name.clone().unwrap_or_else(|| free_name(season, "Rack 1"))
    }

    fn shown_place_name(&self) -> String {
        let proposed = match self.role {
            Role::Germinating => "Germinating shelves",
            Role::Growing => "Growing shelves",
            Role::Hardening => "Cold frame",
        };
        self.place_name.clone().unwrap_or_else(|| proposed.to_owned())
    }

    fn shown_size(&self, unit: LengthUnit) -> String {
        self.size.clone().unwrap_or_else(|| if unit == LengthUnit::Inch { "48 × 18 in" } else { "120 × 45 cm" }.into())
    }

    /// Outside nothing is lit, unless the grower says so.
    fn lit(&self, season: &Season) -> bool {
        let role = match self.to_place(season) {
            ToPlace::Old(id) => season.place(id).map_or(self.role, |place| place.role),
            ToPlace::New => self.role,
        };
        self.lamp.unwrap_or(role != Role::Hardening)
    }

    /// The whole rack, or everything that is wrong with it.
    fn edit(&self, season: &Season, unit: LengthUnit) -> Result<Edit, Box<Faults>> {
        let mut faults = Faults::default();
        let tiers = self.tiers.trim().parse::<u32>().ok().filter(|tiers| (1..=MOST_TIERS).contains(tiers));
        if tiers.is_none() {
            faults.tiers =
                Some(format!("tiers must be a number from 1 to {MOST_TIERS}, found {:?}", self.tiers.trim()));
        }
        let size = shelf_size(&self.shown_size(unit), Some(unit)).map_err(|why| faults.size = Some(why.to_string()));
        let length = |typed: &str| match typed.trim() {
            "" => Ok(None),
            typed => Measure::parse_length(typed, Some(unit)).map(Some).map_err(|why| why.to_string()),
        };
        let height = length(&self.height).unwrap_or_else(|why| {
            faults.height = Some(why);
            None
        });
        let overhang = length(&self.overhang).unwrap_or_else(|why| {
            faults.overhang = Some(why);
            None
        });
        // without a size no shelf is tried; the names are
        let (size, tiers) = match (size, tiers) {
            (Ok(size), Some(tiers)) => (size, tiers),
            _ => (Size { width: Measure::mm(1200), depth: Measure::mm(450) }, 0),
        };
        let place = match self.to_place(season) {
            ToPlace::Old(id) => InPlace::There(id),
            ToPlace::New => InPlace::New { name: self.shown_place_name().trim().to_owned(), role: self.role },
        };
        let name = self.shown_name(season).trim().to_owned();
        let lamp = self.lit(season);
        let (edit, _) = NewRack { name, place, tiers, size, clear_height: height, overhang, lamp }.edit(season);
        if let Err(why) = season.may(&edit) {
            let fault = match why.field {
                FieldId::PlaceName => &mut faults.place_name,
                FieldId::ShelfHeight => &mut faults.height,
                FieldId::ShelfOverhang => &mut faults.overhang,
                FieldId::ShelfWidth | FieldId::ShelfDepth => &mut faults.size,
                _ => &mut faults.name,
            };
            fault.get_or_insert_with(|| words::refusal(&why));
        }
        let all = [&faults.name, &faults.place_name, &faults.tiers, &faults.size, &faults.height, &faults.overhang];
        if all.iter().any(|fault| fault.is_some()) { Err(Box::new(faults)) } else { Ok(edit) }
    }
}

pub(in crate::window) const fn role_name(role: Role) -> &'static str {
    match role {
        Role::Germinating => "Germinating",
        Role::Growing => "Growing",
        Role::Hardening => "Hardening",
    }
}

pub(in crate::window) const ROLES: [(Role, &str); 3] = [
    (Role::Germinating, role_name(Role::Germinating)),
    (Role::Growing, role_name(Role::Growing)),
    (Role::Hardening, role_name(Role::Hardening)),
];

pub(in crate::window) fn add_ui(ui: &mut Ui, scene: &Scene<'_>, form: &mut RackForm, actions: &mut Vec<Action>) {
    let season = scene.season;
    ui.label(RichText::new("Add a rack").font(theme::strong(theme::TITLE_PT)));
    ui.label("Equal shelves, one above the other; a bench is a rack with one tier");
    ui.add_space(6.0);
    let checked = form.edit(season, scene.unit);
    let faults = checked.as_ref().err().cloned().unwrap_or_default();
    let line = |ui: &mut Ui, label: &str, text: &mut String, hint: &str, fault: Option<&String>| {
        let mut changed = false;
        row_ui(ui, label, |ui, name| {
            let response = text_ui(ui, text, Id::unique(("add a rack", label)), hint, FIELD_PT).labelled_by(name.id);
            changed = response.changed();
            // Nobody is told off in the middle of a word.
            if let Some(why) = fault.filter(|_| !response.has_focus()) {
                reason_ui(ui, why);
            }
        });
        changed
    };
    let mut name = form.shown_name(season);
    if line(ui, "Name of the new rack", &mut name, "", faults.name.as_ref()) {
        form.name = Some(name);
    }
    let to = form.to_place(season);
    if season.places().next().is_some() {
        let mut places: Vec<(ToPlace, &str)> =
            season.places().map(|place| (ToPlace::Old(place.id), place.name.as_str())).collect();
        places.push((ToPlace::New, "a new place"));
        form.place = choice_ui(ui, "It stands in", to, &places).or(form.place);
    }
    if to == ToPlace::New {
        let mut name = form.shown_place_name();
        if line(ui, "Name of the place", &mut name, "", faults.place_name.as_ref()) {
            form.place_name = Some(name);
        }
        form.role = choice_ui(ui, "The place is for", form.role, &ROLES).unwrap_or(form.role);
    }
    line(ui, "Tiers", &mut form.tiers, "4", faults.tiers.as_ref());
    let mut size = form.shown_size(scene.unit);
    if line(ui, "Size of each shelf", &mut size, "48 × 18 in, 120 × 45 cm", faults.size.as_ref()) {
        form.size = Some(size);
    }
    line(ui, "Clear height", &mut form.height, "unknown", faults.height.as_ref());
    line(ui, "Trays may stick out", &mut form.overhang, "not at all", faults.overhang.as_ref());
    row_ui(ui, "", |ui, _| {
        let mut lamp = form.lit(season);
        if ui.checkbox(&mut lamp, "A lamp over the whole of each shelf").changed() {
            form.lamp = Some(lamp);
        }
    });
    ui.add_space(6.0);
    row_ui(ui, "", |ui, _| {
        ui.add_enabled_ui(checked.is_ok(), |ui| {
            if button_ui(ui, "Add rack")
                && let Ok(edit) = checked
            {
                let place = edit_place(&edit);
                actions.push(Action::edit(edit));
                // The next one is likely to be like it, beside it.
                form.name = None;
                form.place = place.map(ToPlace::Old);
                form.place_name = None;
            }
        });
    });
}

/// Where the rack of that edit stands.
fn edit_place(edit: &Edit) -> Option<PlaceId> {
    edit.ops.iter().find_map(|op| if let Op::PutRack(rack) = op { Some(rack.place) } else { None })
}
