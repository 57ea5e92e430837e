//! The reader's errors in a grower's words: what was found, and what would be right.

use ron::Error;

use crate::trade::nearest;

/// A slip of the keyboard.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Slip {
    #[error("the file ends too early; was it cut off?")]
    CutOff,
    #[error("a list in [ ] belongs here")]
    List,
    #[error("a comma or the list's closing ] belongs here")]
    ListEnd,
    #[error("true or false belongs here")]
    TrueOrFalse,
    #[error("a comma belongs here")]
    Comma,
    #[error("a number belongs here")]
    Number,
    #[error("a whole number belongs here")]
    WholeNumber,
    #[error("a colon belongs here")]
    Colon,
    #[error("text in \" \" belongs here")]
    Text,
    #[error("this text has no closing \"; was the file cut off?")]
    TextEnd,
    #[error("an entry in ( ) belongs here")]
    Entry,
    #[error("a comma or the closing ) belongs here")]
    EntryEnd,
    #[error("a word belongs here")]
    Word,
    #[error("this number is too large, or below 0")]
    OutOfBounds,
    #[error("nothing may follow the season's closing )")]
    Trailing,
    #[error("this comment has no closing */")]
    OpenComment,
    #[error("too many brackets stand inside one another")]
    TooDeep,
    #[error("this {of} has a field {found}; did you mean {near}?")]
    NearField { of: String, found: String, near: String },
    #[error("this {of} has a field {found}; its fields are {known}")]
    NoField { of: String, found: String, known: String },
    #[error("found {found}; write {wanted}")]
    NotOne { found: String, wanted: String },
    #[error("found {0}, where a word belongs")]
    NoWord(String),
    #[error("found {0:?} in a whole number")]
    Digit(char),
    #[error("the field {field} is missing from this {of}")]
    Missing { field: String, of: String },
    #[error("the field {field} stands twice in this {of}")]
    FieldTwice { field: String, of: String },
    /// In the words of what reads the value, or of the reader itself.
    #[error("{0}")]
    Said(String),
}

impl From<&Error> for Slip {
    fn from(why: &Error) -> Self {
        match why {
            Error::Eof => Self::CutOff,
            Error::ExpectedArray => Self::List,
            Error::ExpectedArrayEnd => Self::ListEnd,
            Error::ExpectedBoolean => Self::TrueOrFalse,
            Error::ExpectedComma => Self::Comma,
            Error::ExpectedFloat => Self::Number,
            Error::ExpectedInteger => Self::WholeNumber,
            Error::ExpectedMapColon => Self::Colon,
            Error::ExpectedString => Self::Text,
            Error::ExpectedStringEnd => Self::TextEnd,
            Error::ExpectedStructLike | Error::ExpectedNamedStructLike(_) => Self::Entry,
            Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => Self::EntryEnd,
            Error::ExpectedIdentifier => Self::Word,
            Error::IntegerOutOfBounds => Self::OutOfBounds,
            Error::TrailingCharacters => Self::Trailing,
            Error::UnclosedBlockComment => Self::OpenComment,
            Error::ExceededRecursionLimit => Self::TooDeep,
            Error::NoSuchStructField { expected, found, outer } => no_such_field(expected, found, outer.as_deref()),
            Error::NoSuchEnumVariant { expected, found, .. } => {
                Self::NotOne { found: found.clone(), wanted: one_of(expected) }
            }
            Error::InvalidIdentifier(found) | Error::SuggestRawIdentifier(found) => Self::NoWord(found.clone()),
            Error::InvalidIntegerDigit { digit, .. } => Self::Digit(*digit),
            Error::MissingStructField { field, outer } => {
                Self::Missing { field: (*field).to_owned(), of: entry(outer.as_deref()) }
            }
            Error::DuplicateStructField { field, outer } => {
                Self::FieldTwice { field: (*field).to_owned(), of: entry(outer.as_deref()) }
            }
            Error::InvalidValueForType { expected, found } => {
                Self::NotOne { found: found.clone(), wanted: expected.clone() }
            }
            Error::Message(words) => Self::Said(words.clone()),
            other => Self::Said(lower_first(&other.to_string())),
        }
    }
}

fn no_such_field(known: &[&str], found: &str, outer: Option<&str>) -> Slip {
    let (of, found) = (entry(outer), found.to_owned());
    match nearest(&found, known.iter().copied()) {
        Some(near) => Slip::NearField { of, near: near.to_owned(), found },
        None => Slip::NoField { of, found, known: known.join(", ") },
    }
}

/// The structs are named for what they hold: `number_wanted`.
fn entry(outer: Option<&str>) -> String {
    outer.map_or_else(|| "entry".to_owned(), |name| name.to_lowercase().replace('_', " "))
}

fn one_of(known: &[&str]) -> String {
    match known {
        [] => "nothing".to_owned(),
        [one] => (*one).to_owned(),
        [rest @ .., last] => format!("{} or {last}", rest.join(", ")),
    }
}

fn lower_first(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}
