//! All that is forecast of a season, and what is asked of it.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::season::{Grown, Loss, LotId, Sight, Sowing, SowingId, StepId, TrayKey};
use crate::units::DateSpan;

use super::course::{Course, What, Why};
use super::problem::Problem;
use super::shared_tray::{FewerTrays, SharedPart, SharedTray};
use super::stay::Stay;

/// What the season asks of its shelves.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Forecast {
    /// By first day, then by tray.
    pub stays: Vec<Stay>,
    /// By sowing, then by lot.
    pub courses: Vec<Course>,
    /// Every tray's mark: `To 7`.
    pub marks: BTreeMap<TrayKey, String>,
    /// For trays that were moved on: those their plants come from, in order.
    pub origins: BTreeMap<TrayKey, Vec<TrayKey>>,
    /// Trays in which several lots stand.
    pub shared: BTreeMap<TrayKey, SharedTray>,
    /// How fewer trays would do for small lots.
    pub fewer: Vec<FewerTrays>,
    pub problems: Vec<Problem>,
    /// Of sowings that others are called like: which of them it is.
    pub alike: BTreeMap<SowingId, Alike>,
}

/// One of several sowings of one crop and variety.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Alike {
    /// From 1.
    pub at: usize,
    pub of: usize,
    /// The day it is sown, where no other of them is sown then.
    pub sown: Option<NaiveDate>,
}

impl Forecast {
    /// The stays that stand somewhere on that day.
    pub fn on(&self, date: NaiveDate) -> impl Iterator<Item = &Stay> {
        self.stays.iter().filter(move |stay| stay.span.contains(date))
    }

    pub fn courses_of(&self, sowing: SowingId) -> impl Iterator<Item = &Course> {
        let first = self.courses.partition_point(|course| course.sowing < sowing);
        self.courses.iter().skip(first).take_while(move |course| course.sowing == sowing)
    }

    /// All stays of one tray, by day.
    pub fn stays_of(&self, tray: TrayKey) -> impl Iterator<Item = &Stay> {
        self.stays.iter().filter(move |stay| stay.trays.contains(&tray))
    }

    /// The trays that its plants are moved on into.
    pub fn moved_on_from(&self, tray: TrayKey) -> Vec<TrayKey> {
        self.origins.iter().filter(|(_, parents)| parents.contains(&tray)).map(|(child, _)| *child).collect()
    }

    /// The day on which that is due of a sowing: of that lot, or of its first; of what leaves, the first day out that is
    /// not done with.
    pub fn due(
        &self,
        sowing: &Sowing,
        sight: Sight,
        (into, lot): (Option<StepId>, Option<LotId>),
    ) -> Option<NaiveDate> {
        let course = self.courses_of(sowing.id).find(|course| lot.is_none_or(|lot| course.lot == lot))?;
        // what happens several times is due where it was not seen yet
        let next = |is: fn(What) -> bool| {
            let of = || course.events.iter().filter(move |event| is(event.what));
            of().find(|event| event.why != Why::Seen).or_else(|| of().next_back()).map(|event| event.date)
        };
        match sight {
            Sight::Prepared => next(|what| matches!(what, What::Prepared(_))),
            Sight::Sown => course.date(What::Sown),
            Sight::Unstacked => course.date(What::Unstacked),
            Sight::Up => course.date(What::Up),
            Sight::TrueLeaves => course.date(What::Due),
            Sight::MovedOn => course.date(What::MovedOn(into?)),
            Sight::SpacedOut => next(|what| what == What::Spaced),
            Sight::HardeningBegun => next(|what| what == What::Hardening),
            Sight::NightOut => next(|what| what == What::FirstNightOut),
            Sight::PutOut | Sight::Sold => {
                let mut gone = sowing.gone();
                let mut out: Vec<_> = sowing.wanted.iter().map(|wanted| (wanted.date, wanted.plants)).collect();
                out.sort_unstable();
                let open = out.iter().find(|(_, plants)| {
                    let done = *plants <= gone;
                    gone = gone.saturating_sub(*plants);
                    !done
                });
                open.or(out.last()).map(|(date, _)| *date)
            }
            Sight::Lost | Sight::GappedUp | Sight::Grown => None,
        }
    }

