//! A season's sowings, prepared to be forecast again and again with other luck.

use std::collections::BTreeMap;

use crate::season::{Library, LotId, Season, Sowing, SowingId, TrayKey};

use super::scenario::Scenario;
use super::shared;
use super::shared_tray::Sharing;
use super::sharing::share;
use super::sown::{Sown, Timed};
use super::stay::Stay;
use super::stays::{self, Premises};

/// What [`drawn`](super::drawn) works out for every draw anew, worked out once.
pub struct Chances<'a> {
    season: &'a Season,
    ground: Premises,
    sharing: Sharing,
    bunches: Vec<Vec<Sown<'a>>>,
}

/// All that luck decides about some sowings: equal ones have equal stays.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Bunch(Vec<Option<Timed>>);

impl<'a> Chances<'a> {
    pub fn of(season: &'a Season, library: &'a Library) -> Self {
        let ground = Premises::of(season);
        let of_sowing = |sowing: &'a Sowing| {
            let crop = season.crop(library, &sowing.crop)?;
            Some(Sown::of(season, library, crop, sowing, &mut Vec::new()))
        };
        let all: Vec<Sown<'a>> = season.sowings().filter_map(of_sowing).collect();
        let sharing = share(season, &ground, &all.iter().collect::<Vec<_>>());
        let together = together(season, &sharing);
        let mut bunches: BTreeMap<SowingId, Vec<Sown<'a>>> = BTreeMap::new();
        for sown in all {
            let first = together.get(&sown.sowing.id).copied().unwrap_or(sown.sowing.id);
            bunches.entry(first).or_default().push(sown);
        }
        Self { season, ground, sharing, bunches: bunches.into_values().collect() }
    }

    /// How many bunches there are: sowings that share trays, and each of the others by itself.
    pub fn len(&self) -> usize {
        self.bunches.len()
    }

    pub fn is_empty(&self) -> bool {
        self.bunches.is_empty()
    }

    /// What luck says about a bunch.
    pub fn draw(&self, bunch: usize, scenario: &Scenario) -> Bunch {
        let sown = self.bunches.get(bunch).into_iter().flatten();
        let lots = sown.flat_map(|sown| sown.lots.iter().map(move |lot| (sown, lot)));
        Bunch(lots.map(|(sown, lot)| sown.time(lot, scenario, &mut Vec::new()).map(|(timed, _)| timed)).collect())
    }

    /// Its stays, as the forecast of the whole season with that luck has them.
    pub fn stays(&self, bunch: usize, drawn: &Bunch) -> Vec<Stay> {
        let sown = self.bunches.get(bunch).into_iter().flatten();
        let lots = sown.flat_map(|sown| sown.lots.iter().map(move |lot| (sown, lot)));
        let mut found = Vec::new();
        for ((sown, lot), timed) in lots.zip(&drawn.0) {
            let Some(timed) = timed else { continue };
            found.extend(sown.steps(&self.ground, &self.sharing, lot, timed).into_iter().flat_map(|stood| stood.stays));
        }
        shared::shared(&mut found, &self.sharing);
        found
    }

    /// What no luck moves.
    pub fn guests(&self) -> Vec<Stay> {
        self.season.guests().flat_map(stays::of_guest).collect()
    }
}

/// For sowings with rows in a shared tray, the first of all that hang together.
fn together(season: &Season, sharing: &Sharing) -> BTreeMap<SowingId, SowingId> {
    let sowing_of = |lot: LotId| season.sowing_of(lot).map(|sowing| sowing.id);
    let mut first: BTreeMap<SowingId, SowingId> = BTreeMap::new();
    let notes = season.notes().filter(|note| matches!(note.key, TrayKey::Shared(_)));
    let given = notes.map(|note| note.rows.iter().filter_map(|rows| sowing_of(rows.lot)).collect::<Vec<_>>());
    for here in given.chain(sharing.together()) {
        let known: Vec<SowingId> = here.iter().map(|id| first.get(id).copied().unwrap_or(*id)).collect();
        let Some(&least) = known.iter().min() else { continue };
        for other in first.values_mut().filter(|other| known.contains(*other)) {
            *other = least;
        }
        first.extend(here.into_iter().map(|id| (id, least)));
    }
    first
}
