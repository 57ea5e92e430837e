//! Questions that make no sense, and work that nobody wants any more: an honest answer, or none.

use std::sync::Arc;
use std::thread;

use flatwright::fit::{
    Cancel, Cancelled, Days, Item, Layout, Phase, Problem, Progress, Rect, Region, RegionSet, Shelf, Spot, Verdict,
    check, pack_day, prove_day, solve,
};

use super::small::solved;

fn bench(w: i64, d: i64) -> RegionSet {
    Arc::from([Region { shelf: 0, rect: Rect { x: 0, y: 0, w, d } }])
}

fn tray(from: i32, until: i32, w: i64, d: i64, regions: &RegionSet) -> Item {
    let phases = vec![Phase { days: Days::new(from, until), w, d, grams: 1 }];
    Item { phases, regions: Arc::clone(regions), pinned: None, wish: None }
}

fn problem(items: Vec<Item>) -> Problem {
    Problem { shelves: vec![Shelf::default()], items }
}

/// Beside a tray that fits: it keeps its spot, and whoever makes no sense never gets one.
#[track_caller]
fn stands_nowhere(odd: &Item) {
    let bench = bench(100, 50);
    let asked = problem(vec![tray(0, 9, 20, 10, &bench), odd.clone()]);
    for budget in [0, 100_000] {
        let answer = solved(&asked, budget);
        assert_eq!(answer.layout.spots[0].len(), 1, "{odd:?}");
        assert_eq!(answer.layout.spots[1], [], "{odd:?}");
        for run in &answer.days {
            let wanted = odd.days().contains(run.days.from);
            assert_eq!(run.verdict == Verdict::Fits, !wanted, "{odd:?}: {run:?}");
        }
        assert_eq!(pack_day(&asked, 3, budget).is_some(), odd.phase_on(3).is_none());
    }
}

#[test]
fn trays_without_extent_or_larger_than_the_bench_stand_nowhere() {
    let bench = bench(100, 50);
    for (w, d) in [(0, 5), (5, 0), (-3, 5), (5, i64::MIN), (101, 5), (51, 51), (i64::MAX, i64::MAX)] {
        stands_nowhere(&tray(2, 6, w, d, &bench));
    }
}

#[test]
fn stays_that_end_before_they_begin_are_no_stays() {
    let bench = bench(100, 50);
    stands_nowhere(&tray(6, 2, 5, 5, &bench));
    stands_nowhere(&tray(4, 4, 5, 5, &bench));
    stands_nowhere(&tray(i32::MAX, i32::MIN, 5, 5, &bench));
    let mut never = tray(0, 9, 5, 5, &bench);
    never.phases.clear();
    stands_nowhere(&never);
}

#[test]
fn regions_far_out_or_on_no_shelf_hold_nothing() {
    let far = Region { shelf: 0, rect: Rect { x: i64::MAX - 3, y: i64::MIN, w: i64::MAX, d: i64::MAX } };
    let none = Region { shelf: usize::MAX, rect: Rect { x: 0, y: 0, w: 90, d: 90 } };
    for region in [far, none] {
        let answer = solve(
            &problem(vec![tray(0, 9, 5, 5, &Arc::from([region]))]),
            10_000,
            &Progress::default(),
            &Cancel::default(),
        );
        assert_eq!(answer.expect("nobody cancels").layout.spots, [vec![]]);
    }
}

#[test]
fn nothing_asked_is_nothing_wrong() {
    for asked in [Problem::default(), problem(Vec::new()), Problem { shelves: Vec::new(), ..problem(Vec::new()) }] {
        assert!(solved(&asked, 0).is_fit());
        assert_eq!(prove_day(&asked, 0), None);
    }
}

#[test]
fn a_layout_far_beyond_the_bench_is_refused_without_a_panic() {
    let asked = problem(vec![tray(i32::MIN, i32::MAX, 5, 5, &bench(9, 9)); 3]);
    let far = |x, y| vec![(i32::MIN, Spot { shelf: 0, x, y, turned: true })];
    let spots = vec![far(i64::MAX, i64::MAX), far(i64::MIN, 0), far(i64::MAX - 1, i64::MAX - 1)];
    let faults = check(&asked, &Layout { spots }).expect_err("out of this world");
    assert!(faults.len() >= 3);
}

/// A bench a hundred times as long as its trays is searched in parts, and none is lost.
#[test]
fn a_very_long_bench_is_filled_to_its_end() {
    for (w, d) in [(4_000, 5), (5, 4_000), (300, 300)] {
        let bench = bench(w, d);
        let number = usize::try_from(w * d / 25).expect("thousands");
        let asked = problem(vec![tray(0, 9, 5, 5, &bench); number]);
        assert!(solved(&asked, 0).is_fit(), "{w} x {d}");
        let mut later = asked.clone();
        later.items.push(tray(3, 4, 5, 5, &bench));
        let answer = solved(&later, 0);
        let crunch: Vec<Days> = answer.days.iter().filter(|run| run.short_most > 0).map(|run| run.days).collect();
        assert_eq!(crunch, [Days::new(3, 4)]);
    }
}

/// Asked again and again until the cancel is heard, wherever the work is then.
#[test]
fn work_ends_once_it_is_no_longer_wanted() {
    let bench = bench(500, 300);
    let items = (0..600).map(|n| tray(n % 60, n % 60 + 9, 20 + i64::from(n % 7), 10, &bench)).collect();
    let asked = problem(items);
    let cancel = Cancel::default();
    thread::scope(|scope| {
        let work = scope.spawn(|| {
            loop {
                if let Err(stopped) = solve(&asked, 1_000_000, &Progress::default(), &cancel) {
                    return stopped;
                }
            }
        });
        cancel.cancel();
        assert_eq!(work.join().expect("no panic"), Cancelled);
    });
}

/// Six flats stand on each of a hundred shelves, and a hundred thousand are asked for.
#[test]
fn a_hundred_thousand_stays_are_counted_like_a_hundred() {
    let regions: RegionSet =
        (0..100).map(|shelf| Region { shelf, rect: Rect { x: 0, y: 0, w: 1_829, d: 610 } }).collect();
    let items = (0..100_000).map(|n| tray(n % 3, 9, 545, 278, &regions)).collect();
    let asked = Problem { shelves: vec![Shelf::default(); 100], items };
    let answer = solved(&asked, 0);
    let last = answer.on(5).expect("a day of the season");
    assert!(matches!(&last.verdict, Verdict::Crunch(bound) if bound.held == 600));
    assert_eq!((last.short_least, last.short_most), (99_400, 99_400));
    assert_eq!(answer.layout.no_spot_on(&asked, 5).len(), 99_400);
}

#[test]
fn benches_larger_than_the_earth_break_nothing() {
    for side in [1_i64 << 39, 1 << 45, i64::MAX / 2, i64::MAX] {
        let bench = bench(side, side);
        let items = vec![tray(0, 2, side / 2, side / 3, &bench), tray(0, 2, side / 2 + 1, side, &bench)];
        let asked = problem([items.clone(), items].concat());
        let (answer, proven) = (solved(&asked, 10_000), prove_day(&asked, 1));
        // Either of the two wide ones stands beside both of the others.
        assert!(proven.is_none_or(|bound| bound.short() == 1));
        assert!(!answer.days.is_empty() && answer.days.iter().all(|run| run.verdict != Verdict::Fits));
    }
}
