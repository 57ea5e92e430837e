//! Round pots of one size on a rectangle, in rows.
//!
//! Rows stand square or staggered, along either side, staggered ones perhaps drawn out to use a
//! spare bit of length, and square gaps mixed in where there is depth to spare. Each count is of a
//! real standing: no two pots overlap, exactly. [`oler_bound`] says how far off the rows can be; `out_of_line`
//! looks for standings in no rows, which now and then hold one or two more.

use crate::fit::problem::Rect;

/// Pots in rows on a rectangle; a pot is known by the square around it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RoundRows {
    diameter: i64,
    /// Rows run along the depth instead of the width.
    along_depth: bool,
    rows: i64,
    /// Pots in the first row, and the distance from one to the next.
    per_row: i64,
    spacing: i64,
    /// Gaps that are staggered, and one's row distance; all other gaps are one diameter.
    staggered: i64,
    pitch: i64,
    /// Staggered rows hold one pot less.
    shorter: bool,
}

impl RoundRows {
    pub fn count(&self) -> i64 {
        let short = if self.shorter { self.staggered.saturating_add(1) / 2 } else { 0 };
        self.rows.saturating_mul(self.per_row).saturating_sub(short)
    }

    pub const fn rows(&self) -> i64 {
        self.rows
    }

    /// How many of the gaps between rows are staggered; the others are square.
    pub const fn staggered_gaps(&self) -> i64 {
        self.staggered
    }

    /// The square around each pot; its middle is the pot's centre. Lazy, as there may be millions.
    pub fn spots(&self) -> impl Iterator<Item = Rect> + '_ {
        let offset = self.spacing / 2;
        // Square gaps come first: the rows between them are all full ones.
        let square = (self.rows - 1 - self.staggered).max(0);
        (0..self.rows).flat_map(move |row| {
            let shifted = row > square && (row - square) % 2 == 1;
            let across = row.min(square) * self.diameter + (row - square).max(0) * self.pitch;
            let count = if shifted && self.shorter { self.per_row - 1 } else { self.per_row };
            (0..count).map(move |i| {
                let along = i * self.spacing + if shifted { offset } else { 0 };
                let (x, y) = if self.along_depth { (across, along) } else { (along, across) };
                Rect { x, y, w: self.diameter, d: self.diameter }
            })
        })
    }
}

/// The best rows for pots of `diameter` on `width` × `depth`, all in the same unit.
///
/// Holds no pot if one of the three is not positive or the pot is too wide. Fewer staggered gaps
/// win a tie, so that a square grid is kept where staggering gains nothing.
pub fn round_rows(width: i64, depth: i64, diameter: i64) -> RoundRows {
    if diameter <= 0 || width < diameter || depth < diameter {
        return RoundRows::default();
    }
    let mut best = RoundRows::default();
    for along_depth in [false, true] {
        let (along, across) = if along_depth { (depth, width) } else { (width, depth) };
        for rows in rows_along(along - diameter, across - diameter, diameter) {
            if (rows.count(), -rows.staggered) > (best.count(), -best.staggered) {
                best = RoundRows { along_depth, ..rows };
            }
        }
    }
    best
}

/// At most so many, in rows or not.
///
/// N. Oler, "An inequality in the geometry of numbers", Acta Mathematica 105 (1961), for points at
/// least a diameter apart in the rectangle of centres; recalled, not re-read.
pub fn oler_bound(width: i64, depth: i64, diameter: i64) -> i64 {
    if diameter <= 0 || width < diameter || depth < diameter {
        return 0;
    }
    let (a, b, d) = ((width - diameter) as f64, (depth - diameter) as f64, diameter as f64);
    let bound = 2.0 * (a / d) * (b / d) / 3.0_f64.sqrt() + (a + b) / d + 1.0;
    // Rounding must never make it smaller than it is.
    (bound * (1.0 + 1e-12) + 1e-9).floor() as i64
}

/// Candidates with rows of length `along` (between outermost centres), `across` deep.
fn rows_along(along: i64, across: i64, diameter: i64) -> Vec<RoundRows> {
    let most = along / diameter + 1;
    let square = across / diameter + 1;
    let plain = RoundRows { diameter, rows: square, per_row: most, spacing: diameter, ..RoundRows::default() };
    let mut found = vec![plain];
    // Thinner rows than the fullest ones pay on small shelves only.
    for per_row in (1..=most).rev().take(2_000) {
        // Both kinds of row hold the same number: the last pot of a shifted row is at the end.
        let spacing = if per_row == 1 {
            2 * along.min(diameter)
        } else {
            i64::try_from(2 * i128::from(along) / (2 * i128::from(per_row) - 1)).unwrap_or(0)
        };
        if spacing >= diameter || per_row == 1 {
            let pitch = pitch(spacing, diameter);
            let rows = across / pitch + 1;
            found.push(RoundRows {
                diameter,
                rows,
                per_row,
                spacing,
                staggered: rows - 1,
                pitch,
                ..RoundRows::default()
            });
        }
        if per_row > 1 {
            let spacing = along / (per_row - 1);
            let base = RoundRows { diameter, per_row, spacing, shorter: true, ..RoundRows::default() };
            found.extend(mixed(&base, square, across));
        }
    }
    found
}

/// Shifted rows hold one pot less: as few staggered gaps as the number of rows asks for.
fn mixed(base: &RoundRows, square: i64, across: i64) -> Vec<RoundRows> {
    let pitch = pitch(base.spacing, base.diameter);
    let saved = base.diameter - pitch;
    if saved <= 0 {
        return Vec::new();
    }
    let most = across / pitch + 1;
    (square..=most)
        .rev()
        .take(200)
        .map(|rows| {
            let over = i128::from(rows - 1) * i128::from(base.diameter) - i128::from(across);
            let saved = i128::from(saved);
            let staggered = i64::try_from((over.max(0) + saved - 1) / saved).unwrap_or(rows - 1);
            RoundRows { rows, staggered, pitch, ..base.clone() }
        })
        .collect()
}

