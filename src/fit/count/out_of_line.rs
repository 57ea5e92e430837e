//! Round pots of one size on a rectangle, in no rows at all, where that holds more than rows do.
//!
//! So many middles are strewn over the shelf and those too close are pushed apart, sweep after sweep, until none
//! is, or the pushing no longer helps; then the one that is pressed most is put elsewhere and it is tried again.
//! Fractions decide where to look and nothing else: what comes out is rounded to whole units of length, and
//! taken only if [`stand_apart`] finds, in whole numbers, that no two are closer than a diameter and all are inside.
//! That no such standing was found proves nothing, and now and then a shelf a little larger is known to hold one
//! less: in 3 of 975 pairs of shelves 5 mm apart.
//!
//! It costs a few milliseconds where rows cost microseconds. So it isn't asked where Oler's bound leaves no room
//! for one more, nor for more pots than stand on a grower's shelf in one glance, and never twice for one size. The
//! work is a number of sweeps, and chance comes from one seed: the same shelf gets the same answer on every machine,
//! turned by a quarter too.
//!
//! Pushing apart what overlaps is as old as packing by computer; the rest is our own.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::circles::{RoundRows, oler_bound, round_rows};
use crate::fit::problem::Rect;
use crate::fit::random::Random;

/// More pots than this stand in rows: out of line there is little to gain, and nobody sets out so many by eye.
const MOST_POTS: i64 = 40;
/// Strewn anew, or with one pot put elsewhere.
const TRIES: usize = 150;
/// So many tries in a row begin with what the last one left.
const IN_A_ROW: usize = 5;
/// Places that are weighed for a pot that is put elsewhere.
const PLACES: usize = 20;
/// Sweeps between two looks at who is near whom.
const SWEEPS: usize = 10;
const LOOKS: usize = 40;
/// Two pots overlap within the sweeps of a look only if they were this near, in diameters.
const NEAR: f64 = 1.35;
/// Beyond what parts two: their neighbours will push back.
const PUSH: f64 = 1.6;
/// A try ends where a look leaves more than this of the overlap that it found.
const WORTHWHILE: f64 = 0.88;
/// Wanted beyond a diameter, in units of length, so that rounding brings no two too close.
const ROUNDING: f64 = 2.0;
/// Of this much less nobody speaks, as rounding takes up to 1.42 of those two units.
const CLOSE_ENOUGH: f64 = 0.25;

/// The best standing known of pots of one size on a shelf; a pot is known by the square around it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RoundPots {
    rows: RoundRows,
    /// Where they stand, if more than in rows.
    out_of_line: Option<Arc<[Rect]>>,
}

impl RoundPots {
    pub fn count(&self) -> i64 {
        let count = self.out_of_line.as_ref().and_then(|spots| i64::try_from(spots.len()).ok());
        count.unwrap_or_else(|| self.rows.count())
    }

    /// The best rows, which hold fewer where this is out of line.
    pub const fn rows(&self) -> &RoundRows {
        &self.rows
    }

    pub const fn is_in_rows(&self) -> bool {
        self.out_of_line.is_none()
    }

    /// The square around each pot; lazy where they stand in rows, as there may be millions.
    pub fn spots(&self) -> impl Iterator<Item = Rect> + '_ {
        let (rows, spots) = match &self.out_of_line {
            Some(spots) => (None, spots.as_ref()),
            None => (Some(&self.rows), [].as_slice()),
        };
        rows.into_iter().flat_map(RoundRows::spots).chain(spots.iter().copied())
    }
}

/// How many round pots fit, in rows or not, as far as is known; never more than [`oler_bound`].
pub fn count_round(width: i64, depth: i64, diameter: i64) -> i64 {
    round_pots(width, depth, diameter).count()
}

/// The best standing known for pots of `diameter` on `width` × `depth`, all in the same unit: rows, unless
/// more stand without.
pub fn round_pots(width: i64, depth: i64, diameter: i64) -> RoundPots {
    let rows = round_rows(width, depth, diameter);
    let out_of_line = searched(width, depth, diameter, rows.count());
    RoundPots { rows, out_of_line }
}

/// Searched shelves, so that none is searched for twice; few sizes ever meet few shelves.
static KNOWN: Mutex<Known> = Mutex::new(BTreeMap::new());
const MOST_KNOWN: usize = 2_000;

/// By width, depth and diameter; none where no more were found than stand in rows.
type Known = BTreeMap<[i64; 3], Option<Arc<[Rect]>>>;

