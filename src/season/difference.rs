//! What is not the same in two seasons, counted by kind of entry.

use std::collections::BTreeMap;

use super::Season;

/// So many entries of one kind came in, are no longer the same, or went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Difference {
    pub part: Part,
    pub added: usize,
    pub changed: usize,
    pub gone: usize,
}

impl Difference {
    pub const fn count(&self) -> usize {
        self.added + self.changed + self.gone
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    Name,
    Note,
    Settings,
    DaysAway,
    Crops,
    Containers,
    Places,
    Racks,
    Shelves,
    Sowings,
    Guests,
    TrayNotes,
    Spots,
}

/// From `a` to `b`, in the order of [`Part`]; empty only if they are the same.
pub fn differences(a: &Season, b: &Season) -> Vec<Difference> {
    let one = |differs| [0, usize::from(differs), 0];
    let spots = |season: &Season| -> Vec<_> {
        season.spots().map(|spot| ((spot.tray, spot.from, season.side(spot.shelf)), *spot)).collect()
    };
    let found = [
        (Part::Name, one(a.name() != b.name())),
        (Part::Note, one(a.note() != b.note())),
        (Part::Settings, one(a.settings() != b.settings())),
        (Part::DaysAway, by_key(a.away().into_iter(), b.away().into_iter(), |away| &away.id)),
        (Part::Crops, by_key(a.own_crops(), b.own_crops(), |crop| &crop.key)),
        (Part::Containers, by_key(a.own_containers(), b.own_containers(), |container| &container.key)),
        (Part::Places, by_key(a.places(), b.places(), |place| &place.id)),
        (Part::Racks, by_key(a.racks().into_iter(), b.racks().into_iter(), |rack| &rack.id)),
        (Part::Shelves, by_key(a.shelves(), b.shelves(), |shelf| &shelf.id)),
        (Part::Sowings, by_key(a.sowings(), b.sowings(), |sowing| &sowing.id)),
        (Part::Guests, by_key(a.guests(), b.guests(), |guest| &guest.id)),
        (Part::TrayNotes, by_key(a.notes(), b.notes(), |note| &note.key)),
        (Part::Spots, counts(spots(a).into_iter(), spots(b).into_iter())),
    ];
    let all = found.into_iter().map(|(part, [added, changed, gone])| Difference { part, added, changed, gone });
    all.filter(|difference| difference.count() > 0).collect()
}

fn by_key<'a, K: Ord + 'a, V: PartialEq + 'a>(
    a: impl Iterator<Item = &'a V>,
    b: impl Iterator<Item = &'a V>,
    key: impl Fn(&'a V) -> &'a K,
) -> [usize; 3] {
    counts(a.map(|entry| (key(entry), entry)), b.map(|entry| (key(entry), entry)))
}

/// Added, changed, gone.
fn counts<K: Ord, V: PartialEq>(a: impl Iterator<Item = (K, V)>, b: impl Iterator<Item = (K, V)>) -> [usize; 3] {
    let mut before: BTreeMap<K, V> = a.collect();
    let (mut added, mut changed) = (0, 0);
    for (key, entry) in b {
        match before.remove(&key) {
            None => added += 1,
            Some(old) if old != entry => changed += 1,
            Some(_) => {}
        }
    }
    [added, changed, before.len()]
}
