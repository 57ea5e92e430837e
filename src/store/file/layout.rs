//! Breaks a season's text into lines that a person can read and a diff can show.
//!
//! What fits on one line stands on one line: a shelf, a spot, a step. Of the rest each part has
//! its own, with a comma behind the last too, so that a change touches the lines it means.

/// Columns that a line may fill.
const LINE: usize = 110;
/// Columns of an entry without lists in it: a spot is one line, whatever there is to say of it.
const ENTRY_LINE: usize = 150;
/// The season itself and its lists have a line for every entry, however short they are.
const ALWAYS_BROKEN: usize = 2;

/// Lays out RON that was written without any blanks.
pub(super) fn lay_out(compact: &str) -> String {
    let mut out = String::with_capacity(compact.len() * 3 / 2);
    let mut broken: Vec<bool> = Vec::new();
    let mut line_start = 0;
    let mut rest = compact;
    while let Some(c) = rest.chars().next() {
        let token = if c == '"' { string_end(rest) } else { c.len_utf8() };
        let (text, after) = rest.split_at(token);
        match c {
            '"' => push_string(&mut out, text),
            '(' | '[' | '{' => {
                let (line, lists) = if broken.len() == ALWAYS_BROKEN { (ENTRY_LINE, LINE) } else { (LINE, LINE) };
                // The comma behind it wants a column too.
                let used = out[line_start..].chars().count() + 1;
                let fits = fits(rest, line.saturating_sub(used), lists.saturating_sub(used));
                let empty = after.starts_with([')', ']', '}']);
                let inside_flat = broken.last() == Some(&false);
                broken.push(!empty && !inside_flat && (broken.len() < ALWAYS_BROKEN || !fits));
                out.push(c);
            }
            ')' | ']' | '}' => {
                if broken.pop() == Some(true) {
                    out.push(',');
                    new_line(&mut out, &mut line_start, broken.len());
                }
                out.push(c);
            }
            ':' => out.push_str(": "),
            _ => out.push(c),
        }
        if matches!(c, '(' | '[' | '{' | ',') {
            match broken.last() {
                Some(true) => new_line(&mut out, &mut line_start, broken.len()),
                Some(false) if c == ',' => out.push(' '),
                _ => {}
            }
        }
        rest = after;
    }
    out.push('\n');
    out
}

fn new_line(out: &mut String, line_start: &mut usize, depth: usize) {
    out.push('\n');
    *line_start = out.len();
    out.extend(std::iter::repeat_n("    ", depth));
}

/// Whether the group at the start of `text` fits into `room` columns when written flat; into
/// `room_with_lists`, if there are lists in it.
fn fits(text: &str, mut room: usize, room_with_lists: usize) -> bool {
    let (mut depth, mut width) = (0_usize, 0);
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let token = if c == '"' { string_end(rest) } else { c.len_utf8() };
        width += match c {
            '"' => rest[..token].chars().count(),
            ',' | ':' => 2,
            _ => 1,
        };
        if c == '[' {
            room = room_with_lists;
        }
        if width > room {
            return false;
        }
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' if depth <= 1 => return true,
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
        rest = &rest[token..];
    }
    true
}

/// Where the string literal at the start of `text` ends.
fn string_end(text: &str) -> usize {
    let mut escaped = false;
    for (i, b) in text.bytes().enumerate().skip(1) {
        match b {
            _ if escaped => escaped = false,
            b'\\' => escaped = true,
            b'"' => return i + 1,
            _ => {}
        }
    }
    text.len()
}

/// A `'` needs no escape inside `"`, though it gets one.
fn push_string(out: &mut String, literal: &str) {
    let mut chars = literal.chars();
    while let Some(c) = chars.next() {
        match (c, c == '\\') {
            (_, true) => match chars.next() {
                Some('\'') => out.push('\''),
                Some(escaped) => out.extend([c, escaped]),
                None => out.push(c),
            },
            (c, false) => out.push(c),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_entries_stand_on_one_line_and_long_ones_are_broken() {
        let (wide, too_wide) = ("x".repeat(100), "x".repeat(150));
        let text = lay_out(&format!(
            r#"(a:1,b:[(c:2,d:[]),(e:"{wide}",f:Own(g:3)),(e:"{wide}",f:[3]),(e:"{too_wide}",f:3)],h:(i:4))"#
        ));
        let wanted = format!(
            r#"(
    a: 1,
    b: [
        (c: 2, d: []),
        (e: "{wide}", f: Own(g: 3)),
        (
            e: "{wide}",
            f: [3],
        ),
        (
            e: "{too_wide}",
            f: 3,
        ),
    ],
    h: (
        i: 4,
    ),
)
"#
        );
        assert_eq!(text, wanted);
    }

    #[test]
    fn brackets_and_quotes_inside_text_are_text() {
        let text = lay_out(r#"(a:[(b:"4\' 6\\\" (,:[",c:1)])"#);
        assert_eq!(text, "(\n    a: [\n        (b: \"4' 6\\\\\\\" (,:[\", c: 1),\n    ],\n)\n");
    }
}
