//! What a solver keeps from one question to the next.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;

use super::edited::{Asked, solve_edited};
use super::one_part::solve_part;
use super::pairs::{Grounds, Pairs};
use super::parts::{Part, apart, largest_first, merged};
use crate::fit::answer::Answer;
use crate::fit::check::check;
use crate::fit::problem::Problem;
use crate::fit::proof::prover::{Learned, Prover};
use crate::fit::work::{Cancel, Cancelled, Progress};

/// Answers that no question of the last few used are forgotten.
const KEPT_FOR: u64 = 4;
/// Smaller parts are solved anew: soon enough, and to the end.
const LEAST_EDITED: usize = 40;
/// If one of so many items is another, all is solved anew.
const MOST_EDITED: usize = 4;

/// Spots for all items over their days, and a verdict for every day.
///
/// The budget counts looks at obstacles while searching, some hundred million a second, for each
/// part of the problem that has nothing to do with the others; the first pass is always finished.
/// Same problem and same budget: same answer.
///
/// # Errors
/// [`Cancelled`] once the work is no longer wanted.
pub fn solve(problem: &Problem, budget: u64, progress: &Progress, cancel: &Cancel) -> Result<Answer, Cancelled> {
    Memory::default().solve(problem, budget, progress, cancel)
}

/// Answers to the parts of questions asked before, so that after an edit only parts that it touches are solved
/// again. What is kept never changes an answer, only how soon it comes.
///
/// One that is [`mending`](Self::mending) also answers a part by one that was much like it: whoever stood stays where it
/// was, and only days that changed are looked at. Which spots those are then hangs on what was asked before; what is
/// known of a day does not:
/// - a crunch, and its proof, is the one that solving anew finds, and no day is ever called otherwise than it is; a day on
///   which nothing could be proven isn't asked again while there is less on it;
/// - room is made on a few shelves, with a small part of the work that all took: a day may be left open that solving anew
///   settles, or fit where that leaves it open;
/// - but in a season of a few hundred items of which each day was settled, so is each day after an edit, or all of it is
///   solved anew.
///
/// A clone shares nothing with it.
#[derive(Debug, Default)]
pub struct Memory {
    answers: BTreeMap<Key, Kept>,
    questions: u64,
    threads: Option<NonZero<usize>>,
    mends: bool,
    /// Taken by whoever comes first; the others learn it themselves.
    learned: Mutex<Learned>,
}

impl Clone for Memory {
    fn clone(&self) -> Self {
        let Self { ref answers, questions, threads, mends, .. } = *self;
        Self { answers: answers.clone(), questions, threads, mends, learned: Mutex::new(self.learned().clone()) }
    }
}

#[derive(Clone, Debug)]
struct Kept {
    problem: Arc<Problem>,
    found: Found,
    used: u64,
}

/// A part's hash, and the budget.
type Key = (u128, u64);

/// An answer, how many edits ago all of it was solved together, and the work that took.
#[derive(Clone, Debug)]
struct Found {
    answer: Arc<Answer>,
    edits: u64,
    whole: u64,
}

/// How a part is to be answered.
enum Plan {
    Known(Found),
    /// From one that is kept, of which so many items are the same.
    Edited(Key, Pairs),
    Anew,
}

impl Memory {
    /// Mends what is known of a part after an edit: far sooner, and good enough to choose by. Whoever says what is true of a
    /// season asks one that doesn't.
    #[must_use]
    pub fn mending() -> Self {
        Self { mends: true, ..Self::default() }
    }

    /// A new one that mends, on as many threads.
    #[must_use]
    pub fn mending_beside(&self) -> Self {
        Self { threads: self.threads, ..Self::mending() }
    }

    /// Works on so many threads, and not on as many as the machine offers.
    #[must_use]
    pub fn on_threads(self, threads: NonZero<usize>) -> Self {
        Self { threads: Some(threads), ..self }
    }

