//! Ways out of being short of room: looked for when their page asks, and shown before they are taken.

use std::sync::Arc;

use crate::fit::Memory;
use crate::forecast::Forecast;
use crate::outlook::Outlook;
use crate::outlook::ways_out::{Found, Standing, WayOut, find};
use crate::season::{History, Library};

use super::asked::Asked;
use super::derived::Derived;

/// What was found for the season at one revision.
pub(super) type Ways = Asked<u64, Found>;

/// Looks for them, on a thread of its own.
pub(super) fn look_for_ways(
    ways: &mut Ways,
    history: &History,
    library: &'static Library,
    (forecast, outlook): (&Arc<Forecast>, &Outlook),
    ctx: &egui::Context,
) {
    let (season, forecast, outlook) = (history.season().clone(), Arc::clone(forecast), outlook.clone());
    let problem = outlook.problem;
    ways.ask(history.revision(), ("make_room", problem), ctx, move |progress, cancel| {
        let of = Standing { season: &season, library, forecast: &forecast, outlook: &outlook };
        find(&of, &mut Memory::default(), progress, cancel)
    });
}

/// The season as it would be with a change made: looked at, not touched.
pub(super) struct Preview {
    pub(super) way: WayOut,
    pub(super) history: History,
    pub(super) derived: Derived,
}

impl Preview {
    /// `None` where the season doesn't take it.
    pub(super) fn of(way: WayOut, history: &History, derived: &Derived) -> Option<Self> {
        let mut then = History::new(history.season().clone());
        then.commit(&way.edit).ok()?;
        Some(Self { way, history: then, derived: derived.beside() })
    }
}
