//! `take --sowings`: a grower's own table of sowings.

use std::path::Path;

use serde::Serialize;

use crate::forecast;
use crate::store::{self, RealDisk, sowings};
use crate::words::{self, commands};

use super::super::opened::Opened;
use super::super::output::IsoDay;
use super::super::report::{Exit, Failure, Report, bullet};
use super::super::table::{Align, Table};
use super::super::{Take, output};

#[derive(Serialize)]
struct SowingsTaken<'a> {
    season: &'a str,
    columns: Vec<ColumnRow<'a>>,
    taken: Vec<TakenRow>,
    odd: Vec<OddRow>,
}

#[derive(Serialize)]
struct ColumnRow<'a> {
    heading: &'a str,
    taken_as: Option<&'static str>,
}

#[derive(Serialize)]
struct TakenRow {
    line: u64,
    sowing: String,
    plants: u32,
    sow: Option<IsoDay>,
    out: IsoDay,
    rule: String,
}

#[derive(Serialize)]
struct OddRow {
    line: u64,
    column: usize,
    left_out: bool,
    text: String,
}

pub(super) fn of_table(args: &Take, path: &Path) -> Result<Report, Failure> {
    let mut opened = Opened::load(&args.file)?;
    let bytes = sowings::load(&RealDisk, path).map_err(|why| Failure::Bad(why.to_string()))?;
    let wish = sowings::Wish { columns: args.columns.clone(), ..sowings::Wish::default() };
    let table = sowings::read(&bytes, &wish, &opened.season, opened.library);
    let table = table.map_err(|why| Failure::Bad(why.of_file(path)))?;
    let first = opened.season.next_id();
    opened.season.apply(&table.edit(&opened.season, opened.library))?;
    let after = forecast::forecast(&opened.season, opened.library);
    let saved = args.output.as_ref().filter(|_| !args.preview);
    if let Some(output) = saved {
        store::save(output, &opened.season)?;
    }
    let planned = table.planned_in(&opened.season, first, &after, opened.library);
    let taken: Vec<TakenRow> = planned.into_iter().map(taken).collect();
    let text = if args.json {
        let heading = |(heading, column): &'_ (String, Option<sowings::Column>)| {
            (heading.clone(), column.map(sowings::Column::name))
        };
        let columns: Vec<(String, Option<&'static str>)> = table.columns.iter().map(heading).collect();
        let columns = columns.iter().map(|(heading, taken_as)| ColumnRow { heading, taken_as: *taken_as }).collect();
        let odd = table.odd.iter().map(|odd| OddRow {
            line: odd.line,
            column: odd.column,
            left_out: odd.is_left_out(),
            text: odd.to_string(),
        });
        output::json(&SowingsTaken { season: opened.season.name(), columns, taken, odd: odd.collect() })?
    } else {
        let mut text = commands::rows_taken_in(opened.season.name(), taken.len()) + "\n\n";
        let columns = table.columns.iter();
        let columns =
            columns.map(|(heading, column)| commands::column_taken_as(heading, column.map(sowings::Column::name)));
        text.extend(columns.map(|line| bullet(&line)));
        text.push('\n');
        text.push_str(&listed(&taken));
        if !table.odd.is_empty() {
            text.extend(["\n", commands::ODD, "\n"]);
            text.extend(table.odd.iter().map(|odd| bullet(&commands::of_line(path, odd))));
        }
        let end = saved.map_or_else(|| commands::PREVIEW.to_owned(), |output| commands::saved_as(output));
        text + &format!("\n{end}\n")
    };
    Ok(Report { text, exit: Exit::Good })
}

fn taken(row: sowings::Planned) -> TakenRow {
    TakenRow {
        line: row.line,
        sowing: row.sowing,
        plants: row.plants,
        sow: row.sow.map(IsoDay),
        out: IsoDay(row.out),
        rule: words::out_rule(row.rule),
    }
}

fn listed(taken: &[TakenRow]) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(commands::HEADS_OF_SOWINGS, [Right, Left, Right, Right, Right, Left]);
    for row in taken {
        table.row(vec![
            row.line.to_string(),
            row.sowing.clone(),
            row.plants.to_string(),
            row.sow.as_ref().map_or_else(|| commands::NONE.to_owned(), |day| words::full_day(day.0)),
            words::full_day(row.out.0),
            row.rule.clone(),
        ]);
    }
    table.text()
}
