//! Numbers as people type them: `2.5`, `2,5`, `1 1/2`, `3½`, `10 15/16`.

/// Why a typed value was refused: what was found, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ParseError {
    #[error("nothing is written here; write {wanted}")]
    Empty { wanted: Wanted },
    #[error("found {found:?}; write {wanted}")]
    NotANumber { found: String, wanted: Wanted },
    #[error("found the unit {found:?}; use one of {allowed}")]
    UnknownUnit { found: String, allowed: Signs },
    #[error("found {found:?} without a unit; add one of {allowed}")]
    NoUnit { found: String, allowed: Signs },
    #[error("found {found:?}, with both a comma and a point; write one of them, for the decimals only")]
    CommaAndPoint { found: String },
    #[error("found {found:?}, which is divided by nothing")]
    DividedByZero { found: String },
    #[error("found {found:?}; it must be {wanted}")]
    OutOfRange { found: String, wanted: Within },
}

/// What belongs where something else was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Wanted {
    #[error("a length such as 7 cm, 2.5 in, 1 1/2 in or 4 ft")]
    Length,
    #[error("a size such as 48 x 18 in")]
    Size,
    #[error("a temperature such as 10 °C or 50 °F")]
    Temperature,
    #[error("a volume such as 43 ml, 2.5 l or 26.8 in³")]
    Volume,
}

/// The signs of a quantity's units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Signs {
    #[error("mm, cm, m, in, ft")]
    Length,
    #[error("°C, °F")]
    Temperature,
    #[error("ml, l, in³, ft³, dry quart")]
    Volume,
}

/// From where to where a quantity goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Within {
    #[error("from 0 to 1 km")]
    Length,
    #[error("from -100 to 150 °C")]
    Temperature,
    #[error("from 0 to 1000 cubic metres")]
    Volume,
}

/// A typed number as a fraction, exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Fraction {
    pub(super) numerator: i128,
    pub(super) denominator: i128,
}

impl Fraction {
    const ZERO: Self = Self { numerator: 0, denominator: 1 };

    fn plus(self, other: Self) -> Option<Self> {
        Some(Self {
            numerator: self
                .numerator
                .checked_mul(other.denominator)?
                .checked_add(other.numerator.checked_mul(self.denominator)?)?,
            denominator: self.denominator.checked_mul(other.denominator)?,
        })
    }

    /// The fraction times `factor`, to the nearest whole number, halves away from zero.
    pub(super) fn times(self, factor: i128) -> Option<i64> {
        let doubled = self.numerator.checked_mul(factor)?.checked_mul(2)?;
        let half_up = doubled.abs().checked_add(self.denominator)? / self.denominator.checked_mul(2)?;
        i64::try_from(half_up * doubled.signum()).ok()
    }
}

/// One quantity: a number, and the word that stands behind it (maybe empty).
pub(super) type Part = (Fraction, String);

/// Splits `4 ft 6 in`, `10 15/16"`, `2,5cm`, `-3.5 °C` into numbers with their units.
pub(super) fn parts(text: &str, wanted: Wanted) -> Result<Vec<Part>, ParseError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(ParseError::Empty { wanted });
    }
    let refused = || ParseError::NotANumber { found: text.to_owned(), wanted };
    let (negative, body) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text),
    };
    if body.contains(',') && body.contains('.') {
        return Err(ParseError::CommaAndPoint { found: text.to_owned() });
    }
    let mut found = Vec::new();
    let mut rest = body;
    while !rest.is_empty() {
        let end = rest.find(|c: char| !is_of_number(c)).unwrap_or(rest.len());
        let (number, tail) = rest.split_at(end);
        let value = fraction(number).map_err(|why| match why {
            Refused::DividedByZero => ParseError::DividedByZero { found: text.to_owned() },
            Refused::NotANumber => refused(),
        })?;
        let unit_end = tail.find(|c: char| is_of_number(c) && !c.is_whitespace()).unwrap_or(tail.len());
        let (unit, next) = tail.split_at(unit_end);
        let value = if negative { Fraction { numerator: -value.numerator, ..value } } else { value };
        found.push((value, unit.trim().to_lowercase()));
        rest = next;
    }
    if found.is_empty() { Err(refused()) } else { Ok(found) }
}

fn is_of_number(c: char) -> bool {
    c.is_ascii_digit() || c.is_whitespace() || matches!(c, '.' | ',' | '/' | '\u{2044}') || vulgar(c).is_some()
}

enum Refused {
    NotANumber,
    DividedByZero,
}

fn fraction(text: &str) -> Result<Fraction, Refused> {
    let text = text.replace('\u{2044}', "/");
    let mut spaced = String::with_capacity(text.len() + 4);
    for c in text.chars() {
        match vulgar(c) {
            Some(words) => {
                spaced.push(' ');
                spaced.push_str(words);
            }
            None => spaced.push(c),
        }
    }
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let (whole, part) = match *words.as_slice() {
        [one] if one.contains('/') => (None, Some(one)),
        [one] => (Some(one), None),
        [whole, part] if part.contains('/') && !whole.contains(['/', '.', ',']) => (Some(whole), Some(part)),
        _ => return Err(Refused::NotANumber),
    };
    let whole = whole.map_or(Ok(Fraction::ZERO), decimal)?;
    let part = match part.and_then(|words| words.split_once('/')) {
        None => Fraction::ZERO,
        Some((above, below)) => {
            let (numerator, denominator) = (digits(above)?, digits(below)?);
            if denominator == 0 {
                return Err(Refused::DividedByZero);
            }
            Fraction { numerator, denominator }
        }
    };
    whole.plus(part).ok_or(Refused::NotANumber)
}

fn decimal(text: &str) -> Result<Fraction, Refused> {
    let (whole, decimals) = text.split_once(['.', ',']).unwrap_or((text, ""));
    if whole.is_empty() && decimals.is_empty() || decimals.len() > 9 {
        return Err(Refused::NotANumber);
    }
    let all = format!("{whole}{decimals}");
    let exponent = u32::try_from(decimals.len()).ok().ok_or(Refused::NotANumber)?;
    Ok(Fraction { numerator: digits(&all)?, denominator: 10_i128.pow(exponent) })
}

fn digits(text: &str) -> Result<i128, Refused> {
    if text.is_empty() || text.len() > 15 || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(Refused::NotANumber);
    }
    text.parse().ok().ok_or(Refused::NotANumber)
}

fn vulgar(c: char) -> Option<&'static str> {
    Some(match c {
        '½' => "1/2",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        _ => return None,
    })
}
