use std::borrow::Cow;
use std::path::Path;

/// Whether it would break a line, move a terminal's cursor, or turn round what follows: controls, line and
/// paragraph separators, overrides and isolates of the writing direction (Unicode Standard Annex 9, table 1).
pub fn breaks_a_line(c: char) -> bool {
    c.is_control() || matches!(c, '\u{2028}' | '\u{2029}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Text from outside as it may stand within a line: what [`breaks_a_line`] is written out, `\n` or `\u{1b}`.
pub fn one_line(text: &str) -> Cow<'_, str> {
    if !text.contains(breaks_a_line) {
        return text.into();
    }
    let mut line = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        if breaks_a_line(c) { line.extend(c.escape_default()) } else { line.push(c) }
    }
    line.into()
}

/// A path as it may stand within a line; what is no Unicode in it is shown as U+FFFD.
pub fn path_text(path: &Path) -> String {
    one_line(&path.to_string_lossy()).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_breaks_a_line_is_written_out() {
        assert_eq!(one_line("Tomate «Ölga» 🍅"), "Tomate «Ölga» 🍅");
        assert_eq!(one_line("a\nFits"), "a\\nFits");
        assert_eq!(one_line("\u{1b}[31mred"), "\\u{1b}[31mred");
        assert_eq!(one_line("a\u{202E}b\u{2028}c\u{85}"), "a\\u{202e}b\\u{2028}c\\u{85}");
        assert_eq!(path_text(Path::new("spring\r.ron")), "spring\\r.ron");
    }
}