    /// What may be written down of a sowing: what is done to some sowings alone, where it is done to this one.
    pub fn sights(&self, sowing: &Sowing) -> Vec<Sight> {
        let is_there = |sight: &Sight| !sight.is_of_some() || self.due(sowing, *sight, (None, None)).is_some();
        sowing.sights().filter(is_there).collect()
    }

    /// What is seen of it next: what is due first of that which was not seen yet, and not before what was seen last.
    pub fn next_sight(&self, sowing: &Sowing) -> Sight {
        let usual = sowing.next_sight();
        let last = sowing.seen.last().map(|seen| seen.date);
        let due = |sight: Sight| {
            let into = if sight == Sight::MovedOn { sowing.next_step() } else { None };
            let lots = sowing.lots.iter().map(|lot| Some(lot.id));
            lots.filter_map(|lot| self.due(sowing, sight, (into, lot))).max()
        };
        let Some(usual_on) = due(usual) else { return usual };
        let was = |sight: Sight| {
            let what = sight.observed(None, Loss::NotKnown, Grown::Right);
            sowing.seen.iter().any(|seen| Some(seen.what) == what)
        };
        let between = |sight: &Sight| {
            let may = match sight {
                Sight::Prepared => usual == Sight::Sown,
                Sight::Unstacked => usual == Sight::Up,
                _ => !matches!(usual, Sight::Sown | Sight::Up),
            };
            sight.is_of_some() && may && !was(*sight)
        };
        let found = Sight::ALL.into_iter().filter(between).filter_map(|sight| Some((due(sight)?, sight)));
        let first =
            found.filter(|(on, _)| *on <= usual_on && last.is_none_or(|last| last <= *on)).min_by_key(|(on, _)| *on);
        first.map_or(usual, |(_, sight)| sight)
    }

    /// The trays that a sowing shares, by day, with its part of each.
    pub fn shared_by(&self, sowing: SowingId) -> Vec<(TrayKey, &SharedPart)> {
        let parts = self.shared.iter().flat_map(|(tray, shared)| shared.parts.iter().map(|part| (*tray, part)));
        let mut own: Vec<_> = parts.filter(|(_, part)| part.sowing == sowing).collect();
        own.sort_by_key(|(tray, _)| self.stays_of(*tray).map(|stay| stay.span.from()).min());
        own
    }

    /// Whose plants stand in it, a shared tray's by row.
    pub fn sowings_in(&self, stay: &Stay) -> Vec<SowingId> {
        if let Some(sowing) = stay.sowing {
            return vec![sowing];
        }
        let mut all: Vec<SowingId> = Vec::new();
        for part in self.parts_during(stay) {
            if !all.contains(&part.sowing) {
                all.push(part.sowing);
            }
        }
        all
    }

    /// The same on one of its days: not of those that have left it, or come later.
    pub fn sowings_on(&self, stay: &Stay, day: NaiveDate) -> Vec<SowingId> {
        let shared = stay.tray().and_then(|tray| self.shared.get(&tray)).filter(|_| stay.sowing.is_none());
        let here: Vec<SowingId> = shared.into_iter().flat_map(|tray| tray.on(day)).map(|part| part.sowing).collect();
        let mut all = self.sowings_in(stay);
        if !here.is_empty() {
            all.retain(|sowing| here.contains(sowing));
        }
        all
    }

    /// Whether any of its plants are of that sowing.
    pub fn is_in(&self, sowing: SowingId, stay: &Stay) -> bool {
        match stay.sowing {
            Some(alone) => alone == sowing,
            None => self.parts_during(stay).any(|part| part.sowing == sowing),
        }
    }

    fn parts_during(&self, stay: &Stay) -> impl Iterator<Item = &SharedPart> {
        let shared = stay.tray().and_then(|tray| self.shared.get(&tray));
        let span = stay.span;
        let parts = shared.into_iter().flat_map(|tray| &tray.parts);
        parts.filter(move |part| part.from < span.until() && span.from() < part.until)
    }

    pub fn mark(&self, tray: TrayKey) -> &str {
        self.marks.get(&tray).map_or("?", String::as_str)
    }

    /// From the first stay's first day to the last one's last.
    pub fn span(&self) -> Option<DateSpan> {
        let from = self.stays.iter().map(|stay| stay.span.from()).min()?;
        let until = self.stays.iter().map(|stay| stay.span.until()).max()?;
        DateSpan::new(from, until).ok()
    }
}
