/// A field of a row in the text; in what follows a fixed width, the row begins with it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Field {
    /// The first byte of its row, or of the empty lines before it.
    pub(super) row: usize,
    pub(super) number: usize,
}

/// One low as written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reading {
    pub(super) at: Field,
    pub(super) number: f64,
}

/// A number without exponent, with point or comma.
pub(super) fn number(text: &str) -> Option<f64> {
    let plain = text.bytes().all(|byte| byte.is_ascii_digit() || b"+-.,".contains(&byte));
    if !plain || text.len() > 20 { None } else { text.replace(',', ".").parse().ok() }
}

/// −9999 says that there is no reading, in whatever unit.
pub(super) fn is_missing(number: f64) -> bool {
    (number + 9999.0).abs() < 0.5
}
