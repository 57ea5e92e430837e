//! Stays as kinds: alike in all that matters on a day.

use std::collections::BTreeMap;

use crate::fit::{Counted, Days, DemandKind, RegionSet};
use crate::forecast::{Forecast, Shape, Stay};
use crate::season::{PartOfDay, RimShape, Role, Season, TrayKey};
use crate::units::DateSpan;

use super::super::answer::{Keep, PoolKind};
use super::super::question::{ItemOf, Joined, StayPart, ask, day_number};
use super::super::room::Room;
use super::super::view::{pool_of, weight};

/// So many of one kind on those days.
#[derive(Clone, Copy, Debug)]
pub(super) struct KindRun {
    pub(super) kind: usize,
    pub(super) days: Days,
    pub(super) number: u32,
}

/// Some stays by kind; the kinds are numbered among themselves.
pub(super) struct Kinds {
    /// With what one weighs in the counts of its pool.
    pub(super) kinds: Vec<(DemandKind, u32)>,
    pub(super) runs: Vec<KindRun>,
}

pub(super) const POOLS: [PoolKind; 4] =
    [PoolKind::BottomHeat, PoolKind::Of(Role::Germinating), PoolKind::Of(Role::Growing), PoolKind::Of(Role::Hardening)];

pub(super) fn number_of(pool: PoolKind) -> u8 {
    POOLS.iter().zip(0..).find(|(own, _)| **own == pool).map_or(0, |(_, number)| number)
}

pub(super) fn kinds(season: &Season, room: &Room<'_>, stays: Vec<Stay>) -> Kinds {
    let forecast = Forecast { stays, ..Forecast::default() };
    let question = ask(season, &forecast, room, Joined::SameGround, Keep::Pinned);
    let loaded = |regions: &RegionSet| {
        let limits = regions.iter().filter_map(|region| question.problem.shelves.get(region.shelf));
        limits.into_iter().any(|shelf| shelf.load.is_some())
    };
    let mut known: BTreeMap<Alike, usize> = BTreeMap::new();
    let mut counts: BTreeMap<(usize, Days), u32> = BTreeMap::new();
    let mut kinds: Vec<(DemandKind, u32)> = Vec::new();
    let hardens = hardening(room, &forecast);
    for (ItemOf { parts, tray }, item) in question.items.iter().zip(&question.problem.items) {
        let pieces = parts.iter().flat_map(|part| pieces(part, forecast.stays.get(part.stay), hardens.get(tray)));
        for (StayPart { stay, span, regions }, nights_out) in pieces {
            let days = Days::new(day_number(span.from()), day_number(span.until()));
            let (Some(stay), Some(phase)) = (forecast.stays.get(stay), item.phase_on(days.from)) else { continue };
            // weight only tells kinds apart where a shelf has a limit
            let grams = if loaded(&regions) { phase.grams } else { 0 };
            let choice = nights_out || (stay.needs.role == Role::Hardening && room.may_harden_otherwise());
            let alike = Alike {
                size: (phase.w, phase.d, grams),
                regions: regions.as_ptr().addr(),
                pool: pool_of(room, stay),
                pinned: item.pinned.map(|spot| (spot.shelf, spot.x, spot.y, spot.turned)),
                pots: pots_of(stay),
                choice: choice.then_some((stay.height.units(), days)),
                centres: weight(stay),
            };
            let kind = *known.entry(alike).or_insert_with(|| {
                let kind = DemandKind {
                    w: phase.w,
                    d: phase.d,
                    grams,
                    regions: regions.clone(),
                    pinned: item.pinned,
                    set: number_of(pool_of(room, stay)),
                    counted: counted(
                        room,
                        stay,
                        span,
                        choice,
                        (phase.w, phase.d, grams),
                        &regions,
                        item.pinned.is_some(),
                    ),
                };
                kinds.push((kind, weight(stay)));
                kinds.len() - 1
            });
            *counts.entry((kind, days)).or_insert(0) += 1;
        }
    }
    let runs = counts.into_iter().map(|((kind, days), number)| KindRun { kind, days, number }).collect();
    Kinds { kinds, runs }
}

/// What tells the kinds of one question apart; its sets of regions are told by their address.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Alike {
    size: (i64, i64, i64),
    regions: usize,
    pool: PoolKind,
    pinned: Option<(usize, i64, i64, bool)>,
    pots: Option<(bool, i64)>,
    /// Where the forecast chose for it, what says which other places there are.
    choice: Option<(i64, Days)>,
    centres: u32,
}

/// Whether loose pots are square, and how far apart.
fn pots_of(stay: &Stay) -> Option<(bool, i64)> {
    match &stay.shape {
        Shape::Pots { rim, pitch, .. } => Some((*rim == RimShape::Square, pitch.units())),
        Shape::Tray { .. } => None,
    }
}

/// Where there are places for the night, the days on which each tray hardens off.
fn hardening(room: &Room<'_>, forecast: &Forecast) -> BTreeMap<TrayKey, DateSpan> {
    let mut days: BTreeMap<TrayKey, DateSpan> = BTreeMap::new();
    let all = forecast.stays.iter().filter(|stay| room.has_night_place() && stay.needs.role == Role::Hardening);
    for (tray, span) in all.filter_map(|stay| Some((stay.tray()?, stay.span))) {
        let own = days.entry(tray).or_insert(span);
        *own = DateSpan::new(own.from().min(span.from()), own.until().max(span.until())).unwrap_or(*own);
    }
    days
}

/// A part, cut where its tray begins to harden off or ends; with whether it does meanwhile, and
/// the forecast chose a place indoors for its nights: no proof may rest on that choice.
fn pieces(part: &StayPart, stay: Option<&Stay>, hardens: Option<&DateSpan>) -> Vec<(StayPart, bool)> {
    let indoors = stay.is_some_and(|stay| stay.needs.role != Role::Hardening);
    let Some(hardens) = hardens.filter(|hardens| indoors && hardens.overlaps(part.span)) else {
        return vec![(part.clone(), false)];
    };
    let (from, until) = (part.span.from(), part.span.until());
    let (begins, ends) = (hardens.from().max(from), hardens.until().min(until));
    let spans = [(from, begins, false), (begins, ends, true), (ends, until, false)];
    let of = |(from, until, out)| Some((StayPart { span: DateSpan::new(from, until).ok()?, ..part.clone() }, out));
    spans.into_iter().filter_map(of).collect()
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
