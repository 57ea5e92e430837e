//! What wants a spot, prepared for the searches: jobs, their classes and their lattices.
//!
//! A job is an item on all or some of its days. Jobs of one class have the same shapes, weight and
//! regions; they differ in their days alone.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::pieces::Squares;
use super::stretches::{Stretch, Stretches};
use crate::fit::count::count;
use crate::fit::problem::{Days, Item, Phase, Rect, Region, RegionSet, Spot};
use crate::fit::work::Cancel;

/// More spots of a lattice than this are not tried for one job.
const MOST_LATTICE: usize = 2_000;
/// More lattices than this are not made, nor more cells in all.
const MOST_LATTICES: usize = 500;
const MOST_CELLS: usize = 1 << 20;
/// So many benches long enough to be cut are counted; counting takes the longer, the longer they are.
const MOST_BENCHES: usize = 24;
/// With more classes than this, those of about one size are taken together.
const MANY_CLASSES: usize = 64;

/// An item, or what is left of it, that wants a spot.
#[derive(Clone, Debug)]
pub(in crate::fit) struct Job {
    pub(in crate::fit) item: usize,
    pub(in crate::fit) phases: Vec<Phase>,
    pub(in crate::fit) regions: RegionSet,
    pub(in crate::fit) pinned: Option<Spot>,
    pub(in crate::fit) wish: Option<Spot>,
    /// What it costs to leave it without a spot.
    pub(in crate::fit) weight: u64,
    /// Not to be taken away once it stands.
    pub(in crate::fit) fixed: bool,
    /// Equal for jobs that could swap their spots, days apart.
    pub(in crate::fit) class: usize,
    /// Largest sides over all phases.
    pub(in crate::fit) w: i64,
    pub(in crate::fit) d: i64,
}

impl Job {
    /// The part of an item within some days; nothing if there is none, or if its phases make no sense.
    pub(in crate::fit) fn new(number: usize, item: &Item, days: Days) -> Option<Self> {
        let whole = item.phases.iter().zip(item.phases.iter().skip(1));
        if whole.into_iter().any(|(a, b)| a.days.until != b.days.from) || !item.phases.iter().all(is_sane) {
            return None;
        }
        let clip = |phase: &Phase| {
            let from = phase.days.from.max(days.from);
            let until = phase.days.until.min(days.until);
            (from < until).then_some(Phase { days: Days::new(from, until), ..*phase })
        };
        let phases: Vec<Phase> = item.phases.iter().filter_map(clip).collect();
        let w = phases.iter().map(|phase| phase.w).max()?;
        let d = phases.iter().map(|phase| phase.d).max()?;
        Some(Self {
            item: number,
            phases,
            regions: Arc::clone(&item.regions),
            pinned: item.pinned,
            wish: item.wish,
            weight: 1,
            fixed: item.pinned.is_some(),
            class: 0,
            w,
            d,
        })
    }

    pub(in crate::fit) fn days(&self) -> Days {
        match (self.phases.first(), self.phases.last()) {
            (Some(first), Some(last)) => Days::new(first.days.from, last.days.until),
            _ => Days::new(0, 0),
        }
    }

    pub(in crate::fit) fn area(&self) -> i128 {
        i128::from(self.w) * i128::from(self.d)
    }

    pub(in crate::fit) fn longest_side(&self) -> i64 {
        self.w.max(self.d)
    }

    pub(in crate::fit) fn size(&self, turned: bool) -> (i64, i64) {
        if turned { (self.d, self.w) } else { (self.w, self.d) }
    }

    pub(in crate::fit) fn turns(&self) -> &'static [bool] {
        let square = self.phases.iter().all(|phase| phase.w == phase.d);
        if square { &[false] } else { &[false, true] }
    }
}

/// Farther out than this, and longer, is no shelf on earth; sums of such lengths can't overflow.
pub(in crate::fit) const FAR: i64 = 1 << 40;

/// An item without extent would be everywhere and nowhere.
fn is_sane(phase: &Phase) -> bool {
    (1..FAR).contains(&phase.w) && (1..FAR).contains(&phase.d) && phase.days.from <= phase.days.until
}

fn is_near(region: &Region) -> bool {
    let near = |n: i64| (-FAR..FAR).contains(&n);
    let rect = region.rect;
    near(rect.x) && near(rect.y) && near(rect.w) && near(rect.d)
}

/// Exact packings of one size in one region, shared by all boards of a problem.
#[derive(Debug, Default)]
pub(in crate::fit) struct Lattices {
    cancel: Cancel,
    known: BTreeMap<[i64; 4], Arc<[Rect]>>,
    cells: usize,
    benches: usize,
}

impl Lattices {
    pub(in crate::fit) fn new(cancel: &Cancel) -> Self {
        Self { cancel: cancel.clone(), ..Self::default() }
    }

