//! `check`: whether everything fits, week by week, and why not.

use chrono::NaiveDate;
use serde::Serialize;

use crate::forecast::Problem;
use crate::outlook::{self, Chance, Crunch, Draws, Keep, Outlook, Verdict};
use crate::units::shifted;
use crate::words::{self, Words, commands};

use super::opened::Opened;
use super::output::IsoDay;
use super::report::{Exit, Failure, Report, bullet, frost_line};
use super::table::{Align, Table};
use super::weeks::{WeekRow, by_place};
use super::{Read, output};

#[derive(Serialize)]
struct Checked<'a> {
    season: &'a str,
    verdict: &'static str,
    weeks: Vec<WeekRow>,
    crunches: Vec<CrunchRow>,
    problems: Vec<ProblemRow>,
}

#[derive(Serialize)]
struct CrunchRow {
    from: IsoDay,
    /// The first day that is no crunch any more.
    until: IsoDay,
    worst_day: IsoDay,
    /// As in the weeks: what the proof is most about, and every place that is short on some day of it.
    place: String,
    places: Vec<String>,
    /// The days on which each of them is short.
    days: Vec<DaysRow>,
    needed: u32,
    held: u32,
    short: u32,
    short_at_most: u32,
    proof: Proof,
    reason: String,
}

#[derive(Serialize)]
struct DaysRow {
    place: String,
    from: IsoDay,
    until: IsoDay,
}

#[derive(Serialize)]
struct Proof {
    day: IsoDay,
    /// All that `needed` counts.
    stays: Vec<String>,
    /// Those of them that prove it.
    enough: Vec<String>,
}

#[derive(Serialize)]
struct ProblemRow {
    kind: &'static str,
    about: String,
    text: String,
}

pub(super) fn check(args: &Read) -> Result<Report, Failure> {
    let opened = Opened::load(&args.file)?;
    let (outlook, words) = (opened.look_ahead(Keep::Pinned)?, opened.words());
    let problems = outlook::problems(&opened.season, &opened.forecast, Some(&outlook));
    let text = if args.json {
        let chance = opened.chance(&outlook, Draws::default())?;
        output::json(&answer(&outlook, chance.as_ref(), &problems, &words))?
    } else {
        text(&outlook, &problems, &words)
    };
    let exit = if outlook.verdict == Verdict::Fits { Exit::Good } else { Exit::NotAll };
    Ok(Report { text, exit })
}

fn answer<'a>(outlook: &Outlook, chance: Option<&Chance>, problems: &[Problem], words: &Words<'a>) -> Checked<'a> {
    Checked {
        season: words.season.name(),
        verdict: words::verdict(outlook.verdict),
        weeks: outlook.weeks.iter().map(|week| WeekRow::new(week, chance, words)).collect(),
        crunches: outlook.crunches.iter().map(|crunch| crunch_row(crunch, words)).collect(),
        problems: problems
            .iter()
            .map(|problem| ProblemRow {
                kind: words::problem_kind(problem),
                about: words::problem_about(words, problem),
                text: words.problem(problem),
            })
            .collect(),
    }
}

fn crunch_row(crunch: &Crunch, words: &Words<'_>) -> CrunchRow {
    CrunchRow {
        from: IsoDay(crunch.span.from()),
        until: IsoDay(crunch.span.until()),
        worst_day: IsoDay(crunch.worst_day),
        place: crunch.pools.first().map_or_else(String::new, |pool| words.pool(pool)),
        places: crunch.concerned().into_iter().map(|pool| words.pool(pool)).collect(),
        days: crunch
            .days
            .iter()
            .map(|days| DaysRow {
                place: words.pool(&days.pool),
                from: IsoDay(days.span.from()),
                until: IsoDay(days.span.until()),
            })
            .collect(),
        needed: crunch.needed,
        held: crunch.held,
        short: crunch.short,
        short_at_most: crunch.short_at_most,
        proof: Proof {
            day: IsoDay(crunch.worst_day),
            stays: crunch.counted.iter().map(|tray| words.tray(*tray)).collect(),
            enough: crunch.proof.iter().map(|tray| words.tray(*tray)).collect(),
        },
        reason: words.reason(crunch),
    }
}

fn text(outlook: &Outlook, problems: &[Problem], words: &Words<'_>) -> String {
    let mut parts = vec![format!("{}\n{}\n{}", words.season.name(), words.headline(outlook), frost_line(words))];
    if !outlook.weeks.is_empty() {
        parts.push(table(outlook, words));
    }
    parts.extend(
        outlook.crunches.iter().map(|crunch| {
            format!("{}{}\n  {}\n", weeks_of(outlook, crunch), words.crunch(crunch), words.reason(crunch))
        }),
    );
    if !words.forecast.shared.is_empty() {
        let shared = words.forecast.shared.iter();
        let shared = shared.map(|(tray, shared)| words.who_shares(*tray, shared));
        let fewer = words.forecast.fewer.iter().map(|fewer| words.fewer_trays(fewer));
        let lines: String = shared.chain(fewer).map(|line| bullet(&line)).collect();
        parts.push(format!("{}\n{lines}", words::sharing::TITLE));
    }
    if !problems.is_empty() {
        let lines: String = problems.iter().map(|problem| bullet(&words.problem(problem))).collect();
        parts.push(format!("{}\n{lines}", words::worth_a_look::TITLE));
    }
    parts.join("\n")
}

fn table(outlook: &Outlook, words: &Words<'_>) -> String {
    use Align::{Left, Right};
    let mut table = Table::new(commands::HEADS_OF_CHECK, [Left, Right, Left, Left, Right, Right, Right, Left]);
    by_place(outlook, &mut table, |week| {
        vec![
            words::week_code(week.label),
            words::day(week.from),
            words.pool(&week.pool),
            words::verdict(week.verdict).to_owned(),
            week.needed.to_string(),
            words::held_of(week.needed, week.held, week.short, week.short_at_most),
            commands::room(week),
            commands::lit(week),
        ]
    });
    table.text()
}

/// `2027-W16 to 2027-W18: `; empty if none of the crunch's days is in a listed week.
fn weeks_of(outlook: &Outlook, crunch: &Crunch) -> String {
    let last_day = |from: NaiveDate| shifted(from, 7);
    let mut weeks = outlook
        .weeks
        .iter()
        .filter(|week| crunch.pools.first() == Some(&week.pool))
        .filter(|week| week.from < crunch.span.until() && crunch.span.from() < last_day(week.from));
    let Some(first) = weeks.next() else { return String::new() };
    format!("{}: ", commands::from_week_to_week(first, weeks.next_back()))
}
