//! The stays of one lot: whole trays, by the day, cut where shape, height or needs change.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::season::{
    Container, ContainerKind, Crop, Flat, Guest, Library, LotId, PartOfDay, Plug, Pot, RimShape, Role, Season,
    SeedLight, Shelf, Sowing, Step, TrayKey, ZoneKind,
};
use crate::trade;
use crate::units::{DateSpan, Length, Typed, Volume, shifted};

use super::dates::Dates;
use super::hardening::{HardeningPlace, hardening, hardening_places};
use super::problem::Problem;
use super::stay::{Inside, Needs, Phase, Shape, Stay};

/// What the season's shelves say about stays before any of them is placed.
pub(super) struct Premises {
    /// Distinct clear heights of its shelves, lowest first: a stay is cut where it outgrows one.
    heights: Vec<Length>,
    has_heat: bool,
    has_germinating: bool,
    /// Width and usable depth of the commonest growing shelf, or of any where none is for growing:
    /// loose pots are cut into blocks for it.
    commonest: Option<(Length, Length)>,
    lamp_gap: Length,
    hardening: Vec<HardeningPlace>,
}

impl Premises {
    pub(super) fn of(season: &Season) -> Self {
        let mut heights: Vec<Length> =
            season.shelves().filter_map(|shelf| shelf.clear_height.as_ref()).map(Typed::value).collect();
        heights.sort_unstable();
        heights.dedup();
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
        Self {
            heights,
            has_heat: season.shelves().any(|shelf| shelf.has(ZoneKind::Heat)),
            has_germinating: season.places().any(|place| place.role == Role::Germinating),
            commonest,
            lamp_gap: season.settings().lamp_gap.value(),
            hardening: hardening_places(season),
        }
    }
}

/// What a step's trays are like.
pub(super) struct Holding {
    /// Plants, cells or pots to a tray.
    per_tray: u32,
    shape: Shape,
    rim_height: Length,
    pot_height: Option<Length>,
    volume: Option<Volume>,
    loose: Option<Loose>,
}

/// Pots that stand on the shelf itself.
#[derive(Clone, Copy)]
struct Loose {
    rim: RimShape,
    across: Length,
    pitch: Length,
}

/// Finds out what the trays of a step are like, with its pots `pitch` apart (zero: rim to rim);
/// says why not where that cannot be.
pub(super) fn holding(
    season: &Season,
    library: &Library,
    sowing: &Sowing,
    step: &Step,
    pitch: Length,
    problems: &mut Vec<Problem>,
) -> Option<Holding> {
    let find = |key: &crate::season::ContainerKey, problems: &mut Vec<Problem>| {
        let found = season.container(library, key);
        if found.is_none() {
            problems.push(Problem::UnknownContainer { sowing: sowing.id, container: key.clone() });
        }
        found
    };
    let container = find(&step.container, problems)?;
    let carried = match &step.carried_in {
        Some(key) => Some(find(key, problems)?),
        None => None,
    };
    let holding = match (&container.kind, carried.map(|carried| (carried, &carried.kind))) {
        (ContainerKind::Plug(plug), _) => Some(of_plug(container, plug, step)),
        (ContainerKind::Flat(flat), _) => Some(Holding {
            per_tray: step.per_tray.unwrap_or(1),
            shape: Shape::Tray {
                width: flat.outer.value.width.value(),
                depth: flat.outer.value.depth.value(),
                inside: Inside::Open,
            },
            rim_height: height_of(container),
            pot_height: None,
            volume: None,
            loose: None,
        }),
        (ContainerKind::Pot(pot), Some((carried, ContainerKind::Flat(flat)))) => {
            in_flat(container, pot, carried, flat, step, pitch)
        }
        (ContainerKind::Pot(pot), None) => Some(loose(container, pot, step, pitch)),
        (ContainerKind::Pot(_) | ContainerKind::Class { .. }, _) => None,
    };
    if holding.is_none() {
        problems.push(Problem::NoRoomInside { sowing: sowing.id, container: step.container.clone() });
    }
    holding
}

fn height_of(container: &Container) -> Length {
    container.height.as_ref().map_or(Length::from_mm(60), Typed::value)
}

