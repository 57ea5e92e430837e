//! How much seed, how many trays and pots a season wants, against sums made by hand.

use flatwright::forecast::supplies::{InUse, SeedWanted, Supplies, supplies};
use flatwright::season::{
    ContainerKey, ContainerKind, CropKey, Library, Lot, LotId, Observed, RimShape, Role, SowingId, Spaced, Spacing,
};
use proptest::prelude::*;

use crate::properties::{build, seasons};
use crate::support::{FLAT, Grower, Stage, day, measure, pot, shelf, stage};

fn of(grower: &Grower) -> Supplies {
    supplies(&grower.season, &Library::default(), &grower.forecast())
}

fn grower() -> Grower {
    let mut grower = Grower::growing(8, &shelf("96 x 24 in"));
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "4 in")));
    grower
}

fn pots(from: &str) -> Stage {
    stage("pot", from).carried_in("flat").holding(10)
}

#[track_caller]
fn find<'a>(all: &'a [InUse], container: &str) -> &'a InUse {
    let key = ContainerKey::new(container);
    all.iter().find(|one| one.container == key).unwrap_or_else(|| panic!("{container} is not among {all:?}"))
}

#[track_caller]
fn check(all: &[InUse], container: &str, (most, on, number): (u32, &str, u32), (from, until): (&str, &str)) {
    let expected = InUse {
        container: ContainerKey::new(container),
        most,
        on: day(on),
        all: number,
        from: day(from),
        until: day(until),
    };
    assert_eq!(find(all, container), &expected);
}

/// 144 in March, in pots from the 29th; 72 from the 22nd, in pots from 19 April.
fn two_that_overlap() -> (Grower, [SowingId; 2]) {
    let mut grower = grower();
    let first = grower.sow(144, &[stage("sheet of 72", "2027-03-01"), pots("2027-03-29")], "2027-05-01");
    let second = grower.sow(72, &[stage("sheet of 72", "2027-03-22"), pots("2027-04-19")], "2027-05-29");
    (grower, [first, second])
}

#[test]
fn trays_are_used_again_and_counted_where_most_are_in_use() {
    let (grower, _) = two_that_overlap();
    let found = of(&grower);
    // two sheets, a third from 22 March, one from 29 March, none from 19 April
    check(&found.trays, "sheet of 72", (3, "2027-03-22", 3), ("2027-03-01", "2027-04-19"));
    // 144 in 15 flats, 72 more in 8 from 19 April until 1 May
    check(&found.trays, "flat", (23, "2027-04-19", 23), ("2027-03-29", "2027-05-29"));
    check(&found.pots, "pot", (216, "2027-04-19", 216), ("2027-03-29", "2027-05-29"));
    assert_eq!((found.trays.len(), found.pots.len()), (2, 1));
}

#[test]
fn what_is_empty_is_filled_again() {
    let mut grower = grower();
    grower.sow(144, &[stage("sheet of 72", "2027-03-01"), pots("2027-03-29")], "2027-05-01");
    grower.sow(72, &[stage("sheet of 72", "2027-03-29"), pots("2027-05-01")], "2027-06-01");
    let found = of(&grower);
    // the same morning
    check(&found.trays, "sheet of 72", (2, "2027-03-01", 3), ("2027-03-01", "2027-05-01"));
    check(&found.trays, "flat", (15, "2027-03-29", 23), ("2027-03-29", "2027-06-01"));
    check(&found.pots, "pot", (144, "2027-03-29", 216), ("2027-03-29", "2027-06-01"));
}

#[test]
fn a_tray_that_hardens_off_by_day_is_one_tray() {
    let (mut grower, _) = two_that_overlap();
    let before = of(&grower);
    grower.place(Role::Hardening);
    assert_eq!(of(&grower), before);
}

#[test]
fn seed_is_counted_by_crop_and_variety_as_it_is_sown() {
    let (mut grower, [first, second]) = two_that_overlap();
    // 144 of 80 % want 180 on average
    let sure = {
        let success = flatwright::trade::cell_success(0.8, 1, 0.0);
        flatwright::trade::cells_sure(144, success, 0.9).expect("some number does")
    };
    assert!(sure > 180, "{sure}");
    grower.change(first, |sowing| sowing.germination_percent = Some(80));
    grower.change(second, |sowing| sowing.seeds_per_cell = 3);
    let wanted = SeedWanted {
        crop: CropKey::new("seedling"),
        variety: String::new(),
        sowings: 2,
        plants: 216,
        on_average: 180 + 3 * 72,
        sure: u64::from(sure) + 3 * 72,
        still: u64::from(sure) + 3 * 72,
        first: day("2027-03-01"),
    };
    assert_eq!(of(&grower).seed, std::slice::from_ref(&wanted));
    grower.see(first, "2027-03-02", Observed::Sown { cells: None });
    assert_eq!(of(&grower).seed, [SeedWanted { still: 3 * 72, first: day("2027-03-02"), ..wanted.clone() }]);
    grower.change(second, |sowing| sowing.variety = "Late".to_owned());
    let by_variety: Vec<_> = of(&grower).seed.into_iter().map(|one| (one.variety, one.sure, one.still)).collect();
    assert_eq!(by_variety, [(String::new(), u64::from(sure), 0), ("Late".to_owned(), 216, 216)]);
}

