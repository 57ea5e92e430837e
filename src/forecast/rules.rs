//! Which rules of the trade a season breaks, and whether a change breaks one that was kept, or breaks one further.

use std::collections::BTreeMap;

use crate::season::{SowingId, StepId};

use super::course::What;
use super::problem::{NotReady, Problem};

/// Which rule, and of what.
type Rule = (u8, Option<SowingId>, Option<StepId>);

/// The first of [`all_broken`].
pub fn broken<'a>(before: &[Problem], after: &'a [Problem]) -> Option<&'a Problem> {
    all_broken(before, after).next()
}

/// Each problem that is a rule broken which was kept before, or broken by more. What only makes work breaks none.
pub fn all_broken<'a>(before: &[Problem], after: &'a [Problem]) -> impl Iterator<Item = &'a Problem> + use<'a> {
    let mut known: BTreeMap<Rule, i64> = BTreeMap::new();
    for (rule, by) in before.iter().filter_map(rule) {
        let most = known.entry(rule).or_insert(by);
        *most = by.max(*most);
    }
    let worse = move |(rule, by): (Rule, i64)| known.get(&rule).is_none_or(|was| *was < by);
    after.iter().filter(move |problem| rule(problem).is_some_and(&worse))
}

/// Which rule a problem breaks, and by how many days where they count; `None` where it breaks none.
fn rule(problem: &Problem) -> Option<(Rule, i64)> {
    let of = |number: u8, sowing: SowingId| ((number, Some(sowing), None), 0);
    Some(match problem {
        Problem::OutOfOrder { sowing, .. } => of(0, *sowing),
        Problem::HeldTooLong { sowing, step, latest, until, .. } => {
            ((1, Some(*sowing), Some(*step)), (*until - *latest).num_days())
        }
        Problem::MovedEarly { sowing, step, due, date, .. } => {
            ((2, Some(*sowing), Some(*step)), (*due - *date).num_days())
        }
        Problem::OutBeforeFrost { sowing, .. } => of(3, *sowing),
        Problem::OutBeforeWindow { sowing, .. } => of(4, *sowing),
        Problem::NotReady { sowing, why } => not_ready(*sowing, *why),
        Problem::WontComeUp { sowing, .. } => of(6, *sowing),
        Problem::FewComeUp { sowing, .. } => of(7, *sowing),
        Problem::NobodyThere { sowing, work: What::Hardening, .. } => of(22, *sowing),
        Problem::NobodyThere { sowing, work: What::FirstNightOut, .. } => of(23, *sowing),
        Problem::NobodyThere { sowing, .. } => of(8, *sowing),
        Problem::TooColdToHarden { sowing, .. } => of(9, *sowing),
        Problem::Bolts { sowing, .. } => of(10, *sowing),
        Problem::TooWarm { sowing, .. } => of(11, *sowing),
        Problem::NoRoomInside { sowing, .. } => of(12, *sowing),
        Problem::InsertTooLarge { sowing, .. } => of(13, *sowing),
        Problem::NoPlaceFor { .. } => ((14, None, None), 0),
        Problem::TooTall { .. } => ((15, None, None), 0),
        Problem::TooLarge { .. } => ((16, None, None), 0),
        Problem::TooHeavy { .. } => ((17, None, None), 0),
        Problem::NoPlaceBears { .. } => ((18, None, None), 0),
        Problem::NoLight { .. } => ((19, None, None), 0),
        _ => return None,
    })
}

fn not_ready(sowing: SowingId, why: NotReady) -> (Rule, i64) {
    let missing = |has: u16, wants: u16| i64::from(wants) - i64::from(has);
    match why {
        NotReady::TooYoung { days, least, .. } => ((5, Some(sowing), None), missing(days, least)),
        NotReady::NotRooted { step, from, until, least, .. } => {
            ((20, Some(sowing), Some(step)), i64::from(least) - (until - from).num_days())
        }
        NotReady::HardenedShort { days, wanted, .. } => ((21, Some(sowing), None), missing(days, wanted)),
    }
}
