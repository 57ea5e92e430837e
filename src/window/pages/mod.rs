//! One page each. A page never imports a page.

pub(super) mod can_wait;
pub(super) mod carries;
pub(super) mod containers;
pub(super) mod crops;
pub(super) mod days;
pub(super) mod floor;
pub(super) mod frost;
pub(super) mod guests;
pub(super) mod make_room;
pub(super) mod next_year;
pub(super) mod places;
pub(super) mod plan;
pub(super) mod records;
pub(super) mod sowing_table;
pub(super) mod sowings;
pub(super) mod start;
pub(super) mod supplies;
pub(super) mod what_if;
pub(super) mod work;
pub(super) mod worth_a_look;

use can_wait::CanWaitPage;
use carries::CarriesPage;
use containers::ContainersPage;
use crops::CropsPage;
use days::DaysPage;
use floor::FloorPage;
use frost::FrostPage;
use guests::GuestsPage;
use make_room::MakeRoomPage;
use next_year::NextYearPage;
use places::PlacesPage;
use plan::PlanPage;
use records::RecordsPage;
use sowing_table::SowingTablePage;
use sowings::SowingsPage;
use start::StartPage;
use supplies::SuppliesPage;
use what_if::WhatIfPage;
use work::WorkPage;

/// What each page keeps between frames.
#[derive(Default)]
pub(in crate::window) struct Pages {
    pub(in crate::window) sowings: SowingsPage,
    pub(in crate::window) guests: GuestsPage,
    pub(in crate::window) places: PlacesPage,
    pub(in crate::window) plan: PlanPage,
    pub(in crate::window) make_room: MakeRoomPage,
    pub(in crate::window) can_wait: CanWaitPage,
    pub(in crate::window) carries: CarriesPage,
    pub(in crate::window) containers: ContainersPage,
    pub(in crate::window) crops: CropsPage,
    pub(in crate::window) records: RecordsPage,
    pub(in crate::window) days: DaysPage,
    pub(in crate::window) next_year: NextYearPage,
    pub(in crate::window) start: StartPage,
    pub(in crate::window) work: WorkPage,
    pub(in crate::window) supplies: SuppliesPage,
    pub(in crate::window) what_if: WhatIfPage,
    pub(in crate::window) frost: FrostPage,
    pub(in crate::window) floor: FloorPage,
    pub(in crate::window) sowing_table: SowingTablePage,
}
