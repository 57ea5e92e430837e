//! The guests page: plants that were not sown this year, and anything else that takes room between
//! two dates. A list on the left; in the middle the one chosen, or a form for a new one.

use chrono::NaiveDate;
use egui::Ui;

use crate::season::{Edit, EditLabel, Guest, GuestId, Op, Role};
use crate::trade;
use crate::units::{DateSpan, LengthUnit, Measure, Size, read_grams, shifted, size_text};
use crate::words::{self, fields, guests as said};

use crate::window::action::Action;
use crate::window::kit::{
    Body, Drafts, FIELD_PT, Fault, Field, Form, List, Look, Owner, Reader, Row, State, Typed, WIDE_PT, beside_ui,
    body_ui, button, button_ui, check_ui, choice_ui, date, length_or_none, list_ui, middle_ui, row_button_ui, row_ui,
    side_ui, state_ui, title_ui, whole,
};
use crate::window::scene::Scene;

/// Days that a new one is taken to stay, until the grower says.
const USUAL_STAY: i64 = 60;

const FORM_PT: f32 = 520.0;

/// What the page keeps between frames.
#[derive(Clone, Debug)]
pub(in crate::window) struct GuestsPage {
    /// The form for a new one where nothing is chosen.
    chosen: Option<GuestId>,
    /// Of the new one.
    role: Role,
    light: bool,
}

impl Default for GuestsPage {
    fn default() -> Self {
        Self { chosen: None, role: Role::Growing, light: true }
    }
}

pub(in crate::window) fn guests_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    page: &mut GuestsPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    let mut guests: Vec<&Guest> = scene.season.guests().collect();
    guests.sort_by_key(|guest| (guest.span, guest.id));
    side_ui(ui, "guests", 380.0, 240.0..=520.0, |ui| page.chosen = listed_ui(ui, &guests, page.chosen));
    middle_ui(ui, ("guest", page.chosen), |ui| match guests.iter().find(|guest| Some(guest.id) == page.chosen) {
        Some(guest) => guest_ui(ui, scene, guest, page, drafts, actions),
        None => add_ui(ui, scene, page, drafts, actions),
    });
}

/// The one that is chosen afterwards.
fn listed_ui(ui: &mut Ui, guests: &[&Guest], chosen: Option<GuestId>) -> Option<GuestId> {
    let at = guests.iter().position(|guest| Some(guest.id) == chosen);
    if row_button_ui(ui, &Row::new(said::ADD_TITLE, ""), at.is_none()) {
        return None;
    }
    ui.add_space(4.0);
    if guests.is_empty() {
        state_ui(ui, State::Empty, said::NONE_YET);
        return None;
    }
    let list = List::new("guests", said::PAGE);
    let row =
        |at: usize| guests.get(at).map_or_else(Row::default, |one| Row::new(said::so_many(one), words::span(one.span)));
    list_ui(ui, &list, guests.len(), at, row).or(at).and_then(|at| guests.get(at)).map(|guest| guest.id)
}

/// Its fields, as `guest` has them; of a new one without.
fn form<'a>(scene: &Scene<'_>, guest: Option<&'a Guest>) -> Form<'a> {
    let owner = guest.map_or(Owner::Form("guest"), |guest| Owner::Guest(guest.id));
    let size = guest.map_or_else(|| said::usual_size(scene.unit).to_owned(), |guest| size_text(&guest.size));
    let height = guest.and_then(|guest| guest.height.as_ref()).map_or("", Measure::typed);
    let number = guest.map_or(1, |guest| guest.number).to_string();
    let weight = guest.and_then(|guest| guest.grams);
    let weight = weight.map_or_else(String::new, |grams| words::places::load(grams, scene.unit));
    let by_size = guest.map_or_else(
        || said::BY_SIZE.to_owned(),
        |guest| said::weight_by_size(&scene.words().weight(u64::from(trade::grams_by_size(&guest.size)))),
    );
    let span = shown_span(scene, guest);
    let fields = [
        Field::new(said::NAME, guest.map_or("", |guest| &guest.name))
            .hint(said::NAME_HINT)
            .width(WIDE_PT)
            .still_to_come(),
        Field::new(said::SIZE, size).hint(said::SIZE_HINT).width(FIELD_PT * 1.5),
        Field::new(said::HEIGHT, height).hint(fields::UNKNOWN),
        Field::new(said::WEIGHT, weight).hint(by_size).width(FIELD_PT * 1.5),
        Field::new(said::NUMBER, number),
        Field::date(said::FROM, span.0),
        Field::date(said::UNTIL, span.1),
    ];
    Form::new(owner, fields)
}

/// From when until when it is here; a new one from the day shown on.
fn shown_span(scene: &Scene<'_>, guest: Option<&Guest>) -> (NaiveDate, NaiveDate) {
    let until = shifted(scene.day, USUAL_STAY);
    guest.map_or((scene.day, until), |guest| (guest.span.from(), guest.span.until()))
}

/// What the fields do not say of it.
type Rest = (GuestId, Role, bool);

