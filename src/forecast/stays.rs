//! The stays of one lot: whole trays, by the day, cut where shape, height or needs change.

use std::collections::BTreeSet;
use std::sync::Arc;

use chrono::NaiveDate;

use crate::season::{
    Crop, GrowthPoint, Guest, Lit, LotId, PartOfDay, Role, Season, SeedLight, Shelf, Sowing, Step, TrayKey, ZoneKind,
};
use crate::trade::{self, Bears};
use crate::units::{DateSpan, Length, Typed, shifted};

use super::bottom_heat::BottomHeat;
use super::climate::Warmth;
use super::dates::Dates;
use super::hardening::{HardeningPlace, Hardens, hardening_places};
use super::holding::{Holding, Loose};
use super::problem::Problem;
use super::stay::{Growth, Inside, Needs, Phase, Shape, Stay};

/// What the season's shelves say about stays before any of them is placed.
pub(super) struct Premises {
    /// Distinct clear heights of its shelves, lowest first: a stay is cut where it outgrows one.
    indoors: Vec<Length>,
    /// Of those for hardening off.
    outside: Vec<Length>,
    has_heat: bool,
    has_germinating: bool,
    warmth: Warmth,
    /// Width and usable depth of the commonest growing shelf, or of any where none is for growing:
    /// loose pots are cut into blocks for it.
    commonest: Option<(Length, Length)>,
    /// What those of that size are rated for at least.
    commonest_bears: Option<u32>,
    lamp_gap: Length,
    pub(super) hardening: Vec<HardeningPlace>,
    bottom_heat: BottomHeat,
    /// Whether a shelf on which seed may come up is dark.
    has_dark: bool,
}

impl Premises {
    pub(super) fn of(season: &Season) -> Self {
        let heights = |outside: bool| {
            let of =
                |shelf: &&Shelf| season.place_of(shelf).is_some_and(|place| (place.role == Role::Hardening) == outside);
            let shelves = season.shelves().filter(of);
            let heights: BTreeSet<Length> =
                shelves.filter_map(|shelf| shelf.clear_height.as_ref()).map(Typed::value).collect();
            heights.into_iter().collect()
        };
        let growing = |shelf: &Shelf| season.place_of(shelf).is_some_and(|place| place.role == Role::Growing);
        let any_growing = season.shelves().any(growing);
        let mut sizes: Vec<(Length, Length)> = season
            .shelves()
            .filter(|shelf| !any_growing || growing(shelf))
            .map(|shelf| (shelf.width.value(), shelf.usable_depth()))
            .collect();
        sizes.sort_unstable();
        let commonest = sizes
            .chunk_by(|a, b| a == b)
            .max_by_key(|alike| (alike.len(), alike.first().map(|(w, d)| (*w * *d).units())))
            .and_then(|alike| alike.first().copied());
        let of_commonest = |shelf: &&Shelf| Some((shelf.width.value(), shelf.usable_depth())) == commonest;
        Self {
            commonest_bears: season.shelves().filter(of_commonest).filter_map(|shelf| shelf.load_grams).min(),
            indoors: heights(false),
            outside: heights(true),
            has_heat: season.shelves().any(|shelf| shelf.has(ZoneKind::Heat)),
            has_germinating: season.places().any(|place| place.role == Role::Germinating),
            warmth: Warmth::of(season),
            commonest,
            lamp_gap: season.settings().lamp_gap.value(),
            hardening: hardening_places(season),
            bottom_heat: BottomHeat::of(season),
            has_dark: season.shelves().any(|shelf| is_dark(season, shelf)),
        }
    }

    /// Whether a sowing stands on heat until it is up.
    pub(super) fn heats(&self, crop: &Crop, sowing: &Sowing) -> bool {
        self.bottom_heat.wants_heat(crop, sowing) && (self.has_heat || self.has_germinating)
    }

    /// What is to be covered until the first are up: seed that wants dark, where no shelf is and no stack.
    pub(super) fn to_cover(&self, crop: &Crop, sowing: &Sowing, dates: &Dates) -> Option<Problem> {
        let covered = self.has_dark || sowing.stack.is_some() || sowing.begun.is_some();
        let wants = crop.light_to_germinate == SeedLight::Dark && !covered;
        wants.then_some(Problem::CoverSeed { sowing: sowing.id, until: dates.first_up })
    }
}

