//! One shelf: whether some jobs can have one spot each on it, for all their days.
//!
//! Two that share a day lie left or right of each other, or in front or behind. Which of the four it is is tried for every
//! pair, and how each may be turned; where a corner can be at least and at most follows from that. So nothing hangs on how
//! finely lengths are measured, and no spot is ever listed. (Pairwise relations are the usual exact model of a packing: so
//! in Fekete and Schepers, "A combinatorial characterization of higher-dimensional orthogonal packing", Mathematics of
//! Operations Research 29 (2004); recalled.)

use super::jobs::Job;
use crate::fit::problem::{Phase, Spot};
use crate::fit::work::Cancel;

/// More ways to stand than this, by turn and region, are not told apart.
const MOST_STANCES: usize = 32;

/// A turn of a job, and from where to where its corner may lie, in both directions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Stance {
    pub(super) turned: bool,
    pub(super) least: [i64; 2],
    pub(super) most: [i64; 2],
}

/// All ways to stand on a shelf; `None` if they are too many.
pub(super) fn stances(job: &Job, shelf: usize) -> Option<Vec<Stance>> {
    let mut found: Vec<Stance> = Vec::new();
    let as_pinned = job.pinned.map(|spot| [spot.turned]);
    for &turned in as_pinned.as_ref().map_or(job.turns(), |turned| turned) {
        let mut open = vec![Stance { turned, least: [i64::MIN; 2], most: [i64::MAX; 2] }];
        if let Some(spot) = job.pinned {
            let at = [spot.x, spot.y];
            open.retain(|_| spot.shelf == shelf);
            for stance in &mut open {
                (stance.least, stance.most) = (at, at);
            }
        }
        for phase in &job.phases {
            let size = size(phase, turned);
            let mut next: Vec<Stance> = Vec::new();
            for (stance, region) in open.iter().flat_map(|stance| job.regions.iter().map(move |r| (stance, r))) {
                let rect = region.rect;
                let least = [stance.least[0].max(rect.x), stance.least[1].max(rect.y)];
                let most = [stance.most[0].min(rect.right() - size[0]), stance.most[1].min(rect.back() - size[1])];
                let one = Stance { turned, least, most };
                if region.shelf == shelf && least[0] <= most[0] && least[1] <= most[1] && !within(&one, &next) {
                    next.retain(|other| !within(other, std::slice::from_ref(&one)));
                    next.push(one);
                }
                if next.len() > MOST_STANCES {
                    return None;
                }
            }
            open = next;
        }
        found.extend(open);
    }
    (found.len() <= MOST_STANCES).then_some(found)
}

fn within(one: &Stance, others: &[Stance]) -> bool {
    let inside = |other: &Stance, at: usize| other.least[at] <= one.least[at] && one.most[at] <= other.most[at];
    others.iter().any(|other| inside(other, 0) && inside(other, 1))
}

fn size(phase: &Phase, turned: bool) -> [i64; 2] {
    if turned { [phase.d, phase.w] } else { [phase.w, phase.d] }
}

/// A job on the shelf that is asked about.
#[derive(Clone, Copy)]
pub(super) struct Body<'a> {
    pub(super) job: &'a Job,
    pub(super) stances: &'a [Stance],
    /// Equal for jobs that are alike in all but their number.
    pub(super) kind: usize,
}

/// The work is spent, or nobody wants to know any more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::fit) struct Spent;

