//! Stays as kinds: alike in all that matters on a day.

use std::collections::BTreeMap;

use crate::fit::{Counted, Days, Kind, Region, RegionSet};
use crate::forecast::{Forecast, Shape, Stay};
use crate::season::{PartOfDay, RimShape, Role, Season};
use crate::units::DateSpan;

use super::super::ask::{ItemOf, Joined, Part, Room, ask, day_number};
use super::super::view::{pool_of, weight};
use super::super::{Keep, PoolKind};

/// So many of one kind on those days.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run {
    pub(super) kind: usize,
    pub(super) days: Days,
    pub(super) number: u32,
}

/// Some stays by kind; the kinds are numbered among themselves.
pub(super) struct Kinds {
    /// With what one weighs in the counts of its pool.
    pub(super) kinds: Vec<(Kind, u32)>,
    pub(super) runs: Vec<Run>,
}

pub(super) const POOLS: [PoolKind; 4] =
    [PoolKind::BottomHeat, PoolKind::Of(Role::Germinating), PoolKind::Of(Role::Growing), PoolKind::Of(Role::Hardening)];

pub(super) fn number_of(pool: PoolKind) -> u8 {
    POOLS.iter().zip(0..).find(|(own, _)| **own == pool).map_or(0, |(_, number)| number)
}

pub(super) fn kinds(season: &Season, room: &Room<'_>, stays: Vec<Stay>) -> Kinds {
    let forecast = Forecast { stays, ..Forecast::default() };
    let asked = ask(season, &forecast, room, Joined::WhereGroundIsTheSame, Keep::Pinned);
    let loaded = |regions: &RegionSet| {
        let limits = regions.iter().filter_map(|region| asked.problem.shelves.get(region.shelf));
        limits.into_iter().any(|shelf| shelf.load.is_some())
    };
    let mut known: BTreeMap<Alike<'_>, usize> = BTreeMap::new();
    let mut counts: BTreeMap<(usize, Days), u32> = BTreeMap::new();
    let mut kinds: Vec<(Kind, u32)> = Vec::new();
    for (ItemOf { parts, .. }, item) in asked.items.iter().zip(&asked.problem.items) {
        for Part { stay, span, regions } in parts {
            let days = Days::new(day_number(span.from()), day_number(span.until()));
            let (Some(stay), Some(phase)) = (forecast.stays.get(*stay), item.phase_on(days.from)) else { continue };
            // weight only tells kinds apart where a shelf has a limit
            let grams = if loaded(regions) { phase.grams } else { 0 };
            let choice = chosen_for(room, &forecast, stay);
            let alike = Alike {
                size: (phase.w, phase.d, grams),
                regions: regions.as_ptr(),
                pool: pool_of(room, stay),
                pinned: item.pinned.map(|spot| (spot.shelf, spot.x, spot.y, spot.turned)),
                pots: pots_of(stay),
                choice: choice.then_some(stay.height.units()),
                centres: weight(stay),
                of: std::marker::PhantomData,
            };
            let kind = *known.entry(alike).or_insert_with(|| {
                let kind = Kind {
                    w: phase.w,
                    d: phase.d,
                    grams,
                    regions: regions.clone(),
                    pinned: item.pinned,
                    set: number_of(pool_of(room, stay)),
                    counted: counted(
                        room,
                        stay,
                        *span,
                        choice,
                        (phase.w, phase.d, grams),
                        regions,
                        item.pinned.is_some(),
                    ),
                };
                kinds.push((kind, weight(stay)));
                kinds.len() - 1
            });
            *counts.entry((kind, days)).or_insert(0) += 1;
        }
    }
    let runs = counts.into_iter().map(|((kind, days), number)| Run { kind, days, number }).collect();
    Kinds { kinds, runs }
}

/// What tells the kinds of one question apart; its sets of regions are told by their address.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Alike<'a> {
    size: (i64, i64, i64),
    regions: *const Region,
    pool: PoolKind,
    pinned: Option<(usize, i64, i64, bool)>,
    pots: Option<(bool, i64)>,
    /// Where the forecast chose for it, the height that other places must have.
    choice: Option<i64>,
    centres: u32,
    of: std::marker::PhantomData<&'a Region>,
}

/// Whether loose pots are square, and how far apart.
fn pots_of(stay: &Stay) -> Option<(bool, i64)> {
    match &stay.shape {
        Shape::Pots { rim, pitch, .. } => Some((*rim == RimShape::Square, pitch.units())),
        Shape::Tray { .. } => None,
    }
}

/// Whether the forecast chose for the tray between a place for the day and one for the night: no
/// proof may rest on that choice.
fn chosen_for(room: &Room<'_>, forecast: &Forecast, stay: &Stay) -> bool {
    if stay.needs.role == Role::Hardening {
        return room.may_harden_otherwise();
    }
    let hardens = |other: &Stay| {
        other.tray() == stay.tray() && other.needs.role == Role::Hardening && other.span.overlaps(stay.span)
    };
    room.has_night_place() && forecast.stays.iter().any(hardens)
}

/// What a proof may count of the stay: as `View::singly` has it.
fn counted(
    room: &Room<'_>,
    stay: &Stay,
    span: DateSpan,
    choice: bool,
    (w, d, grams): (i64, i64, i64),
    regions: &RegionSet,
    pinned: bool,
) -> Counted {
    let times = i64::from(weight(stay));
    match pots_of(stay) {
        Some(_) if choice => Counted::Never,
        Some((true, apart)) => {
            let grams = if grams == 0 { 0 } else { i64::from(stay.grams) / times.max(1) };
            Counted::As { w: apart, d: apart, grams, regions: regions.clone(), times }
        }
        Some((false, apart)) => Counted::Round { apart, times },
        None if !choice => Counted::As { w, d, grams, regions: regions.clone(), times: 1 },
        None if stay.needs.role != Role::Hardening || pinned => Counted::Never,
        None => {
            let by_day = Stay { part: PartOfDay::Days, ..stay.clone() };
            Counted::As { w, d, grams, regions: room.regions(&by_day, span).into(), times: 1 }
        }
    }
}
