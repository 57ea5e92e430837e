//! Spots exchanged so that each kind stands together: nothing else may change.

use std::collections::BTreeSet;
use std::sync::Arc;

use flatwright::fit::{Days, Item, Layout, Phase, Problem, Rect, Region, RegionSet, Shelf, Spot, check, together};
use proptest::prelude::*;

use crate::small::solved;

fn shelves(number: usize, w: i64, d: i64) -> (Vec<Shelf>, RegionSet) {
    let regions: Vec<Region> = (0..number).map(|shelf| Region { shelf, rect: Rect { x: 0, y: 0, w, d } }).collect();
    (vec![Shelf::default(); number], Arc::from(regions))
}

fn item(days: (i32, i32), (w, d): (i64, i64), regions: &RegionSet) -> Item {
    let phases = vec![Phase { days: Days::new(days.0, days.1), w, d, grams: 0 }];
    Item { phases, regions: Arc::clone(regions), pinned: None, wish: None }
}

/// On how many shelves each kind stands, summed over kinds.
fn spread(layout: &Layout, kinds: &[u32]) -> usize {
    let stands = layout.spots.iter().zip(kinds).filter_map(|(spots, kind)| Some((*kind, spots.first()?.1.shelf)));
    stands.collect::<BTreeSet<_>>().len()
}

fn spot(shelf: usize, x: i64) -> Vec<(i32, Spot)> {
    vec![(0, Spot { shelf, x, y: 0, turned: false })]
}

#[test]
fn two_kinds_that_are_mixed_come_to_a_shelf_each() {
    let (shelves, regions) = shelves(2, 4, 1);
    let items: Vec<Item> = (0..8).map(|_| item((0, 9), (1, 1), &regions)).collect();
    let problem = Problem { shelves, items };
    let kinds = [0, 1, 0, 1, 0, 1, 0, 1];
    let mixed = Layout { spots: (0..8).map(|n| spot(n / 4, i64::try_from(n % 4).unwrap())).collect() };
    let sorted = together(&problem, &mixed, &kinds, &[false; 8]);
    assert_eq!(check(&problem, &sorted), Ok(()));
    assert_eq!((spread(&mixed, &kinds), spread(&sorted, &kinds)), (4, 2));
}

#[test]
fn on_one_shelf_they_stand_in_one_run() {
    let (shelves, regions) = shelves(1, 6, 1);
    let items: Vec<Item> = (0..6).map(|_| item((0, 9), (1, 1), &regions)).collect();
    let problem = Problem { shelves, items };
    let kinds = [0, 1, 0, 1, 0, 1];
    let mixed = Layout { spots: (0..6).map(|n| spot(0, n)).collect() };
    let sorted = together(&problem, &mixed, &kinds, &[false; 6]);
    let mut along: Vec<(i64, u32)> = sorted.spots.iter().zip(kinds).map(|(spots, kind)| (spots[0].1.x, kind)).collect();
    along.sort_unstable();
    let run: Vec<u32> = along.into_iter().map(|(_, kind)| kind).collect();
    assert_eq!(run, [0, 0, 0, 1, 1, 1]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn nothing_else_changes(
        all in prop::collection::vec((0_i32..6, 1_i32..6, 1_i64..4, 1_i64..3, 0_u32..4, any::<bool>()), 1..24),
    ) {
        let (shelves, regions) = shelves(3, 7, 4);
        let items = all.iter().map(|(from, days, w, d, ..)| item((*from, from + days), (*w, *d), &regions));
        let problem = Problem { shelves, items: items.collect() };
        let kinds: Vec<u32> = all.iter().map(|one| one.4).collect();
        let settled: Vec<bool> = all.iter().map(|one| one.5).collect();
        let answer = solved(&problem, 200_000);
        let sorted = together(&problem, &answer.layout, &kinds, &settled);
        prop_assert_eq!(check(&problem, &sorted), Ok(()));
        prop_assert!(spread(&sorted, &kinds) <= spread(&answer.layout, &kinds));
        for (number, (before, after)) in answer.layout.spots.iter().zip(&sorted.spots).enumerate() {
            prop_assert_eq!(before.len(), after.len());
            prop_assert!(!settled[number] || before == after);
        }
    }
}
