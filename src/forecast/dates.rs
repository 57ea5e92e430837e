//! The dates of one lot, each with its reason.

use chrono::NaiveDate;

use crate::season::{Crop, Library, Lot, LotId, Observation, Observed, OutRule, Rule, Season, Sowing};
use crate::trade::{self, Germination};

use super::away::{bend, nobody_there, sowing_slack, step_slack};
use super::clock::{Clock, Tick};
use super::course::{Event, SowCount, What, Why};
use super::hardening::{HardeningDays, Hardens, SeenBefore, SeenOutside, hardening_places};
use super::late::Late;
use super::plan::Plan;
use super::problem::Problem;
use super::ready::{Going, hardened_short, may_be_sown, not_rooted, too_young};
use super::records::{days_seen, is_behind, leaving_days, seen_out, still_to_go};
use super::scenario::{Interval, Scenario};
use super::starts::{InTime, moved_on, sown_on};
use crate::units::shifted;

/// The days on which a lot changes its place or container.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Dates {
    /// Growth counts from here: before the first start where the plants stood there already.
    pub(super) sown: NaiveDate,
    /// Start of each step, in order; the first is the sowing.
    pub(super) starts: Vec<NaiveDate>,
    pub(super) up: NaiveDate,
    /// The first of them are: a stack is taken apart then.
    pub(super) first_up: NaiveDate,
    pub(super) out: NaiveDate,
    /// How many go on which day, in order: those that went, then those that are to go.
    pub(super) leaving: Vec<(NaiveDate, u32)>,
    /// A late frost lets nobody out before it is over.
    pub(super) kept_until: Option<NaiveDate>,
    /// The first night on which the last frost lets it stay outside.
    pub(super) nights_from: Option<NaiveDate>,
    /// The day on which a stack of its trays is taken apart.
    pub(super) apart: Option<NaiveDate>,
    /// The days on which its pots were seen to be spaced out.
    pub(super) spaced_out: Vec<NaiveDate>,
    pub(super) outside: SeenOutside,
}

/// Plants that are ready no more days than these before they go out are not told: our choice, no source.
const READY_EARLY_DAYS: i64 = 7;

/// The chance that a cell of so many seeds, of which so many come up, gives a plant that goes out.
pub(super) fn success(sowing: &Sowing, germination: Germination, seeds: u8) -> f64 {
    let losses = f64::from(sowing.losses_percent) / 100.0;
    trade::cell_success(f64::from(germination.percent) / 100.0, seeds, losses)
}

/// Cells to sow for so many plants of this sowing, of whose seed so many come up.
pub(super) fn sow_count(season: &Season, sowing: &Sowing, germination: Germination, plants: u32) -> SowCount {
    let success = success(sowing, germination, sowing.seeds_per_cell);
    let sure_percent = season.settings().sure_percent;
    let on_average = trade::cells_on_average(plants, success).unwrap_or(plants);
    let chance = f64::from(sure_percent) / 100.0;
    // sown again at the rate that was seen: few seeds say little about it
    let sure_of = match sowing.germination_from.filter(|_| sowing.again_of.is_some()) {
        Some(counted) => {
            let least = trade::least_rate(counted.up, counted.sown, chance);
            trade::cell_success(least, sowing.seeds_per_cell, f64::from(sowing.losses_percent) / 100.0).min(success)
        }
        None => success,
    };
    let sure = trade::cells_sure(plants, sure_of, chance).unwrap_or(on_average);
    SowCount { on_average, sure, sure_percent, germination }
}

