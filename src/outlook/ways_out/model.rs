//! All changes that may be made together, as a question about daily counts.

use std::collections::{BTreeMap, BTreeSet};

use crate::fit::{Batch, Cancel, Cancelled, Choice, DailyCapacity, Days, LevelProblem, NoGood, Term, Use};
use crate::forecast::{Forecast, Prepared, Scenario, Stay, drawn};
use crate::outlook::Outlook;
use crate::outlook::view::{is_pots, weight};
use crate::season::{Op, PlaceId, Season, SowingId, TrayKey};

use super::draft::Draft;
use super::drafts::{Drafted, Drafting, owner};
use super::pairs::{days_apart, pairs_of};
use super::room_made::RoomMade;
use super::rows::{Kinds, Rows, Take};
use super::search::concerned;
use super::tried::Standing;
use super::way::{Change, Price};

/// More than any row holds: where nothing limits it.
const NO_LIMIT: i64 = 1 << 40;
/// Numbers that new lots or shelves of one draft may take.
const IDS: u32 = 64;

/// One of several ways in which a sowing goes; without a draft, as it is.
struct Alternative {
    draft: Option<Draft>,
    stays: Vec<Like>,
    points: i64,
}

/// So many stays that count alike: one of them stands for all.
struct Like {
    stay: Stay,
    number: i64,
    /// Such as may come to stand in another's tray.
    is_last: bool,
}

impl Like {
    fn all(stays: &[Stay]) -> Vec<Self> {
        let mut alike = BTreeMap::new();
        for stay in stays {
            let is_last = is_last_of_lot(stay, stays);
            let shape = (is_pots(&stay.shape), stay.shape.width(), stay.shape.depth(), weight(stay));
            let key = (stay.span, shape, stay.needs, stay.part, stay.height, is_last);
            alike.entry(key).or_insert_with(|| Self { stay: stay.clone(), number: 0, is_last }).number += 1;
        }
        alike.into_values().collect()
    }
}

/// Room that may be made, and how much more each row then holds.
struct Made {
    draft: Draft,
    points: i64,
    /// What it was found to cost beyond that: known only once it was tried.
    found: i64,
    gains: Vec<Take>,
}

pub(super) struct Model<'a> {
    rows: Rows<'a>,
    days: Days,
    fixed: Vec<Like>,
    sowings: Vec<Vec<Alternative>>,
    made: Vec<Made>,
    /// Whether what its counts allow is a bound: not where opening a place moves stays, or comes with other room there.
    pub(super) proves: bool,
}

impl<'a> Model<'a> {
    pub(super) fn of(of: &Standing<'a>, prepared: &Prepared<'_>, cancel: &Cancel) -> Result<Self, Cancelled> {
        let matters = of.season.settings().matters;
        let points = |price: &Price| i64::try_from(price.points(&matters)).unwrap_or(i64::MAX).min(1 << 28);
        let mut fresh = of.season.next_id();
        let mut sowings = Vec::new();
        let crowded = of.outlook.crunches.iter().flat_map(|crunch| concerned(of, crunch));
        let crowded: BTreeSet<SowingId> = crowded.map(|sowing| sowing.id).collect();
        let every = days_apart(crowded.len());
        for sowing in of.season.sowings() {
            cancel.check()?;
            let is_own = |stay: &&Stay| owner(of.forecast, stay) == Some(sowing.id);
            let own: Vec<Stay> = of.forecast.stays.iter().filter(is_own).cloned().collect();
            let mut all = vec![Alternative { draft: None, stays: Like::all(&own), points: 0 }];
            let drafting = Drafting { of, prepared, sowing, fresh, cancel };
            let mut drafts = drafting.drafts()?;
            if crowded.contains(&sowing.id) {
                drafts.extend(pairs_of(&drafting, every)?);
            }
            all.extend(drafts.into_iter().map(|Drafted { draft, stays }| {
                let points = points(&draft.price);
                Alternative { draft: Some(draft), stays: Like::all(&stays), points }
            }));
            fresh = fresh.saturating_add(IDS);
            sowings.push(all);
        }
        let nobodys = of.forecast.stays.iter().filter(|stay| owner(of.forecast, stay).is_none());
        let fixed = Like::all(&nobodys.cloned().collect::<Vec<Stay>>());
        let mut kinds = Kinds::of(of.season);
        kinds.add(fixed.iter().map(|like| &like.stay));
        for one in sowings.iter().flatten() {
            cancel.check()?;
            kinds.add(one.stays.iter().map(|like| &like.stay));
        }
        let (rows, days) = (Rows::of(of.season, kinds.stays()), kinds.days());
        let mut made: Vec<Made> = Vec::new();
        let mut proves = true;
        for crunch in &of.outlook.crunches {
            cancel.check()?;
            let drafts = RoomMade { season: of.season, forecast: of.forecast, crunch, fresh, today: of.today }.drafts();
            fresh = fresh.saturating_add(IDS);
            for draft in drafts {
                cancel.check()?;
                let mut season = of.season.clone();
                let known = made.iter().any(|one| one.draft.changes == draft.changes);
                if known || season.apply(&draft.edit()).is_err() {
                    continue;
                }
                if matches!(draft.changes.as_slice(), [Change::Open { .. }]) {
                    proves &= drawn(&season, of.library, &Scenario::none()).stays == of.forecast.stays;
                }
                let gains = gains(&rows, &season, kinds.stays(), days);
                made.push(Made { points: points(&draft.price), found: 0, draft, gains });
            }
        }
        proves &= !opened_with_other_room(&made);
        let mut model = Self { rows, days, fixed, sowings, made, proves };
        model.found(of.outlook, of.forecast);
        Ok(model)
    }

