//! Several trays in the hand, let go together: where each of them would come to stand.

use crate::season::{Op, Season, ShelfId, Spot, SpotFrom};
use crate::units::Length;

use super::layout::RectOnShelf;
use super::on_day::{OnDay, Placed};

/// Where the one that is held is let go.
#[derive(Clone, Copy, Debug)]
pub struct LetGo<'a> {
    pub lead: Placed<'a>,
    pub shelf: ShelfId,
    pub x: Length,
    pub y: Length,
    /// As it lies in the hand.
    pub quarter_turns: u8,
}

/// The season without the spots of the others, who come along and are in nobody's way.
pub fn alone(season: &Season, all: &[Placed<'_>], lead: &Placed<'_>) -> Season {
    let mut alone = season.clone();
    for spot in all.iter().filter(|other| other.id != lead.id).filter_map(|other| other.spot) {
        // a spot that is not there any more is in nobody's way either
        alone.apply(&Op::LiftTray { tray: spot.tray, from: spot.from }.into()).ok();
    }
    alone
}

/// They keep their places to each other; those without a spot line up behind the one that is held.
/// Where a tray from another shelf than its goes, `elsewhere` says: that is how racks stand to each
/// other. None for a tray that would be on no shelf.
pub fn beside<'a>(
    at: &OnDay<'_>,
    all: &[Placed<'a>],
    to: &LetGo<'a>,
    elsewhere: impl Fn(&Placed<'a>) -> Option<(ShelfId, Length, Length)>,
) -> Vec<(Placed<'a>, Spot)> {
    let LetGo { lead, shelf, x, y, quarter_turns } = *to;
    let turned = (quarter_turns + 4 - lead.spot.map_or(0, |spot| spot.quarter_turns) % 4) % 4;
    let width = at.season.shelf(shelf).map_or(Length::ZERO, |shelf| shelf.width.value());
    let (mut next_x, mut next_y) = (x, y);
    let mut wanted = Vec::new();
    for member in all {
        let from = at.counts_from(member.stay);
        let is_lead = member.id == lead.id;
        let spot = match (member.spot, lead.spot) {
            _ if is_lead => Some(Spot { from, shelf, x, y, quarter_turns, ..like(member) }),
            (Some(spot), Some(lead)) => {
                let there = if spot.shelf == lead.shelf {
                    Some((shelf, spot.x + x - lead.x, spot.y + y - lead.y))
                } else {
                    elsewhere(member)
                };
                let quarter_turns = (spot.quarter_turns + turned) % 4;
                there.map(|(shelf, x, y)| Spot { from, shelf, x, y, quarter_turns, ..*spot })
            }
            (None, _) | (_, None) => {
                let next = Spot { from, shelf, quarter_turns, ..like(member) };
                if next_x + member.stay.shape.turned(quarter_turns).0 > width {
                    (next_x, next_y) = (x, next_y + RectOnShelf::with_gap(at.season, member.stay, &next).depth);
                }
                Some(Spot { x: next_x, y: next_y, ..next })
            }
        };
        if let Some(spot) = spot {
            if is_lead || member.spot.is_none() {
                next_x = spot.x + RectOnShelf::with_gap(at.season, member.stay, &spot).width;
            }
            wanted.push((*member, spot));
        }
    }
    wanted
}

/// Its spot, or one at the corner of no shelf in particular.
fn like(one: &Placed<'_>) -> Spot {
    one.spot.copied().unwrap_or(Spot {
        tray: one.id.tray,
        from: SpotFrom::Start,
        until: None,
        shelf: ShelfId(0),
        x: Length::ZERO,
        y: Length::ZERO,
        quarter_turns: 0,
        pinned: false,
    })
}
