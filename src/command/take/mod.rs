//! `take`: brings something from outside into a season, and says what was odd.

mod frost;
mod sowings;

use super::{Failure, Report, Take, output};

pub(super) fn take(args: &Take) -> Result<Report, Failure> {
    let output = args.output.as_deref();
    output.map_or(Ok(()), |output| output::known_ending(output, "a season file", &["ron"]))?;
    if let Some(table) = &args.sowings {
        return sowings::of_table(args, table);
    }
    let output = output.ok_or_else(|| Failure::Bad("say where to save the season: -o OUT".to_owned()))?;
    match (&args.weather, &args.frost_table) {
        (Some(record), _) => frost::of_record(args, record, output),
        (None, Some(table)) => frost::of_table(args, table, output),
        (None, None) => Err(Failure::Bad("say what to take: --weather, --frost-table or --sowings".to_owned())),
    }
}
