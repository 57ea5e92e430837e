//! How many of one outline stand on one shelf, and what letting them stick out gains.

use crate::fit::{Rect, count, round_pots};
use crate::units::{Length, LengthUnit, ParseError, Size, hundredth};

use super::Outline;

/// Why what was typed is no shelf.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoShelf {
    #[error("the shelf: {0}")]
    Size(#[from] ParseError),
    #[error("a side of the shelf must be from {least} to {most}, found {found:?}")]
    OutOfRange { least: Length, most: String, found: String },
}

/// A shelf's size as typed; a number without a unit is taken in `bare`, or refused where that is
/// `None`.
///
/// # Errors
/// A side must be from 50 mm to 100 m.
pub fn shelf_size(text: &str, bare: Option<LengthUnit>) -> Result<Size, NoShelf> {
    let size = Size::parse(text, bare)?;
    let (least, most) = (Length::from_mm(50), Length::from_mm(100_000));
    if [&size.width, &size.depth].iter().all(|side| (least..=most).contains(&side.value())) {
        return Ok(size);
    }
    Err(NoShelf::OutOfRange { least, most: most.in_words(LengthUnit::Metre), found: text.to_owned() })
}

/// How many fit, and how.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    pub fits: i64,
    /// More can't fit, however they are turned; unknown for round pots.
    pub at_most: Option<i64>,
    /// Round pots in plain rows; `fits` may be staggered, or out of line.
    pub in_rows: Option<i64>,
    /// Round pots in the best rows, plain or staggered; `fits` may be out of line.
    pub staggered: Option<i64>,
    pub turned: Turned,
}

/// By how much a shelf misses one more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Misses {
    pub width: Length,
    pub depth: Length,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turned {
    /// Nothing to say: square, round, too many to list, or none.
    Alike,
    /// So many with the long side along the shelf, and so many with it across.
    Each { lengthwise: i64, crosswise: i64 },
}

/// One shelf and what is to stand on it; overhang is in depth only.
#[derive(Clone, Copy)]
pub struct Capacity {
    pub outline: Outline,
    pub width: Length,
    pub depth: Length,
    /// How far they may stick out over the front edge.
    pub allowed: Length,
    /// What is searched for in steps, is searched for in hundredths of this.
    pub unit: LengthUnit,
}

impl Capacity {
    /// With so much sticking out.
    #[must_use]
    pub fn with(&self, overhang: Length) -> Held {
        let (width, depth) = (self.width.units(), (self.depth + overhang).units());
        match self.outline {
            Outline::Rectangle { width: w, depth: d } => {
                let counted = count(width, depth, w.units(), d.units());
                let long = w.max(d).units();
                let turned = if w == d || !(1..=100_000).contains(&counted.most) {
                    Turned::Alike
                } else {
                    let lengthwise = counted.spots().fold(0, |n, rect| n + i64::from(rect.w == long));
                    Turned::Each { lengthwise, crosswise: counted.most - lengthwise }
                };
                Held { fits: counted.most, at_most: Some(counted.at_most), in_rows: None, staggered: None, turned }
            }
            Outline::Round { across } => {
                let across = across.units();
                let rows = (width / across) * (depth / across);
                let pots = round_pots(width, depth, across);
                let staggered = Some(pots.rows().count());
                Held { fits: pots.count(), at_most: None, in_rows: Some(rows), staggered, turned: Turned::Alike }
            }
        }
    }

    /// Where the first `limit` of them stand, from the back left corner, with so much sticking out.
    pub fn spots(&self, overhang: Length, limit: usize) -> Vec<Rect> {
        let (width, depth) = (self.width.units(), (self.depth + overhang).units());
        match self.outline {
            Outline::Rectangle { width: w, depth: d } => {
                count(width, depth, w.units(), d.units()).spots().take(limit).collect()
            }
            Outline::Round { across } => round_pots(width, depth, across.units()).spots().take(limit).collect(),
        }
    }

    /// How far those stick out that fit only because they may.
    pub fn sticks_out(&self) -> Length {
        let fits = self.with(self.allowed).fits;
        if fits == self.with(Length::ZERO).fits {
            return Length::ZERO;
        }
        self.least(fits, Length::ZERO, self.allowed).unwrap_or(self.allowed)
    }

    /// The least overhang, beyond what is allowed, that lets more stand on the shelf. Half of one
    /// is the most: what stands less than half on its shelf falls off.
    pub fn more(&self) -> Option<Length> {
        let fits = self.with(self.allowed).fits;
        self.least(fits + 1, self.allowed, self.outline.short_side() / 2)
    }

