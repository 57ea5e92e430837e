//! What holds the house together, read from the text of its sources: the layers go one way, no two
//! files lean on each other, a page never imports a page, every sentence stands in `words`, and nothing is left
//! out that must be named by hand.

#![allow(clippy::unwrap_used, reason = "what a test cannot read is its failure")]
#![expect(clippy::print_stdout, reason = "counts, for who asks with --nocapture")]

mod circles;
mod dates;
mod graph;
mod layers;
mod left_out;
mod letters;
mod pages;
mod sentences;
mod tokens;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use tokens::{Token, tokens, without_tests};

/// Every file of `src/`, its path from there, and its text.
fn sources() -> Vec<(String, String)> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    collect(&src, &mut files);
    assert!(files.len() > 20, "only {} files found in {}", files.len(), src.display());
    let read = |file: &PathBuf| {
        let text = fs::read_to_string(file).unwrap_or_else(|why| panic!("{}: {why}", file.display()));
        let name = file.strip_prefix(&src).unwrap().to_string_lossy().replace('\\', "/");
        (name, text)
    };
    files.iter().map(read).collect()
}

/// What of them is part of the program: no tests, nor files that are for tests alone.
fn program(sources: &[(String, String)]) -> Vec<(String, Vec<Token>)> {
    let mut test_only: Vec<Vec<String>> = Vec::new();
    let mut files = Vec::new();
    for (file, text) in sources {
        let (tokens, modules) = without_tests(&tokens(text));
        let own = module_path(file);
        test_only.extend(modules.into_iter().map(|name| below(&own, &name)));
        files.push((file.clone(), tokens));
    }
    files.retain(|(file, _)| !test_only.iter().any(|test| module_path(file).starts_with(test)));
    files
}

fn module_path(file: &str) -> Vec<String> {
    let mut path: Vec<String> = file.trim_end_matches(".rs").split('/').map(str::to_owned).collect();
    if path.last().is_some_and(|last| last == "mod") || path == ["lib"] {
        path.pop();
    }
    path
}

fn below(path: &[String], name: &str) -> Vec<String> {
    path.iter().cloned().chain([name.to_owned()]).collect()
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    let entries = fs::read_dir(folder).unwrap_or_else(|why| panic!("{}: {why}", folder.display()));
    for entry in entries {
        let path = entry.unwrap().path();
        if path.is_dir() {
            collect(&path, files);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
    files.sort();
}

/// Fails with what is found, each once.
#[track_caller]
fn none(faults: impl IntoIterator<Item = String>) {
    let faults: BTreeSet<String> = faults.into_iter().collect();
    assert!(faults.is_empty(), "\n{}\n", Vec::from_iter(faults).join("\n"));
}
