//! Which column is which: by its heading, in the words that growers write over them.

use super::TableError;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Column {
    Crop,
    Variety,
    Plants,
    /// Days from sowing to planting out.
    Days,
    /// Weeks from the frost: before it if negative, or if the heading or the cell says so.
    Weeks,
    Sow,
    Out,
    Note,
}

/// A column that the grower names: `out=Plantation`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assigned {
    pub column: Column,
    pub heading: String,
}

const ALL: [Column; 8] = [
    Column::Crop,
    Column::Variety,
    Column::Plants,
    Column::Days,
    Column::Weeks,
    Column::Sow,
    Column::Out,
    Column::Note,
];

impl Column {
    pub const fn name(self) -> &'static str {
        match self {
            Self::Crop => "crop",
            Self::Variety => "variety",
            Self::Plants => "plants",
            Self::Days => "days",
            Self::Weeks => "weeks",
            Self::Sow => "sow",
            Self::Out => "out",
            Self::Note => "note",
        }
    }

    /// Reads `out=Set out on`.
    ///
    /// # Errors
    /// What would be right.
    pub fn assign(text: &str) -> Result<Assigned, String> {
        let names = || ALL.map(Self::name).join(", ");
        let (name, heading) = text.split_once('=').ok_or_else(|| {
            format!("found {text:?}; write NAME=HEADING, such as \"out=Set out on\", NAME being one of {}", names())
        })?;
        let column = ALL.into_iter().find(|column| column.name() == name.trim().to_lowercase());
        let column = column.ok_or_else(|| format!("found {name:?}; it must be one of {}", names()))?;
        Ok(Assigned { column, heading: heading.trim().to_owned() })
    }

    /// Whole headings, lower case, that mean it.
    const fn headings(self) -> &'static [&'static str] {
        match self {
            Self::Crop => &["crop", "plant", "vegetable", "species", "kind", "what", "name"],
            Self::Variety => &["variety", "cultivar", "sort"],
            Self::Plants => &["plants", "number", "how many", "quantity", "plants wanted", "count", "no."],
            Self::Days => &[
                "days",
                "days from sowing",
                "days to set out",
                "days to planting out",
                "days indoors",
                "days from sowing to planting out",
                "days from sowing to setting out",
            ],
            Self::Weeks => &[
                "weeks",
                "weeks from frost",
                "weeks after frost",
                "weeks before frost",
                "weeks from last frost",
                "weeks after last frost",
                "weeks before last frost",
                "weeks before (-) or after (+) frost",
            ],
            Self::Sow => &["sow", "sow on", "sowing", "sowing date", "sow date", "sown", "start", "seed date"],
            Self::Out => &[
                "out",
                "plant out",
                "planting out",
                "set out",
                "setting out",
                "set out on",
                "plant out date",
                "planting out date",
                "set out date",
                "transplant",
                "transplant date",
            ],
            Self::Note => &["note", "notes", "remarks", "comment", "comments"],
        }
    }
}

pub(super) struct Columns {
    at: Vec<(Column, usize)>,
    /// Numbers under the heading are weeks before the frost.
    pub(super) weeks_before: bool,
}

impl Columns {
    pub(super) fn find(headings: &[String], assigned: &[Assigned]) -> Result<Self, TableError> {
        let listed = || headings.iter().map(|heading| format!("{heading:?}")).collect::<Vec<_>>().join(", ");
        let mut at: Vec<(Column, usize)> = Vec::new();
        for Assigned { column, heading } in assigned {
            let same = |one: &String| one.to_lowercase() == heading.to_lowercase();
            let found = headings.iter().position(same).ok_or_else(|| TableError::NoSuchColumn {
                column: headings.len(),
                name: heading.clone(),
                found: listed(),
            })?;
            at.push((*column, found));
        }
        for column in ALL {
            if at.iter().any(|(one, _)| *one == column) {
                continue;
            }
            let means = |(place, heading): &(usize, &String)| {
                let heading = plain(heading);
                column.headings().contains(&heading.as_str()) && !at.iter().any(|(_, taken)| taken == place)
            };
            let found: Vec<usize> = headings.iter().enumerate().filter(means).map(|(place, _)| place).collect();
            match *found {
                [] => {}
                [place] => at.push((column, place)),
                [one, other, ..] => {
                    let name = |place: usize| headings.get(place).cloned().unwrap_or_default();
                    let (column_at, what) = (other + 1, column.name());
                    return Err(TableError::Twice { column: column_at, what, one: name(one), other: name(other) });
                }
            }
        }
        let columns = Self { at, weeks_before: false };
        if columns.place(Column::Crop).is_none() {
            return Err(TableError::NoCrop { found: listed() });
        }
        let over_weeks = columns.place(Column::Weeks).and_then(|place| headings.get(place)).map(|text| plain(text));
        let before = over_weeks.is_some_and(|heading| heading.contains("before") && !heading.contains("after"));
        Ok(Self { weeks_before: before, ..columns })
    }

    pub(super) fn place(&self, column: Column) -> Option<usize> {
        self.at.iter().find(|(one, _)| *one == column).map(|(_, place)| *place)
    }

    pub(super) fn named(&self, headings: &[String]) -> Vec<(String, Option<Column>)> {
        let taken = |place: usize| self.at.iter().find(|(_, at)| *at == place).map(|(column, _)| *column);
        headings.iter().enumerate().map(|(place, heading)| (heading.clone(), taken(place))).collect()
    }
}

/// Lower case, one space between words, no unit behind.
fn plain(heading: &str) -> String {
    let lower = heading.to_lowercase().replace(['_', '-'], " ");
    let words: Vec<&str> = lower.split_whitespace().collect();
    words.join(" ").trim_end_matches(':').to_owned()
}
