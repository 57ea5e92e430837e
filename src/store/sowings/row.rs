//! One row: read, and held against its own rule.

use std::fmt;

use chrono::{Datelike as _, Days, NaiveDate};

use crate::season::{Container, ContainerKey, Crop, CropKey, OutRule, Rule, Season, Sowing, Wanted};
use crate::trade::{self, QuickLineError, UsualStep};
use crate::units::{DateError, read_date};
use crate::words::sowing_table;

use super::cells;
use super::columns::{Column, Columns};

/// A sowing as the table has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    pub line: u64,
    pub crop: CropKey,
    pub variety: String,
    pub plants: u32,
    /// What it is sown in, where the table says so.
    pub sown_in: Option<ContainerKey>,
    pub out: NaiveDate,
    pub rule: OutRule,
    pub start: Rule,
    pub note: String,
}

/// Something about a row that the grower should know.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Odd {
    pub line: u64,
    /// From 1.
    pub column: usize,
    /// As the table has it.
    pub crop: String,
    pub kind: OddKind,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OddKind {
    /// The row is left out.
    LeftOut(RowFault),
    /// No number of plants: one is taken.
    NoNumber,
    /// No such container, or several: the usual one is taken.
    NoContainer { found: String, which: Vec<String> },
    /// The day out is not so many weeks from the frost; the days that would be, and their sowings.
    OffRule {
        out: NaiveDate,
        frost: NaiveDate,
        weeks: (i16, i16),
        would_be: Vec<(i16, NaiveDate, Option<NaiveDate>)>,
        /// The weeks that the grower has the row keep to; without them it keeps its own dates.
        kept_to: Option<i16>,
    },
    /// Sowing plus days is not the day out.
    OffDays { sow: NaiveDate, out: NaiveDate, days: u32, would_be: NaiveDate },
}

/// Why a row is left out.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RowFault {
    #[error("no crop is named")]
    NoCrop,
    #[error("{0}")]
    Crop(QuickLineError),
    #[error("{0:?} has no year, and the season has no frost date to go by")]
    NoYear(String),
    #[error("{0}")]
    Date(DateError),
    #[error("found {0:?}; write a whole number")]
    NotWhole(String),
    #[error("found {0} days from sowing; it must be from 1 to 400")]
    Days(u32),
    #[error("found {0:?}; write weeks from the frost, such as -4 or 6 to 8 before")]
    Weeks(String),
    #[error("found {0} plants; it must be from 1 to 1000000")]
    Plants(u32),
    #[error("the day lies outside the calendar")]
    OutsideCalendar,
    #[error("weeks from the frost, and the season has no frost date")]
    NoFrost,
    #[error("no day out, and nothing that it follows from")]
    NoOut,
    #[error("sown {0} days before it goes out; it must be from 1 to 400")]
    Sown(i64),
}

impl Odd {
    pub const fn is_left_out(&self) -> bool {
        matches!(self.kind, OddKind::LeftOut(_))
    }
}

impl fmt::Display for Odd {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { line, column, .. } = self;
        write!(f, "{line}:{column}: {}", self.in_words())
    }
}

impl Odd {
    /// Without the place in the file.
    pub fn in_words(&self) -> String {
        let of = if self.crop.is_empty() { String::new() } else { format!("{}: ", self.crop) };
        of + &match &self.kind {
            OddKind::LeftOut(why) => sowing_table::left_out(why),
            OddKind::NoNumber => sowing_table::ONE_IS_TAKEN.to_owned(),
            OddKind::NoContainer { found, which } => sowing_table::usual_is_taken(found, which),
            OddKind::OffRule { out, frost, weeks, would_be, kept_to } => {
                sowing_table::off_rule(*out, *frost, *weeks, would_be, *kept_to)
            }
            OddKind::OffDays { sow, out, days, would_be } => sowing_table::off_days(*sow, *out, *days, *would_be),
        }
    }
}

pub(super) struct Reading<'a> {
    pub(super) line: u64,
    pub(super) record: &'a csv::StringRecord,
    pub(super) columns: &'a Columns,
    pub(super) crops: &'a [&'a Crop],
    pub(super) containers: &'a [&'a Container],
    pub(super) near: Option<NaiveDate>,
    pub(super) season: &'a Season,
    /// The weeks that it keeps to, should it be off its rule.
    pub(super) kept_to: Option<i16>,
}

