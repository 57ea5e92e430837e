//! `next`: next year's season from this one.

use serde::Serialize;

use crate::forecast::{self, Change};
use crate::store;
use crate::words::{self, Words, commands};

use super::opened::Opened;
use super::report::{Exit, Failure, Report, bullet};
use super::{Next, output};

#[derive(Serialize)]
struct NextSeason<'a> {
    season: &'a str,
    from: &'a str,
    years: i32,
    changes: Vec<ChangeRow>,
}

#[derive(Serialize)]
struct ChangeRow {
    kind: &'static str,
    text: String,
}

pub(super) fn next(args: &Next) -> Result<Report, Failure> {
    output::known_ending(&args.output, commands::A_SEASON_FILE, &["ron"])?;
    let opened = Opened::load(&args.file)?;
    let next = forecast::next_year(&opened.season, opened.library, args.year, words::own_records)
        .map_err(|why| Failure::Bad(commands::of_file(&args.file, words::no_next_year(&why))))?;
    let after = forecast::forecast(&next.season, opened.library);
    let unit = next.season.length_unit();
    let words = Words { season: &next.season, library: opened.library, forecast: &after, unit };
    store::save(&args.output, &next.season)?;
    let text = if args.json {
        let row = |change: &Change| ChangeRow { kind: words::change_kind(change), text: words.change(change) };
        output::json(&NextSeason {
            season: next.season.name(),
            from: opened.season.name(),
            years: next.years,
            changes: next.changes.iter().map(row).collect(),
        })?
    } else {
        let mut text = commands::made_from(next.season.name(), opened.season.name()) + "\n\n";
        text.extend(next.changes.iter().map(|change| bullet(&words.change(change))));
        text + &format!("\n{}\n", commands::saved_as(&args.output))
    };
    Ok(Report { text, exit: Exit::Good })
}
