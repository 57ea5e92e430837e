//! Every sentence that a person reads stands in `words`.
//!
//! A sentence, or the name of something, is a string literal that holds two words or starts with a
//! capital followed by a small letter. It may stand elsewhere where it isn't said to anybody, or where
//! `words` can't be reached from:
//!
//! - in tests, in `expect("why this holds")`, in what `debug_assert!` says, as the `reason` of a lint;
//! - in `#[error("…")]` of the layers below `words`, and of `store`, whose errors are made where a file is read;
//! - one word in `#[serde(…)]` or `debug_struct(…)`: a name of Rust's, or of the file's;
//! - as a pattern, `"dry quart" | "dry quarts" =>`: what a person may write, not what is said;
//! - markup: what stands between `<` and `>`;
//! - and what [`EXCEPT`] lists one by one.

use std::collections::BTreeSet;

use crate::tokens::{Token, after_bracket, is, stand};
use crate::{none, program, sources};

/// Layers whose error types word themselves.
const ERRORS_SAY_THEMSELVES: [&str; 7] = ["units", "fit", "season", "trade", "forecast", "outlook", "store"];

/// File, text, and why it is none of a grower's.
const EXCEPT: [(&str, &str, &str); 4] = [
    ("forecast/work_out.rs", "Mix", "the letters of a mark, as a crop has its own"),
    ("store/file/format.rs", "flatwright season", "the mark in a season file, the same in every language"),
    ("units/date.rs", "On ", "written before a date, not said"),
    ("window/desktop/folders.rs", "Documents", "a folder's name"),
];

#[test]
fn every_sentence_stands_in_words() {
    let mut faults = Vec::new();
    let mut excepted = BTreeSet::new();
    for (path, tokens) in program(&sources()) {
        for (line, said) in sentences(&path, &tokens) {
            match EXCEPT.iter().find(|(file, text, _)| *file == path && *text == said) {
                Some(known) => _ = excepted.insert(known),
                None => faults.push(format!("src/{path}:{line}: stands outside of words: {said:?}")),
            }
        }
    }
    assert_eq!(excepted.len(), EXCEPT.len(), "an exception that nothing needs");
    none(faults);
}

#[track_caller]
fn check(path: &str, text: &str, expected: &[&str]) {
    let files = program(&[(path.to_owned(), text.to_owned())]);
    let found: Vec<(usize, String)> = files.iter().flat_map(|(path, tokens)| sentences(path, tokens)).collect();
    assert_eq!(found.iter().map(|(_, said)| said.as_str()).collect::<Vec<_>>(), expected, "{path}: {text}");
}

