//! What a solver keeps from one question to the next.

use std::collections::BTreeMap;
use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use super::one_part::solve_part;
use super::parts::{Part, apart, largest_first, merged};
use crate::fit::answer::Answer;
use crate::fit::check::check;
use crate::fit::problem::Problem;
use crate::fit::work::{Cancel, Cancelled, Progress};

/// Answers that no question of the last few used are forgotten.
const KEPT_FOR: u64 = 4;

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

/// Answers to the parts of questions asked before, so that after an edit only what it touches is
/// solved again. What is kept never changes an answer, only how soon it comes.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    answers: BTreeMap<(u128, u64), Kept>,
    questions: u64,
    threads: Option<NonZero<usize>>,
}

#[derive(Clone, Debug)]
struct Kept {
    answer: Arc<Answer>,
    used: u64,
}

impl Memory {
    /// Works on so many threads, and not on as many as the machine offers.
    #[must_use]
    pub const fn on_threads(threads: NonZero<usize>) -> Self {
        Self { answers: BTreeMap::new(), questions: 0, threads: Some(threads) }
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
        let keys: Vec<(u128, u64)> = parts.iter().map(|part| (part.problem.hash_stable(), budget)).collect();
        let known: Vec<Option<Arc<Answer>>> =
            keys.iter().map(|key| self.answers.get(key).map(|kept| Arc::clone(&kept.answer))).collect();
        let found = self.find(&parts, known, budget, progress, cancel);
        for (key, answer) in keys.iter().zip(&found) {
            if let Ok(answer) = answer {
                self.answers.insert(*key, Kept { answer: Arc::clone(answer), used: self.questions });
            }
        }
        let oldest = self.questions.saturating_sub(KEPT_FOR);
        self.answers.retain(|_, kept| kept.used >= oldest);
        let found: Vec<Arc<Answer>> = found.into_iter().collect::<Result<_, _>>()?;
        let of: Vec<(&[usize], &Answer)> =
            parts.iter().zip(&found).map(|(part, answer)| (part.items.as_slice(), &**answer)).collect();
        let answer = merged(problem, &of);
        progress.set(1, 1);
        if parts.len() > 1 && check(problem, &answer.layout).is_err() {
            debug_assert!(false, "parts were not apart");
            return solve_part(problem, budget, progress, cancel);
        }
        Ok(answer)
    }

    /// Answers for all parts, in their order, whoever finds them.
    fn find(
        &self,
        parts: &[Part],
        known: Vec<Option<Arc<Answer>>>,
        budget: u64,
        progress: &Progress,
        cancel: &Cancel,
    ) -> Vec<Result<Arc<Answer>, Cancelled>> {
        let open: Vec<usize> = largest_first(parts).into_iter().filter(|&at| known[at].is_none()).collect();
        let one = open.len() == 1;
        let (next, done) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let total = open.iter().map(|&at| parts[at].items.len()).sum();
        let found: Mutex<Vec<Result<Arc<Answer>, Cancelled>>> =
            Mutex::new(known.into_iter().map(|answer| answer.ok_or(Cancelled)).collect());
        let work = || {
            while let Some(&at) = open.get(next.fetch_add(1, Ordering::Relaxed)) {
                // Several parts at once would each tell of their own progress.
                let own = if one { progress.clone() } else { Progress::default() };
                let answer = solve_part(&parts[at].problem, budget, &own, cancel).map(Arc::new);
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
                    let mut other = Memory::on_threads(NonZero::new(threads).expect("more than 0"));
                    prop_assert_eq!(ask(&mut other, problem), ask(&mut memory, problem));
                }
            }
        }
    }
}
