//! A page of the window never imports a page.

use std::collections::BTreeSet;

use crate::graph::uses;
use crate::{none, sources};

#[test]
fn a_page_imports_no_page() {
    none(faults(&sources()));
}

#[test]
fn a_planted_import_is_found() {
    let of = |text: &str| {
        let sources = [
            ("window/pages/mod.rs", "mod crops;\nmod guests;"),
            ("window/pages/crops/mod.rs", "mod draft;\npub use draft::Draft;"),
            ("window/pages/crops/draft.rs", "use super::super::crops::Page;\nstruct Draft;"),
            ("window/pages/guests.rs", text),
            ("window/menu.rs", "use crate::window::pages::crops::Draft;"),
        ];
        let sources: Vec<_> = sources.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect();
        faults(&sources)
    };
    assert_eq!(of("use crate::window::kit::Field;"), Vec::<String>::new());
    let fault = "src/window/pages/guests.rs:1: a page uses a page, window/pages/crops/draft.rs";
    assert_eq!(of("use super::crops::Draft;"), [fault]);
    assert_eq!(of("fn f() { crate::window::pages::crops::Draft::new(); }"), [fault]);
}

fn faults(sources: &[(String, String)]) -> Vec<String> {
    let mut faults = Vec::new();
    let mut seen = BTreeSet::new();
    for each in uses(sources) {
        if let (Some(page), Some(other)) = (page(&each.from), page(&each.to))
            && page != other
            // One line says enough of two files.
            && seen.insert((each.from.clone(), each.to.clone()))
        {
            faults.push(format!("src/{}:{}: a page uses a page, {}", each.from, each.line, each.to));
        }
    }
    faults
}

/// The page that a file is part of.
fn page(file: &str) -> Option<&str> {
    let name = file.strip_prefix("window/pages/")?.split('/').next()?.trim_end_matches(".rs");
    (name != "mod").then_some(name)
}
