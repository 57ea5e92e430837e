//! What warmth seed and plants bear, held against what a place has.

use crate::season::{Crop, Hardiness, PartOfDay, Temperatures};
use crate::units::{Temperature, Typed};

use super::mean_temperature;

/// What warmth something bears. What nobody knows of a place harms nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Bears {
    /// Nobody says: plants of others.
    #[default]
    Anything,
    /// Seed: the mix, on average of the day. Outside of that it does not come up.
    Mix { least: Option<Temperature>, most: Option<Temperature> },
    /// Plants: the air at its coldest, below which they come in. A day warmer than `most` checks them, and
    /// harms none.
    Air { least: Temperature, most: Temperature },
}

/// What is wrong with the warmth of a place: how warm it is, and what would be borne.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Harm {
    TooCold { at: Temperature, least: Temperature },
    TooWarm { at: Temperature, most: Temperature },
}

impl Bears {
    /// Plants of a crop bear the night below which it comes in, and nothing colder: not the one at which it
    /// grows best.
    pub fn plants(crop: &Crop) -> Self {
        Self::Air { least: crop.come_in.value.value(), most: too_warm_above(crop) }
    }

    /// Seed of a crop comes up between the limits of the mix that are known of it.
    pub fn seed(crop: &Crop) -> Self {
        crop.germination_temperatures
            .as_ref()
            .map_or(Self::Anything, |known| Self::Mix { least: known.value.min, most: known.value.max })
    }

    /// What both bear; plants that are up beside seed that isn't decide.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Anything, one) | (one, Self::Anything) => one,
            (Self::Air { least, most }, Self::Air { least: other_least, most: other_most }) => {
                Self::Air { least: least.max(other_least), most: most.min(other_most) }
            }
            (air @ Self::Air { .. }, Self::Mix { .. }) | (Self::Mix { .. }, air @ Self::Air { .. }) => air,
            (Self::Mix { least, most }, Self::Mix { least: other_least, most: other_most }) => {
                Self::Mix { least: least.max(other_least), most: [most, other_most].into_iter().flatten().min() }
            }
        }
    }

    /// What keeps it from standing in such a place during that part of the day.
    pub fn harm(self, of: &Temperatures, part: PartOfDay, on_mat: bool) -> Option<Harm> {
        match self {
            Self::Anything => None,
            Self::Air { least, .. } => coldest(of, part).filter(|at| *at < least).map(|at| Harm::TooCold { at, least }),
            Self::Mix { least, most } => {
                let at = mix_temperature(of, on_mat)?;
                let cold = least.filter(|least| at < *least).map(|least| Harm::TooCold { at, least });
                cold.or_else(|| most.filter(|most| at > *most).map(|most| Harm::TooWarm { at, most }))
            }
        }
    }
}

/// Whether a place is warmer by day than plants stand well.
pub fn checks(bears: Bears, of: &Temperatures) -> bool {
    matches!(bears, Bears::Air { most, .. } if coldest(of, PartOfDay::Days).is_some_and(|day| day > most))
}

/// The coldest that stands against plants in a place during that part of the day.
pub fn coldest(of: &Temperatures, part: PartOfDay) -> Option<Temperature> {
    let (day, night) = (of.day.as_ref().map(Typed::value), of.night.as_ref().map(Typed::value));
    match part {
        PartOfDay::Days => day,
        PartOfDay::Nights => night,
        PartOfDay::Whole => [day, night].into_iter().flatten().min(),
    }
}

/// Of the mix: a mat's where it lies on one, else the mean of the place.
pub fn mix_temperature(of: &Temperatures, on_mat: bool) -> Option<Temperature> {
    let mat = of.mat.as_ref().filter(|_| on_mat).map(Typed::value);
    mat.or_else(|| mean_temperature(of))
}

/// A day warmer than this checks plants of the crop: 30 °C for those that stand frost, 35 °C for those that
/// don't (from memory; no crop has a figure of its own).
pub fn too_warm_above(crop: &Crop) -> Temperature {
    let celsius = match crop.hardiness {
        Hardiness::Hardy | Hardiness::HalfHardy => 30.0,
        Hardiness::Tender | Hardiness::VeryTender => 35.0,
    };
    Temperature::try_from_celsius(celsius).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(celsius: f64) -> Temperature {
        Temperature::try_from_celsius(celsius).unwrap_or_default()
    }

    fn air(least: f64) -> Bears {
        Bears::Air { least: at(least), most: at(35.0) }
    }

    fn place(day: &str, night: &str, mat: &str) -> Temperatures {
        let typed = |text: &str| Typed::parse_temperature(text).ok();
        Temperatures { day: typed(day), night: typed(night), mat: typed(mat) }
    }

    #[test]
    fn plants_are_held_against_the_coldest_of_the_part_of_the_day() {
        let (tunnel, pepper) = (place("18 °C", "1 °C", "24 °C"), air(10.0));
        let too_cold = Some(Harm::TooCold { at: at(1.0), least: at(10.0) });
        assert_eq!(pepper.harm(&tunnel, PartOfDay::Whole, false), too_cold);
        assert_eq!(pepper.harm(&tunnel, PartOfDay::Nights, true), too_cold, "a mat warms no leaves");
        assert_eq!(pepper.harm(&tunnel, PartOfDay::Days, false), None);
        assert_eq!(pepper.harm(&place("18 °C", "10 °C", ""), PartOfDay::Whole, false), None, "as cold as it bears");
        assert_eq!(pepper.harm(&place("", "", "24 °C"), PartOfDay::Whole, false), None, "nobody knows");
    }

    #[test]
    fn seed_is_held_against_the_mix() {
        let lettuce = Bears::Mix { least: Some(at(0.0)), most: Some(at(26.0)) };
        let chamber = place("28 °C", "28 °C", "");
        let too_warm = Some(Harm::TooWarm { at: at(28.0), most: at(26.0) });
        assert_eq!(lettuce.harm(&chamber, PartOfDay::Whole, false), too_warm);
        // 16 h of 18 °C and 8 h of 1 °C: 12.3 °C, though its nights are cold
        let pepper = Bears::Mix { least: Some(at(15.6)), most: None };
        let tunnel = place("18 °C", "1 °C", "24 °C");
        let mean = Temperature::try_from_celsius((16.0 * 18.0 + 8.0) / 24.0).unwrap_or_default();
        let too_cold = Some(Harm::TooCold { at: mean, least: at(15.6) });
        assert_eq!(pepper.harm(&tunnel, PartOfDay::Whole, false), too_cold);
        assert_eq!(pepper.harm(&tunnel, PartOfDay::Whole, true), None);
    }

    #[test]
    fn what_stands_together_bears_what_each_of_it_does() {
        let (tomato, pepper) = (air(7.2), air(10.0));
        assert_eq!(tomato.and(pepper), pepper);
        let (low, high) = (
            Bears::Mix { least: Some(at(0.0)), most: Some(at(26.0)) },
            Bears::Mix { least: Some(at(15.6)), most: None },
        );
        assert_eq!(low.and(high), Bears::Mix { least: Some(at(15.6)), most: Some(at(26.0)) });
        assert_eq!(low.and(pepper), pepper);
        assert_eq!(Bears::Anything.and(low), low);
    }
}
