//! What may hurt people or plants, said beside the figures that it concerns.
//!
//! Sources: Electrical Safety Foundation International (GFCI near water, monthly test; trips at 4 to 6 mA); NEC
//! 210.19(A)(1) for continuous loads as electricians quote it; seed houses on heat mats (mix 6 to 11 °C above the
//! room, surface to 35 to 40 °C without a thermostat); NIOSH 94-110 for lifting; the health departments of New South
//! Wales, Western Australia and Victoria on Legionella longbeachae; NIOSH on perlite dust; Weather, wea.760, for a
//! grass minimum up to 10 °C below the screen. Frames, heaters, casters, "commonly 2 to 5 °C": common practice, no
//! source.

use crate::units::LengthUnit;

/// What to take care with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Care {
    /// Lamps and heat mats.
    Power,
    /// What shelves bear, and lifting.
    Load,
    Mix,
    /// Frames, tunnels and greenhouses: sun, frost and heaters.
    Houses,
    /// Aisles, doors and ways out.
    Ways,
}

/// Stands behind them all.
pub const DEFER: &str =
    "Local codes, makers’ ratings and licensed electricians or fitters come before anything said here";

impl Care {
    pub const ALL: [Self; 5] = [Self::Power, Self::Load, Self::Mix, Self::Houses, Self::Ways];

    /// Of what is folded.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Power => "Take care with lamps and heat mats",
            Self::Load => "Take care with loads",
            Self::Mix => "Take care with mix",
            Self::Houses => "Take care with frames, frost and heaters",
            Self::Ways => "Take care with aisles and ways out",
        }
    }

    /// One sentence each.
    pub fn lines(self, unit: LengthUnit) -> Vec<String> {
        let inches = unit.is_of_inches();
        match self {
            Self::Power => vec![
                "What burns 3 hours or more is a continuous load: where the US code holds, 80 % of the breaker at most \
                 (15 A at 120 V: 1,440 W; 20 A: 1,920 W); elsewhere ask what your wiring rules say"
                    .to_owned(),
                "Lamps, mats and pumps near water want a GFCI (RCD); press its test button every month".to_owned(),
                "A GFCI (RCD) that trips ends the heat, and nobody is told: look every day while frost can come, or \
                 have an alarm"
                    .to_owned(),
                format!(
                    "A mat wants a thermostat with its probe in the mix: without one its surface may reach {}; don’t \
                     fold or cover it, and take trays off when they are up",
                    if inches { "95 to 105 °F" } else { "35 to 40 °C" }
                ),
                "No cords or strips one behind the other; sockets above splash, cords with a drip loop".to_owned(),
            ],
            Self::Load => vec![
                "A maker’s rating is for an even load that stands still: casters lower it, often for the whole rack"
                    .to_owned(),
                "The heaviest trays go low, and a tall rack is fixed to the wall".to_owned(),
                "What sticks out over an edge is knocked off in passing, and tips when it is watered: never on a way \
                 that people take (common practice, no source)"
                    .to_owned(),
                "Weights here are of watered mix at 0.85 kg/l; soaked it may be 1 kg/l".to_owned(),
                format!(
                    "One person lifts {} at best: close to the body, seldom, neither low nor above the shoulder",
                    if inches { "51 lb" } else { "23 kg" }
                ),
            ],
            Self::Mix => vec![
                "Mix and compost may hold Legionella: gloves and a mask that fits, open bags away from the face, damp \
                 the mix, air the room, wash hands before eating or smoking"
                    .to_owned(),
                "The risk is greater with age, smoking, weak lungs or weak immunity; with a fever in the ten days \
                 after, see a doctor and name the mix"
                    .to_owned(),
                "Perlite, vermiculite and dry peat make dust: wet them before you pour".to_owned(),
            ],
            Self::Ways => vec![
                "Keep doors and the ways to them free, never narrowed by a rack, a barrow or what sticks out: local \
                 fire and building codes decide how many they are and how wide"
                    .to_owned(),
                "Whoever comes in a wheelchair or helps an injured person out needs more than a barrow does: ask what \
                 your codes say"
                    .to_owned(),
                "No cords or hoses across an aisle, and a floor that drains: wet floors are slipped on".to_owned(),
            ],
            Self::Houses => vec![
                "A closed frame in sun is soon too hot, on cold days too: open it in the morning, or fit an opener"
                    .to_owned(),
                colder_at_the_grass(unit),
                "A heater without a flue (gas, paraffin, kerosene) gives off carbon monoxide and fumes that hurt people \
                 and plants: only where its maker allows it, with air let in and a carbon monoxide alarm"
                    .to_owned(),
            ],
        }
    }

    /// For paper, where little room is.
    pub const fn brief(self) -> &'static str {
        match self {
            Self::Power => {
                "GFCI (RCD) near water, and look every day that it has not tripped; lamps no more than 80 % of the \
                 breaker where the US code holds; mats by a thermostat"
            }
            Self::Load => "the maker’s rating, less on casters; heavy trays low",
            Self::Mix => "gloves and mask for mix, damp it, wash hands (Legionella)",
            Self::Houses => {
                "open closed frames in sun; colder near the ground than in the forecast; no unvented heater without \
                 air and an alarm"
            }
            Self::Ways => "keep doors and ways out free: local fire and building codes decide",
        }
    }
}

/// Grass against the thermometer of a station.
pub fn colder_at_the_grass(unit: LengthUnit) -> String {
    let (commonly, up_to) = if unit.is_of_inches() { ("4 to 9 °F", "18 °F") } else { ("2 to 5 °C", "10 °C") };
    format!(
        "On a clear, calm night it is commonly {commonly} colder at grass height than in a station’s screen, over snow \
         up to {up_to}"
    )
}

/// All those as one text.
pub fn brief(all: &[Care]) -> String {
    let said: Vec<&str> = all.iter().map(|care| care.brief()).collect();
    format!("Take care: {}. {DEFER}.", said.join("; "))
}
