use std::sync::Arc;

use crate::fit;
use crate::season::{Flat, Pot, RimShape};
use crate::units::{Length, Size};

/// Pots standing in a flat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PotsInFlat {
    /// Along the flat's width and depth.
    pub columns: u16,
    pub rows: u16,
    pub number: u32,
    /// Outer shape: the flat's, or the rims' where they pass its lip.
    pub width: Length,
    pub depth: Length,
}

/// How many pots stand in a flat, `pitch` from middle to middle and at least rim to rim: bases inside
/// its floor; rims may pass its lip and then count.
///
/// In rows, as they are set in a flat and taken out again; a grower who staggers them there says so
/// by a number of their own. `None` when not one fits. With a maker's count for a full flat (at
/// least 500 × 260 mm), no more than that: floors taper by an amount that no table gives. In a tray with
/// pockets, no more than those.
pub fn pots_in_flat(pot: &Pot, flat: &Flat, pitch: Length) -> Option<PotsInFlat> {
    let rim = pot.top.value.value();
    let pitch = pitch.max(rim);
    let base = pot.bottom.as_ref().map_or(rim, |bottom| bottom.value.value());
    let outer = &flat.outer.value;
    let floor = flat.floor.as_ref().map_or(outer, |floor| &floor.value);
    let along = |side: Length| -> i64 {
        if base > side || rim <= Length::ZERO { 0 } else { (side - base).units() / pitch.units() + 1 }
    };
    let (columns, rows) = (along(floor.width.value()), along(floor.depth.value()));
    let rims = |count: i64| pitch * (count - 1) + rim;
    let mut number = columns * rows;
    if let Some(most) = pot.per_flat.filter(|_| is_full_flat(outer)) {
        number = number.min(i64::from(most));
    }
    if let Some(pockets) = flat.pockets {
        number = number.min(i64::from(pockets));
    }
    (number > 0).then(|| PotsInFlat {
        columns: u16::try_from(columns).unwrap_or(u16::MAX),
        rows: u16::try_from(rows).unwrap_or(u16::MAX),
        number: u32::try_from(number).unwrap_or(u32::MAX),
        width: outer.width.value().max(rims(columns)),
        depth: outer.depth.value().max(rims(rows)),
    })
}

/// The same with leaves of that width, which touch neither those beside them nor those of the next flat.
///
/// One at least where a pot fits at all: a plant wider than its flat has it to itself.
pub fn leaves_in_flat(pot: &Pot, flat: &Flat, wide: Length) -> Option<PotsInFlat> {
    let tight = pots_in_flat(pot, flat, wide)?;
    let outer = &flat.outer.value;
    let wide = wide.max(pot.top.value.value());
    let most = |side: Length, found: u16| found.min(u16::try_from(side.units() / wide.units()).unwrap_or(found).max(1));
    let (columns, rows) = (most(outer.width.value(), tight.columns), most(outer.depth.value(), tight.rows));
    let number = (u32::from(columns) * u32::from(rows)).min(tight.number);
    Some(PotsInFlat { columns, rows, number, width: outer.width.value(), depth: outer.depth.value() })
}

/// Trays standing in a carrying tray.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TraysInFlat {
    /// One at least.
    pub number: u32,
    /// Outer shape: the carrying tray's, or its own where one is larger.
    pub width: Length,
    pub depth: Length,
    /// By how much one is longer than the floor, along the side that misses most; zero where it fits.
    pub too_large: Length,
}

/// How many trays of that outer size stand on the floor of a carrying tray, turned either way.
pub fn trays_in_flat(insert: &Size, flat: &Flat) -> TraysInFlat {
    let outer = &flat.outer.value;
    let floor = flat.floor.as_ref().map_or(outer, |floor| &floor.value);
    let [(w, d), (floor_w, floor_d), (outer_w, outer_d)] =
        [insert, floor, outer].map(|size| (size.width.value(), size.depth.value()));
    let over = |w: Length, d: Length| (w - floor_w).max(d - floor_d).max(Length::ZERO);
    let (as_is, turned) = (over(w, d), over(d, w));
    let (w, d) = if turned < as_is { (d, w) } else { (w, d) };
    let fits = fit::count(floor_w.units(), floor_d.units(), w.units(), d.units()).most;
    TraysInFlat {
        number: u32::try_from(fits.max(1)).unwrap_or(u32::MAX),
        width: outer_w.max(w),
        depth: outer_d.max(d),
        too_large: as_is.min(turned),
    }
}

fn is_full_flat(outer: &Size) -> bool {
    let (long, short) = (outer.width.value().max(outer.depth.value()), outer.width.value().min(outer.depth.value()));
    long >= Length::from_mm(500) && short >= Length::from_mm(260)
}

/// Loose pots that stand as one: outer shape, and every pot's middle from its corner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    pub width: Length,
    pub depth: Length,
    pub centres: Arc<[(Length, Length)]>,
}

/// So many blocks of square pots; more pots than fill them stand in wider ones.
const MOST_BLOCKS: i64 = 2_000;

