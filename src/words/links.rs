//! What a sentence of ours names, and where in it: days of the season, shelves, trays and sowings. Each is found by the
//! words that it is always called by.

use std::ops::Range;

use chrono::{Datelike as _, NaiveDate};

use crate::season::{ShelfId, SowingId, TrayKey};

use super::{Words, day};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Named {
    Day(NaiveDate),
    Shelf(ShelfId),
    Tray(TrayKey),
    Sowing(SowingId),
}

impl Words<'_> {
    /// In the order in which they stand, in bytes of the sentence; of two that overlap the longer.
    pub fn named_in(&self, sentence: &str) -> Vec<(Range<usize>, Named)> {
        let mut all = self.days_in(sentence);
        for rack in self.season.racks().iter().filter(|rack| sentence.contains(&rack.name)) {
            for shelf in self.season.shelves_of(rack.id) {
                let name = self.shelf(shelf.id);
                all.extend(places_of(sentence, &name).map(|at| (at, Named::Shelf(shelf.id))));
            }
        }
        for sowing in self.season.sowings() {
            let crop = self.season.crop(self.library, &sowing.crop);
            // at the start of a sentence it may have a capital
            let part = crop.map_or("", |crop| crop.name.get(1..).unwrap_or_default());
            if !part.is_empty() && sentence.contains(part) {
                let name = self.sowing(sowing.id);
                let alone = self.season.sowings().filter(|other| self.sowing(other.id) == name).nth(1).is_none();
                all.extend(places_of(sentence, &name).filter(|_| alone).map(|at| (at, Named::Sowing(sowing.id))));
            }
        }
        all.extend(self.marks_in(sentence));
        all.sort_by_key(|(at, _)| (at.start, std::cmp::Reverse(at.end)));
        let mut end = 0;
        all.retain(|(at, _)| {
            let free = at.start >= end;
            end = if free { at.end } else { end };
            free
        });
        all
    }

    /// `To 7`: a word and a number.
    fn marks_in(&self, sentence: &str) -> Vec<(Range<usize>, Named)> {
        let words: Vec<(usize, &str)> = words_of(sentence).collect();
        let pairs = words.windows(2).filter_map(|pair| {
            let [(start, _), (number, digits)] = pair else { return None };
            let at = *start..number + digits.len();
            digits.bytes().all(|c| c.is_ascii_digit()).then_some(())?;
            sentence.get(at.clone()).map(|mark| (at, mark))
        });
        let pairs: Vec<(Range<usize>, &str)> = pairs.collect();
        let marks = self.forecast.marks.iter();
        let named = |(tray, mark): (&TrayKey, &String)| {
            let found = pairs.iter().filter(|(_, pair)| pair == mark);
            found.map(|(at, _)| (at.clone(), Named::Tray(*tray))).collect::<Vec<_>>()
        };
        if pairs.is_empty() { Vec::new() } else { marks.flat_map(named).collect() }
    }

    /// `16 Apr`, in the year in which it is a day of the season.
    fn days_in(&self, sentence: &str) -> Vec<(Range<usize>, Named)> {
        let Some(span) = self.forecast.span() else { return Vec::new() };
        let years = span.from().year()..=span.last().year();
        let mut all = Vec::new();
        for (start, part) in words_of(sentence) {
            let Ok(of_month) = part.parse::<u32>() else { continue };
            let months = years.clone().flat_map(|year| (1..=12).map(move |month| (year, month)));
            let dates = months.filter_map(|(year, month)| NaiveDate::from_ymd_opt(year, month, of_month));
            let named = dates.filter(|date| span.contains(*date)).find_map(|date| {
                let name = day(date);
                let at = start..start + name.len();
                (sentence.get(at.clone()) == Some(name.as_str()) && is_apart(sentence, &at)).then_some((at, date))
            });
            all.extend(named.map(|(at, date)| (at, Named::Day(date))));
        }
        all
    }
}

/// Words with where they begin.
fn words_of(sentence: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut at = 0;
    sentence.split(|c: char| !c.is_alphanumeric()).filter_map(move |part| {
        let found = sentence.get(at..)?.find(part)? + at;
        at = found + part.len();
        (!part.is_empty()).then_some((found, part))
    })
}

/// Where that name stands as words of its own.
fn places_of<'a>(sentence: &'a str, name: &'a str) -> impl Iterator<Item = Range<usize>> + 'a {
    let found = sentence.match_indices(name).map(|(at, name)| at..at + name.len());
    found.filter(|at| !at.is_empty() && is_apart(sentence, at))
}

fn is_apart(sentence: &str, at: &Range<usize>) -> bool {
    let before = sentence.get(..at.start).and_then(|before| before.chars().next_back());
    let after = sentence.get(at.end..).and_then(|after| after.chars().next());
    ![before, after].into_iter().flatten().any(char::is_alphanumeric)
}
