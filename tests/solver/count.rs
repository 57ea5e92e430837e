//! Counts of equal rectangles and round pots against known answers, every packing checked here.

use std::collections::BTreeSet;

use flatwright::fit::{self, Rect};

const UNITS_PER_MM: i64 = 8_000;
/// Enough for every row of the table, and a few seconds at most for one that it would not be.
const STEPS: u64 = 1_000_000;

/// The numbers in the named columns of a table in `data/`, row by row.
fn table<const N: usize>(text: &str, columns: [&str; N]) -> Vec<[i64; N]> {
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let header: Vec<&str> = lines.next().expect("a header").split(',').collect();
    let places = columns.map(|name| header.iter().position(|field| *field == name).expect("the column is there"));
    lines
        .map(|line| {
            let fields: Vec<&str> = line.split(',').collect();
            places.map(|place| fields[place].parse().unwrap_or_else(|_| panic!("{line}")))
        })
        .collect()
}

/// Inside, of the right size either way, and apart from each other.
#[track_caller]
fn lies_flat(spots: &[Rect], [width, depth, w, d]: [i64; 4]) {
    for (i, spot) in spots.iter().enumerate() {
        assert!([(w, d), (d, w)].contains(&(spot.w, spot.d)), "{spot:?} is no {w} x {d}");
        let inside = spot.x >= 0 && spot.y >= 0 && spot.x + spot.w <= width && spot.y + spot.d <= depth;
        assert!(inside, "{spot:?} is not on {width} x {depth}");
        for other in &spots[..i] {
            let beside = spot.x + spot.w <= other.x || other.x + other.w <= spot.x;
            let behind = spot.y + spot.d <= other.y || other.y + other.d <= spot.y;
            assert!(beside || behind, "{spot:?} lies on {other:?}");
        }
    }
}

#[test]
fn every_known_optimum_is_met_and_proven_with_a_packing() {
    for [l, w, a, b, optimum] in table(include_str!("data/counts.csv"), ["L", "W", "a", "b", "optimum"]) {
        let sizes = [l, w, a, b].map(|mm| mm * UNITS_PER_MM);
        let found = fit::count_within(sizes[0], sizes[1], sizes[2], sizes[3], STEPS);
        assert_eq!((found.most, found.at_most), (optimum, optimum), "{a} x {b} in {l} x {w}");
        let spots: Vec<Rect> = found.spots().collect();
        assert_eq!(i64::try_from(spots.len()), Ok(optimum), "{a} x {b} in {l} x {w}");
        lies_flat(&spots, sizes);
    }
}

#[test]
fn the_program_itself_proves_every_shelf_of_the_table() {
    let shelves = include_str!("data/counts.csv").lines().filter(|line| !line.contains(",instance,"));
    let shelves = shelves.collect::<Vec<_>>().join("\n");
    for [l, w, a, b, optimum] in table(&shelves, ["L", "W", "a", "b", "optimum"]) {
        let [width, depth, p, q] = [l, w, a, b].map(|mm| mm * UNITS_PER_MM);
        let found = fit::count(width, depth, p, q);
        assert_eq!((found.most, found.at_most), (optimum, optimum), "{a} x {b} in {l} x {w}");
    }
}

#[test]
fn round_pots_stand_as_well_as_any_rows_and_within_olers_bound() {
    for [l, w, d, rows, best, oler] in
        table(include_str!("data/pots.csv"), ["L", "W", "d", "rows", "best_known", "oler"])
    {
        let [width, depth, across] = [l, w, d].map(|mm| mm * UNITS_PER_MM);
        let found = fit::round_rows(width, depth, across);
        assert!(found.count() >= rows, "{d} on {l} x {w}: {} of {rows}", found.count());
        assert_eq!(fit::oler_bound(width, depth, across), oler, "{d} on {l} x {w}");
        assert!(best.max(found.count()) <= oler, "{d} on {l} x {w}");
        let spots: Vec<Rect> = found.spots().collect();
        assert_eq!(i64::try_from(spots.len()), Ok(found.count()));
        stand_apart(&spots, [width, depth, across]);
    }
}

