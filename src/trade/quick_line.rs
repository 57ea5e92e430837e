//! What to grow in one line: `72 tomato, out 16 May`, `10 trays tomato, sown 2 March`.

use chrono::{Days, NaiveDate};

use crate::season::{Container, Crop, CropKey, Frost, Library, OutRule, Rule, Sowing, Wanted};
use crate::units::{DateError, DayTyped, full_day};

use super::again::{self, Again, AgainError, MOST_SOWINGS};
use super::{chain_for, chain_in, named_container, nearest, out_after_frost, out_rule, sowing_in, usual_course_days};

/// What one line says.
#[derive(Clone, Debug, PartialEq)]
pub struct QuickLine {
    pub amount: Amount,
    /// So many sowings of that amount, each sown when the one before leaves its place; one unless the line says so.
    pub fills: u16,
    /// The same again so many times, so many days apart.
    pub again: Option<Again>,
    /// The last useful day for them.
    pub until: Option<NaiveDate>,
    pub crop: CropKey,
    pub variety: String,
    /// What it is sown in, where the line says so; the crop's usual container otherwise.
    pub sown_in: Option<Container>,
    pub out: NaiveDate,
    /// The line names no day: it goes out by the last frost.
    pub by_frost: bool,
    /// The day is the one on which it is sold, in flower.
    pub to_sell: bool,
    /// Where the line sets it; worked back from planting out otherwise.
    pub sow: Option<NaiveDate>,
}

/// How many a line asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amount {
    /// That go out.
    Plants(u32),
    /// That are sown full; how many plants they give hangs on the seed.
    Trays(u32),
}

const MOST_TRAYS: u32 = 10_000;

/// The part of a line that was not understood.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum QuickLineError {
    #[error("nothing is written here")]
    Empty,
    #[error("found “{0}” where the number of plants goes")]
    NoPlants(String),
    #[error("found {0} plants; it must be from 1 to 1000000")]
    Plants(String),
    #[error("found {0} trays; it must be from 1 to {MOST_TRAYS}")]
    Trays(String),
    #[error("found {0} fills; it must be from 2 to {MOST_SOWINGS}")]
    Fills(String),
    #[error(transparent)]
    Again(#[from] AgainError),
    #[error("sowings that follow one another are either fills of one place or days apart, not both")]
    FillsAndAgain,
    #[error("which crop?")]
    NoCrop,
    #[error("no crop “{0}”")]
    UnknownCrop(String),
    #[error("no crop “{found}”; did you mean {near}?")]
    Misspelt { found: String, near: String },
    #[error("“{found}” may be {}", which.join(", "))]
    SeveralCrops { found: String, which: Vec<String> },
    #[error("the variety has no closing quotation mark")]
    OpenVariety,
    #[error("out when? Add a day, such as “, out 16 May”, or give the season its last frost")]
    NoOut,
    #[error("out when? Add a day, such as “, out 16 May”: for this crop no weeks from the frost are known")]
    NoWindow,
    #[error("“{word}” stands here twice")]
    Twice { word: &'static str },
    #[error("in what? Write the tray or pot behind “in”: “flat”, “72” or a name from the library")]
    NoContainer,
    #[error("no tray or pot “{0}”; “flat”, “72” or a name from the library will do")]
    UnknownContainer(String),
    #[error("“{found}” may be {}", which.join(", "))]
    SeveralContainers { found: String, which: Vec<String> },
    #[error("{word}: {why}")]
    Date { word: &'static str, why: DateError },
    #[error("sown {}, it can't be out {}", full_day(*.sow), full_day(*.out))]
    SownTooLate { sow: NaiveDate, out: NaiveDate },
}

impl QuickLine {
    /// Reads a line; a day without a year is the first such one from `near` on. Without a day, the
    /// crop goes out by the last frost, where that is known; without `in 72` it is sown in what is usual.
    ///
    /// # Errors
    /// Names the part that was not understood.
    pub fn read<'a>(
        text: &str,
        crops: impl IntoIterator<Item = &'a Crop>,
        containers: impl IntoIterator<Item = &'a Container>,
        near: NaiveDate,
        frost: Option<&Frost>,
    ) -> Result<Self, QuickLineError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(QuickLineError::Empty);
        }
        let (fills, amount, rest) = amount(text)?;
        let (quoted, rest) = quoted(rest)?;
        let (again, rest) = again::take(&rest)?;
        if again.is_some() && fills > 1 {
            return Err(QuickLineError::FillsAndAgain);
        }
        let parts = Parts::of(&rest)?;
        let crops: Vec<&Crop> = crops.into_iter().collect();
        let (crop, unquoted) = find_with_variety(&parts.crop, &crops)?;
        let (unquoted, sown_in) = parts.sown_in(unquoted, containers)?;
        let date = |word, text: &str| DayTyped::read(text).map_err(|why| QuickLineError::Date { word, why });
        let none = |word, text: &str| QuickLineError::Date { word, why: DateError::NoSuchDay(text.to_owned()) };
        let to_sell = parts.to_sell;
        let until = |from: NaiveDate| match &parts.until {
            Some(text) => date("until", text)?.on_or_after(from).ok_or_else(|| none("until", text)).map(Some),
            None => Ok(None),
        };
        let variety = quoted.unwrap_or(unquoted);
        let forward = parts
            .sow
            .as_ref()
            .filter(|_| parts.out.is_none() && (matches!(amount, Amount::Trays(_)) || frost.is_none()));
        if let Some(text) = forward {
            let sow = date("sow", text)?.nearest(near).ok_or_else(|| none("sow", text))?;
            let (out, by_frost) = out_from(crop, sow, frost).ok_or_else(|| none("sow", text))?;
            let (crop, sow, until) = (crop.key.clone(), Some(sow), until(sow)?);
            return Ok(Self { amount, fills, again, until, crop, variety, sown_in, out, by_frost, to_sell, sow });
        }
        let by_frost = parts.out.is_none();
        let out = match (&parts.out, frost) {
            (Some(text), _) => date("out", first_of(text))?.on_or_after(near).ok_or_else(|| none("out", text))?,
            (None, Some(frost)) => out_after_frost(crop, frost).ok_or(QuickLineError::NoWindow)?,
            (None, None) => return Err(QuickLineError::NoOut),
        };
        let sow = match &parts.sow {
            Some(text) => Some(date("sow", text)?.last_before(out).ok_or_else(|| none("sow", text))?),
            None => None,
        };
        if let Some(sow) = sow.filter(|sow| *sow >= out) {
            return Err(QuickLineError::SownTooLate { sow, out });
        }
        let (crop, until) = (crop.key.clone(), until(sow.unwrap_or(near))?);
        Ok(Self { amount, fills, again, until, crop, variety, sown_in, out, by_frost, to_sell, sow })
    }
}

