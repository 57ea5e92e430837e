//! A field: shows what is until something else is typed, and gives that once, on Enter or when it is
//! left. Escape gives it up. What is refused stays, with the reason beside it.

use std::borrow::Cow;

use chrono::NaiveDate;
use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{Id, Key, Response, TextEdit, Ui, vec2};

use crate::season::FieldId;
use crate::window::theme;
use crate::words::fields as said;

use super::calendar::pick_ui;
use super::drafts::{Drafts, Owner};
use super::fault::Fault;
use super::focus::is_written_in;
use super::row::{reason_ui, row_ui};

pub(in crate::window) const FIELD_PT: f32 = 120.0;
/// For names.
pub(in crate::window) const WIDE_PT: f32 = 220.0;

#[derive(Clone, Debug)]
pub(in crate::window) struct Field<'a> {
    /// What a screen reader says; no other field of its owner has it.
    pub(super) name: Cow<'a, str>,
    /// Stands before it.
    pub(super) label: Cow<'a, str>,
    /// Stands in it while nothing else is typed.
    pub(super) shown: Cow<'a, str>,
    hint: Cow<'a, str>,
    width: f32,
    /// A date, with a month to pick it from.
    date: Option<NaiveDate>,
    /// What a refusal of the season calls it, where that is not by its label.
    pub(super) id: Option<FieldId>,
    /// While nothing was typed in it, nobody is told that it is empty.
    pub(super) to_come: bool,
    /// What stands in it is chosen as the keys come to it: the next that is typed replaces it.
    whole: bool,
}

impl<'a> Field<'a> {
    pub(in crate::window) fn new(label: impl Into<Cow<'a, str>>, shown: impl Into<Cow<'a, str>>) -> Self {
        let label = label.into();
        let (name, shown) = (label.clone(), shown.into());
        Self {
            name,
            label,
            shown,
            hint: "".into(),
            width: FIELD_PT,
            date: None,
            id: None,
            to_come: false,
            whole: false,
        }
    }

    /// Of a date; to be read by `date::near` or `date::from`.
    pub(in crate::window) fn date(label: impl Into<Cow<'a, str>>, date: NaiveDate) -> Self {
        Self { date: Some(date), whole: true, ..Self::new(label, said::typed_day(date)).hint(said::A_DAY) }
    }

    /// Of a date that nothing is known of yet; the month to pick it from is that of `near`.
    pub(in crate::window) fn date_to_come(label: impl Into<Cow<'a, str>>, near: NaiveDate) -> Self {
        Self { shown: "".into(), to_come: true, ..Self::date(label, near) }
    }

    pub(in crate::window) fn hint(self, hint: impl Into<Cow<'a, str>>) -> Self {
        Self { hint: hint.into(), ..self }
    }

    pub(in crate::window) fn width(self, width: f32) -> Self {
        Self { width, ..self }
    }

    /// A name longer than the label, because others have the same label.
    pub(in crate::window) fn named(self, name: impl Into<Cow<'a, str>>) -> Self {
        Self { name: name.into(), ..self }
    }

    pub(in crate::window) fn is(self, id: FieldId) -> Self {
        Self { id: Some(id), ..self }
    }

    /// A number is typed anew, as a date is.
    pub(in crate::window) fn chosen_whole(self) -> Self {
        Self { whole: true, ..self }
    }

    pub(in crate::window) fn still_to_come(self) -> Self {
        Self { to_come: true, ..self }
    }

    pub(super) fn screen_id(&self, owner: &Owner) -> Id {
        Id::unique(("field", owner, &*self.name))
    }

    pub(super) fn text<'t>(&'t self, drafts: &'t Drafts, owner: &Owner) -> &'t str {
        drafts.text(owner, &self.name).unwrap_or(&self.shown).trim()
    }
}

/// One line: label, field, reason. What `read` makes of the text, when that is typed.
pub(in crate::window) fn field_ui<T>(
    ui: &mut Ui,
    drafts: &mut Drafts,
    owner: &Owner,
    field: &Field<'_>,
    read: impl FnOnce(&str) -> Result<T, Fault>,
) -> Option<T> {
    row_ui(ui, &field.label, |ui, label| {
        text_ui(ui, drafts, owner, field, Some(label));
        taken_ui(ui, drafts, owner, field, read)
    })
}

/// The same among others in a line, its label close before it.
pub(in crate::window) fn bare_field_ui<T>(
    ui: &mut Ui,
    drafts: &mut Drafts,
    owner: &Owner,
    field: &Field<'_>,
    read: impl FnOnce(&str) -> Result<T, Fault>,
) -> Option<T> {
    let label = (!field.label.is_empty()).then(|| ui.label(&*field.label));
    text_ui(ui, drafts, owner, field, label.as_ref());
    taken_ui(ui, drafts, owner, field, read)
}

fn taken_ui<T>(
    ui: &mut Ui,
    drafts: &mut Drafts,
    owner: &Owner,
    field: &Field<'_>,
    read: impl FnOnce(&str) -> Result<T, Fault>,
) -> Option<T> {
    // also when it was left while another page was shown
    let writing = is_written_in(ui, field.screen_id(owner));
    let typed = drafts.text(owner, &field.name).filter(|_| !writing && drafts.why(owner, &field.name).is_none());
    let mut given = None;
    match typed.map(|text| read(text.trim())) {
        Some(Ok(value)) => {
            drafts.forget(owner, &field.name);
            given = Some(value);
        }
        Some(Err(why)) => drafts.refuse(owner, &field.name, why.into_text()),
        None => {}
    }
    if let Some(why) = drafts.why(owner, &field.name) {
        reason_ui(ui, why);
    }
    given
}

