//! One day: everything may be moved except what is pinned.
//!
//! Finds a packing or leaves it open; that none exists is for `proof` to show.

use std::sync::Arc;

use super::answer::Layout;
use super::problem::{Days, Item, Phase, Problem, Spot};
use super::work::Cancel;
use crate::fit::check::check;
use crate::fit::count::at_most;
use crate::fit::place::board::{Board, Prefer, Rule};
use crate::fit::place::ejection::place_all;
use crate::fit::place::exhaust::{Exhausted, exhaust};
use crate::fit::place::jobs::{Job, Jobs, Lattices};
use crate::fit::place::placement::Attempt;
use crate::fit::proof::prover::Prover;

/// A spot for every item of a day, or `None` if no packing was found within the budget.
///
/// The budget counts looks at obstacles. Spots are the items' own regions'; shapes are that day's.
pub fn pack_day(problem: &Problem, day: i32, budget: u64) -> Option<Vec<(usize, Spot)>> {
    if Prover::new(&Cancel::default()).day(problem, day).bound.is_some() {
        return None;
    }
    let found = pack_most(problem, day, budget);
    let wanted = problem.items.iter().filter(|item| item.phase_on(day).is_some()).count();
    (found.len() == wanted).then_some(found)
}

/// Spots for as many items of a day as could be placed within the budget.
pub fn pack_most(problem: &Problem, day: i32, budget: u64) -> Vec<(usize, Spot)> {
    let only = Days::new(day, day.saturating_add(1));
    let list = problem.items.iter().enumerate().filter_map(|(number, item)| Job::new(number, item, only)).collect();
    let jobs = Jobs::new(list, &mut Lattices::default());
    let attempt = Attempt { jobs: &jobs, shelves: &problem.shelves, enough: 0, budget, cancel: &Cancel::default() };
    let Ok(found) = place_all(attempt) else {
        return Vec::new();
    };
    let mut spots = found.spots;
    if spots.iter().any(Option::is_none)
        && let Exhausted::Fits(all) = exhaust(attempt)
    {
        spots = all.into_iter().map(Some).collect();
    }
    jobs.list.iter().zip(spots).filter_map(|(job, spot)| Some((job.item, spot?))).collect()
}

/// Whether every item of a day has a spot where those with a wish stand where they wish to, if they can, and the others
/// beside them: a layout that was checked. `false` says nothing.
pub fn fits_as_wished(problem: &Problem, day: i32) -> bool {
    let only = Days::new(day, day.saturating_add(1));
    let here: Vec<&Item> = problem.items.iter().filter(|item| item.phase_on(day).is_some()).collect();
    let list: Vec<Job> = here.iter().enumerate().filter_map(|(number, item)| Job::new(number, item, only)).collect();
    let jobs = Jobs::new(list, &mut Lattices::default());
    let mut board = Board::new(&jobs, &problem.shelves);
    let mut left = Vec::new();
    let (pinned, free): (Vec<_>, Vec<_>) = jobs.list.iter().enumerate().partition(|(_, job)| job.pinned.is_some());
    for (number, job) in pinned.into_iter().chain(free) {
        match job.pinned.or(job.wish).filter(|spot| board.admits(number, *spot)) {
            Some(spot) => board.place(number, spot),
            None => left.push(number),
        }
    }
    // what is large finds least room
    left.sort_by_key(|&number| {
        std::cmp::Reverse(jobs.list.get(number).map(|job| i128::from(job.w) * i128::from(job.d)))
    });
    for number in left {
        let rules = [Rule::Lattice, Rule::Left, Rule::Front];
        let Some(spot) = rules.into_iter().find_map(|rule| board.find(number, rule, Prefer::Given)) else {
            return false;
        };
        board.place(number, spot);
    }
    let mut alone = Problem { shelves: problem.shelves.clone(), items: Vec::new() };
    let mut layout = Layout::default();
    for (number, job) in jobs.list.iter().enumerate() {
        let (Some(item), Some(spot)) = (here.get(job.item), board.spot(number)) else { return false };
        alone.items.push(Item { phases: job.phases.clone(), ..(*item).clone() });
        layout.spots.push(vec![(day, spot)]);
    }
    jobs.list.len() == here.len() && check(&alone, &layout).is_ok()
}

