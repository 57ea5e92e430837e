//! What a day may ask of the shelves at most, in counts: cheap to ask, and never too strict.
//!
//! A row is about stays of one kind, each at least so large, and says how many of those the shelves hold that may
//! take them. A season that breaks a row has a crunch; one that keeps all of them may still have one, as sizes get
//! in each other's way. What was found to be short is a row too, of what stood there that day: a guess, for
//! other days than that.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::fit::{self, Days};
use crate::forecast::{Forecast, Shape, Stay};
use crate::season::{Lit, PartOfDay, Role, Season, ZoneKind};
use crate::units::{DateSpan, Length};

use crate::outlook::answer::{Crunch, PoolKind, Verdict, Week};
use crate::outlook::question::day_number;
use crate::outlook::room::{Room, clip, footprint, is_open, suits_part, whole_shelf};
use crate::outlook::view::{pool_of, weight};

/// So much of a row is taken on those days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Take {
    pub(super) row: usize,
    pub(super) days: Days,
    pub(super) amount: i64,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Row {
    of: Of,
    /// In order: so much from that day on.
    pub(super) holds: Vec<(i32, i64)>,
    /// What one tray is worth in it.
    pub(super) each: i64,
    /// No layout breaks it, whatever stands there.
    pub(super) proven: bool,
}

/// Which stays a row is about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Of {
    /// Trays of a kind that are taller than that and at least so large, by number.
    Count { kind: Kind, above: Option<Length>, long: i64, short: i64 },
    /// All of a kind that are taller than that, by square millimetres.
    Ground { kind: Kind, above: Option<Length> },
    /// What is like those that were found to be short of room, by number.
    Found { pools: BTreeSet<PoolKind>, above: Option<Length>, long: i64, short: i64, pots: bool },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    /// What stands indoors, in whatever role.
    Indoors,
    /// What grows and wants light.
    Growing,
    Heat,
    Hardening,
}

const KINDS: [Kind; 4] = [Kind::Indoors, Kind::Growing, Kind::Heat, Kind::Hardening];

impl Kind {
    fn has(self, stay: &Stay, any_heat: bool) -> bool {
        let needs = stay.needs;
        match self {
            Self::Indoors => needs.role != Role::Hardening,
            Self::Growing => needs.role == Role::Growing && needs.light,
            Self::Heat => needs.role == Role::Germinating && needs.heat && any_heat,
            Self::Hardening => needs.role == Role::Hardening && stay.part != PartOfDay::Nights,
        }
    }
}

/// Square units in a square millimetre.
const PER_MM2: i128 = 8_000 * 8_000;

pub(super) struct Rows<'a> {
    season: &'a Season,
    room: Room<'a>,
    pub(super) all: Vec<Row>,
}

