//! What the page keeps between frames, and the edit that puts a rack somewhere.

use egui::Vec2;

use crate::fit;
use crate::outlook::FloorOf;
use crate::season::{Edit, EditLabel, Op, Place, PlaceId, Rack, RackId, Season, Stands};
use crate::units::Length;

/// What the page keeps between frames.
#[derive(Clone, Debug, Default)]
pub(in crate::window) struct FloorPage {
    pub(super) place: Option<PlaceId>,
    pub(super) chosen: Option<RackId>,
    pub(super) hand: Option<InHand>,
    /// Of the floor as it was when they were worked out.
    ways: Option<(FloorOf, Ways)>,
}

/// Where the barrow gets to.
#[derive(Clone, Debug)]
struct Ways {
    hatched: Vec<fit::Rect>,
    barred: Vec<RackId>,
    /// Of the barrows that get to the rack at that number, the one last asked about.
    widest: Option<(usize, Option<Length>)>,
}

impl FloorPage {
    pub(in crate::window) fn look_at(&mut self, place: PlaceId, rack: Option<RackId>) {
        self.place = Some(place);
        self.chosen = rack;
        self.hand = None;
    }

    /// The one that was looked at last; else the first that is drawn, or has racks.
    pub(super) fn on<'a>(&self, season: &'a Season) -> Option<&'a Place> {
        let looked_at = self.place.and_then(|id| season.place(id));
        let has_racks = |place: &&Place| season.racks().iter().any(|rack| rack.place == place.id);
        looked_at
            .or_else(|| season.places().find(|place| place.floor.is_some()))
            .or_else(|| season.places().find(has_racks))
            .or_else(|| season.places().next())
    }

    fn known(&mut self, floor: &FloorOf) -> &mut Ways {
        let known = self.ways.take().filter(|(of, _)| of == floor);
        let (_, ways) = self.ways.insert(known.unwrap_or_else(|| (floor.clone(), Ways::of(floor))));
        ways
    }

    /// The floor that no part of the barrow comes to.
    pub(super) fn hatched(&mut self, floor: &FloorOf) -> &[fit::Rect] {
        &self.known(floor).hatched
    }

    pub(super) fn is_barred(&mut self, floor: &FloorOf, rack: RackId) -> bool {
        self.known(floor).barred.contains(&rack)
    }

    /// How wide the widest barrow is that gets to the rack at that number.
    pub(super) fn widest(&mut self, floor: &FloorOf, at: usize) -> Option<Length> {
        let ways = self.known(floor);
        let known = ways.widest.filter(|(of, _)| *of == at);
        let found = || floor.plan.widest(vec![at]).first().copied().flatten().map(Length::from_units);
        ways.widest.insert(known.unwrap_or_else(|| (at, found()))).1
    }
}

impl Ways {
    fn of(floor: &FloorOf) -> Self {
        let barrow = floor.barrow.filter(|_| !floor.plan.doors.is_empty());
        let hatched = barrow.map_or_else(Vec::new, |barrow| floor.plan.out_of_its_way(barrow.units()));
        Self { hatched, barred: floor.barred_racks(), widest: None }
    }
}

/// Where it is held, from the corner of its outline as it is turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct InHand {
    pub(super) rack: RackId,
    pub(super) grab_mm: Vec2,
    pub(super) quarter_turns: u8,
}

/// A rack put there, as one step.
pub(super) fn put(rack: &Rack, stands: Option<Stands>, label: fn(String) -> EditLabel) -> Edit {
    Edit::new(label(rack.name.clone()), vec![Op::PutRack(Rack { stands, ..rack.clone() })])
}
