//! Handfuls of stays on one shelf or two are decided exactly, with as few moves as can be: held against a search of the
//! test's own, which tries every square of ground.

use std::ops::Range;
use std::sync::Arc;

use flatwright::fit::{Days, Item, Phase, Problem, Rect, Region, RegionSet, Shelf, Verdict};

use super::saw::Saw;
use super::small::solved;

/// As the program asks.
const PLENTY: u64 = 300_000_000;

/// A stay as it is drawn: days, sides, how high it is and how heavy.
#[derive(Clone, Copy, Debug)]
struct Stay {
    from: i64,
    until: i64,
    w: i64,
    d: i64,
    high: i64,
    grams: i64,
}

/// A shelf: sides, clear height, what it bears.
#[derive(Clone, Copy, Debug)]
struct Ledge {
    w: i64,
    d: i64,
    clear: i64,
    load: Option<i64>,
}

#[derive(Clone, Debug)]
struct Handful {
    shelves: Vec<Ledge>,
    stays: Vec<Stay>,
}

impl Handful {
    fn problem(&self) -> Problem {
        let item = |stay: &Stay| {
            let high_enough = self.shelves.iter().enumerate().filter(|(_, shelf)| shelf.clear >= stay.high);
            let region = |(shelf, on): (usize, &Ledge)| Region { shelf, rect: Rect { x: 0, y: 0, w: on.w, d: on.d } };
            let regions: RegionSet = high_enough.map(region).collect();
            let days = Days::new(i32::try_from(stay.from).unwrap(), i32::try_from(stay.until).unwrap());
            let phases = vec![Phase { days, w: stay.w, d: stay.d, grams: stay.grams }];
            Item { phases, regions: Arc::clone(&regions), pinned: None, wish: None }
        };
        let shelves = self.shelves.iter().map(|shelf| Shelf { load: shelf.load, cover: None }).collect();
        Problem { shelves, items: self.stays.iter().map(item).collect() }
    }

    /// Every day on which somebody comes.
    fn arrivals(&self) -> Vec<i64> {
        let mut days: Vec<i64> = self.stays.iter().map(|stay| stay.from).collect();
        days.sort_unstable();
        days.dedup();
        days
    }

    fn on(&self, day: i64) -> Vec<Stay> {
        self.stays.iter().filter(|stay| stay.from <= day && day < stay.until).copied().collect()
    }

    /// Whether all of some stays can have one spot each.
    fn stand(&self, stays: &[Stay]) -> bool {
        let stands = |stay: &Stay| {
            let turns =
                if stay.w == stay.d { vec![(stay.w, stay.d)] } else { vec![(stay.w, stay.d), (stay.d, stay.w)] };
            let mut found = Vec::new();
            for (number, shelf) in self.shelves.iter().enumerate().filter(|(_, shelf)| shelf.clear >= stay.high) {
                for &(w, d) in &turns {
                    for (x, y) in (0..=shelf.w - w).flat_map(|x| (0..=shelf.d - d).map(move |y| (x, y))) {
                        found.push((number, squares(x, y, w, d)));
                    }
                }
            }
            found
        };
        let open: Vec<(Stay, Vec<(usize, u128)>)> = stays.iter().map(|stay| (*stay, stands(stay))).collect();
        self.all(&open, &mut Vec::new())
    }

    fn all(&self, open: &[(Stay, Vec<(usize, u128)>)], standing: &mut Vec<(Stay, usize)>) -> bool {
        let Some(at) = (0..open.len()).min_by_key(|&at| open[at].1.len()) else { return true };
        let (stay, spots) = &open[at];
        let mut without = usize::MAX;
        for &(shelf, ground) in spots {
            if shelf == without {
                continue;
            }
            if !self.bears(stay, shelf, standing) {
                without = shelf;
                continue;
            }
            let others = open.iter().enumerate().filter(|(other, _)| *other != at);
            let left: Vec<(Stay, Vec<(usize, u128)>)> = others
                .map(|(_, (other, theirs))| {
                    let together = other.from < stay.until && stay.from < other.until;
                    let free = |there: &&(usize, u128)| !together || there.0 != shelf || there.1 & ground == 0;
                    (*other, theirs.iter().filter(free).copied().collect())
                })
                .collect();
            if left.iter().any(|(_, spots)| spots.is_empty()) {
                continue;
            }
            standing.push((*stay, shelf));
            if self.all(&left, standing) {
                return true;
            }
            standing.pop();
        }
        false
    }

