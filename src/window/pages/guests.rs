//! The guests page: plants that were not sown this year, and anything else that takes room between
//! two dates. A table on the left; in the middle the one chosen, or a form for a new one.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use egui::{Button, Frame, Id, Margin, Panel, RichText, ScrollArea, Ui, WidgetInfo, vec2};

use crate::season::{Edit, EditLabel, FieldId, Guest, GuestId, Op, Role};
use crate::units::{DateSpan, LengthUnit, Size, size_text};
use crate::words;

use crate::window::action::Action;
use crate::window::kit::drawn::{Body, Look, body_ui, measures};
use crate::window::kit::fields::{FIELD_PT, WIDE_PT, beside_ui, button_ui, choice_ui, row_ui};
use crate::window::kit::form::{Faults, Form, Lines, Reader, length_or_none};
use crate::window::pages::sowings::whole;
use crate::window::scene::Scene;
use crate::window::theme::{self, Palette};

const NAME: &str = words::field(FieldId::GuestName);
const SIZE: &str = words::field(FieldId::GuestWidth);
const HEIGHT: &str = "Height";
const NUMBER: &str = words::field(FieldId::GuestNumber);
const FROM: &str = words::field(FieldId::GuestFrom);
const UNTIL: &str = words::field(FieldId::GuestUntil);
/// Days that a new one is taken to stay, until the grower says.
const USUAL_STAY: u64 = 60;

const FORM_PT: f32 = 520.0;

const ROLES: [(Role, &str); 3] = [
    (Role::Growing, "growing shelves"),
    (Role::Germinating, "germinating shelves"),
    (Role::Hardening, "the place for hardening off"),
];

/// What the page keeps between frames; gone with the season.
#[derive(Clone, Debug)]
pub(in crate::window) struct GuestsPage {
    /// The form for a new one where nothing is chosen.
    chosen: Option<GuestId>,
    forms: BTreeMap<Option<GuestId>, Form>,
    role: Role,
    light: bool,
}

impl Default for GuestsPage {
    fn default() -> Self {
        Self { chosen: None, forms: BTreeMap::new(), role: Role::Growing, light: true }
    }
}

/// What stands in the fields while nothing else is typed.
struct Shown {
    name: String,
    size: String,
    height: String,
    number: String,
    from: NaiveDate,
    until: NaiveDate,
}

impl Shown {
    fn new(scene: &Scene<'_>) -> Self {
        let size = if scene.unit == LengthUnit::Inch { "10 × 20 in" } else { "30 × 50 cm" };
        let until = scene.day.checked_add_days(Days::new(USUAL_STAY)).unwrap_or(scene.day);
        let (name, height) = (String::new(), String::new());
        Self { name, size: size.to_owned(), height, number: "1".to_owned(), from: scene.day, until }
    }

    fn of(guest: &Guest) -> Self {
        Self {
            name: guest.name.clone(),
            size: size_text(&guest.size),
            height: guest.height.as_ref().map_or_else(String::new, |height| height.typed().to_owned()),
            number: guest.number.to_string(),
            from: guest.span.from(),
            until: guest.span.until(),
        }
    }

    /// The guest as it is typed, or what is wrong with each field.
    fn read(&self, form: &Form, of: (GuestId, Role, bool), scene: &Scene<'_>) -> Result<Guest, Faults> {
        let (season, unit) = (scene.season, scene.unit);
        let mut reader = Reader::new(form);
        let name = reader.read(NAME, &self.name, |text| Ok(text.to_owned())).unwrap_or_default();
        let size = reader.read(SIZE, &self.size, |text| Size::parse(text, Some(unit)).map_err(|why| why.to_string()));
        let height = reader.read(HEIGHT, &self.height, |text| length_or_none(text, unit)).flatten();
        let number = reader.read(NUMBER, &self.number, whole::<u16>);
        let from = reader.date(FROM, &self.from.to_string(), self.from);
        let until = reader.date(UNTIL, &self.until.to_string(), from.unwrap_or(self.from));
        let span = from.zip(until).and_then(|(from, until)| {
            let span = DateSpan::new(from, until);
            if let Err(why) = &span {
                reader.fault(UNTIL, &format!("{} must come after {}", why.until, why.from));
            }
            span.ok()
        });
        let (Some(size), Some(number), Some(span)) = (size, number, span) else { return Err(reader.faults) };
        let (id, role, light) = of;
        let guest = Guest { id, name, size, height, number, span, role, light };
        if let Err(why) = season.may(&Op::PutGuest(guest.clone()).into()) {
            reader.refused(&why);
        }
        if reader.faults.is_empty() { Ok(guest) } else { Err(reader.faults) }
    }
}

