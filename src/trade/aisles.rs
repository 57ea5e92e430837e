//! Ways round the racks of a room: which of them a barrow comes to, and how wide one may be.
//!
//! The barrow is a square that never turns, as wide as it is said to be; it may touch walls and racks, so a gap
//! exactly as wide as it is lets it through. It comes to a rack where it stands with a whole side against its front, or
//! along all of a front that is shorter; where shelves are reached from both sides, its back does as well. Common
//! practice, no source: a long trolley wants more room to turn, which isn't asked here.
//!
//! Exact, in whichever whole unit: its places are cut along the lines at which it would touch something.

use std::ops::Range;

use crate::fit::Rect;
use crate::season::Wall;

/// A floor from above; `x` from the left wall, `y` from the back wall.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FloorPlan {
    pub width: i64,
    pub depth: i64,
    pub doors: Vec<Doorway>,
    pub racks: Vec<OnPlan>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Doorway {
    pub wall: Wall,
    /// From the left, or on a side wall from the back.
    pub along: i64,
    pub width: i64,
}

/// A rack's outline, with what may stick out over its front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OnPlan {
    pub rect: Rect,
    /// The wall that its front faces.
    pub faces: Wall,
    pub both_sides: bool,
}

impl OnPlan {
    fn sides(&self) -> impl Iterator<Item = Wall> {
        let back = match self.faces {
            Wall::Back => Wall::Front,
            Wall::Front => Wall::Back,
            Wall::Left => Wall::Right,
            Wall::Right => Wall::Left,
        };
        [Some(self.faces), self.both_sides.then_some(back)].into_iter().flatten()
    }

    /// Where a barrow's back left corner is when it stands at that side.
    fn standing_at(&self, side: Wall, barrow: i64) -> Corners {
        let Rect { x, y, .. } = self.rect;
        let (right, front) = (self.rect.right(), self.rect.back());
        let along = |from: i64, until: i64| [from.min(until - barrow), from.max(until - barrow)];
        match side {
            Wall::Front => Corners { x: along(x, right), y: [front; 2] },
            Wall::Back => Corners { x: along(x, right), y: [y - barrow; 2] },
            Wall::Right => Corners { x: [right; 2], y: along(y, front) },
            Wall::Left => Corners { x: [x - barrow; 2], y: along(y, front) },
        }
    }
}

/// From the first to the last of each, both included.
struct Corners {
    x: [i64; 2],
    y: [i64; 2],
}

/// One direction, cut at lines: each is a cell, and so is what lies between it and the next.
struct Axis(Vec<i64>);

impl Axis {
    /// Lines at which something begins, and those at which it ends less the barrow; of both those within the room.
    fn cut(room: i64, barrow: i64, begins: impl Iterator<Item = i64>, ends: impl Iterator<Item = i64>) -> Self {
        let last = room - barrow;
        let mut lines = vec![0, last];
        lines.extend(begins.chain(ends.map(|end| end - barrow)).filter(|line| (0..=last).contains(line)));
        lines.sort_unstable();
        lines.dedup();
        Self(lines)
    }

    fn len(&self) -> usize {
        (2 * self.0.len()).saturating_sub(1)
    }

    /// Cells that lie between the two, neither of them included.
    fn between(&self, low: i64, high: i64) -> Range<usize> {
        let past = self.0.partition_point(|line| *line <= low);
        let before = self.0.partition_point(|line| *line < high);
        let until = if before == self.0.len() { self.len() } else { 2 * before };
        (2 * past).saturating_sub(1)..until
    }

    /// Cells from the one line to the other, both included.
    fn along(&self, [low, high]: [i64; 2]) -> Range<usize> {
        let from = self.0.partition_point(|line| *line < low);
        let until = self.0.partition_point(|line| *line <= high);
        2 * from..(2 * until).saturating_sub(1)
    }

    /// From where to where a cell reaches.
    fn ends(&self, cell: usize) -> [i64; 2] {
        let line = |at: usize| self.0.get(at).copied().unwrap_or_default();
        [line(cell / 2), line(cell.div_ceil(2))]
    }
}

