//! Copying an arrangement: as a table for other programs, and as spots for other trays.

use crate::season::{EditLabel, ShelfId, Spot};
use crate::units::Length;
use crate::window::action::Action;
use crate::window::scene::Scene;
use crate::words;

use super::group::{chosen, together};
use super::spots::counts_from;

/// Where a tray of that size stood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::window) struct Copied {
    width: Length,
    depth: Length,
    x: Length,
    y: Length,
    quarter_turns: u8,
}

/// The arrangement of the chosen trays, and the same as lines of columns set apart by tabs.
pub(in crate::window) fn copy(scene: &Scene<'_>) -> (Vec<Copied>, String) {
    let words = scene.words();
    let mut lines = vec!["tray\tcrop\tcontainer\tshelf\tfrom the left\tfrom the back\tuntil".to_owned()];
    let mut copied = Vec::new();
    for one in chosen(scene) {
        let stay = one.stay;
        let place = one.spot.map_or_else(
            || "no spot yet\t\t".to_owned(),
            |spot| format!("{}\t{}\t{}", words.shelf(spot.shelf), words.length(spot.x), words.length(spot.y)),
        );
        let mark = scene.mark(stay);
        let until = words::full_day(stay.span.last());
        lines.push(format!("{mark}\t{}\t{}\t{place}\t{until}", scene.crop_name(stay), words.what_briefly(stay)));
        copied.extend(one.spot.map(|spot| Copied {
            width: stay.shape.width(),
            depth: stay.shape.depth(),
            x: spot.x,
            y: spot.y,
            quarter_turns: spot.quarter_turns,
        }));
    }
    (copied, lines.join("\n"))
}

/// The copied arrangement on that shelf, for trays of the same sizes that have no spot yet.
pub(in crate::window) fn paste(scene: &Scene<'_>, copied: &[Copied], shelf: Option<ShelfId>) -> Action {
    if copied.is_empty() {
        return Action::Complain("No arrangement was copied: choose trays that stand on a shelf first".to_owned());
    }
    let Some(shelf) = shelf else {
        return Action::Complain(
            "Point at the shelf that is to get the arrangement, or step to it with Tab".to_owned(),
        );
    };
    let mut waiting: Vec<_> = scene.placed().into_iter().filter(|one| one.spot.is_none()).collect();
    let mut wanted = Vec::new();
    for spot in copied {
        let alike = |one: &crate::window::scene::Placed<'_>| {
            (one.stay.shape.width(), one.stay.shape.depth()) == (spot.width, spot.depth)
        };
        let Some(one) = waiting.iter().position(alike).map(|at| waiting.remove(at)) else { continue };
        let from = counts_from(scene.season, scene.forecast, one.stay, scene.day, scene.from_day);
        let to = Spot {
            tray: one.standing.tray,
            from,
            until: None,
            shelf,
            x: spot.x,
            y: spot.y,
            quarter_turns: spot.quarter_turns,
            pinned: false,
        };
        wanted.push((one, to));
    }
    if wanted.is_empty() {
        return Action::Complain("No tray of these sizes is without a spot on this day".to_owned());
    }
    match together(scene, &wanted, EditLabel::PlaceTrays(wanted.len())) {
        Ok(edit) => Action::Edit(edit),
        Err(why) => Action::Complain(format!("The arrangement has no room on {}: {why}", scene.words().shelf(shelf))),
    }
}
