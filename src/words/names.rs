//! What things are called: trays, sowings, containers, shelves, and who asks.

use crate::forecast::Forecast;
use crate::outlook::{Pool, PoolKind};
use crate::season::{ContainerKey, Library, Role, Season, ShelfId, SowingId, StepId, TrayKey};
use crate::units::{Area, Length, LengthUnit, weight_in_words};

use super::amounts::listed;

/// Trays that stand nowhere.
pub const WAITING: &str = "No spot yet";

/// What the names of things are looked up in, and the unit lengths are shown in.
#[derive(Clone, Copy, Debug)]
pub struct Words<'a> {
    pub season: &'a Season,
    pub library: &'a Library,
    pub forecast: &'a Forecast,
    pub unit: LengthUnit,
}

impl Words<'_> {
    pub fn length(&self, length: Length) -> String {
        length.in_words(self.unit)
    }

    /// `7.3 kg`, `16.1 lb`.
    pub fn weight(&self, grams: u64) -> String {
        weight_in_words(grams, self.unit, 1)
    }

    /// `5.2 m²`, `56 sq ft`.
    pub fn area(&self, area: Area) -> String {
        let (surface, unit) =
            if self.unit.is_of_inches() { (area.to_square_feet(), "sq ft") } else { (area.to_square_metres(), "m²") };
        match surface {
            surface if surface < 1.0 => format!("{surface:.2} {unit}"),
            surface if surface < 10.0 => format!("{surface:.1} {unit}"),
            surface => format!("{surface:.0} {unit}"),
        }
    }

    /// `To 7`.
    pub fn tray(&self, tray: TrayKey) -> String {
        self.forecast.mark(tray).to_owned()
    }

    /// `To 7 (tomato)`.
    pub(super) fn tray_of(&self, tray: TrayKey) -> String {
        let mut all = self.forecast.stays_of(tray).map(|stay| self.forecast.sowings_in(stay));
        match all.find(|all| !all.is_empty()) {
            Some(all) => format!("{} ({})", self.tray(tray), self.together(&all)),
            None => self.tray(tray),
        }
    }

    /// `To 1, To 2 and 12 more`.
    pub(super) fn marks(&self, trays: &[TrayKey]) -> String {
        const SHOWN: usize = 8;
        let shown: Vec<String> = trays.iter().take(SHOWN).map(|tray| self.tray(*tray)).collect();
        match trays.len().saturating_sub(SHOWN) {
            0 => shown.join(", "),
            more => format!("{} and {more} more", shown.join(", ")),
        }
    }

    /// `from To 1 and To 2`; nothing for a tray that was sown.
    pub fn origin(&self, tray: TrayKey) -> Option<String> {
        let parents = self.forecast.origins.get(&tray)?;
        let marks: Vec<String> = parents.iter().map(|parent| self.tray(*parent)).collect();
        (!marks.is_empty()).then(|| format!("from {}", listed(&marks)))
    }

    /// `Tomato ‘Early Red’`.
    pub fn sowing(&self, id: SowingId) -> String {
        let Some(sowing) = self.season.sowing(id) else { return format!("sowing {id}") };
        let crop = self
            .season
            .crop(self.library, &sowing.crop)
            .map_or_else(|| sowing.crop.to_string(), |crop| crop.name.clone());
        with_variety(&crop, &sowing.variety)
    }

    /// A container by its name.
    pub fn container(&self, key: &ContainerKey) -> String {
        self.season.container(self.library, key).map_or_else(|| key.to_string(), |container| container.name.clone())
    }

    pub(super) fn step(&self, sowing: SowingId, step: StepId) -> String {
        let found = self.season.sowing(sowing).and_then(|sowing| sowing.steps.iter().find(|found| found.id == step));
        found.map_or_else(|| "that container".to_owned(), |step| self.container(&step.container))
    }

    pub(super) fn step_anywhere(&self, step: StepId) -> String {
        let found = self.season.sowing_with(step);
        found.map_or_else(|| "the next container".to_owned(), |sowing| self.step(sowing.id, step))
    }

    /// `Window rack, shelf 2`.
    pub fn shelf(&self, id: ShelfId) -> String {
        let Some(shelf) = self.season.shelf(id) else { return format!("shelf {id}") };
        let Some(rack) = self.season.rack(shelf.rack) else { return format!("shelf {id}") };
        let mut of_rack = self.season.shelves().filter(|shelf| shelf.rack == rack.id);
        if of_rack.nth(1).is_none() { rack.name.clone() } else { format!("{}, shelf {}", rack.name, shelf.tier) }
    }

    /// `growing shelves`, `bottom heat`.
    /// `growing shelves (Room) and bottom heat (Room)`.
    pub fn pools(&self, pools: &[Pool]) -> String {
        pools.iter().map(|pool| self.pool(pool)).collect::<Vec<_>>().join(" and ")
    }

    pub fn pool(&self, pool: &Pool) -> String {
        let kind = pool_kind(pool.kind);
        let names: Vec<&str> =
            pool.places.iter().filter_map(|id| self.season.place(*id)).map(|place| place.name.as_str()).collect();
        let names = names.join(", ");
        if names.is_empty() || names.to_lowercase() == kind { kind.to_owned() } else { format!("{kind} ({names})") }
    }
}

/// Without its places.
pub(super) const fn pool_kind(kind: PoolKind) -> &'static str {
    match kind {
        PoolKind::BottomHeat => "bottom heat",
        PoolKind::Of(Role::Germinating) => "germinating shelves",
        PoolKind::Of(Role::Growing) => "growing shelves",
        PoolKind::Of(Role::Hardening) => "hardening off",
    }
}

pub(super) fn role_of(role: Role) -> &'static str {
    match role {
        Role::Germinating => "germinating",
        Role::Growing => "growing",
        Role::Hardening => "hardening off",
    }
}

/// The crops that share a colour, by the name that crops have for them.
pub fn family(name: &str) -> &'static str {
    match name {
        "solanaceae" => "tomato family",
        "brassica" => "cabbage family",
        "leaf" => "leaves and salads",
        "allium" => "onion family",
        "flower" => "flowers",
        "herb" => "herbs",
        "cucurbit" => "cucumber family",
        "legume" => "peas and beans",
        "root" => "roots",
        _ => "others",
    }
}

/// `tomato ‘Early Red’`.
pub fn with_variety(crop: &str, variety: &str) -> String {
    if variety.is_empty() { crop.to_owned() } else { format!("{crop} ‘{variety}’") }
}
