//! `take`: brings something from outside into a season, and says what was odd.

mod frost;

use super::{Failure, Report, Take, output};

pub(super) fn take(args: &Take) -> Result<Report, Failure> {
    output::known_ending(&args.output, "a season file", &["ron"])?;
    match (&args.weather, &args.frost_table) {
        (Some(record), _) => frost::of_record(args, record),
        (None, Some(table)) => frost::of_table(args, table),
        (None, None) => Err(Failure::Bad("say what to take: --weather or --frost-table".to_owned())),
    }
}