impl<'a> Rows<'a> {
    /// For seasons with the shelves of this one, whose stays are of the sizes of those.
    pub(super) fn of<'s>(season: &'a Season, stays: impl Iterator<Item = &'s Stay>) -> Self {
        let room = Room::of(season);
        let any_heat = room.any_heat();
        let mut sizes: BTreeMap<Kind, BTreeSet<(i64, i64)>> = BTreeMap::new();
        for stay in stays {
            for kind in KINDS.into_iter().filter(|kind| kind.has(stay, any_heat)) {
                let sizes = sizes.entry(kind).or_default();
                if matches!(stay.shape, Shape::Tray { .. }) {
                    sizes.insert(sides(season, stay));
                }
            }
        }
        let mut rows = Self { season, room, all: Vec::new() };
        for (kind, sizes) in sizes {
            let heights = rows.heights(kind);
            for above in std::iter::once(None).chain(heights.into_iter().map(Some)) {
                rows.all.extend(rows.ground(kind, above));
                let counts: Vec<Row> =
                    sizes.iter().filter_map(|&(long, short)| rows.count(kind, above, long, short)).collect();
                rows.all.extend(counts);
            }
        }
        rows
    }

    /// The clear heights of the shelves of a kind, but the tallest: what is taller has fewer shelves.
    fn heights(&self, kind: Kind) -> BTreeSet<Length> {
        let mut heights: BTreeSet<Length> =
            self.shelves(kind).filter_map(|(number, _)| self.clear_height(number)).collect();
        if self.shelves(kind).all(|(number, _)| self.clear_height(number).is_some()) {
            heights.pop_last();
        }
        heights
    }

    fn clear_height(&self, number: usize) -> Option<Length> {
        let (_, shelf, _) = self.room.shelves().nth(number)?;
        shelf.clear_height.as_ref().map(crate::units::Typed::value)
    }

    /// The grounds of a kind, by the number of their shelf.
    fn shelves(&self, kind: Kind) -> impl Iterator<Item = (usize, Vec<fit::Rect>)> + use<'_, 'a> {
        self.room.shelves().filter_map(move |(number, shelf, place)| {
            let all = whole_shelf(shelf);
            let mats = || shelf.zones.iter().filter(|zone| zone.kind == ZoneKind::Heat);
            let grounds: Vec<fit::Rect> = match (kind, place.role) {
                (Kind::Indoors, Role::Germinating | Role::Growing) | (Kind::Heat, Role::Germinating) => vec![all],
                (Kind::Growing, Role::Growing) if self.room.lit(number) != Some(Lit::Dark) => vec![all],
                (Kind::Heat, Role::Growing) => mats().filter_map(|zone| clip(zone, all)).collect(),
                (Kind::Hardening, Role::Hardening) if suits_part(place, PartOfDay::Days) => vec![all],
                _ => Vec::new(),
            };
            (!grounds.is_empty()).then_some((number, grounds))
        })
    }

    /// What shelves of a kind hold, by the day, where each ground holds that much.
    fn holds(&self, kind: Kind, above: Option<Length>, most: impl Fn(fit::Rect) -> i64) -> Vec<(i32, i64)> {
        let grounds = self.shelves(kind).filter(|&(number, _)| {
            above.is_none_or(|above| self.clear_height(number).is_none_or(|clear| clear > above))
        });
        let each: Vec<(usize, i64)> = grounds
            .map(|(number, rects)| (number, rects.into_iter().map(&most).fold(0, i64::saturating_add)))
            .collect();
        let starts = std::iter::once(NaiveDate::MIN).chain(self.room.turns().iter().copied());
        let mut holds: Vec<(i32, i64)> = Vec::new();
        for start in starts {
            let Some(day) = DateSpan::day(start) else { continue };
            let open = each.iter().filter(|(number, _)| {
                self.room.shelves().nth(*number).is_some_and(|(_, shelf, place)| is_open(place, shelf, day))
            });
            let sum = open.map(|(_, most)| *most).fold(0, i64::saturating_add);
            let from = if start == NaiveDate::MIN { i32::MIN } else { day_number(start) };
            if holds.last().is_none_or(|(_, last)| *last != sum) {
                holds.push((from, sum));
            }
        }
        holds
    }

    fn ground(&self, kind: Kind, above: Option<Length>) -> Option<Row> {
        let gap = self.season.settings().gap.value().units();
        // what stands at a far edge has its gap in the air
        let most = |rect: fit::Rect| {
            let mm2 = i128::from(rect.w + gap) * i128::from(rect.d + gap) / PER_MM2;
            i64::try_from(mm2).unwrap_or(i64::MAX)
        };
        let holds = self.holds(kind, above, most);
        let each = 150_000; // about a flat of 545 × 280 mm
        Some(Row { of: Of::Ground { kind, above }, holds, each, proven: true }).filter(|row| !row.holds.is_empty())
    }

    fn count(&self, kind: Kind, above: Option<Length>, long: i64, short: i64) -> Option<Row> {
        let gap = self.season.settings().gap.value().units();
        let most = |rect: fit::Rect| fit::count(rect.w + gap, rect.d + gap, long, short).at_most;
        let holds = self.holds(kind, above, most);
        Some(Row { of: Of::Count { kind, above, long, short }, holds, each: 1, proven: true })
            .filter(|row| !row.holds.is_empty())
    }

    /// What was found: on the days of the crunch the shelves hold no more like those that prove it. Whether that is
    /// new.
    pub(super) fn found(&mut self, crunch: &Crunch, forecast: &Forecast) -> bool {
        let pools: BTreeSet<PoolKind> = crunch.pools.iter().map(|pool| pool.kind).collect();
        let [from, until] = [crunch.span.from(), crunch.span.until()].map(day_number);
        let holds = vec![(i32::MIN, i64::MAX), (from, i64::from(crunch.proven.held)), (until, i64::MAX)];
        let proof: Vec<&Stay> = forecast
            .on(crunch.worst_day)
            .filter(|stay| stay.trays.iter().any(|tray| crunch.proof.contains(tray)))
            .collect();
        let lowest = proof.iter().map(|stay| stay.height).min().unwrap_or(Length::ZERO);
        let clear = self.room.shelves().filter_map(|(_, shelf, _)| shelf.clear_height.as_ref());
        let above = clear.map(crate::units::Typed::value).filter(|clear| *clear < lowest).max();
        let trays = || proof.iter().filter(|stay| matches!(stay.shape, Shape::Tray { .. }));
        let sides: Vec<(i64, i64)> = trays().map(|stay| sides(self.season, stay)).collect();
        let long = sides.iter().map(|sides| sides.0).min().unwrap_or(0);
        let short = sides.iter().map(|sides| sides.1).min().unwrap_or(0);
        let pots = sides.len() < proof.len();
        self.put(Row { of: Of::Found { pools, above, long, short, pots }, holds, each: 1, proven: false })
    }

    /// On the days of a week that is not settled no more than were placed; whether that is new.
    pub(super) fn open(&mut self, week: &Week) -> bool {
        if week.verdict != Verdict::Unsettled {
            return false;
        }
        let day = day_number(week.worst_day);
        let held = i64::from(week.needed.saturating_sub(week.short_at_most.max(1)));
        let holds = vec![(i32::MIN, i64::MAX), (day, held), (day.saturating_add(1), i64::MAX)];
        let pools = BTreeSet::from([week.pool.kind]);
        let of = Of::Found { pools, above: None, long: 0, short: 0, pots: true };
        self.put(Row { of, holds, each: 1, proven: false })
    }

    fn put(&mut self, row: Row) -> bool {
        let is_new = !self.all.contains(&row);
        self.all.extend(is_new.then_some(row));
        is_new
    }

    /// The same, and as much of what was found as one more tray is worth.
    pub(super) fn with_found(&self, gains: &[Take]) -> Vec<Take> {
        let mut all = gains.to_vec();
        for (number, row) in self.all.iter().enumerate() {
            let Of::Found { pools, .. } = &row.of else { continue };
            let counts = gains.iter().filter(|gain| self.all.get(gain.row).is_some_and(|row| row.counts_of(pools)));
            let mut by_days: BTreeMap<(i32, i32), i64> = BTreeMap::new();
            for gain in counts {
                let most = by_days.entry((gain.days.from, gain.days.until)).or_insert(0);
                *most = gain.amount.max(*most);
            }
            all.extend(by_days.into_iter().map(|((from, until), amount)| Take {
                row: number,
                days: Days::new(from, until),
                amount,
            }));
        }
        all
    }

    /// What a stay takes of every row that it is in.
    pub(super) fn takes(&self, stay: &Stay) -> Vec<Take> {
        let sides = sides(self.season, stay);
        let days = Days::new(day_number(stay.span.from()), day_number(stay.span.until()));
        let any_heat = self.room.any_heat();
        let amount = |row: &Row| match &row.of {
            Of::Count { kind, above, long, short } => {
                let is_tray = matches!(stay.shape, Shape::Tray { .. });
                let large = sides.0 >= *long && sides.1 >= *short;
                let tall = above.is_none_or(|above| stay.height > above);
                i64::from(kind.has(stay, any_heat) && is_tray && large && tall)
            }
            Of::Ground { kind, above } => {
                let tall = above.is_none_or(|above| stay.height > above);
                if kind.has(stay, any_heat) && tall {
                    i64::try_from(i128::from(sides.0) * i128::from(sides.1) / PER_MM2).unwrap_or(i64::MAX)
                } else {
                    0
                }
            }
            Of::Found { pools, above, long, short, pots } => {
                let is_tray = matches!(stay.shape, Shape::Tray { .. });
                let alike = if is_tray { sides.0 >= *long && sides.1 >= *short } else { *pots };
                let tall = above.is_none_or(|above| stay.height > above);
                let counts = alike && tall && pools.contains(&pool_of(&self.room, stay));
                if counts { i64::from(weight(stay)) } else { 0 }
            }
        };
        let takes = self.all.iter().enumerate().map(|(at, row)| Take { row: at, days, amount: amount(row) });
        takes.filter(|take| take.amount > 0).collect()
    }
}

