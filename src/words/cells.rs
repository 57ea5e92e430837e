//! Text for the tables of other programs.

/// Where a program for tables would take the text for a formula, an apostrophe before it says that it is
/// none. What is written by the grower only: our own figures may begin with a minus.
///
/// Signs: = + - @ and their wide forms, as programs take them in the East; a quotation mark, as those behind
/// it may be read without it. Common practice, no source.
pub(super) fn text_cell(text: &str) -> String {
    const SIGNS: [char; 9] = ['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}', '"'];
    if text.trim_start().starts_with(SIGNS) { format!("'{text}") } else { text.to_owned() }
}

/// Lines that may be taken up by a program for tables, a cell each.
pub fn as_column(lines: &[String]) -> String {
    lines.iter().map(|line| text_cell(line)).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_would_be_a_formula_is_text() {
        for text in ["=1+1", "+1", "-1", "@SUM(A1)", " =1+1", "\t=1+1", "\r=1", "\u{ff1d}1", "\"=1+1\""] {
            assert_eq!(text_cell(text), format!("'{text}"));
        }
        for text in ["tomato", "To 1", "48 x 18 in", "'Early Red'", "7 = 3 + 4", "", "−3"] {
            assert_eq!(text_cell(text), text);
        }
        assert_eq!(as_column(&["=a: sown".to_owned(), "b".to_owned()]), "'=a: sown\nb");
    }
}
