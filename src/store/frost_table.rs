//! Frost tables as people copy them: a line a temperature, or rows and columns.
//!
//! `32 F: 50% 10 Mar, 10% 22 Apr`, or a head `temperature,90%,50%,10%` with a row for each
//! temperature. Publications mean either of two things by such a chance: that a later frost still
//! comes, or that the last one is over. Which one is never guessed; dates that run the wrong way for
//! it are refused.

use std::fmt;

use chrono::NaiveDate;

use crate::season::FrostChance;
use crate::units::{DateError, DayTyped, ParseError, Temperature, Typed, short_day};

use super::LineCol;

/// What a table's chances are chances of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Sense {
    /// 10 % has the latest date.
    #[error("a later frost comes")]
    Later,
    /// 90 % has the latest date.
    #[error("the last frost is over")]
    Over,
}

/// A word that stands for neither.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("write later (the chance that a later frost comes) or over (that the last frost is over)")]
pub struct NoSense;

/// Why a table could not be read: `3:12: found "12 Mai"; …`.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct FrostTableError {
    pub at: Option<LineCol>,
    pub kind: FrostTableErrorKind,
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FrostTableErrorKind {
    #[error("this is not UTF-8 text")]
    NotText,
    #[error("nothing is written here; write lines such as 32 F: 50% 10 Mar, 10% 22 Apr")]
    Empty,
    #[error("found {0:?}; write a line such as 32 F: 50% 10 Mar, 10% 22 Apr")]
    NoLine(String),
    #[error("{0}")]
    Temperature(ParseError),
    #[error("found {0:?}; a chance is 10 % to 90 %, in tens")]
    NoChance(String),
    #[error("found {:?}; a chance is 10 % to 90 %, in tens", format!("{_0} (the head has no chance for it)"))]
    NotInHead(String),
    #[error("{0}")]
    Date(DateError),
    #[error("{chance} % at {temperature} is in this table twice")]
    Twice { temperature: String, chance: u8 },
    #[error("{0}")]
    WrongWay(Box<WrongWay>),
}

/// Two entries whose dates run against the sense of the table.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "at {temperature} the table has {} and {}; where the chance is that {sense}, the dates run the other way: is it the \
     chance that {}?",
    entry(*early),
    entry(*late),
    sense.other()
)]
pub struct WrongWay {
    temperature: String,
    sense: Sense,
    /// The chance in per cent as written, and its date.
    early: (u8, NaiveDate),
    late: (u8, NaiveDate),
}

impl Sense {
    /// Reads `later` or `over`.
    ///
    /// # Errors
    /// Says what each of them means.
    pub fn parse(text: &str) -> Result<Self, NoSense> {
        match text.trim().to_lowercase().as_str() {
            "later" => Ok(Self::Later),
            "over" => Ok(Self::Over),
            _ => Err(NoSense),
        }
    }

    const fn other(self) -> Self {
        match self {
            Self::Later => Self::Over,
            Self::Over => Self::Later,
        }
    }

    /// Years in 10 with a later frost, for a chance in tenths.
    const fn later_in_ten(self, tenths: u8) -> u8 {
        match self {
            Self::Later => tenths,
            Self::Over => 10 - tenths,
        }
    }
}

/// `50 % on 10 Mar`.
fn entry((chance, date): (u8, NaiveDate)) -> String {
    format!("{chance} % on {}", short_day(date))
}

impl fmt::Display for FrostTableError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.at {
            Some(LineCol { line, col }) => write!(f, "{line}:{col}: {}", self.kind),
            None => self.kind.fmt(f),
        }
    }
}

/// An entry as written.
struct Entry {
    at: LineCol,
    temperature: Typed<Temperature>,
    /// In per cent.
    chance: u8,
    day: DayTyped,
}

/// Reads a table from a file's bytes, as [`read_frost_table`] does from text.
///
/// # Errors
/// Says what is wrong, in which line and column.
pub fn read_frost_bytes(bytes: &[u8], sense: Sense, near: NaiveDate) -> Result<Vec<FrostChance>, FrostTableError> {
    let text = std::str::from_utf8(bytes).map_err(|why| FrostTableError {
        at: Some(LineCol::of_byte(bytes, why.valid_up_to())),
        kind: FrostTableErrorKind::NotText,
    })?;
    read_frost_table(text, sense, near)
}

/// Reads a table; dates without a year are those nearest to `near`.
///
/// # Errors
/// Says what is wrong, in which line and column.
pub fn read_frost_table(text: &str, sense: Sense, near: NaiveDate) -> Result<Vec<FrostChance>, FrostTableError> {
    let entries = entries(text.strip_prefix('\u{feff}').unwrap_or(text))?;
    // the others lie near that one, wherever the season lies
    let first = entries.iter().find(|entry| entry.chance == 50).or_else(|| entries.first());
    let Some(near) = first.and_then(|first| nearest(first.day, near)) else {
        return Err(FrostTableError { at: None, kind: FrostTableErrorKind::Empty });
    };
    let mut table: Vec<(FrostChance, u8)> = Vec::new();
    for Entry { at, temperature, chance, day } in entries {
        let wrong = |kind| FrostTableError { at: Some(at), kind };
        let date = nearest(day, near).ok_or_else(|| wrong(FrostTableErrorKind::NoLine(temperature.typed().into())))?;
        let later_in_ten = sense.later_in_ten(chance / 10);
        let alike = table.iter().filter(|(one, _)| one.temperature.value() == temperature.value());
        for (one, before) in alike {
            if one.later_in_ten == later_in_ten {
                let temperature = temperature.typed().to_owned();
                return Err(wrong(FrostTableErrorKind::Twice { temperature, chance }));
            }
            if one.date != date && (one.later_in_ten < later_in_ten) == (one.date < date) {
                let mut pair = [(*before, one.date), (chance, date)];
                pair.sort_by_key(|(_, date)| *date);
                let [early, late] = pair;
                let temperature = temperature.typed().to_owned();
                let wrong_way = WrongWay { temperature, sense, early, late };
                return Err(wrong(FrostTableErrorKind::WrongWay(Box::new(wrong_way))));
            }
        }
        table.push((FrostChance { temperature, later_in_ten, date }, chance));
    }
    Ok(table.into_iter().map(|(chance, _)| chance).collect())
}

