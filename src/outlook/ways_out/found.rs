//! All ways out of a season.

use crate::fit::{Cancel, Cancelled, Memory, Progress};
use crate::outlook::Verdict;
use crate::season::{Matters, Unwanted};

use super::combined::{Combined, make_room};
use super::search::ways_out;
use super::tried::{Known, Standing};
use super::way::WayOut;

/// What can be changed so that everything fits.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// For each crunch, in its order, those that remove it first, cheapest first.
    pub of_crunches: Vec<Vec<WayOut>>,
    /// Together, for the whole season.
    pub best: Combined,
}

impl Found {
    /// As far as it still counts where these are not wanted.
    #[must_use]
    pub fn without(&self, unwanted: &[Unwanted]) -> Self {
        let may = |way: &WayOut| !way.changes.iter().any(|change| unwanted.contains(&change.refused()));
        let of_crunches = self.of_crunches.iter().map(|ways| ways.iter().filter(|way| may(way)).cloned().collect());
        let best = Combined { way: self.best.way.clone().filter(may), ..self.best.clone() };
        Self { of_crunches: of_crunches.collect(), best }
    }

    /// The cheapest of those that make everything fit with the fewest changes, where that are fewer than the best has.
    pub fn simpler(&self) -> Option<&WayOut> {
        let best = self.best.way.as_ref()?.changes.len();
        let fits = |way: &&WayOut| way.effect.verdict == Verdict::Fits && way.changes.len() < best;
        // each list has the cheapest first
        self.of_crunches.iter().flatten().filter(fits).min_by_key(|way| way.changes.len())
    }

    /// The same in the order of what matters now, until they are looked for again by it.
    #[must_use]
    pub fn weighed(&self, matters: Matters) -> Self {
        let mut found = self.clone();
        for ways in &mut found.of_crunches {
            ways.sort_by_key(|way| way.rank(matters));
        }
        found
    }

    /// Whether the best makes everything fit.
    pub fn fits(&self) -> bool {
        self.best.way.as_ref().is_some_and(|way| way.effect.verdict == Verdict::Fits)
    }
}

/// The ways out of every crunch, and the cheapest of all for the season.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub fn find(of: &Standing<'_>, memory: &mut Memory, progress: &Progress, cancel: &Cancel) -> Result<Found, Cancelled> {
    let steps = of.outlook.crunches.len() + 1;
    let mut of_crunches = Vec::new();
    let mut known = Known::of(of, memory, cancel)?;
    for (at, crunch) in of.outlook.crunches.iter().enumerate() {
        progress.set(at, steps);
        of_crunches.push(ways_out(of, crunch, &mut known, cancel)?);
    }
    progress.set(steps - 1, steps);
    let best = make_room(of, &mut known, cancel)?;
    let best = cheapest(best, &of_crunches, of);
    Ok(Found { of_crunches, best })
}

/// One change alone that makes everything fit may be cheaper than several that were found together.
fn cheapest(combined: Combined, ways: &[Vec<WayOut>], of: &Standing<'_>) -> Combined {
    let matters = of.season.settings().matters;
    let whole = ways.iter().flatten().filter(|way| way.effect.verdict == Verdict::Fits);
    let Some(one) = whole.min_by_key(|way| way.price.points(&matters)) else { return combined };
    let is_cheaper = combined.way.as_ref().is_none_or(|way| {
        way.effect.verdict != Verdict::Fits || way.price.points(&matters) > one.price.points(&matters)
    });
    if is_cheaper { Combined { way: Some(one.clone()), none_fits: false, cheapest: false } } else { combined }
}