    /// Empty once there are too many of them, or too large ones; then corners must do.
    fn get(&mut self, region: Rect, w: i64, d: i64, most: usize) -> Arc<[Rect]> {
        let size = [region.w, region.d, w, d];
        if let Some(known) = self.known.get(&size) {
            return Arc::clone(known);
        }
        let bench = most > MOST_LATTICE;
        let enough =
            self.known.len() >= MOST_LATTICES || self.cells >= MOST_CELLS || (bench && self.benches >= MOST_BENCHES);
        if enough || self.cancel.is_cancelled() {
            return Arc::default();
        }
        self.benches += usize::from(bench);
        let made: Arc<[Rect]> = count(region.w, region.d, w, d).spots().take(most).collect();
        self.cells += made.len();
        self.known.insert(size, Arc::clone(&made));
        made
    }

    /// The cells by stretch.
    fn on(&mut self, stretches: &Stretches, w: i64, d: i64) -> Cells {
        if !stretches.is_cut() {
            return stretches.list.iter().map(|stretch| self.get(stretch.part.rect, w, d, MOST_LATTICE)).collect();
        }
        let mut made = Vec::with_capacity(stretches.len());
        for of in stretches.list.chunk_by(|a, b| a.region == b.region) {
            let Some(region) = of.first().and_then(|stretch| stretches.regions.get(stretch.region)) else {
                continue;
            };
            let most = if of.len() > 1 { MOST_CELLS / 8 } else { MOST_LATTICE };
            let cells = self.get(region.rect, w, d, most);
            if of.len() == 1 {
                made.push(cells);
                continue;
            }
            let mut owned: Vec<Vec<Rect>> = vec![Vec::new(); of.len()];
            for cell in cells.iter() {
                if let Some(owned) = Stretch::owner(of, *cell).and_then(|at| owned.get_mut(at)) {
                    owned.push(*cell);
                }
            }
            made.extend(owned.into_iter().map(Arc::from));
        }
        made.into()
    }
}

/// A lattice by stretch; its cells are seen from the region's corner.
type Cells = Arc<[Arc<[Rect]>]>;

/// Jobs with what the searches need to know about them.
#[derive(Debug)]
pub(in crate::fit) struct Jobs {
    pub(in crate::fit) list: Vec<Job>,
    pub(in crate::fit) classes: Vec<JobClass>,
    /// How each shelf's ground is divided.
    pub(super) squares: BTreeMap<usize, Squares>,
    pub(in crate::fit) cancel: Cancel,
}

#[derive(Debug)]
pub(in crate::fit) struct JobClass {
    pub(super) stretches: Arc<Stretches>,
    pub(in crate::fit) lattices: Cells,
    /// Equal for classes of which whoever stands covers such a least ground; what is noted of one
    /// place holds for all of them.
    pub(in crate::fit) kin: usize,
    pub(in crate::fit) least: Least,
    /// The class's jobs are just that, no larger and no heavier at any time.
    pub(in crate::fit) is_least: bool,
}

/// Shorter side, longer side and weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::fit) struct Least {
    pub(in crate::fit) short: i64,
    pub(in crate::fit) long: i64,
    pub(in crate::fit) grams: i64,
}

impl Least {
    /// What all phases have at least; of too many sizes, about that.
    fn of(shape: &[[i64; 3]], many: bool) -> Self {
        let least = |of: fn(&[i64; 3]) -> i64| shape.iter().map(of).min().unwrap_or(1);
        let about = |n: i64| if many && n > 8 { n >> (n.ilog2() - 3) << (n.ilog2() - 3) } else { n };
        Self {
            short: about(least(|[w, d, _]| *w.min(d))),
            long: about(least(|[w, d, _]| *w.max(d))),
            grams: about(least(|[_, _, grams]| *grams)),
        }
    }

    pub(in crate::fit) fn job(self, like: &Job) -> Job {
        let phases = vec![Phase { days: like.days(), w: self.long, d: self.short, grams: self.grams }];
        Job { phases, w: self.long, d: self.short, regions: Arc::clone(&like.regions), ..*like }
    }
}

impl Jobs {
    /// What the jobs without a spot weigh.
    pub(in crate::fit) fn left_out(&self, spots: &[Option<Spot>]) -> u64 {
        self.list.iter().zip(spots).filter(|(_, spot)| spot.is_none()).map(|(job, _)| job.weight).sum()
    }