impl Reading<'_> {
    fn cell(&self, column: Column) -> Option<&str> {
        let cell = self.record.get(self.columns.place(column)?)?.trim();
        (!cell.is_empty()).then_some(cell)
    }

    fn odd(&self, column: Column, kind: OddKind) -> Odd {
        Odd {
            line: self.line,
            column: self.columns.place(column).map_or(1, |place| place + 1),
            crop: self.cell(Column::Crop).unwrap_or_default().to_owned(),
            kind,
        }
    }

    /// The row; `None` if it is left out, and `odd` says why.
    pub(super) fn row(&self, odd: &mut Vec<Odd>) -> Option<Row> {
        match self.read(odd) {
            Ok(row) => Some(row),
            Err((column, why)) => {
                odd.push(self.odd(column, OddKind::LeftOut(why)));
                None
            }
        }
    }

    fn date(&self, column: Column) -> Result<Option<NaiveDate>, (Column, RowFault)> {
        let Some(text) = self.cell(column) else { return Ok(None) };
        let date = match self.near {
            Some(near) => read_date(text, near),
            // with nothing to go by, the year must be written
            None => match (read_date(text, NaiveDate::default()), read_date(text, far())) {
                (Ok(one), Ok(other)) if one != other => {
                    return Err((column, RowFault::NoYear(text.to_owned())));
                }
                (read, _) => read,
            },
        };
        date.map(Some).map_err(|why| (column, RowFault::Date(why)))
    }

    fn whole(&self, column: Column) -> Result<Option<u32>, (Column, RowFault)> {
        let Some(text) = self.cell(column) else { return Ok(None) };
        let found = cells::whole(text).ok_or_else(|| (column, RowFault::NotWhole(text.to_owned())))?;
        Ok(Some(found))
    }

    fn read(&self, odd: &mut Vec<Odd>) -> Result<Row, (Column, RowFault)> {
        let name = self.cell(Column::Crop).ok_or((Column::Crop, RowFault::NoCrop))?;
        let crop =
            trade::find_crop(name, self.crops.iter().copied()).map_err(|why| (Column::Crop, RowFault::Crop(why)))?;
        let days = self.whole(Column::Days)?;
        if let Some(days) = days.filter(|days| !(1..=400).contains(days)) {
            return Err((Column::Days, RowFault::Days(days)));
        }
        let weeks = match self.cell(Column::Weeks) {
            Some(text) => Some(
                cells::weeks(text, self.columns.weeks_before)
                    .ok_or_else(|| (Column::Weeks, RowFault::Weeks(text.to_owned())))?,
            ),
            None => None,
        };
        let (sow, set) = (self.date(Column::Sow)?, self.date(Column::Out)?);
        let frost = self.season.settings().frost.as_ref().map(crate::season::Frost::even);
        let (out, rule) = self.out(set, weeks, frost, sow.zip(days), days, odd)?;
        let start = self.start(sow, out, days, odd)?;
        let plants = match self.whole(Column::Plants)? {
            Some(plants) if (1..=1_000_000).contains(&plants) => plants,
            Some(plants) => {
                return Err((Column::Plants, RowFault::Plants(plants)));
            }
            None => {
                if self.columns.place(Column::Plants).is_some() {
                    odd.push(self.odd(Column::Plants, OddKind::NoNumber));
                }
                1
            }
        };
        let text = |column| self.cell(column).unwrap_or_default().chars().take(200).collect::<String>();
        Ok(Row {
            line: self.line,
            crop: crop.key.clone(),
            variety: text(Column::Variety),
            plants,
            sown_in: self.sown_in(odd),
            out,
            rule,
            start,
            note: text(Column::Note),
        })
    }

    fn sown_in(&self, odd: &mut Vec<Odd>) -> Option<ContainerKey> {
        let text = self.cell(Column::Container)?;
        match trade::named_container(self.containers.iter().copied(), text) {
            Ok(container) => Some(container.key.clone()),
            Err(which) => {
                let found = text.chars().take(200).collect();
                odd.push(self.odd(Column::Container, OddKind::NoContainer { found, which }));
                None
            }
        }
    }

    /// The day out: by the weeks from the frost where the row keeps to them, else as it stands there.
    fn out(
        &self,
        set: Option<NaiveDate>,
        weeks: Option<(i16, i16)>,
        frost: Option<NaiveDate>,
        sown: Option<(NaiveDate, u32)>,
        days: Option<u32>,
        odd: &mut Vec<Odd>,
    ) -> Result<(NaiveDate, OutRule), (Column, RowFault)> {
        let by =
            |weeks: i16| frost.and_then(|frost| frost.checked_add_signed(chrono::TimeDelta::weeks(i64::from(weeks))));
        match (set, weeks, frost) {
            (Some(set), Some((least, most)), Some(frost)) => {
                let fits = (least..=most).find(|weeks| by(*weeks) == Some(set));
                if let Some(weeks) = fits {
                    return Ok((set, OutRule::Frost { days: weeks * 7, waits: false }));
                }
                let would_be = (least..=most).rev().filter_map(|weeks| {
                    let out = by(weeks)?;
                    Some((weeks, out, days.and_then(|days| out.checked_sub_days(Days::new(u64::from(days))))))
                });
                let would_be: Vec<_> = would_be.take(8).collect();
                let kept = would_be.iter().find(|(weeks, ..)| Some(*weeks) == self.kept_to);
                let kept = kept.map(|(weeks, out, _)| (*weeks, *out));
                let kept_to = kept.map(|(weeks, _)| weeks);
                let kind = OddKind::OffRule { out: set, frost, weeks: (least, most), would_be, kept_to };
                odd.push(self.odd(Column::Out, kind));
                Ok(kept.map_or((set, OutRule::Day), |(weeks, out)| {
                    (out, OutRule::Frost { days: weeks * 7, waits: false })
                }))
            }
            (Some(set), ..) => Ok((set, OutRule::Day)),
            (None, Some((_, most)), Some(_)) => by(most)
                .map(|out| (out, OutRule::Frost { days: most * 7, waits: false }))
                .ok_or((Column::Weeks, RowFault::OutsideCalendar)),
            (None, Some(_), None) => Err((Column::Weeks, RowFault::NoFrost)),
            (None, None, _) => sown
                .and_then(|(sow, days)| sow.checked_add_days(Days::new(u64::from(days))))
                .map(|out| (out, OutRule::Day))
                .ok_or((Column::Out, RowFault::NoOut)),
        }
    }

    fn start(
        &self,
        sow: Option<NaiveDate>,
        out: NaiveDate,
        days: Option<u32>,
        odd: &mut Vec<Odd>,
    ) -> Result<Rule, (Column, RowFault)> {
        let short = |days: i64| {
            u16::try_from(days).ok().filter(|days| (1..=400).contains(days)).ok_or((Column::Sow, RowFault::Sown(days)))
        };
        match (sow, days) {
            (Some(sow), Some(days)) => {
                if let Some(would_be) =
                    sow.checked_add_days(Days::new(u64::from(days))).filter(|would_be| *would_be != out)
                {
                    odd.push(self.odd(Column::Sow, OddKind::OffDays { sow, out, days, would_be }));
                }
                short(i64::from(days)).map(Rule::DaysBeforeOut)
            }
            (None, Some(days)) => short(i64::from(days)).map(Rule::DaysBeforeOut),
            (Some(sow), None) => short((out - sow).num_days()).map(Rule::DaysBeforeOut),
            (None, None) => Ok(Rule::WhenDue),
        }
    }
}

/// Another year than the calendar's default, to see whether a day names its own.
fn far() -> NaiveDate {
    NaiveDate::default().with_year(2000).unwrap_or_default()
}

impl Row {
    /// Days from sowing until it goes out, where the table has both.
    pub(super) fn days(&self) -> Option<u16> {
        let days = match self.start {
            Rule::On(sow) => (self.out - sow).num_days(),
            Rule::DaysBeforeOut(days) => i64::from(days),
            Rule::WhenDue | Rule::DaysAfterSowing(_) => return None,
        };
        u16::try_from(days).ok()
    }

    /// As a sowing in that chain of containers, without numbers of its own.
    pub(super) fn sowing(&self, chain: Vec<UsualStep>) -> Sowing {
        let wanted = Wanted { date: self.out, plants: self.plants, rule: self.rule, to_sell: false };
        let sowing = trade::sowing_in(chain, &self.crop, &self.variety, wanted, self.start);
        Sowing { note: self.note.clone(), ..sowing }
    }
}
