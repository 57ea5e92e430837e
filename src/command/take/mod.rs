//! `take`: brings something from outside into a season, and says what was odd.

mod frost;
mod sowings;

use super::{Failure, Report, Take, output};

pub(super) fn take(args: &Take) -> Result<Report, Failure> {
    output::known_ending(&args.output, "a season file", &["ron"])?;
    match (&args.weather, &args.frost_table, &args.sowings) {
        (Some(record), ..) => frost::of_record(args, record),
        (None, Some(table), _) => frost::of_table(args, table),
        (None, None, Some(table)) => sowings::of_table(args, table),
        (None, None, None) => Err(Failure::Bad("say what to take: --weather, --frost-table or --sowings".to_owned())),
    }
}