fn searched(width: i64, depth: i64, diameter: i64, rows: i64) -> Option<Arc<[Rect]>> {
    if !may_hold(width, depth, diameter, rows.saturating_add(1)) {
        return None;
    }
    let size = [width, depth, diameter];
    if let Some(known) = KNOWN.lock().unwrap_or_else(PoisonError::into_inner).get(&size) {
        return known.clone();
    }
    let found: Option<Arc<[Rect]>> = more_than(width, depth, diameter, rows).map(Arc::from);
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    if known.len() >= MOST_KNOWN {
        known.clear();
    }
    known.insert(size, found.clone());
    found
}

/// Whether a search for so many is worth it.
fn may_hold(width: i64, depth: i64, diameter: i64, pots: i64) -> bool {
    let beyond = ROUNDING as i64;
    let sides = [width, depth, diameter].map(|side| side.saturating_add(beyond));
    (2..=MOST_POTS).contains(&pots) && oler_bound(sides[0], sides[1], sides[2]) >= pots
}

/// As many more than `rows` as are found one by one.
fn more_than(width: i64, depth: i64, diameter: i64, rows: i64) -> Option<Vec<Rect>> {
    let (long, short) = (width.max(depth), width.min(depth));
    let mut best: Option<Vec<Rect>> = None;
    let mut pots = rows + 1;
    while may_hold(long, short, diameter, pots) {
        let Some(found) = search(long, short, diameter, pots) else { break };
        (best, pots) = (Some(found), pots + 1);
    }
    if width < depth {
        best.iter_mut().flatten().for_each(|spot| (spot.x, spot.y) = (spot.y, spot.x));
    }
    best
}

fn search(width: i64, depth: i64, diameter: i64, pots: i64) -> Option<Vec<Rect>> {
    let apart = diameter as f64 + ROUNDING;
    let (across, along) = (width - diameter, depth - diameter);
    let floor = [across as f64 / apart, along as f64 / apart];
    let mut strewn = Strewn::new(floor, usize::try_from(pots).ok()?);
    let whole = |at: f64, most: i64| ((at * apart + 0.5).floor() as i64).clamp(0, most);
    for at in 0..TRIES {
        if at % IN_A_ROW == 0 {
            strewn.strew();
        } else {
            strewn.put_elsewhere();
        }
        if !strewn.pushed_apart(CLOSE_ENOUGH / apart) {
            continue;
        }
        let middle = |[x, y]: [f64; 2]| Rect { x: whole(x, across), y: whole(y, along), w: diameter, d: diameter };
        let spots: Vec<Rect> = strewn.middles.iter().copied().map(middle).collect();
        if stand_apart(&spots, width, depth, diameter) {
            return Some(spots);
        }
    }
    None
}

/// Whether all are on the shelf and no two of them closer than a diameter, in whole numbers.
fn stand_apart(spots: &[Rect], width: i64, depth: i64, diameter: i64) -> bool {
    let shelf = Rect { x: 0, y: 0, w: width, d: depth };
    let least = i128::from(diameter) * i128::from(diameter);
    let apart = |a: &Rect, b: &Rect| {
        let (dx, dy) = (i128::from(a.x) - i128::from(b.x), i128::from(a.y) - i128::from(b.y));
        dx * dx + dy * dy >= least
    };
    let rims = spots.iter().all(|spot| (spot.w, spot.d) == (diameter, diameter) && shelf.holds(*spot));
    rims && spots.iter().enumerate().all(|(i, a)| spots.iter().take(i).all(|b| apart(a, b)))
}

/// Middles of pots on the floor that they may be on, in diameters.
struct Strewn {
    floor: [f64; 2],
    middles: Vec<[f64; 2]>,
    chance: Random,
}

impl Strewn {
    fn new(floor: [f64; 2], pots: usize) -> Self {
        Self { floor, middles: vec![[0.0; 2]; pots], chance: Random::new(pots as u64) }
    }

    fn anywhere(&mut self) -> [f64; 2] {
        let parts = 1 << 20;
        self.floor.map(|side| self.chance.below(parts) as f64 / parts as f64 * side)
    }

    fn strew(&mut self) {
        for pot in 0..self.middles.len() {
            self.middles[pot] = self.anywhere();
        }
    }

