//! Lengths that equal rectangles side by side can fill: sums `p a + q b`.

/// More such sums along one side are not listed.
const MOST: usize = 5_200;
/// Up to this length, what is left over is looked up instead of searched for.
const SHORT: i64 = 4_096;

/// The sums within one side, in order.
pub(super) struct Lengths {
    whole: i64,
    at: Vec<i64>,
    /// Of every length up to the whole side, what no sum fills; empty for a long side.
    spare: Vec<i64>,
}

impl Lengths {
    /// `None` if there are too many.
    pub(super) fn new(whole: i64, a: i64, b: i64) -> Option<Self> {
        let mut lengths = Self { whole, at: sums(whole, a, b, MOST)?, spare: Vec::new() };
        if whole <= SHORT {
            lengths.spare = (0..=whole).map(|length| lengths.spare(length)).collect();
        }
        Some(lengths)
    }

    pub(super) const fn whole(&self) -> i64 {
        self.whole
    }

    /// What is left of a length at least, whatever stands along it.
    pub(super) fn spare(&self, length: i64) -> i64 {
        let known = usize::try_from(length).ok().and_then(|k| self.spare.get(k));
        known.copied().unwrap_or_else(|| {
            let below = self.at.partition_point(|&sum| sum <= length);
            length - below.checked_sub(1).map_or(0, |k| self.at[k])
        })
    }

    /// The sums from `from` to `to`.
    pub(super) fn between(&self, from: i64, to: i64) -> &[i64] {
        let first = self.at.partition_point(|&sum| sum < from);
        let beyond = self.at.partition_point(|&sum| sum <= to);
        self.at.get(first..beyond).unwrap_or(&[])
    }
}

/// All sums up to `length`, in order; `None` if more than `most` pairs make them.
pub(super) fn sums(length: i64, a: i64, b: i64, most: usize) -> Option<Vec<i64>> {
    let mut sums = Vec::new();
    for p in 0..=length / a {
        for q in 0..=(length - p * a) / b {
            sums.push(p * a + q * b);
            if sums.len() > most {
                return None;
            }
        }
    }
    sums.sort_unstable();
    sums.dedup();
    Some(sums)
}

pub(in crate::fit) const fn gcd(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_over_is_the_same_looked_up_or_searched() {
        let short = Lengths::new(40, 7, 3).expect("few");
        let long = Lengths::new(SHORT + 1, 700, 300).expect("few");
        for (length, spare) in [(0, 0), (2, 2), (3, 0), (5, 2), (7, 0), (8, 1), (11, 1), (12, 0), (40, 0)] {
            assert_eq!(short.spare(length), spare);
            assert_eq!(long.spare(length * 100), spare * 100);
        }
        assert_eq!(short.between(1, 10), [3, 6, 7, 9, 10]);
        assert!(short.between(4, 3).is_empty());
    }
}
