//! The same plants in less room: other pots, pots in a tray, pots rim to rim, fewer of them.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use crate::forecast::Forecast;
use crate::season::{
    Container, ContainerKey, ContainerKind, Flat, Library, Op, Pot, Season, Sowing, Spacing, Step, TrayKey, Wanted,
};
use crate::trade::{self, SmallStep};
use crate::units::{Length, Size, Volume};

use super::draft::Draft;
use super::way::{Change, Price};

/// So many pots of other sizes are looked at for a step, the largest first.
const MOST_SIZES: usize = 4;
/// And so many whole trays fewer.
const MOST_TRAYS: u32 = 40;

pub(super) struct Containers<'a> {
    pub(super) season: &'a Season,
    pub(super) library: &'a Library,
    pub(super) forecast: &'a Forecast,
    pub(super) sowing: &'a Sowing,
    /// From here on nothing has a number.
    pub(super) fresh: u32,
}

impl Containers<'_> {
    pub(super) fn drafts(&self) -> Vec<Draft> {
        let steps = || self.sowing.steps.iter().enumerate();
        let pots = steps().flat_map(|(index, step)| self.pots(index, step));
        let tight = steps().filter_map(|(index, step)| self.tight(index, step));
        pots.chain(tight).chain(self.fewer()).collect()
    }

    fn find(&self, key: &ContainerKey) -> Option<&Container> {
        self.season.container(self.library, key)
    }

    fn pot(&self, step: &Step) -> Option<(&Container, &Pot)> {
        let container = self.find(&step.container)?;
        match &container.kind {
            ContainerKind::Pot(pot) => Some((container, pot)),
            _ => None,
        }
    }

    /// Pots or cells of which more stand in the room of those that were planned. Only a step that has not begun,
    /// without a number of the grower's own.
    fn pots(&self, index: usize, step: &Step) -> Vec<Draft> {
        let container = self.find(&step.container).filter(|_| self.may_change(step) && index > 0);
        let flat = step.carried_in.as_ref().or_else(|| self.usual_flat());
        let flat = flat.and_then(|key| Some((key, self.flat(key)?)));
        let (Some(container), Some((key, flat))) = (container, flat) else { return Vec::new() };
        let now = match (&container.kind, &step.carried_in) {
            (ContainerKind::Pot(pot), None) => loose_in(pot, flat),
            _ => in_tray(container, flat).unwrap_or(u32::MAX),
        };
        let before = index.checked_sub(1).and_then(|before| self.find(&self.sowing.steps.get(before)?.container));
        // the largest of those of which as many stand there
        let mut sizes: BTreeMap<u32, (&Container, Option<Volume>)> = BTreeMap::new();
        let volume = trade::cell_volume(container);
        for other in self.season.containers(self.library) {
            let holds = trade::cell_volume(other);
            let is_new = other.key != step.container || step.carried_in.is_none();
            let is_larger = holds.zip(volume).is_some_and(|(holds, now)| holds > now);
            let Some(number) = in_tray(other, flat).filter(|number| *number > now && is_new && !is_larger) else {
                continue;
            };
            if before.is_some_and(|before| is_no_larger((other, number), (before, in_tray(before, flat)))) {
                continue;
            }
            if sizes.get(&number).is_none_or(|(_, most)| holds > *most) {
                sizes.insert(number, (other, holds));
            }
        }
        let mut drafts = Vec::new();
        for (number, (other, _)) in sizes.into_iter().take(MOST_SIZES) {
            let Some(draft) = self.into(index, other, before, key) else { continue };
            let in_trays = step.carried_in.is_some() || matches!(container.kind, ContainerKind::Plug(_));
            if other.key != step.container && in_trays {
                drafts.extend(self.some_into(&draft, now, number));
            }
            drafts.push(draft);
        }
        drafts
    }

    /// The same of only so many as leave whole trays of what was planned, `now` to each: with one tray of them, with two,
    /// and so on.
    fn some_into(&self, all: &Draft, now: u32, then: u32) -> Vec<Draft> {
        let ([wanted], [_]) = (self.sowing.wanted.as_slice(), self.sowing.lots.as_slice()) else { return Vec::new() };
        let (Some(changed), None) = (all.sowings().next(), self.sowing.begun) else { return Vec::new() };
        let [Change::Into { sowing, step, from, to, carried_in, soon }] = all.changes.as_slice() else {
            return Vec::new();
        };
        let of = wanted.plants;
        let draft = |trays: u32| {
            let kept = now.saturating_mul(trays);
            let plants = of.checked_sub(kept).filter(|plants| *plants > 0)?;
            // nothing is won where the others fill no tray less
            let fewer = trays.saturating_add(plants.div_ceil(then.max(1))) < of.div_ceil(now.max(1));
            let with = |from: &Sowing, plants| Sowing { wanted: vec![Wanted { plants, ..*wanted }], ..from.clone() };
            let (rest, some) = (with(self.sowing, kept), with(changed, plants).renumbered(self.fresh));
            let (to, carried_in) = (to.clone(), carried_in.clone());
            let (sowing, step, from, soon) = (*sowing, *step, from.clone(), *soon);
            let change = Change::SomeInto { sowing, step, from, to, carried_in, plants, of, soon };
            let price = match all.price {
                _ if soon => Price { smaller: plants, soon: plants, ..Price::default() },
                Price { smaller: 1.., .. } => Price { smaller: plants, ..Price::default() },
                Price { larger: 1.., .. } => Price { larger: plants, ..Price::default() },
                Price { other: 1.., .. } => Price { other: plants, ..Price::default() },
                _ => Price::default(),
            };
            fewer.then(|| Draft::new(change, vec![Op::PutSowing(rest), Op::PutSowing(some)], price))
        };
        (1..=MOST_TRAYS).map_while(|trays| (now.saturating_mul(trays) < of).then(|| draft(trays))).flatten().collect()
    }

    fn flat(&self, key: &ContainerKey) -> Option<&Flat> {
        match &self.find(key)?.kind {
            ContainerKind::Flat(flat) => Some(flat),
            _ => None,
        }
    }

    /// The flat that most pots of the season stand in.
    fn usual_flat(&self) -> Option<&ContainerKey> {
        let mut used: BTreeMap<&ContainerKey, usize> = BTreeMap::new();
        for key in self.season.sowings().flat_map(|sowing| &sowing.steps).filter_map(|step| step.carried_in.as_ref()) {
            *used.entry(key).or_insert(0) += 1;
        }
        let most = used.into_iter().max_by_key(|(_, times)| *times).map(|(key, _)| key);
        most.or_else(|| trade::usual_flat(self.library))
    }

    fn into(&self, index: usize, other: &Container, before: Option<&Container>, flat: &ContainerKey) -> Option<Draft> {
        let mut sowing = self.sowing.clone();
        let step = sowing.steps.get_mut(index)?;
        let from = std::mem::replace(&mut step.container, other.key.clone());
        let carried_in = matches!(other.kind, ContainerKind::Pot(_)).then(|| flat.clone());
        step.carried_in.clone_from(&carried_in);
        let id = step.id;
        let volumes = before.and_then(trade::cell_volume).zip(trade::cell_volume(other));
        let soon = volumes.and_then(|(from, to)| trade::step_up(from, to)) == Some(SmallStep::MovesAgainSoon);
        let pots = sowing.plants_wanted();
        let planned = self.find(&from);
        let price = match planned.and_then(|planned| against(planned, other)) {
            _ if soon => Price { smaller: if from == other.key { 0 } else { pots }, soon: pots, ..Price::default() },
            _ if from == other.key => Price::default(),
            Some(Ordering::Less) => Price { smaller: pots, ..Price::default() },
            Some(Ordering::Equal) => Price::default(),
            Some(Ordering::Greater) => Price { larger: pots, ..Price::default() },
            None => Price { other: pots, ..Price::default() },
        };
        let change = Change::Into { sowing: sowing.id, step: id, from, to: other.key.clone(), carried_in, soon };
        Some(Draft::of_sowing(change, sowing, price))
    }

    fn may_change(&self, step: &Step) -> bool {
        step.per_tray.is_none() && self.sowing.seen.is_empty()
    }

    fn tight(&self, index: usize, step: &Step) -> Option<Draft> {
        let spaced = match &step.spaced {
            Some(spacing) => *spacing != Spacing::Never,
            None => self.season.crop(self.library, &self.sowing.crop)?.spaced,
        };
        self.pot(step).filter(|_| spaced)?;
        let mut sowing = self.sowing.clone();
        sowing.steps.get_mut(index)?.spaced = Some(Spacing::Never);
        let price = Price { touching: sowing.plants_wanted(), ..Price::default() };
        let change = Change::Tight { sowing: sowing.id, step: step.id };
        Some(Draft::of_sowing(change, sowing, price))
    }

    /// As many fewer as make a whole tray less in the last step.
    pub(super) fn fewer(&self) -> Vec<Draft> {
        let [wanted] = self.sowing.wanted.as_slice() else { return Vec::new() };
        let course = self.forecast.courses_of(self.sowing.id).next();
        let Some((step, trays)) = course.and_then(|course| course.trays.last()).copied() else { return Vec::new() };
        let is_of = |tray: &TrayKey| matches!(tray, TrayKey::Own { step: of, .. } if *of == step);
        let plants = self.forecast.stays.iter().filter(|stay| stay.trays.first().is_some_and(is_of));
        let Some(per_tray) = plants.map(|stay| stay.plants).max().filter(|_| self.sowing.seen.is_empty()) else {
            return Vec::new();
        };
        let to = |less: u32| {
            let to = per_tray.saturating_mul(trays.saturating_sub(less)).min(wanted.plants);
            (to > 0 && to < wanted.plants).then_some(to)
        };
        let all = (0..=MOST_TRAYS.min(trays.saturating_sub(1))).filter_map(to);
        let draft = |to: u32| {
            let mut sowing = self.sowing.clone();
            sowing.wanted = vec![Wanted { plants: to, ..*wanted }];
            let change = Change::Fewer { sowing: sowing.id, from: wanted.plants, to };
            Draft::of_sowing(change, sowing, Price { fewer: wanted.plants - to, ..Price::default() })
        };
        all.map(draft).collect()
    }
}

