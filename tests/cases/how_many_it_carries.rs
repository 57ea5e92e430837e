//! How many plants a room carries: the figures of the growers' reports, what one more would add, and what holds for
//! every answer.

use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::outlook::carries::{Carries, More, NotAsked, Of, OneMore, carries};
use flatwright::outlook::ways_out::Change;
use flatwright::outlook::{Effort, Keep, PoolKind, Verdict, look_ahead};
use flatwright::season::{
    ContainerKind, Crop, CropKey, Frost, Library, Observed, Op, RimShape, Role, Season, Shelf, Sourced, ZoneKind,
};
use flatwright::store::library;
use proptest::prelude::*;

use crate::support::{FLAT, GROWING, Grower, day, days_after, measure, pot, seedling, shelf, stage, zone};

fn asked(of: &Of, season: &Season, library: &Library) -> Result<Carries, NotAsked> {
    carries(of, season, library, &mut Memory::default(), &Progress::default(), &Cancel::default())
        .unwrap_or_else(|_| panic!("nobody cancelled it"))
}

/// Of the seedlings, and held against the season made so by hand.
#[track_caller]
fn seedlings(grower: &Grower) -> Carries {
    found(&Of::Crop(CropKey::new("seedling")), &grower.season, &Library::default())
}

#[track_caller]
fn found(of: &Of, season: &Season, library: &Library) -> Carries {
    let found = asked(of, season, library).unwrap_or_else(|why| panic!("{why:?}"));
    hold(&found, season, library);
    found
}

fn verdict(season: &Season, library: &Library) -> Verdict {
    let forecast = flatwright::forecast::forecast(season, library);
    let (progress, cancel) = (Progress::default(), Cancel::default());
    let outlook =
        look_ahead(season, &forecast, Keep::Pinned, Effort::default(), &mut Memory::default(), &progress, &cancel);
    outlook.unwrap_or_else(|_| panic!("nobody cancelled it")).verdict
}

/// The number that is said to fit fits, and the one that is said to be too many is short.
#[track_caller]
fn hold(found: &Carries, season: &Season, library: &Library) {
    let with = |edit: &flatwright::season::Edit| {
        let mut then = season.clone();
        if let Err(why) = then.apply(edit) {
            panic!("{edit:?} is refused: {why:?}");
        }
        then
    };
    if let Some(edit) = &found.edit {
        assert_eq!(verdict(&with(edit), library), Verdict::Fits);
    }
    for many in found.most.too_many.iter().chain(found.more.iter().filter_map(|more| more.most.too_many.as_ref())) {
        assert_eq!(verdict(&many.season, library), Verdict::Crunch);
        assert!(many.crunch.short > 0);
    }
    for more in &found.more {
        let then = asked(&found.of, &with(&more.edit), library);
        let then = then.unwrap_or_else(|why| panic!("{why:?}"));
        assert_eq!(then.most.fits, more.most.fits, "asked of the season with it: {:?}", more.what);
        assert_eq!(then.most.well_lit, more.most.well_lit, "{:?}", more.what);
    }
    if let (Some(fits), Some(many)) = (found.most.fits, &found.most.too_many) {
        assert!(fits.plants < many.plants && fits.number < many.number);
    }
}

/// Plants that fit, their trays, and the smallest number that is too many.
fn figures(found: &Carries) -> (u32, u32, u32) {
    let fits = found.most.fits.map_or((0, 0), |fits| (fits.plants, fits.trays));
    (fits.0, fits.1, found.most.too_many.as_ref().map_or(0, |many| many.plants))
}

fn with_shelf(found: &Carries) -> &More {
    let one = found.more.iter().find(|more| matches!(more.what, OneMore::Room(Change::Shelves { .. })));
    one.unwrap_or_else(|| panic!("no shelf: {:?}", found.more))
}

/// Three racks of three shelves, each with a lamp that serves two flats of four.
fn racks(sheet: &'static str) -> Grower {
    let lamp = zone(ZoneKind::Lamp, "24 x 24 in");
    let mut grower = Grower::growing(9, &Shelf { zones: vec![lamp], ..shelf("48 x 24 in") });
    grower.sow(500, &[stage(sheet, "2025-03-03")], "2025-04-21");
    grower
}

