//! `weeks`: what each week needs, what the shelves hold, and how often that is too little.

use serde::Serialize;

use crate::outlook::{Chance, Draws, Keep, Outlook, Week};
use crate::words::{self, Words, commands};

use super::opened::Opened;
use super::output::IsoDay;
use super::report::{Exit, Failure, Report, frost_line};
use super::table::{Align, Table};
use super::{Weeks, output};

#[derive(Serialize)]
struct WeeksRows<'a> {
    season: &'a str,
    weeks: Vec<WeekRow>,
}

/// One week of one place, as `--json` has it.
#[derive(Serialize)]
pub(super) struct WeekRow {
    week: String,
    from: IsoDay,
    place: String,
    verdict: &'static str,
    needed: u32,
    held: u32,
    short: u32,
    short_at_most: u32,
    spare: u32,
    lit: Option<u32>,
    over_lit: u32,
    trays: u32,
    plants: u32,
    /// `null` where nothing about the season varies.
    chance: Option<ChanceRow>,
}

/// Parts of one: how often the week is too full, proven and at most.
#[derive(Serialize)]
struct ChanceRow {
    proven: f64,
    at_most: f64,
}

impl WeekRow {
    pub(super) fn new(week: &Week, chance: Option<&Chance>, words: &Words<'_>) -> Self {
        let of_week = |chance: &Chance| {
            let own = chance.of(week)?;
            Some(ChanceRow { proven: chance.share(own.proven), at_most: chance.share(own.at_most) })
        };
        Self {
            week: words::week_code(week.label),
            from: IsoDay(week.from),
            place: words.pool(&week.pool),
            verdict: words::verdict(week.verdict),
            needed: week.needed,
            held: week.held,
            short: week.short,
            short_at_most: week.short_at_most,
            spare: week.spare,
            lit: week.lit,
            over_lit: week.over_lit,
            trays: week.trays,
            plants: week.plants,
            chance: chance.and_then(of_week),
        }
    }
}

pub(super) fn weeks(args: &Weeks) -> Result<Report, Failure> {
    let opened = Opened::load(&args.file)?;
    let (outlook, words) = (opened.look_ahead(Keep::Pinned)?, opened.words());
    let chance = opened.chance(&outlook, Draws { number: args.draws, ..Draws::default() })?;
    let chance = chance.as_ref();
    let text = if args.json {
        let weeks = outlook.weeks.iter().map(|week| WeekRow::new(week, chance, &words)).collect();
        output::json(&WeeksRows { season: opened.season.name(), weeks })?
    } else if outlook.weeks.is_empty() {
        commands::nothing_stands(opened.season.name()) + "\n"
    } else {
        format!("{}\n{}\n{}", opened.season.name(), frost_line(&words), table(&outlook, chance, &words))
    };
    Ok(Report { text, exit: Exit::Good })
}

fn table(outlook: &Outlook, chance: Option<&Chance>, words: &Words<'_>) -> String {
    use Align::{Left, Right};
    let aligns = [Left, Right, Left, Right, Right, Right, Right, Right, Right, Right, Left, Left];
    let mut table = Table::new(commands::HEADS_OF_WEEKS, aligns);
    by_place(outlook, &mut table, |week| {
        vec![
            words::week_code(week.label),
            words::day(week.from),
            words.pool(&week.pool),
            week.needed.to_string(),
            words::held_of(week.needed, week.held, week.short, week.short_at_most),
            week.spare.to_string(),
            week.lit.map_or_else(|| commands::NONE.to_owned(), |lit| lit.to_string()),
            if week.over_lit == 0 { commands::NONE.to_owned() } else { week.over_lit.to_string() },
            week.trays.to_string(),
            week.plants.to_string(),
            words::verdict(week.verdict).to_owned(),
            chance
                .and_then(|chance| Some(words::seasons(chance, chance.of(week)?)))
                .unwrap_or_else(|| commands::NONE.to_owned()),
        ]
    });
    table.text()
}

/// One row a week, an empty line from one place to the next.
pub(super) fn by_place(outlook: &Outlook, table: &mut Table, row: impl Fn(&Week) -> Vec<String>) {
    let mut last = None;
    for week in &outlook.weeks {
        if last.is_some_and(|pool| pool != &week.pool) {
            table.gap();
        }
        last = Some(&week.pool);
        table.row(row(week));
    }
}