    /// From now on no more stand there than were found to have room on days that were short, or not settled.
    /// Whether anything of that is new.
    pub(super) fn found(&mut self, outlook: &Outlook, forecast: &Forecast) -> bool {
        let short = outlook.crunches.iter().filter(|crunch| self.rows.found(crunch, forecast)).count();
        let open = outlook.weeks.iter().filter(|week| self.rows.open(week)).count();
        short + open > 0
    }

    /// By counts that hold whatever is placed where alone, or with all that was found.
    pub(super) fn problem(&self, proven_alone: bool, cancel: &Cancel) -> Result<LevelProblem, Cancelled> {
        let counts = |row: usize| self.rows.all.get(row).is_some_and(|row| row.proven || !proven_alone);
        let uses = |takes: Vec<Take>| -> Vec<Use> {
            let takes = takes.into_iter().filter(|take| counts(take.row) && take.amount > 0);
            takes.map(|Take { row, days, amount }| Use { resource: row, days, amount }).collect()
        };
        let of_stays = |stays: &[Like]| {
            // what is not full may come to stand in another's tray
            let counted = stays.iter().filter(|like| !proven_alone || !like.is_last);
            uses(counted.flat_map(|like| self.takes(like)).collect())
        };
        let fixed = Batch { choices: vec![Choice { cost: 0, uses: of_stays(&self.fixed) }] };
        let choice = |one: &Alternative| Choice { cost: one.points, uses: of_stays(&one.stays) };
        let mut batches = vec![fixed];
        for all in &self.sowings {
            let choices = all.iter().map(|one| cancel.check().map(|()| choice(one)));
            batches.push(Batch { choices: choices.collect::<Result<_, Cancelled>>()? });
        }
        let made = self.made.iter().map(|made| {
            let none = Choice { cost: 0, uses: uses(self.rows.with_found(&made.gains)) };
            let cost = if proven_alone { made.points } else { made.points.saturating_add(made.found) };
            Batch { choices: vec![none, Choice { cost, uses: Vec::new() }] }
        });
        batches.extend(made);
        Ok(LevelProblem {
            resources: (0..self.rows.all.len()).map(|row| self.capacity(row)).collect(),
            batches,
            nogoods: self.apart(),
        })
    }

    fn takes(&self, like: &Like) -> impl Iterator<Item = Take> + use<> {
        let number = like.number;
        let takes = self.rows.takes(&like.stay).into_iter();
        takes.map(move |take| Take { amount: take.amount.saturating_mul(number), ..take })
    }

    /// What a row holds with all the room made that may be.
    fn capacity(&self, row: usize) -> DailyCapacity {
        let Some(of) = self.rows.all.get(row) else { return DailyCapacity::default() };
        let gains: Vec<Take> = self.made.iter().flat_map(|made| self.rows.with_found(&made.gains)).collect();
        let gains: Vec<&Take> = gains.iter().filter(|take| take.row == row).collect();
        let mut turns: BTreeSet<i32> = of.holds.iter().map(|(from, _)| *from).collect();
        turns.extend(gains.iter().flat_map(|take| [take.days.from, take.days.until]));
        turns.insert(self.days.from);
        let turns: Vec<i32> = turns.into_iter().filter(|day| *day < self.days.until).collect();
        let ends = turns.iter().skip(1).copied().chain([self.days.until]);
        let each = turns.iter().zip(ends).map(|(&from, until)| {
            let more: i64 = gains.iter().filter(|take| take.days.contains(from)).map(|take| take.amount).sum();
            (Days::new(from, until), of.on(from).saturating_add(more).clamp(0, NO_LIMIT))
        });
        DailyCapacity { usual: NO_LIMIT, other: each.collect() }
    }