/// Where a barrow comes to.
struct Walk {
    xs: Axis,
    ys: Axis,
    /// By `x`, then by `y`.
    cells: Vec<Cell>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Cell {
    Free,
    Reached,
    Blocked,
}

impl Walk {
    fn each(&self, corners: &Corners) -> impl Iterator<Item = (usize, usize)> + use<> {
        let ys = self.ys.along(corners.y);
        self.xs.along(corners.x).flat_map(move |x| ys.clone().map(move |y| (x, y)))
    }

    fn at(&self, (x, y): (usize, usize)) -> Option<Cell> {
        self.cells.get(x * self.ys.len() + y).copied()
    }

    fn block(&mut self, rect: Rect, barrow: i64) {
        let ys = self.ys.between(rect.y - barrow, rect.back());
        for x in self.xs.between(rect.x - barrow, rect.right()) {
            let first = x * self.ys.len();
            if !ys.is_empty()
                && let Some(column) = self.cells.get_mut(first + ys.start..first + ys.end)
            {
                column.fill(Cell::Blocked);
            }
        }
    }

    /// Goes on from those corners wherever it can.
    fn enter(&mut self, from: &Corners) {
        let mut next: Vec<(usize, usize)> = self.each(from).collect();
        let (width, depth) = (self.xs.len(), self.ys.len());
        while let Some((x, y)) = next.pop() {
            let Some(cell) = self.cells.get_mut(x * depth + y).filter(|cell| **cell == Cell::Free) else { continue };
            *cell = Cell::Reached;
            next.extend(x.checked_sub(1).map(|x| (x, y)));
            next.extend(y.checked_sub(1).map(|y| (x, y)));
            next.extend((x + 1 < width).then_some((x + 1, y)));
            next.extend((y + 1 < depth).then_some((x, y + 1)));
        }
    }

    fn comes_to(&self, rack: &OnPlan, barrow: i64) -> bool {
        let mut sides = rack.sides();
        sides.any(|side| self.each(&rack.standing_at(side, barrow)).any(|cell| self.at(cell) == Some(Cell::Reached)))
    }
}

impl FloorPlan {
    fn walk(&self, barrow: i64) -> Option<Walk> {
        if barrow <= 0 || barrow > self.width.min(self.depth) {
            return None;
        }
        let across = |door: &&Doorway| matches!(door.wall, Wall::Back | Wall::Front);
        let rects = || self.racks.iter().map(|rack| rack.rect);
        let (by_x, by_y): (Vec<&Doorway>, Vec<&Doorway>) = self.doors.iter().partition(across);
        let of_doors = |doors: &[&Doorway]| -> (Vec<i64>, Vec<i64>) {
            doors.iter().map(|door| (door.along, door.along + door.width)).unzip()
        };
        let (mut begin_x, mut end_x) = of_doors(&by_x);
        let (mut begin_y, mut end_y) = of_doors(&by_y);
        // along a front, where a barrow first and last stands at all of it
        let (at_x, at_y): (Vec<&OnPlan>, Vec<&OnPlan>) =
            self.racks.iter().partition(|rack| matches!(rack.faces, Wall::Back | Wall::Front));
        begin_x.extend(at_x.iter().map(|rack| rack.rect.x));
        end_x.extend(at_x.iter().map(|rack| rack.rect.right()));
        begin_y.extend(at_y.iter().map(|rack| rack.rect.y));
        end_y.extend(at_y.iter().map(|rack| rack.rect.back()));
        let (right, left) = (rects().map(Rect::right), rects().map(|rect| rect.x));
        let xs = Axis::cut(self.width, barrow, right.chain(begin_x), left.chain(end_x));
        let (front, back) = (rects().map(Rect::back), rects().map(|rect| rect.y));
        let ys = Axis::cut(self.depth, barrow, front.chain(begin_y), back.chain(end_y));
        let cells = vec![Cell::Free; xs.len() * ys.len()];
        let mut walk = Walk { xs, ys, cells };
        rects().for_each(|rect| walk.block(rect, barrow));
        for door in self.doors.iter().filter(|door| door.width >= barrow) {
            walk.enter(&self.inside(door, barrow));
        }
        Some(walk)
    }

    /// Where a barrow stands that has just come in.
    fn inside(&self, door: &Doorway, barrow: i64) -> Corners {
        let along = [door.along, door.along + door.width - barrow];
        match door.wall {
            Wall::Back => Corners { x: along, y: [0; 2] },
            Wall::Front => Corners { x: along, y: [self.depth - barrow; 2] },
            Wall::Left => Corners { x: [0; 2], y: along },
            Wall::Right => Corners { x: [self.width - barrow; 2], y: along },
        }
    }

