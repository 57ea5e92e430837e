//! Just enough of Rust's grammar to read the sources by.

#[derive(Clone, Debug)]
pub(crate) struct Token {
    /// Of a string literal: `"`, then what it says.
    pub(crate) text: String,
    pub(crate) line: usize,
}

impl Token {
    pub(crate) fn is_word(&self) -> bool {
        self.text.starts_with(|c: char| c.is_alphanumeric() || c == '_')
    }

    /// What a string literal says, without escapes.
    pub(crate) fn said(&self) -> Option<&str> {
        self.text.strip_prefix('"')
    }
}

pub(crate) fn is(tokens: &[Token], i: usize, text: &str) -> bool {
    tokens.get(i).is_some_and(|token| token.text == text)
}

/// Whether `words` stand at `i`, one after the other.
pub(crate) fn stand(tokens: &[Token], i: usize, words: &[&str]) -> bool {
    words.iter().enumerate().all(|(n, word)| is(tokens, i + n, word))
}

/// Just after the bracket that closes the one at `open`.
pub(crate) fn after_bracket(tokens: &[Token], open: usize) -> usize {
    let mut depth = 0_usize;
    for (i, token) in tokens.iter().enumerate().skip(open) {
        match token.text.as_str() {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => {
                depth = depth.saturating_sub(1);
                if depth == 0 {
                    return i + 1;
                }
            }
            _ => {}
        }
    }
    tokens.len()
}

const TEST_ONLY: [&str; 7] = ["#", "[", "cfg", "(", "test", ")", "]"];

/// What is left when everything behind `#[cfg(test)]` is gone, and the modules that were declared so.
pub(crate) fn without_tests(tokens: &[Token]) -> (Vec<Token>, Vec<String>) {
    let (mut kept, mut modules) = (Vec::new(), Vec::new());
    let mut i = 0;
    while let Some(token) = tokens.get(i) {
        if !stand(tokens, i, &TEST_ONLY) {
            kept.push(token.clone());
            i += 1;
            continue;
        }
        i += TEST_ONLY.len();
        while let Some(token) = tokens.get(i) {
            match token.text.as_str() {
                "mod" => modules.extend(tokens.get(i + 1).map(|name| name.text.clone())),
                ";" => break,
                "{" if !in_use(tokens, i) => break,
                _ => {}
            }
            i = if ["(", "[", "{"].contains(&token.text.as_str()) { after_bracket(tokens, i) } else { i + 1 };
        }
        i = if is(tokens, i, "{") { after_bracket(tokens, i) } else { i + 1 };
    }
    (kept, modules)
}

/// Whether the brace at `i` is part of a `use` tree.
fn in_use(tokens: &[Token], i: usize) -> bool {
    i > 0 && is(tokens, i - 1, "::")
}

/// One path of a `use` tree.
pub(crate) struct Branch {
    pub(crate) line: usize,
    /// Ends in `*` for a glob.
    pub(crate) path: Vec<String>,
    /// The name after `as`.
    pub(crate) renamed: Option<String>,
}

/// Every path that a use-tree at `i` spells, `prefix` in front; gives where it ends.
pub(crate) fn branches(tokens: &[Token], mut i: usize, prefix: &mut Vec<String>, found: &mut Vec<Branch>) -> usize {
    let depth = prefix.len();
    while let Some(token) = tokens.get(i) {
        if token.text == "{" {
            i += 1;
            while tokens.get(i).is_some_and(|token| token.text != "}") {
                i = branches(tokens, i, prefix, found);
                i += usize::from(is(tokens, i, ","));
            }
            i += 1;
            break;
        }
        prefix.push(token.text.clone());
        i += 1;
        if !is(tokens, i, "::") {
            let renamed = is(tokens, i, "as").then(|| tokens.get(i + 1)).flatten().map(|name| name.text.clone());
            i += if renamed.is_some() { 2 } else { 0 };
            found.push(Branch { line: token.line, path: prefix.clone(), renamed });
            break;
        }
        i += 1;
    }
    prefix.truncate(depth);
    i
}

/// Words, strings, `::` and single signs, without comments and characters.
pub(crate) fn tokens(text: &str) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut rest = text;
    let mut line = 1;
    while let Some(c) = rest.chars().next() {
        let length = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            block_comment(rest)
        } else if let Some(length) = string(rest) {
            tokens.push(Token { text: format!("\"{}", plain(&rest[..length])), line });
            length
        } else if c == '\'' {
            character(rest)
        } else if c.is_alphanumeric() || c == '_' {
            let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len());
            tokens.push(Token { text: rest[..end].to_owned(), line });
            end
        } else if rest.starts_with("::") {
            tokens.push(Token { text: "::".to_owned(), line });
            2
        } else {
            if !c.is_whitespace() && c != '$' {
                tokens.push(Token { text: c.to_string(), line });
            }
            c.len_utf8()
        };
        line += rest[..length].matches('\n').count();
        rest = &rest[length..];
    }
    tokens
}

fn block_comment(text: &str) -> usize {
    let (mut depth, mut at) = (0_usize, 0);
    while at < text.len() {
        if text[at..].starts_with("/*") {
            depth += 1;
            at += 2;
        } else if text[at..].starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += text[at..].chars().next().map_or(1, char::len_utf8);
        }
    }
    text.len()
}

/// The length of the string literal that `text` starts with, raw or not.
fn string(text: &str) -> Option<usize> {
    let body = text.strip_prefix('b').or_else(|| text.strip_prefix('c')).unwrap_or(text);
    let before = text.len() - body.len();
    if let Some(raw) = body.strip_prefix('r') {
        let hashes = raw.len() - raw.trim_start_matches('#').len();
        let inner = raw[hashes..].strip_prefix('"')?;
        let close = format!("\"{}", "#".repeat(hashes));
        let end = inner.find(&close).map_or(inner.len(), |at| at + close.len());
        return Some(before + 1 + hashes + 1 + end);
    }
    let inner = body.strip_prefix('"')?;
    let mut escaped = false;
    for (at, c) in inner.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return Some(before + 1 + at + 1),
            _ => {}
        }
    }
    Some(text.len())
}

/// What a literal says: quotes, hashes and escapes gone.
fn plain(literal: &str) -> String {
    let body = literal.trim_start_matches(['b', 'c']);
    if let Some(raw) = body.strip_prefix('r') {
        return raw.trim_matches('#').trim_matches('"').to_owned();
    }
    let mut said = String::new();
    let mut chars = body.trim_start_matches('"').chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '"' => break,
            '\\' => match chars.next() {
                // The line goes on after the spaces that it starts with.
                Some('\n') => while chars.next_if(|c| c.is_whitespace()).is_some() {},
                Some('n' | 't' | 'r') => said.push(' '),
                Some('u') => {
                    let code: String = chars.by_ref().skip(1).take_while(|c| *c != '}').collect();
                    said.extend(u32::from_str_radix(&code, 16).ok().and_then(char::from_u32));
                }
                Some(other) => said.push(other),
                None => {}
            },
            _ => said.push(c),
        }
    }
    said
}

/// A character, or the sign of a lifetime alone.
fn character(text: &str) -> usize {
    let mut chars = text.char_indices().skip(1);
    match chars.next() {
        Some((_, '\\')) => text.char_indices().skip(3).find(|(_, c)| *c == '\'').map_or(1, |(at, _)| at + 1),
        Some(_) => match chars.next() {
            Some((at, '\'')) => at + 1,
            _ => 1,
        },
        None => 1,
    }
}
