//! The season's stays and shelves as a question for `fit`: numbers only.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use chrono::NaiveDate;

use crate::fit::{self, Days, Region, RegionSet};
use crate::forecast::{Forecast, Stay};
use crate::season::{Role, Season, ShelfId, Side, Spot, SpotFrom, TrayKey};
use crate::units::{DateSpan, Length};

use super::answer::Keep;
use super::layout::{spot_of, spots_during};
use super::room::{Room, footprint};

/// One question: what each item and each shelf of it stands for.
#[derive(Clone, Debug)]
pub(super) struct Question {
    pub(super) problem: fit::Problem,
    pub(super) items: Vec<ItemOf>,
    pub(super) shelves: Vec<ShelfId>,
}

#[derive(Clone, Debug)]
pub(super) struct ItemOf {
    pub(super) tray: TrayKey,
    /// Stays, by their place in the forecast, with the days of each.
    pub(super) parts: Vec<StayPart>,
}

/// A run of days of one stay on which its ground does not change.
#[derive(Clone, Debug)]
pub(super) struct StayPart {
    pub(super) stay: usize,
    pub(super) span: DateSpan,
    pub(super) regions: RegionSet,
}

pub(super) fn day_number(date: NaiveDate) -> i32 {
    i32::try_from((date - NaiveDate::default()).num_days()).unwrap_or(i32::MAX)
}

pub(super) fn date_of(day: i32) -> NaiveDate {
    NaiveDate::default() + chrono::TimeDelta::days(i64::from(day))
}

fn days(span: DateSpan) -> Days {
    Days::new(day_number(span.from()), day_number(span.until()))
}

/// How stays of one tray become items.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Joined {
    /// A tray keeps one spot for as long as some ground suits it throughout; only heat is left as
    /// soon as it is no longer wanted.
    OneSpot,
    /// A new item wherever the ground changes: what holds for each day on its own.
    SameGround,
    /// As where one spot does, and a new item wherever the season moves the tray.
    AsItStands,
}

/// Puts the question; spots that the season has are wishes if they are to be kept, pinned ones
/// conditions.
pub(super) fn ask(season: &Season, forecast: &Forecast, room: &Room<'_>, joined: Joined, keep: Keep) -> Question {
    let mut chains: BTreeMap<(TrayKey, bool), Vec<StayPart>> = BTreeMap::new();
    let mut sets: BTreeMap<Vec<Region>, RegionSet> = BTreeMap::new();
    let mut set_of = |regions: Vec<Region>| -> RegionSet {
        Arc::clone(sets.entry(regions).or_insert_with_key(|regions| Arc::from(regions.as_slice())))
    };
    for (number, stay) in forecast.stays.iter().enumerate() {
        let Some(tray) = stay.tray() else { continue };
        let chain = chains.entry((tray, stay.needs.role == Role::Hardening)).or_default();
        for ground in room.cuts(stay.span) {
            for span in if joined == Joined::AsItStands { by_spot(season, stay, ground) } else { vec![ground] } {
                chain.push(StayPart { stay: number, span, regions: set_of(room.regions(stay, span)) });
            }
        }
    }
    let mut question = Question {
        problem: fit::Problem { shelves: room.limits(), items: Vec::new() },
        items: Vec::new(),
        shelves: room.ids.clone(),
    };
    for ((tray, _), mut chain) in chains {
        chain.sort_by_key(|part| part.span);
        let mut group: Vec<StayPart> = Vec::new();
        let mut ground: Option<RegionSet> = None;
        for part in chain {
            let next = ground.as_ref().zip(group.last()).and_then(|(ground, last)| {
                let heat = |part: &StayPart| forecast.stays.get(part.stay).is_some_and(|stay| stay.needs.heat);
                if last.span.until() != part.span.from() || (heat(last) && !heat(&part)) {
                    return None;
                }
                if joined == Joined::AsItStands && !same_spot(season, forecast, last, &part) {
                    return None;
                }
                match joined {
                    Joined::SameGround => (*ground == part.regions).then(|| Arc::clone(ground)),
                    Joined::OneSpot | Joined::AsItStands => {
                        if *ground == part.regions {
                            return Some(Arc::clone(ground));
                        }
                        let both = common(ground, &part.regions);
                        (!both.is_empty()).then(|| set_of(both))
                    }
                }
            });
            if next.is_none() && !group.is_empty() {
                push_item(season, forecast, room, tray, std::mem::take(&mut group), ground.take(), &mut question);
            }
            ground = next.or_else(|| Some(Arc::clone(&part.regions)));
            group.push(part);
        }
        push_item(season, forecast, room, tray, group, ground, &mut question);
    }
    if keep == Keep::Pinned {
        question.problem.items.iter_mut().for_each(|item| item.wish = None);
    }
    question
}

/// Cut where the season moves it.
fn by_spot(season: &Season, stay: &Stay, span: DateSpan) -> Vec<DateSpan> {
    let during = spots_during(season, stay);
    let inside = |date: &NaiveDate| span.from() < *date && *date < span.until();
    let ends = during.iter().flat_map(|(_, days)| [days.from(), days.until()]).filter(inside);
    let cuts: BTreeSet<NaiveDate> = ends.chain([span.until()]).collect();
    let mut from = span.from();
    let to = |until| DateSpan::new(std::mem::replace(&mut from, until), until).ok();
    cuts.into_iter().filter_map(to).collect()
}

