//! The form for a rack of equal tiers: one button, one step of undo.

use egui::Ui;

use crate::forecast::Problem;
use crate::season::make::{InPlace, MOST_TIERS, NewRack, free_name};
use crate::season::{Edit, FieldId, Op, PlaceId, Role, Season};
use crate::trade::shelf_size;
use crate::units::LengthUnit;
use crate::words::{fields, places as said};

use super::action::Action;
use super::kit::{
    Drafts, Field, Form, Owner, Reader, Typed, button, check_ui, choice_ui, length_or_none, reason_ui, row_ui,
    title_ui, whole,
};
use super::scene::Scene;

const FIELD_PT: f32 = 180.0;

/// What is chosen in the form; `None` is what the form proposes.
#[derive(Clone, Debug)]
pub(super) struct RackForm {
    place: Option<ToPlace>,
    role: Role,
    lamp: Option<bool>,
    tiers: u32,
    /// Of a first rack more than its shelves is shown.
    shows_all: bool,
    /// The size of its shelves is to be written.
    asked_for: bool,
}

impl Default for RackForm {
    fn default() -> Self {
        Self { place: None, role: Role::Growing, lamp: None, tiers: 4, shows_all: false, asked_for: false }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum ToPlace {
    Old(PlaceId),
    New,
}

impl RackForm {
    /// A new place to harden off in: ground, with no lamp over it.
    pub(super) const fn to_harden() -> Self {
        Self {
            place: Some(ToPlace::New),
            role: Role::Hardening,
            lamp: Some(false),
            tiers: 1,
            shows_all: false,
            asked_for: false,
        }
    }

    /// The keys go to it when it is drawn next.
    pub(super) const fn ask(&mut self) {
        self.asked_for = true;
    }

    /// The size of its shelves as it stands in the form, where it is one.
    pub(super) fn size(&self, scene: &Scene<'_>, owner: &Owner, drafts: &Drafts) -> String {
        let form = self.fields(scene.season, owner.clone(), scene.unit);
        let text = form.text(drafts, said::SIZE);
        if shelf_size(text, Some(scene.unit)).is_ok() { text } else { said::usual_size(scene.unit) }.to_owned()
    }

    fn to_place(&self, season: &Season) -> ToPlace {
        let there = |id: PlaceId| season.place(id).is_some();
        let chosen = self.place.filter(|to| matches!(to, ToPlace::New) || matches!(to, ToPlace::Old(id) if there(*id)));
        let growing = || season.places().find(|place| place.role == Role::Growing);
        let proposed = || growing().or_else(|| season.places().last()).map(|place| ToPlace::Old(place.id));
        chosen.or_else(proposed).unwrap_or(ToPlace::New)
    }

    /// Outside nothing is lit, unless the grower says so.
    fn lit(&self, season: &Season) -> bool {
        let role = match self.to_place(season) {
            ToPlace::Old(id) => season.place(id).map_or(self.role, |place| place.role),
            ToPlace::New => self.role,
        };
        self.lamp.unwrap_or(role != Role::Hardening)
    }

    /// The fields, as far as nobody has typed in them.
    fn fields(&self, season: &Season, owner: Owner, unit: LengthUnit) -> Form<'static> {
        let name = Field::new(said::NEW_RACK, free_name(season, said::FIRST_RACK)).is(FieldId::RackName);
        let new_place =
            (self.to_place(season) == ToPlace::New).then(|| Field::new(said::PLACE_NAME, said::usual_place(self.role)));
        let outdoors = new_place.is_some() && self.role == Role::Hardening;
        let size = if outdoors { said::usual_table(unit) } else { said::usual_size(unit) };
        let rest = [
            Field::new(said::TIERS, self.tiers.to_string()).hint("4"),
            Field::new(said::SIZE, size).hint(size).is(FieldId::ShelfWidth),
            Field::new(said::HEIGHT, "").hint(fields::UNKNOWN),
            Field::new(said::STICK_OUT, "").hint(said::NOT_AT_ALL).is(FieldId::ShelfOverhang),
        ];
        let all = [name].into_iter().chain(new_place).chain(rest);
        Form::new(owner, all.map(|field| field.width(FIELD_PT)))
    }

    fn read(&self, reader: &mut Reader<'_>, season: &Season, unit: LengthUnit) -> Option<Edit> {
        let tiers = reader.read(said::TIERS, |text| {
            whole(text)
                .ok()
                .filter(|tiers| (1..=MOST_TIERS).contains(tiers))
                .ok_or_else(|| said::tiers(MOST_TIERS, text))
        });
        let size = reader.read(said::SIZE, |text| shelf_size(text, Some(unit)));
        let height = reader.read(said::HEIGHT, |text| length_or_none(text, unit));
        let overhang = reader.read(said::STICK_OUT, |text| length_or_none(text, unit));
        let place = match self.to_place(season) {
            ToPlace::Old(id) => InPlace::There(id),
            ToPlace::New => InPlace::New { name: reader.text(said::PLACE_NAME).to_owned(), role: self.role },
        };
        let (name, lamp) = (reader.text(said::NEW_RACK).to_owned(), self.lit(season));
        let (tiers, size, clear_height, overhang) = (tiers?, size?, height?, overhang?);
        Some(NewRack { name, place, tiers, size, clear_height, overhang, lamp }.edit(season).0)
    }
}

/// What is typed in it is kept under `owner`.
pub(super) fn new_rack_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    owner: &Owner,
    rack: &mut RackForm,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    title_ui(ui, said::ADD_TITLE);
    ui.label(said::WHAT_A_RACK_IS);
    ui.add_space(6.0);
    form_ui(ui, scene, (owner, true), rack, (drafts, actions), |_, _| ());
}

