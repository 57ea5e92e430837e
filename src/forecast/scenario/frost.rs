//! A last frost as a drawn spring has it, from the dates of the season's frost table.

use chrono::NaiveDate;

use crate::season::Frost;
use crate::trade::normal_quantile;

use super::{MOST, Scenario, Whose, uniform};

/// Of the frost's spread, in tenths: what it has in common with a spring that holds plants back, and
/// what is its own. Our choice, no source.
const SPRING: f64 = 5.0;
const OWN: f64 = 5.0;

impl Scenario {
    /// The same in a spring whose last frost is drawn as well.
    ///
    /// A date that k years in 10 have a later frost than is the point z = Φ⁻¹(1 − k / 10); between the
    /// dates of a table the days lie on a line over z, and beyond them on its end's, up to 3 standard
    /// deviations. A frost of which one date alone is known has no spread, and doesn't vary.
    #[must_use]
    pub fn in_spring(self, frost: Option<&Frost>) -> Self {
        let (Some(draw), Some(frost)) = (self.draw, frost) else { return self };
        let part = |tenths: f64, whose: Whose<'_>| (tenths / 10.0).sqrt() * normal_quantile(uniform(draw, &whose, 0));
        let z = part(SPRING, Whose::Spring) + part(OWN, Whose::Frost);
        match drawn_days(frost, z.clamp(-MOST, MOST)) {
            Some(days) => self.with_frost_days(days),
            None => self,
        }
    }
}

/// Days from the season's frost date to that of the point `z`.
fn drawn_days(frost: &Frost, z: f64) -> Option<i64> {
    let day = |date: NaiveDate| (date - frost.date).num_days() as f64;
    let mut known: Vec<(f64, f64)> = frost
        .table
        .iter()
        .filter(|one| one.temperature.value() == frost.temperature.value() && (1..=9).contains(&one.later_in_ten))
        .map(|one| (normal_quantile(1.0 - f64::from(one.later_in_ten) / 10.0), day(one.date)))
        .collect();
    known.sort_by(|a, b| a.0.total_cmp(&b.0));
    known.dedup_by(|a, b| a.0.total_cmp(&b.0).is_eq());
    let above = known.iter().position(|(point, _)| z < *point).unwrap_or(known.len());
    let at = above.clamp(1, known.len().checked_sub(1)?.max(1));
    let ((low, from), (high, to)) = (*known.get(at - 1)?, *known.get(at)?);
    Some((from + (z - low) / (high - low) * (to - from)).round() as i64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::FrostChance;
    use crate::units::Typed;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    fn frost() -> Frost {
        let entry = |later_in_ten, date| FrostChance { temperature: Typed::freezing(), later_in_ten, date: day(date) };
        // 10 days to a standard deviation: z₉₀ = 1.2816
        let table = vec![entry(9, "2027-04-20"), entry(5, "2027-05-03"), entry(1, "2027-05-16")];
        Frost { table, ..Frost::on(day("2027-05-03")) }
    }

    #[test]
    fn points_of_the_table_and_between_and_beyond() {
        for (z, days) in [(0.0, 0), (1.2816, 13), (-1.2816, -13), (0.6408, 7), (2.5632, 26)] {
            assert_eq!(drawn_days(&frost(), z), Some(days), "{z}");
        }
        assert_eq!(drawn_days(&Frost::on(day("2027-05-03")), 1.0), None, "one date has no spread");
    }

    #[test]
    fn one_spring_in_ten_is_later_than_its_date() {
        let later = (0..4_000).filter(|draw| Scenario::draw(*draw).in_spring(Some(&frost())).frost_days() > 13).count();
        // 400, by 3 standard errors of 19 and the half day of rounding
        assert!((320..=460).contains(&later), "{later}");
        assert_eq!(Scenario::none().in_spring(Some(&frost())).frost_days(), 0);
    }
}