impl Row {
    /// Whether they are about the same stays, on whatever shelves.
    pub(super) fn is_about_the_same(&self, other: &Self) -> bool {
        self.of == other.of
    }

    /// Whether it counts trays of those pools, whatever their height.
    fn counts_of(&self, pools: &BTreeSet<PoolKind>) -> bool {
        let kinds = pools.iter().map(|pool| match pool {
            PoolKind::BottomHeat => Kind::Heat,
            PoolKind::Of(Role::Hardening) => Kind::Hardening,
            PoolKind::Of(Role::Growing) => Kind::Growing,
            PoolKind::Of(Role::Germinating) => Kind::Indoors,
        });
        let kinds: BTreeSet<Kind> = kinds.collect();
        matches!(&self.of, Of::Count { kind, above: None, .. } if kinds.contains(kind))
    }

    pub(super) fn on(&self, day: i32) -> i64 {
        self.holds.iter().rev().find(|(from, _)| *from <= day).map_or(0, |(_, holds)| *holds)
    }
}

/// What of many stays decides which rows there are: one of each kind and size, and all their days.
pub(super) struct Kinds<'s> {
    season: &'s Season,
    seen: BTreeSet<(i64, i64, bool, Role, bool, bool, PartOfDay)>,
    stays: Vec<&'s Stay>,
    span: Option<DateSpan>,
}

