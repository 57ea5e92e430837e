use crate::season::GrowthPoint;
use crate::units::Length;

/// Height or spread so many days after sowing, in mm: straight lines between the points, from
/// nothing on the day of sowing; the last point's after it.
pub fn grown_mm(points: &[GrowthPoint], days_from_sowing: i64) -> f64 {
    let week = days_from_sowing.max(0) as f64 / 7.0;
    let mut before = GrowthPoint { week: 0.0, mm: 0.0 };
    for point in points {
        if week < point.week {
            let share = (week - before.week) / (point.week - before.week);
            return before.mm + share * (point.mm - before.mm);
        }
        before = *point;
    }
    before.mm
}

/// Clear height that a tray needs: max(tray rim, tray floor + pot) + plant + gap to the lamp.
///
/// The floor of a tray is taken as 2 mm thick (from memory).
pub fn clear_height_needed(tray_rim: Length, pot: Option<Length>, plant_mm: f64, lamp_gap: Length) -> Length {
    let floor = Length::from_mm(2);
    let container = pot.map_or(tray_rim, |pot| tray_rim.max(floor + pot));
    container + Length::try_from_mm(plant_mm).unwrap_or(Length::ZERO) + lamp_gap
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plants_grow_in_straight_lines_between_their_points() {
        let points = [GrowthPoint { week: 2.0, mm: 40.0 }, GrowthPoint { week: 4.0, mm: 100.0 }];
        for (day, mm) in [(0, 0.0), (7, 20.0), (14, 40.0), (21, 70.0), (28, 100.0), (90, 100.0), (-3, 0.0)] {
            assert!((grown_mm(&points, day) - mm).abs() < 1e-9, "day {day}");
        }
    }

    #[test]
    fn a_pot_taller_than_its_flat_counts() {
        let mm = Length::from_mm;
        assert_eq!(clear_height_needed(mm(60), Some(mm(89)), 100.0, mm(50)), mm(241));
        assert_eq!(clear_height_needed(mm(60), None, 100.0, mm(50)), mm(210));
    }
}