fn of_plug(container: &Container, plug: &Plug, step: &Step) -> Holding {
    let outer = &plug.outer.value;
    let (width, depth) = (outer.width.value(), outer.depth.value());
    let (short, long) = plug.grid.unwrap_or_else(|| nearest_grid(plug.cells, width, depth));
    let (columns, rows) = if width >= depth { (long, short) } else { (short, long) };
    Holding {
        per_tray: step.per_tray.unwrap_or(u32::from(plug.cells)),
        shape: Shape::Tray { width, depth, inside: Inside::Cells { columns, rows } },
        rim_height: height_of(container),
        pot_height: None,
        volume: trade::cell_volume(container),
        loose: None,
    }
}

/// Rows and columns to draw where the cells stand offset and no grid is known.
fn nearest_grid(cells: u16, width: Length, depth: Length) -> (u16, u16) {
    let (long, short) = (width.max(depth).to_mm(), width.min(depth).to_mm());
    let across = (f64::from(cells) * short / long.max(1.0)).sqrt().round().max(1.0);
    let along = (f64::from(cells) / across).ceil();
    (across as u16, along as u16)
}

fn in_flat(
    container: &Container,
    pot: &Pot,
    carried: &Container,
    flat: &Flat,
    step: &Step,
    pitch: Length,
) -> Option<Holding> {
    let across = pot.top.value.value();
    let standing = trade::pots_in_flat(pot, flat, pitch)?;
    // a number of the grower's own is for pots that touch
    let per_tray = step.per_tray.filter(|_| pitch <= across).unwrap_or(standing.number);
    let inside = Inside::Pots {
        columns: standing.columns,
        rows: standing.rows,
        rim: pot.rim,
        across,
        number: u16::try_from(per_tray).unwrap_or(u16::MAX),
    };
    Some(Holding {
        per_tray,
        shape: Shape::Tray { width: standing.width, depth: standing.depth, inside },
        rim_height: height_of(carried),
        pot_height: Some(height_of(container)),
        volume: trade::cell_volume(container),
        loose: None,
    })
}

fn loose(container: &Container, pot: &Pot, step: &Step, pitch: Length) -> Holding {
    let across = pot.top.value.value();
    Holding {
        per_tray: step.per_tray.unwrap_or(1),
        shape: Shape::Tray { width: across, depth: across, inside: Inside::Open },
        rim_height: height_of(container),
        pot_height: None,
        volume: trade::cell_volume(container),
        loose: Some(Loose { rim: pot.rim, across, pitch: pitch.max(across) }),
    }
}

/// A lot in one of its steps: what it is cut from.
pub(super) struct Piece<'a> {
    pub(super) ground: &'a Premises,
    pub(super) crop: &'a Crop,
    pub(super) sowing: &'a Sowing,
    pub(super) dates: &'a Dates,
    pub(super) lot: LotId,
    pub(super) step: &'a Step,
    pub(super) index: usize,
    pub(super) holding: &'a Holding,
    /// From that day on: pots spaced out, or plugs moved together, so many then.
    pub(super) later: Option<(NaiveDate, &'a Holding, u32)>,
    /// Plants or cells in this step.
    pub(super) plants: u32,
    /// Of them, those in rows of trays that they share with others.
    pub(super) shared: Vec<(TrayKey, u32)>,
}

/// One tray or block, with all that does not change during its days.
struct Unit {
    trays: Vec<TrayKey>,
    shape: Shape,
    plants: u32,
    /// It leaves for good then.
    out: NaiveDate,
}

