//! `take`: brings something from outside into a season, and says what was odd.

mod frost;
mod sowings;

use crate::words::commands;

use super::report::{Failure, Report};
use super::{Take, output};

pub(super) fn take(args: &Take) -> Result<Report, Failure> {
    let output = args.output.as_deref();
    output.map_or(Ok(()), |output| output::known_ending(output, commands::A_SEASON_FILE, &["ron"]))?;
    if let Some(table) = &args.sowings {
        return sowings::of_table(args, table);
    }
    let output = output.ok_or_else(|| Failure::Bad(commands::SAY_WHERE_TO_SAVE.to_owned()))?;
    match (&args.weather, &args.frost_table) {
        (Some(record), _) => frost::of_record(args, record, output),
        (None, Some(table)) => frost::of_table(args, table, output),
        (None, None) => Err(Failure::Bad(commands::SAY_WHAT_TO_TAKE.to_owned())),
    }
}