/// The same of what a first rack has to say; the rest is a click away.
pub(super) fn first_rack_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    owner: &Owner,
    rack: &mut RackForm,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let all = rack.shows_all;
    form_ui(ui, scene, (owner, all), rack, (drafts, actions), |ui, rack| {
        if ui.add(button(said::MORE).selected(all)).clicked() {
            rack.shows_all = !all;
        }
    });
}

fn form_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (owner, all): (&Owner, bool),
    rack: &mut RackForm,
    (drafts, actions): (&mut Drafts, &mut Vec<Action>),
    beside: impl FnOnce(&mut Ui, &mut RackForm),
) {
    let season = scene.season;
    let form = rack.fields(season, owner.clone(), scene.unit);
    if rack.asked_for {
        // a question that closes takes the keys once more
        rack.asked_for = !form.has_keys(ui, said::SIZE);
        if rack.asked_for {
            form.focus(ui, drafts, said::SIZE);
        }
    }
    let typed = |rack: &RackForm, drafts: &Drafts| -> Typed<Edit> {
        form.typed(drafts, |reader| rack.read(reader, season, scene.unit), |edit| season.may(edit))
    };
    let faults = typed(rack, drafts).faults();
    let mut entered = None;
    let mut line_ui = |ui: &mut Ui, drafts: &mut Drafts, name: &'static str| {
        // in a long form Enter is done with one field
        if form.line_ui(ui, drafts, &faults, name, |_| ()) && !all {
            entered = Some(name);
        }
    };
    if all {
        line_ui(ui, drafts, said::NEW_RACK);
        let to = rack.to_place(season);
        if season.places().next().is_some() {
            let old = season.places().map(|place| (ToPlace::Old(place.id), place.name.as_str()));
            let places: Vec<(ToPlace, &str)> = old.chain([(ToPlace::New, said::A_NEW_PLACE)]).collect();
            rack.place = choice_ui(ui, said::STANDS_IN, to, &places).or(rack.place);
        }
        if to == ToPlace::New {
            line_ui(ui, drafts, said::PLACE_NAME);
            rack.role = choice_ui(ui, said::IS_FOR, rack.role, &said::ROLES).unwrap_or(rack.role);
        }
    }
    for name in [said::TIERS, said::SIZE] {
        line_ui(ui, drafts, name);
    }
    if all {
        for name in [said::HEIGHT, said::STICK_OUT] {
            line_ui(ui, drafts, name);
        }
    }
    rack.lamp = check_ui(ui, said::LAMPS, rack.lit(season)).or(rack.lamp);
    form.foot_ui(ui, &faults);
    ui.add_space(6.0);
    row_ui(ui, "", |ui, _| {
        // with what came before Enter in one frame
        let typed = typed(rack, drafts);
        let pressed = form.take_ui(ui, drafts, &typed, button(said::ADD)).clicked();
        if let Some(edit) = typed.read.ok().filter(|_| pressed || entered.is_some()) {
            // The next one is likely to be like it, beside it.
            rack.place = place_of(&edit).map(ToPlace::Old);
            drafts.forget(owner, said::NEW_RACK);
            drafts.forget(owner, said::PLACE_NAME);
            actions.push(Action::edit(edit));
            if let Some(name) = entered {
                form.focus(ui, drafts, name);
            }
        }
        beside(ui, rack);
    });
}

/// A table to harden off on, where the season has nothing for it and something to be hardened off, or nothing at all yet.
pub(super) fn table_ui(ui: &mut Ui, scene: &Scene<'_>, owner: &Owner, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    let season = scene.season;
    let wanted = scene.problems.iter().find_map(|problem| match problem {
        Problem::NowhereToHarden { sowings, first, .. } => Some((*sowings, *first)),
        _ => None,
    });
    let is_open = season.sowings().next().is_none() && season.places().all(|place| place.role != Role::Hardening);
    if wanted.is_none() && !is_open {
        return;
    }
    let usual = said::usual_table(scene.unit);
    let form = Form::new(owner.clone(), [Field::new(said::TO_HARDEN, usual).hint(usual)]);
    let table = |reader: &mut Reader<'_>| {
        let size = reader.read(said::TO_HARDEN, |text| shelf_size(text, Some(scene.unit)))?;
        let place = InPlace::New { name: said::OUTDOORS.to_owned(), role: Role::Hardening };
        let (name, lamp, tiers) = (said::TABLE.to_owned(), false, 1);
        Some(NewRack { name, place, tiers, size, clear_height: None, overhang: None, lamp }.edit(season).0)
    };
    let typed: Typed<Edit> = form.typed(drafts, table, |edit| season.may(edit));
    let mut pressed = false;
    let entered = form.line_ui(ui, drafts, &typed.faults(), said::TO_HARDEN, |ui| {
        pressed = ui.add_enabled(typed.read.is_ok(), button(said::ADD_TABLE)).clicked();
    });
    if let Some((sowings, first)) = wanted {
        reason_ui(ui, &said::wanted_to_harden(sowings, first));
    }
    if let Some(edit) = typed.read.ok().filter(|_| pressed || entered) {
        form.forget(drafts);
        actions.push(Action::edit(edit));
    }
}

/// Where the rack of that edit stands.
fn place_of(edit: &Edit) -> Option<PlaceId> {
    edit.ops.iter().find_map(|op| if let Op::PutRack(rack) = op { Some(rack.place) } else { None })
}
