//! A season worked out once, of which one sowing after the other is tried otherwise: only that one, and the lots that
//! then share other trays than they did, are worked out again.

use std::collections::{BTreeMap, BTreeSet};

use crate::season::{Library, LotId, Season, Sowing, SowingId, TrayKey};

use super::scenario::Scenario;
use super::shared::shared;
use super::shared_tray::Sharing;
use super::sharing::{Rest, Wants, candidates, put_together};
use super::sown::{Sown, Timed};
use super::stay::Stay;
use super::stays::Premises;

/// What no luck changes about a season's sowings, each lot with its dates and stays as they are likely.
pub struct Prepared<'a> {
    season: &'a Season,
    library: &'a Library,
    ground: Premises,
    sowings: BTreeMap<SowingId, Made<'a>>,
    /// Lots that may share trays with each other.
    alike: BTreeMap<Wants<'a>, Group>,
    /// What lots have in shared trays, by lot.
    parts: BTreeMap<TrayKey, Vec<(LotOf, Stay)>>,
}

/// A lot, in the order of the season: by sowing, then as it stands in it.
type LotOf = (SowingId, usize);

struct Made<'a> {
    sown: Sown<'a>,
    timed: Vec<Option<Timed>>,
}

#[derive(Default)]
struct Group {
    /// In the order of the season.
    rests: Vec<Rest>,
    sharing: Sharing,
}

/// What becomes of a season's stays with one sowing otherwise.
#[derive(Debug, PartialEq)]
pub struct Redone {
    lots: BTreeSet<LotId>,
    trays: BTreeSet<TrayKey>,
    /// In place of all that are redone; in order.
    pub stays: Vec<Stay>,
}

impl Redone {
    /// Whether the stays of that tray are others, or may be.
    pub fn redoes(&self, tray: TrayKey) -> bool {
        self.trays.contains(&tray) || matches!(tray, TrayKey::Own { lot, .. } if self.lots.contains(&lot))
    }

    /// Lots whose trays are others, or may be, and trays that they share.
    pub fn of(&self) -> (impl Iterator<Item = LotId>, impl Iterator<Item = TrayKey>) {
        (self.lots.iter().copied(), self.trays.iter().copied())
    }
}

impl<'a> Made<'a> {
    fn of(season: &'a Season, library: &'a Library, sowing: &'a Sowing) -> Option<Self> {
        let crop = season.crop(library, &sowing.crop)?;
        let sown = Sown::of(season, library, crop, sowing, &mut Vec::new());
        let time = |lot| Some(sown.time(lot, &Scenario::none(), &mut Vec::new())?.0);
        let timed = sown.lots.iter().map(time).collect();
        Some(Self { sown, timed })
    }

    fn lot(&self, at: usize) -> Option<LotId> {
        self.sown.lots.get(at).map(|lot| lot.lot.id)
    }

    /// What of it may share trays, by what it wants.
    fn rests(&self, season: &Season, ground: &Premises) -> Vec<(Wants<'a>, Rest)> {
        let rest = |(wants, candidate): (Wants<'a>, super::sharing::Candidate<'_, 'a>)| {
            let at = self.sown.lots.iter().position(|lot| lot.lot.id == candidate.lot.lot.id)?;
            Some((wants, candidate.rest(season, ground, self.timed.get(at)?.as_ref()?)?))
        };
        candidates(ground, &self.sown).into_iter().filter_map(rest).collect()
    }

    /// The stays of one of its lots, those in shared trays as its part of them.
    fn stays(&self, at: usize, ground: &Premises, sharing: &Sharing) -> Vec<Stay> {
        let lot = self.sown.lots.get(at).zip(self.timed.get(at).and_then(Option::as_ref));
        let steps = lot.map(|(lot, timed)| self.sown.steps(ground, sharing, lot, timed));
        steps.into_iter().flatten().flat_map(|stood| stood.stays).collect()
    }
}

impl Group {
    /// With those in place of all that the sowing has in it.
    fn with(&self, wants: &Wants<'_>, sowing: SowingId, rests: &[Rest]) -> Sharing {
        let others = |is_before: bool| {
            self.rests.iter().filter(move |rest| if is_before { rest.sowing < sowing } else { rest.sowing > sowing })
        };
        let all: Vec<&Rest> = others(true).chain(rests).chain(others(false)).collect();
        let mut sharing = Sharing::default();
        if all.len() > 1 {
            put_together(wants, &all, &mut sharing);
        }
        sharing
    }
}