/// Up to as many pots as are ever searched for out of line; one of them its search misses by one.
#[test]
fn round_pots_out_of_line_stand_as_well_as_the_best_known() {
    for [l, w, d, rows, best, oler] in
        table(include_str!("data/pots.csv"), ["L", "W", "d", "rows", "best_known", "oler"])
    {
        let [width, depth, across] = [l, w, d].map(|mm| mm * UNITS_PER_MM);
        let found = fit::round_pots(width, depth, across);
        let missed = i64::from((l, w, d) == (356, 356, 76));
        let least = if best <= 40 { best - missed } else { rows };
        assert!((least..=oler).contains(&found.count()), "{d} on {l} x {w}: {} of {best}", found.count());
        let spots: Vec<Rect> = found.spots().collect();
        assert_eq!(i64::try_from(spots.len()), Ok(found.count()));
        stand_apart(&spots, [width, depth, across]);
    }
}

/// Inside, and no two rims closer than touching.
#[track_caller]
fn stand_apart(spots: &[Rect], [width, depth, across]: [i64; 3]) {
    for (i, spot) in spots.iter().enumerate() {
        assert!((spot.w, spot.d) == (across, across) && spot.x >= 0 && spot.y >= 0);
        assert!(spot.x + across <= width && spot.y + across <= depth, "{spot:?} is not on {width} x {depth}");
        for other in &spots[..i] {
            let (dx, dy) = (i128::from(spot.x - other.x), i128::from(spot.y - other.y));
            assert!(dx * dx + dy * dy >= i128::from(across).pow(2), "{spot:?} and {other:?}");
        }
    }
}

#[test]
fn small_counts_are_what_trying_everything_finds() {
    let (mut asked, mut proven) = (0, 0);
    for width in 1..=9 {
        for depth in 1..=width {
            for (w, d) in (1..=4).flat_map(|w| (1..=w).map(move |d| (w, d))) {
                let optimum = i64::from(by_trying(width, depth, w, d));
                let sizes = [width, depth, w, d].map(i64::from);
                let found = fit::count(sizes[0], sizes[1], sizes[2], sizes[3]);
                assert!(found.most <= optimum && optimum <= found.at_most, "{w} x {d} in {width} x {depth}: {optimum}");
                asked += 1;
                proven += usize::from(found.is_proven());
                lies_flat(&found.spots().collect::<Vec<_>>(), sizes);
            }
        }
    }
    assert_eq!(proven, asked, "boards as small as this are all proven");
}

/// The most that stand there: from as many as the area allows downwards, until one can.
fn by_trying(width: u32, depth: u32, w: u32, d: u32) -> u32 {
    let mut board = Board { width, depth, sides: [(w, d), (d, w)], failed: BTreeSet::new() };
    let squares = width * depth;
    let mut count = squares / (w * d);
    while !board.fills(0, squares - count * w * d) {
        count -= 1;
    }
    count
}

/// Squares as bits, row by row.
struct Board {
    width: u32,
    depth: u32,
    sides: [(u32, u32); 2],
    failed: BTreeSet<(u128, u32)>,
}

impl Board {
    /// Whether the free squares can be covered but for `bare` of them: the first free one is the corner of a
    /// rectangle, or bare.
    fn fills(&mut self, taken: u128, bare: u32) -> bool {
        let first = taken.trailing_ones();
        if first >= self.width * self.depth {
            return true;
        }
        if self.failed.contains(&(taken, bare)) {
            return false;
        }
        let (x, y) = (first % self.width, first / self.width);
        for (w, d) in self.sides {
            if x + w > self.width || y + d > self.depth {
                continue;
            }
            let row = ((1_u128 << w) - 1) << first;
            let rectangle = (0..d).fold(0, |all, k| all | row << (k * self.width));
            if taken & rectangle == 0 && self.fills(taken | rectangle, bare) {
                return true;
            }
        }
        if bare > 0 && self.fills(taken | 1 << first, bare - 1) {
            return true;
        }
        self.failed.insert((taken, bare));
        false
    }
}
