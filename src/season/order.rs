//! Which record must not come before which other, and how many of the plants it may speak of.

use chrono::NaiveDate;

use super::{EditError, FieldId, Observation, Observed, Refusal, Sowing};

/// How far along a record is: none may stand before one that is less far. `None` for what may be seen
/// at any time once they are up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Far {
    Prepared,
    Sown,
    /// Before they are up or after, as the first of them show.
    Unstacked,
    Up,
    /// Seen of plants that are up, whatever stands in between.
    Since,
    /// Moved on into the so-manieth container, from 1.
    MovedOn(usize),
    Left,
}

impl Far {
    fn of(sowing: &Sowing, what: Observed) -> Self {
        match what {
            Observed::Prepared => Self::Prepared,
            Observed::Sown { .. } => Self::Sown,
            Observed::Unstacked => Self::Unstacked,
            Observed::Up { .. } => Self::Up,
            Observed::MovedOn(id) => {
                Self::MovedOn(sowing.steps.iter().position(|step| step.id == id).unwrap_or_default())
            }
            Observed::PutOut(_) | Observed::Sold(_) => Self::Left,
            Observed::TrueLeaves(_)
            | Observed::Lost { .. }
            | Observed::GappedUp
            | Observed::SpacedOut
            | Observed::HardeningBegun
            | Observed::NightOut
            | Observed::Grown(_) => Self::Since,
        }
    }

    /// Whether the other must have happened first.
    fn follows(self, other: Self, one_lot: bool) -> bool {
        match (self, other) {
            (Self::Up | Self::Since, Self::Unstacked) => false,
            (Self::Since, _) => other < Self::Since,
            (_, Self::Since) => false,
            // one lot leaves while another is moved on
            (Self::Left, Self::MovedOn(_)) => one_lot,
            _ => self > other,
        }
    }
}

/// Whether what was seen may have happened so, as far as that record is concerned; two things on one day
/// may.
pub(super) fn in_order(sowing: &Sowing, record: Observation) -> Result<(), EditError> {
    let field = FieldId::RecordDate(record.id);
    let far = |what| Far::of(sowing, what);
    let (this, found, one_lot) = (far(record.what), record.date, sowing.lots.len() < 2);
    let of = sowing.lot_of(&record);
    let apart = |seen: &Observation| matches!((of, sowing.lot_of(seen)), (Some(one), Some(other)) if one != other);
    let others = || sowing.seen.iter().filter(|seen| seen.id != record.id && !apart(seen));
    let first = |kind: Far| others().filter(|seen| far(seen.what) == kind).map(|seen| seen.date).min();
    for other in others() {
        let (what, on, kind) = (other.what, other.date, far(other.what));
        let same_lot = one_lot || (of.is_some() && sowing.lot_of(other) == of);
        if matches!(record.what, Observed::MovedOn(_)) && what == record.what && same_lot {
            return Err(field.refuse(Refusal::Once(on)));
        }
        if this.follows(kind, one_lot) && first(kind).is_some_and(|first| found < first) && first(kind) == Some(on) {
            return Err(field.refuse(Refusal::NotBefore { what, on, found }));
        }
        let this_first = first(this).map_or(found, |first| first.min(found));
        if kind.follows(this, one_lot) && this_first > on {
            return Err(field.refuse(Refusal::NotPast { what, on, found }));
        }
    }
    many_enough(&sowing.with_record(record), record)
}

/// No more came up than were sown, and no more went than came up.
fn many_enough(then: &Sowing, record: Observation) -> Result<(), EditError> {
    let cells = then.cells_sown();
    let counted = then.counted_up(NaiveDate::MAX);
    if let (Some(cells), Some((_, up))) = (cells, counted)
        && up > cells
    {
        match record.what {
            Observed::Up { .. } => {
                return Err(FieldId::RecordUp(record.id).refuse(Refusal::OnlySoMany { most: cells, found: up }));
            }
            Observed::Sown { .. } => {
                let found = record.what.number().unwrap_or(cells);
                let least = up - (cells - found);
                return Err(FieldId::RecordSown(record.id).refuse(Refusal::SoManyAtLeast { least, found }));
            }
            _ => {}
        }
    }
    let gone = |what: Observed| match what {
        Observed::PutOut(plants) | Observed::Sold(plants) | Observed::Lost { plants, .. } => Some(plants),
        _ => None,
    };
    let (Some((from, up)), Some(found)) = (counted, gone(record.what)) else { return Ok(()) };
    let since = then.seen.iter().filter(|seen| seen.date >= from).filter_map(|seen| gone(seen.what));
    let all = since.fold(0_u32, u32::saturating_add);
    if all <= up || record.date < from {
        return Ok(());
    }
    let most = up.saturating_sub(all - found);
    Err(FieldId::RecordPlants(record.id).refuse(Refusal::OnlySoMany { most, found }))
}
