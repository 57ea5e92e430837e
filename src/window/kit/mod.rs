//! What pages are made of.
//!
//! A page keeps what is chosen; what is typed is in [`Drafts`], of the season that is open, under an
//! [`Owner`] and the name of the field. A page never asks what a field should show: it gives each
//! [`Field`] once, with its label from `words`, and gets what was typed when that is done.
//!
//! *One field by itself* ([`field_ui`], in a line of others [`bare_field_ui`]): reads its text when it
//! is left. A refusal stays beside it until the text is changed or given up with Escape.
//!
//! ```ignore
//! let field = Field::new(words::days::WATER, settings.water_every.to_string());
//! actions.extend(field_ui(ui, drafts, &Owner::Season, &field, |text| {
//!     tried(scene.season, Op::SetSettings(Settings { water_every: whole(text)?, ..settings.clone() }))
//! }));
//! ```
//!
//! *Fields that are taken together* ([`Form`]): `typed` reads them all and asks the season whether it
//! may be; each reason comes to stand beside its field, found by the `FieldId` of the refusal (a
//! field's label is `words::field(id)`; where one label stands before several fields, say
//! [`Field::is`]), or at the foot. `pages/guests` is the example to follow, `pages/containers` the one
//! with fields that come and go.
//!
//! *A date* ([`Field::date`]): one text everywhere, `19 Apr 2027`, and a month to pick from; read it by
//! [`date::near`] (the year nearest to the date shown) or [`date::from`] (the first such day after
//! another). *Spans of dates*: [`spans_ui`].
//!
//! *A list* ([`list_ui`]): rows by number, made only while they show; one Tab stop, arrows inside. Where rows are of any
//! height, or of several buttons each, [`stop_ui`]. Its
//! shell: [`side_ui`], [`middle_ui`], and [`beside_ui`] for a form beside its drawing.

mod beside;
mod calendar;
mod cautions;
mod choice;
mod container;
mod context;
pub(super) mod date;
mod drafts;
mod drawn;
mod fault;
mod field;
mod focus;
mod form;
mod linked;
mod list;
mod page;
mod read;
mod row;
mod spans;
mod state;
mod stop;
mod table;

pub(super) use beside::told_beside;
pub(super) use cautions::cautions_ui;
pub(super) use choice::{
    Search, able_button_ui, button, button_ui, check_ui, choice_ui, drop_down_ui, search_ui, small_button_ui,
};
pub(super) use container::container_picture_ui;
pub(super) use context::{context_item_ui, context_ui};
pub(super) use drafts::{Drafts, Owner};
pub(super) use drawn::{Body, Look, body_ui};
pub(super) use fault::{Fault, tried};
pub(super) use field::{FIELD_PT, Field, WIDE_PT, area_ui, bare_field_ui, field_ui, text_ui};
pub(super) use focus::{edge_keys, focus_ring_ui, hold_field};
pub(super) use form::{FieldFaults, Form, Reader, Typed};
pub(super) use linked::linked_ui;
pub(super) use list::{List, Row, list_ui, list_with_menu_ui, part_ui, row_button_ui, row_in_stop_ui};
pub(super) use page::{beside_at_least_ui, beside_ui, middle_ui, right_side_ui, side_ui};
pub(super) use read::{length_or_none, remove_at, whole, whole_or_none};
pub(super) use row::{
    aside_ui, marked_thing_ui, narrow_row_ui, part_title_ui, reason_ui, row_ui, soft_ui, thing_ui, title_ui, wrapped_ui,
};
pub(super) use spans::{SpanWords, spans_ui};
pub(super) use state::{
    AskedWords, State, Wanted, asked_ui, picture_ui, state_in_the_middle_ui, state_next_ui, state_ui,
};
pub(super) use stop::{Named, Stop, stop_ui};
pub(super) use table::{At, Cells, Head, Table, table_ui};