fn same_spot(season: &Season, forecast: &Forecast, one: &StayPart, next: &StayPart) -> bool {
    let spot = |part: &StayPart| spot_of(season, forecast.stays.get(part.stay)?, part.span.from());
    match (spot(one), spot(next)) {
        (Some(one), Some(next)) => one.is_same_ground(next),
        (one, next) => one.is_none() && next.is_none(),
    }
}

/// Ground that suits both.
fn common(a: &[Region], b: &[Region]) -> Vec<Region> {
    let within = |part: &Region, of: &[Region]| of.iter().any(|r| r.shelf == part.shelf && r.rect.holds(part.rect));
    let mut both: Vec<Region> = b.iter().filter(|region| within(region, a)).copied().collect();
    both.extend(a.iter().filter(|region| within(region, b) && !b.contains(region)));
    both
}

fn push_item(
    season: &Season,
    forecast: &Forecast,
    room: &Room<'_>,
    tray: TrayKey,
    parts: Vec<StayPart>,
    ground: Option<RegionSet>,
    question: &mut Question,
) {
    let (Some(first), Some(regions)) = (parts.first(), ground) else { return };
    let Some(stay) = forecast.stays.get(first.stay) else { return };
    let mut phases: Vec<fit::Phase> = Vec::new();
    for part in &parts {
        let Some(stay) = forecast.stays.get(part.stay) else { continue };
        let (w, d) = footprint(season, &stay.shape);
        let phase = fit::Phase { days: days(part.span), w: w.units(), d: d.units(), grams: i64::from(stay.grams) };
        match phases.last_mut() {
            Some(last) if (last.w, last.d, last.grams) == (phase.w, phase.d, phase.grams) => {
                last.days.until = phase.days.until;
            }
            _ => phases.push(phase),
        }
    }
    let stands = spot_of(season, stay, first.span.from());
    let spot = stands.and_then(|spot| as_fit(room, spot));
    let pinned = stands.is_some_and(|spot| spot.pinned);
    question.problem.items.push(fit::Item {
        phases,
        regions,
        pinned: spot.filter(|_| pinned),
        wish: spot.filter(|_| !pinned),
    });
    question.items.push(ItemOf { tray, parts });
}

fn as_fit(room: &Room<'_>, spot: &Spot) -> Option<fit::Spot> {
    let shelf = room.number(spot.shelf)?;
    Some(fit::Spot { shelf, x: spot.x.units(), y: spot.y.units(), turned: spot.is_turned() })
}

impl Question {
    /// The layout as the season writes it; what is pinned keeps its pin.
    pub(super) fn spots(&self, season: &Season, forecast: &Forecast, layout: &fit::Layout) -> Vec<Spot> {
        let mut spots: BTreeMap<(TrayKey, SpotFrom, Side), Spot> = BTreeMap::new();
        let mut order: Vec<usize> = (0..self.items.len()).collect();
        order.sort_by_key(|&i| self.items.get(i).and_then(|item| item.parts.first()).map(|part| part.span));
        let mut starts: BTreeMap<TrayKey, NaiveDate> = BTreeMap::new();
        for stay in &forecast.stays {
            for tray in &stay.trays {
                let first = starts.entry(*tray).or_insert(stay.span.from());
                *first = stay.span.from().min(*first);
            }
        }
        for i in order {
            let (Some(item), Some(found)) = (self.items.get(i), layout.spots.get(i)) else { continue };
            let Some(first) = item.parts.first() else { continue };
            let Some(stay) = forecast.stays.get(first.stay) else { continue };
            let side = if stay.needs.role == Role::Hardening { Side::Outside } else { Side::Indoors };
            let start = starts.get(&item.tray).copied();
            let key = |date| {
                let from = if start == Some(date) { SpotFrom::Start } else { SpotFrom::On(date) };
                (item.tray, from, side)
            };
            let from = first.span.from();
            if found.first().is_none_or(|(day, _)| date_of(*day) > from) {
                // no room for it from here on: it is taken up, and waits
                if let Some(before) = latest(&mut spots, key(from)) {
                    before.until = before.until.or(Some(from));
                }
            }
            for &(day, spot) in found {
                let Some(&shelf) = self.shelves.get(spot.shelf) else { continue };
                let date = date_of(day);
                let pinned = spot_of(season, stay, date).filter(|spot| spot.pinned);
                let spot = Spot {
                    tray: item.tray,
                    from: key(date).1,
                    until: None,
                    shelf,
                    x: Length::from_units(spot.x),
                    y: Length::from_units(spot.y),
                    quarter_turns: pinned.map_or(u8::from(spot.turned), |spot| spot.quarter_turns),
                    pinned: pinned.is_some(),
                };
                // a tray that stays where it was needs no new entry
                let same = latest(&mut spots, key(date))
                    .is_some_and(|before| before.until.is_none() && before.is_same_ground(&spot));
                if !same {
                    spots.insert(key(date), spot);
                }
            }
        }
        spots.into_values().collect()
    }
}

/// The tray's spot on the same side that was put down last before that one.
fn latest(
    spots: &mut BTreeMap<(TrayKey, SpotFrom, Side), Spot>,
    (tray, from, side): (TrayKey, SpotFrom, Side),
) -> Option<&mut Spot> {
    let first = (tray, SpotFrom::Start, Side::Indoors);
    let before = spots.range_mut(first..(tray, from, Side::Indoors));
    before.rev().find(|((_, _, of), _)| *of == side).map(|(_, spot)| spot)
}
