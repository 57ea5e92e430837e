//! Fields that keep what is typed until the season takes it.
//!
//! What is refused stays in its field, with the reason beside it; nothing typed is lost when
//! another page or another shelf is shown meanwhile.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use egui::{Id, Key, Response, TextEdit, Ui, vec2};

use crate::season::{Edit, PlaceId, RackId, Season, ShelfId};
use crate::units::{DateSpan, read_date};
use crate::window::action::Action;
use crate::window::kit::{FIELD_PT, button_ui, pick_ui, reason_ui, row_ui};
use crate::window::theme;
use crate::words;

/// Whose field it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(in crate::window) enum Owner {
    Season,
    Place(PlaceId),
    Rack(RackId),
    Shelf(ShelfId),
}

/// The owner, the field, and which of several.
pub(in crate::window) type FieldKey = (Owner, &'static str, usize);

#[derive(Clone, Debug, Default)]
struct Draft {
    text: String,
    why: Option<String>,
}

#[derive(Clone, Debug, Default)]
pub(in crate::window) struct Drafts(BTreeMap<FieldKey, Draft>);

impl Drafts {
    /// Those of a thing that lost or gained one of several parts no longer belong to the same part.
    pub(in crate::window) fn forget(&mut self, owner: Owner, field: &str) {
        self.0.retain(|(whose, name, _), _| *whose != owner || !name.starts_with(field));
    }

    fn text(&self, key: FieldKey) -> &str {
        self.0.get(&key).map_or("", |draft| &draft.text)
    }
}

pub(in crate::window) struct Field<'a> {
    pub(in crate::window) key: FieldKey,
    pub(in crate::window) label: &'a str,
    /// What stands there while nothing else is typed.
    pub(in crate::window) shown: &'a str,
    pub(in crate::window) hint: &'a str,
    pub(in crate::window) width: f32,
}

/// An edit that the season would take, or why it wouldn't.
pub(in crate::window) fn tried(season: &Season, edit: impl Into<Edit>) -> Result<Action, String> {
    let edit = edit.into();
    season.may(&edit).map_err(|why| words::refusal(&why))?;
    Ok(Action::edit(edit))
}

/// One line: label, field, reason. `take` is asked once, on Enter or when the field is left.
pub(in crate::window) fn field_ui(
    ui: &mut Ui,
    drafts: &mut Drafts,
    field: &Field<'_>,
    actions: &mut Vec<Action>,
    take: impl FnOnce(&str) -> Result<Action, String>,
) {
    field_with_ui(ui, drafts, field, actions, take, |_| None);
}

/// A field for a date, and a month to pick it from. `take` gets what is typed or picked.
pub(in crate::window) fn date_field_ui(
    ui: &mut Ui,
    drafts: &mut Drafts,
    field: &Field<'_>,
    date: NaiveDate,
    actions: &mut Vec<Action>,
    take: impl FnOnce(&str) -> Result<Action, String>,
) {
    field_with_ui(ui, drafts, field, actions, take, |ui| {
        let (_, name, number) = field.key;
        let name = if number == 0 { name.to_owned() } else { format!("{name}, {}", number + 1) };
        pick_ui(ui, &name, date).map(|date| date.to_string())
    });
}

/// What `beside` gives is taken as if it had been typed.
fn field_with_ui(
    ui: &mut Ui,
    drafts: &mut Drafts,
    field: &Field<'_>,
    actions: &mut Vec<Action>,
    take: impl FnOnce(&str) -> Result<Action, String>,
    beside: impl FnOnce(&mut Ui) -> Option<String>,
) {
    row_ui(ui, field.label, |ui, label| {
        let mut text = drafts.0.get(&field.key).map_or_else(|| field.shown.to_owned(), |draft| draft.text.clone());
        let id = Id::unique(("kept_field", field.key));
        let response = text_ui(ui, &mut text, id, field.hint, field.width).labelled_by(label.id);
        if response.changed() {
            drafts.0.insert(field.key, Draft { text, why: None });
        }
        let given = beside(ui);
        let left = response.lost_focus() || given.is_some();
        if let Some(text) = given {
            drafts.0.insert(field.key, Draft { text, why: None });
        }
        if left && ui.input(|i| i.key_pressed(Key::Escape)) {
            drafts.0.remove(&field.key);
        } else if let Some(draft) = drafts.0.get_mut(&field.key)
            && (left || (!response.has_focus() && draft.why.is_none()))
        {
            if draft.text == field.shown {
                drafts.0.remove(&field.key);
            } else {
                match take(draft.text.trim()) {
                    Ok(action) => {
                        actions.push(action);
                        drafts.0.remove(&field.key);
                    }
                    Err(why) => draft.why = Some(why),
                }
            }
        }
        if let Some(why) = drafts.0.get(&field.key).and_then(|draft| draft.why.as_deref()) {
            reason_ui(ui, why);
        }
    });
}