    /// Rooms that would be made of one shelf, or one place, in two ways.
    fn apart(&self) -> Vec<NoGood> {
        let shelves: Vec<BTreeSet<u32>> = self.made.iter().map(|made| put(&made.draft)).collect();
        let first = 1 + self.sowings.len();
        let mut all = Vec::new();
        for (at, one) in shelves.iter().enumerate() {
            for (other, _) in shelves.iter().enumerate().skip(at + 1).filter(|(_, other)| !one.is_disjoint(other)) {
                let term = |at: usize| Term { batch: first + at, choices: vec![1] };
                all.push(NoGood { terms: vec![term(at), term(other)], short: 1 });
            }
        }
        all
    }

    /// From now on the edges over which trays stick out in that choice cost so much more, as was found; whether that is
    /// new of any.
    pub(super) fn edges_cost(&mut self, chosen: &[usize], points: u64) -> bool {
        let points = i64::try_from(points).unwrap_or(i64::MAX).min(1 << 28);
        let of_made = chosen.iter().skip(1 + self.sowings.len());
        let edges = self.made.iter_mut().zip(of_made).filter(|(made, choice)| {
            **choice == 1 && matches!(made.draft.changes.as_slice(), [Change::StickOut { .. }])
        });
        edges.filter(|(made, _)| made.found < points).map(|(made, _)| made.found = points).count() > 0
    }

    /// What was chosen, as one change; `None` where that is nothing.
    pub(super) fn draft(&self, chosen: &[usize]) -> Option<Draft> {
        let of_sowings = self.sowings.iter().zip(chosen.iter().skip(1));
        let sowings = of_sowings.filter_map(|(all, &choice)| all.get(choice)?.draft.as_ref());
        let of_made = self.made.iter().zip(chosen.iter().skip(1 + self.sowings.len()));
        let made = of_made.filter(|(_, choice)| **choice == 1).map(|(made, _)| &made.draft);
        Draft::together(sowings.chain(made))
    }
}

/// Whether it is shared, or the last tray of its lot in that container, which alone may not be full.
fn is_last_of_lot(stay: &Stay, all: &[Stay]) -> bool {
    let trays = all.iter().flat_map(|stay| &stay.trays);
    stay.trays.iter().any(|tray| match tray {
        TrayKey::Own { lot, step, n } => !trays.clone().any(
            |other| matches!(other, TrayKey::Own { lot: of, step: into, n: number } if (of, into) == (lot, step) && number > n),
        ),
        TrayKey::Shared(_) => true,
        TrayKey::Guest { .. } => false,
    })
}

/// Room made in a place beside opening it for longer: both together hold more than the sum of each.
fn opened_with_other_room(made: &[Made]) -> bool {
    let changes = || made.iter().flat_map(|made| &made.draft.changes);
    let opened: BTreeSet<PlaceId> = changes()
        .filter_map(|change| match change {
            Change::Open { place, .. } => Some(*place),
            _ => None,
        })
        .collect();
    changes().any(|change| match change {
        Change::Shelves { place, .. } | Change::Lamp { place, .. } => opened.contains(place),
        Change::StickOut { .. } => !opened.is_empty(),
        _ => false,
    })
}

/// The shelves and places that it puts.
fn put(draft: &Draft) -> BTreeSet<u32> {
    let put = draft.ops.iter().filter_map(|op| match op {
        Op::PutShelf(shelf) => Some(shelf.id.0),
        Op::PutPlace(place) => Some(place.id.0),
        _ => None,
    });
    put.collect()
}

/// How much more each row holds in the season with room made.
fn gains<'s>(rows: &Rows<'_>, with: &Season, stays: impl Iterator<Item = &'s Stay>, days: Days) -> Vec<Take> {
    let then = Rows::of(with, stays);
    let mut all = Vec::new();
    for (number, row) in rows.all.iter().enumerate() {
        let Some(other) = then.all.iter().find(|other| other.is_about_the_same(row)) else { continue };
        let mut turns: Vec<i32> =
            row.holds.iter().chain(&other.holds).map(|(from, _)| (*from).max(days.from)).collect();
        turns.sort_unstable();
        turns.dedup();
        turns.retain(|turn| *turn < days.until);
        let ends = turns.iter().skip(1).copied().chain([days.until]);
        for (&from, until) in turns.iter().zip(ends) {
            let amount = other.on(from).saturating_sub(row.on(from));
            if amount > 0 {
                all.push(Take { row: number, days: Days::new(from, until), amount });
            }
        }
    }
    all
}
