//! Takes in a grower's own sowing table, as a spreadsheet writes it (CSV): what each column is, what each
//! row says, and which rows break their own rule.
//!
//! Reads and checks; it changes nothing. What was read becomes sowings by [`Table::edit`].

mod cells;
mod columns;
mod error;
mod planned;
mod row;
mod table;
#[cfg(test)]
mod tests;

pub use columns::{Assigned, Column, Heading, NotAssigned, Which};
pub use error::{NotLoaded, TableError};
pub use planned::Planned;
pub use row::{Odd, OddKind, Row, RowFault};
pub use table::{Table, Wish, headings, load, read};