#[test]
fn a_batch_sown_later_is_still_to_be_sown() {
    let mut grower = grower();
    let id = grower.sow(144, &[stage("sheet of 72", "2027-03-01")], "2027-05-01");
    let next = grower.season.next_id();
    grower.change(id, |sowing| {
        sowing.lots.push(Lot { later: 14, delays: flatwright::season::Delays::Sowing, ..Lot::new(LotId(next)) });
    });
    assert_eq!(of(&grower).seed[0].still, 144);
    grower.see(id, "2027-03-01", Observed::Sown { cells: None });
    assert_eq!(of(&grower).seed[0].still, 72);
    grower.see(id, "2027-03-15", Observed::Sown { cells: None });
    assert_eq!(of(&grower).seed[0].still, 0);
}

#[test]
fn plants_that_stand_there_already_want_no_seed() {
    let mut grower = grower();
    let id = grower.sow(72, &[stage("sheet of 72", "2027-03-01")], "2027-05-01");
    let begun = flatwright::season::Begun { on: day("2027-03-10"), stage: flatwright::season::Stage::Up };
    grower.change(id, |sowing| sowing.begun = Some(begun));
    let found = of(&grower);
    assert_eq!(found.seed, []);
    check(&found.trays, "sheet of 72", (1, "2027-03-10", 1), ("2027-03-10", "2027-05-01"));
}

/// 18 cells in an insert of six packs, six of which stand in a carrying tray.
#[test]
fn inserts_are_counted_beside_the_trays_that_carry_them() {
    let mut grower = grower();
    grower.sheet("six pack", "5.2 x 7 in", 6);
    let carried = || stage("six pack", "2027-03-01").carried_in("flat");
    let held = flatwright::trade::trays_in_flat(&crate::support::size("5.2 x 7 in"), &crate::support::flat(FLAT));
    assert_eq!(held.number, 6, "two by three");
    grower.sow(40, &[carried()], "2027-05-01");
    let found = of(&grower);
    // 36 in the first, 4 in the second: one insert more
    check(&found.trays, "flat", (2, "2027-03-01", 2), ("2027-03-01", "2027-05-01"));
    check(&found.trays, "six pack", (7, "2027-03-01", 7), ("2027-03-01", "2027-05-01"));
}

/// 30 pots, 10 to a flat, 4 to a flat once they are spaced out.
#[test]
fn pots_that_are_spaced_out_are_no_more_pots() {
    let mut grower = grower();
    let id = grower.sow(30, &[stage("sheet of 72", "2027-03-01"), pots("2027-03-29")], "2027-05-01");
    let spaced = Spaced { after_days: 14, pitch: measure("5.3 in") };
    grower.change(id, |sowing| sowing.steps[1].spaced = Some(Spacing::At(spaced)));
    let found = of(&grower);
    check(&found.pots, "pot", (30, "2027-03-29", 30), ("2027-03-29", "2027-05-01"));
    let flats = find(&found.trays, "flat");
    assert!(flats.most > 3, "{flats:?}");
    assert_eq!(flats.on, day("2027-04-12"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..ProptestConfig::default() })]

    /// Counted day by day, from the stays themselves.
    #[test]
    fn no_day_wants_more_than_is_said_and_one_wants_as_many(drawn in seasons()) {
        let grower = build(&drawn, 1);
        let forecast = grower.forecast();
        let found = of(&grower);
        let span = forecast.span().expect("something is sown");
        let sheets = ["sheet of 128", "sheet of 38"];
        for key in sheets {
            let in_it = |stay: &&flatwright::forecast::Stay| {
                let step = stay.tray().and_then(|tray| match tray {
                    flatwright::season::TrayKey::Own { step, .. } => Some(step),
                    _ => None,
                });
                let of = step.and_then(|step| {
                    let sowing = grower.season.sowing_with(step)?;
                    sowing.steps.iter().find(|known| known.id == step).map(|step| step.container.clone())
                });
                of == Some(ContainerKey::new(key))
            };
            let days = (0..span.days()).map(|days| flatwright::units::shifted(span.from(), days));
            let counted: Vec<u32> =
                days.map(|day| u32::try_from(forecast.on(day).filter(in_it).count()).expect("few")).collect();
            let most = counted.iter().copied().max().unwrap_or(0);
            let said = found.trays.iter().find(|one| one.container == ContainerKey::new(key));
            prop_assert_eq!(said.map_or(0, |one| one.most), most, "{}", key);
            if let Some(said) = said {
                prop_assert!(said.all >= said.most);
                let at = usize::try_from((said.on - span.from()).num_days()).expect("after the first");
                prop_assert_eq!(counted.iter().position(|number| *number == most), Some(at));
            }
        }
    }
}