impl Piece<'_> {
    fn key(&self, n: u32) -> TrayKey {
        TrayKey::Own { lot: self.lot, step: self.step.id, n }
    }

    fn is_last(&self) -> bool {
        self.index + 1 == self.sowing.steps.len()
    }

    fn until(&self) -> NaiveDate {
        self.dates.starts.get(self.index + 1).copied().unwrap_or(self.dates.out)
    }

    /// All stays of the piece, and how many trays or blocks it is.
    pub(super) fn stays(&self) -> (Vec<Stay>, u32) {
        let mut units = self.units(self.holding, self.plants);
        let mut number = units.len();
        let mut stays = Vec::new();
        let Some(&from) = self.dates.starts.get(self.index) else { return (stays, 0) };
        if self.index == 0 {
            self.germinating(from, &units, true, &mut stays);
            self.germinating(from, &self.shared_units(self.holding), false, &mut stays);
        }
        units.extend(self.shared_units(self.holding));
        let growing_from = if self.index == 0 { self.dates.up.min(self.until()).max(from) } else { from };
        match self.later.filter(|(date, ..)| *date < self.until()) {
            None => units.iter().for_each(|unit| self.growing(growing_from, unit, self.holding, &mut stays)),
            Some((date, holding, plants)) => {
                let date = date.max(growing_from);
                for unit in &units {
                    self.indoors(unit, self.holding, growing_from, date, &mut stays);
                }
                let mut units = self.units(holding, plants);
                number = number.max(units.len());
                units.extend(self.shared_units(holding));
                for unit in &units {
                    self.growing(date, unit, holding, &mut stays);
                }
            }
        }
        (stays, u32::try_from(number).unwrap_or(u32::MAX))
    }

    /// The part of the lot that stands in shared trays; the tray itself is made of all such parts.
    fn shared_units(&self, holding: &Holding) -> Vec<Unit> {
        let unit = |&(key, plants): &(TrayKey, u32)| Unit {
            trays: vec![key],
            shape: holding.shape.clone(),
            plants,
            out: self.leaves(0),
        };
        self.shared.iter().map(unit).collect()
    }

    fn units(&self, holding: &Holding, plants: u32) -> Vec<Unit> {
        let shared = self.shared.iter().fold(0_u32, |sum, (_, plants)| sum.saturating_add(*plants));
        let own = plants.saturating_sub(shared);
        if let (Some(loose), Some((width, depth))) = (holding.loose, self.ground.commonest) {
            let blocks = trade::block_of_pots(loose.rim, loose.across, loose.pitch, own, width, depth);
            if !blocks.is_empty() {
                return self.blocks(loose, blocks);
            }
        }
        let (per_tray, mut left) = (holding.per_tray, own);
        (1..=trade::whole_trays(own, per_tray))
            .map(|n| {
                let plants = left.min(per_tray);
                left -= plants;
                let out = self.leaves((n - 1).saturating_mul(per_tray));
                Unit { trays: vec![self.key(n)], shape: holding.shape.clone(), plants, out }
            })
            .collect()
    }

    fn blocks(&self, loose: Loose, blocks: Vec<trade::Block>) -> Vec<Unit> {
        let mut before = 0_u32;
        (1..)
            .zip(blocks)
            .map(|(n, trade::Block { width, depth, centres })| {
                let plants = u32::try_from(centres.len()).unwrap_or(u32::MAX);
                let out = self.leaves(before);
                before = before.saturating_add(plants);
                let (across, pitch) = (loose.across, loose.pitch);
                let shape = Shape::Pots { width, depth, rim: loose.rim, across, pitch, centres };
                Unit { trays: vec![self.key(n)], shape, plants, out }
            })
            .collect()
    }

    /// The day on which a tray that starts with that plant of the lot is empty, where plants leave
    /// on several dates: the last ones stand in the first trays.
    fn leaves(&self, first_plant: u32) -> NaiveDate {
        if !self.is_last() || self.dates.leaving.len() < 2 {
            return self.until();
        }
        let all = self.dates.leaving.iter().map(|(_, plants)| u64::from(*plants)).sum::<u64>().max(1);
        let mut gone = 0_u64;
        for &(date, plants) in &self.dates.leaving {
            gone += u64::from(plants);
            let left_here = u64::from(self.plants) * all.saturating_sub(gone) / all;
            if left_here <= u64::from(first_plant) {
                let start = self.dates.starts.get(self.index).copied().unwrap_or(date);
                let date = self.dates.kept_until.map_or(date, |frost| date.max(frost));
                return date.max(shifted(start, 1)).min(self.until());
            }
        }
        self.until()
    }

    fn heat(&self) -> bool {
        let wants = self.sowing.bottom_heat.unwrap_or_else(|| trade::wants_bottom_heat(self.crop));
        wants && (self.ground.has_heat || self.ground.has_germinating)
    }

    fn germinating(&self, from: NaiveDate, units: &[Unit], may_stack: bool, stays: &mut Vec<Stay>) {
        let until = self.dates.up.min(self.until());
        let heat = self.heat();
        let needs = Needs {
            role: if heat || self.ground.has_germinating { Role::Germinating } else { Role::Growing },
            light: self.crop.light_to_germinate == SeedLight::Light,
            heat,
        };
        let mut push = |group: &[Unit], from, until| {
            let (Some(first), Ok(span)) = (group.first(), DateSpan::new(from, until)) else { return };
            let high = i64::try_from(group.len()).unwrap_or(i64::MAX);
            stays.push(Stay {
                trays: group.iter().flat_map(|unit| unit.trays.iter().copied()).collect(),
                sowing: Some(self.sowing.id),
                phase: Phase::Germinating,
                span,
                part: PartOfDay::Whole,
                shape: first.shape.clone(),
                height: self.holding.rim_height * high + if needs.light { self.ground.lamp_gap } else { Length::ZERO },
                grams: group.iter().fold(0, |sum, unit| sum.saturating_add(self.grams(unit.plants))),
                plants: group.iter().fold(0, |sum, unit| sum.saturating_add(unit.plants)),
                needs,
            });
        };
        let mut apart = from;
        if let Some(stack) = self.sowing.stack.filter(|_| may_stack && self.holding.loose.is_none()) {
            apart = shifted(from, i64::from(stack.days)).min(until);
            for pile in units.chunks(usize::from(stack.high.max(1))) {
                push(pile, from, apart);
            }
        }
        for unit in units {
            push(std::slice::from_ref(unit), apart, until);
        }
    }

    fn grams(&self, cells: u32) -> u32 {
        trade::wet_grams(cells, self.holding.volume)
    }

    fn growing(&self, from: NaiveDate, unit: &Unit, holding: &Holding, stays: &mut Vec<Stay>) {
        let until = unit.out.min(self.until());
        let last_start = self.dates.starts.last().copied().unwrap_or(from);
        let hardening = hardening(&self.ground.hardening, self.crop, last_start, until).filter(|_| self.is_last());
        let indoors_until = hardening.map_or(until, |hardening| hardening.first_night.min(until));
        self.indoors(unit, holding, from, indoors_until, stays);
        let Some(hardening) = hardening else { return };
        let needs = Needs { role: Role::Hardening, light: true, heat: false };
        let days_from = hardening.from.max(from);
        let nights_from = hardening.first_night.max(days_from);
        for (from, until, part) in [(days_from, nights_from, PartOfDay::Days), (nights_from, until, PartOfDay::Whole)] {
            let height = self.height_on(holding, shifted(until, -1));
            stays.extend(self.stay(unit, Phase::Hardening, (from, until), part, height, needs));
        }
    }

    fn indoors(&self, unit: &Unit, holding: &Holding, from: NaiveDate, until: NaiveDate, stays: &mut Vec<Stay>) {
        let phase = if self.index == 0 { Phase::Plugs } else { Phase::Pots };
        let needs = Needs { role: Role::Growing, light: true, heat: false };
        for (from, until, height) in self.by_height(holding, from, until.min(unit.out)) {
            let height = height + self.ground.lamp_gap;
            stays.extend(self.stay(unit, phase, (from, until), PartOfDay::Whole, height, needs));
        }
    }

    fn stay(
        &self,
        unit: &Unit,
        phase: Phase,
        (from, until): (NaiveDate, NaiveDate),
        part: PartOfDay,
        height: Length,
        needs: Needs,
    ) -> Option<Stay> {
        Some(Stay {
            trays: unit.trays.clone(),
            sowing: Some(self.sowing.id),
            phase,
            span: DateSpan::new(from, until).ok()?,
            part,
            shape: unit.shape.clone(),
            height,
            grams: self.grams(unit.plants),
            plants: unit.plants,
            needs,
        })
    }

    /// Container and plant on that day, no gap to a lamp.
    fn height_on(&self, holding: &Holding, date: NaiveDate) -> Length {
        let plant = trade::grown_mm(&self.crop.heights.value, (date - self.dates.sown).num_days());
        trade::clear_height_needed(holding.rim_height, holding.pot_height, plant, Length::ZERO)
    }

    /// Cut where the tray outgrows one of the season's clear heights; each part with its greatest
    /// height.
    fn by_height(&self, holding: &Holding, from: NaiveDate, until: NaiveDate) -> Vec<(NaiveDate, NaiveDate, Length)> {
        let outgrown = |date| {
            let needed = self.height_on(holding, date) + self.ground.lamp_gap;
            self.ground.heights.iter().filter(|clear| **clear < needed).count()
        };
        let mut parts = Vec::new();
        let (mut start, mut date) = (from, from);
        while date < until {
            let next = shifted(date, 1);
            if next >= until || next == date || outgrown(next) != outgrown(start) {
                parts.push((start, next.min(until), self.height_on(holding, date)));
                start = next;
            }
            if next == date {
                break;
            }
            date = next;
        }
        parts
    }
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
            grams: 0,
            plants: 0,
            needs: Needs { role: guest.role, light: guest.light, heat: false },
        })
        .collect()
}

