//! How long a count takes: rows alone, the program's own count, and a count searched to its proof.
//!
//! Rows alone are the baseline of each board: what the search costs is the ratio of the two lines.

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use flatwright::fit;

const MM: i64 = 8_000;
const HUNDREDTH_INCH: i64 = 2_032;
const TO_THE_PROOF: u64 = 5_000_000;

/// Boards by what closes them: width, depth, and the rectangle's two sides.
const BOARDS: [(&str, [i64; 4]); 8] = [
    ("shelf 1219 x 610, trays 545 x 278: rows", [1_219 * MM, 610 * MM, 545 * MM, 278 * MM]),
    ("shelf 1829 x 762, pots 89: rows", [1_829 * MM, 762 * MM, 89 * MM, 89 * MM]),
    ("pallet 1200 x 800, boxes 274 x 194", [1_200 * MM, 800 * MM, 274 * MM, 194 * MM]),
    (
        "bench 60 x 2 ft, flats 21.44 x 10.94 in",
        [72_000 * HUNDREDTH_INCH, 2_400 * HUNDREDTH_INCH, 2_144 * HUNDREDTH_INCH, 1_094 * HUNDREDTH_INCH],
    ),
    ("instance 40 x 25, 7 x 3", [40, 25, 7, 3]),
    ("instance 32 x 22, 5 x 4: bound one too high", [32, 22, 5, 4]),
    ("instance 57 x 34, 7 x 4: more than five blocks", [57, 34, 7, 4]),
    ("instance 108 x 65, 10 x 7: more than five blocks", [108, 65, 10, 7]),
];

fn rectangles(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("rectangles");
    for (board, sizes) in BOARDS {
        for (way, steps) in [("rows alone", Some(0)), ("count", None), ("to the proof", Some(TO_THE_PROOF))] {
            group.bench_function(BenchmarkId::new(way, board), |bench| {
                bench.iter(|| {
                    let [width, depth, w, d] = black_box(sizes);
                    steps.map_or_else(
                        || fit::count(width, depth, w, d),
                        |steps| fit::count_within(width, depth, w, d, steps),
                    )
                });
            });
        }
    }
    group.finish();
}

fn round_pots(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("round pots");
    for (shelf, [width, depth, across]) in [
        ("shelf 1219 x 610, pots 102", [1_219 * MM, 610 * MM, 102 * MM]),
        ("bench 10 x 10 ft, pots 6 in", [12_000 * HUNDREDTH_INCH, 12_000 * HUNDREDTH_INCH, 600 * HUNDREDTH_INCH]),
    ] {
        group.bench_function(BenchmarkId::new("square grid", shelf), |bench| {
            bench.iter(|| black_box(width) / across * (black_box(depth) / across));
        });
        group.bench_function(BenchmarkId::new("rows", shelf), |bench| {
            bench.iter(|| fit::count_round(black_box(width), black_box(depth), black_box(across)));
        });
    }
    group.finish();
}

criterion_group!(benches, rectangles, round_pots);
criterion_main!(benches);