/// Spots on a shelf for all of them, if there are; takes its work from `left`.
pub(super) fn beside(
    bodies: &[Body<'_>],
    shelf: usize,
    left: &mut u64,
    cancel: &Cancel,
) -> Result<Option<Vec<Spot>>, Spent> {
    let mut pairs = Vec::new();
    for (b, two) in bodies.iter().enumerate() {
        for (a, one) in bodies.iter().enumerate().take(b) {
            for (p, q) in two.job.phases.iter().flat_map(|q| one.job.phases.iter().map(move |p| (p, q))) {
                if p.days.overlaps(q.days) {
                    pairs.push(Pair { of: [a, b], phases: [*p, *q] });
                }
            }
        }
    }
    let start = State {
        open: bodies.iter().map(|body| u32::MAX >> (32 - body.stances.len().clamp(1, 32))).collect(),
        least: vec![[i64::MIN; 2]; bodies.len()],
        most: vec![[i64::MAX; 2]; bodies.len()],
        ways: pairs.iter().map(|pair| ways(bodies, pair)).collect(),
    };
    if bodies.iter().any(|body| body.stances.is_empty()) {
        return Ok(None);
    }
    let mut search = Search { bodies, pairs, left, cancel };
    let found = search.all(start)?;
    Ok(found.map(|state| search.spots(&state, shelf)))
}

struct Pair {
    of: [usize; 2],
    phases: [Phase; 2],
}

/// A bit for each: the first left of the second, right of it, in front of it, behind it.
fn ways(bodies: &[Body<'_>], pair: &Pair) -> u8 {
    let alike = |&[a, b]: &[usize; 2]| bodies[a].kind == bodies[b].kind;
    // of two that are alike, the first is the one farther to the left
    if alike(&pair.of) { 0b1101 } else { 0b1111 }
}

#[derive(Clone)]
struct State {
    /// The stances that are left to each, a bit each.
    open: Vec<u32>,
    least: Vec<[i64; 2]>,
    most: Vec<[i64; 2]>,
    ways: Vec<u8>,
}

struct Search<'a> {
    bodies: &'a [Body<'a>],
    pairs: Vec<Pair>,
    left: &'a mut u64,
    cancel: &'a Cancel,
}

/// What is tried next.
enum Choice {
    Stance(usize),
    Way(usize),
}

