//! A quick packing: every shelf for one size alone, in the spots of that size's own packing.
//!
//! Most drawn days have room to spare and are settled by it with a handful of sums.

use std::collections::BTreeMap;

use crate::fit::count::count;
use crate::fit::problem::{Rect, Region, Shelf, Spot};

use super::kinds::{Demand, DemandKind};

/// For each kind, how many of it each shelf holds, the least wanted shelf first.
pub(super) struct Holdings {
    by_kind: Vec<Vec<Holding>>,
    /// The kinds with the fewest shelves first.
    rank: Vec<usize>,
    shelves: Vec<Shelf>,
    /// Pinned kinds that can't be where they are pinned to, or not beside another.
    at_odds: Vec<Vec<usize>>,
}

#[derive(Clone, Copy)]
struct Holding {
    region: Region,
    cells: u32,
}

/// A demand as far as whole shelves were given to it.
#[derive(Default)]
pub(super) struct WholeShelves {
    /// Kind, where, which cells of that ground's packing.
    pub(super) rows: Vec<CellRun>,
    /// So many are left over.
    pub(super) left: u32,
}

pub(super) struct CellRun {
    pub(super) kind: usize,
    pub(super) region: Region,
    pub(super) first_cell: u32,
    pub(super) number: u32,
}

/// What a shelf is used for.
#[derive(Clone, Copy)]
struct Use {
    size: (i64, i64),
    rect: Rect,
    cells: u32,
    used: u32,
}

impl Holdings {
    pub(super) fn new(shelves: &[Shelf], kinds: &[DemandKind], most: &[u32]) -> Self {
        let mut wanted: BTreeMap<usize, i128> = BTreeMap::new();
        let mut counted: BTreeMap<[i64; 4], i64> = BTreeMap::new();
        let mut by_kind: Vec<Vec<Holding>> = Vec::new();
        for kind in kinds {
            let mut best: BTreeMap<usize, Holding> = BTreeMap::new();
            for &region in kind.regions.iter().filter(|region| region.shelf < shelves.len()) {
                let size = [region.rect.w, region.rect.d, kind.w.min(kind.d), kind.w.max(kind.d)];
                let cells = *counted.entry(size).or_insert_with(|| count(size[0], size[1], size[2], size[3]).most);
                let cells = u32::try_from(cells).unwrap_or(u32::MAX);
                let holding = best.entry(region.shelf).or_insert(Holding { region, cells });
                if cells > holding.cells {
                    *holding = Holding { region, cells };
                }
            }
            by_kind.push(best.into_values().filter(|holding| holding.cells > 0 && kind.pinned.is_none()).collect());
        }
        for ((holdings, kind), most) in by_kind.iter().zip(kinds).zip(most) {
            let each = area(kind) * i128::from(*most) / (holdings.len().max(1) as i128);
            for holding in holdings {
                *wanted.entry(holding.region.shelf).or_default() += each;
            }
        }
        for holdings in &mut by_kind {
            holdings.sort_by_key(|holding| {
                let wanted = wanted.get(&holding.region.shelf).copied().unwrap_or(0);
                (wanted, std::cmp::Reverse(holding.cells), holding.region.shelf)
            });
        }
        let mut rank: Vec<usize> = (0..kinds.len()).collect();
        rank.sort_by_key(|&kind| {
            let area = kinds.get(kind).map_or(0, area);
            (by_kind.get(kind).map_or(0, Vec::len), std::cmp::Reverse(area), kind)
        });
        let mut places = vec![0; rank.len()];
        for (place, kind) in rank.iter().enumerate() {
            if let Some(slot) = places.get_mut(*kind) {
                *slot = place;
            }
        }
        Self { by_kind, rank: places, shelves: shelves.to_vec(), at_odds: at_odds(kinds) }
    }

    /// Gives shelves to the demand, one size each; a shelf that has something pinned to it is left alone.
    pub(super) fn fill(&self, demand: &Demand, kinds: &[DemandKind]) -> WholeShelves {
        let mut filled = WholeShelves::default();
        let mut rests: Vec<Rest> = self.shelves.iter().map(Rest::new).collect();
        let mut order: Vec<(usize, u32)> = Vec::with_capacity(demand.len());
        for &(number, wanted) in demand {
            let Some(kind) = kinds.get(number) else { continue };
            let Some(spot) = kind.pinned else {
                order.push((number, wanted));
                continue;
            };
            filled.left += if self.is_at_odds(number, demand) { wanted } else { wanted - 1 };
            if let Some(rest) = rests.get_mut(spot.shelf) {
                rest.closed = true;
                rest.bear(kind, 1);
                filled.left += u32::from(rest.is_overdrawn());
            }
        }
        order.sort_by_key(|(kind, _)| self.rank.get(*kind).copied());
        for (number, mut wanted) in order {
            let (Some(kind), Some(holdings)) = (kinds.get(number), self.by_kind.get(number)) else { continue };
            for begun in [true, false] {
                for holding in holdings {
                    if wanted == 0 {
                        break;
                    }
                    let open = rests.get_mut(holding.region.shelf);
                    let Some(rest) = open.filter(|rest| !rest.closed && rest.used.is_some() == begun) else { continue };
                    if let Some((first_cell, given)) = rest.give(kind, holding, wanted) {
                        filled.rows.push(CellRun { kind: number, region: holding.region, first_cell, number: given });
                        wanted -= given;
                    }
                }
            }
            filled.left += wanted;
        }
        filled
    }

