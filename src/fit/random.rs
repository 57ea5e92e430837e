//! Chance that is the same everywhere and for good.

use std::ops::Range;

/// A generator whose stream is written out here, so that it stays the same for good.
///
/// splitmix64 by S. Vigna, public domain; constants recalled, not re-read.
pub(super) struct Random(u64);

impl Random {
    pub(super) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Less than `n`; 0 for 0.
    pub(super) fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() % (n as u64).max(1)).unwrap_or(0)
    }

    /// One of a range that isn't empty.
    pub(super) fn from(&mut self, range: Range<usize>) -> usize {
        range.start + self.below(range.len())
    }

    pub(super) fn pick<T: Copy>(&mut self, from: &[T]) -> Option<T> {
        from.get(self.below(from.len())).copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stream_never_changes() {
        let mut random = Random::new(1);
        let drawn: Vec<usize> = (0..8).map(|_| random.below(100)).collect();
        assert_eq!(drawn, [65, 19, 90, 35, 61, 48, 45, 33]);
        assert_eq!(random.below(0), 0);
        assert_eq!(random.pick::<u8>(&[]), None);
    }
}
