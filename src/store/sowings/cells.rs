//! What stands in one cell.

/// The sign between cells: whichever of `;`, tab and `,` the first line has most of.
pub(super) fn delimiter(text: &str) -> u8 {
    let first = text.lines().next().unwrap_or_default();
    let number = |sign: char| first.matches(sign).count();
    let signs = [(b',', number(',')), (b';', number(';')), (b'\t', number('\t'))];
    // the first of equals: a comma
    signs.into_iter().rev().max_by_key(|(_, number)| *number).map_or(b',', |(sign, _)| sign)
}

/// A whole number, thousands set off or not, with a word behind it that is let go: `49 d`, `1,200`.
pub(super) fn whole(text: &str) -> Option<u32> {
    let text = text.trim();
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, ',' | ' ' | '\u{a0}'))).unwrap_or(text.len());
    let (number, behind) = text.split_at(end);
    let digits: String = number.chars().filter(char::is_ascii_digit).collect();
    (behind.chars().all(|c| c.is_alphabetic() || c.is_whitespace() || c == '.')).then(|| digits.parse().ok())?
}

/// Weeks from the frost, after it if positive: `-4`, `+1 wk`, `2 weeks before`, `6 to 8 weeks before`.
pub(super) fn weeks(text: &str, before: bool) -> Option<(i16, i16)> {
    let lower = text.trim().to_lowercase().replace('−', "-");
    let (said_before, said_after) = (lower.contains("before"), lower.contains("after"));
    let number = lower.trim_end_matches(|c: char| c.is_alphabetic() || c.is_whitespace() || c == '.').trim();
    let parts: Vec<&str> = if number.contains("to") {
        number.split("to").collect()
    } else if let Some((low, high)) =
        number.split_once('–').or_else(|| number.get(1..)?.contains('-').then(|| number.split_once('-'))?)
    {
        if low.is_empty() { vec![number] } else { vec![low, high] }
    } else {
        vec![number]
    };
    let read = |part: &&str| part.trim().trim_start_matches('+').parse::<i16>().ok();
    let numbers: Vec<i16> = parts.iter().map(read).collect::<Option<_>>()?;
    let turned = said_before || (before && !said_after);
    let signed = |weeks: i16| if turned && weeks > 0 { -weeks } else { weeks };
    let all = || numbers.iter().map(|weeks| signed(*weeks));
    let (least, most) = (all().min()?, all().max()?);
    ((-60..=60).contains(&least) && (-60..=60).contains(&most)).then_some((least, most))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_the_forms_that_tables_have() {
        for (text, wanted) in [
            ("49", Some(49)),
            ("49 d", Some(49)),
            (" 1,200 ", Some(1200)),
            ("4.5", None),
            ("", None),
            ("x", None),
            ("-3", None),
        ] {
            assert_eq!(whole(text), wanted, "{text:?}");
        }
    }

    #[test]
    fn weeks_before_and_after() {
        for (text, wanted) in [
            ("-4", Some((-4, -4))),
            ("+1 wk", Some((1, 1))),
            ("2", Some((2, 2))),
            ("−2 weeks", Some((-2, -2))),
            ("2 weeks before", Some((-2, -2))),
            ("6 to 8 weeks before", Some((-8, -6))),
            ("6-8 weeks before", Some((-8, -6))),
            ("6–8 before", Some((-8, -6))),
            ("soon", None),
            ("", None),
            ("400", None),
        ] {
            assert_eq!(weeks(text, false), wanted, "{text:?}");
        }
        assert_eq!(weeks("4", true), Some((-4, -4)), "the heading says before");
        assert_eq!(weeks("1 after", true), Some((1, 1)));
    }

    #[test]
    fn the_sign_between_cells() {
        assert_eq!(
            [delimiter("a,b,c"), delimiter("a;b;c"), delimiter("a\tb"), delimiter("a")],
            [b',', b';', b'\t', b',']
        );
    }
}
