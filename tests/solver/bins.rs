//! Mixed sizes on equal shelves: published instances, whole truths of tiny ones, and what always holds.

use flatwright::fit::{Bins, BinsError, Cancel, Rect, pack_bins};
use proptest::prelude::*;

type Size = (i64, i64);

fn pack(bin: Size, items: &[Size], budget: u64) -> Bins {
    pack_bins(bin.0, bin.1, items, budget, &Cancel::default()).unwrap()
}

/// Why an answer is no packing of the items; shares nothing with the solver but its types.
fn fault(bin: Size, items: &[Size], answer: &Bins) -> Option<String> {
    if answer.spots.len() != items.len() {
        return Some(format!("{} spots for {} items", answer.spots.len(), items.len()));
    }
    let mut used = vec![false; answer.count];
    for (item, (&(w, d), &(number, spot))) in items.iter().zip(&answer.spots).enumerate() {
        let Rect { x, y, .. } = spot;
        if (spot.w, spot.d) != (w, d) && (spot.w, spot.d) != (d, w) {
            return Some(format!("item {item} changed its size"));
        }
        if x < 0 || y < 0 || x + spot.w > bin.0 || y + spot.d > bin.1 {
            return Some(format!("item {item} sticks out"));
        }
        let Some(used) = used.get_mut(number) else {
            return Some(format!("item {item} is in bin {number} of {}", answer.count));
        };
        *used = true;
        for (other, &(elsewhere, beside)) in answer.spots[..item].iter().enumerate() {
            let apart_x = x + spot.w <= beside.x || beside.x + beside.w <= x;
            let apart_y = y + spot.d <= beside.y || beside.y + beside.d <= y;
            if number == elsewhere && !apart_x && !apart_y {
                return Some(format!("items {other} and {item} overlap"));
            }
        }
    }
    if used.contains(&false) {
        return Some("a bin is empty".to_owned());
    }
    (answer.bound > answer.count).then(|| format!("bound {} above {} bins", answer.bound, answer.count))
}

#[test]
fn the_check_finds_what_is_planted() {
    let items = [(2, 1), (1, 1)];
    let spot = |x, y, w, d| Rect { x, y, w, d };
    let check = |spots: Vec<(usize, Rect)>, count, bound| fault((3, 1), &items, &Bins { spots, count, bound });
    assert_eq!(check(vec![(0, spot(0, 0, 2, 1)), (0, spot(2, 0, 1, 1))], 1, 1), None);
    assert!(check(vec![(0, spot(0, 0, 2, 1)), (0, spot(1, 0, 1, 1))], 1, 1).unwrap().contains("overlap"));
    assert!(check(vec![(0, spot(0, 0, 2, 1)), (0, spot(3, 0, 1, 1))], 1, 1).unwrap().contains("sticks out"));
    assert!(check(vec![(0, spot(0, 0, 1, 1)), (0, spot(2, 0, 1, 1))], 1, 1).unwrap().contains("size"));
    assert!(check(vec![(0, spot(0, 0, 2, 1)), (1, spot(2, 0, 1, 1))], 1, 1).unwrap().contains("bin 1 of 1"));
    assert!(check(vec![(0, spot(0, 0, 2, 1)), (0, spot(2, 0, 1, 1))], 2, 1).unwrap().contains("empty"));
    assert!(check(vec![(0, spot(0, 0, 2, 1)), (0, spot(2, 0, 1, 1))], 1, 2).unwrap().contains("bound"));
    assert!(check(vec![(0, spot(0, 0, 2, 1))], 1, 1).unwrap().contains("1 spots"));
}

/// The bound and the bins of a published instance; each was solved to its bound before.
#[track_caller]
fn check_instance(name: &str, bins: usize) {
    let text = include_str!("data/bins.txt");
    let line = text.lines().find(|line| line.split_whitespace().next() == Some(name)).unwrap();
    let mut words = line.split_whitespace().skip(1);
    let mut number = || words.next().unwrap().parse::<i64>().unwrap();
    let (bin, many) = ((number(), number()), number());
    let items: Vec<Size> = words
        .map(|word| word.split_once('x').unwrap())
        .map(|(w, d)| (w.parse().unwrap(), d.parse().unwrap()))
        .collect();
    assert_eq!(items.len(), usize::try_from(many).unwrap(), "{name}");
    let answer = pack(bin, &items, 4_000_000);
    assert_eq!(fault(bin, &items, &answer), None, "{name}");
    assert_eq!((answer.count, answer.bound), (bins, bins), "{name}");
}

