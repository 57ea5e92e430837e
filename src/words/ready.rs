//! What is said of plants that leave before they are ready.

use chrono::NaiveDate;

use crate::forecast::{Hurried, NotReady, Sooner};
use crate::season::{Sowing, SowingId};
use crate::units::shifted;

use super::{Words, counted, day, one_of};

impl Words<'_> {
    pub(super) fn not_ready(&self, sowing: SowingId, why: NotReady) -> String {
        let which = self.which(sowing);
        let is_sold = self.season.sowing(sowing).is_some_and(Sowing::is_to_sell);
        match why {
            NotReady::TooYoung { out, days, least, to_sell, in_flower, sow_earlier } => {
                let missing = least.saturating_sub(days);
                let sow = sow_earlier.then(|| earlier("sow", missing));
                format!(
                    "{which}: {} old when it {} on {}, and wants {least} at least{}; {}",
                    counted(days, "day", "days"),
                    if to_sell { "is sold" } else { "goes out" },
                    day(out),
                    if in_flower { " to be in flower" } else { "" },
                    ways([sow, Some(let_go(later(out, missing), to_sell))])
                )
            }
            NotReady::NotRooted { step, from, until, least, sooner, stay_in, goes_out } => {
                let rooted = u16::try_from((until - from).num_days()).unwrap_or(0);
                let missing = least.saturating_sub(rooted);
                let then = later(until, missing);
                let sooner = match sooner {
                    Some(Sooner::Sown) => goes_out.then(|| earlier("sow", missing)),
                    Some(Sooner::MovedOn) => Some(earlier("move it on", missing)),
                    None => None,
                };
                let again = || format!("move it on again on {} or later", day(then));
                let wait = if goes_out { let_go(then, is_sold) } else { again() };
                let stay = stay_in.map(|before| format!("leave it in {}", self.step(sowing, before)));
                format!(
                    "{which}: moved on into {} on {} and {} on {}, {rooted} of the {least} days in which it roots through; {}",
                    self.step(sowing, step),
                    day(from),
                    if goes_out { "out" } else { "again" },
                    day(until),
                    ways([sooner, Some(wait), stay])
                )
            }
            NotReady::HardenedShort { out, days, wanted, because, in_time } => format!(
                "{which}: {days} of {} of hardening off before it goes out on {}, {}",
                counted(wanted, "day", "days"),
                day(out),
                hurried(
                    (because, in_time),
                    let_go(later(out, wanted.saturating_sub(days)), is_sold),
                    (out, days, wanted)
                )
            ),
        }
    }
}

pub(super) fn nowhere_to_harden(sowings: u32, which: &str, first: NaiveDate) -> String {
    let want = match sowings {
        1 => format!("{which} wants it,"),
        more => format!("{more} sowings want it, {which} first,"),
    };
    format!("No place to harden off in: {want} from {}; add a table outdoors, a frame or a porch", day(first))
}

fn hurried(
    (because, in_time): (Hurried, bool),
    out_later: String,
    (out, days, wanted): (NaiveDate, u16, u16),
) -> String {
    let missing = wanted.saturating_sub(days);
    let open = format!("open one from {}", day(shifted(out, -i64::from(wanted))));
    match because {
        Hurried::MovedOn(on) => {
            let ways = ways([in_time.then(|| earlier("move it on", missing)), Some(out_later)]);
            format!("as it is moved on only on {}; {ways}", day(on))
        }
        Hurried::WasMovedOn(on) => format!("as it was moved on only on {}; {out_later}", day(on)),
        Hurried::PlaceOpens(from) => {
            format!(
                "as no place for it is open before {}; {}",
                day(from),
                ways([in_time.then_some(open), Some(out_later)])
            )
        }
        Hurried::Began(from) => format!("as hardening off began only on {}; {out_later}", day(from)),
        Hurried::AsSaid => "as you say so for this sowing; harden it off longer".to_owned(),
        Hurried::NoneOpen if in_time => format!("as no place for it is open before then; {open}"),
        Hurried::NoneOpen => "as no place for it is open before then; open one at once".to_owned(),
    }
}

fn later(date: NaiveDate, days: u16) -> NaiveDate {
    shifted(date, i64::from(days))
}

/// `sow 10 days earlier`.
pub(super) fn earlier(what: &str, days: u16) -> String {
    format!("{what} {} earlier", counted(days, "day", "days"))
}

/// `plant out on 1 Jun or later`.
pub(super) fn let_go(on: NaiveDate, is_sold: bool) -> String {
    format!("{} on {} or later", if is_sold { "sell" } else { "plant out" }, day(on))
}

/// `sow 10 days earlier or plant out on 1 Jun or later`.
fn ways<const N: usize>(all: [Option<String>; N]) -> String {
    let all: Vec<String> = all.into_iter().flatten().collect();
    one_of(&all)
}