fn is_dark(season: &Season, shelf: &Shelf) -> bool {
    let place = season.place_of(shelf).filter(|place| place.role != Role::Hardening);
    // whether other shelves have lamps makes none dark
    place.is_some_and(|place| shelf.lit(place, true) == Lit::Dark)
}

/// A lot in one of its steps: what it is cut from.
pub(super) struct Piece<'a> {
    pub(super) ground: &'a Premises,
    pub(super) crop: &'a Crop,
    pub(super) heights: &'a Arc<[GrowthPoint]>,
    pub(super) sowing: &'a Sowing,
    pub(super) dates: &'a Dates,
    pub(super) lot: LotId,
    pub(super) step: &'a Step,
    pub(super) index: usize,
    /// How it stands, from which day on: in order, the first from the step's start.
    pub(super) turns: Vec<Turn<'a>>,
}

/// How a lot stands in a step from a day on.
pub(super) struct Turn<'a> {
    pub(super) from: NaiveDate,
    pub(super) holding: &'a Holding,
    /// Cells or pots that take room.
    pub(super) places: u32,
    /// Plants in them; cells while nobody knows what comes up.
    pub(super) alive: u32,
    /// Of the places, those in rows of trays that they share with others.
    pub(super) shared: Vec<(TrayKey, u32)>,
}

/// One tray or block, with all that does not change during its days.
struct Unit {
    trays: Vec<TrayKey>,
    shape: Shape,
    places: u32,
    plants: u32,
    /// It leaves for good then.
    out: NaiveDate,
}

/// All that stands from a turn on: own trays, then parts of shared ones.
struct Stands {
    own: Vec<Unit>,
    shared: Vec<Unit>,
}