fn read(reader: &mut Reader<'_>, (id, role, light): Rest, shown_from: NaiveDate, unit: LengthUnit) -> Option<Guest> {
    let name = reader.text(said::NAME).to_owned();
    let size = reader.read(said::SIZE, |text| Size::parse(text, Some(unit)));
    let height = reader.read(said::HEIGHT, |text| length_or_none(text, unit));
    let grams = reader.read(said::WEIGHT, |text| grams_or_none(text, unit));
    let number = reader.read(said::NUMBER, whole::<u16>);
    let from = reader.read(said::FROM, |text| date::near(text, shown_from));
    let until = reader.read(said::UNTIL, |text| date::from(text, from.unwrap_or(shown_from)));
    let span =
        reader.read(said::UNTIL, |_| from.zip(until).map(|(from, until)| DateSpan::new(from, until)).transpose());
    Some(Guest { id, name, size: size?, height: height?, number: number?, span: span??, role, light, grams: grams? })
}

fn grams_or_none(text: &str, unit: LengthUnit) -> Result<Option<u32>, Fault> {
    if text.is_empty() {
        return Ok(None);
    }
    Ok(Some(read_grams(text, unit).ok_or_else(|| words::places::no_weight(text, unit))?))
}

fn typed(form: &Form<'_>, scene: &Scene<'_>, guest: Option<&Guest>, drafts: &Drafts, rest: Rest) -> Typed<Guest> {
    let (from, _) = shown_span(scene, guest);
    let may = |guest: &Guest| scene.season.may(&Op::PutGuest(guest.clone()).into());
    form.typed(drafts, |reader| read(reader, rest, from, scene.unit), may)
}

fn drawing_ui(ui: &mut Ui, guest: &Guest) {
    ui.add_space(10.0);
    let (width, depth, height) = (&guest.size.width, &guest.size.depth, guest.height.as_ref());
    body_ui(ui, &Body { width, depth, height, look: Look::Open { floor: None }, unit: None });
}

fn add_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut GuestsPage, drafts: &mut Drafts, actions: &mut Vec<Action>) {
    title_ui(ui, said::ADD_TITLE);
    ui.label(said::WHAT_THEY_ARE);
    ui.add_space(6.0);
    let form = form(scene, None);
    let typed = typed(&form, scene, None, drafts, (GuestId(scene.season.next_id()), page.role, page.light));
    let form_ui = |ui: &mut Ui, page: &mut GuestsPage| {
        form.ui(ui, drafts, &typed.faults());
        page.role = choice_ui(ui, said::STANDS_ON, page.role, &said::ROLES).unwrap_or(page.role);
        page.light = check_ui(ui, said::LIGHT, page.light).unwrap_or(page.light);
        ui.add_space(6.0);
        row_ui(ui, "", |ui, _| {
            if form.take_ui(ui, drafts, &typed, button(said::ADD)).clicked()
                && let Ok(guest) = &typed.read
            {
                actions.push(added(guest.clone()));
                form.forget(drafts);
            }
        });
    };
    beside_ui(ui, FORM_PT, page, form_ui, |ui, _| {
        if let Some(guest) = &typed.drawn {
            drawing_ui(ui, guest);
        }
    });
}

fn added(guest: Guest) -> Action {
    let label = EditLabel::AddGuest(guest.name.clone());
    Action::edit(Edit::new(label, vec![Op::PutGuest(guest)]))
}

fn guest_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    guest: &Guest,
    page: &mut GuestsPage,
    drafts: &mut Drafts,
    actions: &mut Vec<Action>,
) {
    ui.horizontal_wrapped(|ui| {
        title_ui(ui, &guest.name);
        if button_ui(ui, said::DUPLICATE) {
            let copy = Guest { id: GuestId(scene.season.next_id()), ..guest.clone() };
            page.chosen = Some(copy.id);
            actions.push(added(copy));
        }
        if button_ui(ui, said::REMOVE) {
            actions.push(Action::edit(Op::RemoveGuest(guest.id)));
        }
    });
    ui.add_space(6.0);
    let form = form(scene, Some(guest));
    let read = |drafts: &Drafts| typed(&form, scene, Some(guest), drafts, (guest.id, guest.role, guest.light));
    let typed = read(drafts);
    let form_ui = |ui: &mut Ui, drafts: &mut Drafts| {
        form.ui(ui, drafts, &typed.faults());
        if form.is_left(ui, drafts)
            && let Ok(guest) = read(drafts).read
        {
            actions.push(Action::edit(Op::PutGuest(guest)));
            form.forget(drafts);
        }
        if let Some(role) = choice_ui(ui, said::STANDS_ON, guest.role, &said::ROLES) {
            actions.push(Action::edit(Op::PutGuest(Guest { role, ..guest.clone() })));
        }
        if let Some(light) = check_ui(ui, said::LIGHT, guest.light) {
            actions.push(Action::edit(Op::PutGuest(Guest { light, ..guest.clone() })));
        }
    };
    beside_ui(ui, FORM_PT, drafts, form_ui, |ui, _| drawing_ui(ui, typed.drawn.as_ref().unwrap_or(guest)));
}
