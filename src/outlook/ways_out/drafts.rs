//! Every change of a sowing that keeps the rules.

use crate::forecast::{Forecast, broken, of_one};
use crate::season::{Op, Sowing};

use super::containers::Containers;
use super::dates::Dates;
use super::tried::Standing;
use super::way::Draft;

/// Each with what is then forecast of the sowing by itself. `fresh` is a number that nothing has.
pub(super) fn drafts_of(of: &Standing<'_>, sowing: &Sowing, fresh: u32) -> Vec<(Draft, Forecast)> {
    let Standing { season, library, forecast, .. } = *of;
    let mut drafts = Dates { season, forecast, sowing, fresh }.drafts();
    drafts.extend(Containers { season, library, forecast, sowing }.drafts());
    let now = of_one(season, library, sowing);
    let tried = drafts.into_iter().filter_map(|draft| {
        let then = of_one(season, library, draft.ops.iter().find_map(sowing_put)?);
        broken(&now.problems, &then.problems).is_none().then_some((draft, then))
    });
    tried.collect()
}

fn sowing_put(op: &Op) -> Option<&Sowing> {
    match op {
        Op::PutSowing(sowing) => Some(sowing),
        _ => None,
    }
}