    fn bears(&self, stay: &Stay, shelf: usize, standing: &[(Stay, usize)]) -> bool {
        let Some(load) = self.shelves[shelf].load else { return true };
        let here: Vec<Stay> =
            standing.iter().filter(|(_, on)| *on == shelf).map(|(stay, _)| *stay).chain([*stay]).collect();
        here.iter().all(|first| {
            let today = here.iter().filter(|other| other.from <= first.from && first.from < other.until);
            today.map(|other| other.grams).sum::<i64>() <= load
        })
    }

    /// Days on which not all can stand, whatever is moved.
    fn crunches(&self) -> Vec<i64> {
        self.arrivals().into_iter().filter(|&day| !self.stand(&self.on(day))).collect()
    }

    /// The fewest moves with which all stand on all days, up to `most`: whoever moves does so as somebody comes, and any
    /// so many moves are tried.
    fn fewest_moves(&self, most: usize) -> Option<usize> {
        let moves: Vec<(usize, i64)> = (0..self.stays.len())
            .flat_map(|at| self.arrivals().into_iter().map(move |day| (at, day)))
            .filter(|&(at, day)| self.stays[at].from < day && day < self.stays[at].until)
            .collect();
        (0..=most).find(|&number| self.any_moves(&moves, number, &mut Vec::new()))
    }

    fn any_moves(&self, moves: &[(usize, i64)], number: usize, chosen: &mut Vec<(usize, i64)>) -> bool {
        if number == 0 {
            return self.stand(&self.cut(chosen));
        }
        (0..moves.len()).any(|at| {
            chosen.push(moves[at]);
            let found = self.any_moves(&moves[at + 1..], number - 1, chosen);
            chosen.pop();
            found
        })
    }

    fn cut(&self, moves: &[(usize, i64)]) -> Vec<Stay> {
        let mut pieces = Vec::new();
        for (at, stay) in self.stays.iter().enumerate() {
            let mut from = stay.from;
            for &(_, day) in moves.iter().filter(|(other, _)| *other == at) {
                pieces.push(Stay { from, until: day, ..*stay });
                from = day;
            }
            pieces.push(Stay { from, ..*stay });
        }
        pieces
    }
}

/// Shelves are at most 11 × 11.
fn squares(x: i64, y: i64, w: i64, d: i64) -> u128 {
    (x..x + w).flat_map(|x| (y..y + d).map(move |y| x * 11 + y)).fold(0, |all, at| all | 1 << at)
}