    /// The one that is pressed most goes where there is most room, of a few places.
    fn put_elsewhere(&mut self) {
        let mut pressed = vec![0.0; self.middles.len()];
        for i in 1..self.middles.len() {
            for j in 0..i {
                let overlap = (1.0 - square(self.middles[i], self.middles[j]).sqrt()).max(0.0);
                pressed[i] += overlap;
                pressed[j] += overlap;
            }
        }
        let most = (0..pressed.len()).fold(0, |most, pot| if pressed[pot] > pressed[most] { pot } else { most });
        let mut roomiest = (-1.0, self.middles[most]);
        for _ in 0..PLACES {
            let place = self.anywhere();
            let others = self.middles.iter().enumerate().filter(|(pot, _)| *pot != most);
            let room = others.map(|(_, other)| square(place, *other)).fold(f64::MAX, f64::min);
            if room > roomiest.0 {
                roomiest = (room, place);
            }
        }
        self.middles[most] = roomiest.1;
    }

    /// False where there is no end to it.
    fn pushed_apart(&mut self, close_enough: f64) -> bool {
        let mut before = f64::MAX;
        for look in 0..LOOKS {
            let near = self.near();
            let mut overlap = Overlap::default();
            for _ in 0..SWEEPS {
                overlap = self.sweep(&near);
                if overlap.worst <= close_enough {
                    break;
                }
            }
            if overlap.worst <= close_enough {
                // others may have come near since the look
                let far = 1.0 - close_enough;
                if self.near().iter().all(|&(i, j)| square(self.middles[i], self.middles[j]) >= far * far) {
                    return true;
                }
            } else if look > 1 && overlap.all > before * WORTHWHILE {
                return false;
            }
            before = overlap.all;
        }
        false
    }

    fn near(&self) -> Vec<(usize, usize)> {
        let pairs = (1..self.middles.len()).flat_map(|i| (0..i).map(move |j| (i, j)));
        pairs.filter(|&(i, j)| square(self.middles[i], self.middles[j]) < NEAR * NEAR).collect()
    }

    /// Pushes every two that overlap from each other; the overlap that it found.
    fn sweep(&mut self, near: &[(usize, usize)]) -> Overlap {
        let mut found = Overlap::default();
        for &(i, j) in near {
            let (a, b) = (self.middles[i], self.middles[j]);
            let square = square(a, b);
            if square >= 1.0 {
                continue;
            }
            let apart = square.sqrt();
            let overlap = 1.0 - apart;
            found.all += overlap;
            found.worst = found.worst.max(overlap);
            // two at one place part along the shelf
            let way = if apart > 1e-9 { [(a[0] - b[0]) / apart, (a[1] - b[1]) / apart] } else { [1.0, 0.0] };
            let by = overlap * PUSH / 2.0;
            for axis in 0..2 {
                let most = self.floor[axis];
                self.middles[i][axis] = (a[axis] + way[axis] * by).max(0.0).min(most);
                self.middles[j][axis] = (b[axis] - way[axis] * by).max(0.0).min(most);
            }
        }
        found
    }
}

#[derive(Clone, Copy, Default)]
struct Overlap {
    all: f64,
    worst: f64,
}

/// Of the distance.
fn square([ax, ay]: [f64; 2], [bx, by]: [f64; 2]) -> f64 {
    let (x, y) = (ax - bx, ay - by);
    x * x + y * y
}

#[cfg(test)]
mod tests {
    use super::*;

    const MM: i64 = 8_000;

    /// Never fewer than in rows, never more than can be, every spot a real one.
    #[track_caller]
    fn stands(width: i64, depth: i64, diameter: i64) -> RoundPots {
        let pots = round_pots(width, depth, diameter);
        let spots: Vec<Rect> = pots.spots().collect();
        assert_eq!(i64::try_from(spots.len()), Ok(pots.count()));
        assert!(stand_apart(&spots, width, depth, diameter), "{diameter} on {width} x {depth}");
        let rows = round_rows(width, depth, diameter);
        assert!(rows.count() <= pots.count(), "{diameter} on {width} x {depth}");
        assert!(pots.count() <= oler_bound(width, depth, diameter), "{diameter} on {width} x {depth}");
        assert_eq!((pots.rows(), pots.is_in_rows()), (&rows, rows.count() == pots.count()));
        pots
    }

