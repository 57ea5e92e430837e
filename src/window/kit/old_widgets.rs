//! Fields that answer once, when the grower is done.

use egui::{Key, TextEdit, Ui};

use crate::units::{Length, LengthUnit, ParseError};

/// A length as text; commas, fractions and other units are read too. Answers on Enter or when the
/// field is left, and only if the text was changed.
pub(in crate::window) fn length_field_ui(
    ui: &mut Ui,
    name: &str,
    value: Length,
    unit: LengthUnit,
) -> Option<Result<Length, ParseError>> {
    let id = ui.scope_id().with(("length", name));
    let draft_id = id.with("draft");
    let shown = value.in_words(unit);
    let mut text = ui.data(|data| data.get_temp::<String>(draft_id)).unwrap_or_else(|| shown.clone());
    let label = ui.label(name);
    let field = TextEdit::singleline(&mut text).id(id).desired_width(72.0).min_size(egui::vec2(72.0, 24.0));
    let response = ui.add(field).labelled_by(label.id);
    if response.lost_focus() {
        ui.data_mut(|data| data.remove::<String>(draft_id));
        let given_up = ui.input(|i| i.key_pressed(Key::Escape));
        return (!given_up && text != shown).then(|| Length::parse(&text, Some(unit)));
    }
    if response.changed() {
        ui.data_mut(|data| data.insert_temp(draft_id, text));
    }
    None
}