impl QuickLine {
    /// As a sowing of that crop in its usual chain of containers; it has no numbers yet, and one plant only where the
    /// line speaks of trays.
    pub fn sowing(&self, crop: &Crop, library: &Library) -> Sowing {
        let rule = out_rule(crop).filter(|_| self.by_frost).unwrap_or(OutRule::Day);
        let plants = match self.amount {
            Amount::Plants(plants) => plants,
            Amount::Trays(_) => 1,
        };
        let wanted = Wanted { date: self.out, plants, rule, to_sell: self.to_sell };
        let start = self.sow.map_or(Rule::WhenDue, Rule::On);
        let sown = self.sow.map(|sow| (self.out - sow).num_days());
        let sale = crop.weeks_to_sale.as_ref().filter(|_| self.to_sell).map(|weeks| 7 * i64::from(weeks.value.1));
        let days = sown.or(sale).and_then(|days| u16::try_from(days).ok());
        let chain = match &self.sown_in {
            Some(container) => chain_in(crop, container, days, library),
            None => chain_for(crop, days, library),
        };
        sowing_in(chain, &self.crop, &self.variety, wanted, start)
    }
}

/// When what is sown on that day goes out by the crop's own course, and whether the last frost keeps it in for longer.
fn out_from(crop: &Crop, sow: NaiveDate, frost: Option<&Frost>) -> Option<(NaiveDate, bool)> {
    let ready = sow.checked_add_days(Days::new(u64::from(usual_course_days(crop))))?;
    let safe = frost.and_then(|frost| out_after_frost(crop, frost)).filter(|safe| *safe > ready);
    Some((safe.unwrap_or(ready), safe.is_some()))
}

/// `72`, `10 trays`, `5 fills of 6 trays`, and what stands behind.
fn amount(text: &str) -> Result<(u16, Amount, &str), QuickLineError> {
    let (digits, rest) = number(text)?;
    let Some(rest) = behind(rest, &["fill", "fills"]) else {
        let (amount, rest) = amount_of(&digits, rest)?;
        return Ok((1, amount, rest));
    };
    let fills = digits.parse().ok().filter(|fills| (2..=MOST_SOWINGS).contains(fills));
    let fills = fills.ok_or(QuickLineError::Fills(digits))?;
    let (digits, rest) = number(rest)?;
    let (amount, rest) = amount_of(&digits, rest)?;
    Ok((fills, amount, rest))
}