/// Loose pots as blocks, each as deep as `depth` allows; `pitch` is the distance of middles, at least
/// the width `across` of a pot.
///
/// A block's ground ends a pitch after its last pot begins, so that blocks side by side keep the
/// pitch: at the shelf's far edges `pitch − across` of it may lie in the air. Square pots stand in
/// columns, so that blocks fill a shelf as its rows would; round pots fill a whole shelf the way that
/// holds most, in rows or not, then the narrowest strip that takes the rest in rows. Empty when not one pot fits.
///
/// Where a shelf bears fewer than it has room for, `borne`, blocks are such that it takes as many of them as it
/// bears.
pub fn block_of_pots(
    rim: RimShape,
    across: Length,
    pitch: Length,
    number: u32,
    (width, depth): (Length, Length),
    borne: Option<u32>,
) -> Vec<Block> {
    let borne = borne.map_or(i64::MAX, |borne| i64::from(borne.max(1)));
    let pitch = pitch.max(across);
    let (width, depth) = (width + pitch - across, depth + pitch - across);
    let (pitch_units, mut left) = (pitch.units(), i64::from(number));
    if across <= Length::ZERO || pitch > width || pitch > depth {
        return Vec::new();
    }
    let half = across / 2;
    let mut blocks = Vec::new();
    match rim {
        RimShape::Square => {
            let room = (width.units() / pitch_units) * (depth.units() / pitch_units);
            let column = depth.units() / pitch_units;
            let column = if borne < room { part_of(borne, column) } else { column };
            let columns = (left / column / MOST_BLOCKS + 1).min(width.units() / pitch_units);
            while left > 0 {
                let here = left.min(column * columns);
                blocks.push(in_columns(here, column, half, pitch));
                left -= here;
            }
        }
        RimShape::Round => {
            let most = fit::count_round(width.units(), depth.units(), pitch_units);
            let full = most.min(borne);
            while left > 0 && full > 0 {
                let here = left.min(full);
                let strip = if here == most { width.units() } else { narrowest(here, width, depth, pitch_units) };
                blocks.push(on_strip(here, strip, depth, half, pitch));
                left -= here;
            }
        }
    }
    blocks
}

/// The largest number up to `most` that makes up `all`; one that leaves a little over where all such are small.
fn part_of(all: i64, most: i64) -> i64 {
    let whole = (1..=most.min(all)).rev().find(|part| all % part == 0).unwrap_or(1);
    if whole * 3 >= most.min(all) { whole } else { most.min(all) }
}

/// So many loose pots as one block, as [`block_of_pots`] would cut it; `None` where the shelf does not hold
/// them.
pub fn one_block(
    rim: RimShape,
    across: Length,
    pitch: Length,
    number: u32,
    width: Length,
    depth: Length,
) -> Option<Block> {
    let pitch = pitch.max(across);
    let (width, depth) = (width + pitch - across, depth + pitch - across);
    if across <= Length::ZERO || pitch > width || pitch > depth || number == 0 {
        return None;
    }
    let (half, number) = (across / 2, i64::from(number));
    match rim {
        RimShape::Square => {
            let block = in_columns(number, depth.units() / pitch.units(), half, pitch);
            (block.width <= width).then_some(block)
        }
        RimShape::Round => {
            let fits = fit::count_round(width.units(), depth.units(), pitch.units()) >= number;
            let strip = fits.then(|| narrowest(number, width, depth, pitch.units()))?;
            Some(on_strip(number, strip, depth, half, pitch))
        }
    }
}

/// Square pots, so many to a column.
fn in_columns(number: i64, column: i64, half: Length, pitch: Length) -> Block {
    let centres = (0..number).map(|i| (half + pitch * (i / column), half + pitch * (i % column))).collect();
    Block { width: pitch * ((number + column - 1) / column), depth: pitch * number.min(column), centres }
}

/// Round pots on a strip of so many units that holds them: in rows, unless more than rows hold.
fn on_strip(number: i64, strip: i64, depth: Length, half: Length, pitch: Length) -> Block {
    let middle = |pot: fit::Rect| (Length::from_units(pot.x) + half, Length::from_units(pot.y) + half);
    let take = usize::try_from(number).unwrap_or(usize::MAX);
    let rows = fit::round_rows(strip, depth.units(), pitch.units());
    let centres = if number <= rows.count() {
        rows.spots().take(take).map(middle).collect()
    } else {
        fit::round_pots(strip, depth.units(), pitch.units()).spots().take(take).map(middle).collect()
    };
    Block { width: Length::from_units(strip), depth, centres }
}

/// The narrowest strip, to a millimetre, that holds so many round pots in rows; the whole width where none does.
fn narrowest(number: i64, width: Length, depth: Length, pitch: i64) -> i64 {
    let in_rows = |strip: i64| fit::round_rows(strip, depth.units(), pitch).count();
    let step = Length::from_mm(1).units();
    let (mut low, mut high) = (pitch / step, width.units() / step);
    while low < high {
        let middle = low + (high - low) / 2;
        if in_rows(middle * step) >= number { high = middle } else { low = middle + 1 }
    }
    // the count is not strictly monotone in odd cases, and more than rows hold take the whole width
    if in_rows(high * step) >= number { high * step } else { width.units() }
}
