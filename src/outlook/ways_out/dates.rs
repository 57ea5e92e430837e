//! Work on other days: waiting in the cells, sowing, going out.

use chrono::NaiveDate;

use crate::forecast::{Course, Forecast, What};
use crate::season::{Delays, Library, Lot, LotId, Observed, OutRule, Rule, Season, Sowing, Step};
use crate::trade;
use crate::units::shifted;

use super::draft::Draft;
use super::way::{Change, Price};

/// No more days than these are looked at: beyond them it is another plan.
const MOST_HELD: i64 = 28;
const MOST_SOWN: i64 = 21;
const MOST_OUT: i64 = 21;
const MOST_OUTSIDE: u16 = 28;
/// In which it goes out.
const MOST_LOTS: u16 = 4;

pub(super) struct Dates<'a> {
    pub(super) season: &'a Season,
    pub(super) library: &'a Library,
    pub(super) forecast: &'a Forecast,
    pub(super) sowing: &'a Sowing,
    /// A number that nothing has, for a second lot.
    pub(super) fresh: u32,
}

impl Dates<'_> {
    /// Every other day, one after the other.
    pub(super) fn drafts(&self) -> Vec<Draft> {
        let mut all = Vec::new();
        for (index, step) in self.sowing.steps.iter().enumerate().skip(1) {
            all.extend(self.held(index, step));
        }
        all.extend(self.sown());
        all.extend(self.out());
        all.extend(self.hardened());
        all
    }

    fn course(&self) -> Option<&Course> {
        self.forecast.courses_of(self.sowing.id).next()
    }

    fn plants(&self) -> u64 {
        u64::from(self.sowing.plants_wanted())
    }

    fn was(&self, what: impl Fn(&Observed) -> bool) -> bool {
        self.sowing.seen.iter().any(|seen| what(&seen.what))
    }

    fn held(&self, index: usize, step: &Step) -> Vec<Draft> {
        let Some(course) = self.course() else { return Vec::new() };
        let before = index.checked_sub(1).and_then(|before| self.sowing.steps.get(before));
        let latest = before.and_then(|before| course.date(What::Latest(before.id)));
        let Some(from) = course.date(What::MovedOn(step.id)) else { return Vec::new() };
        if self.was(|what| *what == Observed::MovedOn(step.id)) {
            return Vec::new();
        }
        let most = latest.map_or(MOST_HELD, |latest| (latest - from).num_days().min(MOST_HELD));
        let mut all = Vec::new();
        for days in 1..=most {
            let to = shifted(from, days);
            if !self.season.is_away(to) {
                all.extend(self.held_until(index, step, (from, to), latest));
                all.extend(self.half_held(step, (from, to)));
            }
        }
        all
    }

    fn held_until(
        &self,
        index: usize,
        step: &Step,
        (from, to): (NaiveDate, NaiveDate),
        latest: Option<NaiveDate>,
    ) -> Option<Draft> {
        let mut sowing = self.sowing.clone();
        sowing.steps.get_mut(index)?.start = Rule::On(to);
        let days = u64::try_from((to - from).num_days()).ok()?;
        let change = Change::Held { sowing: sowing.id, step: step.id, from, to, latest };
        Some(Draft::of_sowing(change, sowing, Price { held: days * self.plants(), ..Price::default() }))
    }

    /// With a second lot of the same size.
    fn half_held(&self, step: &Step, (from, to): (NaiveDate, NaiveDate)) -> Option<Draft> {
        let days = u16::try_from((to - from).num_days()).ok()?;
        let sowing = self.halved(days, Delays::MovingOn)?;
        let held = u64::from(days) * self.plants() / 2;
        let change = Change::HeldHalf { sowing: sowing.id, step: step.id, from, to };
        Some(Draft::of_sowing(change, sowing, Price { held, ..Price::default() }))
    }

    fn halved(&self, later: u16, delays: Delays) -> Option<Sowing> {
        self.in_lots(2, later, delays)
    }

    /// In so many equal lots, each so many days after the one before.
    fn in_lots(&self, number: u16, apart: u16, delays: Delays) -> Option<Sowing> {
        let [only] = self.sowing.lots.as_slice() else { return None };
        if self.plants() < u64::from(number) || !self.sowing.seen.is_empty() {
            return None;
        }
        let mut sowing = self.sowing.clone();
        for at in 1..number {
            let id = LotId(self.fresh.saturating_add(u32::from(at)));
            let later = apart.saturating_mul(at);
            sowing.lots.push(Lot { share: only.share, later, delays, ..Lot::new(id) });
        }
        Some(sowing)
    }

    fn sown(&self) -> Vec<Draft> {
        let from = self.course().and_then(|course| course.date(What::Sown));
        let done = self.sowing.begun.is_some() || !self.sowing.seen.is_empty();
        let Some(from) = from.filter(|_| !done) else { return Vec::new() };
        let mut all = Vec::new();
        for days in (-MOST_SOWN..=MOST_SOWN).filter(|days| *days != 0) {
            let to = shifted(from, days);
            if self.season.is_away(to) {
                continue;
            }
            let moved = days.unsigned_abs() * self.plants();
            let mut sowing = self.sowing.clone();
            if let Some(first) = sowing.steps.first_mut() {
                first.start = Rule::On(to);
            }
            let change = Change::Sown { sowing: sowing.id, from, to };
            all.push(Draft::of_sowing(change, sowing, Price { sown: moved, ..Price::default() }));
            let half = u16::try_from(days).ok().and_then(|later| self.halved(later, Delays::Sowing));
            all.extend(half.map(|sowing| {
                let change = Change::SownHalf { sowing: sowing.id, from, to };
                Draft::of_sowing(change, sowing, Price { sown: moved / 2, ..Price::default() })
            }));
        }
        all
    }

    fn out(&self) -> Vec<Draft> {
        let [wanted] = self.sowing.wanted.as_slice() else { return Vec::new() };
        if self.was(|what| matches!(what, Observed::PutOut(_) | Observed::Sold(_))) {
            return Vec::new();
        }
        let from = wanted.date;
        let mut all = Vec::new();
        for days in (-MOST_OUT..=MOST_OUT).filter(|days| *days != 0) {
            let to = shifted(from, days);
            if self.season.is_away(to) {
                continue;
            }
            let moved = days.unsigned_abs() * self.plants();
            let mut sowing = self.kept_sown();
            if let Some(wanted) = sowing.wanted.first_mut() {
                (wanted.date, wanted.rule) = (to, OutRule::Day);
            }
            let change = Change::Out { sowing: sowing.id, from, to };
            all.push(Draft::of_sowing(change, sowing, Price { out: moved, ..Price::default() }));
            all.extend(u16::try_from(days).ok().into_iter().flat_map(|apart| self.out_in_lots(from, apart)));
        }
        all
    }

    fn out_in_lots(&self, from: NaiveDate, apart: u16) -> Vec<Draft> {
        let lots = |number: u16| {
            let sowing = self.in_lots(number, apart, Delays::Out)?;
            // the second lot waits once, the third twice
            let waits = u64::from(number - 1) * u64::from(apart) * self.plants() / 2;
            let change = Change::OutInLots { sowing: sowing.id, from, lots: number, apart };
            Some(Draft::of_sowing(change, sowing, Price { out: waits, ..Price::default() }))
        };
        (2..=MOST_LOTS).filter_map(lots).collect()
    }

    /// Outside by so many days sooner; whether its nights are safe then is for the forecast to say.
    fn hardened(&self) -> Vec<Draft> {
        let crop = self.season.crop(self.library, &self.sowing.crop);
        let from = self.course().and_then(|course| course.date(What::Hardening));
        let (Some(crop), Some(from)) = (crop, from) else { return Vec::new() };
        let usual = trade::hardening_days(crop, self.sowing).days;
        if usual == 0 || self.was(|what| matches!(what, Observed::PutOut(_) | Observed::Sold(_))) {
            return Vec::new();
        }
        let sooner = |days: u16| {
            let to = shifted(from, -i64::from(days));
            let sowing = Sowing { harden_days: Some(usual.saturating_add(days)), ..self.sowing.clone() };
            let change = Change::Hardened { sowing: sowing.id, from, to, nights: to };
            let outside = u64::from(days) * self.plants();
            Draft::of_sowing(change, sowing, Price { outside, ..Price::default() })
        };
        (1..=MOST_OUTSIDE).map(sooner).collect()
    }

    /// Sown when it was to be, though the day out moves.
    fn kept_sown(&self) -> Sowing {
        let mut sowing = self.sowing.clone();
        let sown = self.course().and_then(|course| course.date(What::Sown));
        if let (Some(sown), Some(first)) = (sown, sowing.steps.first_mut()) {
            first.start = Rule::On(sown);
        }
        sowing
    }
}
