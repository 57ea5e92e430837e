//! From a layout and its proofs to verdicts by day, crunches and problems.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::fit::{self, Cancel, Cancelled, Memory, Progress};
use crate::forecast::{Forecast, Problem};
use crate::season::{Season, TrayKey};
use crate::units::DateSpan;

use super::answer::{Crunch, Effort, Keep, Outlook, ProblemHash, Reason, Verdict};
use super::proof::Proof;
use super::question::{Joined, Question, ask, date_of, day_number};
use super::room::{NoGround, Room};
use super::run::Run;
use super::view::View;

/// Holds the season's needs against its shelves.
///
/// What `memory` holds of questions asked before makes the answer come sooner, and never changes it.
///
/// Judges what could stand where, not where things stand now: [`super::layout_problems`] does that.
///
/// # Errors
/// [`Cancelled`] when the work is no longer wanted.
pub fn look_ahead(
    season: &Season,
    forecast: &Forecast,
    keep: Keep,
    effort: Effort,
    memory: &mut Memory,
    progress: &Progress,
    cancel: &Cancel,
) -> Result<Outlook, Cancelled> {
    let room = Room::of(season);
    let by_day = ask(season, forecast, &room, Joined::WhereGroundIsTheSame, keep);
    let problem = hash(&by_day, effort);
    // one spot for as long as one will do; if that works out, nobody moves
    let steady = ask(season, forecast, &room, Joined::WhereOneSpotDoes, keep);
    let answer = memory.solve(&steady.problem, effort.0, progress, cancel)?;
    let (question, answer) = if answer.is_fit() {
        (steady, answer)
    } else {
        let mut question = by_day;
        wish_for(&steady, &answer, &mut question);
        let answer = memory.solve(&question.problem, effort.0, progress, cancel)?;
        (question, answer)
    };
    let view = View::new(season, forecast, &room, &question, &answer);
    let (mut runs, mut lamps) = (Vec::new(), BTreeMap::new());
    for run in &answer.days {
        cancel.check()?;
        for days in view.cuts(run.days) {
            view.judge(run, days, &mut lamps, &mut runs);
        }
    }
    let weeks = view.weeks(&runs, cancel)?;
    let crunches = view.crunches(&runs);
    let verdict = runs.iter().map(|run| run.verdict).max().unwrap_or(Verdict::Fits);
    Ok(Outlook {
        problem,
        verdict,
        weeks,
        crunches,
        problems: view.problems(&runs),
        layout: question.spots(season, forecast, &answer.layout),
        moves: answer.layout.moves() + view.turned_out(&answer.layout),
        no_spot: view.no_spot(),
    })
}

/// The hash that [`look_ahead`] would answer under with the default effort, without the work.
pub fn problem_hash(season: &Season, forecast: &Forecast, keep: Keep) -> ProblemHash {
    let room = Room::of(season);
    hash(&ask(season, forecast, &room, Joined::WhereGroundIsTheSame, keep), Effort::default())
}

fn hash(question: &Question, effort: Effort) -> ProblemHash {
    ProblemHash(question.problem.hash_stable() ^ u128::from(effort.0))
}

/// Items of the finer question wish for the spots that the coarser one found.
fn wish_for(steady: &Question, answer: &fit::Answer, question: &mut Question) {
    let mut found: BTreeMap<(TrayKey, usize), Vec<(i32, fit::Spot)>> = BTreeMap::new();
    for (item, spots) in steady.items.iter().zip(&answer.layout.spots) {
        for part in &item.parts {
            found.entry((item.tray, part.stay)).or_default().extend(spots.iter().copied());
        }
    }
    for (item, question) in question.items.iter().zip(&mut question.problem.items) {
        let Some(part) = item.parts.first() else { continue };
        let day = day_number(part.span.from());
        let spot = found.get(&(item.tray, part.stay)).and_then(|spots| {
            spots.iter().rev().find(|(from, _)| *from <= day).or(spots.first()).map(|(_, spot)| *spot)
        });
        question.wish = spot.filter(|_| question.pinned.is_none()).or(question.wish);
    }
}

