use super::{EditError, FieldId, LotId, Map, RecordId, Refusal, Sowing, SowingId, StepId, limits};

/// What all sowings come to: which of them each lot, step and record is of, as their numbers are given out
/// once, and how many plants are wanted.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Owners {
    parts: Map<Part, SowingId>,
    plants: u64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    Lot(LotId),
    Step(StepId),
    Record(RecordId),
}

impl Owners {
    pub(super) fn new() -> Self {
        Self { parts: Map::new_sync(), plants: 0 }
    }

    pub(super) fn of_lot(&self, lot: LotId) -> Option<SowingId> {
        self.parts.get(&Part::Lot(lot)).copied()
    }

    pub(super) fn of_step(&self, step: StepId) -> Option<SowingId> {
        self.parts.get(&Part::Step(step)).copied()
    }

    /// `before` is what the sowing was.
    ///
    /// # Errors
    /// Names a number that another sowing's part has, or says how many plants there may be in all.
    pub(super) fn may_put(&self, sowing: &Sowing, before: Option<&Sowing>) -> Result<(), EditError> {
        let found = self.plants - before.map_or(0, plants) + plants(sowing);
        if found > limits::PLANTS {
            return Err(FieldId::SowingPlants.refuse(Refusal::TooMany { most: limits::PLANTS, found }));
        }
        let taken = |part: &Part| self.parts.get(part).is_some_and(|of| *of != sowing.id);
        match parts(sowing).find(taken) {
            None => Ok(()),
            Some(Part::Lot(id)) => Err(FieldId::Lot(id).refuse(Refusal::NumberTaken(id.0))),
            Some(Part::Step(id)) => Err(FieldId::Step(id).refuse(Refusal::NumberTaken(id.0))),
            Some(Part::Record(id)) => Err(FieldId::Record(id).refuse(Refusal::NumberTaken(id.0))),
        }
    }

    pub(super) fn put(&mut self, sowing: &Sowing) {
        self.plants += plants(sowing);
        for part in parts(sowing) {
            self.parts.insert_mut(part, sowing.id);
        }
    }

    pub(super) fn remove(&mut self, sowing: &Sowing) {
        self.plants -= plants(sowing);
        for part in parts(sowing) {
            self.parts.remove_mut(&part);
        }
    }
}

fn plants(sowing: &Sowing) -> u64 {
    sowing.wanted.iter().map(|wanted| u64::from(wanted.plants)).sum()
}

fn parts(sowing: &Sowing) -> impl Iterator<Item = Part> {
    let lots = sowing.lots.iter().map(|lot| Part::Lot(lot.id));
    let steps = sowing.steps.iter().map(|step| Part::Step(step.id));
    lots.chain(steps).chain(sowing.seen.iter().map(|record| Part::Record(record.id)))
}