    /// The least by which the shelf would have to be wider, or else deeper, to hold one more; both where
    /// neither alone will do.
    pub fn one_more(&self) -> Option<Misses> {
        let depth = self.depth + self.allowed;
        let wanted = self.with(self.allowed).fits + 1;
        let width = self.side(self.width, |width| self.fits(width, depth) >= wanted);
        let deeper = self.side(depth, |depth| self.fits(self.width, depth) >= wanted);
        let (width, deeper) = (width.map(|to| to - self.width), deeper.map(|to| to - depth));
        match (width, deeper) {
            (Some(width), Some(deeper)) if deeper < width => Some(Misses { width: Length::ZERO, depth: deeper }),
            (Some(width), _) => Some(Misses { width, depth: Length::ZERO }),
            (None, Some(depth)) => Some(Misses { width: Length::ZERO, depth }),
            (None, None) => {
                let (w, d) = match self.outline {
                    Outline::Rectangle { width, depth } => (width, depth),
                    Outline::Round { across } => (across, across),
                };
                let misses = |w: Length, d: Length| Misses {
                    width: (w - self.width).max(Length::ZERO),
                    depth: (d - depth).max(Length::ZERO),
                };
                let (as_is, turned) = (misses(w, d), misses(d, w));
                let least = if turned.width + turned.depth < as_is.width + as_is.depth { turned } else { as_is };
                (wanted == 1).then_some(least)
            }
        }
    }

    fn fits(&self, width: Length, depth: Length) -> i64 {
        Self { width, depth, allowed: Length::ZERO, ..*self }.with(Length::ZERO).fits
    }

    /// The least length of a side, beyond what it is, that will do; at most by the long side of one.
    fn side(&self, from: Length, will_do: impl Fn(Length) -> bool) -> Option<Length> {
        let lengths = match self.outline {
            Outline::Rectangle { width, depth } => sums(width, depth, from, from + width.max(depth)),
            Outline::Round { across } => {
                let step = hundredth(self.unit);
                (1..=across.units() / step.units() + 1).map(|n| from + step * n).collect()
            }
        };
        least_that(&lengths, |length| will_do(*length))
    }

    /// The least overhang beyond `from` and up to `most` with which `wanted` fit.
    fn least(&self, wanted: i64, from: Length, most: Length) -> Option<Length> {
        let overhangs: Vec<Length> = match self.outline {
            // More fit only where another sum of sides comes within the depth.
            Outline::Rectangle { width, depth } => {
                let depths = sums(width, depth, self.depth + from, self.depth + most);
                depths.into_iter().map(|sum| sum - self.depth).collect()
            }
            Outline::Round { .. } => {
                let step = hundredth(self.unit);
                let steps = (most - from).units() / step.units();
                (1..=steps).map(|n| from + step * n).collect()
            }
        };
        least_that(&overhangs, |overhang| self.with(*overhang).fits >= wanted)
    }
}

/// The least that will do, by halving: one that was asked about itself, as a larger shelf is not always known
/// to hold as many round pots.
fn least_that<T: Copy>(all: &[T], will_do: impl Fn(&T) -> bool) -> Option<T> {
    let (mut low, mut high) = (0, all.len());
    while low < high {
        let middle = low + (high - low) / 2;
        if will_do(&all[middle]) { high = middle } else { low = middle + 1 }
    }
    all.get(high).copied()
}

/// All `p a + q b` beyond `from` and up to `most`, in order.
fn sums(a: Length, b: Length, from: Length, most: Length) -> Vec<Length> {
    let mut sums = Vec::new();
    let mut rows = Length::ZERO;
    while rows <= most {
        let missing = (from - rows).units().max(0);
        let mut depth = rows + b * (missing / b.units());
        while depth <= most {
            if depth > from {
                sums.push(depth);
            }
            depth += b;
        }
        rows += a;
    }
    sums.sort_unstable();
    sums.dedup();
    sums
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sum_of_sides_in_the_range_is_tried() {
        let length = |units: i64| Length::from_units(units);
        let found = sums(length(3), length(5), length(7), length(13));
        assert_eq!(found, [8, 9, 10, 11, 12, 13].map(length));
        assert_eq!(sums(length(5), length(5), length(10), length(14)), []);
    }

    #[test]
    fn what_is_told_to_do_was_asked_about() {
        assert_eq!(least_that(&[1, 2, 3, 4, 5], |n| *n >= 4), Some(4));
        assert_eq!(least_that(&[1, 2, 3], |_| false), None);
        for does in [[2, 9, 3], [1, 9, 2], [5, 6, 3]] {
            let all: Vec<i32> = (1..9).collect();
            let found = least_that(&all, |n| does.contains(n));
            assert!(found.is_none_or(|found| does.contains(&found)), "{found:?}");
        }
    }

    /// A published optimum (15 of 102 mm on 406 mm square, 13 in rows): told, drawn, and one count.
    #[test]
    fn round_pots_out_of_line_are_told_and_drawn_as_one_number() {
        let mm = |mm: i64| Length::from_mm(mm);
        let outline = Outline::Round { across: mm(102) };
        let (width, unit) = (mm(406), LengthUnit::Millimetre);
        let hold = Capacity { outline, width, depth: width, allowed: Length::ZERO, unit };
        let held = hold.with(Length::ZERO);
        assert_eq!((held.fits, held.staggered, held.in_rows), (15, Some(13), Some(9)));
        assert_eq!(hold.spots(Length::ZERO, 100).len(), 15);
        let missing = hold.one_more().expect("a larger one holds more");
        assert!(hold.fits(width + missing.width, width + missing.depth) > 15, "{missing:?}");
    }
}
