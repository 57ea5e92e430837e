use super::normal_quantile;

/// The chance that a cell gives a plant: `k` seeds of germination `g`, then later losses `l`.
///
/// p = (1 − (1 − g)^k)(1 − l); all parts of one. Elementary probability, seeds independent.
pub fn cell_success(germination: f64, seeds: u8, losses: f64) -> f64 {
    (1.0 - (1.0 - germination).powi(i32::from(seeds))) * (1.0 - losses)
}

/// Cells that give `plants` on average: ⌈N / p⌉. `None` when no cell can succeed.
pub fn cells_on_average(plants: u32, success: f64) -> Option<u32> {
    if !(success > 0.0 && success <= 1.0) {
        return None;
    }
    // a hair off, so that 10 / 0.1 is 100 and not 101
    let cells = (f64::from(plants) / success - 1e-9).ceil();
    (cells <= f64::from(u32::MAX)).then_some(cells as u32)
}

/// The fewest cells that give at least `plants` with probability `chance`:
/// the smallest n with P(Binomial(n, p) ≥ N) ≥ chance. `None` when no number can.
///
/// The tail is summed term by term, exact to about 1e−12 for any number up to a million.
pub fn cells_sure(plants: u32, success: f64, chance: f64) -> Option<u32> {
    if !(success > 0.0 && success <= 1.0 && chance < 1.0) {
        return None;
    }
    if plants == 0 || success >= 1.0 {
        return Some(plants);
    }
    let enough = |cells: u32| at_least(cells, success, plants) >= chance - 1e-12;
    let mut high = plants;
    while !enough(high) {
        high = high.checked_mul(2).filter(|cells| *cells < 1 << 30)?;
    }
    let mut low = plants.max(high / 2);
    while low < high {
        let middle = low + (high - low) / 2;
        if enough(middle) { high = middle } else { low = middle + 1 }
    }
    Some(high)
}

/// The chance that so many cells give at least `plants`: P(Binomial(n, p) ≥ N), a part of one.
pub fn chance_of(cells: u32, success: f64, plants: u32) -> f64 {
    match plants {
        0 => 1.0,
        _ if plants > cells || success <= 0.0 => 0.0,
        _ if success >= 1.0 => 1.0,
        _ => at_least(cells, success, plants).min(1.0),
    }
}

/// The most plants that so many cells give with probability `chance`: the largest N with
/// P(Binomial(n, p) ≥ N) ≥ chance. The other way round of [`cells_sure`].
pub fn plants_sure(cells: u32, success: f64, chance: f64) -> u32 {
    let (mut low, mut high) = (0, cells);
    while low < high {
        let middle = high - (high - low) / 2;
        if chance_of(cells, success, middle) >= chance - 1e-12 { low = middle } else { high = middle - 1 }
    }
    low
}

/// P(Binomial(n, p) ≥ k), for 0 < p < 1 and k ≤ n.
fn at_least(n: u32, p: f64, k: u32) -> f64 {
    if k == 0 {
        return 1.0;
    }
    let (n, k, q) = (f64::from(n), f64::from(k), 1.0 - p);
    let ln_term = |i: f64| {
        let (mut ln, mut j) = (i * p.ln() + (n - i) * q.ln(), 1.0);
        let few = i.min(n - i);
        while j <= few {
            ln += ((n - few + j) / j).ln();
            j += 1.0;
        }
        ln
    };
    if k > (n + 1.0) * p {
        let (mut term, mut sum, mut i) = (1.0, 1.0, k);
        while i < n && term > sum * 1e-17 {
            term *= (n - i) * p / ((i + 1.0) * q);
            sum += term;
            i += 1.0;
        }
        (ln_term(k) + sum.ln()).exp()
    } else {
        let (mut term, mut sum, mut i) = (1.0, 1.0, k - 1.0);
        while i > 0.0 && term > sum * 1e-17 {
            term *= i * q / ((n - i + 1.0) * p);
            sum += term;
            i -= 1.0;
        }
        1.0 - (ln_term(k - 1.0) + sum.ln()).exp()
    }
}

/// The germination rate that `up` of `sown` seeds leave for sure at that chance: the lower end of Wilson's
/// score interval, (p + z²/2n − z √(p (1 − p)/n + z²/4n²)) / (1 + z²/n), p = up / n, z the normal law's
/// quantile at `chance`. All parts of one; 0 where none was sown.
///
/// E. B. Wilson, Probable inference, the law of succession, and statistical inference (1927), from memory.
pub fn least_rate(up: u32, sown: u32, chance: f64) -> f64 {
    if sown == 0 {
        return 0.0;
    }
    let n = f64::from(sown);
    let p = (f64::from(up) / n).min(1.0);
    let z = if chance > 0.5 && chance < 1.0 { normal_quantile(chance) } else { 0.0 };
    let spread = z * (p * (1.0 - p) / n + z * z / (4.0 * n * n)).sqrt();
    ((p + z * z / (2.0 * n) - spread) / (1.0 + z * z / n)).clamp(0.0, p)
}