    /// Whether a pinned kind can't be where it is pinned to, beside all others of the demand.
    fn is_at_odds(&self, kind: usize, demand: &Demand) -> bool {
        let odd = self.at_odds.get(kind);
        odd.is_none_or(|odd| odd.iter().any(|other| demand.iter().any(|(kind, _)| kind == other)))
    }
}

/// What a shelf still has to give.
struct Rest {
    limits: Shelf,
    /// Something is pinned to it.
    closed: bool,
    used: Option<Use>,
}

impl Rest {
    fn new(shelf: &Shelf) -> Self {
        Self { limits: shelf.clone(), closed: false, used: None }
    }

    /// Its first cell and how many it takes of those wanted; `None` where it takes none.
    fn give(&mut self, kind: &DemandKind, holding: &Holding, wanted: u32) -> Option<(u32, u32)> {
        let (size, rect) = ((kind.w.min(kind.d), kind.w.max(kind.d)), holding.region.rect);
        let Use { cells, used, .. } = match self.used {
            Some(own) => Some(own).filter(|own| own.size == size && own.rect == rect)?,
            None => Use { size, rect, cells: holding.cells, used: 0 },
        };
        let mut given = wanted.min(cells - used);
        if let Some(load) = self.limits.load.filter(|_| kind.grams > 0) {
            given = given.min(u32::try_from(load.max(0) / kind.grams).unwrap_or(u32::MAX));
        }
        let area = area(kind);
        if let Some(cover) = self.limits.cover.filter(|_| area > 0) {
            given = given.min(u32::try_from(cover.max(0) / area).unwrap_or(u32::MAX));
        }
        if given == 0 {
            return None;
        }
        self.bear(kind, given);
        self.used = Some(Use { size, rect, cells, used: used + given });
        Some((used, given))
    }

    fn bear(&mut self, kind: &DemandKind, number: u32) {
        let Shelf { load, cover } = &mut self.limits;
        *load = load.map(|load| load - i64::from(number) * kind.grams);
        *cover = cover.map(|cover| cover - i128::from(number) * area(kind));
    }

    fn is_overdrawn(&self) -> bool {
        self.limits.load.is_some_and(|load| load < 0) || self.limits.cover.is_some_and(|cover| cover < 0)
    }
}

fn area(kind: &DemandKind) -> i128 {
    i128::from(kind.w) * i128::from(kind.d)
}

impl CellRun {
    /// The spots themselves.
    pub(super) fn spots(&self, kind: &DemandKind) -> Vec<Spot> {
        let Region { shelf, rect } = self.region;
        // kinds that share a shelf share its cells, whichever of their sides they call the width
        let cells = count(rect.w, rect.d, kind.w.min(kind.d), kind.w.max(kind.d));
        let own = cells.spots().skip(self.first_cell as usize).take(self.number as usize);
        own.map(|cell| Spot { shelf, x: rect.x + cell.x, y: rect.y + cell.y, turned: cell.w != kind.w }).collect()
    }
}

/// For each pinned kind, those whose pins are in its way; itself where its ground isn't its own.
fn at_odds(kinds: &[DemandKind]) -> Vec<Vec<usize>> {
    let ground = |kind: &DemandKind| {
        let spot = kind.pinned?;
        let (w, d) = if spot.turned { (kind.d, kind.w) } else { (kind.w, kind.d) };
        Some(Region { shelf: spot.shelf, rect: Rect { x: spot.x, y: spot.y, w, d } })
    };
    let grounds: Vec<Option<Region>> = kinds.iter().map(ground).collect();
    let odds = |(number, kind): (usize, &DemandKind)| {
        let Some(own) = grounds.get(number).copied().flatten() else { return Vec::new() };
        let mut odd: Vec<usize> = Vec::new();
        if !kind.regions.iter().any(|region| region.shelf == own.shelf && region.rect.holds(own.rect)) {
            odd.push(number);
        }
        let others = grounds.iter().enumerate().filter(|(other, _)| *other != number);
        odd.extend(others.filter_map(|(other, ground)| {
            let clash = ground.is_some_and(|ground| ground.shelf == own.shelf && ground.rect.overlaps(own.rect));
            clash.then_some(other)
        }));
        odd
    };
    kinds.iter().enumerate().map(odds).collect()
}