/// Whether one holds more than was planned; of which that is not known, whether it covers more. Of the same ground
/// nobody can tell.
fn against(planned: &Container, other: &Container) -> Option<Ordering> {
    if let (Some(planned), Some(other)) = (trade::cell_volume(planned), trade::cell_volume(other)) {
        return Some(other.cmp(&planned));
    }
    Some(ground_of_one(other)?.cmp(&ground_of_one(planned)?)).filter(|order| *order != Ordering::Equal)
}

/// What one plant has of it, in 1/8000 mm each way.
fn ground_of_one(container: &Container) -> Option<i64> {
    match &container.kind {
        ContainerKind::Pot(pot) => Some(pot.top.value.value().units().saturating_pow(2)),
        ContainerKind::Plug(plug) => {
            let Size { width, depth } = &plug.outer.value;
            let whole = width.value().units().saturating_mul(depth.value().units());
            whole.checked_div(i64::from(plug.cells))
        }
        ContainerKind::Flat(_) | ContainerKind::Class { .. } => None,
    }
}

/// How many pots stand in that flat, or how many cells a tray of about its size has.
fn in_tray(container: &Container, flat: &Flat) -> Option<u32> {
    match &container.kind {
        ContainerKind::Pot(pot) => trade::pots_in_flat(pot, flat, Length::ZERO).map(|stand| stand.number),
        ContainerKind::Plug(plug) => {
            let ground = |of: &Size| (of.width.value() * of.depth.value()).units();
            let (tray, of_flat) = (ground(&plug.outer.value), ground(&flat.outer.value));
            (tray * 10 >= of_flat * 9 && tray * 10 <= of_flat * 11).then_some(u32::from(plug.cells))
        }
        ContainerKind::Flat(_) | ContainerKind::Class { .. } => None,
    }
}

/// How many loose pots take the room of that flat.
fn loose_in(pot: &Pot, flat: &Flat) -> u32 {
    let side = pot.top.value.value();
    let ground = flat.outer.value.width.value() * flat.outer.value.depth.value();
    u32::try_from(ground.units() / (side * side).units().max(1)).unwrap_or(u32::MAX)
}

/// Whether plants would stand in no more mix than before, by what the two hold, else by how many stand in a tray.
fn is_no_larger((to, in_one): (&Container, u32), (from, before): (&Container, Option<u32>)) -> bool {
    match (trade::cell_volume(from), trade::cell_volume(to)) {
        (Some(from), Some(to)) => to <= from,
        _ => before.is_some_and(|before| in_one >= before),
    }
}
