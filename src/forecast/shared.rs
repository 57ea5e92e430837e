//! Trays that several lots share: how much of a lot stands in them, and one stay made of all parts.

use std::collections::BTreeMap;
use std::ops::Range;

use chrono::NaiveDate;

use crate::season::{LotId, Role, Season, Sowing, SowingId, Step, StepId, TrayKey, TrayRows};
use crate::trade::Bears;
use crate::units::DateSpan;

use super::holding::Holding;
use super::problem::Problem;
use super::shared_tray::{SharedPart, SharedTray, Sharing};
use super::stay::{Inside, Needs, Phase, Shape, Stay};

/// How much of a lot stands in shared trays, by the rows that their notes give it: whole rows of a
/// tray of cells; in an open flat, the lot's last tray, which is the one that is not full.
pub(super) fn shared_parts(
    season: &Season,
    lot: LotId,
    step: &Step,
    holding: &Holding,
    plants: u32,
) -> Vec<(TrayKey, u32)> {
    let mut left = plants;
    let mut parts = Vec::new();
    for note in season.notes().filter(|note| matches!(note.key, TrayKey::Shared(_))) {
        for rows in note.rows.iter().filter(|rows| rows.lot == lot && rows.step == step.id) {
            let room = match rows_of(holding) {
                Some((in_tray, in_row)) => {
                    let has = |range: &Range<u16>, most: u32| {
                        u32::from(range.end).min(most).saturating_sub(u32::from(range.start))
                    };
                    let whole = has(&rows.rows, in_tray);
                    match &rows.cells {
                        Some(cells) => whole.saturating_mul(has(cells, in_row)),
                        None => whole.saturating_mul(holding.per_tray) / in_tray,
                    }
                }
                None => match left % holding.per_tray.max(1) {
                    0 => holding.per_tray,
                    rest => rest,
                },
            };
            let here = room.min(left);
            left -= here;
            if here > 0 {
                parts.push((note.key, here));
            }
        }
    }
    parts
}

/// Whether the grower gave the lot rows in that step.
pub(super) fn has_rows(season: &Season, lot: LotId, step: StepId) -> bool {
    let mut notes = season.notes().filter(|note| matches!(note.key, TrayKey::Shared(_)));
    notes.any(|note| note.rows.iter().any(|rows| rows.lot == lot && rows.step == step))
}

/// Rows across the short side of a tray of cells, and cells in each.
fn rows_of(holding: &Holding) -> Option<(u32, u32)> {
    cells_of(&holding.shape)
}

fn cells_of(shape: &Shape) -> Option<(u32, u32)> {
    let Shape::Tray { inside: Inside::Cells { columns, rows }, .. } = shape else { return None };
    let (columns, rows) = (u32::from((*columns).max(1)), u32::from((*rows).max(1)));
    Some((columns.min(rows), columns.max(rows)))
}

/// Rows and cells given to the lot in shared trays that these do not have.
pub(super) fn rows_outside(
    season: &Season,
    sowing: &Sowing,
    lot: LotId,
    step: &Step,
    holding: &Holding,
) -> Option<Problem> {
    let (rows, cells) = rows_of(holding)?;
    let outside = |part: &TrayRows| {
        let last = part.cells.as_ref().map_or(0, |cells| u32::from(cells.end));
        u32::from(part.rows.end) > rows || last > cells
    };
    let mut notes = season.notes().filter(|note| matches!(note.key, TrayKey::Shared(_)));
    let note =
        notes.find(|note| note.rows.iter().any(|part| part.lot == lot && part.step == step.id && outside(part)))?;
    let number = |number: u32| u16::try_from(number).unwrap_or(u16::MAX);
    Some(Problem::NoSuchRows { sowing: sowing.id, tray: note.key, rows: number(rows), cells: number(cells) })
}

