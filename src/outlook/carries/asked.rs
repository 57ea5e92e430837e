//! What is made more or less of, and the season with so many of it.

use crate::forecast::frost_near;
use crate::season::{CropKey, Edit, EditLabel, Library, Op, OutRule, Rule, Season, Sowing, SowingId, Wanted};
use crate::trade::{chain_for, out_after_frost, out_rule, sowing_in};

/// What is made more of until the room is full.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Of {
    /// The sowings of one crop, each in the same proportion; all others as they are.
    Crop(CropKey),
    /// All sowings, each in the same proportion.
    Season,
}

/// Why it can't be asked how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotAsked {
    UnknownCrop,
    /// The crop has no sowing, and neither its frost nor another sowing says when one would go out.
    NoDayOut,
    /// Every sowing of the season is sown already, or there is none.
    NothingToScale,
}

/// Sowings that are scaled; those whose plants are sown or stood there already are what they are.
pub(super) struct Scaled {
    sowings: Vec<Sowing>,
    /// None of them is in the season: the crop had none to scale.
    pub(super) is_new: bool,
    pub(super) of: Of,
    /// The number that the sowings are taken for as they were planned: plants of a crop, per cent of a season.
    pub(super) as_planned: u32,
    /// Plants beside them, sown already, and their sowings.
    pub(super) standing: u32,
    begun: Vec<SowingId>,
}

impl Scaled {
    pub(super) fn of(of: &Of, season: &Season, library: &Library) -> Result<Self, NotAsked> {
        let asked = |sowing: &&Sowing| match of {
            Of::Crop(key) => sowing.crop == *key,
            Of::Season => true,
        };
        let (sowings, begun): (Vec<&Sowing>, Vec<&Sowing>) =
            season.sowings().filter(asked).partition(|sowing| sowing.begun.is_none() && sowing.seen.is_empty());
        let standing = sum(begun.iter().map(|sowing| sowing.plants_wanted()));
        let planned = sum(sowings.iter().map(|sowing| sowing.plants_wanted()));
        let sowings: Vec<Sowing> = sowings.into_iter().cloned().collect();
        let ids = begun.iter().map(|sowing| sowing.id).collect();
        match of {
            Of::Crop(key) if sowings.is_empty() => {
                let one = new_sowing(key, begun.last().copied(), season, library)?;
                Ok(Self { sowings: vec![one], is_new: true, of: of.clone(), as_planned: 1, standing, begun: ids })
            }
            Of::Season if sowings.is_empty() => Err(NotAsked::NothingToScale),
            Of::Crop(_) => {
                Ok(Self { sowings, is_new: false, of: of.clone(), as_planned: planned.max(1), standing, begun: ids })
            }
            Of::Season => Ok(Self { sowings, is_new: false, of: of.clone(), as_planned: 100, standing, begun: ids }),
        }
    }

    pub(super) fn sowings(&self) -> &[Sowing] {
        &self.sowings
    }

    /// Those that are scaled, and those beside them that are sown already.
    pub(super) fn all_ids(&self) -> impl Iterator<Item = SowingId> {
        self.sowings.iter().map(|sowing| sowing.id).chain(self.begun.iter().copied())
    }

    /// Plants that are planned to go out, those sown already among them.
    pub(super) fn planned(&self) -> u32 {
        let planned = sum(self.sowings.iter().map(Sowing::plants_wanted));
        self.standing.saturating_add(if self.is_new { 0 } else { planned })
    }

    /// Plants at that number, those sown already among them.
    pub(super) fn plants_at(&self, number: u32) -> u32 {
        let scaled = self.sowings.iter().flat_map(|sowing| &sowing.wanted).map(|wanted| self.scaled(wanted, number));
        self.standing.saturating_add(if number == 0 { 0 } else { sum(scaled) })
    }

    /// From there on nothing has a number, in the season or in a new sowing.
    pub(super) fn fresh(&self, season: &Season) -> u32 {
        let ids = self.sowings.iter().flat_map(|sowing| {
            let lots = sowing.lots.iter().map(|lot| lot.id.0);
            sowing.steps.iter().map(|step| step.id.0).chain(lots).chain([sowing.id.0])
        });
        ids.map(|id| id.saturating_add(1)).fold(season.next_id(), u32::max)
    }

    /// Whole plants, and one of each at least.
    fn scaled(&self, wanted: &Wanted, number: u32) -> u32 {
        let (plants, one) = (u64::from(wanted.plants) * u64::from(number), u64::from(self.as_planned));
        u32::try_from((2 * plants + one) / (2 * one)).unwrap_or(u32::MAX).max(1)
    }

    pub(super) fn ops(&self, number: u32) -> Vec<Op> {
        let ops = self.sowings.iter().filter_map(|sowing| {
            if number == 0 {
                return (!self.is_new).then_some(Op::RemoveSowing(sowing.id));
            }
            let mut scaled = sowing.clone();
            for wanted in &mut scaled.wanted {
                wanted.plants = self.scaled(wanted, number);
            }
            Some(Op::PutSowing(scaled))
        });
        ops.collect()
    }

    /// So many, as the grower takes them.
    pub(super) fn edit(&self, number: u32, season: &Season, library: &Library) -> Edit {
        let label = match &self.of {
            Of::Season => {
                let percent = per_cent(self.plants_at(number), self.planned());
                EditLabel::ScaleSeason(u32::try_from(percent).unwrap_or(u32::MAX))
            }
            Of::Crop(key) => {
                let name = season.crop(library, key).map_or_else(|| key.0.to_string(), |crop| crop.name.clone());
                if self.is_new { EditLabel::AddSowing(name) } else { EditLabel::ChangeSowing(name) }
            }
        };
        Edit::new(label, self.ops(number))
    }
}

/// To the nearest whole one, a half up. What sowings round to is in it, which the number that scales them is not.
pub(super) fn per_cent(plants: u32, of: u32) -> u64 {
    let (plants, of) = (u64::from(plants), u64::from(of.max(1)));
    (200 * plants + of) / (2 * of)
}

fn sum(plants: impl Iterator<Item = u32>) -> u32 {
    plants.fold(0, u32::saturating_add)
}

/// One plant in the usual chain; out as the one before it, else by the last frost, else with the first that go out.
fn new_sowing(key: &CropKey, before: Option<&Sowing>, season: &Season, library: &Library) -> Result<Sowing, NotAsked> {
    let crop = season.crop(library, key).ok_or(NotAsked::UnknownCrop)?;
    let by_frost = || {
        let date = out_after_frost(crop, season.settings().frost.as_ref()?)?;
        Some(Wanted { date, plants: 1, rule: out_rule(crop)?, to_sell: false })
    };
    let with = before.and_then(Sowing::out).or_else(|| frost_near(season));
    let with = with.map(|date| Wanted { date, plants: 1, rule: OutRule::Day, to_sell: false });
    let wanted = if before.is_some() { with.or_else(by_frost) } else { by_frost().or(with) };
    let wanted = wanted.ok_or(NotAsked::NoDayOut)?;
    let sowing = sowing_in(chain_for(crop, None, library), key, "", wanted, Rule::WhenDue);
    Ok(sowing.renumbered(season.next_id()))
}
