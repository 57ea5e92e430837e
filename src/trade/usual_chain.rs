use crate::season::{
    Container, ContainerKey, ContainerKind, Crop, CropKey, Library, Rule, Sowing, Step, Transplants, Wanted,
};

use super::{cell_volume, holds_enough, latest_days, rooting_days, sowing_weeks_before_out};

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
/// For what stays longer than it may in those.
const LARGEST: &str = "trade_1";
const FLAT: &str = "flat_1020";
/// The first pot looked at for what stays small.
const SMALL: usize = 1;
const LARGE: usize = 3;
/// A pot that holds a crop back for no longer than that does, before a far larger one is bought (our choice, no source).
const GRACE_DAYS: u16 = 7;

/// The flat that pots usually stand in.
pub fn usual_flat(library: &Library) -> Option<&ContainerKey> {
    library.containers.get_key_value(&ContainerKey::new(FLAT)).map(|(key, _)| key)
}

/// The chain of containers that a crop usually goes through (common practice, no source), with `days` from
/// sowing until it goes out, or the crop's own course where nobody set them.
///
/// Sown thick in an open flat where the crop has a figure for that. Else sown in the plug tray of its usual
/// cells, 72 if that is among them, else the middle one (the larger cell of two); a larger one where that holds
/// it back before it leaves. Moved on, if it usually is and has time to root through, into the smallest pot that
/// holds at least three times the cell and doesn't hold the crop back before it goes out. Poor transplanters stay
/// in the largest of their usual cells, or in a pot where no cell does for so long. Empty only if the library
/// lacks the containers.
pub fn chain_for(crop: &Crop, days: Option<u16>, library: &Library) -> Vec<UsualStep> {
    let flat = ContainerKey::new(FLAT);
    if crop.in_open_flat.is_some() && library.containers.contains_key(&flat) {
        return vec![UsualStep { container: flat, carried_in: None }];
    }
    let due = crop.moving_on.value.days.likely;
    let moves = is_moved_on(crop) && has_time(crop, days.unwrap_or_else(|| usual_days(crop, true)).saturating_sub(due));
    let days = days.unwrap_or_else(|| usual_days(crop, moves));
    let stands = if moves { due } else { days };
    let Some(first) = sown_in(crop, stands, library) else {
        return pot_for(crop, None, days, library).map(in_flat).into_iter().collect();
    };
    let mut chain = vec![alone(first)];
    if moves {
        chain.extend(pot_for(crop, Some(first), days, library).map(in_flat));
    }
    chain
}

/// The chain of a crop that is sown in a container of the grower's own choice: moved on from it as from its usual
/// one.
pub fn chain_in(crop: &Crop, sown_in: &Container, days: Option<u16>, library: &Library) -> Vec<UsualStep> {
    let days = days.unwrap_or_else(|| usual_days(crop, is_moved_on(crop)));
    let left = days.saturating_sub(crop.moving_on.value.days.likely);
    chain_from(crop, sown_in, (days, left), library)
}

/// What a crop that stands in that container usually still goes through: the container itself, then
/// the pot it is moved on into, unless it stays where it is. `days` are those from sowing until it goes out, and
/// `left` those from moving on until then.
///
/// From one pot it is moved on only where that holds it back before it goes out.
pub fn chain_from(crop: &Crop, now: &Container, (days, left): (u16, u16), library: &Library) -> Vec<UsualStep> {
    let mut chain = vec![alone(now)];
    let is_enough = matches!(now.kind, ContainerKind::Pot(_)) && held_back(crop, now, days) == 0;
    if is_moved_on(crop) && has_time(crop, left) && !is_enough {
        chain.extend(next_pot(crop, now, days, library));
    }
    chain
}

/// The pot that a crop is moved on into from that container, whether it usually is or not; `None` where no usual
/// one holds enough, and it may stay where it is. `days` are those from sowing until it goes out.
pub fn next_pot(crop: &Crop, now: &Container, days: u16, library: &Library) -> Option<UsualStep> {
    pot_for(crop, Some(now), days, library).map(in_flat)
}

/// Days from sowing until a crop goes out by its own course.
pub fn usual_days(crop: &Crop, moved_on: bool) -> u16 {
    7 * u16::from(sowing_weeks_before_out(crop, false, moved_on))
}

