//! The forecast of a season as it is likely, with what would be right where something in it is not.

use crate::season::{Library, Op, Season, Sowing};

use super::all::Forecast;
use super::long_stay::say_what_is_right;
use super::scenario::Scenario;
use super::work_out::{drawn, of_one};

/// Works out every stay of the season, everything as is likely.
pub fn forecast(season: &Season, library: &Library) -> Forecast {
    let mut result = drawn(season, library, &Scenario::none());
    say_what_is_right(season, library, &mut result.problems);
    result
}

/// Works out the season with a sowing that it may have and has not yet: who shares a tray with it, too.
pub fn with_one(season: &Season, library: &Library, sowing: &Sowing) -> Forecast {
    let mut with = season.clone();
    match with.apply(&Op::PutSowing(sowing.clone()).into()) {
        Ok(()) => forecast(&with, library),
        Err(_) => of_one(season, library, sowing),
    }
}
