//! What to have ready: seed, trays and pots, and what each figure counts.

use chrono::NaiveDate;

use crate::forecast::supplies::{InUse, SeedWanted};

use super::sowings::seed_weight;
use super::{Words, day, with_variety};

pub const PAGE: &str = "Supplies";
pub const NOTHING_SOWN: &str = "Nothing is sown in this season yet: nothing is needed";
pub const SEED: &str = "Seed";
pub const TRAYS: &str = "Trays and flats";
pub const POTS: &str = "Pots";
pub const WHAT_TRAYS_COUNT: &str = "As many as are in use at one time: what is empty is filled again. “If none is used again” counts each filling by \
     itself. Trays of plants that stand there already are counted, those of other plants are not";
pub const WHAT_POTS_COUNT: &str =
    "As many as stand filled at one time: a pot whose plant is gone is filled again; and if none is used again";
pub const NO_POTS: &str = "No pots: nothing is sown in one or goes into one";
pub const NO_SEED: &str = "No seed: all plants stand there already";

pub const SEED_HEADS: [&str; 6] = ["", "On average", "To be sure", "Weight", "Still to sow", "From"];
pub const IN_USE_HEADS: [&str; 5] = ["", "At one time", "First so many", "If none is used again", "In use"];

/// What the figures of seed count.
pub fn what_seed_counts(sure_percent: u8) -> String {
    format!(
        "Seeds for the plants wanted, with those that fail: on average enough, and enough {sure_percent} times in 100 for \
         each sowing by itself, which is what the plan sows"
    )
}

/// One row: its cells, and how it is read out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowOf {
    pub cells: Vec<String>,
    pub said: String,
}

/// As one sentence, not cell by cell.
fn row(heads: &[&str], cells: Vec<String>) -> RowOf {
    let mut parts = heads.iter().zip(&cells).filter(|(_, cell)| !cell.is_empty());
    let first = parts.next().map_or_else(String::new, |(_, cell)| cell.clone());
    let rest: Vec<String> = parts.map(|(head, cell)| format!("{}: {cell}", head.to_lowercase())).collect();
    RowOf { said: format!("{first}, {}", rest.join(", ")), cells }
}

impl Words<'_> {
    pub fn seed_wanted(&self, seed: &SeedWanted) -> RowOf {
        let crop = self.season.crop(self.library, &seed.crop);
        let name = crop.map_or_else(|| seed.crop.to_string(), |crop| crop.name.clone());
        let weight = crop.and_then(|crop| crop.seeds_per_gram);
        let weight = weight.map_or_else(String::new, |per_gram| seed_weight(seed.sure, per_gram, self.unit));
        let still = if seed.still == 0 { "all sown".to_owned() } else { seed.still.to_string() };
        let cells = vec![
            with_variety(&name, &seed.variety),
            seed.on_average.to_string(),
            seed.sure.to_string(),
            weight,
            still,
            day(seed.first),
        ];
        row(&SEED_HEADS, cells)
    }

    pub fn in_use(&self, of: &InUse) -> RowOf {
        let last = of.until.pred_opt().unwrap_or(of.until);
        let cells = vec![
            self.container(&of.container),
            of.most.to_string(),
            day(of.on),
            of.all.to_string(),
            from_to(of.from, last),
        ];
        row(&IN_USE_HEADS, cells)
    }
}

fn from_to(from: NaiveDate, last: NaiveDate) -> String {
    format!("{} – {}", day(from), day(last))
}