pub(in crate::window) fn text_ui(ui: &mut Ui, text: &mut String, id: Id, hint: &str, width: f32) -> Response {
    let field = TextEdit::singleline(text).id(id).hint_text(hint).desired_width(width);
    ui.add(field.min_size(vec2(width, theme::TARGET_PT)))
}

/// Days as anyone types them; without a year, the first from `near` on, then the first after that.
fn span(from: &str, until: &str, near: NaiveDate) -> Result<DateSpan, String> {
    let from = read_date(from, near).map_err(|why| why.to_string())?;
    let until = read_date(until, from).map_err(|why| why.to_string())?;
    DateSpan::new(from, until).map_err(|empty| format!("{} must come after {}", empty.until, empty.from))
}

/// The words for a list of spans.
pub(in crate::window) struct SpanWords {
    pub(in crate::window) from: &'static str,
    pub(in crate::window) until: &'static str,
    pub(in crate::window) add: &'static str,
    pub(in crate::window) remove: &'static str,
    /// What a day without its year is near to.
    pub(in crate::window) near: NaiveDate,
}

/// Spans of dates, each with two fields, and two empty ones for another.
pub(in crate::window) fn spans_ui(
    ui: &mut Ui,
    drafts: &mut Drafts,
    owner: Owner,
    words: &SpanWords,
    spans: &[DateSpan],
    actions: &mut Vec<Action>,
    with: impl Fn(Vec<DateSpan>) -> Result<Action, String>,
) {
    let changed = |at: usize, new: DateSpan| {
        let mut spans = spans.to_vec();
        if let Some(span) = spans.get_mut(at) {
            *span = new;
        }
        with(spans)
    };
    for (at, one) in spans.iter().enumerate() {
        let (from, until) = (one.from().to_string(), one.until().to_string());
        let field = Field { key: (owner, words.from, at), label: words.from, shown: &from, hint: "", width: FIELD_PT };
        date_field_ui(ui, drafts, &field, one.from(), actions, |text| changed(at, span(text, &until, words.near)?));
        let field =
            Field { key: (owner, words.until, at), label: words.until, shown: &until, hint: "", width: FIELD_PT };
        date_field_ui(ui, drafts, &field, one.until(), actions, |text| changed(at, span(&from, text, words.near)?));
        row_ui(ui, "", |ui, _| {
            if button_ui(ui, words.remove) {
                let rest = spans.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, span)| *span).collect();
                actions.extend(with(rest).ok());
                drafts.forget(owner, words.from);
                drafts.forget(owner, words.until);
            }
        });
    }
    let (from_key, until_key) = ((owner, words.from, usize::MAX), (owner, words.until, usize::MAX));
    for (key, label) in [(from_key, words.from), (until_key, words.until)] {
        row_ui(ui, &format!("{label}, new"), |ui, label| {
            let draft = drafts.0.entry(key).or_default();
            let id = Id::unique(("kept_field", key));
            if text_ui(ui, &mut draft.text, id, "15 Mar", FIELD_PT).labelled_by(label.id).changed() {
                draft.why = None;
            }
            if let Some(date) = pick_ui(ui, &format!("{}, new", key.1), words.near) {
                draft.text = date.to_string();
                draft.why = None;
            }
            if let Some(why) = &draft.why {
                reason_ui(ui, why);
            }
        });
    }
    row_ui(ui, "", |ui, _| {
        if !button_ui(ui, words.add) {
            return;
        }
        let [from, until] = [from_key, until_key].map(|key| drafts.text(key).trim().to_owned());
        let added = span(&from, &until, words.near).and_then(|new| with(spans.iter().copied().chain([new]).collect()));
        match added {
            Ok(action) => {
                actions.push(action);
                drafts.0.remove(&from_key);
                drafts.0.remove(&until_key);
            }
            Err(why) => {
                let at_fault = if read_date(&from, words.near).is_err() { from_key } else { until_key };
                drafts.0.entry(at_fault).or_default().why = Some(why);
            }
        }
    });
}
