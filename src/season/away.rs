//! Days away beside others: no day is away twice.

use crate::units::DateSpan;

use super::{Away, EditError, FieldId, Refusal, Season};

impl Season {
    /// Days away as they are put down: where some are away already that one is changed, as far as it holds for all of
    /// its days.
    ///
    /// # Errors
    /// Days that are away already, and would be said otherwise of.
    pub fn away_beside(&self, new: Away) -> Result<Away, EditError> {
        let Some(known) = self.away_in(&new) else { return Ok(new) };
        let already = FieldId::AwayFirst.refuse(Refusal::AwayAlready(known.span));
        let (one, other) = (known.waters.trim(), new.waters.trim());
        if known.span != new.span && one != other {
            return Err(already);
        }
        let (from, until) = (known.span.from().min(new.span.from()), known.span.until().max(new.span.until()));
        let changed = Away {
            id: known.id,
            name: if new.name.trim().is_empty() { known.name.clone() } else { new.name },
            span: DateSpan::new(from, until).unwrap_or(known.span),
            waters: if other.is_empty() { known.waters.clone() } else { new.waters },
            every_year: known.every_year || new.every_year,
        };
        if changed == *known || self.away_in(&changed).is_some() { Err(already) } else { Ok(changed) }
    }

    /// Whether days away may have those days: not where they are changed to some that others have.
    ///
    /// # Errors
    /// Days that are away already.
    pub fn away_apart(&self, changed: &Away) -> Result<(), EditError> {
        let is_moved = self.away().iter().all(|known| known.id != changed.id || known.span != changed.span);
        match self.away_in(changed).filter(|_| is_moved) {
            Some(known) => Err(FieldId::AwayFirst.refuse(Refusal::AwayAlready(known.span))),
            None => Ok(()),
        }
    }

    /// The first of the others that has some of those days.
    fn away_in(&self, of: &Away) -> Option<&Away> {
        self.away().into_iter().find(|known| known.id != of.id && known.span.overlaps(of.span))
    }
}