fn amount_of<'t>(digits: &str, rest: &'t str) -> Result<(Amount, &'t str), QuickLineError> {
    let within = |most: u32| digits.parse().ok().filter(|found| (1..=most).contains(found));
    if let Some(rest) = behind(rest, &["tray", "trays", "flat", "flats"]) {
        let trays = within(MOST_TRAYS).ok_or_else(|| QuickLineError::Trays(digits.to_owned()))?;
        return Ok((Amount::Trays(trays), rest));
    }
    let plants = within(1_000_000).ok_or_else(|| QuickLineError::Plants(digits.to_owned()))?;
    Ok((Amount::Plants(plants), rest))
}

/// What stands behind one of those words and an `of`.
fn behind<'t>(text: &'t str, words: &[&str]) -> Option<&'t str> {
    let (word, rest) = text.split_once(' ').unwrap_or((text, ""));
    let rest = rest.trim_start();
    words.contains(&word.to_lowercase().as_str()).then(|| rest.strip_prefix("of ").unwrap_or(rest).trim_start())
}

fn number(text: &str) -> Result<(String, &str), QuickLineError> {
    let end = text.find(|c: char| !(c.is_ascii_digit() || is_thousands_comma(c, text))).unwrap_or(text.len());
    let (number, rest) = text.split_at(end);
    let digits: String = number.chars().filter(char::is_ascii_digit).collect();
    let glued = rest.chars().next().is_some_and(|c| !c.is_whitespace() && !matches!(c, '×' | 'x' | ','));
    if digits.is_empty() || glued && !rest.starts_with(char::is_alphabetic) {
        let found = text.split([' ', '\t', ',']).find(|word| !word.is_empty()).unwrap_or(text);
        return Err(QuickLineError::NoPlants(found.to_owned()));
    }
    let rest = rest.trim_start();
    let times = rest.strip_prefix('×').or_else(|| rest.strip_prefix("x "));
    Ok((digits, times.unwrap_or(rest)))
}

/// Whether commas in the number at the front only set off thousands: `1,200`.
fn is_thousands_comma(c: char, text: &str) -> bool {
    let number = text.split(|c: char| !(c.is_ascii_digit() || c == ',')).next().unwrap_or_default();
    let mut groups = number.split(',');
    let first = groups.next().map_or(0, str::len);
    let mut groups = groups.peekable();
    c == ',' && (1..=3).contains(&first) && groups.peek().is_some() && groups.all(|group| group.len() == 3)
}

/// Of `from 1 April` the day.
fn first_of(text: &str) -> &str {
    text.strip_prefix("from ").unwrap_or(text)
}

/// Takes a variety in quotation marks out; an apostrophe inside a word opens or closes none.
fn quoted(text: &str) -> Result<(Option<String>, String), QuickLineError> {
    const PAIRS: [(char, char); 5] = [('\'', '\''), ('"', '"'), ('‘', '’'), ('“', '”'), ('«', '»')];
    let mut before = ' ';
    for (at, c) in text.char_indices() {
        let close = PAIRS.iter().find(|(open, _)| *open == c).map(|(_, close)| *close);
        if let Some(close) = close.filter(|_| before.is_whitespace() || before == ',') {
            let inside = text.get(at + c.len_utf8()..).unwrap_or_default();
            let ends = |(end, _): &(usize, &str)| {
                let next = inside.get(end + close.len_utf8()..).and_then(|after| after.chars().next());
                next.is_none_or(|next| next.is_whitespace() || next == ',')
            };
            let end = inside.match_indices(close).map(|(end, _)| (end, "")).find(ends);
            let (end, _) = end.ok_or(QuickLineError::OpenVariety)?;
            let variety = inside.get(..end).unwrap_or_default().trim().to_owned();
            let after = inside.get(end + close.len_utf8()..).unwrap_or_default();
            return Ok((Some(variety), format!("{} , {after}", text.get(..at).unwrap_or_default())));
        }
        before = c;
    }
    Ok((None, text.to_owned()))
}

#[derive(Default)]
struct Parts {
    crop: String,
    sown_in: Option<String>,
    out: Option<String>,
    to_sell: bool,
    sow: Option<String>,
    until: Option<String>,
}

impl Parts {
    fn of(text: &str) -> Result<Self, QuickLineError> {
        let mut parts = Self::default();
        let mut into = &mut parts.crop;
        for word in text.split([' ', ',', '\t']).filter(|word| !word.is_empty()) {
            let (name, part) = match word.to_lowercase().trim_end_matches(':') {
                "out" | "by" => ("out", &mut parts.out),
                "sell" | "sold" | "sale" => {
                    parts.to_sell = true;
                    ("out", &mut parts.out)
                }
                "sow" | "sown" => ("sow", &mut parts.sow),
                "until" => ("until", &mut parts.until),
                "in" => ("in", &mut parts.sown_in),
                _ => {
                    if !into.is_empty() {
                        into.push(' ');
                    }
                    into.push_str(word);
                    continue;
                }
            };
            if part.is_some() {
                return Err(QuickLineError::Twice { word: name });
            }
            into = part.insert(String::new());
        }
        Ok(parts)
    }
}