    /// Of each rack, whether a barrow of that width comes to it from any door.
    pub fn reached(&self, barrow: i64) -> Vec<bool> {
        let walk = self.walk(barrow);
        self.racks.iter().map(|rack| walk.as_ref().is_some_and(|walk| walk.comes_to(rack, barrow))).collect()
    }

    /// Of each of those racks, how wide the widest barrow is that comes to it; `None` where none does.
    ///
    /// What is wider comes to no more, and nothing changes but at the distance of two lines: the last such distance
    /// at which it is reached is the widest.
    pub fn widest(&self, racks: Vec<usize>) -> Vec<Option<i64>> {
        if racks.is_empty() {
            return Vec::new();
        }
        let asked = racks.clone();
        let widths = self.widths();
        let mut widest = vec![None; self.racks.len()];
        let mut open = vec![(0, widths.len(), racks)];
        while let Some((low, high, racks)) = open.pop() {
            if racks.is_empty() {
                continue;
            }
            if low == high {
                let found = low.checked_sub(1).and_then(|at| widths.get(at)).copied();
                racks.into_iter().filter_map(|at| widest.get_mut(at).map(|one| *one = found)).count();
                continue;
            }
            let middle = usize::midpoint(low, high);
            let reached = widths.get(middle).map(|width| self.reached(*width)).unwrap_or_default();
            let is_reached = |at: &usize| reached.get(*at).copied().unwrap_or(false);
            let (wider, narrower) = racks.into_iter().partition::<Vec<_>, _>(is_reached);
            open.push((middle + 1, high, wider));
            open.push((low, middle, narrower));
        }
        asked.into_iter().map(|at| widest.get(at).copied().flatten()).collect()
    }

    /// How wide the widest barrow is that comes to every rack; `None` where none does.
    pub fn widest_to_all(&self) -> Option<i64> {
        let widths = self.widths();
        let to_all = widths.partition_point(|width| self.reached(*width).iter().all(|reached| *reached));
        to_all.checked_sub(1).and_then(|at| widths.get(at)).copied()
    }

    /// Every distance between two lines that a barrow may be as wide as.
    fn widths(&self) -> Vec<i64> {
        let most = self.doors.iter().map(|door| door.width).max().unwrap_or_default();
        let across = |door: &&Doorway| matches!(door.wall, Wall::Back | Wall::Front);
        let rects = || self.racks.iter().map(|rack| rack.rect);
        let lines = |room: i64, of_rects: Vec<i64>, doors: Vec<&Doorway>| {
            let ends = doors.into_iter().flat_map(|door| [door.along, door.along + door.width]);
            let mut lines: Vec<i64> = [0, room].into_iter().chain(of_rects).chain(ends).collect();
            lines.sort_unstable();
            lines.dedup();
            lines
        };
        let (by_x, by_y) = self.doors.iter().partition(across);
        let xs = lines(self.width, rects().flat_map(|rect| [rect.x, rect.right()]).collect(), by_x);
        let ys = lines(self.depth, rects().flat_map(|rect| [rect.y, rect.back()]).collect(), by_y);
        let apart = |lines: Vec<i64>| -> Vec<i64> {
            let between = |(at, low): (usize, &i64)| {
                let low = *low;
                lines.iter().skip(at + 1).map(move |high| high - low).collect::<Vec<_>>()
            };
            lines.iter().enumerate().flat_map(between).collect()
        };
        let mut widths: Vec<i64> = apart(xs).into_iter().chain(apart(ys)).collect();
        widths.retain(|width| *width <= most);
        widths.sort_unstable();
        widths.dedup();
        widths
    }

