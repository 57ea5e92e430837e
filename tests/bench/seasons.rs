//! What whole seasons cost: a day, a season, and the same season after one edit.
//!
//! Each group holds a plain pass over its answer (`check`) to compare with, so that ratios can be
//! read on any machine; sizes grow tenfold, so that the growth can. `cargo bench --bench seasons --
//! 1000/` runs one size, `-- examples/` the seasons that ship.

use std::collections::BTreeMap;
use std::hint::black_box;
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use chrono::TimeDelta;
use criterion::{BatchSize, BenchmarkGroup, Criterion, SamplingMode, measurement::WallTime};
use flatwright::fit::{
    Answer, Cancel, Days, Item, Memory, Phase, Problem, Progress, Rect, Region, RegionSet, Shelf, check, pack_day,
    solve,
};
use flatwright::forecast::forecast;
use flatwright::outlook::{Effort, Keep, Outlook, look_ahead};
use flatwright::season::{Op, Season};
use flatwright::store;

fn main() {
    let mut criterion = Criterion::default().configure_from_args().sample_size(10);
    for file in ["community-room", "nursery"] {
        example(&mut criterion, file);
    }
    for stays in [100, 1_000, 10_000, 50_000] {
        invented(&mut criterion, stays);
    }
    for stays in [100, 1_000, 10_000, 50_000] {
        nearly_full(&mut criterion, stays);
    }
    criterion.final_summary();
}

fn group<'a>(criterion: &'a mut Criterion, name: &str) -> BenchmarkGroup<'a, WallTime> {
    let mut group = criterion.benchmark_group(name);
    group.sampling_mode(SamplingMode::Flat);
    group.warm_up_time(Duration::from_millis(200)).measurement_time(Duration::from_secs(1));
    group
}

// A season as the program looks at it.

fn ahead(season: &Season, keep: Keep, effort: Effort) -> Outlook {
    remembering(season, keep, effort, &mut Memory::default())
}

fn remembering(season: &Season, keep: Keep, effort: Effort, memory: &mut Memory) -> Outlook {
    let forecast = forecast(season, store::library());
    let (progress, cancel) = (Progress::default(), Cancel::default());
    look_ahead(season, &forecast, keep, effort, memory, &progress, &cancel).expect("nobody cancels")
}

/// The season with its first sowing wanted a week later.
fn edited(season: &Season) -> Season {
    let mut season = season.clone();
    let mut sowing = season.sowings().next().expect("a sowing").clone();
    for wanted in &mut sowing.wanted {
        wanted.date += TimeDelta::days(7);
    }
    season.apply(&Op::PutSowing(sowing).into()).expect("a week later");
    season
}

fn example(criterion: &mut Criterion, file: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(file).with_extension("ron");
    let season = store::load(&path).expect("a season that ships");
    let mut group = group(criterion, &format!("examples/{file}"));
    group.bench_function("forecast", |b| b.iter(|| forecast(black_box(&season), store::library())));
    group.bench_function("first pass", |b| b.iter(|| ahead(black_box(&season), Keep::Pinned, Effort(0))));
    group.bench_function("season", |b| b.iter(|| ahead(black_box(&season), Keep::Pinned, Effort::default())));
    group.bench_function("after an edit", |b| {
        let mut memory = Memory::mending();
        remembering(&season, Keep::Pinned, Effort::default(), &mut memory);
        let season = edited(&season);
        let again = |mut memory: Memory| remembering(&season, Keep::Pinned, Effort::default(), &mut memory);
        b.iter_batched(|| memory.clone(), again, BatchSize::PerIteration);
    });
    group.finish();
}

// Invented seasons of any size: flats, half flats and crates, some of them tall, sown in batches
// over half a year, on as many shelves as are 85 % covered on the fullest day, or 95 %.

const MM: i64 = 8_000;
const BATCH: usize = 12;

/// Width, depth and weight with plants and wet mix.
const TRAYS: [(i64, i64, i64); 4] = [(278, 545, 4_000), (278, 272, 2_000), (400, 600, 9_000), (320, 530, 6_000)];

/// The splitmix64 generator, so that the seasons are the same everywhere.
struct Draw(u64);

impl Draw {
    fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) % n
    }

    fn days(&mut self, below: u64) -> i32 {
        i32::try_from(self.below(below)).expect("a few days")
    }
}