/// How many like `more` can be put beside what stands on a day, at least; up to `limit`.
///
/// Nothing that stands is moved. `more` has the shape and weight of its first phase.
pub fn place_more(problem: &Problem, layout: &Layout, day: i32, more: &Item, limit: i64) -> i64 {
    let only = Days::new(day, day.saturating_add(1));
    let Some(&Phase { w, d, grams, .. }) = more.phases.first() else { return 0 };
    let regions = &more.regions;
    let ground = regions.iter().map(|r| at_most(r.rect.w, r.rect.d, w, d)).fold(0, i64::saturating_add);
    let Ok(wanted) = usize::try_from(limit.min(ground).min(20_000)) else {
        return 0;
    };
    let phases = vec![Phase { days: only, w, d, grams }];
    let more = Item { phases, regions: Arc::clone(regions), pinned: None, wish: None };
    let standing = problem.items.iter().enumerate();
    let standing: Vec<(Job, Spot)> = standing
        .filter_map(|(number, item)| Some((Job::new(number, item, only)?, layout.spot_on(number, day)?)))
        .collect();
    let new = (0..wanted).filter_map(|_| Job::new(problem.items.len(), &more, only));
    let list: Vec<Job> = standing.iter().map(|(job, _)| job.clone()).chain(new).collect();
    let jobs = Jobs::new(list, &mut Lattices::default());
    let placed = |rule: Rule| {
        let mut board = Board::new(&jobs, &problem.shelves);
        for (number, &(_, spot)) in standing.iter().enumerate() {
            board.place(number, spot);
        }
        let numbers = standing.len()..jobs.list.len();
        let mut count = 0;
        for number in numbers {
            let Some(spot) = board.find(number, rule, Prefer::Given) else {
                break;
            };
            board.place(number, spot);
            count += 1;
        }
        count
    };
    [Rule::Lattice, Rule::Left, Rule::Front].into_iter().map(placed).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fit::problem::{RegionSet, Shelf};
    use crate::fit::samples::{most_standing, problems, shelves, tray, whole};
    use crate::fit::{Rect, Region};

    /// The day alone, as a layout of its own.
    fn layout_of(problem: &Problem, day: i32, spots: &[(usize, Spot)]) -> (Problem, Layout) {
        let mut alone = problem.clone();
        for item in &mut alone.items {
            item.phases.retain(|phase| phase.days.contains(day));
        }
        let mut layout = Layout { spots: vec![Vec::new(); problem.items.len()] };
        for &(item, spot) in spots {
            alone.items[item].phases[0].days = Days::new(day, day + 1);
            layout.spots[item] = vec![(day, spot)];
        }
        (alone, layout)
    }

    #[test]
    fn flats_fill_a_bench_to_the_last_one() {
        // 165 flats of 10.94 x 21.44 in on 600 x 72 in: only with a mixed column.
        let bench = whole(&[(60_000, 7_200)]);
        let problem = Problem { shelves: shelves(1), items: vec![tray(0, 1, 1_094, 2_144, &bench); 165] };
        let spots = pack_day(&problem, 0, 1_000_000).expect("the count's own packing");
        let (alone, layout) = layout_of(&problem, 0, &spots);
        assert_eq!(check(&alone, &layout), Ok(()));
    }

    #[test]
    fn pinned_trays_stay_and_the_others_stand_around_them() {
        let shelf = whole(&[(10, 10)]);
        let mut items = vec![tray(0, 1, 5, 5, &shelf); 3];
        let middle = Spot { shelf: 0, x: 2, y: 0, turned: false };
        items[2].pinned = Some(middle);
        let problem = Problem { shelves: shelves(1), items };
        let spots = pack_day(&problem, 0, 100_000).expect("two behind the pinned one");
        assert!(spots.contains(&(2, middle)));
    }

    #[test]
    fn a_day_that_cannot_be_packed_still_holds_as_many_as_it_can() {
        let shelf = whole(&[(10, 10)]);
        let problem = Problem { shelves: shelves(1), items: vec![tray(0, 1, 5, 5, &shelf); 6] };
        assert_eq!(pack_day(&problem, 0, 100_000), None);
        assert_eq!(pack_most(&problem, 0, 100_000).len(), 4);
    }

    #[test]
    fn whoever_wishes_a_spot_keeps_it_and_the_others_stand_beside() {
        let shelf = whole(&[(10, 10)]);
        let wish = |x| Some(Spot { shelf: 0, x, y: 0, turned: false });
        let mut items = vec![tray(0, 2, 5, 10, &shelf), tray(1, 2, 5, 10, &shelf), tray(0, 1, 5, 10, &shelf)];
        (items[0].wish, items[1].wish) = (wish(0), wish(5));
        let problem = Problem { shelves: shelves(1), items };
        assert!(fits_as_wished(&problem, 0) && fits_as_wished(&problem, 1));
        let mut clash = problem.clone();
        clash.items[1].wish = wish(0);
        assert!(fits_as_wished(&clash, 1), "one of the two makes way");
        clash.items[1].phases[0].days.from = 0;
        assert!(!fits_as_wished(&clash, 0), "three on ground for two");
        clash.items[0].pinned = wish(3);
        assert!(!fits_as_wished(&clash, 1), "it stands in the middle");
    }

    #[test]
    fn more_flats_are_put_beside_what_stands() {
        let shelf = whole(&[(10, 10)]);
        let problem = Problem { shelves: shelves(1), items: vec![tray(0, 5, 5, 10, &shelf)] };
        let layout = Layout { spots: vec![vec![(0, Spot { shelf: 0, x: 0, y: 0, turned: false })]] };
        assert_eq!(place_more(&problem, &layout, 0, &tray(0, 9, 5, 5, &shelf), 100), 2);
        assert_eq!(place_more(&problem, &layout, 0, &tray(0, 9, 5, 5, &shelf), 1), 1);
        assert_eq!(place_more(&problem, &layout, 5, &tray(0, 9, 5, 5, &shelf), 100), 4);
        assert_eq!(place_more(&problem, &layout, 0, &tray(0, 9, 11, 1, &shelf), 100), 0);
        assert_eq!(place_more(&problem, &layout, 0, &tray(0, 9, 0, 1, &shelf), 100), 0);
        assert_eq!(place_more(&problem, &layout, 0, &tray(0, 9, 5, 5, &shelf), -1), 0);
        let far: RegionSet = Arc::from([Region { shelf: 9, rect: Rect { x: 0, y: 0, w: 9, d: 9 } }]);
        assert_eq!(place_more(&problem, &layout, 0, &tray(0, 9, 5, 5, &far), 3), 0);
    }

    #[test]
    fn no_more_are_put_there_than_the_shelf_bears() {
        let ground = whole(&[(10, 10)]);
        let layout = Layout { spots: vec![vec![(0, Spot { shelf: 0, x: 0, y: 0, turned: false })]] };
        let beside = |load| {
            let shelves = vec![Shelf { load: Some(load), cover: None }];
            let problem = Problem { shelves, items: vec![tray(0, 5, 5, 5, &ground)] };
            place_more(&problem, &layout, 0, &tray(0, 5, 5, 5, &ground), 100)
        };
        assert_eq!([4, 3, 2, 1, 0].map(beside), [3, 2, 1, 0, 0]);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]
        #[test]
        fn a_few_trays_are_packed_whenever_they_can_be(problem in problems(5), day in 0..8_i32) {
            let present: Vec<usize> =
                (0..problem.items.len()).filter(|&n| problem.items[n].phase_on(day).is_some()).collect();
            let found = pack_day(&problem, day, 3_000_000);
            let possible = most_standing(&problem, day, &present) == present.len();
            prop_assert_eq!(found.is_some(), possible);
            if let Some(spots) = found {
                let (alone, layout) = layout_of(&problem, day, &spots);
                prop_assert_eq!(check(&alone, &layout), Ok(()));
            }
        }
    }
}