/// The least distance of staggered rows, rounded up so that no two pots overlap.
fn pitch(spacing: i64, diameter: i64) -> i64 {
    let offset = i128::from(spacing / 2);
    let diameter = i128::from(diameter);
    let square = diameter * diameter - offset * offset;
    let across = if square > 0 { root_up(square) } else { 0 };
    // A row and the next but one stand behind each other.
    i64::try_from(across.max((diameter + 1) / 2)).unwrap_or(i64::MAX)
}

/// The least whole number whose square is at least `square`.
fn root_up(square: i128) -> i128 {
    let mut root = (square as f64).sqrt() as i128;
    while root * root < square {
        root += 1;
    }
    while root > 0 && (root - 1) * (root - 1) >= square {
        root -= 1;
    }
    root
}

#[cfg(test)]
mod tests {
    use super::*;

    const MM: i64 = 8_000;
    const HUNDREDTH_INCH: i64 = 2_032;

    /// Every pot on the shelf, as many as said, no two closer than a diameter.
    #[track_caller]
    fn stands(width: i64, depth: i64, diameter: i64) -> RoundRows {
        let rows = round_rows(width, depth, diameter);
        let spots: Vec<Rect> = rows.spots().collect();
        assert_eq!(i64::try_from(spots.len()), Ok(rows.count()));
        let shelf = Rect { x: 0, y: 0, w: width, d: depth };
        for (i, a) in spots.iter().enumerate() {
            assert!(shelf.holds(*a), "{a:?} on {width} x {depth}");
            for b in &spots[..i] {
                let (dx, dy) = (i128::from(a.x - b.x), i128::from(a.y - b.y));
                assert!(dx * dx + dy * dy >= i128::from(diameter).pow(2), "{a:?} and {b:?}");
            }
        }
        assert!(rows.count() <= oler_bound(width, depth, diameter));
        rows
    }

    #[test]
    fn ten_foot_square_holds_more_six_inch_pots_than_growers_know() {
        // 400 square, 429 staggered, 432 in 22 mixed rows; 23 drawn-out rows of 19 hold 437.
        let rows = stands(12_000 * HUNDREDTH_INCH, 12_000 * HUNDREDTH_INCH, 600 * HUNDREDTH_INCH);
        assert_eq!((rows.count(), rows.rows(), rows.staggered_gaps()), (437, 23, 22));
    }

    #[test]
    fn square_gaps_use_up_spare_depth_between_staggered_rows() {
        let side = 11_400 * HUNDREDTH_INCH;
        let base = RoundRows {
            diameter: 600 * HUNDREDTH_INCH,
            per_row: 20,
            spacing: 600 * HUNDREDTH_INCH,
            shorter: true,
            ..RoundRows::default()
        };
        let best = mixed(&base, 20, side).into_iter().max_by_key(RoundRows::count).expect("rows");
        assert_eq!((best.count(), best.rows(), best.staggered_gaps()), (432, 22, 15));
    }

    #[test]
    fn staggered_seven_cm_pots_on_a_small_bench_beat_plain_rows() {
        assert!(stands(1_000 * MM, 600 * MM, 70 * MM).count() >= 128);
    }

    #[test]
    fn a_flat_tray_takes_fifteen_rims_of_three_and_three_quarter_inches() {
        let rows = stands(2_144 * HUNDREDTH_INCH, 1_094 * HUNDREDTH_INCH, 375 * HUNDREDTH_INCH);
        assert_eq!(rows.count(), 15);
    }

    #[test]
    fn rows_are_never_worse_than_the_best_construction_of_the_table() {
        // Own table of constructions, mm: width, depth, diameter, best row construction.
        for (width, depth, diameter, least) in [
            (457, 457, 152, 9),
            (457, 457, 127, 12),
            (406, 406, 114, 10),
            (305, 305, 70, 18),
            (762, 762, 178, 16),
            (610, 305, 102, 15),
            (914, 457, 102, 40),
            (1219, 457, 89, 69),
            (1219, 610, 140, 38),
            (1219, 610, 76, 140),
            (545, 278, 102, 14),
            (545, 278, 64, 35),
            (1829, 762, 102, 137),
        ] {
            let count = stands(width * MM, depth * MM, diameter * MM).count();
            assert!(count >= least, "{diameter} on {width} x {depth}: {count} of {least}");
        }
    }

    #[test]
    fn a_narrow_ledge_takes_pots_in_zigzag() {
        // Centres in 50 x 450: a zigzag step of 100 across 50 needs 87 along.
        assert!(stands(150, 550, 100).count() > stands(100, 550, 100).count());
    }

    #[test]
    fn pots_that_do_not_fit_are_none() {
        for (width, depth, diameter) in [(0, 10, 1), (10, -1, 1), (10, 10, 0), (9, 20, 10), (10, 10, -3)] {
            assert_eq!(round_rows(width, depth, diameter).count(), 0);
        }
        assert_eq!(stands(10, 10, 10).count(), 1);
    }

    #[test]
    fn absurd_sizes_answer_without_overflow() {
        assert!(round_rows(i64::MAX, i64::MAX, 1).count() > 0);
        assert!(round_rows(i64::MAX, 3, 2).count() > 0);
        assert!(oler_bound(i64::MAX, i64::MAX, 1) > 0);
    }

    proptest::proptest! {
        #[test]
        fn no_two_pots_overlap(width in 1..400_i64, depth in 1..400_i64, diameter in 15..120_i64) {
            stands(width, depth, diameter);
        }
    }
}