impl Parts {
    /// What it is sown in. A variety may have that small word in its name too: `Lady in Red`.
    fn sown_in<'a>(
        &self,
        variety: String,
        containers: impl IntoIterator<Item = &'a Container>,
    ) -> Result<(String, Option<Container>), QuickLineError> {
        let Some(found) = &self.sown_in else { return Ok((variety, None)) };
        if found.is_empty() {
            return Err(QuickLineError::NoContainer);
        }
        match named_container(containers, found) {
            Ok(container) => Ok((variety, Some(container.clone()))),
            Err(which) if which.is_empty() && !variety.is_empty() => Ok((format!("{variety} in {found}"), None)),
            Err(which) if which.is_empty() => Err(QuickLineError::UnknownContainer(found.clone())),
            Err(which) => Err(QuickLineError::SeveralContainers { found: found.clone(), which }),
        }
    }
}

/// The crop at the front of `words`; what stands behind a name written in full is the variety.
fn find_with_variety<'a>(words: &str, crops: &[&'a Crop]) -> Result<(&'a Crop, String), QuickLineError> {
    if words.is_empty() {
        return Err(QuickLineError::NoCrop);
    }
    let ends = words.match_indices(' ').map(|(at, _)| at).chain([words.len()]);
    for end in ends.collect::<Vec<_>>().into_iter().rev() {
        let (name, rest) = words.split_at(end);
        if let Some(crop) = crops.iter().find(|crop| names(crop).iter().any(|known| is(known, name))) {
            return Ok((crop, rest.trim().to_owned()));
        }
    }
    find_crop(words, crops.iter().copied()).map(|crop| (crop, String::new()))
}

/// The crop of that key, name, other name or unmistakable beginning.
///
/// # Errors
/// None, or more than one; with the one that is spelt most like it.
pub fn find_crop<'a>(found: &str, crops: impl IntoIterator<Item = &'a Crop>) -> Result<&'a Crop, QuickLineError> {
    if found.trim().is_empty() {
        return Err(QuickLineError::NoCrop);
    }
    let crops: Vec<&Crop> = crops.into_iter().collect();
    if let Some(crop) = crops.iter().find(|crop| names(crop).iter().any(|known| is(known, found))) {
        return Ok(crop);
    }
    let lower = found.to_lowercase();
    let starts = |known: &str| singulars(&lower).iter().any(|one| known.starts_with(one.as_str()));
    for by_word in [false, true] {
        let fits =
            |crop: &&&Crop| names(crop).iter().any(|name| starts(name) || by_word && name.split(' ').any(starts));
        match *crops.iter().filter(fits).copied().collect::<Vec<_>>() {
            [] => {}
            [crop] => return Ok(crop),
            ref several => {
                let which = several.iter().map(|crop| crop.name.to_lowercase()).collect();
                return Err(QuickLineError::SeveralCrops { found: found.to_owned(), which });
            }
        }
    }
    let all: Vec<String> = crops.iter().flat_map(|crop| names(crop)).collect();
    let near = singulars(&lower).iter().find_map(|one| nearest(one, all.iter().map(String::as_str)));
    let found = found.to_owned();
    Err(match near {
        Some(near) => QuickLineError::Misspelt { found, near: near.to_owned() },
        None => QuickLineError::UnknownCrop(found),
    })
}

fn is(known: &str, found: &str) -> bool {
    singulars(&found.to_lowercase()).iter().any(|one| one == known)
}

/// As written, and without an ending that may be a plural's.
fn singulars(lower: &str) -> Vec<String> {
    let mut all = vec![lower.to_owned()];
    all.extend(lower.strip_suffix("ies").map(|stem| format!("{stem}y")));
    all.extend(["es", "s"].iter().filter_map(|end| lower.strip_suffix(end)).map(str::to_owned));
    all.retain(|one| !one.is_empty());
    all
}

/// What a crop is called: key, name, and the other names that the name holds.
fn names(crop: &Crop) -> Vec<String> {
    let name = crop.name.to_lowercase();
    let plain = name.split('(').next().unwrap_or_default().trim();
    let mut names = vec![crop.key.0.to_lowercase(), crop.key.0.to_lowercase().replace('_', " "), name.clone()];
    names.extend(plain.split('/').map(|one| one.trim().to_owned()));
    names.push(crop.latin.to_lowercase());
    names.retain(|one| !one.is_empty());
    names
}
