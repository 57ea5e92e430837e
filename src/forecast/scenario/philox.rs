/// Philox-4×32-10: ten rounds over a counter of four words, keyed by two.
///
/// J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw: Parallel random numbers: as easy as 1, 2, 3
/// (SC 2011). Written out here, so that its stream stays the same for good; held against the
/// known answers that were published with it.
pub(super) fn philox(counter: [u32; 4], key: [u32; 2]) -> [u32; 4] {
    let product = |factor: u32, word: u32| {
        let product = u64::from(factor) * u64::from(word);
        ((product >> 32) as u32, product as u32)
    };
    let ([mut a, mut b, mut c, mut d], [mut k0, mut k1]) = (counter, key);
    for _ in 0..10 {
        let (high0, low0) = product(0xD251_1F53, a);
        let (high1, low1) = product(0xCD9E_8D57, c);
        (a, b, c, d) = (high1 ^ b ^ k0, low1, high0 ^ d ^ k1, low0);
        (k0, k1) = (k0.wrapping_add(0x9E37_79B9), k1.wrapping_add(0xBB67_AE85));
    }
    [a, b, c, d]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_published_answers_come_out() {
        assert_eq!(philox([0; 4], [0; 2]), [0x6627_E8D5, 0xE169_C58D, 0xBC57_AC4C, 0x9B00_DBD8]);
        assert_eq!(philox([u32::MAX; 4], [u32::MAX; 2]), [0x408F_276D, 0x41C8_3B0E, 0xA20B_C7C6, 0x6D54_51FD]);
        let counter = [0x243F_6A88, 0x85A3_08D3, 0x1319_8A2E, 0x0370_7344];
        let known = [0xD16C_FE09, 0x94FD_CCEB, 0x5001_E420, 0x2412_6EA1];
        assert_eq!(philox(counter, [0xA409_3822, 0x299F_31D0]), known);
    }
}
