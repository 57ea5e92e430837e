//! Seasons of the tests' own, and what is asked about them.

use std::path::Path;

use chrono::NaiveDate;
use flatwright::fit::{Cancel, Progress};
use flatwright::outlook::{Chance, ChanceWeek, Draws, PoolKind, ProblemHash, chance};
use flatwright::season::{ContainerKey, ContainerKind, CropKey, DayRange, Library, Op, Role, Season, Sourced};
use flatwright::store;
use flatwright::units::Size;

pub(crate) const GROWING: PoolKind = PoolKind::Of(Role::Growing);

/// Days until a crop of the tests has its leaves; it always shows after five.
pub(crate) const DAYS: DayRange = DayRange { early: 24, likely: 30, late: 45 };

pub(crate) fn library() -> &'static Library {
    store::library()
}

#[track_caller]
pub(crate) fn read(text: &str) -> Season {
    store::parse(text, Path::new("test.ron")).unwrap_or_else(|why| panic!("{why}"))
}

pub(crate) fn example(name: &str) -> Season {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name).with_extension("ron");
    store::load(&path).unwrap_or_else(|why| panic!("{why}"))
}

/// Chance by that many draws from the first on.
#[track_caller]
pub(crate) fn drawn(season: &Season, first: u32, number: u32) -> Chance {
    let draws = Draws { first, number, threads: None };
    let (progress, cancel) = (Progress::default(), Cancel::default());
    chance(season, library(), draws, ProblemHash(0), &progress, &cancel).expect("nobody cancels")
}

#[track_caller]
pub(crate) fn week_of(chance: &Chance, pool: PoolKind, monday: NaiveDate) -> &ChanceWeek {
    let found = chance.weeks_of(pool).find(|week| week.from == monday);
    found.unwrap_or_else(|| panic!("{monday} is not among {:?}", chance.weeks))
}

/// That crop with other days: up on the fifth, its leaves there as [`DAYS`] says.
fn with_days(season: &mut Season, key: &str) {
    let mut crop = library().crops.get(&CropKey::new(key)).expect("a crop that ships").clone();
    crop.emergence = Sourced::own(DayRange { early: 5, likely: 5, late: 5 });
    crop.moving_on.value.days = DAYS;
    season.apply(&Op::PutCrop(Box::new(crop)).into()).expect("a crop of the grower's own");
}

fn outer(key: &str) -> Size {
    match &library().containers.get(&ContainerKey::new(key)).expect("a container that ships").kind {
        ContainerKind::Flat(flat) => flat.outer.value.clone(),
        ContainerKind::Plug(plug) => plug.outer.value.clone(),
        other => panic!("{other:?} is no tray"),
    }
}

/// Sowings of hardy crops, sown on 1 March, each one tray until it has its leaves and three from then
/// on, beside a shelf with room for three trays each. From Monday 29 March until Friday there are so
/// many others that the shelf holds no more than `enough - 1` sowings that were moved on: the week
/// is too full if and only if `enough` of them have been by Thursday, their 31st day.
pub(crate) fn known(crops: &[&str], enough: usize) -> Season {
    let [flat, plug] = ["flat_1020", "plug_72"].map(outer);
    let sides = |size: &Size| (size.width.value().min(size.depth.value()), size.width.value().max(size.depth.value()));
    let ((a, b), (c, d)) = (sides(&flat), sides(&plug));
    let held = 3 * i64::try_from(crops.len()).expect("a few");
    let (width, depth) = ((a.max(c) * held).to_mm(), b.max(d).to_mm());
    let sowing = |(number, crop): (usize, &&str)| {
        let id = 100 + 10 * number;
        format!(
            r#"(id: {id}, crop: "{crop}", wanted: [(date: "2027-05-10", plants: 54)], germination_percent: 100,
                losses_percent: 0, bottom_heat: false, steps: [
                    (id: {}, container: "plug_72", start: On("2027-03-01")),
                    (id: {}, container: "sq_4_18ct", carried_in: "flat_1020", per_tray: 18)],
                lots: [(id: {})])"#,
            id + 1,
            id + 2,
            id + 3
        )
    };
    let sowings: Vec<String> = crops.iter().enumerate().map(sowing).collect();
    let guests = 2 * (crops.len() - enough) + 1;
    let mut season = read(&format!(
        r#"(format: "flatwright season", version: 1, name: "Known", settings: (gap: "0 mm"),
        places: [(id: 1, name: "Room", role: Growing)], racks: [(id: 2, place: 1, name: "Rack", position: 1)],
        shelves: [(id: 3, rack: 2, tier: 1, size: "{width} x {depth} mm")],
        guests: [(id: 4, name: "Guest", size: "{} x {} mm", number: {guests}, span: (from: "2027-03-29", until: "2027-04-02"),
            role: Growing)],
        sowings: [{}])"#,
        a.to_mm(),
        b.to_mm(),
        sowings.join(",")
    ));
    let mut keys = crops.to_vec();
    keys.dedup();
    for key in keys {
        with_days(&mut season, key);
    }
    season
}
