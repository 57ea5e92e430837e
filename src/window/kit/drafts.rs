//! What is typed in fields and not taken yet: one store for all of them, of the season that is open.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::season::{
    AwayId, ContainerKey, CropKey, GuestId, PlaceId, RackId, RecordId, ShelfId, Sight, SowingId, TrayKey,
};

/// Whose field it is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(in crate::window) enum Owner {
    Season,
    Place(PlaceId),
    Rack(RackId),
    Shelf(ShelfId),
    Container(ContainerKey),
    Crop(CropKey),
    Guest(GuestId),
    Sowing(SowingId),
    Record(RecordId),
    /// What is written down next of it.
    NewRecord(SowingId),
    /// What is written down of a piece of work, by the day it was due.
    Job(SowingId, Sight, NaiveDate),
    Tray(TrayKey),
    Away(AwayId),
    /// A form for something that isn't there yet, or what a page asks beside the season.
    Form(&'static str),
}

#[derive(Clone, Debug, Default)]
struct Draft {
    text: String,
    /// Nobody is writing in it any more: it may be taken.
    left: bool,
    /// Why it was not taken; asked again only when it is left again.
    why: Option<String>,
}

/// By owner, then by name of the field.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct Drafts(BTreeMap<Owner, BTreeMap<String, Draft>>);

impl Drafts {
    fn draft(&self, owner: &Owner, name: &str) -> Option<&Draft> {
        self.0.get(owner)?.get(name)
    }

    pub(in crate::window) fn text(&self, owner: &Owner, name: &str) -> Option<&str> {
        self.draft(owner, name).map(|draft| draft.text.as_str())
    }

    pub(in crate::window) fn has_any(&self, owner: &Owner) -> bool {
        self.0.get(owner).is_some_and(|drafts| !drafts.is_empty())
    }

    /// While it is being typed.
    pub(super) fn write(&mut self, owner: &Owner, name: &str, text: String) {
        let draft = Draft { text, ..Draft::default() };
        self.0.entry(owner.clone()).or_default().insert(name.to_owned(), draft);
    }

    /// As if it had been typed and left.
    pub(in crate::window) fn set(&mut self, owner: &Owner, name: &str, text: String) {
        self.write(owner, name, text);
        self.leave(owner, name);
    }

    pub(super) fn leave(&mut self, owner: &Owner, name: &str) {
        if let Some(draft) = self.0.get_mut(owner).and_then(|drafts| drafts.get_mut(name)) {
            (draft.left, draft.why) = (true, None);
        }
    }

    /// Whether one of them was left since that was last asked.
    pub(super) fn take_left(&mut self, owner: &Owner) -> bool {
        let drafts = self.0.get_mut(owner).into_iter().flat_map(BTreeMap::values_mut);
        // asked of all of them, not only up to the first
        drafts.map(|draft| std::mem::take(&mut draft.left)).max().unwrap_or(false)
    }

    pub(super) fn refuse(&mut self, owner: &Owner, name: &str, why: String) {
        if let Some(draft) = self.0.get_mut(owner).and_then(|drafts| drafts.get_mut(name)) {
            draft.why = Some(why);
        }
    }

    pub(super) fn why(&self, owner: &Owner, name: &str) -> Option<&str> {
        self.draft(owner, name)?.why.as_deref()
    }

    pub(in crate::window) fn forget(&mut self, owner: &Owner, name: &str) {
        if let Some(drafts) = self.0.get_mut(owner) {
            drafts.remove(name);
        }
    }

    /// What is typed for the later ones of `number` parts goes with them when the one at `at` is taken
    /// out; `name` gives a field's name by the number of its part.
    pub(in crate::window) fn close_up(
        &mut self,
        owner: &Owner,
        at: usize,
        number: usize,
        name: impl Fn(usize) -> String,
    ) {
        let Some(drafts) = self.0.get_mut(owner) else { return };
        for this in at..number {
            drafts.remove(&name(this));
            if let Some(next) = drafts.remove(&name(this + 1)) {
                drafts.insert(name(this), next);
            }
        }
    }

    pub(in crate::window) fn forget_all(&mut self, owner: &Owner) {
        self.0.remove(owner);
    }
}