fn season(stays: usize, percent: i64) -> Problem {
    let mut draw = Draw(7);
    let mut wanted = Vec::new();
    while wanted.len() < stays {
        let tray = [0, 0, 0, 1, 1, 2, 3].map(|kind| TRAYS[kind])[usize::try_from(draw.below(7)).expect("below 7")];
        // two dates, so that most are there in the middle of the season
        let from = draw.days(90) + draw.days(90);
        let batch = (tray, Days::new(from, from + 7 * (2 + draw.days(5))), draw.below(5) == 0);
        wanted.extend(std::iter::repeat_n(batch, BATCH.min(stays - wanted.len())));
    }
    let mut covered: BTreeMap<i32, i64> = BTreeMap::new();
    for ((w, d, _), days, _) in &wanted {
        (days.from..days.until).for_each(|day| *covered.entry(day).or_default() += w * d);
    }
    let most = covered.values().max().copied().unwrap_or(0);
    let (width, depth) = (1_829, 610);
    let number = usize::try_from(most * 100 / percent / (width * depth) + 1).expect("some shelves");
    let rect = Rect { x: 0, y: 0, w: width * MM, d: depth * MM };
    let shelves = (0..number).map(|shelf| Shelf { load: (shelf % 4 != 0).then_some(60_000), cover: None });
    let all: RegionSet = (0..number).map(|shelf| Region { shelf, rect }).collect();
    let high: RegionSet = all.iter().filter(|region| region.shelf % 3 == 0).copied().collect();
    let item = |((w, d, grams), days, tall): &((i64, i64, i64), Days, bool)| Item {
        phases: vec![Phase { days: *days, w: w * MM, d: d * MM, grams: *grams }],
        regions: Arc::clone(if *tall { &high } else { &all }),
        pinned: None,
        wish: None,
    };
    Problem { shelves: shelves.collect(), items: wanted.iter().map(item).collect() }
}

fn solved(problem: &Problem, budget: u64) -> Answer {
    solve(problem, budget, &Progress::default(), &Cancel::default()).expect("nobody cancels")
}

/// A batch comes some days later: the first one, or one that is there on the fullest day.
fn later(problem: &Problem, first: usize, by: i32) -> Problem {
    let mut problem = problem.clone();
    for phase in problem.items.iter_mut().skip(first).take(BATCH).flat_map(|item| &mut item.phases) {
        phase.days = Days::new(phase.days.from + by, phase.days.until + by);
    }
    problem
}

fn fullest_day(problem: &Problem) -> i32 {
    let there = |day: &i32| problem.items.iter().filter(|item| item.days().contains(*day)).count();
    problem.change_days().into_iter().max_by_key(there).expect("a day")
}

/// A batch of the fullest day, from the middle of the list.
fn in_the_thick(problem: &Problem) -> usize {
    let day = fullest_day(problem);
    let there = |item: &Item| item.days().contains(day);
    let middle = problem.items.len() / BATCH / 2 * BATCH;
    let batches = (middle..problem.items.len()).step_by(BATCH).chain((0..middle).step_by(BATCH));
    batches.into_iter().find(|&first| there(&problem.items[first])).expect("a batch of the fullest day")
}

/// What is done to a season, as it is called: a batch of the fullest day comes later, goes, gets company or other trays.
fn edits(problem: &Problem) -> [(&'static str, Problem); 7] {
    let (first, ends) = (in_the_thick(problem), in_the_thick(problem) + BATCH);
    let (mut gone, mut more) = (problem.clone(), problem.clone());
    gone.items.drain(first..ends);
    let again: Vec<Item> = problem.items.iter().take(ends).skip(first).cloned().collect();
    more.items.splice(ends..ends, again);
    let of_size = |(w, d, grams): (i64, i64, i64)| {
        let mut problem = problem.clone();
        for phase in problem.items.iter_mut().take(ends).skip(first).flat_map(|item| &mut item.phases) {
            *phase = Phase { w: w * MM, d: d * MM, grams, ..*phase };
        }
        problem
    };
    [
        ("a week later", later(problem, 0, 7)),
        ("on the fullest day, later", later(problem, first, 5)),
        ("a batch gone", gone),
        ("a batch more", more),
        ("in smaller trays", of_size(TRAYS[1])),
        ("in larger trays", of_size(TRAYS[2])),
        ("in trays never seen", of_size((260, 500, 3_000))),
    ]
}

/// The season, and the same again after each edit: solved anew from what any solver remembers, and mended.
fn season_and_edits(group: &mut BenchmarkGroup<'_, WallTime>, problem: &Problem) {
    let Effort(budget) = Effort::default();
    group.bench_function("season", |b| b.iter(|| solved(black_box(problem), budget)));
    let ask = |memory: &mut Memory, problem: &Problem| {
        memory.solve(problem, budget, &Progress::default(), &Cancel::default()).expect("nobody cancels")
    };
    for (how, mut memory) in [("anew", Memory::default()), ("mended", Memory::mending())] {
        ask(&mut memory, problem);
        for (name, edited) in edits(problem) {
            group.bench_function(format!("{name}, {how}"), |b| {
                let again = |mut memory: Memory| ask(&mut memory, black_box(&edited));
                b.iter_batched(|| memory.clone(), again, BatchSize::PerIteration);
            });
        }
    }
}

fn invented(criterion: &mut Criterion, stays: usize) {
    let Effort(budget) = Effort::default();
    let problem = season(stays, 85);
    let mut group = group(criterion, &format!("{stays}"));
    group.bench_function("check", |b| {
        let answer = solved(&problem, 0);
        b.iter(|| check(black_box(&problem), &answer.layout));
    });
    group.bench_function("a day", |b| {
        let day = fullest_day(&problem);
        b.iter(|| pack_day(black_box(&problem), day, budget));
    });
    group.bench_function("first pass", |b| b.iter(|| solved(black_box(&problem), 0)));
    season_and_edits(&mut group, &problem);
    group.finish();
}

fn nearly_full(criterion: &mut Criterion, stays: usize) {
    let mut group = group(criterion, &format!("{stays} nearly full"));
    season_and_edits(&mut group, &season(stays, 95));
    group.finish();
}
