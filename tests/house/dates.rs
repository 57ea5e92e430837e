//! A date that a grower reads is written by `units::full_day`, `units::short_day` or `words/days.rs`, never as it
//! prints by itself, which is year-month-day: files and JSON alone have that.
//!
//! What is held, by the names that are declared to be a `NaiveDate` or a `DateSpan`:
//!
//! - no other file writes a date by a pattern of its own (`%b`);
//! - in `#[error("…")]` no such field stands in `{ }`;
//! - in a function no such argument does, nor one that a match takes out of a variant;
//! - no such field, and no end of a span, is all that is put in a `{}`.

use std::collections::{BTreeMap, BTreeSet};

use crate::tokens::{Token, after_bracket, is, stand};
use crate::{none, program, sources};

/// Where dates get their form, or are no sentence: names of files, what is typed, what files hold.
const WRITE_DATES: [&str; 5] =
    ["units/days.rs", "words/days.rs", "store/versions.rs", "command/arguments.rs", "store/file/text.rs"];

const DATES: [&str; 2] = ["NaiveDate", "DateSpan"];

#[test]
fn dates_are_written_in_one_way() {
    let files = program(&sources());
    let declared = Declared::of(&files);
    assert!(declared.fields.contains("worst_day") && declared.variants.contains_key("NotAfter"), "{declared:?}");
    none(files.iter().flat_map(|(path, tokens)| faults(path, tokens, &declared)).collect::<Vec<_>>());
}

#[track_caller]
fn check(text: &str, expected: usize) {
    let files = program(&[("words/planted.rs".to_owned(), text.to_owned())]);
    let declared = Declared::of(&files);
    let found: Vec<String> = files.iter().flat_map(|(path, tokens)| faults(path, tokens, &declared)).collect();
    assert_eq!(found.len(), expected, "{text}: {found:?}");
}

