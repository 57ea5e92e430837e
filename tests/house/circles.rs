//! No two files lean on each other, by however many files between.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::graph::{Use, uses};
use crate::{none, sources};

#[test]
fn no_file_uses_one_that_uses_it() {
    let sources = sources();
    let uses = uses(&sources);
    assert!(uses.len() > sources.len(), "only {} uses found", uses.len());
    let circles = circles(&uses);
    println!("{} circles", circles.len());
    none(circles.iter().map(|circle| said(circle, &uses)));
}

#[track_caller]
fn check(files: &[(&str, &str)], expected: &[&str]) {
    let sources: Vec<(String, String)> =
        files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect();
    let uses = uses(&sources);
    let found: Vec<String> = circles(&uses).iter().map(|circle| said(circle, &uses)).collect();
    assert_eq!(found, expected);
}

#[test]
fn planted_circles_are_found() {
    let (a, b, c) = ("fit/a.rs", "fit/b.rs", "fit/c.rs");
    let root = ("fit/mod.rs", "mod a;\nmod b;\npub use a::{A, go};\npub use b::B;");
    check(&[(a, "use super::b::B;\nstruct A;"), (b, "struct B;")], &[]);
    check(
        &[(a, "use super::b::B;\nstruct A;"), (b, "struct B(super::a::A);")],
        &["fit/a.rs:1 → fit/b.rs:1 → fit/a.rs"],
    );
    check(
        &[
            (a, "use crate::fit::{c::C, b};\nstruct A;\nfn go() { b::run(); }"),
            (b, "use super::c;\nfn run() {\n    c::walk();\n}"),
            (c, "struct C;\nfn walk(of: crate::fit::a::A) {}"),
        ],
        &["fit/a.rs:3 → fit/b.rs:3 → fit/c.rs:2 → fit/a.rs", "fit/a.rs:1 → fit/c.rs:2 → fit/a.rs"],
    );
    // Followed through what is re-exported, which is no use itself; `B` is made by a macro.
    check(
        &[root, (a, "use super::B;\nstruct A;\nfn go() {}"), (b, "made!(B);\nfn f() { super::go(); }")],
        &["fit/a.rs:1 → fit/b.rs:2 → fit/a.rs"],
    );
    check(
        &[("season/mod.rs", "pub use crate::fit::A as Other;"), root, (a, "use crate::season::Other;\nstruct A;")],
        &[],
    );
    check(
        &[
            ("season/mod.rs", "pub use self::b::run;\nmod b;"),
            ("season/b.rs", "use crate::fit::A as Other;\nfn run() {}"),
            root,
            (a, "struct A;\nfn f() { crate::season::run(); }"),
        ],
        &["fit/a.rs:2 → season/b.rs:1 → fit/a.rs"],
    );
    // Code in a `mod.rs` is used and uses like any other.
    check(
        &[("fit/mod.rs", "mod a;\nfn own() { a::go(); }"), (a, "fn go() { super::own(); }")],
        &["fit/a.rs:1 → fit/mod.rs:2 → fit/a.rs"],
    );
    check(
        &[("fit/mod.rs", "mod a;\npub use a::A;\nfn own() -> A {}"), (a, "struct A;\nfn f() { super::own(); }")],
        &["fit/a.rs:2 → fit/mod.rs:3 → fit/a.rs"],
    );
}

#[test]
fn what_is_no_use_makes_no_circle() {
    let (a, b) = ("fit/a.rs", "fit/b.rs");
    let uses_a = (b, "use super::a::A;\nstruct B;");
    check(&[(a, "struct A;\n// super::b::B\nconst S: &str = \"super::b::B\";"), uses_a], &[]);
    check(&[(a, "struct A;\n#[cfg(test)]\nmod tests {\n    use super::super::b::B;\n}"), uses_a], &[]);
    check(&[(a, "struct A;\n#[cfg(test)]\nuse super::{b::B};\n#[cfg(test)]\nfn f(b: super::b::B) {}"), uses_a], &[]);
    check(&[(a, "struct A;\n#[cfg(test)]\nmod samples;"), uses_a, ("fit/a/samples.rs", "use crate::fit::b::B;")], &[]);
    check(&[(a, "struct A { pub(in super::b) b: u8 }\nfn f(B: u8) -> u8 { self.b() }"), uses_a], &[]);
    check(
        &[("fit/mod.rs", "mod a;\nmod b;\npub use a::A;\npub use b::B;"), (a, "struct A;"), (b, "use super::A;")],
        &[],
    );
    // A variable of the name of a module, and a module of the name of a function in it.
    check(
        &[
            ("fit/mod.rs", "mod b;\npub use b::b;"),
            (b, "pub fn b() {}\nfn f(a: u8) -> u8 { a }"),
            (a, "use super::b;\nfn g() { b(); }"),
        ],
        &[],
    );
}

/// For every use that is part of a circle the shortest circle through it, each circle once and from the
/// file that comes first.
fn circles(uses: &[Use]) -> BTreeSet<Vec<String>> {
    let mut next: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for each in uses {
        next.entry(&each.from).or_default().insert(&each.to);
    }
    let mut found = BTreeSet::new();
    for (from, targets) in &next {
        for to in targets {
            if let Some(mut circle) = way(&next, to, from) {
                let first = circle.iter().enumerate().min_by_key(|(_, file)| *file).map_or(0, |(n, _)| n);
                circle.rotate_left(first);
                found.insert(circle.into_iter().map(str::to_owned).collect());
            }
        }
    }
    found
}

/// The files on the shortest way.
fn way<'a>(next: &BTreeMap<&'a str, BTreeSet<&'a str>>, from: &'a str, to: &'a str) -> Option<Vec<&'a str>> {
    let mut before = BTreeMap::from([(from, from)]);
    let mut waiting = VecDeque::from([from]);
    while let Some(at) = waiting.pop_front() {
        if at == to {
            let mut way = vec![at];
            while let Some(&file) = way.last().filter(|file| **file != from) {
                way.push(before[file]);
            }
            way.reverse();
            return Some(way);
        }
        for &then in next.get(at).into_iter().flatten() {
            if !before.contains_key(then) {
                before.insert(then, at);
                waiting.push_back(then);
            }
        }
    }
    None
}

/// `a.rs:1 → b.rs:7 → a.rs`: each file with the line where it uses the next.
fn said(circle: &[String], uses: &[Use]) -> String {
    let mut parts = Vec::new();
    for (file, then) in circle.iter().zip(circle.iter().cycle().skip(1)) {
        let line = uses.iter().find(|each| each.from == *file && each.to == *then).map_or(0, |each| each.line);
        parts.push(format!("{file}:{line}"));
    }
    parts.extend(circle.first().cloned());
    parts.join(" → ")
}
