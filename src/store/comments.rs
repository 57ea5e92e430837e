//! Notes that somebody wrote into a season's file by hand, which saving would drop.

use crate::words::files::OPENS_A_FILE;

/// Whether the text has comments that the program did not write.
pub(super) fn has_own(text: &str) -> bool {
    let mut rest = text;
    while let Some(at) = rest.find(['/', '"', '\'', 'r']) {
        let (before, found) = rest.split_at(at);
        rest = if let Some(comment) = found.strip_prefix("//") {
            let (line, after) = comment.split_once('\n').unwrap_or((comment, ""));
            if line.trim() != OPENS_A_FILE && !line.trim().is_empty() {
                return true;
            }
            after
        } else if found.starts_with("/*") {
            return true;
        } else if let Some(inside) = found.strip_prefix('"') {
            after_string(inside)
        } else if let Some(inside) = found.strip_prefix('\'') {
            after_char(inside)
        } else {
            let is_word = before.ends_with(|c: char| c.is_alphanumeric() || c == '_');
            let raw = found.strip_prefix('r').filter(|_| !is_word);
            raw.and_then(after_raw_string).unwrap_or_else(|| found.get(1..).unwrap_or(""))
        };
    }
    false
}

fn after_string(inside: &str) -> &str {
    let mut escaped = false;
    let end = inside.find(|c| {
        let ends = c == '"' && !escaped;
        escaped = c == '\\' && !escaped;
        ends
    });
    end.and_then(|end| inside.get(end + 1..)).unwrap_or("")
}

/// After `'x'` or `'\''`; a quote that opens nothing is passed over.
fn after_char(inside: &str) -> &str {
    let length = if inside.starts_with('\\') { 2 } else { inside.chars().next().map_or(0, char::len_utf8) };
    inside.get(length..).and_then(|end| end.strip_prefix('\'')).unwrap_or(inside)
}

/// After `"…"` or `##"…"##`, if there is one.
fn after_raw_string(found: &str) -> Option<&str> {
    let inside = found.trim_start_matches('#');
    let hashes = found.get(..found.len() - inside.len())?;
    let inside = inside.strip_prefix('"')?;
    Some(inside.split_once(&format!("\"{hashes}")).map_or("", |(_, after)| after))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_are_told_from_text() {
        for (text, expected) in [
            ("(name: \"Spring\")", false),
            ("// by hand\n(name: \"Spring\")", true),
            ("(name: \"Spring\") // last", true),
            ("(name: \"Spring\", /* old */)", true),
            ("(name: \"http://x\", note: \"a \\\" // b\")", false),
            ("(name: \"a \\\\\" // b\n)", true),
            ("(note: r\"a \\\" // b\n)", true),
            ("(note: r#\"a \" // b\"#)", false),
            ("(note: r##\"a \"# // b\"##, c: '/', d: '\"', e: '\\'') // x", true),
            ("(c: '\"', d: '\"')", false),
            ("//\n(name: \"\")\n//   \n", false),
        ] {
            assert_eq!(has_own(text), expected, "{text}");
        }
    }

    #[test]
    fn what_the_program_writes_has_none_of_its_own() {
        let text = crate::store::to_text(&crate::store::sample());
        assert!(text.starts_with("// "));
        assert!(!has_own(&text));
        assert!(has_own(&text.replace("(\n", "(\n    // mine\n")));
    }
}
