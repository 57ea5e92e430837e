//! What a file can get wrong and one edit cannot: the same thing twice, and names that neither the
//! season nor the library knows.

use std::collections::BTreeSet;

use crate::season::{ContainerKey, Edit, Library, Op, Season, Sowing};

use super::entry::Entry;
use super::error::FileErrorKind;
use crate::trade::nearest;

pub(super) struct Checks<'a> {
    season: Season,
    library: &'a Library,
}

/// Does one op, or names the part of the file that it comes from.
pub(super) fn apply(season: &mut Season, op: Op) -> Result<(), FileErrorKind> {
    let edit = Edit::from(op);
    season.apply(&edit).map_err(|why| FileErrorKind::Edit {
        of: Box::new(edit.ops.first().map_or(Entry::Season, Entry::of)),
        why: Box::new(why),
    })
}

impl<'a> Checks<'a> {
    pub(super) const fn new(season: Season, library: &'a Library) -> Self {
        Self { season, library }
    }

    pub(super) fn into_season(self) -> Season {
        self.season
    }

    /// Adds an entry; an edit would silently replace one of the same number.
    pub(super) fn put(&mut self, op: Op) -> Result<(), FileErrorKind> {
        if self.is_there(&op) {
            return Err(FileErrorKind::Twice { what: Box::new(Entry::of(&op)) });
        }
        if let Op::PutSowing(sowing) = &op {
            self.check_sowing(sowing)?;
        }
        apply(&mut self.season, op)
    }

    fn is_there(&self, op: &Op) -> bool {
        let season = &self.season;
        match op {
            Op::PutAway(new) => season.away().iter().any(|away| away.id == new.id),
            Op::PutPlace(place) => season.place(place.id).is_some(),
            Op::PutRack(rack) => season.rack(rack.id).is_some(),
            Op::PutShelf(new) => season.shelf(new.id).is_some(),
            Op::PutCrop(crop) => season.own_crops().any(|own| own.key == crop.key),
            Op::PutContainer(container) => season.own_containers().any(|own| own.key == container.key),
            Op::PutSowing(sowing) => season.sowing(sowing.id).is_some(),
            Op::PutGuest(guest) => season.guest(guest.id).is_some(),
            Op::PutNote(note) => season.note_of(note.key).is_some(),
            Op::PutSpot(spot) => season.spot_like(spot).is_some(),
            _ => false,
        }
    }

    fn check_sowing(&self, sowing: &Sowing) -> Result<(), FileErrorKind> {
        let of = || Box::new(Entry::sowing(sowing));
        if self.season.crop(self.library, &sowing.crop).is_none() {
            let known = self.season.crops(self.library).map(|crop| crop.key.0.as_ref());
            let near = nearest(&sowing.crop.0, known).map(Box::from);
            return Err(FileErrorKind::NoSuchCrop { of: of(), key: sowing.crop.to_string(), near });
        }
        let used = sowing.steps.iter().flat_map(|step| [Some(&step.container), step.carried_in.as_ref()]);
        for key in used.flatten() {
            self.check_container(key, of)?;
        }
        let mut seen = BTreeSet::new();
        if let Some(lot) = sowing.lots.iter().find(|lot| !seen.insert(lot.id.0)) {
            return Err(FileErrorKind::Twice { what: Box::new(Entry::Lot(of(), lot.id)) });
        }
        seen.clear();
        if let Some(step) = sowing.steps.iter().find(|step| !seen.insert(step.id.0)) {
            return Err(FileErrorKind::Twice { what: Box::new(Entry::Step(of(), step.id)) });
        }
        Ok(())
    }

    fn check_container(&self, key: &ContainerKey, of: impl Fn() -> Box<Entry>) -> Result<(), FileErrorKind> {
        if self.season.container(self.library, key).is_some() {
            return Ok(());
        }
        let known = self.season.containers(self.library).map(|container| container.key.0.as_ref());
        let near = nearest(&key.0, known).map(Box::from);
        Err(FileErrorKind::NoSuchContainer { of: of(), key: key.to_string(), near })
    }
}
