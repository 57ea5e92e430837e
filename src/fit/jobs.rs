//! What wants a spot, prepared for the searches: jobs, their classes and their lattices.
//!
//! A job is an item on all or some of its days. Jobs of one class have the same shapes, weight and
//! regions; they differ in their days alone.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::count::count;
use super::problem::{Days, Item, Phase, Rect, Region, RegionSet, Spot};

/// More spots of a lattice than this are not tried for one job.
const MOST_LATTICE: usize = 2_000;

/// An item, or what is left of it, that wants a spot.
#[derive(Clone, Debug)]
pub(super) struct Job {
    pub(super) item: usize,
    pub(super) phases: Vec<Phase>,
    pub(super) regions: RegionSet,
    pub(super) pinned: Option<Spot>,
    pub(super) wish: Option<Spot>,
    /// What it costs to leave it without a spot.
    pub(super) weight: u64,
    /// Not to be taken away once it stands.
    pub(super) fixed: bool,
    /// Equal for jobs that could swap their spots, days apart.
    pub(super) class: usize,
    /// Largest sides over all phases.
    pub(super) w: i64,
    pub(super) d: i64,
}

impl Job {
    /// The part of an item within some days; nothing if there is none, or if its phases make no sense.
    pub(super) fn new(number: usize, item: &Item, days: Days) -> Option<Self> {
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
        let regions = if item.regions.iter().all(is_near) {
            Arc::clone(&item.regions)
        } else {
            item.regions.iter().filter(|region| is_near(region)).copied().collect()
        };
        Some(Self {
            item: number,
            phases,
            regions,
            pinned: item.pinned,
            wish: item.wish,
            weight: 1,
            fixed: item.pinned.is_some(),
            class: 0,
            w,
            d,
        })
    }

    pub(super) fn days(&self) -> Days {
        match (self.phases.first(), self.phases.last()) {
            (Some(first), Some(last)) => Days::new(first.days.from, last.days.until),
            _ => Days::new(0, 0),
        }
    }

    pub(super) fn area(&self) -> i128 {
        i128::from(self.w) * i128::from(self.d)
    }

    pub(super) fn longest_side(&self) -> i64 {
        self.w.max(self.d)
    }

    pub(super) fn size(&self, turned: bool) -> (i64, i64) {
        if turned { (self.d, self.w) } else { (self.w, self.d) }
    }

    pub(super) fn turns(&self) -> &'static [bool] {
        let square = self.phases.iter().all(|phase| phase.w == phase.d);
        if square { &[false] } else { &[false, true] }
    }
}

/// Farther out than this, and longer, is no shelf on earth; sums of such lengths can't overflow.
const FAR: i64 = 1 << 40;

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
pub(super) struct Lattices(BTreeMap<[i64; 4], Arc<[Rect]>>);

impl Lattices {
    fn get(&mut self, region: Rect, w: i64, d: i64) -> Arc<[Rect]> {
        let make = || count(region.w, region.d, w, d).spots().take(MOST_LATTICE).collect();
        Arc::clone(self.0.entry([region.w, region.d, w, d]).or_insert_with(make))
    }
}

/// Jobs with what the searches need to know about them.
#[derive(Debug)]
pub(super) struct Jobs {
    pub(super) list: Vec<Job>,
    pub(super) classes: Vec<Class>,
}

#[derive(Debug)]
pub(super) struct Class {
    pub(super) lattices: Vec<Arc<[Rect]>>,
    /// Regions in the order in which the fewest other jobs want them.
    pub(super) scarce: Vec<usize>,
    pub(super) single_phase: bool,
}

impl Jobs {
    pub(super) fn new(mut list: Vec<Job>, lattices: &mut Lattices) -> Self {
        let mut wanted: BTreeMap<Region, i128> = BTreeMap::new();
        let mut numbers: BTreeMap<(Vec<[i64; 3]>, RegionSet), usize> = BTreeMap::new();
        for job in &mut list {
            let shape = job.phases.iter().map(|phase| [phase.w, phase.d, phase.grams]).collect();
            let next = numbers.len();
            job.class = *numbers.entry((shape, Arc::clone(&job.regions))).or_insert(next);
            let days = i128::from(job.days().until) - i128::from(job.days().from);
            let weight = job.area() * days / (job.regions.len().max(1) as i128);
            for &region in job.regions.iter() {
                let pressure = wanted.entry(region).or_insert(0);
                *pressure = pressure.saturating_add(weight);
            }
        }
        let mut classes: Vec<Option<Class>> = numbers.iter().map(|_| None).collect();
        for ((shape, regions), &index) in &numbers {
            let (w, d) = shape.iter().fold((1, 1), |(w, d), size| (w.max(size[0]), d.max(size[1])));
            let pressure = |&at: &usize| {
                let region = regions[at];
                let area = region.rect.area().max(1);
                (wanted.get(&region).copied().unwrap_or(0).saturating_mul(1_000) / area, at)
            };
            let mut scarce: Vec<usize> = (0..regions.len()).collect();
            scarce.sort_by_cached_key(pressure);
            let made = Class {
                lattices: regions.iter().map(|region| lattices.get(region.rect, w, d)).collect(),
                scarce,
                single_phase: shape.len() == 1,
            };
            if let Some(class) = classes.get_mut(index) {
                *class = Some(made);
            }
        }
        Self { list, classes: classes.into_iter().flatten().collect() }
    }
}
