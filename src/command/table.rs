//! Columns that line up at a terminal.

#[derive(Clone, Copy)]
pub(super) enum Align {
    Left,
    Right,
}

/// Rows of cells under a head; a row without cells is an empty line.
pub(super) struct Table {
    columns: Vec<(String, Align)>,
    rows: Vec<Vec<String>>,
}

impl Table {
    pub(super) fn new<const N: usize>(heads: [impl Into<String>; N], aligns: [Align; N]) -> Self {
        Self { columns: heads.map(Into::into).into_iter().zip(aligns).collect(), rows: Vec::new() }
    }

    pub(super) fn row(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    pub(super) fn gap(&mut self) {
        self.rows.push(Vec::new());
    }

    /// Each line ends with a line break; no line ends with a space.
    pub(super) fn text(&self) -> String {
        let head: Vec<String> = self.columns.iter().map(|(name, _)| name.clone()).collect();
        let width = |column: usize| {
            let cells = self.rows.iter().filter_map(|row| row.get(column));
            cells.chain(head.get(column)).map(|cell| cell.chars().count()).max().unwrap_or(0)
        };
        let widths: Vec<usize> = (0..self.columns.len()).map(width).collect();
        let mut text = String::new();
        for row in std::iter::once(&head).chain(&self.rows) {
            let mut line = String::new();
            for ((cell, width), (_, align)) in row.iter().zip(&widths).zip(&self.columns) {
                let width = *width;
                let padded = match align {
                    Align::Left => format!("{cell:<width$}  "),
                    Align::Right => format!("{cell:>width$}  "),
                };
                line.push_str(&padded);
            }
            text.push_str(line.trim_end());
            text.push('\n');
        }
        text
    }
}