impl Piece<'_> {
    fn key(&self, n: u32) -> TrayKey {
        TrayKey::Own { lot: self.lot, step: self.step.id, n }
    }

    fn is_last(&self) -> bool {
        self.index + 1 == self.sowing.steps.len()
    }

    fn until(&self) -> NaiveDate {
        until(self.dates, self.index)
    }

    /// All stays of the piece, and how many trays or blocks it stands in.
    pub(super) fn stays(&self) -> (Vec<Stay>, u32) {
        let mut number = 0;
        let mut stays = Vec::new();
        let Some(&from) = self.dates.starts.get(self.index) else { return (stays, 0) };
        let growing_from = if self.index == 0 { self.dates.up.min(self.until()).max(from) } else { from };
        for (at, turn) in self.turns.iter().enumerate() {
            let next = self.turns.get(at + 1).map(|next| next.from.max(growing_from));
            let starts = if at == 0 { growing_from } else { turn.from.max(growing_from) };
            if at > 0 && starts >= self.until() {
                break;
            }
            let standing = self.standing(turn);
            number = number.max(standing.own.len() + standing.shared.len());
            if at == 0 && self.index == 0 {
                self.germinating(from, turn.holding, &standing.own, true, &mut stays);
                self.germinating(from, turn.holding, &standing.shared, false, &mut stays);
            }
            let until = next.unwrap_or_else(|| self.until());
            for unit in standing.own.iter().chain(&standing.shared) {
                self.growing((starts, until), unit, turn.holding, &mut stays);
            }
        }
        (stays, u32::try_from(number).unwrap_or(u32::MAX))
    }

    /// What is alive is spread evenly; a tray in which nothing is does not stand there.
    fn standing(&self, turn: &Turn<'_>) -> Stands {
        let mut own = self.units(turn);
        let mut shared = self.shared_units(turn);
        let alive = usize::try_from(turn.alive).unwrap_or(usize::MAX);
        own.truncate(alive);
        shared.truncate(alive - own.len());
        let places: Vec<u32> = own.iter().chain(&shared).map(|unit| unit.places).collect();
        let most = places.iter().fold(0_u32, |sum, places| sum.saturating_add(*places));
        let plants = trade::share_out(turn.alive.min(most), &places);
        for (unit, plants) in own.iter_mut().chain(&mut shared).zip(plants) {
            unit.plants = plants;
        }
        Stands { own, shared }
    }

    /// The part of the lot that stands in shared trays; the tray itself is made of all such parts.
    fn shared_units(&self, turn: &Turn<'_>) -> Vec<Unit> {
        let unit = |&(key, places): &(TrayKey, u32)| {
            // where the program shares, it is the lot's last tray, and the first that is empty
            let first = if matches!(key, TrayKey::Own { .. }) { turn.places.saturating_sub(places) } else { 0 };
            let out = self.leaves(first, turn.places);
            Unit { trays: vec![key], shape: turn.holding.shape.clone(), places, plants: places, out }
        };
        turn.shared.iter().map(unit).collect()
    }

    fn units(&self, turn: &Turn<'_>) -> Vec<Unit> {
        let holding = turn.holding;
        let shared = turn.shared.iter().fold(0_u32, |sum, (_, places)| sum.saturating_add(*places));
        let own = turn.places.saturating_sub(shared);
        if let Some((loose, blocks)) = holding.loose.and_then(|loose| Some((loose, self.cut(loose, holding, own)?))) {
            return self.blocks(loose, blocks, turn.places);
        }
        let (per_tray, mut left) = (holding.per_tray, own);
        // the number of a tray that it shares is taken
        let keys = (1..).map(|n| self.key(n)).filter(|key| turn.shared.iter().all(|(shared, _)| shared != key));
        (0..trade::whole_trays(own, per_tray))
            .zip(keys)
            .map(|(before, key)| {
                let places = left.min(per_tray);
                left -= places;
                let out = self.leaves(before.saturating_mul(per_tray), turn.places);
                Unit { trays: vec![key], shape: holding.shape.clone(), places, plants: places, out }
            })
            .collect()
    }

    /// Loose pots in blocks: as the shelf holds them, or so many together as the grower says.
    fn cut(&self, loose: Loose, holding: &Holding, number: u32) -> Option<Vec<trade::Block>> {
        let (width, depth) = self.ground.commonest?;
        let Loose { rim, across, pitch, together } = loose;
        if let Some(together) = together {
            let whole = number / together.max(1);
            let rest = number % together.max(1);
            let block = |number| trade::one_block(rim, across, pitch, number, width, depth);
            let full = if whole > 0 { Some(block(together)?) } else { None };
            let rest = if rest > 0 { Some(block(rest)?) } else { None };
            let whole = usize::try_from(whole).unwrap_or(usize::MAX);
            return Some(full.into_iter().cycle().take(whole).chain(rest).collect());
        }
        let borne = self.ground.commonest_bears.map(|rated| (f64::from(rated) / holding.weight.each.max(1.0)) as u32);
        let blocks = trade::block_of_pots(rim, across, pitch, number, (width, depth), borne);
        (!blocks.is_empty()).then_some(blocks)
    }

    fn blocks(&self, loose: Loose, blocks: Vec<trade::Block>, all: u32) -> Vec<Unit> {
        let mut before = 0_u32;
        (1..)
            .zip(blocks)
            .map(|(n, trade::Block { width, depth, centres })| {
                let plants = u32::try_from(centres.len()).unwrap_or(u32::MAX);
                let out = self.leaves(before, all);
                before = before.saturating_add(plants);
                let (across, pitch) = (loose.across, loose.pitch);
                let shape = Shape::Pots { width, depth, rim: loose.rim, across, pitch, centres };
                Unit { trays: vec![self.key(n)], shape, places: plants, plants, out }
            })
            .collect()
    }

    fn leaves(&self, first_plant: u32, places: u32) -> NaiveDate {
        leaves(self.dates, (self.index, self.sowing.steps.len()), first_plant, places)
    }

    fn germinating(&self, from: NaiveDate, holding: &Holding, units: &[Unit], may_stack: bool, stays: &mut Vec<Stay>) {
        let until = self.dates.up.min(self.until());
        let heat = self.ground.heats(self.crop, self.sowing);
        let needs = Needs {
            role: if heat || self.ground.has_germinating { Role::Germinating } else { Role::Growing },
            light: self.crop.light_to_germinate == SeedLight::Light,
            heat,
            bears: self.ground.warmth.seed(self.crop, heat),
        };
        let mut push = |group: &[Unit], height: Length, from, until| {
            let (Some(first), Ok(span)) = (group.first(), DateSpan::new(from, until)) else { return };
            stays.push(Stay {
                trays: group.iter().flat_map(|unit| unit.trays.iter().copied()).collect(),
                sowing: Some(self.sowing.id),
                phase: Phase::Germinating,
                span,
                part: PartOfDay::Whole,
                shape: first.shape.clone(),
                height: height + if needs.light { self.ground.lamp_gap } else { Length::ZERO },
                growth: None,
                grams: group.iter().fold(0, |sum, unit| sum.saturating_add(holding.weight.grams(unit.places))),
                fixed_grams: holding.weight.fixed().saturating_mul(u32::try_from(group.len()).unwrap_or(u32::MAX)),
                plants: group.iter().fold(0, |sum, unit| sum.saturating_add(unit.plants)),
                needs,
            });
        };
        let mut apart = from;
        let may_stack = may_stack && holding.loose.is_none() && trade::may_be_stacked(self.crop);
        if let Some(stack) = self.sowing.stack.filter(|_| may_stack) {
            apart = self.dates.apart.unwrap_or(from).min(until).max(from);
            for pile in units.chunks(usize::from(stack.high.max(1))) {
                // no dome stands between stacked trays
                let high = i64::try_from(pile.len()).unwrap_or(i64::MAX);
                push(pile, holding.rim_height * high, from, apart);
            }
        }
        for unit in units {
            push(std::slice::from_ref(unit), holding.dome_height, apart, until);
        }
    }

    /// Of its days in the step, those of the turn.
    fn growing(
        &self,
        (from, turn_until): (NaiveDate, NaiveDate),
        unit: &Unit,
        holding: &Holding,
        stays: &mut Vec<Stay>,
    ) {
        let until = unit.out.min(self.until());
        let last_start = self.dates.starts.last().copied().unwrap_or(from);
        let rule = trade::hardening_days(self.crop, self.sowing);
        let (nights_from, seen) = (self.dates.nights_from, self.dates.outside.before(until));
        let hardens = Hardens { crop: self.crop, rule, last_start, out: until, nights_from, seen };
        let hardening = hardens.in_places(&self.ground.hardening).filter(|_| self.is_last());
        let indoors_until = hardening.map_or(until, |hardening| hardening.first_night.min(until));
        self.indoors(unit, holding, from, indoors_until.min(turn_until), stays);
        let Some(hardening) = hardening else { return };
        let needs = self.grown(Role::Hardening);
        let days_from = hardening.from.max(from);
        let nights_from = hardening.first_night.max(days_from);
        for (from, until, part) in [(days_from, nights_from, PartOfDay::Days), (nights_from, until, PartOfDay::Whole)] {
            let growth = self.growth(holding, Length::ZERO);
            for span in by_height(&growth, &self.ground.outside, from, until.min(turn_until)) {
                stays.push(self.stay(unit, holding, (Phase::Hardening, part, needs), span, growth.clone()));
            }
        }
    }

    fn grown(&self, role: Role) -> Needs {
        Needs { role, light: true, heat: false, bears: Bears::plants(self.crop) }
    }

    fn indoors(&self, unit: &Unit, holding: &Holding, from: NaiveDate, until: NaiveDate, stays: &mut Vec<Stay>) {
        let phase = if self.index == 0 { Phase::Plugs } else { Phase::Pots };
        let needs = self.grown(Role::Growing);
        let growth = self.growth(holding, self.ground.lamp_gap);
        for span in by_height(&growth, &self.ground.indoors, from, until.min(unit.out)) {
            stays.push(self.stay(unit, holding, (phase, PartOfDay::Whole, needs), span, growth.clone()));
        }
    }

    fn stay(
        &self,
        unit: &Unit,
        holding: &Holding,
        (phase, part, needs): (Phase, PartOfDay, Needs),
        span: DateSpan,
        growth: Growth,
    ) -> Stay {
        Stay {
            trays: unit.trays.clone(),
            sowing: Some(self.sowing.id),
            phase,
            span,
            part,
            shape: unit.shape.clone(),
            height: growth.height_on(shifted(span.until(), -1)),
            growth: Some(growth),
            grams: holding.weight.grams(unit.places),
            fixed_grams: holding.weight.fixed(),
            plants: unit.plants,
            needs,
        }
    }

    fn growth(&self, holding: &Holding, gap: Length) -> Growth {
        let beside = trade::clear_height_needed(holding.rim_height, holding.pot_height, 0.0, gap);
        Growth { sown: self.dates.sown, beside, gap, heights: Arc::clone(self.heights) }
    }
}