/// Berkey and Wang, Martello and Vigo; the source is in the file. The bins are the lower bound of a
/// program that shares no code with this one.
#[test]
fn published_instances_are_solved_to_their_bound() {
    check_instance("cl01_020_01", 7);
    check_instance("cl01_060_03", 21);
    check_instance("cl02_040_02", 2);
    check_instance("cl03_020_05", 4);
    check_instance("cl03_080_04", 18);
    check_instance("cl04_040_06", 2);
    check_instance("cl05_020_07", 5);
    check_instance("cl06_060_01", 2);
    check_instance("cl07_020_01", 5);
    check_instance("cl09_060_08", 47);
    check_instance("cl09_100_02", 64);
    check_instance("cl10_020_03", 4);
}

/// The fewest bins, by trying every cell for every item.
fn fewest(bin: Size, items: &[Size]) -> usize {
    let sets = 1_usize << items.len();
    let mut bins = vec![usize::MAX; sets];
    bins[0] = 0;
    let together: Vec<bool> = (0..sets)
        .map(|set| {
            let members: Vec<Size> = (0..items.len()).filter(|n| set >> n & 1 == 1).map(|n| items[n]).collect();
            members.iter().map(|(w, d)| w * d).sum::<i64>() <= bin.0 * bin.1 && share_a_bin(bin, &members, 0)
        })
        .collect();
    for set in 1..sets {
        let parts = (1..=set).filter(|part| part & set == *part && together[*part]);
        bins[set] = parts.map(|part| bins[set ^ part].saturating_add(1)).min().unwrap();
    }
    bins[sets - 1]
}

/// Whether items can stand on the cells that are free, one bit a cell.
fn share_a_bin(bin: Size, items: &[Size], taken: u64) -> bool {
    let Some((&(w, d), rest)) = items.split_first() else {
        return true;
    };
    [(w, d), (d, w)].into_iter().any(|(w, d)| {
        (0..=bin.0 - w).any(|x| {
            (0..=bin.1 - d).any(|y| {
                let cells = (x..x + w).flat_map(|i| (y..y + d).map(move |j| (i, j)));
                let mine = cells.fold(0, |mine, (i, j)| mine | 1 << (j * bin.0 + i));
                taken & mine == 0 && share_a_bin(bin, rest, taken | mine)
            })
        })
    })
}

#[test]
fn the_exhaustive_search_knows_what_a_hand_can_count() {
    assert_eq!(fewest((3, 3), &[(2, 1); 4]), 1);
    assert_eq!(fewest((3, 3), &[(2, 2), (2, 1), (2, 1), (1, 1)]), 1);
    assert_eq!(fewest((3, 3), &[(2, 2), (2, 2)]), 2);
    assert_eq!(fewest((5, 2), &[(1, 5), (4, 2)]), 2);
}

#[test]
fn the_same_question_gets_the_same_answer() {
    let items: Vec<Size> = (0..40).map(|n| (20 + n * 37 % 61, 15 + n * 53 % 67)).collect();
    let first = pack((100, 90), &items, 500_000);
    assert_eq!(fault((100, 90), &items, &first), None);
    assert_eq!(pack((100, 90), &items, 500_000), first);
    let without = pack((100, 90), &items, 0);
    assert_eq!(fault((100, 90), &items, &without), None);
    assert!(first.count < without.count, "{} bins searched, {} at once", first.count, without.count);
}

#[test]
fn a_common_measure_changes_nothing() {
    let items: Vec<Size> = (0..30).map(|n| (2 + n * 7 % 11, 1 + n * 5 % 13)).collect();
    let large: Vec<Size> = items.iter().map(|(w, d)| (8_000 * w, 8_000 * d)).collect();
    let (small, scaled) = (pack((20, 14), &items, 200_000), pack((160_000, 119_999), &large, 200_000));
    assert_eq!(fault((160_000, 119_999), &large, &scaled), None);
    assert_eq!(pack((20, 13), &items, 200_000).count, scaled.count, "the last 7,999 units are of no use");
    assert!(small.count <= scaled.count);
}