/// How much of a lot stands in shared trays, by the rows that their notes give it: whole rows of a
/// tray of cells; in an open flat, the lot's last tray, which is the one that is not full.
pub(super) fn shared_parts(
    season: &Season,
    lot: LotId,
    step: &Step,
    holding: &Holding,
    plants: u32,
) -> Vec<(TrayKey, u32)> {
    let mut left = plants;
    let mut parts = Vec::new();
    for note in season.notes().filter(|note| matches!(note.key, TrayKey::Shared(_))) {
        for rows in note.rows.iter().filter(|rows| rows.lot == lot && rows.step == step.id) {
            let room = match &holding.shape {
                Shape::Tray { inside: Inside::Cells { columns, rows: across }, .. } => {
                    let in_tray = u32::from((*columns).min(*across)).max(1);
                    let rows = u32::try_from(rows.rows.len()).unwrap_or(u32::MAX).min(in_tray);
                    rows.saturating_mul(holding.per_tray) / in_tray
                }
                _ => match left % holding.per_tray.max(1) {
                    0 => holding.per_tray,
                    rest => rest,
                },
            };
            let here = room.min(left);
            left -= here;
            if here > 0 {
                parts.push((note.key, here));
            }
        }
    }
    parts
}

/// Makes one stay at a time of the parts that lots have in a shared tray: in the dark while all are,
/// indoors while any has to be, outside once all that are left are.
pub(super) fn shared(stays: &mut Vec<Stay>) {
    let is_shared = |stay: &Stay| matches!(stay.tray(), Some(TrayKey::Shared(_)));
    let (parts, others): (Vec<Stay>, Vec<Stay>) = std::mem::take(stays).into_iter().partition(is_shared);
    *stays = others;
    let mut by_tray: BTreeMap<TrayKey, Vec<Stay>> = BTreeMap::new();
    for stay in parts {
        if let Some(tray) = stay.tray() {
            by_tray.entry(tray).or_default().push(stay);
        }
    }
    for parts in by_tray.into_values() {
        let mut turns: Vec<NaiveDate> = parts.iter().flat_map(|stay| [stay.span.from(), stay.span.until()]).collect();
        turns.sort_unstable();
        turns.dedup();
        let (mut indoors, mut outside): (Vec<Stay>, Vec<Stay>) = (Vec::new(), Vec::new());
        for (&from, &until) in turns.iter().zip(turns.iter().skip(1)) {
            let Ok(span) = DateSpan::new(from, until) else { continue };
            let present: Vec<&Stay> = parts.iter().filter(|stay| stay.span.contains(from)).collect();
            let (out, within): (Vec<&Stay>, Vec<&Stay>) =
                present.iter().partition(|stay| stay.needs.role == Role::Hardening);
            let lots = |stays: &[&Stay]| stays.iter().map(|stay| stay.sowing).collect::<BTreeSet<_>>();
            // a lot that still needs the night indoors keeps the whole tray there
            if lots(&out).is_superset(&lots(&within)) {
                add(&mut outside, &out, span);
            }
            add(&mut indoors, &within, span);
        }
        stays.extend(indoors);
        stays.extend(outside);
    }
}

/// The parts as one, during those days; goes on with the last one where nothing changed.
fn add(made: &mut Vec<Stay>, parts: &[&Stay], span: DateSpan) {
    let lit = parts.iter().find(|stay| stay.phase != Phase::Germinating);
    let Some(model) = lit.or(parts.first()) else { return };
    let stay = Stay {
        sowing: None,
        span,
        height: parts.iter().map(|stay| stay.height).max().unwrap_or(model.height),
        grams: parts.iter().fold(0, |sum, stay| sum.saturating_add(stay.grams)),
        plants: parts.iter().fold(0, |sum, stay| sum.saturating_add(stay.plants)),
        ..(**model).clone()
    };
    if let Some(last) = made.last_mut()
        && last.span.until() == span.from()
        && *last == (Stay { span: last.span, ..stay.clone() })
        && let Ok(both) = DateSpan::new(last.span.from(), span.until())
    {
        last.span = both;
        return;
    }
    made.push(stay);
}
