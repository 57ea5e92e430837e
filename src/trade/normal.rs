//! The normal law's quantile from plus, minus, times, divided by and square root alone, which are
//! the same to the last bit on every machine; a system's own logarithm is not.

/// A polynomial over another, each with its highest power's factor first.
struct Ratio {
    above: [f64; 8],
    below: [f64; 8],
}

impl Ratio {
    fn at(&self, x: f64) -> f64 {
        sum(&self.above, x) / sum(&self.below, x)
    }
}

/// |p − ½| ≤ 0.425, in 0.180625 − (p − ½)².
#[expect(clippy::unreadable_literal, clippy::excessive_precision, reason = "as they were published")]
const MIDDLE: Ratio = Ratio {
    above: [
        2.5090809287301226727e3,
        3.3430575583588128105e4,
        6.7265770927008700853e4,
        4.5921953931549871457e4,
        1.3731693765509461125e4,
        1.9715909503065514427e3,
        1.3314166789178437745e2,
        3.3871328727963666080e0,
    ],
    below: [
        5.2264952788528545610e3,
        2.8729085735721942674e4,
        3.9307895800092710610e4,
        2.1213794301586595867e4,
        5.3941960214247511077e3,
        6.8718700749205790830e2,
        4.2313330701600911252e1,
        1.0,
    ],
};
/// √−ln p ≤ 5, in that less 1.6.
#[expect(clippy::unreadable_literal, clippy::excessive_precision, reason = "as they were published")]
const TAIL: Ratio = Ratio {
    above: [
        7.74545014278341407640e-4,
        2.27238449892691845833e-2,
        2.41780725177450611770e-1,
        1.27045825245236838258e0,
        3.64784832476320460504e0,
        5.76949722146069140550e0,
        4.63033784615654529590e0,
        1.42343711074968357734e0,
    ],
    below: [
        1.05075007164441684324e-9,
        5.47593808499534494600e-4,
        1.51986665636164571966e-2,
        1.48103976427480074590e-1,
        6.89767334985100004550e-1,
        1.67638483018380384940e0,
        2.05319162663775882187e0,
        1.0,
    ],
};
/// Beyond, in the same less 5.
#[expect(clippy::unreadable_literal, clippy::excessive_precision, reason = "as they were published")]
const FAR_TAIL: Ratio = Ratio {
    above: [
        2.01033439929228813265e-7,
        2.71155556874348757815e-5,
        1.24266094738807843860e-3,
        2.65321895265761230930e-2,
        2.96560571828504891230e-1,
        1.78482653991729133580e0,
        5.46378491116411436990e0,
        6.65790464350110377720e0,
    ],
    below: [
        2.04426310338993978564e-15,
        1.42151175831644588870e-7,
        1.84631831751005468180e-5,
        7.86869131145613259100e-4,
        1.48753612908506148525e-2,
        1.36929880922735805310e-1,
        5.99832206555887937690e-1,
        1.0,
    ],
};

/// z with Φ(z) = p, for 0 < p < 1; to about 1 in 10¹⁶.
///
/// M. J. Wichura: Algorithm AS 241, the percentage points of the normal distribution (Applied
/// Statistics 37, 1988), PPND16; constants recalled, held against another implementation.
pub fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        return q * MIDDLE.at(0.180_625 - q * q);
    }
    let r = (-ln(p.min(1.0 - p))).max(0.0).sqrt();
    let z = if r <= 5.0 { TAIL.at(r - 1.6) } else { FAR_TAIL.at(r - 5.0) };
    if q < 0.0 { -z } else { z }
}

fn sum(factors: &[f64], x: f64) -> f64 {
    factors.iter().fold(0.0, |sum, factor| sum * x + factor)
}

/// The natural logarithm of a number above 0 that is not tiny: ln x = e ln 2 + 2 artanh((m − 1) / (m + 1))
/// for x = m 2^e with m between √½ and √2, the series to its 25th power.
fn ln(x: f64) -> f64 {
    let bits = x.to_bits();
    let mut exponent = i32::try_from(bits >> 52).unwrap_or(0) - 1023;
    let mut m = f64::from_bits((bits & ((1 << 52) - 1)) | 1023 << 52);
    if m > std::f64::consts::SQRT_2 {
        m /= 2.0;
        exponent += 1;
    }
    let t = (m - 1.0) / (m + 1.0);
    let mut series = 0.0;
    for k in (0..=12).rev() {
        series = series * t * t + 1.0 / f64::from(2 * k + 1);
    }
    f64::from(exponent) * std::f64::consts::LN_2 + 2.0 * t * series
}

#[cfg(test)]
mod tests {
    use statrs::distribution::{ContinuousCDF as _, Normal};

    use super::*;

    #[test]
    fn it_agrees_with_another_implementation() {
        let normal = Normal::standard();
        for k in 1..2_000 {
            let p = f64::from(k) / 2_000.0;
            assert!((normal_quantile(p) - normal.inverse_cdf(p)).abs() < 1e-9, "{p}");
        }
        for p in [1e-15, 1e-12, 1e-9, 1e-6, 1.0 - 1e-9] {
            assert!((normal.cdf(normal_quantile(p)) / p - 1.0).abs() < 1e-6, "{p}");
        }
        assert!((normal_quantile(0.9) - 1.281_551_565_544_600_4).abs() < 1e-15);
    }

    #[test]
    fn the_logarithm_is_right_to_the_last_digits() {
        for x in [1e-300, 1e-12, 0.3, 0.707, 0.708, 1.0, 1.414, 1.415, 2.0, 10.0, 1e12] {
            assert!((ln(x) - f64::ln(x)).abs() <= 4e-16 * f64::ln(x).abs().max(1.0), "{x}");
        }
    }
}