    /// How deep the floor before a rack is, along all of its front: to the next rack or wall.
    pub fn before(&self, rack: usize) -> i64 {
        let Some(OnPlan { rect, faces, .. }) = self.racks.get(rack) else { return 0 };
        let others = self.racks.iter().enumerate().filter(|(at, _)| *at != rack).map(|(_, other)| other.rect);
        let beside_x = |other: &Rect| other.x < rect.right() && rect.x < other.right();
        let beside_y = |other: &Rect| other.y < rect.back() && rect.y < other.back();
        // from its front on to the nearest that is not all behind that
        let to = match faces {
            Wall::Front => {
                let beyond = others.filter(|other| beside_x(other) && other.back() > rect.back());
                beyond.map(|other| other.y).fold(self.depth, i64::min) - rect.back()
            }
            Wall::Back => {
                let beyond = others.filter(|other| beside_x(other) && other.y < rect.y);
                rect.y - beyond.map(Rect::back).fold(0, i64::max)
            }
            Wall::Right => {
                let beyond = others.filter(|other| beside_y(other) && other.right() > rect.right());
                beyond.map(|other| other.x).fold(self.width, i64::min) - rect.right()
            }
            Wall::Left => {
                let beyond = others.filter(|other| beside_y(other) && other.x < rect.x);
                rect.x - beyond.map(Rect::right).fold(0, i64::max)
            }
        };
        to.max(0)
    }

    /// By how much a rack is outside of the room, at the side where that is most.
    pub fn outside(&self, rack: usize) -> i64 {
        let Some(OnPlan { rect, .. }) = self.racks.get(rack) else { return 0 };
        [-rect.x, -rect.y, rect.right() - self.width, rect.back() - self.depth, 0].into_iter().fold(0, i64::max)
    }

    /// Racks that are in each other's way, each pair once.
    pub fn overlaps(&self) -> Vec<(usize, usize)> {
        let racks = || self.racks.iter().enumerate();
        let pairs = racks().flat_map(|(at, one)| racks().skip(at + 1).map(move |(next, other)| (at, one, next, other)));
        pairs.filter(|(_, one, _, other)| one.rect.overlaps(other.rect)).map(|(at, _, next, _)| (at, next)).collect()
    }

    /// The floor between the racks that no part of such a barrow comes to, cut in rectangles.
    pub fn out_of_its_way(&self, barrow: i64) -> Vec<Rect> {
        let walk = self.walk(barrow);
        let mut swept: Vec<Rect> = Vec::new();
        if let Some(walk) = &walk {
            // what a run of cells along `y` sweeps is one rectangle
            for x in 0..walk.xs.len() {
                let [left, right] = walk.xs.ends(x);
                let mut run: Option<[i64; 2]> = None;
                for y in 0..=walk.ys.len() {
                    let reached = y < walk.ys.len() && walk.at((x, y)) == Some(Cell::Reached);
                    if reached {
                        let [from, until] = walk.ys.ends(y);
                        run = Some(run.map_or([from, until], |[first, _]| [first, until]));
                    } else if let Some([from, until]) = run.take() {
                        let (w, d) = (right - left + barrow, until - from + barrow);
                        swept.push(Rect { x: left, y: from, w, d });
                    }
                }
            }
        }
        let room = Rect { x: 0, y: 0, w: self.width, d: self.depth };
        swept.extend(self.racks.iter().map(|rack| rack.rect));
        left_over(room, &swept)
    }
}

/// What of `whole` is in none of those.
fn left_over(whole: Rect, covers: &[Rect]) -> Vec<Rect> {
    let mut xs: Vec<i64> = covers.iter().flat_map(|rect| [rect.x, rect.right()]).collect();
    xs.retain(|x| whole.x < *x && *x < whole.right());
    xs.extend([whole.x, whole.right()]);
    xs.sort_unstable();
    xs.dedup();
    let mut left: Vec<Rect> = Vec::new();
    for (from, until) in xs.iter().zip(xs.iter().skip(1)) {
        let here = covers.iter().filter(|rect| rect.x <= *from && *until <= rect.right());
        let mut covered: Vec<[i64; 2]> = here.map(|rect| [rect.y, rect.back()]).collect();
        covered.sort_unstable();
        covered.push([whole.back(); 2]);
        let mut at = whole.y;
        for [low, high] in covered {
            let low = low.min(whole.back());
            if low > at {
                add(&mut left, Rect { x: *from, y: at, w: until - from, d: low - at });
            }
            at = at.max(high);
        }
    }
    left
}

/// Joined to the one at its left where that is as deep.
fn add(all: &mut Vec<Rect>, rect: Rect) {
    match all.iter_mut().find(|one| one.right() == rect.x && one.y == rect.y && one.d == rect.d) {
        Some(one) => one.w += rect.w,
        None => all.push(rect),
    }
}

#[cfg(test)]
mod tests {
    use proptest::collection::vec;
    use proptest::prelude::*;
    use proptest::sample::select;

