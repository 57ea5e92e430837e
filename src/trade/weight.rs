use crate::units::Volume;

/// Wet weight of one tray: mix at container capacity, and half a kilogram for tray, pots and
/// plants.
///
/// 0.85 kg/l is derived (dry 0.12, water 0.60 to 0.85; range 0.65 to 1.0 kg/l: University of
/// Arkansas greenhouse unit 7; Bilderback and Fonteno 1987). The half kilogram is common practice,
/// no source.
pub fn wet_grams(cells: u32, volume: Option<Volume>) -> u32 {
    let litres = volume.map_or(0.0, |volume| volume.to_ml() / 1000.0) * f64::from(cells);
    (litres * 850.0 + 500.0).round().clamp(0.0, 1e9) as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flat_of_18_pints_weighs_about_8_kilograms() {
        // 8.5 l at 0.85 kg/l is 7.2 kg, plus pots, tray and plants: worked in the mix table
        let grams = wet_grams(18, Volume::try_from_ml(473.0));
        assert!((7_600..=8_000).contains(&grams), "{grams}");
    }
}