impl View<'_> {
    fn judge(&self, run: &fit::DayVerdict, days: fit::Days, lamps: &mut BTreeMap<[i64; 4], i64>, runs: &mut Vec<Run>) {
        let Ok(span) = DateSpan::new(date_of(days.from), date_of(days.until)) else { return };
        let day = days.from;
        for &pool in &self.pools {
            let present = self.present(pool, day);
            if present.is_empty() {
                continue;
            }
            let out: Vec<usize> =
                present.iter().copied().filter(|&item| self.answer.layout.spot_on(item, day).is_none()).collect();
            let crunch = if out.is_empty() { None } else { self.prove(pool, &present, run, day) };
            let verdict = match (&crunch, out.is_empty()) {
                (_, true) => Verdict::Fits,
                (Some(_), false) => Verdict::Crunch,
                (None, false) => Verdict::Unsettled,
            };
            let needed = self.weight_of(&present, span.from());
            let out = self.weight_of(&out, span.from());
            let size = self.commonest(&present, span.from());
            let lit = size.and_then(|size| self.lit(pool, &size, span.from(), lamps));
            let over_lit = lit.map_or(0, |lit| self.wants_light(&present, span.from()).saturating_sub(lit));
            runs.push(Run { span, pool, verdict, needed, out, lit, over_lit, crunch });
        }
    }

    fn crunches(&self, runs: &[Run]) -> Vec<Crunch> {
        let mut crunches: Vec<(Crunch, Vec<&Run>)> = Vec::new();
        let mut sorted: Vec<&Run> = runs.iter().filter(|run| run.crunch.is_some()).collect();
        sorted.sort_by_key(|run| (run.crunch.as_ref().map(|proof| proof.pool), run.span, run.pool));
        for run in sorted {
            let Some(proof) = &run.crunch else { continue };
            let follows = crunches
                .last_mut()
                .filter(|(crunch, _)| crunch.pool.kind == proof.pool && crunch.span.until() >= run.span.from());
            if let Some((crunch, runs)) = follows {
                crunch.span = DateSpan::new(crunch.span.from(), run.span.until()).unwrap_or(crunch.span);
                if proof.short() > crunch.short {
                    set_worst(crunch, run, proof);
                }
                runs.push(run);
            } else {
                let mut crunch = Crunch {
                    span: run.span,
                    worst_day: run.span.from(),
                    pool: self.pool(proof.pool),
                    needed: 0,
                    held: 0,
                    short: 0,
                    short_at_most: 0,
                    proof: Vec::new(),
                    reason: Reason::NoShelf,
                };
                set_worst(&mut crunch, run, proof);
                crunches.push((crunch, vec![run]));
            }
        }
        let mut crunches: Vec<Crunch> = crunches
            .into_iter()
            .map(|(mut crunch, runs)| {
                let out = runs.iter().filter(|run| run.span.from() == crunch.worst_day).map(|run| run.out).sum();
                crunch.short_at_most = self.fewest_out(&crunch.proof, crunch.worst_day, out).max(crunch.short);
                crunch
            })
            .collect();
        crunches.sort_by_key(|crunch| (crunch.span, crunch.pool.kind));
        crunches
    }

    /// So many of the proof's trays at most must leave that day: what the layout leaves out, or a
    /// packing of the day alone does.
    fn fewest_out(&self, proof: &[TrayKey], date: NaiveDate, out: u32) -> u32 {
        let day = day_number(date);
        let placed: BTreeSet<usize> =
            fit::pack_most(&self.question.problem, day, 200_000).into_iter().map(|(item, _)| item).collect();
        let concerned = |item: &usize| {
            self.question.items.get(*item).is_some_and(|item| proof.contains(&item.tray))
                && self.question.problem.items.get(*item).is_some_and(|item| item.days().contains(day))
        };
        let left: Vec<usize> =
            (0..self.question.items.len()).filter(concerned).filter(|item| !placed.contains(item)).collect();
        self.weight_of(&left, date).min(out)
    }

    fn no_spot(&self) -> Vec<(TrayKey, DateSpan)> {
        let mut without = Vec::new();
        for (number, (item, question)) in self.question.items.iter().zip(&self.question.problem.items).enumerate() {
            let days = question.days();
            let found = self.answer.layout.spots.get(number).and_then(|spots| spots.first());
            let until = found.map_or(days.until, |(from, _)| *from);
            without.extend(DateSpan::new(date_of(days.from), date_of(until)).ok().map(|span| (item.tray, span)));
        }
        without.sort_by_key(|(tray, span)| (span.from(), *tray));
        without
    }

    /// Trays that change their spot where one would have done.
    fn turned_out(&self, layout: &fit::Layout) -> usize {
        let mut last: BTreeMap<TrayKey, (DateSpan, fit::Spot)> = BTreeMap::new();
        let mut moves = 0;
        for (number, item) in self.question.items.iter().enumerate() {
            let (Some(first), Some(end)) = (item.parts.first(), item.parts.last()) else { continue };
            let spots = layout.spots.get(number);
            let Some(&(_, opening)) = spots.and_then(|spots| spots.first()) else { continue };
            let Some(&(_, closing)) = spots.and_then(|spots| spots.last()) else { continue };
            if let Some((before, spot)) = last.get(&item.tray) {
                let still = regions_of(self.question, number).iter().any(|region| {
                    region.shelf == spot.shelf
                        && self
                            .question
                            .problem
                            .items
                            .get(number)
                            .is_some_and(|item| item.phases.iter().all(|phase| region.rect.holds(spot.rect(phase))))
                });
                if before.until() == first.span.from() && *spot != opening && still {
                    moves += 1;
                }
            }
            last.insert(item.tray, (end.span, closing));
        }
        moves
    }

    /// What the grower should look at beside the crunches.
    fn problems(&self, runs: &[Run]) -> Vec<Problem> {
        let mut problems = Vec::new();
        let mut told: BTreeSet<TrayKey> = BTreeSet::new();
        for item in &self.question.items {
            for part in &item.parts {
                let Some(stay) = self.forecast.stays.get(part.stay) else { continue };
                let Some(why) = self.room.no_ground(stay, part.span) else { continue };
                let day = part.span.from();
                if !told.insert(item.tray) {
                    continue;
                }
                problems.push(match why {
                    NoGround::NoPlace => Problem::NoPlaceFor { role: stay.needs.role, span: part.span },
                    NoGround::TooLow { tallest, .. } => {
                        Problem::TooTall { tray: item.tray, day, needs: stay.height, tallest }
                    }
                    NoGround::TooLarge => {
                        Problem::TooLarge { tray: item.tray, width: stay.shape.width(), depth: stay.shape.depth() }
                    }
                });
            }
        }
        problems.dedup();
        problems.extend(beyond_lamps(runs));
        problems
    }
}

fn beyond_lamps(runs: &[Run]) -> Option<Problem> {
    let dark = || runs.iter().filter(|run| run.over_lit > 0);
    let (first, last) = (dark().next()?, dark().next_back()?);
    Some(Problem::BeyondLamps {
        span: DateSpan::new(first.span.from(), last.span.until()).ok()?,
        most: dark().map(|run| run.over_lit).max()?,
        days: u32::try_from(dark().map(|run| run.span.days()).sum::<i64>()).unwrap_or(u32::MAX),
    })
}

fn regions_of(question: &Question, item: usize) -> &[fit::Region] {
    question.problem.items.get(item).map_or(&[], |item| &item.regions)
}

fn set_worst(crunch: &mut Crunch, run: &Run, proof: &Proof) {
    crunch.worst_day = run.span.from();
    crunch.needed = proof.needed;
    crunch.held = proof.held;
    crunch.short = proof.short();
    crunch.proof.clone_from(&proof.trays);
    crunch.reason = proof.reason.clone();
}