#[test]
fn three_racks_carry_36_trays_of_which_the_lamps_serve_18() {
    for (sheet, cells) in [("sheet of 38", 38), ("sheet of 72", 72), ("sheet of 200", 200)] {
        let found = seedlings(&racks(sheet));
        assert_eq!(figures(&found), (36 * cells, 36, 36 * cells + 1), "{sheet}");
        let lit = found.most.well_lit.map(|lit| (lit.plants, lit.trays));
        assert_eq!(lit, Some((18 * cells, 18)), "{sheet}");
        assert!(found.most.is_exact());
        assert_eq!((found.planned, found.standing), (500, 0));
    }
}

#[test]
fn one_more_shelf_is_four_trays_and_two_lit_ones_and_a_wider_lamp_two_lit_ones() {
    let found = seedlings(&racks("sheet of 72"));
    let shelf = with_shelf(&found);
    assert_eq!(shelf.most.plants(), 40 * 72);
    assert_eq!(shelf.most.well_lit.map(|lit| lit.trays), Some(20));
    let lamp = found.more.iter().find(|more| matches!(more.what, OneMore::Room(Change::Lamp { .. })));
    let lamp = &lamp.unwrap_or_else(|| panic!("no lamp: {:?}", found.more)).most;
    assert_eq!((lamp.plants(), lamp.well_lit.map(|lit| lit.trays)), (36 * 72, Some(20)));
}

#[test]
fn benches_carry_1728_plants_in_six_packs_and_each_more_288() {
    let mut grower = Grower::growing(6, &shelf("96 x 24 in"));
    grower.sheet("six six-packs", FLAT, 36);
    grower.sow(3_400, &[stage("sheet of 72", "2025-03-03"), stage("six six-packs", "2025-04-07")], "2025-05-12");
    let found = seedlings(&grower);
    assert_eq!(figures(&found), (1_728, 48, 1_729));
    assert_eq!(found.most.well_lit, None, "no lamp is drawn");
    let many = found.most.too_many.as_ref().unwrap();
    assert_eq!((many.crunch.needed, many.crunch.held, many.crunch.short), (49, 48, 1));
    assert_eq!(many.crunch.span.from(), day("2025-04-07"));
    assert_eq!(with_shelf(&found).most.plants(), 1_728 + 8 * 36);
}

/// Two tiers of four trays, cups in rows.
fn cups(name: &'static str, rim: &str) -> Carries {
    let mut grower = Grower::growing(2, &shelf("48 x 24 in"));
    grower.container(name, ContainerKind::Pot(pot(RimShape::Round, rim)));
    grower.sow(196, &[stage(name, "2025-04-14").carried_in("flat")], "2025-06-02");
    seedlings(&grower)
}

#[test]
fn a_stand_carries_256_small_cups_144_middle_ones_or_80_big_ones() {
    assert_eq!(figures(&cups("3 oz cup", "2.5 in")), (256, 8, 257));
    assert_eq!(figures(&cups("9 oz cup", "3.2 in")), (144, 8, 145));
    let found = cups("16 oz cup", "3.75 in");
    assert_eq!(figures(&found), (80, 8, 81));
    assert!(found.most.plants() < found.planned, "fewer than are planned");
    assert_eq!(with_shelf(&found).most.plants(), 120);
}

/// A bench of four trays, and plants that came through the winter on it.
#[test]
fn guests_leave_a_bench_fewer_trays() {
    let mut grower = Grower::growing(1, &shelf("48 x 24 in"));
    grower.sheet("half six-packs", FLAT, 21);
    grower.sow(84, &[stage("half six-packs", "2025-02-10")], "2025-03-10");
    assert_eq!(figures(&seedlings(&grower)), (84, 4, 85));
    // a block of 3 × 4 pots leaves room for two trays
    grower.guests(1, "18 x 24 in", "2025-03-01", "2025-05-12");
    assert_eq!(figures(&seedlings(&grower)), (42, 2, 43));
}

#[test]
fn without_any_the_rest_is_short_already() {
    let mut grower = Grower::growing(1, &shelf("48 x 24 in"));
    grower.guests(5, FLAT, "2025-03-01", "2025-05-12");
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    let found = seedlings(&grower);
    assert_eq!(found.most.fits, None);
    let many = found.most.too_many.as_ref().unwrap();
    assert_eq!((many.number, many.crunch.short), (0, 1));
    assert_eq!(found.edit, None);
}

