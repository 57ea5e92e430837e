//! The layers of `src/`, one way: no layer uses one above or beside it, and the core reads no
//! clock, no environment and no file.
//!
//! Reads the text of the sources, without comments and strings. A path is taken for what it says:
//! `crate::x`, and `super::x` as far as it leaves its layer.

use crate::sources;
use crate::tokens::{Token, branches, stand, tokens};

/// From the lowest up; layers of one row stand beside each other.
const LAYERS: [&[&str]; 9] = [
    &["units"],
    &["fit", "season"],
    &["trade"],
    &["forecast"],
    &["outlook"],
    &["words"],
    &["store", "export"],
    &["window", "command"],
    &["main"],
];

#[test]
fn no_layer_uses_one_above_or_beside_it() {
    let faults: Vec<String> = sources().iter().flat_map(|(path, text)| faults_in(path, text)).collect();
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[track_caller]
fn check(path: &str, text: &str, expected: &[usize]) {
    let faults = faults_in(path, text);
    let wanted: Vec<String> = expected.iter().map(|line| format!("src/{path}:{line}:")).collect();
    let same = faults.len() == wanted.len() && faults.iter().zip(&wanted).all(|(fault, at)| fault.starts_with(at));
    assert!(same, "{path}: {text:?}\nfound {faults:?}\nwanted {wanted:?}");
}

#[test]
fn what_is_planted_is_found() {
    check("fit/count.rs", "use super::problem::Rect;\nuse crate::units::Length;\n", &[]);
    check("fit/count.rs", "\nuse crate::season::Season;\n", &[2]);
    check("season/edit.rs", "use crate::fit::Rect;", &[1]);
    check("season/edit.rs", "use crate::{\n    units::Length,\n    fit::{Rect, Days},\n    trade,\n};", &[3, 4]);
    check("outlook/mod.rs", "fn f() { crate::words::day(date); }", &[1]);
    check("store/mod.rs", "use crate::export::svg;", &[1]);
    check("command/check.rs", "use crate::window::run;", &[1]);
    check("command/check.rs", "use crate::{outlook, words, store, export};", &[]);
    check("words.rs", "use super::store;\nuse super::outlook;", &[1]);
    check(
        "forecast/mod.rs",
        "use super::outlook;\nmod tests {\n    use super::stay;\n    use super::super::store;\n}",
        &[1, 4],
    );
    check("trade/cells.rs", "use super::super::forecast;\nuse super::{pots, super::words};", &[1, 2]);
    check("trade/cells.rs", "mod tests { use super::super::pots; }\nuse super::super::words;", &[2]);
    check("units/area.rs", "use crate::elsewhere;\nuse crate as everything;", &[1, 2]);
    check("units/area.rs", "macro_rules! m { () => { $crate::store::load() } }", &[1]);
    check(
        "units/area.rs",
        "// crate::store\n/* crate::\nstore */ const S: &str = \"crate::store\";\nuse crate::store;",
        &[4],
    );
    check("units/area.rs", "const S: &str = r#\"\" crate::store\"#; const C: char = '\"'; use crate::store;", &[1]);
    check("lib.rs", "pub mod store;\npub mod window;", &[]);
}

#[test]
fn what_belongs_to_one_place_is_found_elsewhere() {
    check("window/app.rs", "use egui::Ui;\nuse rfd::FileDialog;", &[]);
    check("command/mod.rs", "fn f(ui: &mut egui::Ui) {}\nuse eframe::App;\nuse rfd;", &[1, 2, 3]);
    check("main.rs", "let today = chrono::Local::now();\nflatwright::window::run();", &[]);
    check("main.rs", "eframe::run_native();", &[1]);
    check("window/app.rs", "let today = Local::now();", &[1]);
    check("store/disk.rs", "SystemTime::now();\nlet time: SystemTime = file.modified()?;", &[1]);
    check("outlook/job.rs", "Utc :: now()", &[1]);
    check("season/edit.rs", "use std::env;\nstd::fs::read(path);\nInstant::now();", &[1, 2, 3]);
    check("season/edit.rs", "use std::{fmt, fs, hash::Hash};\nconst DIR: &str = env!(\"X\");", &[1]);
    check("store/mod.rs", "use std::fs;", &[]);
    check(
        "fit/check.rs",
        "use super::answer::Layout;\nuse super::place::Board;\nuse super::{problem, count};",
        &[2, 3],
    );
    check("fit/check.rs", "use crate::fit::proof;\nuse crate::units::Length;", &[1, 2]);
    check(
        "fit/check.rs",
        "#[cfg(test)]\nmod tests {\n    use super::*;\n    use super::super::{Item, pack_day};\n}",
        &[],
    );
}

fn rank(layer: &str) -> Option<usize> {
    LAYERS.iter().position(|row| row.contains(&layer))
}

/// `path` is relative to `src/`.
fn faults_in(path: &str, text: &str) -> Vec<String> {
    let layer = path.split('/').next().unwrap_or(path).trim_end_matches(".rs");
    if layer == "lib" {
        return Vec::new();
    }
    let tokens = tokens(text);
    let mut faults = Vec::new();
    let mut fault = |line: usize, why: &str| faults.push((line, format!("src/{path}:{line}: {why}")));
    for used in used_paths(path, &tokens) {
        let Some(first) = used.names.first() else {
            fault(used.line, "takes the whole crate; name the layer");
            continue;
        };
        let may = match (rank(layer), rank(first)) {
            (Some(own), Some(other)) => first == layer || other < own,
            _ => false,
        };
        if !may {
            fault(used.line, &format!("{layer} must not use {first}"));
        }
        let inside = path == "fit/check.rs" && !used.in_tests;
        let types_alone = |name: &String| ["problem", "answer", "check", "work"].contains(&name.as_str());
        if inside && !(first == "fit" && used.names.get(1).is_some_and(types_alone)) {
            fault(used.line, "fit::check uses nothing but the types of fit::problem, fit::answer and fit::work");
        }
    }
    for (line, why) in foreign(layer, &tokens) {
        fault(line, &why);
    }
    faults.sort();
    faults.dedup_by_key(|(line, _)| *line);
    faults.into_iter().map(|(_, text)| text).collect()
}

/// What only certain layers may ask.
fn foreign(layer: &str, tokens: &[Token]) -> Vec<(usize, String)> {
    let mut faults = Vec::new();
    let is_core = !["store", "window", "command", "main"].contains(&layer);
    for (i, token) in tokens.iter().enumerate() {
        let follows = |words: &[&str]| stand(tokens, i + 1, words);
        let line = token.line;
        match token.text.as_str() {
            name @ ("egui" | "egui_extras" | "eframe" | "rfd") if layer != "window" => {
                faults.push((line, format!("only window may use {name}")));
            }
            name @ ("Local" | "Utc" | "SystemTime") if layer != "main" && follows(&["::", "now"]) => {
                faults.push((line, format!("only main may ask {name}::now")));
            }
            "Instant" if is_core && follows(&["::", "now"]) => {
                faults.push((line, format!("{layer} must not ask a clock")));
            }
            "std" if is_core && follows(&["::"]) => {
                let names = group(tokens, i + 2);
                for (line, name) in names.into_iter().filter(|(_, name)| name == "env" || name == "fs") {
                    faults.push((line, format!("{layer} must not use std::{name}")));
                }
            }
            _ => {}
        }
    }
    faults
}

/// The names that stand at `i`: one, or the first ones of each branch of a `{}` group.
fn group(tokens: &[Token], i: usize) -> Vec<(usize, String)> {
    let mut names = Vec::new();
    branches(tokens, i, &mut Vec::new(), &mut names);
    names.into_iter().filter_map(|branch| Some((branch.line, branch.path.into_iter().next()?))).collect()
}

/// A path from the crate's root.
struct Used {
    line: usize,
    /// `["season", "Season"]`; none for the crate itself.
    names: Vec<String>,
    in_tests: bool,
}

fn used_paths(path: &str, tokens: &[Token]) -> Vec<Used> {
    let mut own: Vec<String> = path.trim_end_matches(".rs").split('/').map(str::to_owned).collect();
    if own.last().is_some_and(|last| last == "mod") {
        own.pop();
    }
    let mut used = Vec::new();
    // Inline modules around the place, each with the depth of braces it was opened at.
    let (mut inline, mut braces): (Vec<(String, usize)>, usize) = (Vec::new(), 0);
    let mut skip_to = 0;
    for (i, token) in tokens.iter().enumerate() {
        match token.text.as_str() {
            "{" => braces += 1,
            "}" => {
                braces = braces.saturating_sub(1);
                if inline.last().is_some_and(|(_, depth)| *depth == braces) {
                    inline.pop();
                }
            }
            "mod" if tokens.get(i + 2).is_some_and(|token| token.text == "{") => {
                if let Some(name) = tokens.get(i + 1) {
                    inline.push((name.text.clone(), braces));
                }
            }
            "crate" | "super" if i >= skip_to && !follows_path(tokens, i) && !is_visibility(tokens, i) => {
                let mut found = Vec::new();
                skip_to = branches(tokens, i, &mut Vec::new(), &mut found);
                let mut here = own.clone();
                here.extend(inline.iter().map(|(name, _)| name.clone()));
                let in_tests = inline.iter().any(|(name, _)| name == "tests");
                for branch in found {
                    used.push(Used { line: branch.line, names: from_root(&here, &branch.path), in_tests });
                }
            }
            _ => {}
        }
    }
    used
}

/// `a::super` would be part of a path already read.
fn follows_path(tokens: &[Token], i: usize) -> bool {
    i > 0 && tokens.get(i - 1).is_some_and(|token| token.text == "::")
}

/// `pub(crate)`, `pub(super)`, `pub(in super::super)`.
fn is_visibility(tokens: &[Token], i: usize) -> bool {
    let back = |n: usize| i.checked_sub(n).and_then(|at| tokens.get(at)).map(|token| token.text.as_str());
    back(1) == Some("(") && back(2) == Some("pub") || back(1) == Some("in") && back(3) == Some("pub")
}

/// `super` goes up from `here`, `crate` to the root.
fn from_root(here: &[String], spelled: &[String]) -> Vec<String> {
    let mut names = here.to_vec();
    for name in spelled {
        match name.as_str() {
            "crate" => names.clear(),
            "super" => {
                names.pop();
            }
            "self" => {}
            _ => names.push(name.clone()),
        }
    }
    names
}
