//! Rules for the day out, as a sentence has them.

use crate::season::OutRule;

use super::{counted, month_name, weekday_name};

/// `2 weeks after the frost date`, `the fourth Monday of October`, `Monday of week 38`.
pub fn out_rule(rule: OutRule) -> String {
    match rule {
        OutRule::Day => "the date given".to_owned(),
        OutRule::Frost { days: 0, waits } => format!("on the frost date{}", waiting(waits)),
        OutRule::Frost { days, waits } => {
            let side = if days < 0 { "before" } else { "after" };
            format!("{} {side} the frost date{}", weeks_or_days(days.unsigned_abs()), waiting(waits))
        }
        OutRule::Nth { nth, weekday, month } => {
            let which = match nth {
                1 => "first",
                2 => "second",
                3 => "third",
                4 => "fourth",
                5 => "fifth",
                -1 => "last",
                _ => {
                    return format!(
                        "{} from the end, {} of {}",
                        nth.unsigned_abs(),
                        weekday_name(weekday),
                        month_name(month)
                    );
                }
            };
            format!("the {which} {} of {}", weekday_name(weekday), month_name(month))
        }
        OutRule::Week { week, weekday } => format!("{} of week {week}", weekday_name(weekday)),
    }
}

const fn waiting(waits: bool) -> &'static str {
    if waits { ", not before the date whose risk you take" } else { "" }
}

/// `2 weeks`, `10 days`.
fn weeks_or_days(days: u16) -> String {
    let (number, one, many) = if days.is_multiple_of(7) { (days / 7, "week", "weeks") } else { (days, "day", "days") };
    counted(number, one, many)
}

#[cfg(test)]
mod tests {
    use chrono::Weekday;

    use super::*;

    #[test]
    fn rules_read_as_a_grower_says_them() {
        let labour_day = OutRule::Nth { nth: 4, weekday: Weekday::Mon, month: 10 };
        assert_eq!(out_rule(labour_day), "the fourth Monday of October");
        assert_eq!(out_rule(OutRule::Frost { days: -28, waits: false }), "4 weeks before the frost date");
        assert_eq!(out_rule(OutRule::Frost { days: 10, waits: false }), "10 days after the frost date");
        assert_eq!(out_rule(OutRule::Week { week: 38, weekday: Weekday::Mon }), "Monday of week 38");
    }
}