/// The same for one that is moved on or not as it usually is.
pub fn usual_course_days(crop: &Crop) -> u16 {
    usual_days(crop, is_moved_on(crop))
}

const fn is_moved_on(crop: &Crop) -> bool {
    crop.usual_moves > 0 && !matches!(crop.transplants, Transplants::Poorly)
}

/// With fewer days than it takes to root through a pot it stays in its cell.
fn has_time(crop: &Crop, left: u16) -> bool {
    left >= rooting_days(crop)
}

fn in_flat(pot: &Container) -> UsualStep {
    UsualStep { container: pot.key.clone(), carried_in: Some(ContainerKey::new(FLAT)) }
}

/// A tray stands by itself, a pot in a flat.
fn alone(container: &Container) -> UsualStep {
    match container.kind {
        ContainerKind::Pot(_) => in_flat(container),
        _ => UsualStep { container: container.key.clone(), carried_in: None },
    }
}

/// What it is sown in to stand there for so many days.
fn sown_in<'a>(crop: &Crop, days: u16, library: &'a Library) -> Option<&'a Container> {
    let poorly = crop.transplants == Transplants::Poorly;
    let mut known: Vec<(u16, &Container)> =
        crop.usual_cells.iter().filter_map(|cells| Some((*cells, plug_of(*cells, library)?))).collect();
    known.sort_by_key(|(cells, _)| *cells);
    let middle = if poorly { 0 } else { known.len().saturating_sub(1) / 2 };
    let usual = known.iter().position(|(cells, _)| *cells == 72 && !poorly).unwrap_or(middle);
    let (larger, smaller) = known.split_at_checked(usual + 1).unwrap_or((&known, &[]));
    let cells = larger.iter().rev().chain(smaller).map(|(_, plug)| *plug);
    let pots = pots(crop, None, library).filter(|_| poorly && !known.is_empty());
    longest(crop, days, cells.chain(pots))
}

fn plug_of(cells: u16, library: &Library) -> Option<&Container> {
    let by_key = library.containers.get(&ContainerKey::new(&format!("plug_{cells}")));
    by_key.or_else(|| {
        library.containers.values().find(|one| matches!(&one.kind, ContainerKind::Plug(plug) if plug.cells == cells))
    })
}

fn pot_for<'a>(crop: &Crop, from: Option<&'a Container>, days: u16, library: &'a Library) -> Option<&'a Container> {
    let usual = longest(crop, days, pots(crop, from, library));
    if usual.is_none() && from.is_some_and(|now| held_back(crop, now, days) == 0) {
        return None;
    }
    let largest = library.containers.get(&ContainerKey::new(LARGEST)).filter(|pot| is_enough(from, pot));
    let late = |pot: &&Container| held_back(crop, pot, days).saturating_sub(GRACE_DAYS);
    usual.into_iter().chain(largest).min_by_key(late)
}

/// Whether a pot holds at least three times what the crop comes from; anything does where that has no volume.
fn is_enough(from: Option<&Container>, pot: &Container) -> bool {
    match (from.and_then(cell_volume), cell_volume(pot)) {
        (Some(from), Some(to)) => holds_enough(from, to),
        _ => !from.is_some_and(|from| matches!(from.kind, ContainerKind::Pot(_))),
    }
}

/// Pots of a crop that hold at least three times what it comes from, smallest first.
fn pots<'a>(crop: &Crop, from: Option<&'a Container>, library: &'a Library) -> impl Iterator<Item = &'a Container> {
    let small = matches!(crop.family.as_str(), "herb" | "flower" | "legume" | "other");
    let least = if small { SMALL } else { LARGE };
    let all = POTS.iter().skip(least).filter_map(|key| library.containers.get(&ContainerKey::new(key)));
    all.filter(move |pot| is_enough(from, pot))
}

/// The first that doesn't hold the crop back within so many days of sowing; without such, the one that does so
/// last.
fn longest<'a>(crop: &Crop, days: u16, all: impl Iterator<Item = &'a Container>) -> Option<&'a Container> {
    all.min_by_key(|one| held_back(crop, one, days))
}

/// Of so many days from sowing, those on which the container holds the crop back.
fn held_back(crop: &Crop, container: &Container, days: u16) -> u16 {
    latest_days(crop, container).map_or(0, |latest| days.saturating_sub(latest))
}
