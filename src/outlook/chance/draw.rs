//! The question, its hash, and the work on it.

use siphasher::sip128::{Hasher128 as _, SipHasher13};

use crate::fit::{Cancel, Cancelled, Progress};
use crate::season::{Library, Place, Season};

use super::super::answer::ProblemHash;
use super::drawn::{Chance, Draws};
use super::{count, table};

/// Draws seasons and holds each against the shelves.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub fn chance(
    season: &Season,
    library: &Library,
    draws: Draws,
    problem: ProblemHash,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Chance, Cancelled> {
    let table = table::table(season, library, draws, cancel)?;
    let counted = count::count(&table, draws, progress, cancel)?;
    Ok(Chance { problem, draws: draws.number, varies: table.varies, weeks: counted.weeks(season, &table) })
}

/// The hash under which [`chance`] answers: of the likely season's `problem`, and of all that says
/// how it may turn out.
pub fn chance_hash(season: &Season, library: &Library, problem: ProblemHash) -> ProblemHash {
    let mut hasher = Feed(SipHasher13::new());
    let crops = season.sowings().filter_map(|sowing| season.crop(library, &sowing.crop));
    let crops: std::collections::BTreeMap<_, _> = crops.map(|crop| (&crop.key, crop)).collect();
    hasher.feed(&crops);
    season.sowings().for_each(|sowing| hasher.feed(sowing));
    // where its racks stand is all the same to chance
    season.places().for_each(|place| hasher.feed(&Place { floor: None, ..place.clone() }));
    hasher.feed(season.settings());
    ProblemHash(problem.0 ^ hasher.0.finish128().as_u128())
}

/// Hashes what a thing looks like in full.
struct Feed(SipHasher13);

impl Feed {
    fn feed(&mut self, thing: &impl std::fmt::Debug) {
        use std::fmt::Write as _;
        write!(self, "{thing:?};").ok(); // a hasher takes all that it is given
    }
}

impl std::fmt::Write for Feed {
    fn write_str(&mut self, text: &str) -> std::fmt::Result {
        std::hash::Hasher::write(&mut self.0, text.as_bytes());
        Ok(())
    }
}
