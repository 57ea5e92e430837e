//! Which column is which: by its heading, in the words that growers write over them.

use super::error::TableError;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Column {
    Crop,
    Variety,
    Plants,
    /// What it is sown in.
    Container,
    /// Days from sowing to planting out.
    Days,
    /// Weeks from the frost: before it if negative, or if the heading or the cell says so.
    Weeks,
    Sow,
    Out,
    Note,
}

/// A column that the grower names: `out=Plantation`, `none=Sown last year`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assigned {
    /// `None`: it is not used.
    pub column: Option<Column>,
    pub which: Which,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Which {
    Heading(String),
    /// From 0; headings may be empty, or alike.
    Place(usize),
}

/// A column as it stands in the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heading {
    pub text: String,
    /// What it is taken for if nobody says otherwise.
    pub means: Option<Column>,
    /// Its cell in the first row.
    pub first: String,
}

/// Why a grower's word on a column was not understood.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotAssigned {
    #[error("found {0:?}; write NAME=HEADING, such as \"out=Set out on\", NAME being one of {names}", names = names())]
    Form(String),
    #[error("found {0:?}; it must be one of {names}", names = names())]
    Name(String),
}

fn names() -> String {
    format!("{}, {NONE}", ALL.map(Column::name).join(", "))
}

/// For a column that is not used.
const NONE: &str = "none";

const ALL: [Column; 9] = [
    Column::Crop,
    Column::Variety,
    Column::Plants,
    Column::Container,
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
            Self::Container => "container",
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
    pub fn assign(text: &str) -> Result<Assigned, NotAssigned> {
        let (name, heading) = text.split_once('=').ok_or_else(|| NotAssigned::Form(text.to_owned()))?;
        let wanted = name.trim().to_lowercase();
        let column = ALL.into_iter().find(|column| column.name() == wanted);
        if column.is_none() && wanted != NONE {
            return Err(NotAssigned::Name(name.to_owned()));
        }
        Ok(Assigned { column, which: Which::Heading(heading.trim().to_owned()) })
    }

    /// What a heading means by its words alone.
    pub(super) fn meant_by(heading: &str) -> Option<Self> {
        Some(match plain(heading).as_str() {
            "crop" | "plant" | "vegetable" | "species" | "kind" | "what" | "name" => Self::Crop,
            "variety" | "cultivar" | "sort" => Self::Variety,
            "plants" | "number" | "how many" | "quantity" | "plants wanted" | "count" | "no." => Self::Plants,
            "container" | "containers" | "sown in" | "cells" | "cell size" | "tray size" | "plug tray" => {
                Self::Container
            }
            "days"
            | "days from sowing"
            | "days to set out"
            | "days to planting out"
            | "days indoors"
            | "days from sowing to planting out"
            | "days from sowing to setting out" => Self::Days,
            "weeks"
            | "weeks from frost"
            | "weeks after frost"
            | "weeks before frost"
            | "weeks from last frost"
            | "weeks after last frost"
            | "weeks before last frost"
            | "weeks before (-) or after (+) frost" => Self::Weeks,
            "sow" | "sow on" | "sowing" | "sowing date" | "sow date" | "sown" | "start" | "seed date" => Self::Sow,
            "out" | "plant out" | "planting out" | "set out" | "setting out" | "set out on" | "plant out date"
            | "planting out date" | "set out date" | "transplant" | "transplant date" => Self::Out,
            "note" | "notes" | "remarks" | "comment" | "comments" => Self::Note,
            _ => return None,
        })
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
        let mut said: Vec<(Option<Column>, usize)> = Vec::new();
        for Assigned { column, which } in assigned {
            let found = match which {
                Which::Heading(name) => headings.iter().position(|one| one.to_lowercase() == name.to_lowercase()),
                Which::Place(place) => Some(*place).filter(|place| *place < headings.len()),
            };
            let found = found.ok_or_else(|| TableError::NoSuchColumn {
                column: headings.len(),
                name: match which {
                    Which::Heading(name) => name.clone(),
                    Which::Place(place) => (place + 1).to_string(),
                },
                found: listed(),
            })?;
            said.push((*column, found));
        }
        let mut at: Vec<(Column, usize)> = Vec::new();
        for column in ALL {
            let by_grower = said.iter().filter(|(one, _)| *one == Some(column)).map(|(_, place)| *place);
            let mut found: Vec<usize> = by_grower.collect();
            if found.is_empty() {
                let means = |(place, heading): &(usize, &String)| {
                    Column::meant_by(heading) == Some(column) && said.iter().all(|(_, taken)| taken != place)
                };
                found = headings.iter().enumerate().filter(means).map(|(place, _)| place).collect();
            }
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

#[cfg(test)]
mod tests {
    use super::*;

    fn found(headings: &[&str], assigned: &[&str]) -> Result<Vec<Option<Column>>, TableError> {
        let headings: Vec<String> = headings.iter().map(|&heading| heading.to_owned()).collect();
        let assigned: Vec<Assigned> = assigned.iter().map(|text| Column::assign(text).expect("well formed")).collect();
        let columns = Columns::find(&headings, &assigned)?;
        Ok(columns.named(&headings).into_iter().map(|(_, column)| column).collect())
    }

    #[test]
    fn a_heading_can_be_taken_for_nothing() {
        let headings = ["Crop", "Sow", "Sowing date", "Out"];
        let twice = found(&headings, &[]).expect_err("two columns for one thing");
        assert!(matches!(&twice, TableError::Twice { column: 3, what: "sow", .. }), "{twice}");
        let [crop, sow, out] = [Column::Crop, Column::Sow, Column::Out].map(Some);
        assert_eq!(found(&headings, &["none=Sow"]), Ok(vec![crop, None, sow, out]));
        assert_eq!(found(&headings, &["NONE=sow", "none=Out"]), Ok(vec![crop, None, sow, None]));
        assert_eq!(found(&headings, &["none=Crop"]).ok(), None, "a crop there must be");
    }

    #[test]
    fn two_that_the_grower_names_for_one_thing_are_refused() {
        let twice = found(&["Crop", "A", "B"], &["out=A", "out=B"]).expect_err("which one?");
        assert!(matches!(&twice, TableError::Twice { column: 3, what: "out", .. }), "{twice}");
    }

    #[test]
    fn columns_without_a_heading_are_named_by_their_place() {
        let headings: Vec<String> = ["Crop", "", ""].map(str::to_owned).to_vec();
        let by = |column, place| Assigned { column, which: Which::Place(place) };
        let columns = Columns::find(&headings, &[by(Some(Column::Out), 2), by(None, 1)]).expect("a crop is there");
        assert_eq!((columns.place(Column::Out), columns.place(Column::Crop)), (Some(2), Some(0)));
        let beyond = Columns::find(&headings, &[by(None, 3)]).err();
        assert!(matches!(&beyond, Some(TableError::NoSuchColumn { name, .. }) if name == "4"), "{beyond:?}");
    }

    #[test]
    fn what_is_no_name_of_a_column_is_refused() {
        for text in ["plot=Bed", "=Bed", "out"] {
            assert!(Column::assign(text).expect_err(text).to_string().contains("none"), "{text}");
        }
    }
}