/// Cut where plants outgrow one of those clear heights: what is too tall for a shelf on one day of a part is so on
/// all of them.
fn by_height(growth: &Growth, clear: &[Length], from: NaiveDate, until: NaiveDate) -> Vec<DateSpan> {
    let outgrown = |date| {
        let needed = growth.height_on(date);
        clear.iter().filter(|clear| **clear < needed).count()
    };
    let mut parts = Vec::new();
    let (mut start, mut date) = (from, from);
    while date < until {
        let next = shifted(date, 1);
        if next >= until || next == date || outgrown(next) != outgrown(start) {
            parts.extend(DateSpan::new(start, next.min(until)));
            start = next;
        }
        if next == date {
            break;
        }
        date = next;
    }
    parts
}

fn until(dates: &Dates, step: usize) -> NaiveDate {
    dates.starts.get(step + 1).copied().unwrap_or(dates.out)
}

/// The day on which a tray that starts with that plant of the lot is empty, where plants leave on
/// several dates: the last ones stand in the first trays.
pub(super) fn leaves(dates: &Dates, (step, steps): (usize, usize), first_plant: u32, places: u32) -> NaiveDate {
    let until = until(dates, step);
    if step + 1 < steps || dates.leaving.len() < 2 {
        return until;
    }
    let all = dates.leaving.iter().map(|(_, plants)| u64::from(*plants)).sum::<u64>().max(1);
    let mut gone = 0_u64;
    for &(date, plants) in &dates.leaving {
        gone += u64::from(plants);
        let left_here = u64::from(places) * all.saturating_sub(gone) / all;
        if left_here <= u64::from(first_plant) {
            let start = dates.starts.get(step).copied().unwrap_or(date);
            let date = dates.kept_until.map_or(date, |frost| date.max(frost));
            return date.max(shifted(start, 1)).min(until);
        }
    }
    until
}

