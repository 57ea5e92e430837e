//! `can-wait`: how many days each work may slip before a day is short of room.

use serde::Serialize;

use crate::fit::{Cancel, Progress};
use crate::outlook::slack::{CanWait, End, Overflow, Slack, can_wait as found};
use crate::outlook::ways_out::Standing;
use crate::outlook::{Keep, Outlook};
use crate::words::{self, Words, can_wait as said};

use super::Read;
use super::opened::Opened;
use super::output::{self, IsoDay};
use super::report::{Exit, Failure, Report, bullet, frost_line};

#[derive(Serialize)]
struct Answer<'a> {
    season: &'a str,
    verdict: &'static str,
    /// The one whose slip leaves the shelves short first.
    first: Option<SlackRow>,
    slacks: Vec<SlackRow>,
}

#[derive(Serialize)]
struct SlackRow {
    sowing: String,
    work: &'static str,
    /// The day for which it is planned.
    on: IsoDay,
    /// The last day that is safe.
    until: IsoDay,
    days: i64,
    /// What ends it.
    ends: &'static str,
    /// The work done on that day leaves a day worse, or breaks a rule.
    to: Option<IsoDay>,
    overflow: Option<OverflowRow>,
    rule: Option<&'static str>,
    text: String,
}

#[derive(Serialize)]
struct OverflowRow {
    day: IsoDay,
    place: String,
    needed: u32,
    short: u32,
    short_at_most: u32,
    /// As it is planned.
    short_before: u32,
}

pub(super) fn can_wait(args: &Read) -> Result<Report, Failure> {
    let opened = Opened::load(&args.file)?;
    let outlook = opened.look_ahead(Keep::Pinned)?;
    let of = Standing {
        season: &opened.season,
        library: opened.library,
        forecast: &opened.forecast,
        outlook: &outlook,
        today: None,
    };
    let found = found(&of, None, &Progress::default(), &Cancel::default())?;
    let words = opened.words();
    let text = if args.json { json(&outlook, &found, &words)? } else { text(&outlook, &found, &words) };
    Ok(Report { text, exit: Exit::Good })
}

fn text(outlook: &Outlook, found: &CanWait, words: &Words<'_>) -> String {
    let head = format!("{}\n{}\n{}", words.season.name(), words.headline(outlook), frost_line(words));
    let mut text = format!("{head}\n{}\n", words.first_to_overflow(found));
    if !found.all.is_empty() {
        text.extend(said::as_planned(outlook.verdict).into_iter().flat_map(|line| [line, "\n"]));
    }
    let mut over = "";
    // the first is said already
    for slack in found.all.iter().skip(usize::from(found.first().is_some())) {
        let heading = said::heading(&slack.end);
        if heading != over {
            over = heading;
            text.extend(["\n", heading, "\n"]);
        }
        text += &bullet(&words.slack(slack));
    }
    text
}

fn json(outlook: &Outlook, found: &CanWait, words: &Words<'_>) -> Result<String, Failure> {
    output::json(&Answer {
        season: words.season.name(),
        verdict: words::verdict(outlook.verdict),
        first: found.first().map(|slack| row(slack, words)),
        slacks: found.all.iter().map(|slack| row(slack, words)).collect(),
    })
}

fn row(slack: &Slack, words: &Words<'_>) -> SlackRow {
    let (to, over, rule) = match &slack.end {
        End::Short(over) | End::Open(over) => (Some(over.to), Some(over), None),
        End::Rule { to, problem } => (Some(*to), None, Some(words::problem_kind(problem))),
        End::NoOther | End::Never => (None, None, None),
    };
    SlackRow {
        sowing: words.which(slack.sowing),
        work: said::work_kind(slack.work),
        on: IsoDay(slack.on),
        until: IsoDay(slack.until),
        days: slack.days(),
        ends: said::end_kind(&slack.end),
        to: to.map(IsoDay),
        overflow: over.map(|over| overflow_row(over, words)),
        rule,
        text: words.slack(slack),
    }
}

fn overflow_row(over: &Overflow, words: &Words<'_>) -> OverflowRow {
    OverflowRow {
        day: IsoDay(over.day),
        place: words.pools(&over.pools),
        needed: over.needed,
        short: over.short,
        short_at_most: over.short_at_most,
        short_before: over.before,
    }
}