pub(in crate::window) fn guests_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut GuestsPage, actions: &mut Vec<Action>) {
    let palette = Palette::of(ui);
    page.chosen = page.chosen.filter(|id| scene.season.guests().any(|guest| guest.id == *id));
    let side = Frame::new().fill(palette.panel).inner_margin(Margin::symmetric(12, 10));
    Panel::left("guests").frame(side).default_size(380.0).size_range(240.0..=520.0).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| table_ui(ui, scene, page));
    });
    let frame = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(20, 14));
    egui::CentralPanel::default().frame(frame).show(ui, |ui| {
        ScrollArea::vertical().auto_shrink([false, false]).id_salt(("guest", page.chosen)).show(ui, |ui| {
            match scene.season.guests().find(|guest| Some(guest.id) == page.chosen) {
                Some(guest) => guest_ui(ui, scene, guest, page, actions),
                None => add_ui(ui, scene, page, actions),
            }
        });
    });
}

fn table_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut GuestsPage) {
    let mut row = |ui: &mut Ui, chosen: Option<GuestId>, text: String, more: &str| {
        let open = page.chosen == chosen;
        let name = if more.is_empty() { text.clone() } else { format!("{text}, {more}") };
        let width = ui.available_width();
        let more = RichText::new(more).color(Palette::of(ui).soft_ink);
        let button = Button::new(text).right_text(more).min_size(vec2(width, 28.0)).truncate();
        let response = ui.add(button.selected(open).frame_when_inactive(false)).on_hover_text(&name);
        response.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, open, &name));
        if response.clicked() {
            page.chosen = chosen;
        }
    };
    row(ui, None, "Add a guest".to_owned(), "");
    ui.add_space(4.0);
    let mut guests: Vec<&Guest> = scene.season.guests().collect();
    guests.sort_by_key(|guest| (guest.span, guest.id));
    for guest in guests {
        row(ui, Some(guest.id), format!("{} × {}", guest.number, guest.name), &words::span(guest.span));
    }
    if scene.season.guests().next().is_none() {
        let said = "None yet: overwintered pots, bought plants, cuttings, a bag of mix on a shelf";
        ui.label(RichText::new(said).color(Palette::of(ui).soft_ink));
    }
}

fn fields_ui(ui: &mut Ui, form: &mut Form, shown: &Shown, faults: &Faults, of: Option<GuestId>) {
    let mut lines = Lines { form, faults, of: Id::unique(("guest", of)) };
    lines.line_ui(ui, NAME, &shown.name, "Lemon tree", WIDE_PT);
    lines.line_ui(ui, SIZE, &shown.size, "30 × 50 cm, 10 × 20 in", FIELD_PT * 1.5);
    lines.line_ui(ui, HEIGHT, &shown.height, "unknown", FIELD_PT);
    lines.line_ui(ui, NUMBER, &shown.number, "1", FIELD_PT);
    lines.date_ui(ui, FROM, &shown.from.to_string(), shown.from, FIELD_PT);
    lines.date_ui(ui, UNTIL, &shown.until.to_string(), shown.until, FIELD_PT);
}

fn light_ui(ui: &mut Ui, light: bool) -> Option<bool> {
    let mut wanted = light;
    row_ui(ui, "", |ui, _| {
        ui.checkbox(&mut wanted, "Wants a lamp or daylight");
    });
    (wanted != light).then_some(wanted)
}

fn drawing_ui(ui: &mut Ui, guest: &Guest) {
    ui.add_space(10.0);
    let (width, depth, height) = (&guest.size.width, &guest.size.depth, guest.height.as_ref());
    let name = format!("Drawing: {}", measures(width, depth, height));
    body_ui(ui, &Body { name: &name, width, depth, height, look: Look::Open { floor: None } });
}

