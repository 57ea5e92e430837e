//! Leaves that meet: from when, and what room would keep them apart.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use chrono::NaiveDate;

use crate::season::{ContainerKey, CropKey, GrowthPoint, Season, SowingId, StepId};
use crate::trade;
use crate::units::{Length, shifted};

use super::course::{Event, What, Why};
use super::problem::{Problem, RoomApart};

/// How wide plants of a lot are, leaf tip to leaf tip.
#[derive(Clone, Copy)]
pub(super) struct Leaves<'a> {
    pub(super) spreads: &'a [GrowthPoint],
    pub(super) sown: NaiveDate,
}

impl Leaves<'_> {
    pub(super) fn wide_on(self, date: NaiveDate) -> Length {
        let mm = trade::grown_mm(self.spreads, (date - self.sown).num_days());
        Length::try_from_mm(mm).unwrap_or(Length::ZERO)
    }

    /// On the last of those days, the widest: spread never falls.
    pub(super) fn widest(self, until: NaiveDate) -> Length {
        self.wide_on(shifted(until, -1))
    }

    /// The first of those days on which they are wider than their places are apart.
    pub(super) fn meet(self, apart: Length, (from, until): (NaiveDate, NaiveDate)) -> Option<NaiveDate> {
        if from >= until || self.widest(until) <= apart {
            return None;
        }
        let mut date = from;
        while date < until && self.wide_on(date) <= apart {
            let next = shifted(date, 1);
            if next == date {
                return None;
            }
            date = next;
        }
        (date < until).then_some(date)
    }
}

/// Plants of a step that touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Meeting {
    pub(super) step: StepId,
    pub(super) from: NaiveDate,
    /// Spaced out, or gone.
    pub(super) until: NaiveDate,
    /// They are spaced out then.
    pub(super) spaced: bool,
    /// How far apart they stand, middle to middle.
    pub(super) at: Length,
    /// How wide they are by the end.
    pub(super) wide: Length,
    /// `None` in cells, which can't be moved apart.
    pub(super) room: Option<RoomApart>,
}

impl RoomApart {
    /// Whether leaves apart would want more than they have.
    fn is_more(self) -> bool {
        match self {
            Self::Trays { now, apart } => apart > now,
            Self::Ground { now, apart } => apart > now,
        }
    }

    fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Trays { now, apart }, Self::Trays { now: more, apart: more_apart }) => {
                Self::Trays { now: now.saturating_add(more), apart: apart.saturating_add(more_apart) }
            }
            (Self::Ground { now, apart }, Self::Ground { now: more, apart: more_apart }) => {
                Self::Ground { now: now + more, apart: apart + more_apart }
            }
            // a step has one container for all its lots
            (one, _) => one,
        }
    }
}

impl Meeting {
    pub(super) const fn event(&self) -> Event {
        let why = Why::Wider { at: self.at, wide: self.wide };
        Event { what: What::LeavesMeet(self.step), date: self.from, range: None, why }
    }

    pub(super) fn problem(&self, sowing: SowingId) -> Option<Problem> {
        let Self { step, from, until, spaced, at, wide, room } = *self;
        let (others, room) = (Vec::new(), room.filter(|room| spaced || room.is_more())?);
        Some(Problem::LeavesMeet { sowing, others, step, from, until, spaced, at, wide, room })
    }

    /// Of several lots of one sowing as one: of the first step in pots.
    pub(super) fn of_all(meetings: &[Self]) -> Option<Self> {
        let in_pots = |one: &&Self| one.room.is_some();
        let first = meetings.iter().filter(in_pots).min_by_key(|one| one.from)?;
        let others = meetings.iter().filter(|one| one.step == first.step);
        others.filter(|one| !std::ptr::eq(*one, first)).try_fold(*first, |all, one| {
            Some(Self {
                until: all.until.max(one.until),
                spaced: all.spaced && one.spaced,
                wide: all.wide.max(one.wide),
                room: Some(all.room?.and(one.room?)),
                ..all
            })
        })
    }
}

/// Of all sowings of a crop that stand in pots alike one problem: from the first day, with the room of all.
pub(super) fn once_for_a_crop(season: &Season, problems: Vec<Problem>) -> Vec<Problem> {
    let mut kept: Vec<Problem> = Vec::new();
    let mut at = BTreeMap::new();
    for problem in problems {
        let found = alike(season, &problem).and_then(|key| match at.entry(key) {
            Entry::Occupied(entry) => kept.get_mut::<usize>(*entry.get()),
            Entry::Vacant(entry) => {
                entry.insert(kept.len());
                None
            }
        });
        match found {
            Some(known) => join(known, &problem),
            None => kept.push(problem),
        }
    }
    kept
}

/// What sowings whose leaves meet have in common.
type Alike<'a> = (&'a CropKey, &'a ContainerKey, Option<&'a ContainerKey>, bool, Length);

fn alike<'a>(season: &'a Season, problem: &Problem) -> Option<Alike<'a>> {
    let &Problem::LeavesMeet { sowing, step, spaced, at, .. } = problem else { return None };
    let sowing = season.sowing(sowing)?;
    let step = sowing.steps.iter().find(|one| one.id == step)?;
    Some((&sowing.crop, &step.container, step.carried_in.as_ref(), spaced, at))
}

fn join(known: &mut Problem, more: &Problem) {
    let Problem::LeavesMeet { others, from, until, wide, room, .. } = known else { return };
    let &Problem::LeavesMeet { sowing, from: its_from, until: its_until, wide: its_wide, room: its_room, .. } = more
    else {
        return;
    };
    others.push(sowing);
    (*from, *until, *wide) = (its_from.min(*from), its_until.max(*until), its_wide.max(*wide));
    *room = room.and(its_room);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn leaves_meet_on_the_first_day_they_are_wider_than_their_places() {
        let day = |day| NaiveDate::from_ymd_opt(2027, 3, day).unwrap();
        // 10 mm a week
        let spreads = [GrowthPoint { week: 4.0, mm: 40.0 }];
        let leaves = Leaves { spreads: &spreads, sown: day(1) };
        let meet = |mm, from, until| leaves.meet(Length::from_mm(mm), (day(from), day(until)));
        // exactly 10 mm wide on the 8th: they touch, and are wider the day after
        assert_eq!(meet(10, 1, 29), Some(day(9)));
        assert_eq!(meet(10, 15, 29), Some(day(15)), "wider from the first day there");
        assert_eq!(meet(10, 1, 9), None, "gone before");
        assert_eq!(meet(40, 1, 31), None, "never wider");
        assert_eq!(meet(10, 20, 20), None);
    }
}
