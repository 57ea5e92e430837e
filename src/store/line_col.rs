/// A place in a text, counted from 1; columns in characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineCol {
    pub line: usize,
    pub col: usize,
}

impl LineCol {
    /// Where a byte stands in a text that is good UTF-8 up to there; a mark of the byte order is no column.
    pub(super) fn of_byte(bytes: &[u8], at: usize) -> Self {
        let before = String::from_utf8_lossy(bytes.get(..at).unwrap_or(bytes));
        let before = before.trim_start_matches('\u{feff}');
        let line = before.rsplit('\n').next().unwrap_or_default();
        Self { line: before.matches('\n').count() + 1, col: line.chars().count() + 1 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters() {
        assert_eq!(LineCol::of_byte("\u{feff}ab".as_bytes(), 5), LineCol { line: 1, col: 3 });
        assert_eq!(LineCol::of_byte("ä\nöü!".as_bytes(), 7), LineCol { line: 2, col: 3 });
        assert_eq!(LineCol::of_byte(b"", 0), LineCol { line: 1, col: 1 });
    }
}
