//! Finds the line of an entry in a season file, for what is only found wrong after reading: the
//! reader's values do not carry their places.

use crate::store::library::LineCol;

/// Where entry `index` of the season's list `list` begins. The text has been read without error.
pub(super) fn entry(text: &str, list: &str, index: usize) -> Option<LineCol> {
    let mut rest = text;
    let mut depth = 0_usize;
    let mut word = "";
    let mut inside = false;
    let mut found = 0;
    let mut at_start = false;
    loop {
        rest = skip_blanks(rest);
        let c = rest.chars().next()?;
        if at_start && !matches!(c, ']' | ',') {
            if found == index {
                return Some(line_col(text, text.len() - rest.len()));
            }
            found += 1;
            at_start = false;
        }
        let length = token(rest, c);
        match c {
            '(' | '[' | '{' => {
                depth += 1;
                inside = inside || (depth == 2 && c == '[' && word == list);
                at_start = inside && depth == 2;
            }
            ')' | ']' | '}' => {
                depth = depth.checked_sub(1)?;
                if inside && depth < 2 {
                    return None;
                }
            }
            ',' => at_start = inside && depth == 2,
            ':' => {}
            _ => word = rest.get(..length)?,
        }
        rest = rest.get(length..)?;
    }
}

/// Where the value of a field begins, through entries within entries: `["settings", "frost", "date"]`; or of the
/// last on that way that is written. The text has been read without error.
pub(super) fn field(text: &str, path: &[&str]) -> Option<LineCol> {
    let mut rest = text;
    let (mut depth, mut passed) = (0, 0);
    let mut word = "";
    let mut found = None;
    loop {
        rest = skip_blanks(rest);
        let Some(c) = rest.chars().next() else { return found };
        let length = token(rest, c);
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' if depth == passed => return found,
            ')' | ']' | '}' => depth -= 1,
            ':' if depth == passed + 1 && path.get(passed) == Some(&word) => {
                let value = skip_blanks(rest.get(length..)?);
                found = Some(line_col(text, text.len() - value.len()));
                passed += 1;
                if passed == path.len() {
                    return found;
                }
            }
            ':' | ',' => {}
            _ => word = rest.get(..length)?,
        }
        rest = rest.get(length..)?;
    }
}

fn line_col(text: &str, at: usize) -> LineCol {
    let before = text.get(..at).unwrap_or(text);
    let line = before.rsplit('\n').next().unwrap_or(before);
    LineCol { line: before.matches('\n').count() + 1, col: line.chars().count() + 1 }
}

fn skip_blanks(text: &str) -> &str {
    let mut rest = text.trim_start();
    loop {
        let after = if rest.starts_with("//") {
            rest.find('\n').map_or("", |end| &rest[end..])
        } else if rest.starts_with("/*") {
            &rest[block_comment(rest)..]
        } else {
            return rest;
        };
        rest = after.trim_start();
    }
}

fn block_comment(text: &str) -> usize {
    let mut depth = 0_usize;
    let mut at = 0;
    while let Some(rest) = text.get(at..) {
        if rest.starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest.starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            match rest.chars().next() {
                Some(c) => at += c.len_utf8(),
                None => break,
            }
        }
    }
    text.len()
}

/// Bytes of the bracket, sign, word, number or text that `rest` starts with.
fn token(rest: &str, first: char) -> usize {
    if first == '"' {
        let mut escaped = false;
        let end = rest.bytes().enumerate().skip(1).find(|&(_, b)| {
            let ends = b == b'"' && !escaped;
            escaped = b == b'\\' && !escaped;
            ends
        });
        return end.map_or(rest.len(), |(i, _)| i + 1);
    }
    if let Some(raw) = rest.strip_prefix('r') {
        let fence = raw.bytes().take_while(|&b| b == b'#').count();
        if raw[fence..].starts_with('"') {
            let close = format!("\"{}", "#".repeat(fence));
            let body = &raw[fence + 1..];
            return body.find(&close).map_or(rest.len(), |end| 1 + fence + 1 + end + close.len());
        }
    }
    if "()[]{},:".contains(first) {
        return 1;
    }
    let end = rest.char_indices().skip(1).find(|&(_, c)| c.is_whitespace() || "()[]{},:\"/".contains(c));
    end.map_or(rest.len(), |(i, _)| i)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = r##"// sowings: [ (
(
    name: "sowings: [(", /* sowings: [ /* ( */ */
    note: r#"a " sowings: [("#,
    shelves: [(id: 1), (id: 2, sowings: [(3)])],
    sowings: [
        (id: 4, lots: [(id: 5), (id: 6)]), // the first
        /* and */ (id: 7),
        Sowing(id: 8),
    ],
    spots: [],
)
"##;

    #[track_caller]
    fn check(list: &str, index: usize, wanted: Option<(usize, usize)>) {
        assert_eq!(entry(TEXT, list, index), wanted.map(|(line, col)| LineCol { line, col }), "{list} {index}");
    }

    #[test]
    fn entries_are_found_past_comments_texts_and_lists_within() {
        check("sowings", 0, Some((7, 9)));
        check("sowings", 1, Some((8, 19)));
        check("sowings", 2, Some((9, 9)));
        check("sowings", 3, None);
        check("shelves", 0, Some((5, 15)));
        check("shelves", 1, Some((5, 24)));
        check("spots", 0, None);
        check("racks", 0, None);
    }

    #[test]
    fn fields_are_found_on_their_way() {
        let text = "( // name: 1
  note: \"name: 2\", places: [(name: 3)],
  settings: (gap: 1, frost: (date: \"x\", table: [(date: 2)], years: 4)),
  name: \"n\")";
        let at = |path: &[&str]| field(text, path).map(|at| (at.line, at.col));
        assert_eq!(at(&["name"]), Some((4, 9)));
        assert_eq!(at(&["settings", "gap"]), Some((3, 19)));
        assert_eq!(at(&["settings", "frost", "years"]), Some((3, 68)));
        // what isn't written is looked for in what holds it
        assert_eq!(at(&["settings", "frost", "station"]), Some((3, 29)));
        assert_eq!(at(&["settings", "weeks"]), Some((3, 13)));
        assert_eq!(at(&["away"]), None);
    }
}
