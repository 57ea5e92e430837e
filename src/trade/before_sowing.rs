/// Days before sowing on which what is done to the seed begins, as the text says it: 1 for `soak 12 h`, 21 for
/// `chill 3 weeks`, 22 for both one after the other. Of `2–3 days` the longer. `None` where it names no time.
///
/// Each 24 hours begun are a day: what soaks overnight is set the day before (common practice, no source).
pub fn days_before_sowing(text: &str) -> Option<u16> {
    let apart = |c: char| !(c.is_alphanumeric() || matches!(c, '–' | '-'));
    let words: Vec<&str> = text.split(apart).filter(|word| !word.is_empty()).collect();
    let following = words.iter().skip(1).copied().chain([""]);
    let days: Vec<u32> = words.iter().zip(following).filter_map(|(word, next)| days_of(word, next)).collect();
    let all = days.iter().fold(0_u32, |sum, days| sum.saturating_add(*days));
    u16::try_from(all).ok().filter(|_| !days.is_empty())
}

/// Of `12 h` and of `12h`, of a number and the word behind it.
fn days_of(word: &str, next: &str) -> Option<u32> {
    let (number, unit) = word.split_at(word.find(char::is_alphabetic).unwrap_or(word.len()));
    let longest = number.split(['–', '-']).next_back()?.parse::<u32>().ok()?;
    let unit = if unit.is_empty() { next } else { unit };
    match unit.to_lowercase().as_str() {
        "h" | "hr" | "hrs" | "hour" | "hours" => Some(longest.div_ceil(24)),
        "d" | "day" | "days" => Some(longest),
        "w" | "wk" | "wks" | "week" | "weeks" => Some(longest.saturating_mul(7)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, days: Option<u16>) {
        assert_eq!(days_before_sowing(text), days, "{text}");
    }

    #[test]
    fn what_is_done_to_seed_begins_so_many_days_before_it_is_sown() {
        check("soak 12 h", Some(1));
        check("soak 12 h (crush husk first)", Some(1));
        check("soak 24 h", Some(1));
        check("soak 25 hours", Some(2));
        check("Soak 8h, or nick", Some(1));
        check("chill 3 weeks", Some(21));
        check("soak 24 h, then chill 2–3 weeks in the fridge", Some(22));
        check("chill 4-6 days", Some(6));
    }

    #[test]
    fn what_names_no_time_begins_on_no_day() {
        for text in ["", "nick it", "crush 2 husks", "h", "12", "soak – h", "99999999999 h", "9999999 weeks"] {
            check(text, None);
        }
    }
}
