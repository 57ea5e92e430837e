//! What sets the day out: that day itself, or a rule by which it moves with the frost or the year.

use chrono::{Datelike as _, NaiveDate, Weekday};
use egui::Ui;

use crate::season::{OutRule, Settings, Sowing, Wanted, WeekLabels};
use crate::words::{self, fields, sowing as said};

use super::editor::Editor;
use crate::window::kit::{Fault, Field, drop_down_ui};

const WEEKDAYS: [Weekday; 7] =
    [Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu, Weekday::Fri, Weekday::Sat, Weekday::Sun];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum RuleKind {
    Day,
    Frost,
    Nth,
    Week,
}

impl RuleKind {
    const fn of(rule: OutRule) -> Self {
        match rule {
            OutRule::Day => Self::Day,
            OutRule::Frost { .. } => Self::Frost,
            OutRule::Nth { .. } => Self::Nth,
            OutRule::Week { .. } => Self::Week,
        }
    }
}

pub(super) fn out_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, one: &Wanted) {
    let settings = editor.scene.season.settings();
    let own = matches!(settings.weeks, WeekLabels::From(_));
    let mut kinds = vec![(RuleKind::Day, said::BY_DAY)];
    if settings.frost.is_some() || RuleKind::of(one.rule) == RuleKind::Frost {
        kinds.push((RuleKind::Frost, said::BY_FROST));
    }
    kinds.push((RuleKind::Nth, said::BY_WEEKDAY));
    kinds.push((RuleKind::Week, if own { said::BY_OWN_WEEK } else { said::BY_ISO_WEEK }));
    ui.label(said::KEPT_BY);
    if let Some(kind) = drop_down_ui(ui, &said::which(said::OUT_KEPT_BY, at), 160.0, RuleKind::of(one.rule), &kinds) {
        let rule = rule_like_now(kind, one.date, settings);
        set(editor, at, rule);
        editor.forget(&[said::which(said::WEEK_OUT, at), said::which(said::FROM_FROST, at)]);
    }
    match one.rule {
        OutRule::Day => {}
        OutRule::Frost { days, waits } => frost_ui(ui, editor, at, (days, waits)),
        OutRule::Nth { nth, weekday, month } => nth_ui(ui, editor, at, (nth, weekday, month)),
        OutRule::Week { week, weekday } => week_ui(ui, editor, at, (week, weekday)),
    }
}

fn week_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, (week, weekday): (i16, Weekday)) {
    let field = Field::new(said::WEEK, week.to_string()).named(said::which(said::WEEK_OUT, at)).width(44.0);
    editor.field_ui(ui, &field, |sowing, text| {
        let week = signed(text)?;
        put(sowing, at, OutRule::Week { week, weekday });
        Ok(())
    });
    if let Some(weekday) = weekday_ui(ui, weekday, at) {
        set(editor, at, OutRule::Week { week, weekday });
    }
}

fn frost_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, (days, waits): (i16, bool)) {
    let field = Field::new("", said::weeks_or_days(days)).named(said::which(said::FROM_FROST, at));
    editor.field_ui(ui, &field.hint(said::FROM_FROST_HINT).width(76.0), |sowing, text| {
        put(sowing, at, OutRule::Frost { days: from_frost(text)?, waits });
        Ok(())
    });
    let mut wanted = waits;
    let frost = editor.scene.season.settings().frost.as_ref();
    // at even chances there is no other date to wait for
    if waits || frost.is_some_and(|frost| frost.later_in_ten != 5) {
        ui.checkbox(&mut wanted, said::which(said::WAITS, at));
    }
    if wanted != waits {
        set(editor, at, OutRule::Frost { days, waits: wanted });
    }
}

fn nth_ui(ui: &mut Ui, editor: &mut Editor<'_, '_>, at: usize, (nth, weekday, month): (i8, Weekday, u8)) {
    if let Some(nth) = drop_down_ui(ui, &said::which(said::NTH, at), 70.0, nth, &said::NTHS) {
        set(editor, at, OutRule::Nth { nth, weekday, month });
    }
    if let Some(weekday) = weekday_ui(ui, weekday, at) {
        set(editor, at, OutRule::Nth { nth, weekday, month });
    }
    let months: Vec<(u8, &str)> = (1..=12).map(|month| (month, words::month_name(month))).collect();
    if let Some(month) = drop_down_ui(ui, &said::which(said::MONTH, at), 96.0, month, &months) {
        set(editor, at, OutRule::Nth { nth, weekday, month });
    }
}