impl Search<'_> {
    fn all(&mut self, mut state: State) -> Result<Option<State>, Spent> {
        if self.cancel.is_cancelled() {
            return Err(Spent);
        }
        if !self.narrow(&mut state)? {
            return Ok(None);
        }
        match self.choose(&state) {
            None => Ok(Some(state)),
            Some(Choice::Stance(body)) => {
                let open = state.open[body];
                self.each(&state, open, |next, bit| next.open[body] = bit)
            }
            Some(Choice::Way(pair)) => {
                let ways = u32::from(state.ways[pair]);
                self.each(&state, ways, |next, bit| next.ways[pair] = u8::try_from(bit).unwrap_or(0))
            }
        }
    }

    fn each(&mut self, state: &State, bits: u32, set: impl Fn(&mut State, u32)) -> Result<Option<State>, Spent> {
        for bit in (0..32).map(|at| 1 << at).filter(|bit| bits & bit != 0) {
            let mut next = state.clone();
            set(&mut next, bit);
            if let Some(found) = self.all(next)? {
                return Ok(Some(found));
            }
        }
        Ok(None)
    }

    /// The fewest ways first, then the largest pair; turns of the largest.
    fn choose(&self, state: &State) -> Option<Choice> {
        let area = |body: usize| self.bodies[body].job.area();
        let stances = (0..self.bodies.len()).filter(|&body| state.open[body].count_ones() > 1);
        let stances = stances.map(|body| ((state.open[body].count_ones(), -2 * area(body)), Choice::Stance(body)));
        let open = self.pairs.iter().enumerate().filter(|(at, _)| state.ways[*at].count_ones() > 1);
        let pairs = open.map(|(at, pair)| {
            ((state.ways[at].count_ones(), -pair.of.iter().map(|&body| area(body)).sum::<i128>()), Choice::Way(at))
        });
        stances.chain(pairs).min_by_key(|(key, _)| *key).map(|(_, choice)| choice)
    }

    /// The least that a phase takes in one direction, however it may still be turned.
    fn least_size(&self, state: &State, body: usize, phase: &Phase, along: usize) -> i64 {
        let stances = self.bodies[body].stances.iter().enumerate();
        let open = stances.filter(|(at, _)| state.open[body] >> at & 1 == 1);
        open.map(|(_, stance)| size(phase, stance.turned)[along]).min().unwrap_or(0)
    }

    /// What follows from what is chosen; `false` if it can't be.
    fn narrow(&mut self, state: &mut State) -> Result<bool, Spent> {
        loop {
            *self.left = self.left.checked_sub(1 + (self.pairs.len() + self.bodies.len()) as u64).ok_or(Spent)?;
            let mut changed = false;
            for body in 0..self.bodies.len() {
                match self.narrow_body(state, body) {
                    Some(more) => changed |= more,
                    None => return Ok(false),
                }
            }
            for pair in 0..self.pairs.len() {
                match self.narrow_pair(state, pair) {
                    Some(more) => changed |= more,
                    None => return Ok(false),
                }
            }
            if !changed {
                return Ok(self.rows_fit(state));
            }
        }
    }

    /// Whether anything changed; `None` if it can stand nowhere.
    fn narrow_body(&self, state: &mut State, body: usize) -> Option<bool> {
        let (least, most) = (state.least[body], state.most[body]);
        let (mut open, mut around) = (0, ([i64::MAX; 2], [i64::MIN; 2]));
        for (at, stance) in self.bodies[body].stances.iter().enumerate() {
            if state.open[body] >> at & 1 == 0 {
                continue;
            }
            let own = |along: usize| (stance.least[along].max(least[along]), stance.most[along].min(most[along]));
            let own = [own(0), own(1)];
            if own.iter().all(|(least, most)| least <= most) {
                open |= 1 << at;
                for (along, (least, most)) in own.into_iter().enumerate() {
                    around.0[along] = around.0[along].min(least);
                    around.1[along] = around.1[along].max(most);
                }
            }
        }
        let changed = (open, around.0, around.1) != (state.open[body], least, most);
        (state.open[body], state.least[body], state.most[body]) = (open, around.0, around.1);
        (open != 0).then_some(changed)
    }

    /// Whether anything changed; `None` if no way is left.
    fn narrow_pair(&self, state: &mut State, at: usize) -> Option<bool> {
        let Pair { of, phases } = &self.pairs[at];
        let mut left = 0_u8;
        for way in (0..4).filter(|way| state.ways[at] >> way & 1 == 1) {
            let (along, first) = (way / 2, way % 2);
            let size = self.least_size(state, of[first], &phases[first], along);
            if state.least[of[first]][along] + size <= state.most[of[1 - first]][along] {
                left |= 1 << way;
            }
        }
        let mut changed = left != state.ways[at];
        state.ways[at] = left;
        if left.is_power_of_two() {
            let way = left.trailing_zeros() as usize;
            let (along, first) = (way / 2, way % 2);
            let (one, other) = (of[first], of[1 - first]);
            let size = self.least_size(state, one, &phases[first], along);
            let (least, most) = (state.least[one][along] + size, state.most[other][along] - size);
            changed |= least > state.least[other][along] || most < state.most[one][along];
            state.least[other][along] = state.least[other][along].max(least);
            state.most[one][along] = state.most[one][along].min(most);
        }
        (left != 0).then_some(changed)
    }

    /// Those that can only be beside each other in one direction have room for that in it.
    fn rows_fit(&self, state: &State) -> bool {
        let number = self.bodies.len();
        let mut apart = [vec![0_u64; number], vec![0_u64; number]];
        for (pair, ways) in self.pairs.iter().zip(&state.ways) {
            for (along, apart) in apart.iter_mut().enumerate() {
                if ways & (0b1100 >> (2 * along)) == 0 {
                    let [a, b] = pair.of;
                    apart[a] |= 1 << (b % 64);
                    apart[b] |= 1 << (a % 64);
                }
            }
        }
        (0..2).all(|along| (0..number).all(|first| self.row_fits(state, along, first, &apart[along])))
    }

    fn row_fits(&self, state: &State, along: usize, first: usize, apart: &[u64]) -> bool {
        let (mut row, mut among) = (vec![first], apart[first]);
        while among != 0 {
            let next = among.trailing_zeros() as usize;
            row.push(next);
            among &= apart.get(next).copied().unwrap_or(0) & !(1 << next);
        }
        let least = |body: usize| {
            let phases = self.bodies[body].job.phases.iter();
            phases.map(|phase| self.least_size(state, body, phase, along)).min().unwrap_or(0)
        };
        let from = row.iter().map(|&body| state.least[body][along]).min().unwrap_or(0);
        let until = row.iter().map(|&body| state.most[body][along] + least(body)).max().unwrap_or(0);
        from + row.iter().map(|&body| least(body)).sum::<i64>() <= until
    }

    fn spots(&self, state: &State, shelf: usize) -> Vec<Spot> {
        let bodies = self.bodies.iter().enumerate();
        let spot = |(at, body): (usize, &Body<'_>)| {
            let stance = &body.stances[state.open[at].trailing_zeros() as usize];
            Spot { shelf, x: state.least[at][0], y: state.least[at][1], turned: stance.turned }
        };
        bodies.map(spot).collect()
    }
}