/// Works the dates of one lot out, forwards and backwards, and lists what does not add up. Scenario
/// says which of the days that a crop may take it takes.
pub(super) fn dates(
    plan: Plan<'_>,
    lot: &Lot,
    scenario: &Scenario,
    problems: &mut Vec<Problem>,
) -> Option<(Dates, Vec<Event>)> {
    let Plan { season, library, crop, sowing, course } = plan;
    let first_out = sowing.wanted.iter().map(|wanted| wanted.date).min()?;
    let planned = sown_on(crop, sowing, course, first_out)?;
    let slack = |date| sowing_slack(crop, sowing, date, first_out);
    let bent = if is_behind(sowing, 0) {
        planned
    } else {
        bend(season, sowing, What::Sown, planned, slack(planned.0), problems)
    };
    let late = Late::of(sowing, lot);
    let (sown, why) = if late.sown > 0 {
        let later = (shifted(planned.0, i64::from(late.sown)), Why::LaterLot(late.sown));
        bend(season, sowing, What::Sown, later, slack(later.0), problems)
    } else {
        bent
    };
    let begun = sowing.begun.map(|begun| begun.on);
    let first = begun.unwrap_or(sown);
    let what = if begun.is_some() { What::Begun } else { What::Sown };
    // what was seen was seen of the first lot: a later one follows in the same time
    let clock = Clock::of(season, library, crop, sowing, bent.0, scenario, problems).later((sown - bent.0).num_days());
    let mut working = Working {
        season,
        library,
        crop,
        sowing,
        lot: lot.id,
        first_out: shifted(first_out, i64::from(late.out)),
        late,
        sown,
        clock,
        events: vec![Event { what, date: first, range: None, why }],
        problems,
    };
    working.prepare();
    let apart = working.come_up();
    let days_until_due = scenario.of(&crop.moving_on.value.days, &crop.key, sowing.id, Interval::Leaves);
    let starts = working.starts(first, days_until_due);
    let last = starts.last().copied().unwrap_or(first);
    let kept_until = kept_until(season, crop, scenario);
    let leaving = leaving_days(sowing, late.out);
    let out = working.out(&leaving, last, kept_until)?;
    working.held_too_long(&starts, out);
    let nights_from = season.settings().frost.as_ref().and_then(|frost| trade::nights_from(crop, frost));
    let nights_from = nights_from.map(|date| shifted(date, scenario.frost_days()));
    let outside = working.harden(&leaving, last, out, nights_from);
    if scenario.is_none() {
        working.ready(plan, &starts, &outside);
    }
    working.flower();
    working.leave();
    let Working { mut events, clock, .. } = working;
    events.sort_by_key(|event| event.date);
    let (up, first_up) = (clock.up.date, clock.up.first());
    let spaced_out = days_seen(sowing, lot.id, Observed::SpacedOut);
    let dates = Dates { sown, starts, up, first_up, out, leaving, kept_until, nights_from, apart, spaced_out, outside };
    Some((dates, events))
}

/// One lot's dates while they are worked out.
struct Working<'a> {
    season: &'a Season,
    library: &'a Library,
    crop: &'a Crop,
    sowing: &'a Sowing,
    lot: LotId,
    first_out: NaiveDate,
    late: Late,
    sown: NaiveDate,
    clock: Clock,
    events: Vec<Event>,
    problems: &'a mut Vec<Problem>,
}

