//! The reader's errors in a grower's words: what was found, and what would be right.

use ron::Error;

use crate::trade::nearest;

pub(super) fn say(why: &Error) -> String {
    let words = match why {
        Error::Eof => "the file ends too early; was it cut off?",
        Error::ExpectedArray => "a list in [ ] belongs here",
        Error::ExpectedArrayEnd => "a comma or the list's closing ] belongs here",
        Error::ExpectedBoolean => "true or false belongs here",
        Error::ExpectedComma => "a comma belongs here",
        Error::ExpectedFloat => "a number belongs here",
        Error::ExpectedInteger => "a whole number belongs here",
        Error::ExpectedMapColon => "a colon belongs here",
        Error::ExpectedString => "text in \" \" belongs here",
        Error::ExpectedStringEnd => "this text has no closing \"",
        Error::ExpectedStructLike | Error::ExpectedNamedStructLike(_) => "an entry in ( ) belongs here",
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => "a comma or the closing ) belongs here",
        Error::ExpectedIdentifier => "a word belongs here",
        Error::IntegerOutOfBounds => "this number is too large, or below 0",
        Error::TrailingCharacters => "nothing may follow the season's closing )",
        Error::UnclosedBlockComment => "this comment has no closing */",
        Error::ExceededRecursionLimit => "too many brackets stand inside one another",
        Error::NoSuchStructField { expected, found, outer } => return no_such_field(expected, found, outer.as_deref()),
        Error::NoSuchEnumVariant { expected, found, .. } => {
            return format!("found {found}; write {}", one_of(expected));
        }
        Error::InvalidIdentifier(found) | Error::SuggestRawIdentifier(found) => {
            return format!("found {found}, where a word belongs");
        }
        Error::InvalidIntegerDigit { digit, .. } => return format!("found {digit:?} in a whole number"),
        Error::MissingStructField { field, outer } => {
            return format!("the field {field} is missing from this {}", entry(outer.as_deref()));
        }
        Error::DuplicateStructField { field, outer } => {
            return format!("the field {field} stands twice in this {}", entry(outer.as_deref()));
        }
        Error::InvalidValueForType { expected, found } => return format!("found {found}; write {expected}"),
        Error::Message(words) => words,
        other => return lower_first(&other.to_string()),
    };
    words.to_owned()
}

fn no_such_field(known: &[&str], found: &str, outer: Option<&str>) -> String {
    let of = entry(outer);
    match nearest(found, known.iter().copied()) {
        Some(near) => format!("this {of} has a field {found}; did you mean {near}?"),
        None => format!("this {of} has a field {found}; its fields are {}", known.join(", ")),
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