/// The nearest such day before or after.
fn nearest(day: DayTyped, near: NaiveDate) -> Option<NaiveDate> {
    let far = |date: &NaiveDate| (*date - near).num_days().abs();
    [day.on_or_after(near), day.last_before(near)].into_iter().flatten().min_by_key(far)
}

fn entries(text: &str) -> Result<Vec<Entry>, FrostTableError> {
    let mut entries = Vec::new();
    let mut head: Option<Vec<Option<u8>>> = None;
    for (index, line) in text.lines().enumerate() {
        if line.trim().is_empty() {
            continue;
        }
        let row = TableLine { line, number: index + 1 };
        match &head {
            Some(head) => row.of_columns(head, &mut entries)?,
            None if line.contains(':') => row.of_a_line(&mut entries)?,
            None if entries.is_empty() && row.is_head() => head = Some(row.head()?),
            None => return Err(row.wrong(line, FrostTableErrorKind::NoLine(line.trim().to_owned()))),
        }
    }
    Ok(entries)
}

struct TableLine<'a> {
    line: &'a str,
    number: usize,
}

impl<'a> TableLine<'a> {
    /// `part` is a part of the line.
    fn wrong(&self, part: &str, kind: FrostTableErrorKind) -> FrostTableError {
        FrostTableError { at: Some(self.at(part)), kind }
    }

    fn at(&self, part: &str) -> LineCol {
        let part = part.trim_start();
        let byte = (part.as_ptr() as usize).saturating_sub(self.line.as_ptr() as usize);
        LineCol { line: self.number, col: 1 + self.line.get(..byte).unwrap_or_default().chars().count() }
    }

    fn fields(&self) -> impl Iterator<Item = &'a str> {
        let sign = [';', '\t', ','].into_iter().find(|sign| self.line.contains(*sign)).unwrap_or(',');
        self.line.split(sign).map(|field| field.trim().trim_matches('"').trim())
    }

    fn temperature(&self, text: &str) -> Result<Typed<Temperature>, FrostTableError> {
        Typed::parse_temperature(text).map_err(|why| self.wrong(text, FrostTableErrorKind::Temperature(why)))
    }

    fn chance(&self, text: &str) -> Result<u8, FrostTableError> {
        let number = text.trim().trim_end_matches('%').trim().parse::<u8>().ok();
        number
            .filter(|chance| (10..=90).contains(chance) && chance % 10 == 0)
            .ok_or_else(|| self.wrong(text, FrostTableErrorKind::NoChance(text.trim().to_owned())))
    }

    fn entry(&self, temperature: &Typed<Temperature>, chance: u8, text: &str) -> Result<Entry, FrostTableError> {
        let day = DayTyped::read(text).map_err(|why| self.wrong(text, FrostTableErrorKind::Date(why)))?;
        Ok(Entry { at: self.at(text), temperature: temperature.clone(), chance, day })
    }

    /// Chances, behind a field that holds none.
    fn is_head(&self) -> bool {
        let mut fields = self.fields();
        fields.next().is_some_and(|first| !first.contains('%')) && fields.any(|field| field.contains('%'))
    }

    fn head(&self) -> Result<Vec<Option<u8>>, FrostTableError> {
        let mut fields = self.fields();
        let mut head = vec![None];
        fields.next();
        for field in fields {
            head.push(Some(self.chance(field)?));
        }
        Ok(head)
    }

    fn of_columns(&self, head: &[Option<u8>], entries: &mut Vec<Entry>) -> Result<(), FrostTableError> {
        let mut fields = self.fields();
        let temperature = self.temperature(fields.next().unwrap_or_default())?;
        let mut chances = head.iter().skip(1).flatten();
        for field in fields {
            let chance =
                chances.next().ok_or_else(|| self.wrong(field, FrostTableErrorKind::NotInHead(field.to_owned())))?;
            if !field.is_empty() {
                entries.push(self.entry(&temperature, *chance, field)?);
            }
        }
        Ok(())
    }

    fn of_a_line(&self, entries: &mut Vec<Entry>) -> Result<(), FrostTableError> {
        let (temperature, rest) = self.line.split_once(':').unwrap_or((self.line, ""));
        let temperature = self.temperature(temperature.trim())?;
        for part in rest.split([',', ';']) {
            let Some((chance, day)) = part.split_once('%') else {
                return Err(self.wrong(part, FrostTableErrorKind::NoChance(part.trim().to_owned())));
            };
            entries.push(self.entry(&temperature, self.chance(chance)?, day.trim())?);
        }
        Ok(())
    }
}
