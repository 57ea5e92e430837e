//! Letters have the sizes of the one scale in `window/theme.rs`: none is written where it is used.

use crate::{none, sources};

#[test]
fn sizes_of_letters_are_those_of_the_scale() {
    let sources = sources();
    let window = sources.iter().filter(|(path, _)| path.starts_with("window/") && path != "window/theme.rs");
    let found: Vec<String> = window.flat_map(|(path, text)| written_there(path, text)).collect();
    none(found);
}

#[test]
fn a_planted_size_is_found() {
    let text = "fn a() {\n    ui.label(big).font(theme::strong(17.5));\n    theme::strong(theme::HEAD_PT);\n}";
    assert_eq!(written_there("window/a.rs", text), ["window/a.rs:2: theme::strong(17.5)"]);
    assert_eq!(written_there("window/b.rs", "FontId::proportional(9.0)"), ["window/b.rs:1: FontId::proportional(9.0)"]);
}

fn written_there(path: &str, text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (at, line) in text.lines().enumerate() {
        for start in ["theme::strong(", "FontId::proportional(", "FontId::monospace("] {
            for (column, _) in line.match_indices(start) {
                let call = line.get(column..).unwrap_or_default();
                if call.get(start.len()..).is_some_and(|size| size.starts_with(|c: char| c.is_ascii_digit())) {
                    let end = call.find(')').map_or(call.len(), |end| end + 1);
                    found.push(format!("{path}:{}: {}", at + 1, call.get(..end).unwrap_or_default()));
                }
            }
        }
    }
    found
}
