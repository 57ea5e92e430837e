use crate::season::{
    Container, ContainerKey, ContainerKind, Crop, CropKey, Library, Rule, Sowing, Step, Transplants, Wanted,
};

use super::{cell_volume, holds_enough};

/// A container of the usual chain, and the flat it is carried in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UsualStep {
    pub container: ContainerKey,
    pub carried_in: Option<ContainerKey>,
}

/// A sowing of one lot that goes through that chain by the crop's own rules, sown by `start`; it has no
/// numbers yet.
pub fn sowing_in(chain: Vec<UsualStep>, crop: &CropKey, variety: &str, wanted: Wanted, start: Rule) -> Sowing {
    let mut steps: Vec<Step> = chain.into_iter().map(|usual| Step::new(usual.container, usual.carried_in)).collect();
    if let Some(first) = steps.first_mut() {
        first.start = start;
    }
    Sowing { variety: variety.to_owned(), ..Sowing::new(crop.clone(), wanted, steps) }
}

/// Pots to move on into, smallest first.
const POTS: [&str; 4] = ["sq_2_5", "sq_3", "sq_3_5", "sq_4_18ct"];
const FLAT: &str = "flat_1020";
/// The first pot looked at for what stays small.
const SMALL: usize = 1;
const LARGE: usize = 3;

/// The chain of containers that a crop usually goes through (common practice, no source).
///
/// Sown in the plug tray of its usual cells, 72 if that is among them, else the middle one (the larger cell of two); moved
/// on, if it usually is, into a pot that holds at least three times the cell. Poor transplanters
/// are sown in the pot they stay in. Empty only if the library lacks the containers.
pub fn chain_for(crop: &Crop, library: &Library) -> Vec<UsualStep> {
    let pot = |at_least: Option<&Container>| pot_for(crop, at_least, library).map(in_flat);
    if crop.transplants == Transplants::Poorly {
        return pot(None).into_iter().collect();
    }
    let Some(plug) = usual_plug(crop, library) else { return pot(None).into_iter().collect() };
    let mut chain = vec![UsualStep { container: plug.key.clone(), carried_in: None }];
    if crop.usual_moves > 0 {
        chain.extend(pot(Some(plug)));
    }
    chain
}

/// What a crop that stands in that container usually still goes through: the container itself, then
/// the pot it is moved on into, unless it stays where it is.
///
/// From one pot it is moved on only into one that holds at least three times as much.
pub fn chain_from(crop: &Crop, now: &Container, library: &Library) -> Vec<UsualStep> {
    let is_pot = matches!(now.kind, ContainerKind::Pot(_));
    let carried_in = is_pot.then(|| ContainerKey::new(FLAT));
    let mut chain = vec![UsualStep { container: now.key.clone(), carried_in }];
    if crop.transplants == Transplants::Poorly || crop.usual_moves == 0 {
        return chain;
    }
    let enough = |pot: &&Container| match (cell_volume(now), cell_volume(pot)) {
        (Some(from), Some(to)) => holds_enough(from, to),
        _ => !is_pot,
    };
    chain.extend(pot_for(crop, Some(now), library).filter(|pot| !is_pot || enough(pot)).map(in_flat));
    chain
}

fn in_flat(pot: &Container) -> UsualStep {
    UsualStep { container: pot.key.clone(), carried_in: Some(ContainerKey::new(FLAT)) }
}

fn usual_plug<'a>(crop: &Crop, library: &'a Library) -> Option<&'a Container> {
    let mut known: Vec<(u16, &Container)> =
        crop.usual_cells.iter().filter_map(|cells| Some((*cells, plug_of(*cells, library)?))).collect();
    known.sort_by_key(|(cells, _)| *cells);
    let seventy_two = known.iter().find(|(cells, _)| *cells == 72);
    seventy_two.or_else(|| known.get(known.len().saturating_sub(1) / 2)).map(|(_, plug)| *plug)
}

fn plug_of(cells: u16, library: &Library) -> Option<&Container> {
    let by_key = library.containers.get(&ContainerKey::new(&format!("plug_{cells}")));
    by_key.or_else(|| {
        library.containers.values().find(|one| matches!(&one.kind, ContainerKind::Plug(plug) if plug.cells == cells))
    })
}

fn pot_for<'a>(crop: &Crop, from: Option<&Container>, library: &'a Library) -> Option<&'a Container> {
    let small = matches!(crop.family.as_str(), "herb" | "flower" | "legume" | "other");
    let least = if small { SMALL } else { LARGE };
    let volume = from.and_then(cell_volume);
    let pots = || POTS.iter().skip(least).filter_map(|key| library.containers.get(&ContainerKey::new(key)));
    pots()
        .find(|pot| match (volume, cell_volume(pot)) {
            (Some(from), Some(to)) => holds_enough(from, to),
            _ => true,
        })
        .or_else(|| pots().next_back())
}
