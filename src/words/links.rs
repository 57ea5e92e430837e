//! What a sentence of ours names, and where in it: days of the season, shelves, trays, sowings and crops. Each is found by
//! the words that it is always called by.

use std::collections::BTreeMap;
use std::ops::Range;

use chrono::{Datelike as _, NaiveDate};

use crate::season::{Crop, CropKey, ShelfId, SowingId, TrayKey};

use super::amounts::capital;
use super::{Words, day};

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Named {
    Day(NaiveDate),
    Shelf(ShelfId),
    Tray(TrayKey),
    Sowing(SowingId),
    Crop(CropKey),
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
        let others = self.others_in(sentence);
        let is_free = |(at, _): &(Range<usize>, Named)| !others.iter().any(|of| of.start < at.end && at.start < of.end);
        all.extend(self.crops_in(sentence).into_iter().filter(is_free));
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

    /// Places, racks, plants that stand there and containers: a crop's name inside of theirs, or one that they have too,
    /// is none of the crop's.
    fn others_in(&self, sentence: &str) -> Vec<Range<usize>> {
        let season = self.season;
        let names = season.places().map(|place| place.name.as_str());
        let names = names.chain(season.racks().into_iter().map(|rack| rack.name.as_str()));
        let names = names.chain(season.guests().map(|guest| guest.name.as_str()));
        let names = names.chain(season.containers(self.library).map(|container| container.name.as_str()));
        names.filter(|name| sentence.contains(name)).flat_map(|name| places_of(sentence, name)).collect()
    }

    /// Crops, and before them the sowings of these, which win where they are called the same. A name that several have
    /// leads nowhere.
    fn crops_in(&self, sentence: &str) -> Vec<(Range<usize>, Named)> {
        let crops: Vec<&Crop> =
            self.season.crops(self.library).filter(|crop| names_of(sentence, &crop.name).next().is_some()).collect();
        if crops.is_empty() {
            return Vec::new();
        }
        let of_these = self
            .season
            .sowings()
            .filter(|sowing| crops.iter().any(|crop| crop.key == sowing.crop) && sentence.contains(&sowing.variety));
        let sowings = alone(of_these.map(|sowing| (self.sowing(sowing.id), sowing.id)));
        let crops = alone(crops.iter().map(|crop| (&crop.name, &crop.key)));
        let sowings = sowings.iter().flat_map(|(name, id)| names_of(sentence, name).map(|at| (at, Named::Sowing(*id))));
        let crops =
            crops.iter().flat_map(|(name, key)| names_of(sentence, name).map(|at| (at, Named::Crop((*key).clone()))));
        sowings.chain(crops).collect()
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

/// The same of a name that has a capital where the sentence begins with it.
fn names_of<'a>(sentence: &'a str, name: &'a str) -> impl Iterator<Item = Range<usize>> + 'a {
    let same_end = || name.chars().next().and_then(|first| name.get(first.len_utf8()..));
    let may_begin = same_end().is_some_and(|end| sentence.contains(end));
    let first = if may_begin { capital(name) } else { String::new() };
    let begins = first != name && !first.is_empty() && sentence.starts_with(&first);
    let at = begins.then_some(0..first.len()).filter(|at| is_apart(sentence, at));
    at.into_iter().chain(places_of(sentence, name))
}

/// Those whose name no other has.
fn alone<N: Ord, T>(all: impl Iterator<Item = (N, T)>) -> Vec<(N, T)> {
    let mut by_name: BTreeMap<N, Option<T>> = BTreeMap::new();
    for (name, one) in all {
        by_name.entry(name).and_modify(|first| *first = None).or_insert(Some(one));
    }
    by_name.into_iter().filter_map(|(name, one)| one.map(|one| (name, one))).collect()
}

fn is_apart(sentence: &str, at: &Range<usize>) -> bool {
    let before = sentence.get(..at.start).and_then(|before| before.chars().next_back());
    let after = sentence.get(at.end..).and_then(|after| after.chars().next());
    ![before, after].into_iter().flatten().any(char::is_alphanumeric)
}