    /// As [`solve`](crate::fit::solve()), from what is known where it is known.
    ///
    /// # Errors
    /// [`Cancelled`] once the work is no longer wanted; parts solved by then are kept.
    pub fn solve(
        &mut self,
        problem: &Problem,
        budget: u64,
        progress: &Progress,
        cancel: &Cancel,
    ) -> Result<Answer, Cancelled> {
        self.questions += 1;
        let parts = apart(problem);
        cancel.check()?;
        let keys: Vec<Key> = parts.iter().map(|part| (part.problem.hash_stable(), budget)).collect();
        cancel.check()?;
        let plans = self.plans(&parts, &keys);
        cancel.check()?;
        let found = self.find(&parts, &plans, budget, progress, cancel);
        for plan in &plans {
            if let Plan::Edited(key, _) = plan
                && let Some(kept) = self.answers.get_mut(key)
            {
                kept.used = self.questions;
            }
        }
        for ((key, part), found) in keys.iter().zip(&parts).zip(&found) {
            if let Ok(found) = found {
                let (problem, found) = (Arc::clone(&part.problem), found.clone());
                self.answers.insert(*key, Kept { problem, found, used: self.questions });
            }
        }
        let oldest = self.questions.saturating_sub(KEPT_FOR);
        self.answers.retain(|_, kept| kept.used >= oldest);
        let found: Vec<Found> = found.into_iter().collect::<Result<_, _>>()?;
        let of: Vec<(&[usize], &Answer)> =
            parts.iter().zip(&found).map(|(part, found)| (part.items.as_slice(), &*found.answer)).collect();
        let answer = merged(problem, &of);
        progress.set(1, 1);
        if parts.len() > 1 && check(problem, &answer.layout).is_err() {
            debug_assert!(false, "parts were not apart");
            return solve_part(problem, budget, &mut Prover::new(cancel), progress, cancel);
        }
        Ok(answer)
    }

    /// How each part is to be answered, by what was known before any of them is.
    fn plans(&self, parts: &[Part], keys: &[Key]) -> Vec<Plan> {
        let mut grounds = Grounds::default();
        let mut plan = |(part, key): (&Part, &Key)| {
            if let Some(kept) = self.answers.get(key) {
                return Plan::Known(kept.found.clone());
            }
            let near = if self.mends { self.nearest(part, key.1, &mut grounds) } else { None };
            near.map_or(Plan::Anew, |(key, pairs)| Plan::Edited(key, pairs))
        };
        parts.iter().zip(keys).map(&mut plan).collect()
    }

    /// What is kept of a part from which that one differs by little.
    fn nearest(&self, part: &Part, budget: u64, grounds: &mut Grounds) -> Option<(Key, Pairs)> {
        let items = part.problem.items.len();
        let kept = self.answers.iter().filter(|(key, _)| key.1 == budget && items >= LEAST_EDITED);
        let near = |(key, kept): (&Key, &Kept)| {
            let near = grounds.nearness(&kept.problem, &part.problem);
            ((near, kept.used, Reverse(kept.found.edits), *key), Arc::clone(&kept.problem))
        };
        let ((.., key), before) = kept.map(near).max_by_key(|(rank, _)| *rank)?;
        if before.shelves != part.problem.shelves {
            return None;
        }
        let pairs = grounds.pairs(&before, &part.problem);
        let new = pairs.before.iter().filter(|before| before.is_none()).count();
        (MOST_EDITED * new.max(pairs.gone.len()) <= items).then_some((key, pairs))
    }

    /// Answers for all parts, in their order, whoever finds them.
    fn find(
        &self,
        parts: &[Part],
        plans: &[Plan],
        budget: u64,
        progress: &Progress,
        cancel: &Cancel,
    ) -> Vec<Result<Found, Cancelled>> {
        let known = |plan: &Plan| if let Plan::Known(found) = plan { Ok(found.clone()) } else { Err(Cancelled) };
        let found: Vec<Result<Found, Cancelled>> = plans.iter().map(known).collect();
        let open: Vec<usize> = largest_first(parts).into_iter().filter(|&at| found[at].is_err()).collect();
        let one = open.len() == 1;
        let (next, done) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let total = open.iter().map(|&at| parts[at].items.len()).sum();
        let found = Mutex::new(found);
        let work = || {
            while let Some(&at) = open.get(next.fetch_add(1, Ordering::Relaxed)) {
                // Several parts at once would each tell of their own progress.
                let own = if one { progress.clone() } else { Progress::default() };
                let answer = self.answer(&parts[at], &plans[at], budget, &own, cancel);
                found.lock().unwrap_or_else(PoisonError::into_inner)[at] = answer;
                let size = parts[at].items.len();
                if !one {
                    progress.set(done.fetch_add(size, Ordering::Relaxed) + size, total);
                }
            }
        };
        let threads = self.threads.or_else(|| thread::available_parallelism().ok()).map_or(1, NonZero::get);
        thread::scope(|scope| {
            let start = |number: usize| {
                let name = format!("solver {number}");
                thread::Builder::new().name(name).spawn_scoped(scope, work).ok()
            };
            let others: Vec<_> = (1..threads.min(open.len())).filter_map(start).collect();
            work();
            for other in others {
                if let Err(panic) = other.join() {
                    resume_unwind(panic);
                }
            }
        });
        found.into_inner().unwrap_or_else(PoisonError::into_inner)
    }

