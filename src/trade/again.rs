//! The same again some days apart, in a line: `3 sowings 3 weeks apart`. Whatever speaks of sowings is taken out of the
//! line or refused, so that it never ends up in the name of a variety.

use std::ops::Range;

/// So many sowings may one line stand for.
pub(super) const MOST_SOWINGS: u16 = 50;
const MOST_APART: u16 = 366;

/// Why what a line says of several sowings is not enough, or too much.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AgainError {
    #[error("found “{0}”; from 2 to {MOST_SOWINGS} sowings, 1 to {MOST_APART} days apart: “3 sowings 3 weeks apart”")]
    OutOfRange(String),
    #[error("{0} how far apart? Write it as “3 sowings 3 weeks apart”")]
    HowFarApart(String),
    #[error("how many sowings {0}? Write it as “3 sowings 3 weeks apart”")]
    HowManySowings(String),
}

/// One sowing after the other, each of the same number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Again {
    /// All of them together, the first too: from 2 to 50.
    pub times: u16,
    /// From 1 to 366.
    pub days_apart: u16,
}

/// What stands somewhere in a line: which words it takes, and its number where it is one.
struct Said {
    at: Range<usize>,
    number: Option<u16>,
}

/// Takes `in three sowings, 3 weeks apart`, `every 21 days, 3 times` and `the first` before `out` out of what stands
/// between commas, which stay.
///
/// # Errors
/// How many are missing, or how far apart, or more of either than there may be.
pub(super) fn take(text: &str) -> Result<(Option<Again>, String), AgainError> {
    let spaced = text.replace(',', " , ");
    let mut words: Vec<&str> = spaced.split_whitespace().collect();
    let (times, apart) = (how_many(&words), how_far(&words));
    let found = |said: &Said| words.get(said.at.clone()).unwrap_or_default().join(" ");
    let number = times.as_ref().and_then(|times| times.number);
    let enough = number.filter(|times| (2..=MOST_SOWINGS).contains(times));
    let days = apart.as_ref().and_then(|apart| apart.number).filter(|days| (1..=MOST_APART).contains(days));
    let again = match (&times, &apart) {
        (None, None) => None,
        (Some(_), None) if number == Some(1) => None,
        (Some(times), None) if enough.is_some() => return Err(AgainError::HowFarApart(found(times))),
        (None, Some(apart)) => return Err(AgainError::HowManySowings(found(apart))),
        (Some(first), apart) => {
            let (Some(times), Some(days_apart)) = (enough, days) else {
                let mut both: Vec<&Said> = [first].into_iter().chain(apart).collect();
                both.sort_by_key(|said| said.at.start);
                return Err(AgainError::OutOfRange(both.into_iter().map(found).collect::<Vec<_>>().join(" ")));
            };
            Some(Again { times, days_apart })
        }
    };
    let taken: Vec<Range<usize>> =
        [times, apart].into_iter().flatten().map(|said| with_before(&words, said.at)).collect();
    let mut at = 0..;
    words.retain(|_| at.next().is_none_or(|at| !taken.iter().any(|range| range.contains(&at))));
    while let Some(first) = first_before_out(&words) {
        words.drain(first);
    }
    Ok((again, words.join(" ")))
}

/// `3 sowings`, `three times`; sowings that have no number are found without one.
fn how_many(words: &[&str]) -> Option<Said> {
    (0..words.len()).find_map(|at| {
        let before = at.checked_sub(1).and_then(|before| Some((before, *words.get(before)?)));
        let before = before.filter(|(_, word)| *word != ",");
        let number = before.and_then(|(_, word)| number(word));
        match plain(words.get(at)?).as_str() {
            "sowings" => {}
            "sowing" | "times" if number.is_some() => {}
            _ => return None,
        }
        Some(Said { at: before.map_or(at, |(before, _)| before)..at.saturating_add(1), number })
    })
}

/// `3 weeks apart`, `a week apart`, `every 3 weeks`, `every week`, in days.
fn how_far(words: &[&str]) -> Option<Said> {
    (0..words.len()).find_map(|at| {
        let lower: Vec<String> = words.iter().skip(at).take(3).map(|word| plain(word)).collect();
        let (taken, number, unit) = match lower.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
            ["every", many, unit] if days_of(unit).is_some() => (3, number(many), days_of(unit)),
            [many, unit, "apart"] if days_of(unit).is_some() => (3, number(many), days_of(unit)),
            ["every", unit, ..] if days_of(unit).is_some() => (2, Some(1), days_of(unit)),
            _ => return None,
        };
        let days = number.and_then(|number| number.checked_mul(unit?));
        Some(Said { at: at..at.saturating_add(taken), number: days })
    })
}

fn days_of(unit: &str) -> Option<u16> {
    match unit {
        "day" | "days" => Some(1),
        "week" | "weeks" => Some(7),
        _ => None,
    }
}

/// With the small word that leads to it: `in 3 sowings`, `as 3 sowings`.
fn with_before(words: &[&str], at: Range<usize>) -> Range<usize> {
    let before = at
        .start
        .checked_sub(1)
        .filter(|before| words.get(*before).is_some_and(|word| matches!(plain(word).as_str(), "in" | "as")));
    before.unwrap_or(at.start)..at.end
}

/// `the first out on`: where the word before `out` says only which of several.
fn first_before_out(words: &[&str]) -> Option<Range<usize>> {
    let lower: Vec<String> = words.iter().map(|word| plain(word)).collect();
    let pairs = lower.windows(2).position(|pair| {
        let [first, then] = pair else { return false };
        first == "first" && matches!(then.as_str(), "out" | "by" | "sell" | "sold" | "sow" | "sown")
    });
    pairs.map(|first| {
        let the = first.checked_sub(1).filter(|the| lower.get(*the).is_some_and(|word| word == "the"));
        the.unwrap_or(first)..first.saturating_add(1)
    })
}

fn plain(word: &str) -> String {
    word.trim_end_matches([':', ';', '.']).to_lowercase()
}

fn number(word: &str) -> Option<u16> {
    const WORDS: [&str; 12] =
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    let lower = plain(word);
    if lower == "a" {
        return Some(1);
    }
    let spelt = WORDS.iter().zip(1..).find(|(known, _)| **known == lower);
    spelt.map(|(_, number)| number).or_else(|| lower.parse().ok())
}