    /// Of no use once nobody wants to know any more.
    pub(in crate::fit) fn new(mut list: Vec<Job>, lattices: &mut Lattices) -> Self {
        let mut sets = Sets::default();
        let mut numbers: BTreeMap<(usize, Vec<[i64; 3]>), usize> = BTreeMap::new();
        let mut longest = 0_i128;
        for job in &mut list {
            if lattices.cancel.is_cancelled() {
                break;
            }
            let set = sets.number(&job.regions);
            if let Some(of) = sets.list.get_mut(set) {
                let days = i128::from(job.days().until) - i128::from(job.days().from);
                let weight = job.area() * days / (of.regions.len().max(1) as i128);
                of.wanted = of.wanted.saturating_add(weight);
                job.regions = Arc::clone(&of.regions);
            }
            let shape = job.phases.iter().map(|phase| [phase.w, phase.d, phase.grams]).collect();
            let next = numbers.len();
            job.class = *numbers.entry((set, shape)).or_insert(next);
            longest += i128::from(job.longest_side());
        }
        let usual = i64::try_from(longest / (list.len().max(1) as i128)).unwrap_or(1);
        let orders = sets.orders();
        let mut made: BTreeMap<(usize, i64), Arc<Stretches>> = BTreeMap::new();
        let mut cells: BTreeMap<(usize, i64, i64), Cells> = BTreeMap::new();
        let mut kin: BTreeMap<(usize, i64, Least), usize> = BTreeMap::new();
        let mut classes: Vec<Option<JobClass>> = numbers.iter().map(|_| None).collect();
        for ((set, shape), &index) in &numbers {
            let (Some(of), Some(order)) = (sets.list.get(*set), orders.get(*set)) else {
                continue;
            };
            let (w, d) = shape.iter().fold((1, 1), |(w, d), size| (w.max(size[0]), d.max(size[1])));
            // rounded up: few sizes of stretches, for many sizes of jobs
            let about = u64::try_from(w.max(d)).map_or(1, u64::next_power_of_two);
            let about = i64::try_from(about).unwrap_or(i64::MAX);
            let new = || Arc::new(Stretches::new(&of.regions, about, order));
            let stretches = Arc::clone(made.entry((*set, about)).or_insert_with(new));
            let lattices = Arc::clone(cells.entry((*set, w, d)).or_insert_with(|| lattices.on(&stretches, w, d)));
            let least = Least::of(shape, numbers.len() > MANY_CLASSES);
            let is_least = shape.iter().all(|&[w, d, grams]| {
                (w.min(d), w.max(d), grams) == (least.short, least.long, least.grams) && shape.len() == 1
            });
            let next = kin.len();
            let kin = *kin.entry((*set, about, least)).or_insert(next);
            if let Some(class) = classes.get_mut(index) {
                *class = Some(JobClass { stretches, lattices, kin, least, is_least });
            }
        }
        let classes = classes.into_iter().flatten().collect();
        Self { list, classes, squares: sets.squares(usual), cancel: lattices.cancel.clone() }
    }

    /// How many kinds of kin there are.
    pub(in crate::fit) fn kin(&self) -> usize {
        self.classes.iter().map(|class| class.kin + 1).max().unwrap_or(0)
    }
}

/// The sets of regions that occur, each once.
#[derive(Default)]
struct Sets {
    list: Vec<Set>,
    /// Held, so that no address is given out twice.
    by_address: BTreeMap<usize, (usize, RegionSet)>,
    by_content: BTreeMap<RegionSet, usize>,
}

struct Set {
    /// Without regions too far out to compute with.
    regions: RegionSet,
    /// Surface times days that jobs want of each region.
    wanted: i128,
}

impl Sets {
    fn number(&mut self, regions: &RegionSet) -> usize {
        let address = Arc::as_ptr(regions).cast::<Region>().addr();
        if let Some((known, _)) = self.by_address.get(&address) {
            return *known;
        }
        let next = self.list.len();
        let number = *self.by_content.entry(Arc::clone(regions)).or_insert(next);
        if number == next {
            let near = if regions.iter().all(is_near) {
                Arc::clone(regions)
            } else {
                regions.iter().filter(|region| is_near(region)).copied().collect()
            };
            self.list.push(Set { regions: near, wanted: 0 });
        }
        self.by_address.insert(address, (number, Arc::clone(regions)));
        number
    }

    /// For each set, the numbers of its regions, the least wanted for their size first.
    fn orders(&self) -> Vec<Vec<usize>> {
        let mut wanted: BTreeMap<Region, i128> = BTreeMap::new();
        for set in &self.list {
            for &region in set.regions.iter() {
                let pressure = wanted.entry(region).or_insert(0);
                *pressure = pressure.saturating_add(set.wanted);
            }
        }
        let order = |set: &Set| {
            let pressure = |&at: &usize| {
                let region = set.regions.get(at).copied();
                let wanted = region.and_then(|region| wanted.get(&region)).copied().unwrap_or(0);
                (wanted.saturating_mul(1_000) / region.map_or(1, |region| region.rect.area().max(1)), at)
            };
            let mut order: Vec<usize> = (0..set.regions.len()).collect();
            order.sort_by_cached_key(pressure);
            order
        };
        self.list.iter().map(order).collect()
    }

    fn squares(&self, usual: i64) -> BTreeMap<usize, Squares> {
        let mut around: BTreeMap<usize, [i64; 4]> = BTreeMap::new();
        for Region { shelf, rect } in self.list.iter().flat_map(|set| set.regions.iter()).copied() {
            let own = [rect.x, rect.y, rect.right(), rect.back()];
            let all = around.entry(shelf).or_insert(own);
            *all = [all[0].min(own[0]), all[1].min(own[1]), all[2].max(own[2]), all[3].max(own[3])];
        }
        let rect = |[x, y, right, back]: [i64; 4]| Rect { x, y, w: right - x, d: back - y };
        around.into_iter().map(|(shelf, around)| (shelf, Squares::of(rect(around), usual))).collect()
    }
}
