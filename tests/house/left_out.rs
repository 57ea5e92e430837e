//! Nothing is left out that has to be named by hand: no file without its `mod` line, no command that the
//! README, `.ci/run` or every test leaves out, no page without a test.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::tokens::{after_bracket, is, stand, tokens};
use crate::{below, collect, module_path, none, sources};

#[test]
fn every_file_has_its_mod_line() {
    none(unnamed(&sources()).into_iter().map(|file| format!("src/{file}: no mod line names it")));
    for folder in fs::read_dir(root("tests")).unwrap().map(|entry| entry.unwrap().path()) {
        // what has no main.rs is a target each, or data
        if folder.join("main.rs").exists() {
            let files = texts(&folder);
            none(
                unnamed(&files)
                    .into_iter()
                    .map(|file| format!("{}: no mod line names it", folder.join(file).display())),
            );
        }
    }
}

#[test]
fn a_planted_file_without_a_mod_line_is_found() {
    let files = ["lib.rs", "main.rs", "window/mod.rs", "window/menu.rs", "window/menu/tests.rs", "window/old.rs"];
    let texts = ["pub mod window;", "", "mod menu;\n// mod old;", "#[cfg(test)]\nmod tests;", "", ""];
    let files: Vec<_> = files.into_iter().zip(texts).map(|(file, text)| (file.to_owned(), text.to_owned())).collect();
    assert_eq!(unnamed(&files), ["window/old.rs"]);
}

#[test]
fn every_command_is_in_the_readme_in_ci_and_in_a_test() {
    let (readme, ci) = (read("README.md"), read(".ci/run"));
    let tests: String = texts(&root("tests/command")).into_iter().map(|(_, text)| text).collect();
    let commands = commands(&read("src/command/arguments.rs"));
    assert!(commands.len() > 6, "{commands:?}");
    none(commands.iter().flat_map(|command| {
        [
            ("README.md", &readme, format!("flatwright {command} ")),
            ("the table in README.md", &readme, format!("| `{command} ")),
            (".ci/run", &ci, format!("\"$program\" {command} ")),
            ("tests/command", &tests, format!("\"{command}\"")),
        ]
        .into_iter()
        .filter(|(_, text, wanted)| !text.contains(wanted))
        .map(|(place, ..)| format!("the command {command} is left out of {place}"))
        .collect::<Vec<_>>()
    }));
}

#[test]
fn commands_are_read_as_they_are_typed() {
    let text = "enum Asked { Window }\nenum Command {\n/// Says (it)\nCheck(Read),\n#[command(name)]\nTakeIn { a: B },\n\
         #[command(external_subcommand)]\nOther(Vec<OsString>),\n}";
    assert_eq!(commands(text), ["check", "take-in"]);
}

#[test]
fn every_page_has_a_test() {
    let sources = sources();
    let pages = sources.iter().filter_map(|(file, _)| file.strip_prefix("window/pages/")?.split('/').next());
    let pages = pages.map(|page| page.trim_end_matches(".rs")).filter(|page| *page != "mod");
    none(pages.filter_map(|page| {
        let test = format!("tests/window/{page}.rs");
        (!root(&test).exists()).then(|| format!("src/window/pages/{page}: there is no {test}"))
    }));
}

fn root(path: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn read(path: &str) -> String {
    fs::read_to_string(root(path)).unwrap_or_else(|why| panic!("{path}: {why}"))
}

/// Every file of Rust in that folder, its path from there, and its text.
fn texts(folder: &Path) -> Vec<(String, String)> {
    let mut files = Vec::new();
    collect(folder, &mut files);
    let named = |file: &std::path::PathBuf| {
        let name = file.strip_prefix(folder).unwrap().to_string_lossy().replace('\\', "/");
        (name, fs::read_to_string(file).unwrap())
    };
    files.iter().map(named).collect()
}

/// The files that the compiler never reads.
fn unnamed(files: &[(String, String)]) -> Vec<&str> {
    let mut named = BTreeSet::new();
    for (file, text) in files {
        let tokens = tokens(text);
        let names = (0..tokens.len()).filter(|at| is(&tokens, *at, "mod") && is(&tokens, at + 2, ";"));
        named.extend(names.map(|at| below(&folder_of(file), &tokens[at + 1].text)));
    }
    let is_named = |file: &str| folder_of(file).is_empty() || named.contains(&folder_of(file));
    files.iter().map(|(file, _)| file.as_str()).filter(|file| !is_named(file)).collect()
}

/// Where a file has its modules; none for that of a whole crate.
fn folder_of(file: &str) -> Vec<String> {
    if file == "main.rs" { Vec::new() } else { module_path(file) }
}

/// What the commands are called, from the variants of `Command`.
fn commands(text: &str) -> Vec<String> {
    let tokens = tokens(text);
    let mut at = (0..tokens.len()).find(|at| stand(&tokens, *at, &["enum", "Command", "{"])).unwrap() + 3;
    let mut commands = Vec::new();
    let mut is_any_other = false;
    while !is(&tokens, at, "}") {
        if is(&tokens, at, "#") {
            let end = after_bracket(&tokens, at + 1);
            is_any_other |= tokens[at..end].iter().any(|token| token.text == "external_subcommand");
            at = end;
            continue;
        }
        if !std::mem::take(&mut is_any_other) {
            commands.push(as_typed(&tokens[at].text));
        }
        at += 1;
        if is(&tokens, at, "(") || is(&tokens, at, "{") {
            at = after_bracket(&tokens, at);
        }
        at += usize::from(is(&tokens, at, ","));
    }
    commands
}

/// `TakeIn` as `take-in`.
fn as_typed(variant: &str) -> String {
    let mut typed = String::new();
    for c in variant.chars() {
        if c.is_uppercase() && !typed.is_empty() {
            typed.push('-');
        }
        typed.extend(c.to_lowercase());
    }
    typed
}