fn weekday_ui(ui: &mut Ui, now: Weekday, at: usize) -> Option<Weekday> {
    let all = WEEKDAYS.map(|day| (day, words::weekday_name(day)));
    drop_down_ui(ui, &said::which(said::WEEKDAY, at), 100.0, now, &all)
}

fn set(editor: &mut Editor<'_, '_>, at: usize, rule: OutRule) {
    editor.choose(|sowing| put(sowing, at, rule));
}

fn put(sowing: &mut Sowing, at: usize, rule: OutRule) {
    if let Some(one) = sowing.wanted.get_mut(at) {
        one.rule = rule;
    }
}

/// The rule of that kind which leaves the date where it is.
fn rule_like_now(kind: RuleKind, date: NaiveDate, settings: &Settings) -> OutRule {
    let weekday = date.weekday();
    match kind {
        RuleKind::Day => OutRule::Day,
        RuleKind::Frost => {
            let days = settings.frost.as_ref().map_or(0, |frost| (date - frost.even()).num_days());
            OutRule::Frost { days: i16::try_from(days.clamp(-366, 366)).unwrap_or(0), waits: false }
        }
        RuleKind::Nth => {
            let nth = i8::try_from(date.day().div_ceil(7)).unwrap_or(1);
            OutRule::Nth { nth, weekday, month: u8::try_from(date.month()).unwrap_or(1) }
        }
        RuleKind::Week => {
            let week = match settings.weeks {
                WeekLabels::Iso => i64::from(date.iso_week().week()),
                WeekLabels::From(first) => {
                    let weeks = (date - first).num_days().div_euclid(7);
                    if weeks >= 0 { weeks + 1 } else { weeks }
                }
            };
            OutRule::Week { week: i16::try_from(week.clamp(-60, 120)).unwrap_or(1), weekday }
        }
    }
}

/// `2` weeks, `-4`, or `10 days`, in days.
fn from_frost(text: &str) -> Result<i16, Fault> {
    let text = text.trim();
    let of_days = ["days", "day"].iter().find_map(|end| text.strip_suffix(end));
    let of_weeks = ["weeks", "week"].iter().find_map(|end| text.strip_suffix(end)).unwrap_or(text);
    match of_days {
        Some(days) => signed(days),
        None => signed(of_weeks)?.checked_mul(7).ok_or_else(|| said::too_many(text).into()),
    }
}

/// A whole number, before with a minus.
fn signed(text: &str) -> Result<i16, Fault> {
    let text = text.trim().replace('\u{2212}', "-");
    text.parse().map_err(|why: std::num::ParseIntError| match why.kind() {
        std::num::IntErrorKind::PosOverflow | std::num::IntErrorKind::NegOverflow => fields::too_large(&text).into(),
        _ => said::no_signed_number(&text).into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::Frost;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    #[test]
    fn each_rule_leaves_the_day_where_it_is() {
        let mut settings = Settings { frost: Some(Frost::on(day("2027-05-02"))), ..Settings::default() };
        for weeks in [WeekLabels::Iso, WeekLabels::From(day("2026-09-07"))] {
            settings.weeks = weeks;
            for date in ["2027-05-16", "2027-01-01", "2027-05-31", "2026-12-31", "2026-08-30"].map(day) {
                for kind in [RuleKind::Frost, RuleKind::Nth, RuleKind::Week] {
                    let rule = rule_like_now(kind, date, &settings);
                    assert_eq!(rule.date(date, &settings), Some(date), "{kind:?} {date} {rule:?}");
                }
            }
        }
    }

    #[test]
    fn weeks_and_days_from_the_frost() {
        for (text, days) in [("2", 14), ("-4", -28), ("\u{2212}4 weeks", -28), ("10 days", 10), ("-1 day", -1)] {
            assert_eq!(from_frost(text), Ok(days), "{text}");
            assert_eq!(from_frost(&said::weeks_or_days(days)), Ok(days));
        }
        for text in ["", "2,5", "soon", "40000"] {
            assert!(from_frost(text).is_err(), "{text}");
        }
    }
}
