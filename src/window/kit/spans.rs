//! Spans of dates, each with two fields, below two empty ones for another: what adds one stays where it is.

use chrono::NaiveDate;
use egui::Ui;

use crate::units::DateSpan;
use crate::words::fields as said;

use super::choice::button_ui;
use super::date;
use super::drafts::{Drafts, Owner};
use super::fault::Fault;
use super::field::{Field, field_ui, text_ui};
use super::focus::is_written_in;
use super::row::{reason_ui, row_ui};

/// The words for a list of spans.
pub(in crate::window) struct SpanWords {
    pub(in crate::window) from: &'static str,
    pub(in crate::window) until: &'static str,
    pub(in crate::window) add: &'static str,
    pub(in crate::window) remove: &'static str,
}

/// What `with` makes of the spans as they were changed now. A new one without its year is near `near`.
pub(in crate::window) fn spans_ui<T>(
    ui: &mut Ui,
    drafts: &mut Drafts,
    owner: &Owner,
    words: &SpanWords,
    (spans, near): (&[DateSpan], NaiveDate),
    with: impl Fn(Vec<DateSpan>) -> Result<T, Fault>,
) -> Option<T> {
    let mut given = None;
    let changed = |at: usize, new: DateSpan| {
        let mut spans = spans.to_vec();
        if let Some(span) = spans.get_mut(at) {
            *span = new;
        }
        with(spans)
    };
    let new = [words.from, words.until].map(|label| Field::date_to_come(said::newly(label), near));
    for field in &new {
        new_day_ui(ui, drafts, owner, field, near);
    }
    row_ui(ui, "", |ui, _| {
        if button_ui(ui, words.add) {
            match added(drafts, owner, &new, near) {
                Ok(span) => match with(spans.iter().copied().chain([span]).collect()) {
                    Ok(value) => {
                        given = Some(value);
                        for field in &new {
                            drafts.forget(owner, &field.name);
                        }
                    }
                    Err(why) => refuse(drafts, owner, &new[1], why),
                },
                Err((at, why)) => refuse(drafts, owner, &new[at], why),
            }
        }
    });
    for (at, one) in spans.iter().enumerate() {
        let field = Field::date(words.from, one.from()).named(said::numbered(words.from, at));
        let from = field_ui(ui, drafts, owner, &field, |text| {
            changed(at, DateSpan::new(date::near(text, one.from())?, one.until())?)
        });
        let field = Field::date(words.until, one.until()).named(said::numbered(words.until, at));
        let until = field_ui(ui, drafts, owner, &field, |text| {
            changed(at, DateSpan::new(one.from(), date::from(text, one.from())?)?)
        });
        given = given.or(from).or(until);
        row_ui(ui, "", |ui, _| {
            if button_ui(ui, words.remove) {
                let rest = spans.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, span)| *span).collect();
                given = with(rest).ok();
                for label in [words.from, words.until] {
                    drafts.close_up(owner, at, spans.len(), |at| said::numbered(label, at));
                }
            }
        });
    }
    given
}

/// A day of another span: read when it is left, taken with the other one.
fn new_day_ui(ui: &mut Ui, drafts: &mut Drafts, owner: &Owner, field: &Field<'_>, near: NaiveDate) {
    row_ui(ui, &field.label, |ui, label| {
        text_ui(ui, drafts, owner, field, Some(label));
        let text = field.text(drafts, owner);
        if !is_written_in(ui, field.screen_id(owner))
            && !text.is_empty()
            && let Err(why) = date::from(text, near)
        {
            drafts.refuse(owner, &field.name, Fault::from(why).into_text());
        }
        if let Some(why) = drafts.why(owner, &field.name) {
            reason_ui(ui, why);
        }
    });
}

/// What stands in the two fields, or which of them can't be so.
fn added(drafts: &Drafts, owner: &Owner, new: &[Field<'_>; 2], near: NaiveDate) -> Result<DateSpan, (usize, Fault)> {
    let [from, until] = new.each_ref().map(|field| field.text(drafts, owner));
    let from = date::from(from, near).map_err(|why| (0, why.into()))?;
    let until = date::from(until, from).map_err(|why| (1, why.into()))?;
    DateSpan::new(from, until).map_err(|why| (1, why.into()))
}

fn refuse(drafts: &mut Drafts, owner: &Owner, field: &Field<'_>, why: Fault) {
    let text = field.text(drafts, owner).to_owned();
    drafts.write(owner, &field.name, text);
    drafts.refuse(owner, &field.name, why.into_text());
}