#[test]
fn nothing_needs_no_bin() {
    assert_eq!(pack((10, 10), &[], 1_000), Bins { spots: Vec::new(), count: 0, bound: 0 });
}

#[test]
fn what_cannot_be_packed_is_refused_and_named() {
    let refused = |w, d, items: &[Size]| pack_bins(w, d, items, 1_000, &Cancel::default()).unwrap_err();
    assert_eq!(refused(0, 5, &[(1, 1)]), BinsError::NoBin { width: 0, depth: 5 });
    assert_eq!(refused(5, -3, &[]), BinsError::NoBin { width: 5, depth: -3 });
    assert_eq!(refused(5, 5, &[(1, 1), (2, 0)]), BinsError::NoSize { item: 1, w: 2, d: 0 });
    assert_eq!(refused(5, 5, &[(i64::MIN, 2)]), BinsError::NoSize { item: 0, w: i64::MIN, d: 2 });
    let long = refused(6, 5, &[(5, 6), (4, 7)]);
    assert_eq!(long, BinsError::TooLarge { item: 1, w: 4, d: 7, width: 6, depth: 5 });
    assert_eq!(long.to_string(), "item 1 is 4 × 7, too large for a bin of 6 × 5 even when turned");
    assert_eq!(refused(6, 5, &[(6, 6)]), BinsError::TooLarge { item: 0, w: 6, d: 6, width: 6, depth: 5 });
}

#[test]
fn work_that_is_not_wanted_stops() {
    let cancel = Cancel::default();
    cancel.cancel();
    assert!(matches!(pack_bins(9, 9, &[(2, 3); 50], 1_000, &cancel), Err(BinsError::Cancelled(_))));
}

#[test]
fn lengths_beyond_any_shelf_are_no_trouble() {
    let most = 1 << 40;
    let items = [(most, 1), (1, most), (most, most - 1), (most / 2, most / 3), (7, 5)];
    let answer = pack((most, most), &items, 10_000);
    assert_eq!(fault((most, most), &items, &answer), None);
    assert_eq!((answer.count, answer.bound), (2, 2));
    let refused = |w, d| pack_bins(w, d, &items, 0, &Cancel::default()).unwrap_err();
    assert_eq!(refused(most, most + 1), BinsError::TooLong { width: most, depth: most + 1 });
    assert_eq!(refused(i64::MAX, i64::MAX), BinsError::TooLong { width: i64::MAX, depth: i64::MAX });
}

#[test]
fn a_hundred_thousand_items_get_an_answer() {
    let items: Vec<Size> = (0..100_000).map(|n| (1 + n * 7_919 % 397, 1 + n * 104_729 % 499)).collect();
    let answer = pack((1_000, 700), &items, 0);
    let area: i64 = items.iter().map(|(w, d)| w * d).sum();
    let by_area = usize::try_from(area / 700_000 + 1).unwrap();
    assert!(answer.bound >= by_area && answer.count <= by_area * 11 / 10, "{} bins, {by_area} by area", answer.count);
}

fn sizes(most: Size, many: usize) -> impl Strategy<Value = Vec<Size>> {
    prop::collection::vec((1..=most.0, 1..=most.1), 0..=many)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn few_items_get_the_true_fewest_bins(bin in (2_i64..=5, 2_i64..=5), seeds in sizes((5, 5), 5)) {
        let items: Vec<Size> = seeds.iter().map(|(w, d)| (1 + w % bin.0, 1 + d % bin.1)).collect();
        let answer = pack(bin, &items, 20_000);
        let truth = fewest(bin, &items);
        prop_assert_eq!(fault(bin, &items, &answer), None);
        prop_assert!(answer.bound <= truth, "bound {} above {}", answer.bound, truth);
        prop_assert_eq!(answer.count, truth);
    }

    #[test]
    fn every_answer_is_a_packing(bin in (1_i64..=300, 1_i64..=300), seeds in sizes((300, 300), 60), budget in 0_u64..50_000) {
        let items: Vec<Size> = seeds.iter().map(|(w, d)| (1 + w % bin.0, 1 + d % bin.1)).collect();
        prop_assert_eq!(fault(bin, &items, &pack(bin, &items, budget)), None);
    }
}