    fn answer(
        &self,
        part: &Part,
        plan: &Plan,
        budget: u64,
        progress: &Progress,
        cancel: &Cancel,
    ) -> Result<Found, Cancelled> {
        let mut prover = Prover::knowing(std::mem::take(&mut *self.learned()), cancel);
        let found = self.answer_by(part, plan, budget, &mut prover, progress, cancel);
        self.learned().join(prover.learned());
        found
    }

    fn answer_by(
        &self,
        part: &Part,
        plan: &Plan,
        budget: u64,
        prover: &mut Prover,
        progress: &Progress,
        cancel: &Cancel,
    ) -> Result<Found, Cancelled> {
        if let Plan::Edited(key, pairs) = plan
            && let Some(Kept { problem, found: Found { answer, edits, whole }, .. }) = self.answers.get(key)
            && let asked = (Asked { problem, answer, whole: *whole })
            && let Some(found) = solve_edited(asked, pairs, &part.problem, budget, prover, cancel)?
        {
            return Ok(Found { answer: Arc::new(found), edits: edits + 1, whole: *whole });
        }
        prover.forget_days();
        let answer = Arc::new(solve_part(&part.problem, budget, prover, progress, cancel)?);
        Ok(Found { edits: 0, whole: answer.work, answer })
    }

    fn learned(&self) -> MutexGuard<'_, Learned> {
        self.learned.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::fit::samples::{problems, shelves, tray, whole};
    use crate::fit::solve;

    fn ask(memory: &mut Memory, problem: &Problem) -> Answer {
        memory.solve(problem, 100_000, &Progress::default(), &Cancel::default()).expect("not cancelled")
    }

    #[test]
    fn only_what_an_edit_touches_is_solved_again() {
        let shelf = whole(&[(10, 10)]);
        let items = vec![tray(0, 5, 3, 2, &shelf), tray(7, 9, 3, 2, &shelf)];
        let mut problem = Problem { shelves: shelves(1), items };
        let mut memory = Memory::default();
        ask(&mut memory, &problem);
        let before: Vec<_> = memory.answers.keys().copied().collect();
        problem.items[1].phases[0].w = 4;
        ask(&mut memory, &problem);
        let after: Vec<_> = memory.answers.keys().copied().collect();
        assert_eq!((before.len(), after.len()), (2, 3));
        assert!(before.iter().all(|key| after.contains(key)));
        for _ in 0..6 {
            ask(&mut memory, &problem);
        }
        assert_eq!(memory.answers.len(), 2);
    }

    #[test]
    fn a_part_that_was_cancelled_is_not_kept() {
        let cancel = Cancel::default();
        cancel.cancel();
        let problem = Problem { shelves: shelves(1), items: vec![tray(0, 1, 1, 1, &whole(&[(2, 2)]))] };
        let mut memory = Memory::default();
        assert_eq!(memory.solve(&problem, 9, &Progress::default(), &cancel), Err(Cancelled));
        assert!(memory.answers.is_empty());
    }

    proptest! {
        #[test]
        fn memory_and_threads_never_change_an_answer(first in problems(6), second in problems(6)) {
            let mut memory = Memory::default();
            for problem in [&first, &second, &first] {
                let fresh = solve(problem, 100_000, &Progress::default(), &Cancel::default());
                prop_assert_eq!(Ok(ask(&mut memory, problem)), fresh);
                for threads in [1, 2, 8] {
                    let mut other = Memory::default().on_threads(NonZero::new(threads).expect("more than 0"));
                    prop_assert_eq!(ask(&mut other, problem), ask(&mut memory, problem));
                }
            }
        }
    }
}