impl<'s> Kinds<'s> {
    pub(super) const fn of(season: &'s Season) -> Self {
        Self { season, seen: BTreeSet::new(), stays: Vec::new(), span: None }
    }

    pub(super) fn add(&mut self, stays: impl Iterator<Item = &'s Stay>) {
        for stay in stays {
            let ((long, short), needs) = (sides(self.season, stay), stay.needs);
            let is_tray = matches!(stay.shape, Shape::Tray { .. });
            if self.seen.insert((long, short, is_tray, needs.role, needs.light, needs.heat, stay.part)) {
                self.stays.push(stay);
            }
            let span = self.span.unwrap_or(stay.span);
            let (from, until) = (span.from().min(stay.span.from()), span.until().max(stay.span.until()));
            self.span = DateSpan::new(from, until).ok();
        }
    }

    pub(super) fn stays(&self) -> impl Iterator<Item = &'s Stay> {
        self.stays.iter().copied()
    }

    pub(super) fn days(&self) -> Days {
        let day = |of: fn(DateSpan) -> NaiveDate| self.span.map_or(0, |span| day_number(of(span)));
        Days::new(day(DateSpan::from), day(DateSpan::until))
    }
}

/// The longer and the shorter side of what it covers.
fn sides(season: &Season, stay: &Stay) -> (i64, i64) {
    let (w, d) = footprint(season, &stay.shape);
    (w.max(d).units(), w.min(d).units())
}