/// A guest's trays.
pub(super) fn of_guest(guest: &Guest) -> Vec<Stay> {
    (1..=u32::from(guest.number))
        .map(|n| Stay {
            trays: vec![TrayKey::Guest { guest: guest.id, n }],
            sowing: None,
            phase: Phase::Guest,
            span: guest.span,
            part: PartOfDay::Whole,
            shape: Shape::Tray {
                width: guest.size.width.value(),
                depth: guest.size.depth.value(),
                inside: Inside::Open,
            },
            height: guest.height.as_ref().map_or(Length::ZERO, Typed::value),
            growth: None,
            grams: guest.grams.unwrap_or_else(|| trade::grams_by_size(&guest.size)),
            fixed_grams: 0,
            plants: 0,
            needs: Needs { role: guest.role, light: guest.light, heat: false, bears: Bears::Anything },
        })
        .collect()
}

/// Whether no shelf holds so many of its loose pots as are to stand together.
pub(super) fn block_too_large(ground: &Premises, sowing: &Sowing, step: &Step, holding: &Holding) -> Option<Problem> {
    let Loose { rim, across, pitch, together } = holding.loose?;
    let (per_tray, (width, depth)) = (together?, ground.commonest?);
    let fits = trade::one_block(rim, across, pitch, per_tray, width, depth).is_some();
    (!fits).then_some(Problem::BlockTooLarge { sowing: sowing.id, step: step.id, per_tray })
}