#[test]
fn planted_dates_are_found() {
    check(r#"fn f(date: NaiveDate) -> String { date.format("%-d %b").to_string() }"#, 1);
    check(r#"fn f(on: NaiveDate) -> String { format!("out on {on}") }"#, 1);
    check("fn f(on: NaiveDate) -> String { on.to_string() }", 1);
    check(r#"#[error("it is {date}")] struct E { date: NaiveDate }"#, 1);
    check(r#"enum E { #[error("from {0} to {1}")] Not(NaiveDate, NaiveDate) }"#, 1);
    check(r#"enum E { Not { on: NaiveDate } } fn f() { match e { E::Not { on } => format!("{on}"), } }"#, 1);
    check(r#"enum E { Not(NaiveDate) } fn f() { match e { E::Not(a) => { format!("{a}") } } }"#, 1);
    check(r#"struct C { worst_day: NaiveDate } fn f(c: &C) { format!("on {}", c.worst_day) }"#, 1);
    check(r#"fn f(c: &C) { format!("until {}", c.span.last()); }"#, 1);
    check(r#"fn f(span: DateSpan) { format!("{span}"); }"#, 1);
}

#[test]
fn dates_in_words_are_let_be() {
    check(r#"fn f(on: NaiveDate) -> String { format!("out on {}", full_day(on)) }"#, 0);
    check(r#"fn f(on: NaiveDate) -> String { let on = day(on); format!("out on {on}") }"#, 0);
    check(r#"#[error("it is {}", full_day(*.date))] struct E { date: NaiveDate }"#, 0);
    check(r#"enum E { #[error("{0} of {1}")] Not(u32, u32), Day(NaiveDate) }"#, 0);
    check(
        r#"enum E { Not(NaiveDate) } fn f() { match e { E::Not(a) => format!("{}", day(a)), B(a) => format!("{a}") } }"#,
        0,
    );
    check(r#"struct C { at: NaiveDate } fn f(c: &C) { format!("on {} of {}", day(c.at), c.n) }"#, 0);
}

/// What is declared to be a date.
#[derive(Debug, Default)]
struct Declared {
    /// Names of fields that are dates wherever they are declared.
    fields: BTreeSet<String>,
    /// Of variants: the names or numbers of their fields that are dates.
    variants: BTreeMap<String, Vec<String>>,
}

impl Declared {
    fn of(files: &[(String, Vec<Token>)]) -> Self {
        let mut all = Self::default();
        let mut others = BTreeSet::new();
        for (_, tokens) in files {
            for (i, token) in tokens.iter().enumerate() {
                match token.text.as_str() {
                    "struct" => {
                        let (dates, rest) = body_of(tokens, i + 2);
                        all.fields.extend(dates);
                        others.extend(rest);
                    }
                    "enum" => all.take_enum(tokens, i),
                    _ => {}
                }
            }
        }
        all.fields.retain(|name| !others.contains(name) && name.parse::<usize>().is_err());
        all
    }

    fn take_enum(&mut self, tokens: &[Token], at: usize) {
        let Some(open) = (at..tokens.len()).find(|&i| is(tokens, i, "{")) else { return };
        let end = after_bracket(tokens, open);
        let mut i = open + 1;
        while i < end {
            if is(tokens, i, "#") {
                i = after_bracket(tokens, i + 1);
            } else if is(tokens, i + 1, "{") || is(tokens, i + 1, "(") {
                let (dates, _) = body_of(tokens, i + 1);
                if !dates.is_empty() {
                    self.variants.insert(tokens[i].text.clone(), dates);
                }
                i = after_bracket(tokens, i + 1);
            } else {
                i += 1;
            }
        }
    }
}

/// The fields in the brackets at `open` that are dates, and those that aren't; by name or by number.
fn body_of(tokens: &[Token], open: usize) -> (Vec<String>, Vec<String>) {
    let (mut dates, mut others) = (Vec::new(), Vec::new());
    if !(is(tokens, open, "{") || is(tokens, open, "(")) {
        return (dates, others);
    }
    for (number, field) in parts(tokens, open).into_iter().enumerate() {
        let Some(last) = field.last() else { continue };
        let colon = field.iter().position(|token| token.text == ":");
        let name =
            colon.and_then(|at| at.checked_sub(1)).map_or_else(|| number.to_string(), |at| field[at].text.clone());
        let start = colon.map_or(0, |at| at + 1);
        let is_date = field.len() - start <= 2 && DATES.contains(&last.text.as_str());
        // a day for a file or for JSON, or one that may be missing, prints otherwise or not at all
        let of_dates = field[start..].iter().any(|token| token.text.contains("Day") || token.text.contains("Date"));
        if is_date {
            dates.push(name);
        } else if !of_dates {
            others.push(name);
        }
    }
    (dates, others)
}

/// What stands in the brackets at `open`, cut at its commas.
fn parts(tokens: &[Token], open: usize) -> Vec<&[Token]> {
    let end = after_bracket(tokens, open).saturating_sub(1).min(tokens.len());
    let (mut found, mut start, mut i) = (Vec::new(), open + 1, open + 1);
    while i < end {
        match tokens[i].text.as_str() {
            "," => {
                found.push(&tokens[start..i]);
                start = i + 1;
                i += 1;
            }
            "(" | "[" | "{" => i = after_bracket(tokens, i),
            _ => i += 1,
        }
    }
    if start < end {
        found.push(&tokens[start..end]);
    }
    found
}

fn faults(path: &str, tokens: &[Token], declared: &Declared) -> Vec<String> {
    if WRITE_DATES.contains(&path) {
        return Vec::new();
    }
    let mut found = BTreeSet::new();
    for (i, token) in tokens.iter().enumerate() {
        match token.text.as_str() {
            "error" if i >= 2 && is(tokens, i - 1, "[") && is(tokens, i - 2, "#") => found.extend(in_error(tokens, i)),
            "fn" => found.extend(in_function(tokens, i)),
            "format" | "write" | "writeln" if is(tokens, i + 1, "!") => found.extend(bare(tokens, i + 2, declared)),
            text if declared.variants.contains_key(text) => found.extend(in_arm(tokens, i, &declared.variants[text])),
            _ => {}
        }
        if token.said().is_some_and(|said| ["%b", "%B", "%d", "%-d", "%a", "%A"].iter().any(|sign| said.contains(sign)))
        {
            found.insert((token.line, "a pattern of its own".to_owned()));
        }
    }
    found.into_iter().map(|(line, what)| format!("src/{path}:{line}: a date not as it is said: {what}")).collect()
}

type Found = Vec<(usize, String)>;

/// Literals of `tokens` that name one of `dates` in `{ }`, and dates made text as they are.
fn named(tokens: &[Token], dates: &[String]) -> Found {
    let mut found = Vec::new();
    for (i, token) in tokens.iter().enumerate() {
        let says = |name: &&String| {
            let said = token.said().unwrap_or_default();
            said.contains(&format!("{{{name}}}")) || said.contains(&format!("{{{name}:"))
        };
        let made_text = |name: &&String| token.text == **name && stand(tokens, i + 1, &[".", "to_string"]);
        found.extend(dates.iter().find(says).or(dates.iter().find(made_text)).map(|name| (token.line, name.clone())));
    }
    found
}

/// Of `#[error(…)]` at `at`, and the fields behind it.
fn in_error(tokens: &[Token], at: usize) -> Found {
    let end = after_bracket(tokens, at + 1);
    let mut i = end + 1;
    while is(tokens, i, "#") {
        i = after_bracket(tokens, i + 1);
    }
    let open = (i..i + 6).find(|&i| is(tokens, i, "{") || is(tokens, i, "("));
    let open = open.filter(|&open| !tokens[i..open].iter().any(|token| token.text == "," || token.text == "}"));
    open.map_or_else(Vec::new, |open| named(&tokens[at..end], &body_of(tokens, open).0))
}

/// Of the arguments of the function at `at`, unless its body gives a name anew.
fn in_function(tokens: &[Token], at: usize) -> Found {
    let Some(open) = (at..tokens.len()).find(|&i| is(tokens, i, "(")) else { return Vec::new() };
    let args = after_bracket(tokens, open);
    let Some(body) = (args..tokens.len()).find(|&i| is(tokens, i, "{") || is(tokens, i, ";")) else {
        return Vec::new();
    };
    let end = after_bracket(tokens, body);
    let inside = &tokens[body..end];
    let (dates, _) = body_of(tokens, open);
    let anew = |name: &String| {
        (0..inside.len()).any(|i| {
            let let_it = is(inside, i, "let")
                && (i + 1..i + 12).take_while(|&i| !is(inside, i, "=")).any(|i| is(inside, i, name));
            let_it || (is(inside, i, "|") && is(inside, i + 1, name))
        })
    };
    let dates: Vec<String> = dates.into_iter().filter(|name| !anew(name)).collect();
    named(inside, &dates)
}

/// Of what a match takes out of the variant at `at`.
fn in_arm(tokens: &[Token], at: usize, dates: &[String]) -> Found {
    let open = at + 1;
    if !(is(tokens, open, "{") || is(tokens, open, "(")) {
        return Vec::new();
    }
    let end = after_bracket(tokens, open);
    if !stand(tokens, end, &["=", ">"]) {
        return Vec::new();
    }
    let by_number = |(number, part): (usize, &&[Token])| {
        let date = dates.contains(&number.to_string()) && part.len() == 1;
        date.then(|| part[0].text.clone())
    };
    let by_name = |part: &&[Token]| match part {
        [name] if dates.contains(&name.text) => Some(name.text.clone()),
        [name, colon, own] if colon.text == ":" && dates.contains(&name.text) => Some(own.text.clone()),
        _ => None,
    };
    let fields = parts(tokens, open);
    let taken: Vec<String> = if is(tokens, open, "(") {
        fields.iter().enumerate().filter_map(by_number).collect()
    } else {
        fields.iter().filter_map(by_name).collect()
    };
    let start = end + 2;
    let until = if is(tokens, start, "{") {
        after_bracket(tokens, start)
    } else {
        let mut i = start;
        while i < tokens.len() && !is(tokens, i, ",") && !is(tokens, i, "}") {
            i = if ["(", "[", "{"].contains(&tokens[i].text.as_str()) { after_bracket(tokens, i) } else { i + 1 };
        }
        i
    };
    let arm = &tokens[start..until];
    let taken: Vec<String> = taken
        .into_iter()
        .filter(|name| !arm.iter().any(|one| one.text == "let") || !arm.iter().any(|one| one.text == *name))
        .collect();
    named(arm, &taken)
}

/// Fields that are dates, and ends of spans, put in as they are.
fn bare(tokens: &[Token], open: usize, declared: &Declared) -> Found {
    let mut found = Vec::new();
    for part in parts(tokens, open) {
        let text: Vec<&str> = part.iter().map(|token| token.text.as_str()).collect();
        let date = match text[..] {
            [.., ".", "from" | "until" | "last", "(", ")"] => true,
            [.., ".", name] => declared.fields.contains(name),
            _ => false,
        };
        let plain = text.iter().all(|one| !matches!(*one, "{" | "[" | "|" | "+" | ","))
            && text.iter().filter(|one| **one == "(").count() <= 1;
        if date && plain {
            found.extend(part.first().map(|token| (token.line, text.concat())));
        }
    }
    found
}
