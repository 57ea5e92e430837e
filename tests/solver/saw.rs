//! Blocks of ground and days, cut into pieces.

/// Length, depth, days of a block; numbers from a plain congruential generator.
pub(crate) struct Saw(pub(crate) u64);

impl Saw {
    pub(crate) fn below(&mut self, n: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from(self.0 >> 33).unwrap() % n
    }

    /// Always the largest block is cut, straight through, somewhere in its middle half, where it is so long at `least`.
    pub(crate) fn pieces(&mut self, block: [i64; 3], number: usize, least: i64) -> Vec<([i64; 3], i64)> {
        let mut blocks = vec![(block, 0)];
        while blocks.len() < number {
            let at = (0..blocks.len()).max_by_key(|&at| blocks[at].0.iter().product::<i64>()).unwrap();
            let (block, from) = blocks[at];
            let along = usize::try_from(self.below(3)).unwrap();
            let length = block[along];
            if length < least {
                continue;
            }
            let first = (length / 4).max(1) + self.below((length / 2).max(1));
            let (mut one, mut other) = (block, block);
            (one[along], other[along]) = (first, length - first);
            blocks[at] = (one, from);
            blocks.push((other, if along == 2 { from + first } else { from }));
        }
        blocks
    }
}