/// One of four kinds: drawn at random, cut out of full shelves, cut and then changed a little, and with heights that nest.
fn handful(seed: u64, stays: Range<i64>) -> Handful {
    let mut saw = Saw(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    (0..8).for_each(|_| _ = saw.below(2));
    let number = stays.start + saw.below(stays.end - stays.start);
    let shelves = usize::try_from(1 + saw.below(2)).unwrap();
    let kind = seed % 4;
    let mut ledge = || Ledge { w: 4 + saw.below(5), d: 3 + saw.below(4), clear: 9, load: None };
    let mut shelves: Vec<Ledge> = (0..shelves).map(|_| ledge()).collect();
    let stays =
        if kind == 1 || kind == 2 { cut(&mut saw, &shelves, number) } else { drawn(&mut saw, &shelves, number) };
    let mut handful = Handful { shelves: Vec::new(), stays };
    if kind == 2 {
        for _ in 0..=saw.below(3) {
            let at = usize::try_from(saw.below(number)).unwrap();
            let stay = &mut handful.stays[at];
            match saw.below(4) {
                0 => stay.w += 1,
                1 => stay.d = (stay.d + 1 - 2 * saw.below(2)).max(1),
                2 => stay.until += 1,
                _ => stay.from = (stay.from - 1).max(0),
            }
        }
    }
    if kind == 3 {
        for (at, shelf) in shelves.iter_mut().enumerate() {
            shelf.clear = 9 + i64::try_from(at).unwrap();
        }
        for stay in &mut handful.stays {
            stay.high = 9 + i64::from(saw.below(3) == 0 && shelves.len() > 1);
        }
    }
    if saw.below(4) == 0 {
        for shelf in &mut shelves {
            shelf.load = Some(4 + saw.below(8));
        }
    }
    Handful { shelves, ..handful }
}

fn drawn(saw: &mut Saw, shelves: &[Ledge], number: i64) -> Vec<Stay> {
    let most = shelves.iter().map(|shelf| shelf.w.min(shelf.d)).max().unwrap();
    let stay = |_| {
        let from = saw.below(8);
        let until = from + 1 + saw.below(6);
        Stay { from, until, w: 1 + saw.below(most), d: 1 + saw.below(most), high: 0, grams: 1 + saw.below(3) }
    };
    (0..number).map(stay).collect()
}

fn cut(saw: &mut Saw, shelves: &[Ledge], number: i64) -> Vec<Stay> {
    let mut stays = Vec::new();
    let each = usize::try_from(number).unwrap() / shelves.len();
    for (at, shelf) in shelves.iter().enumerate() {
        let more = if at == 0 { usize::try_from(number).unwrap() % shelves.len() } else { 0 };
        for ([w, d, days], from) in saw.pieces([shelf.w, shelf.d, 12], each + more, 2) {
            let grams = 1 + saw.below(3);
            stays.push(Stay { from, until: from + days, w, d, high: 0, grams });
        }
    }
    stays
}

/// As many drawn stays as every single day still bears, up to `most`: often nobody can keep one spot.
fn crowded(seed: u64, most: usize) -> Handful {
    let mut saw = Saw(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    (0..8).for_each(|_| _ = saw.below(2));
    let shelves = vec![Ledge { w: 4 + saw.below(3), d: 3 + saw.below(2), clear: 9, load: None }];
    let mut handful = Handful { shelves: shelves.clone(), stays: Vec::new() };
    for _ in 0..40 {
        handful.stays.extend(drawn(&mut saw, &shelves, 1));
        if !handful.crunches().is_empty() {
            handful.stays.pop();
        }
        if handful.stays.len() == most {
            break;
        }
    }
    handful
}

/// What a season's answer gets wrong, in words; nothing if all is right.
fn wrong(handful: &Handful) -> Option<&'static str> {
    let answer = solved(&handful.problem(), PLENTY);
    let crunches = handful.crunches();
    for &day in &handful.arrivals() {
        let verdict = answer.on(i32::try_from(day).unwrap()).map(|run| &run.verdict);
        let crunch = crunches.contains(&day);
        match verdict {
            Some(Verdict::Unsettled) => {
                return Some(if crunch { "impossible and unsettled" } else { "possible and unsettled" });
            }
            Some(Verdict::Crunch(_)) if !crunch => return Some("a false crunch"),
            Some(Verdict::Fits) if crunch => return Some("a false fit"),
            _ => {}
        }
    }
    let moved = answer.layout.moves() > 0;
    (crunches.is_empty() && moved && handful.stand(&handful.stays)).then_some("moved and none is needed")
}

#[track_caller]
fn assert_all_right(seeds: Range<u64>) {
    let mut faults: Vec<(u64, &str)> = Vec::new();
    for seed in seeds {
        faults.extend(wrong(&handful(seed, 2..9)).map(|what| (seed, what)));
    }
    assert!(faults.is_empty(), "{}: {faults:?}", faults.len());
}

#[test]
fn a_handful_of_stays_is_decided_as_it_is() {
    assert_all_right(0..400);
}

#[test]
#[ignore = "takes minutes; as the one above, and many more"]
fn thousands_of_handfuls_are_decided_as_they_are() {
    assert_all_right(1_000_000..1_012_000);
}

#[track_caller]
fn assert_fewest(seeds: Range<u64>) {
    let (mut faults, mut moved) = (Vec::new(), 0);
    for seed in seeds {
        let handful = crowded(seed, 5 + usize::try_from(seed % 4).unwrap());
        let answer = solved(&handful.problem(), PLENTY);
        let moves = answer.layout.moves();
        moved += usize::from(moves > 0);
        let fewest = handful.fewest_moves(moves);
        if !answer.is_fit() || fewest != Some(moves) {
            faults.push((seed, moves, fewest));
        }
    }
    assert!(faults.is_empty(), "{}: {faults:?}", faults.len());
    assert!(moved > 0, "nobody had to move");
}

#[test]
fn nobody_in_a_handful_is_moved_who_need_not_be() {
    assert_fewest(0..200);
}

#[test]
#[ignore = "takes minutes; as the one above, and many more"]
fn thousands_of_handfuls_have_the_fewest_moves() {
    assert_fewest(2_000_000..2_012_000);
}