    use super::*;

    const WALLS: [Wall; 4] = [Wall::Back, Wall::Right, Wall::Front, Wall::Left];

    fn plan(width: i64, depth: i64, doors: &[(Wall, i64, i64)], racks: &[([i64; 4], Wall)]) -> FloorPlan {
        FloorPlan {
            width,
            depth,
            doors: doors.iter().map(|&(wall, along, width)| Doorway { wall, along, width }).collect(),
            racks: racks
                .iter()
                .map(|&([x, y, w, d], faces)| OnPlan { rect: Rect { x, y, w, d }, faces, both_sides: false })
                .collect(),
        }
    }

    #[test]
    fn a_gap_as_wide_as_the_barrow_lets_it_through() {
        // a bench across the room leaves 30 at the right; another behind it
        let room =
            plan(100, 100, &[(Wall::Front, 0, 60)], &[([0, 0, 100, 20], Wall::Front), ([0, 55, 70, 10], Wall::Front)]);
        assert_eq!(room.reached(30), [true, true]);
        assert_eq!(room.reached(31), [false, true]);
        assert_eq!(room.widest(vec![0, 1]), [Some(30), Some(35)]);
        assert_eq!((room.before(0), room.before(1)), (35, 35));
        let shut = plan(100, 100, &[(Wall::Front, 0, 20)], &[([0, 0, 100, 20], Wall::Front)]);
        assert_eq!((shut.reached(21), shut.widest(vec![0])), (vec![false], vec![Some(20)]));
        let no_door = plan(100, 100, &[], &[([0, 0, 100, 20], Wall::Front)]);
        assert_eq!(no_door.widest(vec![0]), [None]);
    }

    #[test]
    fn a_front_against_a_wall_is_not_reached_but_a_back_may_be() {
        let mut room = plan(100, 100, &[(Wall::Front, 0, 100)], &[([0, 0, 100, 20], Wall::Back)]);
        assert_eq!((room.widest(vec![0]), room.before(0)), (vec![None], 0));
        room.racks[0].both_sides = true;
        assert_eq!(room.widest(vec![0]), [Some(80)]);
    }

    #[test]
    fn what_it_cannot_come_to_is_left_over() {
        let room = plan(100, 100, &[(Wall::Front, 0, 100)], &[([0, 40, 70, 10], Wall::Front)]);
        assert_eq!(room.out_of_its_way(30), []);
        assert_eq!(room.out_of_its_way(31), [Rect { x: 0, y: 0, w: 70, d: 40 }, Rect { x: 70, y: 0, w: 30, d: 50 },]);
        assert_eq!(room.overlaps(), []);
    }

    /// Every place of the barrow by whole steps, and unit squares of floor.
    struct Steps<'a> {
        plan: &'a FloorPlan,
        barrow: i64,
        reached: Vec<(i64, i64)>,
    }

    impl<'a> Steps<'a> {
        fn taken(plan: &'a FloorPlan, barrow: i64) -> Self {
            let under = |x: i64, y: i64| {
                plan.racks.iter().any(|OnPlan { rect, .. }| {
                    (rect.x..rect.x + rect.w).contains(&x) && (rect.y..rect.y + rect.d).contains(&y)
                })
            };
            let free = |x: i64, y: i64| {
                x >= 0
                    && y >= 0
                    && x + barrow <= plan.width
                    && y + barrow <= plan.depth
                    && (x..x + barrow).all(|x| (y..y + barrow).all(|y| !under(x, y)))
            };
            let through = |x: i64, y: i64| {
                plan.doors.iter().any(|door| {
                    let (at, here) = match door.wall {
                        Wall::Back => (x, y == 0),
                        Wall::Front => (x, y + barrow == plan.depth),
                        Wall::Left => (y, x == 0),
                        Wall::Right => (y, x + barrow == plan.width),
                    };
                    here && door.along <= at && at + barrow <= door.along + door.width
                })
            };
            let all = || (0..plan.width).flat_map(|x| (0..plan.depth).map(move |y| (x, y)));
            let mut reached: Vec<(i64, i64)> = all().filter(|(x, y)| free(*x, *y) && through(*x, *y)).collect();
            let mut at = 0;
            while let Some(&(x, y)) = reached.get(at) {
                at += 1;
                for next in [(x - 1, y), (x + 1, y), (x, y - 1), (x, y + 1)] {
                    if free(next.0, next.1) && !reached.contains(&next) {
                        reached.push(next);
                    }
                }
            }
            Self { plan, barrow, reached }
        }