impl Working<'_> {
    fn event(&mut self, what: What, date: NaiveDate, why: Why) {
        self.events.push(Event { what, date, range: None, why });
    }

    fn tick(&mut self, what: What, tick: Tick) {
        self.events.push(Event { what, date: tick.date, range: tick.range, why: tick.why });
    }

    /// The day on which that was seen of what is sown when this lot is: the first record is of what is sown first.
    fn seen_in_turn(&self, what: Observed) -> Option<NaiveDate> {
        let mut sooner: Vec<u16> = self.sowing.lots.iter().map(|lot| Late::of(self.sowing, lot).sown).collect();
        sooner.retain(|days| *days < self.late.sown);
        sooner.sort_unstable();
        sooner.dedup();
        days_seen(self.sowing, self.lot, what).get(sooner.len()).copied()
    }

    /// Seed that is soaked or chilled before it is sown.
    fn prepare(&mut self) {
        let days = trade::days_before_sowing(&self.crop.before_sowing).filter(|_| self.sowing.begun.is_none());
        if let Some((days, step)) = days.zip(self.sowing.steps.first()) {
            let (date, why) = match self.seen_in_turn(Observed::Prepared) {
                Some(date) => (date, Why::Seen),
                None => (shifted(self.sown, -i64::from(days)), Why::CropDays),
            };
            self.event(What::Prepared(step.id), date, why);
        }
    }

    /// The day on which a stack is taken apart.
    fn come_up(&mut self) -> Option<NaiveDate> {
        let up = self.clock.up;
        let apart = self.sowing.stack.filter(|_| trade::may_be_stacked(self.crop)).map(|stack| {
            // what is up wants light, however long the stack was to stand
            let date = shifted(self.sown, i64::from(stack.days));
            let first = up.first();
            match self.seen_in_turn(Observed::Unstacked) {
                Some(date) => (date, Why::Seen),
                None if first < date => (first, up.why),
                None => (date, Why::StackDays(stack.days)),
            }
        });
        if let Some((date, why)) = apart {
            self.event(What::Unstacked, date, why);
        }
        // What was over by then is not told again.
        if self.sowing.begun.is_none_or(|begun| up.date > begun.on) {
            self.tick(What::Up, up);
        }
        apart.map(|(date, _)| date)
    }

    /// The start of each step, in order; the first is given.
    fn starts(&mut self, first: NaiveDate, days_until_due: u16) -> Vec<NaiveDate> {
        let Self { season, library, crop, sowing, lot, sown, first_out, late, .. } = *self;
        let due = self.clock.due;
        let mut starts = vec![first];
        for (index, step) in sowing.steps.iter().enumerate().skip(1) {
            let before = starts.last().copied().unwrap_or(first);
            let (date, why) =
                moved_on(crop, sowing, (lot, late), (index, step), (sown, before, first_out), (due, days_until_due));
            let overdue = sowing.begun.is_some_and(|begun| date <= begun.on)
                && index == 1
                && step.start == Rule::WhenDue
                && why != Why::Seen;
            let (date, why) = if overdue { (shifted(before, 1), Why::DueAlready) } else { (date, why) };
            let by_leaves = step.start == Rule::WhenDue && !overdue && why != Why::Seen && late.moved_on == 0;
            let to_root = (by_leaves && index + 1 == sowing.steps.len()).then(|| {
                let earliest = due.range.filter(|_| index == 1).map(|(early, _)| early);
                InTime::of(crop, date, earliest, first_out)
            });
            let slack = step_slack(season, library, crop, sowing, index, (sown, date));
            let (date, why) = to_root.map_or((date, why), |days| days.moved_on(date, why));
            let slack = to_root.filter(|_| step.slack.is_none()).map_or(slack, |days| days.slack(slack, date));
            let (date, why) = if is_behind(sowing, index) {
                (date, why)
            } else {
                bend(season, sowing, What::MovedOn(step.id), (date, why), slack, self.problems)
            };
            if index == 1 && !overdue {
                self.tick(What::Due, due);
                if why != Why::Seen && date < due.range.map_or(due.date, |(early, _)| early) {
                    let (step, sow_earlier) = (step.id, may_be_sown(sowing));
                    let problem = Problem::MovedEarly { sowing: sowing.id, step, due: due.date, date, sow_earlier };
                    self.problems.push(problem);
                }
            }
            if date <= before {
                self.problems.push(Problem::OutOfOrder { sowing: sowing.id, step: step.id, date, not_before: before });
            }
            let date = date.max(shifted(before, 1));
            let range = (index == 1 && why == due.why).then_some(due.range).flatten();
            self.events.push(Event { what: What::MovedOn(step.id), date, range, why });
            starts.push(date);
        }
        starts
    }

    /// The day on which the last of them leaves.
    fn out(
        &mut self,
        leaving: &[(NaiveDate, u32)],
        last: NaiveDate,
        kept_until: Option<NaiveDate>,
    ) -> Option<NaiveDate> {
        let Self { season, crop, sowing, first_out, .. } = *self;
        let planned = shifted(sowing.out()?, i64::from(self.late.out));
        let seen = seen_out(sowing);
        let out = seen.unwrap_or_else(|| kept_until.map_or(planned, |frost| planned.max(frost)));
        if seen.is_none() {
            let work = What::Out { plants: sowing.plants_wanted() };
            self.problems.extend(nobody_there(season, sowing, work, planned));
        }
        let days = leaving.iter().map(|(date, _)| *date).chain([out]);
        if let (Some(date), Some(step)) = (days.min().filter(|date| *date <= last), sowing.steps.last()) {
            self.problems.push(Problem::OutOfOrder { sowing: sowing.id, step: step.id, date, not_before: last });
        }
        let old_enough = shifted(self.sown, 7 * i64::from(trade::weeks_until_ready(crop, sowing.is_to_sell()).1));
        let rooted = shifted(last, i64::from(trade::rooting_days(crop)));
        let ready = if sowing.steps.len() > 1 { old_enough.max(rooted) } else { old_enough };
        if (first_out - ready).num_days() > READY_EARLY_DAYS && sowing.begun.is_none() && seen.is_none() {
            self.problems.push(Problem::ReadyEarly { sowing: sowing.id, ready, out: first_out });
        }
        Some(out.max(shifted(last, 1)))
    }

    /// The latest day for the container of each step.
    fn held_too_long(&mut self, starts: &[NaiveDate], out: NaiveDate) {
        let sowing = self.sowing;
        for (index, step) in sowing.steps.iter().enumerate() {
            let until = starts.get(index + 1).copied().unwrap_or(out);
            let Some(container) = self.season.container(self.library, &step.container) else { continue };
            let Some(days) = trade::latest_days(self.crop, container) else { continue };
            let latest = shifted(self.sown, i64::from(days));
            let weeks = u8::try_from(days / 7).ok().filter(|_| days % 7 == 0);
            let why = weeks.map_or(Why::LatestDays(days), Why::LatestWeeks);
            self.event(What::Latest(step.id), latest, why);
            if until > latest {
                self.problems.push(Problem::HeldTooLong {
                    sowing: sowing.id,
                    step: step.id,
                    latest,
                    until,
                    instead: None,
                });
            }
        }
    }

    /// Before each day on which some of them leave; what was seen of that.
    fn harden(
        &mut self,
        leaving: &[(NaiveDate, u32)],
        last: NaiveDate,
        out: NaiveDate,
        nights_from: Option<NaiveDate>,
    ) -> SeenOutside {
        let places = hardening_places(self.season);
        let rule = trade::hardening_days(self.crop, self.sowing);
        let mut days: Vec<NaiveDate> =
            leaving.iter().map(|(date, _)| (*date).min(out).max(shifted(last, 1))).chain([out]).collect();
        days.sort_unstable();
        days.dedup();
        let outside = SeenOutside {
            hardening: days_seen(self.sowing, self.lot, Observed::HardeningBegun),
            nights: days_seen(self.sowing, self.lot, Observed::NightOut),
            outs: days,
        };
        for out in outside.outs.iter().copied() {
            let seen = outside.before(out);
            let hardens = Hardens { crop: self.crop, rule, last_start: last, out, nights_from, seen };
            let Some(hardening) = hardens.in_places(&places) else { continue };
            let why = match self.sowing.harden_days {
                _ if seen.from == Some(hardening.from) => Why::Seen,
                _ if hardening.waits_for_place => Why::PlaceOpens,
                Some(days) if hardening.from == shifted(out, -i64::from(days)) => Why::DaysBeforeOut(days),
                _ => Why::CropDays,
            };
            self.event(What::Hardening, hardening.from, why);
            if hardening.first_night < out {
                let why = match seen.night {
                    Some(night) if night == hardening.first_night => Why::Seen,
                    _ if hardening.waits_for_frost => Why::LastFrost,
                    _ => Why::CropDays,
                };
                self.event(What::FirstNightOut, hardening.first_night, why);
            }
            self.nobody_hardens(hardening, seen, out);
        }
        outside
    }

    /// Nobody is there when it is to begin, or to stay out at night. What was done, or is behind what was, is not told.
    fn nobody_hardens(&mut self, hardening: HardeningDays, seen: SeenBefore, out: NaiveDate) {
        let Self { season, sowing, .. } = *self;
        let went =
            |seen: &Observation| matches!(seen.what, Observed::PutOut(_) | Observed::Sold(_)).then_some(seen.date);
        if sowing.seen.iter().filter_map(went).max().is_some_and(|last| out <= last) || seen.night.is_some() {
            return;
        }
        let begins = (What::Hardening, hardening.from);
        let stays_out = (What::FirstNightOut, hardening.first_night);
        let work = [begins].into_iter().filter(|_| seen.from.is_none());
        let work = work.chain([stays_out].into_iter().filter(|(_, night)| *night < out));
        self.problems.extend(work.filter_map(|(what, date)| nobody_there(season, sowing, what, date)));
    }

    /// When those that are sold in flower are in flower.
    fn flower(&mut self) {
        let Some((low, high)) = self.crop.weeks_to_sale.as_ref().map(|weeks| weeks.value) else { return };
        let [from, until] = [low, high].map(|weeks| shifted(self.sown, 7 * i64::from(weeks)));
        let why = Why::WeeksToFlower { low, high };
        self.events.push(Event { what: What::InFlower, date: from, range: Some((from, until)), why });
    }

    /// Whether those that are still to go are old enough, rooted through and hardened off.
    fn ready(&mut self, plan: Plan<'_>, starts: &[NaiveDate], outside: &SeenOutside) {
        let due = self.clock.due;
        let leaves = due.range.map_or(due.date, |(early, _)| early);
        let places = hardening_places(self.season);
        let going = |out| Going { sown: self.sown, starts, leaves, out };
        let to_go = still_to_go(self.sowing, self.late.out);
        let Some(first) = to_go.first().map(|wanted| going(wanted.date)) else { return };
        let too_young = to_go.iter().find_map(|wanted| too_young(plan, self.sown, wanted));
        let not_rooted = (1..starts.len()).filter_map(|index| not_rooted(plan, first, index));
        let hardened = to_go
            .iter()
            .filter_map(|wanted| hardened_short(plan, &places, going(wanted.date), outside.before(wanted.date)));
        let found = too_young.into_iter().chain(not_rooted).chain(hardened);
        self.problems.extend(found.map(|why| Problem::NotReady { sowing: plan.sowing.id, why }));
    }

    fn leave(&mut self) {
        let seen = seen_out(self.sowing).is_some();
        for wanted in &self.sowing.wanted {
            let why = match wanted.rule {
                _ if seen => Why::Seen,
                _ if self.late.out > 0 => Why::LaterLot(self.late.out),
                OutRule::Day => Why::Set,
                rule => Why::Out(rule),
            };
            let date = shifted(wanted.date, if seen { 0 } else { i64::from(self.late.out) });
            self.event(What::Out { plants: wanted.plants }, date, why);
        }
    }
}

/// The day on which a frost later than the season reckons with is over, for a crop that it kills.
fn kept_until(season: &Season, crop: &Crop, scenario: &Scenario) -> Option<NaiveDate> {
    let frost = season.settings().frost.as_ref().filter(|_| scenario.frost_days() > 0 && trade::is_tender(crop))?;
    Some(shifted(frost.date, scenario.frost_days()))
}
