//! How long mixed sizes on equal shelves take: bounds and one packing at once, and a search on top.
//!
//! The first of each pair is the yardstick of the second in the same run.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use flatwright::fit::{Cancel, pack_bins};

/// As Martello and Vigo's tenth class, from a stream written out here; most items are small.
fn items(many: usize) -> Vec<(i64, i64)> {
    let mut state = 7_u64;
    let mut draw = |from: i64, to: i64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        from + i64::try_from(state >> 33).unwrap_or(0) % (to - from + 1)
    };
    (0..many)
        .map(|_| match draw(0, 9) {
            0 => (draw(67, 100), draw(1, 50)),
            1 => (draw(1, 50), draw(67, 100)),
            2 => (draw(50, 100), draw(50, 100)),
            _ => (draw(1, 50), draw(1, 50)),
        })
        .collect()
}

fn bins(criterion: &mut Criterion) {
    let cancel = Cancel::default();
    for many in [40, 100] {
        let items = items(many);
        for (name, budget) in [("at once", 0), ("with a search", 1_000_000)] {
            let run = |items: &[(i64, i64)]| pack_bins(100, 100, items, budget, &cancel);
            criterion.bench_function(&format!("{many} items, {name}"), |b| b.iter(|| run(black_box(&items))));
        }
    }
}

criterion_group!(benches, bins);
criterion_main!(benches);