/// The box alone; its reason is its form's to say.
pub(in crate::window) fn text_ui(
    ui: &mut Ui,
    drafts: &mut Drafts,
    owner: &Owner,
    field: &Field<'_>,
    label: Option<&Response>,
) -> Response {
    let mut text = drafts.text(owner, &field.name).unwrap_or(&field.shown).to_owned();
    let id = field.screen_id(owner);
    forget_typing_of_others(ui, id, &text, drafts.text(owner, &field.name).is_some());
    let size = vec2(field.width, theme::TARGET_PT);
    let edit = TextEdit::singleline(&mut text).id(id).hint_text(&*field.hint);
    let response = ui.add(edit.desired_width(field.width).min_size(size));
    seen(ui, id, &text, response.changed() || drafts.text(owner, &field.name).is_some());
    if response.gained_focus() && !ui.input(|i| i.pointer.any_down() || i.pointer.any_released()) {
        all_chosen(ui, id, &text, drafts.text(owner, &field.name).is_some());
    }
    let response = match label.filter(|_| field.name == field.label) {
        Some(label) => response.labelled_by(label.id),
        None => named(response, &field.name),
    };
    if field.whole {
        choose_whole(ui, &response, &text);
    }
    if response.changed() {
        drafts.write(owner, &field.name, text);
    }
    if response.lost_focus() {
        let given_up = ui.input(|i| i.key_pressed(Key::Escape));
        if given_up || field.text(drafts, owner) == field.shown {
            drafts.forget(owner, &field.name);
        } else {
            drafts.leave(owner, &field.name);
        }
    }
    if let Some(date) = field.date
        && let Some(picked) = pick_ui(ui, &field.name, date)
    {
        drafts.set(owner, &field.name, said::typed_day(picked));
    }
    response
}

/// Once the keys came to it; by the pointer when that is let go, unless it chose a part.
fn choose_whole(ui: &Ui, field: &Response, text: &str) {
    let was_here = field.id.with("was_here");
    if !field.has_focus() {
        ui.data_mut(|data| data.remove_temp::<bool>(was_here));
        return;
    }
    let is_here = ui.data(|data| data.get_temp::<bool>(was_here)).is_some();
    if is_here || ui.input(|i| i.pointer.any_down()) {
        return;
    }
    ui.data_mut(|data| data.insert_temp(was_here, true));
    let mut state = TextEditState::load(ui.ctx(), field.id).unwrap_or_default();
    if state.cursor.char_range().is_none_or(|range| range.is_empty()) {
        let end = CCursor::new(text.chars().count());
        state.cursor.set_char_range(Some(CCursorRange::two(CCursor::default(), end)));
        state.store(ui.ctx(), field.id);
        ui.request_repaint();
    }
}

/// What is typed next stands in place of what stands there: it came by keys, not by a press between two letters.
pub(super) fn all_chosen(ui: &Ui, id: Id, text: &str, typed: bool) {
    let mut state = TextEditState::load(ui.ctx(), id).unwrap_or_default();
    if !typed {
        state.clear_undoer();
    }
    state.cursor.set_char_range(Some(CCursorRange::select_all_str(text)));
    state.store(ui.ctx(), id);
}

/// What a field showed last, and whether that was typed in it.
type Seen = (u64, bool);

fn seen(ui: &Ui, id: Id, text: &str, typed: bool) {
    ui.data_mut(|data| data.insert_temp::<Seen>(id.with("seen"), (egui::util::hash(text), typed)));
}

/// What was typed is taken back with `Ctrl+Z` only while it is what stands there: once it was taken,
/// given up, or another text came to stand there, the season's own steps are next.
fn forget_typing_of_others(ui: &Ui, id: Id, text: &str, typed: bool) {
    let last = ui.data(|data| data.get_temp::<Seen>(id.with("seen")));
    let others = last.is_some_and(|(last, was_typed)| last != egui::util::hash(text) || (was_typed && !typed));
    if others && let Some(mut state) = TextEditState::load(ui.ctx(), id) {
        state.clear_undoer();
        state.store(ui.ctx(), id);
    }
}

/// Lines of text behind a label, which nothing reads by itself. Whether they were changed now.
pub(in crate::window) fn area_ui(
    ui: &mut Ui,
    drafts: &mut Drafts,
    owner: &Owner,
    field: &Field<'_>,
    rows: usize,
) -> bool {
    row_ui(ui, &field.label, |ui, label| {
        let mut text = drafts.text(owner, &field.name).unwrap_or(&field.shown).to_owned();
        let (id, typed) = (field.screen_id(owner), drafts.text(owner, &field.name).is_some());
        forget_typing_of_others(ui, id, &text, typed);
        let edit = TextEdit::multiline(&mut text).id(id).hint_text(&*field.hint);
        let response = ui.add(edit.desired_rows(rows).desired_width(field.width)).labelled_by(label.id);
        let changed = response.changed();
        seen(ui, id, &text, typed || changed);
        if changed {
            drafts.write(owner, &field.name, text);
        }
        changed
    })
}

/// Names what has no label of its own beside it.
pub(in crate::window) fn named(response: Response, name: &str) -> Response {
    response.ctx.accesskit_node_builder(response.id, |node| node.set_label(name));
    response
}
