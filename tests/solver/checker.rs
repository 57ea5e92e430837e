//! The checker against layouts that were good until one fault was planted.

use flatwright::fit::{Fault, Layout, Problem, Spot, check};
use proptest::prelude::*;
use proptest::sample::Index;

use super::small::{seasons, solved};

/// A solved season, and one of its trays that has a spot; seasons where nothing stands are drawn again.
fn planted(problem: &Problem, at: Index) -> Result<(Layout, usize), TestCaseError> {
    let layout = solved(problem, 50_000).layout;
    let standing: Vec<usize> = (0..layout.spots.len()).filter(|&item| !layout.spots[item].is_empty()).collect();
    prop_assume!(!standing.is_empty());
    Ok((layout, standing[at.index(standing.len())]))
}

fn names(problem: &Problem, layout: &Layout, fault: &Fault) -> Result<(), TestCaseError> {
    let found = check(problem, layout).err().unwrap_or_default();
    prop_assert!(found.contains(fault), "{:?} is not among {:?}", fault, found);
    Ok(())
}

/// Where an item stands on a day of its own.
fn stands(problem: &Problem, layout: &Layout, item: usize, day: i32) -> Option<Spot> {
    problem.items[item].phase_on(day).and_then(|_| layout.spot_on(item, day))
}

const DAYS: std::ops::Range<i32> = -2..20;

/// The items on a shelf that day, with their grams and surface.
fn on_shelf(problem: &Problem, layout: &Layout, shelf: usize, day: i32) -> (Vec<usize>, i64, i128) {
    let mut found = (Vec::new(), 0, 0);
    for item in 0..problem.items.len() {
        let here = stands(problem, layout, item, day).filter(|spot| spot.shelf == shelf);
        if let (Some(_), Some(phase)) = (here, problem.items[item].phase_on(day)) {
            found.0.push(item);
            found.1 += phase.grams;
            found.2 += i128::from(phase.w * phase.d);
        }
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn a_list_too_few_or_too_many(problem in seasons(1, 6), at in any::<Index>(), more in any::<bool>()) {
        let (mut layout, _) = planted(&problem, at)?;
        if more { layout.spots.push(Vec::new()) } else { drop(layout.spots.pop()) }
        let (items, lists) = (problem.items.len(), layout.spots.len());
        names(&problem, &layout, &Fault::Lists { items, lists })?;
    }

    #[test]
    fn a_tray_put_on_another(problem in seasons(2, 6), at in any::<Index>(), onto in any::<Index>()) {
        let (mut layout, item) = planted(&problem, at)?;
        let shared = |other: &usize| {
            *other != item && DAYS.clone().any(|day| {
                [*other, item].iter().all(|&item| stands(&problem, &layout, item, day).is_some())
            })
        };
        let others: Vec<usize> = (0..problem.items.len()).filter(shared).collect();
        prop_assume!(!others.is_empty());
        let other = others[onto.index(others.len())];
        let both = |layout: &Layout, day: i32| {
            let rect = |item: usize| {
                let spot = stands(&problem, layout, item, day)?;
                Some((spot.shelf, spot.rect(problem.items[item].phase_on(day)?)))
            };
            rect(item).zip(rect(other))
        };
        let day = DAYS.clone().find(|&day| both(&layout, day).is_some()).expect("a common day");
        let from = layout.spots[item][0].0;
        layout.spots[item] = vec![(from, layout.spot_on(other, day).expect("it stands"))];
        let clash = |day: &i32| both(&layout, *day).is_some_and(|((a, one), (b, two))| a == b && one.overlaps(two));
        prop_assert_eq!(DAYS.clone().find(clash), Some(day));
        names(&problem, &layout, &Fault::Overlap { a: item.min(other), b: item.max(other), day })?;
    }

    #[test]
    fn a_tray_off_its_ground_or_on_no_shelf(problem in seasons(1, 6), at in any::<Index>(), by in 0..5_usize) {
        let (mut layout, item) = planted(&problem, at)?;
        let spot = &mut layout.spots[item][0];
        match by {
            0 => spot.1.x += 6,
            1 => spot.1.x -= 6,
            2 => spot.1.y += 6,
            3 => spot.1.y -= 6,
            _ => spot.1.shelf = problem.shelves.len(),
        }
        let day = spot.0;
        names(&problem, &layout, &Fault::OutsideRegions { item, day })?;
    }

    #[test]
    fn a_spot_before_the_first_day_or_after_the_last(problem in seasons(1, 6), at in any::<Index>(), late in any::<bool>()) {
        let (mut layout, item) = planted(&problem, at)?;
        let days = problem.items[item].days();
        let day = if late { days.until } else { days.from - 1 };
        let spots = &mut layout.spots[item];
        let (_, spot) = spots[0];
        if late { spots.push((day, spot)) } else { spots[0].0 = day }
        names(&problem, &layout, &Fault::OutsideDays { item, day })?;
    }

    #[test]
    fn spots_in_the_wrong_order(problem in seasons(1, 6), at in any::<Index>(), back in 0..2_i32) {
        let (mut layout, item) = planted(&problem, at)?;
        let (day, spot) = *layout.spots[item].last().expect("it has one");
        layout.spots[item].push((day - back, spot));
        names(&problem, &layout, &Fault::OutOfOrder { item, day })?;
    }

    #[test]
    fn a_pinned_tray_somewhere_else(mut problem in seasons(1, 6), at in any::<Index>(), by in 0..3_usize) {
        let (layout, item) = planted(&problem, at)?;
        let (day, spot) = layout.spots[item][0];
        let pinned = match by {
            0 => Spot { x: spot.x + 1, ..spot },
            1 => Spot { turned: !spot.turned, ..spot },
            _ => Spot { shelf: spot.shelf + 1, ..spot },
        };
        problem.items[item].pinned = Some(pinned);
        names(&problem, &layout, &Fault::NotAsPinned { item, day })?;
    }

    #[test]
    fn a_shelf_too_weak_or_too_full(mut problem in seasons(1, 6), at in any::<Index>(), cover in any::<bool>()) {
        let (layout, item) = planted(&problem, at)?;
        let shelf = layout.spots[item][0].1.shelf;
        let sums = |day: i32| on_shelf(&problem, &layout, shelf, day);
        let load = DAYS.map(|day| sums(day).1).max().expect("days") - 1;
        let most = DAYS.map(|day| sums(day).2).max().expect("days") - 1;
        let over = |day: &i32| if cover { sums(*day).2 > most } else { sums(*day).1 > load };
        let day = DAYS.clone().find(over).expect("the fullest day");
        let (items, grams, covered) = sums(day);
        let fault = if cover {
            Fault::Overcover { shelf, day, cover: covered, items }
        } else {
            Fault::Overload { shelf, day, grams, items }
        };
        if cover { problem.shelves[shelf].cover = Some(most) } else { problem.shelves[shelf].load = Some(load) }
        let found = check(&problem, &layout).expect_err("it is over");
        prop_assert_eq!(&found[0], &fault);
        let kind = std::mem::discriminant(&fault);
        prop_assert!(found.iter().all(|other| std::mem::discriminant(other) == kind), "{:?}", found);
    }
}
