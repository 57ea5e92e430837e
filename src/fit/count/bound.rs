//! More than so many cannot stand: by area, and by F. W. Barnes, "Packing the maximum number of m × n
//! tiles in a large p × q rectangle", Discrete Mathematics 26 (1979); recalled, not re-read.

use super::lengths::gcd;

/// The bound alone, without a search for a packing.
pub(in crate::fit) fn at_most(width: i64, depth: i64, w: i64, d: i64) -> i64 {
    if width <= 0 || depth <= 0 || w <= 0 || d <= 0 {
        return 0;
    }
    let unit = gcd(w, d);
    let (a, b) = (w / unit, d / unit);
    bound(snap(width / unit, a, b), snap(depth / unit, a, b), a, b)
}

/// The longest `p a + q b` within `length`; `length` itself where that is too long to find.
pub(super) fn snap(length: i64, a: i64, b: i64) -> i64 {
    // From (a - 1)(b - 1) on, every length is such a sum, as a and b have no common divisor.
    if i128::from(length) >= i128::from(a - 1) * i128::from(b - 1) {
        return length;
    }
    let (small, large) = (a.min(b), a.max(b));
    let most = (length / large).min(small - 1);
    if most > 100_000 {
        return length;
    }
    let spare = (0..=most).map(|q| (length - q * large) % small).min().unwrap_or(0);
    length - spare
}

pub(super) fn bound(width: i64, depth: i64, a: i64, b: i64) -> i64 {
    let (a, b) = (i128::from(a), i128::from(b));
    let (width, depth) = (i128::from(width), i128::from(depth));
    let waste = |n: i128| {
        let (r, s) = (width % n, depth % n);
        (r * s).min((n - r) * (n - s))
    };
    let most = (width * depth - waste(a).max(waste(b))) / (a * b);
    if width.min(depth) < a.min(b) || width.max(depth) < a.max(b) {
        return 0;
    }
    i64::try_from(most).unwrap_or(i64::MAX)
}