        fn stands_at(&self, rack: &OnPlan) -> bool {
            let (b, r) = (self.barrow, rack.rect);
            let shared = |from: i64, until: i64, at: i64| (until.min(at + b) - from.max(at)) == b.min(until - from);
            let at = |side: Wall, (x, y): (i64, i64)| match side {
                Wall::Front => y == r.y + r.d && shared(r.x, r.x + r.w, x),
                Wall::Back => y + b == r.y && shared(r.x, r.x + r.w, x),
                Wall::Right => x == r.x + r.w && shared(r.y, r.y + r.d, y),
                Wall::Left => x + b == r.x && shared(r.y, r.y + r.d, y),
            };
            let opposite = WALLS[(WALLS.iter().position(|wall| *wall == rack.faces).unwrap() + 2) % 4];
            self.reached.iter().any(|pos| at(rack.faces, *pos) || (rack.both_sides && at(opposite, *pos)))
        }

        fn left_over(&self) -> Vec<(i64, i64)> {
            let all = (0..self.plan.width).flat_map(|x| (0..self.plan.depth).map(move |y| (x, y)));
            let swept = |x: i64, y: i64| {
                self.reached
                    .iter()
                    .any(|(a, c)| (*a..a + self.barrow).contains(&x) && (*c..c + self.barrow).contains(&y))
            };
            let under =
                |x: i64, y: i64| self.plan.racks.iter().any(|rack| rack.rect.overlaps(Rect { x, y, w: 1, d: 1 }));
            all.filter(|(x, y)| !under(*x, *y) && !swept(*x, *y)).collect()
        }
    }

    fn plans() -> impl Strategy<Value = FloorPlan> {
        let door = (select(WALLS.to_vec()), 0_i64..9, 1_i64..6).prop_map(|(wall, along, width)| Doorway {
            wall,
            along,
            width,
        });
        let rack = ((-1_i64..10, -1_i64..10), (1_i64..7, 1_i64..5), select(WALLS.to_vec()), any::<bool>())
            .prop_map(|((x, y), (w, d), faces, both_sides)| OnPlan { rect: Rect { x, y, w, d }, faces, both_sides });
        (3_i64..11, 3_i64..11, vec(door, 0..3), vec(rack, 0..6)).prop_map(|(width, depth, doors, racks)| {
            let within = |door: &Doorway| {
                let wall = if matches!(door.wall, Wall::Back | Wall::Front) { width } else { depth };
                door.along + door.width <= wall
            };
            FloorPlan { width, depth, doors: doors.into_iter().filter(within).collect(), racks }
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        #[test]
        fn ways_are_those_that_whole_steps_find(plan in plans()) {
            let by_steps: Vec<Steps<'_>> = (1..12).map(|barrow| Steps::taken(&plan, barrow)).collect();
            for steps in &by_steps {
                let found: Vec<bool> = plan.racks.iter().map(|rack| steps.stands_at(rack)).collect();
                prop_assert_eq!(plan.reached(steps.barrow), found, "a barrow of {}", steps.barrow);
                let left = plan.out_of_its_way(steps.barrow);
                let cells: i64 = left.iter().map(|rect| rect.w * rect.d).sum();
                let all = steps.left_over();
                prop_assert_eq!(cells, i64::try_from(all.len()).unwrap());
                let is_left = |(x, y): &(i64, i64)| left.iter().any(|rect| rect.holds(Rect { x: *x, y: *y, w: 1, d: 1 }));
                prop_assert!(all.iter().all(is_left));
            }
            let widest: Vec<Option<i64>> = plan
                .racks
                .iter()
                .map(|rack| by_steps.iter().filter(|steps| steps.stands_at(rack)).map(|steps| steps.barrow).max())
                .collect();
            prop_assert_eq!(plan.widest((0..plan.racks.len()).collect()), widest.clone());
            if let Some(narrowest) = widest.into_iter().min() {
                prop_assert_eq!(plan.widest_to_all(), narrowest);
            }
        }
    }
}