#[test]
fn the_limit_moves_on_to_the_frame() {
    let mut grower = Grower::new();
    let room = grower.place(Role::Growing);
    grower.rack(room, 1, &shelf("48 x 24 in"));
    let frame = grower.place(Role::Hardening);
    grower.rack(frame, 1, &shelf("60 x 24 in"));
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    let found = seedlings(&grower);
    assert_eq!(figures(&found), (4 * 72, 4, 4 * 72 + 1));
    let limit = |most: &flatwright::outlook::carries::Most| most.too_many.as_ref().unwrap().crunch.pools[0].kind;
    assert_eq!(limit(&found.most), GROWING);
    let shelf = &with_shelf(&found).most;
    assert_eq!((shelf.plants(), limit(shelf)), (5 * 72, PoolKind::Of(Role::Hardening)));
}

/// Two batches a week apart share the shelf until the first may stand outside.
#[test]
fn a_week_more_of_hardening_frees_the_shelf_for_the_next() {
    let mut grower = Grower::new();
    let room = grower.place(Role::Growing);
    grower.rack(room, 1, &shelf("48 x 24 in"));
    let frame = grower.place(Role::Hardening);
    grower.rack(frame, 3, &shelf("48 x 24 in"));
    // hardy, and safe outside from eight weeks before the last frost
    let crop = Crop { planting_out_after_frost: Some(Sourced::own((-8, 2))), ..seedling() };
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
    // out of the room on 17 April, three nights after it begins to harden off
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    grower.sow(72, &[stage("sheet of 72", "2025-04-12")], "2025-06-02");
    let earlier = |found: &Carries| {
        let earlier = found.more.iter().find(|more| matches!(more.what, OneMore::HardenedEarlier { days: 7 }));
        earlier.map(|more| more.most.plants())
    };
    let found = seedlings(&grower);
    assert_eq!((figures(&found).0, earlier(&found)), (4 * 72, None), "nobody knows how cold its nights would be");
    grower.settings(|settings| settings.frost = Some(Frost::on(day("2025-05-01"))));
    assert_eq!(earlier(&seedlings(&grower)), Some(8 * 72));
}

#[test]
fn what_is_sown_already_stays_and_is_counted() {
    let mut grower = Grower::growing(1, &shelf("48 x 24 in"));
    let first = grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    grower.see(first, "2025-03-03", Observed::Sown { cells: None });
    let found = seedlings(&grower);
    assert_eq!((found.planned, found.standing, figures(&found)), (144, 72, (4 * 72, 4, 4 * 72 + 1)));
}

#[test]
fn a_crop_without_a_sowing_gets_one_of_the_usual_chain() {
    let mut grower = Grower::growing(2, &shelf("48 x 24 in"));
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    let of = Of::Crop(CropKey::new("lettuce"));
    let found = found(&of, &grower.season, library());
    let new = found.new.as_ref().unwrap();
    assert_eq!((found.planned, new.out()), (0, Some(day("2025-04-21"))), "out with the others");
    assert!(found.most.plants() > 0 && found.most.is_exact(), "{:?}", found.most.fits);
    let empty = Grower::new();
    assert_eq!(asked(&of, &empty.season, library()).err(), Some(NotAsked::NoDayOut));
    assert_eq!(asked(&Of::Season, &empty.season, library()).err(), Some(NotAsked::NothingToScale));
    let none = Of::Crop(CropKey::new("no such crop"));
    assert_eq!(asked(&none, &empty.season, library()).err(), Some(NotAsked::UnknownCrop));
}

