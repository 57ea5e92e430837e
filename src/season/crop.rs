use crate::units::{Temperature, Typed};

use super::{CropKey, Sourced};

/// What is known of a crop from seed to planting out; every figure with its source or its mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Crop {
    pub key: CropKey,
    pub name: String,
    pub latin: String,
    /// `solanaceae`, `brassica`, `flower` …: crops of one family share a fill in drawings.
    pub family: String,
    /// Two letters that open the marks of its trays: `To` for `To 7`.
    pub mark: String,
    /// Of fresh seed, in a mix of its liking.
    pub germination_percent: Sourced<u8>,
    /// The legal minimum of a packet (US 7 CFR 201.31), where there is one.
    pub germination_legal_percent: Option<u8>,
    pub germination_temperatures: Option<Sourced<GerminationTemperatures>>,
    /// The row of the table of normal seedlings by temperature that it germinates by.
    pub germination_row: Option<String>,
    pub light_to_germinate: SeedLight,
    /// Days from sowing until it shows.
    pub emergence: Sourced<DayRange>,
    /// Warmth it takes to come up, where that was published.
    pub emergence_warmth: Option<Sourced<ThermalTime>>,
    /// The row of the table of days to emergence by temperature that it comes up by.
    pub emergence_row: Option<String>,
    /// Warmth it takes for each true leaf, where that was published.
    pub leaf_warmth: Option<Sourced<ThermalTime>>,
    pub moving_on: Sourced<MovingOn>,
    /// Weeks from sowing after which a container holds it back, by size of cell.
    pub latest: Sourced<LatestWeeks>,
    /// Weeks from sowing to the size that is planted out.
    pub weeks_to_planting_out: Sourced<(u8, u8)>,
    /// Weeks from sowing to sale: in flower, which is later than the size for planting out.
    pub weeks_to_sale: Option<Sourced<(u8, u8)>>,
    /// Weeks after (negative: before) the 5-in-10 last frost at 0 °C, earliest and latest.
    pub planting_out_after_frost: Option<Sourced<(i8, i8)>>,
    pub hardiness: Hardiness,
    /// A night colder than this and it comes in.
    pub come_in: Sourced<Typed<Temperature>>,
    /// Bolts if chilled young.
    pub bolts: Option<Sourced<Chill>>,
    pub hardening: Sourced<Hardening>,
    /// Days in a container until its roots hold the ball together; as usual where nothing is said.
    pub rooting_days: Option<Sourced<u16>>,
    pub depth: Sourced<SettingDepth>,
    pub transplants: Transplants,
    /// How often it is usually moved on between sowing and planting out.
    pub usual_moves: u8,
    /// Cell counts of trays it is usually sown in.
    pub usual_cells: Vec<u16>,
    /// Sown thick in open flats: plants that stand to the end in one of 545 × 280 mm (a 1020); others take as many
    /// to their size.
    pub in_open_flat: Option<Sourced<u16>>,
    /// Points `(week from sowing, millimetres)`, mix surface to top of leaves; straight between.
    pub heights: Sourced<Vec<GrowthPoint>>,
    /// Points `(week from sowing, millimetres)`, leaf tip to leaf tip; straight between.
    pub spreads: Sourced<Vec<GrowthPoint>>,
    /// Its pots are spaced out on the day their leaves meet, unless the grower says otherwise.
    pub spaced: bool,
    /// Daily light integral, poor below and aimed at, in mol m⁻² d⁻¹.
    pub light: Option<Sourced<(f64, f64)>>,
    pub seeds_per_gram: Option<u32>,
    /// Before sowing, as in the table: `soak 12 h`; empty where there is nothing to do.
    pub before_sowing: String,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GerminationTemperatures {
    pub min: Option<Temperature>,
    pub best_low: Option<Temperature>,
    pub best_high: Option<Temperature>,
    pub max: Option<Temperature>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SeedLight {
    Light,
    Dark,
    Either,
}

/// Degree-days above a base, in °C and °C·d, good from `low` to `high`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThermalTime {
    pub base: Temperature,
    pub degree_days: f64,
    pub low: Temperature,
    pub high: Temperature,
}

/// Early, likely and late, in days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DayRange {
    pub early: u16,
    pub likely: u16,
    pub late: u16,
}

/// When a plant is due for the next container.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MovingOn {
    /// True leaves it must have; `None` where age or size decides, as in onions and leeks.
    pub true_leaves: Option<u8>,
    /// Days from sowing until then.
    pub days: DayRange,
}

/// Weeks from sowing, or days where those are counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LatestWeeks {
    /// Cells of up to 15 ml (512 to 200 to the flat).
    pub small: Option<u8>,
    /// Up to 50 ml (128 to 72).
    pub medium: Option<u8>,
    /// Up to 300 ml (50 to 18).
    pub large: Option<u8>,
    /// Pots about 9 or 10 cm wide, up to 600 ml; larger ones too, where nothing is said of those.
    pub pot: Option<u8>,
    /// Pots of about a litre, up to 1.5 l.
    pub litre: Option<u8>,
    /// A trade gallon, and larger.
    pub gallon: Option<u8>,
    /// They are days, not weeks.
    pub in_days: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hardiness {
    Hardy,
    HalfHardy,
    Tender,
    VeryTender,
}

/// So many days below a temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Chill {
    pub below: Temperature,
    pub days: u16,
    pub words: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hardening {
    /// Days of hardening off before planting out.
    pub days: u16,
    /// Days of it after which the tray stays out at night; its indoor spot is taken until then.
    pub first_night_after: u16,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SettingDepth {
    /// Buried to the seed leaves or deeper.
    Deep,
    /// At the root collar, as it stood.
    Collar,
    /// Texts disagree; the same depth is the safe choice.
    Either,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Transplants {
    Easily,
    Moderately,
    /// Sown in the pot it stays in.
    Poorly,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrowthPoint {
    pub week: f64,
    pub mm: f64,
}
