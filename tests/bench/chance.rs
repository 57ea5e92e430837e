//! What a thousand drawn seasons cost, beside as many plain forecasts: those alone would be the least
//! that drawing each season as a whole could take.

use std::hint::black_box;
use std::num::NonZero;
use std::path::Path;
use std::time::Duration;

use criterion::{Criterion, SamplingMode, criterion_group, criterion_main};
use flatwright::fit::{Cancel, Progress};
use flatwright::forecast::{Scenario, drawn};
use flatwright::outlook::{Chance, Draws, ProblemHash, chance};
use flatwright::season::Season;
use flatwright::store;

const DRAWS: u32 = 1_000;

fn drawn_seasons(season: &Season, threads: Option<NonZero<usize>>) -> Chance {
    let draws = Draws { first: 0, number: DRAWS, threads };
    chance(season, store::library(), draws, ProblemHash(0), &Progress::default(), &Cancel::default())
        .expect("nobody cancels")
}

fn examples(criterion: &mut Criterion) {
    for file in ["community-room", "nursery"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(file).with_extension("ron");
        let season = store::load(&path).expect("a season that ships");
        let mut group = criterion.benchmark_group(format!("{DRAWS} draws of {file}"));
        group.sampling_mode(SamplingMode::Flat).sample_size(10);
        group.warm_up_time(Duration::from_millis(200)).measurement_time(Duration::from_secs(1));
        group.bench_function("forecasts alone, one thread", |bench| {
            let forecast = |draw| drawn(black_box(&season), store::library(), &Scenario::draw(draw)).stays.len();
            bench.iter(|| (0..DRAWS).map(forecast).sum::<usize>());
        });
        group.bench_function("chance, one thread", |bench| {
            bench.iter(|| drawn_seasons(black_box(&season), NonZero::new(1)));
        });
        group.bench_function("chance", |bench| bench.iter(|| drawn_seasons(black_box(&season), None)));
        group.finish();
    }
}

criterion_group!(benches, examples);
criterion_main!(benches);