#[test]
fn a_season_is_scaled_by_per_cent_each_sowing_alike() {
    let mut grower = Grower::growing(2, &shelf("48 x 24 in"));
    grower.sow(144, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    grower.sow(50, &[stage("sheet of 50", "2025-03-03")], "2025-04-21");
    let found = found(&Of::Season, &grower.season, &Library::default());
    // eight trays: 288 and 100 fill four and two of them, 360 and 125 five and three
    let fits = found.most.fits.unwrap();
    assert_eq!((fits.number, fits.trays, fits.plants), (250, 8, 485));
    assert!(found.most.is_exact());
}

#[test]
fn odd_rooms_carry_what_they_can() {
    // no shelf at all
    let mut grower = Grower::new();
    grower.place(Role::Growing);
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    let found = seedlings(&grower);
    assert_eq!((figures(&found), found.most.too_many.as_ref().map(|many| many.number)), ((0, 0, 1), Some(1)));
    assert_eq!(with_shelf(&found).most.plants(), 72, "the smallest that is sold that holds one");
    // neither shelf nor place
    let mut grower = Grower::new();
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    let found = seedlings(&grower);
    assert_eq!((figures(&found), found.more.len()), ((0, 0, 1), 0));
    // a shelf too small for a tray
    let mut grower = Grower::growing(1, &shelf("10 x 10 in"));
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    assert_eq!(figures(&seedlings(&grower)), (0, 0, 1));
    // a shelf that bears no more than it is rated
    let mut grower = Grower::growing(1, &Shelf { load_grams: Some(1), ..shelf("48 x 24 in") });
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    assert_eq!(figures(&seedlings(&grower)), (0, 0, 1));
}

#[test]
fn a_crop_that_no_place_bears_is_not_carried() {
    let mut grower = Grower::growing(1, &shelf("48 x 24 in"));
    let place = grower.season.places().next().cloned().unwrap();
    let light = flatwright::season::Light::Dark;
    grower.edit(&Op::PutPlace(flatwright::season::Place { light, ..place }).into());
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-21");
    let found = seedlings(&grower);
    assert_eq!(figures(&found).0, 0);
    let lamp = found.more.iter().find(|more| matches!(more.what, OneMore::Room(Change::Lamp { .. })));
    assert_eq!(lamp.map(|more| more.most.plants()), Some(4 * 72), "{:?}", found.more);
}

#[test]
fn a_gap_beside_trays_counts() {
    let mut grower = racks("sheet of 72");
    grower.settings(|settings| settings.gap = measure("4 in"));
    assert_eq!(figures(&seedlings(&grower)).0, 9 * 3 * 72);
}

#[test]
fn who_no_longer_wants_it_says_so() {
    let grower = racks("sheet of 72");
    let cancel = Cancel::default();
    cancel.cancel();
    let of = Of::Crop(CropKey::new("seedling"));
    let stopped =
        carries(&of, &grower.season, &Library::default(), &mut Memory::default(), &Progress::default(), &cancel);
    assert!(stopped.is_err());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10))]
    #[test]
    fn what_the_room_carries_is_the_same_on_any_number_of_threads(
        trays in prop::collection::vec((1_u32..5, 0_u64..30, 42_u64..60), 1..4),
        places in 1_u32..3,
        whole in any::<bool>(),
    ) {
        let mut grower = Grower::growing(places, &shelf("48 x 22 in"));
        for (trays, sown, days) in trays {
            let [sown, out] = [sown, sown + days].map(|days| days_after(day("2025-03-01"), days).to_string());
            grower.sow(40 * trays, &[stage("sheet of 72", &sown)], &out);
        }
        let of = if whole { Of::Season } else { Of::Crop(CropKey::new("seedling")) };
        let found = |threads: usize| {
            let mut memory = Memory::default().on_threads(std::num::NonZero::new(threads).expect("some"));
            let (progress, cancel) = (Progress::default(), Cancel::default());
            carries(&of, &grower.season, &Library::default(), &mut memory, &progress, &cancel).expect("nobody cancels")
        };
        let one = found(1);
        prop_assert!(one.is_ok());
        for threads in [2, 8] {
            prop_assert_eq!(&found(threads), &one, "{} threads", threads);
        }
    }
}

/// Each of these sowings is so small that it rounds: the number that scales them is not what they come to.
#[test]
fn per_cents_are_of_the_plants_that_are_said() {
    let mut grower = Grower::growing(1, &shelf("48 x 22 in"));
    for _ in 0..2 {
        grower.sow(3, &[stage("sheet of 50", "2025-03-01")], "2025-04-20");
    }
    let found = found(&Of::Season, &grower.season, &Library::default());
    let forecast = grower.forecast();
    let (library, unit) = (Library::default(), flatwright::units::LengthUnit::Centimetre);
    let words = flatwright::words::Words { season: &grower.season, library: &library, forecast: &forecast, unit };
    let said = words.carries(&found);
    let (fits, many) = (found.most.fits.expect("some fit"), found.most.too_many.as_ref().expect("a limit"));
    let nearest = |plants: u32| (f64::from(plants) * 100.0 / 6.0).round();
    assert!(
        said[0].contains(&format!("{} plants ({} % of what is planned)", fits.plants, nearest(fits.plants))),
        "{said:?}"
    );
    let limit = format!("{} plants ({} %) are too many", many.plants, nearest(many.plants));
    assert!(said.iter().any(|one| one.starts_with(&limit)), "{limit}: {said:?}");
    assert!((f64::from(fits.number) - nearest(fits.plants)).abs() > 0.5, "the number that scales is another");
    assert_eq!(Carries { planned: 198, ..found.clone() }.per_cent(297), 150);
    assert_eq!(Carries { planned: 200, ..found }.per_cent(301), 151, "a half goes up");
}