fn add_ui(ui: &mut Ui, scene: &Scene<'_>, page: &mut GuestsPage, actions: &mut Vec<Action>) {
    ui.label(RichText::new("Add a guest").font(theme::strong(theme::TITLE_PT)));
    ui.label("Plants that were not sown this year, or anything else that takes room between two dates");
    ui.add_space(6.0);
    let shown = Shown::new(scene);
    let form = page.forms.entry(None).or_default();
    let id = GuestId(scene.season.next_id());
    let read = shown.read(form, (id, page.role, page.light), scene);
    let mut faults = read.as_ref().err().cloned().unwrap_or_default();
    if !form.has(NAME) {
        faults.remove(NAME);
    }
    // Drawn as it is typed, before it has a name.
    let mut named = form.clone();
    if !named.has(NAME) {
        named.set(NAME, "new");
    }
    let of = (id, page.role, page.light);
    let drawn = shown.read(&named, of, scene).or_else(|faults| shown.read(&named.without(&faults), of, scene));
    let form_ui = |ui: &mut Ui, page: &mut GuestsPage| {
        let form = page.forms.entry(None).or_default();
        fields_ui(ui, form, &shown, &faults, None);
        page.role = choice_ui(ui, "It stands on", page.role, &ROLES).unwrap_or(page.role);
        page.light = light_ui(ui, page.light).unwrap_or(page.light);
        ui.add_space(6.0);
        row_ui(ui, "", |ui, _| {
            ui.add_enabled_ui(read.is_ok(), |ui| {
                if button_ui(ui, "Add guest")
                    && let Ok(guest) = &read
                {
                    let edit = Op::PutGuest(guest.clone());
                    actions.push(Action::Edit(Edit::new(EditLabel::AddGuest(guest.name.clone()), vec![edit])));
                    page.forms.remove(&None);
                }
            });
        });
    };
    beside_ui(ui, FORM_PT, page, form_ui, |ui, _| {
        if let Ok(guest) = &drawn {
            drawing_ui(ui, guest);
        }
    });
}

fn guest_ui(ui: &mut Ui, scene: &Scene<'_>, guest: &Guest, page: &mut GuestsPage, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(&guest.name).font(theme::strong(theme::TITLE_PT)));
        if button_ui(ui, "Duplicate") {
            let copy = Guest { id: GuestId(scene.season.next_id()), ..guest.clone() };
            page.chosen = Some(copy.id);
            let label = EditLabel::AddGuest(copy.name.clone());
            actions.push(Action::Edit(Edit::new(label, vec![Op::PutGuest(copy)])));
        }
        if button_ui(ui, "Remove guest") {
            actions.push(Action::Edit(Op::RemoveGuest(guest.id).into()));
        }
    });
    ui.add_space(6.0);
    let shown = Shown::of(guest);
    let form = page.forms.entry(Some(guest.id)).or_default();
    let of = (guest.id, guest.role, guest.light);
    let read = shown.read(form, of, scene);
    let faults = read.as_ref().err().cloned().unwrap_or_default();
    let drawn = read.or_else(|faults| shown.read(&form.without(&faults), of, scene));
    let form_ui = |ui: &mut Ui, page: &mut GuestsPage| {
        let form = page.forms.entry(Some(guest.id)).or_default();
        fields_ui(ui, form, &shown, &faults, Some(guest.id));
        if form.is_left(ui)
            && let Ok(guest) = shown.read(form, of, scene)
        {
            actions.push(Action::Edit(Op::PutGuest(guest).into()));
            *form = Form::default();
        }
        if let Some(role) = choice_ui(ui, "It stands on", guest.role, &ROLES) {
            actions.push(Action::Edit(Op::PutGuest(Guest { role, ..guest.clone() }).into()));
        }
        if let Some(light) = light_ui(ui, guest.light) {
            actions.push(Action::Edit(Op::PutGuest(Guest { light, ..guest.clone() }).into()));
        }
    };
    beside_ui(ui, FORM_PT, page, form_ui, |ui, _| drawing_ui(ui, drawn.as_ref().unwrap_or(guest)));
}