impl<'a> Prepared<'a> {
    pub fn of(season: &'a Season, library: &'a Library) -> Self {
        let ground = Premises::of(season);
        let made = |sowing: &'a Sowing| Some((sowing.id, Made::of(season, library, sowing)?));
        let sowings: BTreeMap<SowingId, Made<'a>> = season.sowings().filter_map(made).collect();
        let mut alike: BTreeMap<Wants<'a>, Group> = BTreeMap::new();
        for (wants, rest) in sowings.values().flat_map(|made| made.rests(season, &ground)) {
            alike.entry(wants).or_default().rests.push(rest);
        }
        let mut sharing = Sharing::default();
        for (wants, group) in alike.iter_mut().filter(|(_, group)| group.rests.len() > 1) {
            put_together(wants, &group.rests.iter().collect::<Vec<_>>(), &mut group.sharing);
            sharing.extend(&group.sharing);
        }
        let mut parts: BTreeMap<TrayKey, Vec<(LotOf, Stay)>> = BTreeMap::new();
        for (&id, made) in &sowings {
            for at in 0..made.sown.lots.len() {
                let shared = made.stays(at, &ground, &sharing).into_iter();
                let shared = shared.filter_map(|stay| Some((sharing.tray_of(&stay)?, stay)));
                shared.for_each(|(tray, stay)| parts.entry(tray).or_default().push(((id, at), stay)));
            }
        }
        Self { season, library, ground, sowings, alike, parts }
    }

    /// The season with that sowing in place of the one of its number, or beside the others.
    pub fn with(&self, put: &Sowing) -> Redone {
        let made = Made::of(self.season, self.library, put);
        let mut others: BTreeMap<Wants<'_>, Vec<Rest>> = BTreeMap::new();
        for (wants, rest) in made.iter().flat_map(|made| made.rests(self.season, &self.ground)) {
            others.entry(wants).or_default().push(rest);
        }
        for (wants, _) in self.alike.iter().filter(|(_, group)| group.rests.iter().any(|rest| rest.sowing == put.id)) {
            others.entry(wants.clone()).or_default();
        }
        let empty = Group::default();
        let mut lots: BTreeSet<LotId> =
            made.iter().flat_map(|made| made.sown.lots.iter().map(|lot| lot.lot.id)).collect();
        let planned = self.sowings.get(&put.id);
        lots.extend(planned.into_iter().flat_map(|made| made.sown.lots.iter().map(|lot| lot.lot.id)));
        let mut sharing = Sharing::default();
        let mut affected: BTreeSet<&Wants<'_>> = BTreeSet::new();
        for (wants, rests) in &others {
            let group = self.group(wants).unwrap_or(&empty);
            let then = group.with(wants, put.id, rests);
            let (was, is) = (group.sharing.parts(), then.parts());
            lots.extend(
                was.chain(is)
                    .filter(|&(lot, step)| group.sharing.of(lot, step) != then.of(lot, step))
                    .map(|(lot, _)| lot),
            );
            sharing.extend(&then);
            affected.insert(wants);
        }
        let unchanged = self.alike.iter().filter(|(wants, _)| !affected.contains(*wants));
        for (_, group) in unchanged.filter(|(_, group)| group.sharing.parts().any(|(lot, _)| lots.contains(&lot))) {
            sharing.extend(&group.sharing);
        }
        self.redone(put.id, made.as_ref(), lots, &sharing)
    }

    fn group<'w>(&'w self, wants: &Wants<'w>) -> Option<&'w Group> {
        self.alike.get(wants)
    }

    /// What those lots come to.
    fn redone(&self, id: SowingId, put: Option<&Made<'_>>, lots: BTreeSet<LotId>, sharing: &Sharing) -> Redone {
        let is_redone = |(sowing, at): LotOf| {
            let lot = self.sowings.get(&sowing).and_then(|made| made.lot(at));
            sowing == id || lot.is_some_and(|lot| lots.contains(&lot))
        };
        let mut trays: BTreeSet<TrayKey> = BTreeSet::new();
        let left = self.parts.iter().filter(|(_, parts)| parts.iter().any(|(of, _)| is_redone(*of)));
        trays.extend(left.map(|(tray, _)| *tray));
        let (mut stays, mut parts) = (Vec::new(), Vec::new());
        let others = self.sowings.iter().filter(|(of, _)| **of != id).map(|(of, made)| (*of, made));
        for (sowing, made) in others.chain(put.map(|made| (id, made))) {
            let here = (0..made.sown.lots.len()).filter(|at| made.lot(*at).is_some_and(|lot| lots.contains(&lot)));
            for at in here {
                for stay in made.stays(at, &self.ground, sharing) {
                    match sharing.tray_of(&stay) {
                        Some(tray) => {
                            trays.insert(tray);
                            parts.push(((sowing, at), stay));
                        }
                        None => stays.push(stay),
                    }
                }
            }
        }
        let kept = trays.iter().filter_map(|tray| self.parts.get(tray)).flatten();
        parts.extend(kept.filter(|(of, _)| !is_redone(*of)).cloned());
        parts.sort_by_key(|(of, _)| *of);
        stays.extend(parts.into_iter().map(|(_, stay)| stay));
        shared(&mut stays, sharing);
        stays.sort_by(|one, other| (one.span, &one.trays).cmp(&(other.span, &other.trays)));
        Redone { lots, trays, stays }
    }
}