/// Trays for so many plants: whole trays only.
pub fn whole_trays(plants: u32, per_tray: u32) -> u32 {
    plants.div_ceil(per_tray.max(1))
}

/// Shares out `plants` over lots: whole plants, in proportion, the largest remainders rounded up
/// (Hamilton's method), earlier lots first where they tie.
pub fn share_out(plants: u32, shares: &[u32]) -> Vec<u32> {
    let all: u64 = shares.iter().copied().map(u64::from).sum();
    if all == 0 {
        return vec![0; shares.len()];
    }
    let part = |share: &u32| u64::from(plants) * u64::from(*share);
    let mut given: Vec<u64> = shares.iter().map(|share| part(share) / all).collect();
    let mut by_remainder: Vec<usize> = (0..shares.len()).collect();
    by_remainder.sort_by_key(|&i| (std::cmp::Reverse(shares.get(i).map_or(0, |share| part(share) % all)), i));
    let left = u64::from(plants) - given.iter().sum::<u64>();
    for i in by_remainder.into_iter().take(usize::try_from(left).unwrap_or(usize::MAX)) {
        if let Some(lot) = given.get_mut(i) {
            *lot += 1;
        }
    }
    given.into_iter().map(|plants| u32::try_from(plants).unwrap_or(u32::MAX)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seventy_two_tomatoes_at_75_per_cent_and_95_per_cent_stand_want_102_seeds() {
        let p = cell_success(0.75, 1, 0.05);
        assert_eq!(cells_on_average(72, p), Some(102));
        assert!((cell_success(0.85, 2, 0.0) - 0.9775).abs() < 1e-12);
    }

    #[test]
    fn the_sure_number_is_the_smallest_that_is_enough() {
        for (plants, p) in [(1, 0.5), (12, 0.85), (72, 0.7125), (500, 0.9), (5_000, 0.85)] {
            let n = cells_sure(plants, p, 0.9).unwrap();
            assert!(at_least(n, p, plants) >= 0.9, "{plants} of {p}");
            assert!(at_least(n - 1, p, plants) < 0.9, "{plants} of {p}");
        }
        assert_eq!(cells_sure(7, 1.0, 0.9), Some(7));
        assert_eq!(cells_sure(7, 0.0, 0.9), None);
        // 1 − 0.5^n ≥ 0.9 first at n = 4
        assert_eq!(cells_sure(1, 0.5, 0.9), Some(4));
    }

    #[test]
    fn one_full_tray_of_72_is_82_per_cent_sure_of_59_plants() {
        // the terms of (0.15 + 0.85)^72 from the last one down: C(72, i) 0.85^i 0.15^(72 − i)
        let mut term = 0.85_f64.powi(72);
        let mut sum = term;
        for i in (59..72).rev() {
            term *= f64::from(i + 1) / f64::from(72 - i) * 0.15 / 0.85;
            sum += term;
        }
        assert!((chance_of(72, 0.85, 59) - sum).abs() < 1e-12, "{sum}");
        assert!(chance_of(72, 0.85, 73) < 1e-12 && chance_of(9, 0.0, 1) < 1e-12);
        assert!(chance_of(72, 1.0, 72) > 0.999_999 && chance_of(0, 0.85, 0) > 0.999_999);
    }

    #[test]
    fn plants_sure_is_cells_sure_the_other_way_round() {
        for (plants, p) in [(1, 0.5), (12, 0.85), (72, 0.7125), (500, 0.9)] {
            let cells = cells_sure(plants, p, 0.9).unwrap();
            assert!(plants_sure(cells, p, 0.9) >= plants, "{plants} of {p}");
            assert!(plants_sure(cells - 1, p, 0.9) < plants, "{plants} of {p}");
        }
        assert_eq!((plants_sure(10, 1.0, 0.9), plants_sure(10, 0.0, 0.9)), (10, 0));
    }

    #[test]
    fn a_quarter_of_72_leaves_a_fifth_for_sure() {
        // z = 1.2816, z²/n = 0.02281: (0.25 + 0.01141 − 1.2816 √(0.0026042 + 0.0000792)) / 1.02281 = 0.1907
        assert!((least_rate(18, 72, 0.9) - 0.1907).abs() < 1e-4);
        assert!((least_rate(72, 72, 0.9) - 1.0 / 1.02281).abs() < 1e-4, "all of them came up");
        assert!(least_rate(0, 72, 0.9) < 1e-12 && least_rate(0, 0, 0.9) < 1e-12);
        // nine in ten of many seeds are nearly as many: 0.25 − 1.2816 √(0.1875 / 7200) = 0.2435
        assert!((least_rate(1_800, 7_200, 0.9) - 0.2435).abs() < 1e-3);
    }

    #[test]
    fn lots_share_out_whole_plants() {
        assert_eq!(share_out(10, &[1, 1, 1]), [4, 3, 3]);
        assert_eq!(share_out(7, &[1]), [7]);
        assert_eq!(share_out(7, &[0]), [0]);
        assert_eq!(share_out(100, &[3, 1]), [75, 25]);
    }
}