#[test]
fn planted_sentences_are_found() {
    check("window/menu.rs", r#"ui.button("Open a season…"); ui.label("too wide");"#, &["Open a season…", "too wide"]);
    check("command/check.rs", r#"println!("{day}: no room");"#, &["{day}: no room"]);
    check("store/file/say.rs", r##"let why = r#"is "not" a date"#;"##, &["is \"not\" a date"]);
    check("export/scale.rs", "\"goes on \\\n    below\"", &["goes on below"]);
    check("window/menu.rs", r#"const ADD: &str = "Add";"#, &["Add"]);
    check("window/menu.rs", r#"#[error("no such page")] struct E;"#, &["no such page"]);
    check("command/arguments.rs", r#"#[arg(help = "Which day")] on: Day,"#, &["Which day"]);
    check("store/mod.rs", r#"#[derive(Debug)] struct E { why: &'static str = "cannot be read" }"#, &["cannot be read"]);
    check("main.rs", r#"expect(2, "no window");"#, &["no window"]);
    check("store/mod.rs", r#"a.ok_or_else(|| "Not found").map(|why| "found none");"#, &["Not found", "found none"]);
    check("store/mod.rs", r#"#[serde(expecting = "a date of ours")] struct E;"#, &["a date of ours"]);
    check(
        "export/svg.rs",
        r##"f(r#"<text x="1">No spot</text>"#, "a < b or so")"##,
        &["<text x=\"1\">No spot</text>", "a < b or so"],
    );
    check("window/menu.rs", r#"match page { Page::Crops => "Crops and kinds", _ => "none" }"#, &["Crops and kinds"]);
    check(
        "window/menu.rs",
        "#[cfg(test)]\nmod tests { const A: &str = \"In tests\"; }\nf(\"Not in tests\")",
        &["Not in tests"],
    );
}

#[test]
fn what_no_grower_reads_is_let_be() {
    check("words/menu.rs", r#"pub const ADD: &str = "Add a crop";"#, &[]);
    check("window/menu.rs", r#"ui.push_id("sowings_seen", f); ui.label("{name} – {day}"); f("mm"); f("W×D");"#, &[]);
    check("store/mod.rs", r#"#[error("the file {0} cannot be read")] struct E;"#, &[]);
    check("window/menu.rs", r#"#[expect(clippy::x, reason = "It is so")] fn f() { a.expect("There is one"); }"#, &[]);
    check("fit/check.rs", r#"debug_assert!(is_so(&[1]), "It must be {so}");"#, &[]);
    check("store/file/v1.rs", r#"#[serde(rename = "Season", skip_serializing_if = "Vec::is_empty")] struct S;"#, &[]);
    check("units/volume.rs", r#"match said { "dry quart" | "dry quarts" => 1, "cu in" => 2, _ => 3 }"#, &[]);
    check("export/svg.rs", r##"f(r#"<rect class="a" x="{}"/>"#, "<text x=\"{}\" y=\"{}\">{}</text>")"##, &[]);
    check("fit/check.rs", "// \"No sentence\"\n/* \"Nor this\" */", &[]);
}

/// Line and text of every sentence that should not stand here; `path` is relative to `src/`.
fn sentences(path: &str, tokens: &[Token]) -> Vec<(usize, String)> {
    let layer = path.split('/').next().unwrap_or(path).trim_end_matches(".rs");
    if layer == "words" {
        return Vec::new();
    }
    let mut found = Vec::new();
    let mut i = 0;
    while let Some(token) = tokens.get(i) {
        if let Some(end) = let_be(layer, tokens, i) {
            i = end;
            continue;
        }
        let is_pattern = is(tokens, i + 1, "|")
            || is(tokens, i + 1, "if")
            || stand(tokens, i + 1, &["=", ">"])
            || i > 1 && is(tokens, i - 1, "|") && tokens[i - 2].said().is_some();
        if let Some(said) = token.said().filter(|said| is_sentence(said) && !is_pattern) {
            found.push((token.line, said.to_owned()));
        }
        i += 1;
    }
    found
}

/// Where what starts at `i` ends, if sentences may stand in it.
fn let_be(layer: &str, tokens: &[Token], i: usize) -> Option<usize> {
    let word = tokens.get(i)?.text.as_str();
    let after = |open: usize| is(tokens, open, "(").then(|| after_bracket(tokens, open));
    // Names alone, if every literal in the brackets is one word.
    let names = |open: usize| {
        after(open).filter(|end| tokens[open..*end].iter().filter_map(Token::said).all(|said| !said.contains(' ')))
    };
    match word {
        "error"
            if ERRORS_SAY_THEMSELVES.contains(&layer) && i >= 2 && is(tokens, i - 1, "[") && is(tokens, i - 2, "#") =>
        {
            after(i + 1)
        }
        "reason" if is(tokens, i + 1, "=") => Some(i + 3),
        "expect" if i > 0 && is(tokens, i - 1, ".") => after(i + 1),
        "debug_assert" | "debug_assert_eq" | "debug_assert_ne" if is(tokens, i + 1, "!") => after(i + 2),
        "serde" if i > 0 && is(tokens, i - 1, "[") => names(i + 1),
        "debug_struct" => names(i + 1),
        _ => None,
    }
}

fn is_sentence(said: &str) -> bool {
    let letters = without_markup(said);
    let starts_one = matches!(letters[..], [first, second, ..] if first.is_uppercase() && second.is_lowercase());
    let two_words = |at: &[char]| matches!(at, [a, ' ', b] if a.is_alphabetic() && b.is_alphabetic());
    starts_one || letters.windows(3).any(two_words)
}

fn without_markup(said: &str) -> Vec<char> {
    let mut depth = 0_usize;
    let mut kept = Vec::new();
    for (at, c) in said.char_indices() {
        let opens = c == '<' && said[at + 1..].starts_with(|c: char| c.is_ascii_lowercase() || "/?!".contains(c));
        match c {
            '<' if opens => depth += 1,
            '>' if depth > 0 => depth -= 1,
            _ if depth == 0 => kept.push(c),
            _ => {}
        }
    }
    kept
}
