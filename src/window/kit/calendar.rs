//! A month to pick a day from, behind a small button beside a date's field.

use chrono::{Datelike as _, Days, Months, NaiveDate};
use egui::containers::menu::{MenuButton, MenuConfig};
use egui::{Button, Grid, PopupCloseBehavior, RichText, Ui, WidgetInfo, vec2};

use crate::units::DATE_YEARS;
use crate::words::{self, fields as said};

use crate::window::theme::{self, Palette};

const CELL: egui::Vec2 = vec2(30.0, 26.0);

/// The day that was picked now; `name` is that of the field beside it.
pub(in crate::window) fn pick_ui(ui: &mut Ui, name: &str, shown: NaiveDate) -> Option<NaiveDate> {
    let mut picked = None;
    // the months are leafed through inside
    let config = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let (button, open) = MenuButton::new(said::PICK).config(config).ui(ui, |ui| {
        picked = month_ui(ui, name, shown);
        if picked.is_some() {
            ui.close();
        }
    });
    let told = said::pick_a_day(name);
    button.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &told));
    if open.is_none() {
        // the next time it opens on the date's own month
        ui.data_mut(|data| data.remove::<NaiveDate>(egui::Id::unique(("month", name))));
    }
    button.on_hover_text(told);
    picked
}

fn month_ui(ui: &mut Ui, name: &str, shown: NaiveDate) -> Option<NaiveDate> {
    let palette = Palette::of(ui);
    let id = egui::Id::unique(("month", name));
    let month = ui.data(|data| data.get_temp::<NaiveDate>(id)).unwrap_or(shown).with_day(1)?;
    let (earlier, later) = (month.checked_sub_months(Months::new(1)), month.checked_add_months(Months::new(1)));
    ui.horizontal(|ui| {
        for (text, name, to) in [("‹", said::EARLIER_MONTH, earlier), ("›", said::LATER_MONTH, later)] {
            let to = to.filter(|to| DATE_YEARS.contains(&to.year()));
            let button = ui.add_enabled(to.is_some(), Button::new(text).min_size(CELL));
            button.widget_info(|| WidgetInfo::labeled(egui::Role::Button, to.is_some(), name));
            if button.clicked()
                && let Some(to) = to
            {
                ui.data_mut(|data| data.insert_temp(id, to));
            }
        }
        ui.label(theme::bold(said::month(month)));
    });
    let mut picked = None;
    Grid::new(("days", name)).spacing(vec2(2.0, 2.0)).show(ui, |ui| {
        for text in std::iter::once("").chain(said::WEEKDAYS) {
            ui.vertical_centered(|ui| ui.label(RichText::new(text).font(theme::small()).color(palette.soft_ink)));
        }
        ui.end_row();
        let monday = month.week(chrono::Weekday::Mon).first_day();
        for week in 0..6_u64 {
            let Some(from) = monday.checked_add_days(Days::new(7 * week)) else { break };
            if later.is_some_and(|later| from >= later) {
                break;
            }
            let number = said::iso_week(from);
            ui.label(RichText::new(number).font(theme::small()).color(palette.soft_ink));
            for day in from.iter_days().take(7) {
                let own = day.month() == month.month();
                let text = RichText::new(day.day().to_string());
                let text = if own { text } else { text.color(palette.soft_ink) };
                let cell =
                    ui.add(Button::new(text).min_size(CELL).selected(day == shown).frame_when_inactive(day == shown));
                let full = words::full_day(day);
                cell.widget_info(|| WidgetInfo::selected(egui::Role::Button, true, day == shown, &full));
                if cell.clicked() {
                    picked = Some(day);
                }
            }
            ui.end_row();
        }
    });
    picked
}