    /// The greatest least distance of n points in a square of side 1, published for each n (R. Peikert and others,
    /// "Packing circles in a square: a review and new results", 1992; recalled, not re-read): n pots of diameter d stand on
    /// a square of side s exactly where d ∕ (s − d) is no more.
    #[test]
    fn squares_hold_what_published_distances_say() {
        for (side, diameter, rows, most, [this, next]) in [
            (305, 102, 6, 8, [0.517_638, 0.5]),
            (762, 203, 12, 13, [0.366_096, 0.348_915]),
            (406, 102, 13, 15, [0.341_081, 0.333_333]),
            (762, 178, 16, 17, [0.306_153, 0.300_462]),
            (457, 102, 18, 19, [0.289_541, 0.286_611]),
            (610, 127, 20, 22, [0.267_949, 0.258_819]),
        ] {
            let wanted = f64::from(diameter) / f64::from(side - diameter);
            assert!(next < wanted && wanted <= this, "{diameter} on {side}: the table itself");
            let [side, diameter] = [side, diameter].map(|mm| i64::from(mm) * MM);
            let pots = stands(side, side, diameter);
            assert_eq!((pots.rows().count(), pots.count()), (rows, most), "{diameter} on {side}");
        }
    }

    /// Own table, "own multi-start search (feasible, not proven best)", by another program: mm, rows, found.
    #[test]
    fn shelves_hold_what_another_search_found() {
        for (width, depth, diameter, rows, found) in [
            (610, 305, 127, 9, 10),
            (610, 305, 114, 13, 13),
            (610, 305, 102, 15, 17),
            (914, 457, 140, 19, 19),
            (1219, 610, 254, 9, 10),
            (545, 278, 64, 35, 36),
            (1829, 762, 203, 35, 35),
        ] {
            let pots = stands(width * MM, depth * MM, diameter * MM);
            assert_eq!((pots.rows().count(), pots.count()), (rows, found), "{diameter} on {width} x {depth}");
        }
    }

    #[test]
    fn a_standing_is_refused_for_one_unit_too_close_or_over_the_edge() {
        let side = 305 * MM;
        let found = more_than(side, side, 102 * MM, 6).expect("eight");
        assert!(stand_apart(&found, side, side, 102 * MM));
        let (a, b) = (found[0], Rect { x: found[0].x + 102 * MM, ..found[0] });
        assert!(stand_apart(&[a, b], 2 * side, side, 102 * MM));
        let closer = Rect { x: b.x - 1, ..b };
        assert!(!stand_apart(&[a, closer], 2 * side, side, 102 * MM));
        for over in [Rect { x: -1, ..a }, Rect { y: side - 102 * MM + 1, ..a }, Rect { w: 101 * MM, ..a }] {
            assert!(!stand_apart(&[over], side, side, 102 * MM), "{over:?}");
        }
        let mut planted = found;
        planted[7] = Rect { x: planted[3].x + 1, ..planted[3] };
        assert!(!stand_apart(&planted, side, side, 102 * MM));
    }

    #[test]
    fn the_same_shelf_gets_the_same_answer_turned_or_not() {
        for (width, depth, diameter) in [(305, 305, 64), (610, 305, 102), (1219, 610, 254)] {
            let [width, depth, diameter] = [width, depth, diameter].map(|mm| mm * MM);
            let rows = round_rows(width, depth, diameter).count();
            let found = more_than(width, depth, diameter, rows).expect("more than rows hold");
            assert_eq!(more_than(width, depth, diameter, rows).as_deref(), Some(found.as_slice()));
            assert_eq!(round_pots(width, depth, diameter).spots().collect::<Vec<_>>(), found);
            if width > depth {
                let turned: Vec<Rect> = found.iter().map(|spot| Rect { x: spot.y, y: spot.x, ..*spot }).collect();
                assert_eq!(more_than(depth, width, diameter, rows), Some(turned));
            }
        }
    }

    #[test]
    fn nothing_is_lost_against_rows_on_any_shelf() {
        let mut gained = 0;
        for width in (200..=1_300).step_by(110) {
            for depth in (200..=700).step_by(125) {
                for diameter in (70..=300).step_by(23) {
                    let pots = stands(width * MM, depth * MM, diameter * MM);
                    gained += i64::from(!pots.is_in_rows());
                }
            }
        }
        assert!(gained > 10, "{gained}");
    }

    #[test]
    fn what_no_search_could_better_or_is_too_large_for_one_stays_in_rows() {
        // Oler's bound is met, by 9 in rows; 437 are no grower's few; sizes that no length is as small or large as
        for (width, depth, diameter) in [
            (457 * MM, 457 * MM, 152 * MM),
            (24_384_000, 24_384_000, 1_219_200),
            (i64::MAX, i64::MAX, 1),
            (i64::MAX, i64::MAX, i64::MAX / 3),
            (i64::MAX, 3, 2),
            (5, 5, 2),
            (10, 10, 0),
            (9, 20, 10),
        ] {
            assert!(round_pots(width, depth, diameter).is_in_rows(), "{diameter} on {width} x {depth}");
        }
    }
}