/// The trays whose rows the grower gave, as they stand there before `shared` makes one of their parts: rows across the
/// short side.
pub(super) fn given(season: &Season, stays: &[Stay]) -> BTreeMap<TrayKey, SharedTray> {
    let mut trays = BTreeMap::new();
    for note in season.notes().filter(|note| matches!(note.key, TrayKey::Shared(_))) {
        let own = || stays.iter().filter(|stay| stay.tray() == Some(note.key));
        let (Some(from), Some(until)) =
            (own().map(|stay| stay.span.from()).min(), own().map(|stay| stay.span.until()).max())
        else {
            continue;
        };
        let cells = own().find_map(|stay| cells_of(&stay.shape));
        let (rows, in_row) = cells.unwrap_or((note.rows.len().try_into().unwrap_or(u32::MAX), 1));
        let part = |part: &TrayRows| {
            let wide = |range: &Range<u16>| u32::from(range.start)..u32::from(range.end);
            let (rows, cells) = (wide(&part.rows), part.cells.as_ref().map(wide));
            let each = cells.as_ref().map_or(in_row, |cells| cells.end.saturating_sub(cells.start));
            let places = rows.end.saturating_sub(rows.start).saturating_mul(each);
            let sowing = season.sowing_of(part.lot)?.id;
            let of_it = || own().filter(|stay| stay.sowing == Some(sowing)).map(|stay| stay.span);
            let from = of_it().map(DateSpan::from).min().unwrap_or(from);
            let until = of_it().map(DateSpan::until).max().unwrap_or(until);
            Some(SharedPart { sowing, lot: part.lot, step: part.step, rows, cells, places, from, until })
        };
        let parts = note.rows.iter().filter_map(part).collect();
        trays.insert(note.key, SharedTray { rows, places: rows.saturating_mul(in_row), parts });
    }
    trays
}

/// Makes one stay at a time of the parts that lots have in a shared tray: in the dark while all are,
/// indoors while any has to be, outside once all that are left are.
pub(super) fn shared(stays: &mut Vec<Stay>, sharing: &Sharing) {
    let (parts, others): (Vec<Stay>, Vec<Stay>) =
        std::mem::take(stays).into_iter().partition(|stay| sharing.tray_of(stay).is_some());
    *stays = others;
    let mut by_tray: BTreeMap<TrayKey, Vec<Stay>> = BTreeMap::new();
    for stay in parts {
        if let Some(tray) = stay.tray() {
            by_tray.entry(tray).or_default().push(stay);
        }
    }
    for parts in by_tray.into_values() {
        let owner = parts.first().and_then(|first| first.sowing);
        let owner = owner.filter(|_| parts.iter().all(|part| part.sowing == owner));
        let mut turns: Vec<NaiveDate> = parts.iter().flat_map(|stay| [stay.span.from(), stay.span.until()]).collect();
        turns.sort_unstable();
        turns.dedup();
        let (mut indoors, mut outside): (Vec<Stay>, Vec<Stay>) = (Vec::new(), Vec::new());
        for (&from, &until) in turns.iter().zip(turns.iter().skip(1)) {
            let Ok(span) = DateSpan::new(from, until) else { continue };
            let present: Vec<&Stay> = parts.iter().filter(|stay| stay.span.contains(from)).collect();
            let (out, within): (Vec<&Stay>, Vec<&Stay>) =
                present.iter().partition(|stay| stay.needs.role == Role::Hardening);
            let lots_of = |stays: &[&Stay], of| stays.iter().filter(|stay| stay.sowing == of).count();
            // a lot that still needs the night indoors keeps the whole tray there
            if within.iter().all(|stay| lots_of(&out, stay.sowing) >= lots_of(&within, stay.sowing)) {
                add(&mut outside, owner, &out, span);
            }
            add(&mut indoors, owner, &within, span);
        }
        stays.extend(indoors);
        stays.extend(outside);
    }
}

/// The parts as one, during those days; goes on with the last one where nothing changed.
fn add(made: &mut Vec<Stay>, owner: Option<SowingId>, parts: &[&Stay], span: DateSpan) {
    let lit = parts.iter().find(|stay| stay.phase != Phase::Germinating);
    let Some(model) = lit.or(parts.first()) else { return };
    let tallest = parts.iter().copied().max_by_key(|stay| stay.height_on(span.from())).unwrap_or(model);
    // one tray, whoever stands in it
    let fixed_grams = parts.iter().map(|stay| stay.fixed_grams).max().unwrap_or(0);
    let stay = Stay {
        sowing: owner,
        needs: Needs {
            bears: parts.iter().fold(Bears::Anything, |bears, stay| bears.and(stay.needs.bears)),
            ..model.needs
        },
        span,
        height: parts.iter().map(|stay| stay.height).max().unwrap_or(model.height),
        growth: tallest.growth.clone(),
        grams: parts.iter().fold(fixed_grams, |sum, stay| sum.saturating_add(stay.grams - stay.fixed_grams)),
        fixed_grams,
        plants: parts.iter().fold(0, |sum, stay| sum.saturating_add(stay.plants)),
        ..(**model).clone()
    };
    if let Some(last) = made.last_mut()
        && last.span.until() == span.from()
        && *last == (Stay { span: last.span, ..stay.clone() })
        && let Ok(both) = DateSpan::new(last.span.from(), span.until())
    {
        last.span = both;
        return;
    }
    made.push(stay);
}
