//! Small lots share: what does not fill a tray stands with others of the same container, warmth and
//! days, by whole rows, unless the grower takes it out. All of it is invented.

use std::collections::{BTreeMap, BTreeSet};

use flatwright::forecast::{Forecast, Problem, SharedTray, Unlike, What, with_one};
use flatwright::outlook::{Verdict, spot_of};
use flatwright::season::{
    Crop, CropKey, GrowthPoint, Library, Loss, Observed, Op, Role, Sourced, Sowing, SowingId, Spot, SpotFrom, Stack,
    StepId, TrayKey, ZoneKind,
};
use flatwright::units::{Length, LengthUnit};
use flatwright::words::Words;
use proptest::collection::vec;
use proptest::prelude::*;

use crate::support::{FLAT, Grower, Manner, date_of, day, days_after, seedling, shelf, stage, zone};

const SOWN: &str = "2027-03-01";
const OUT: &str = "2027-05-01";

/// Four flats stand on it.
fn room() -> Grower {
    Grower::growing(1, &shelf("44 x 22 in"))
}

/// That many sowings of so many plants in trays of 72, 12 rows of 6.
fn sorts(grower: &mut Grower, number: usize, plants: u32) -> Vec<SowingId> {
    (0..number).map(|_| grower.sow(plants, &[stage("sheet of 72", SOWN)], OUT)).collect()
}

fn stand(forecast: &Forecast, date: &str) -> (usize, u32) {
    let stays: Vec<_> = forecast.on(day(date)).collect();
    (stays.len(), stays.iter().map(|stay| stay.plants).sum())
}

/// Who has which rows of each tray, from 1.
fn maps(forecast: &Forecast) -> Vec<Vec<(u32, u32, u32)>> {
    let map = |tray: &SharedTray| {
        tray.parts.iter().map(|part| (part.sowing.0, part.rows.start + 1, part.rows.end)).collect::<Vec<_>>()
    };
    forecast.shared.values().map(map).collect()
}

fn words<T>(grower: &Grower, say: impl FnOnce(&Words<'_>) -> T) -> T {
    let forecast = grower.forecast();
    let library = Library::default();
    say(&Words { season: &grower.season, library: &library, forecast: &forecast, unit: LengthUnit::Millimetre })
}

#[test]
fn twelve_sorts_of_six_stand_in_one_tray_of_72() {
    let mut grower = room();
    let ids = sorts(&mut grower, 12, 6);
    let looked = grower.look();
    assert_eq!(looked.outlook.verdict, Verdict::Fits);
    assert_eq!(stand(&looked.forecast, "2027-04-01"), (1, 72));
    let rows: Vec<_> = ids.iter().zip(1..).map(|(id, row)| (id.0, row, row)).collect();
    assert_eq!(maps(&looked.forecast), [rows]);
    for id in &ids {
        let course = looked.forecast.courses_of(*id).next().expect("a course");
        assert_eq!((course.plants, course.trays[0].1), (6, 1), "its plants are its own, the tray is one");
    }
    // alone they want 12 spots where 4 are
    let mut alone = grower.clone();
    for id in &ids {
        alone.change(*id, |sowing| sowing.alone = true);
    }
    alone.look().crunch(12, 4, 8);
}

#[test]
fn at_85_per_cent_nine_cells_each_are_two_rows_and_six_sorts_to_a_tray() {
    let mut grower = room();
    let ids = sorts(&mut grower, 12, 6);
    for id in &ids {
        grower.change(*id, |sowing| sowing.germination_percent = Some(85));
    }
    // of 8 cells 6 or more give a plant 0.8948 times in 1, of 9 0.9661 times
    let forecast = grower.forecast();
    assert!(forecast.courses.iter().all(|course| course.sow.sure == 9));
    assert_eq!(stand(&forecast, "2027-04-01").0, 2);
    let last = ids[5].0;
    assert_eq!(maps(&forecast)[0].last(), Some(&(last, 11, 12)));
    // of 2 seeds 0.9775 cells in 1 give a plant: six of six 0.872 times, so seven cells, two rows again; of 3
    // seeds 0.9966: six of six 0.980 times, and six cells are one row
    let found: Vec<_> = forecast.fewer.iter().map(|fewer| (fewer.seeds, fewer.before, fewer.after)).collect();
    assert_eq!(found, [(3, 2, 1)]);
    let said = words(&grower, |words| words.fewer_trays(&words.forecast.fewer[0]));
    let text = "seedling and what is sown with it into sheet of 72: with 3 seeds to a cell, thinned to one plant, \
                1 tray would do, not 2";
    assert_eq!(said, text);
    for id in &ids {
        grower.change(*id, |sowing| sowing.seeds_per_cell = 3);
    }
    let forecast = grower.forecast();
    assert_eq!((stand(&forecast, "2027-04-01"), forecast.fewer.len()), ((1, 72), 0));
}

#[test]
fn one_more_moves_none_and_the_tray_keeps_its_spot() {
    let mut grower = room();
    sorts(&mut grower, 5, 6);
    let before = grower.forecast();
    let (tray, _) = before.shared.first_key_value().expect("a shared tray");
    let on = grower.season.shelves().next().expect("a shelf").id;
    let (x, y) = (Length::from_mm(20), Length::from_mm(10));
    let spot =
        Spot { tray: *tray, from: SpotFrom::Start, until: None, shelf: on, x, y, quarter_turns: 0, pinned: true };
    grower.edit(&Op::PutSpot(spot).into());
    sorts(&mut grower, 1, 20);
    sorts(&mut grower, 1, 6);
    let after = grower.forecast();
    assert_eq!(maps(&after)[0][..5], maps(&before)[0][..]);
    // 20 plants are 4 rows: 5 + 4 + 1
    assert_eq!(maps(&after)[0].iter().map(|part| (part.1, part.2)).collect::<Vec<_>>()[5..], [(6, 9), (10, 10)]);
    let stay = after.on(day("2027-04-01")).next().expect("the tray");
    assert_eq!(spot_of(&grower.season, stay, day("2027-04-01")).map(|spot| (spot.x, spot.y)), Some((x, y)));
}

#[test]
fn only_what_does_not_fill_a_tray_shares() {
    let mut grower = room();
    let ids = [100, 40].map(|plants| grower.sow(plants, &[stage("sheet of 72", SOWN)], OUT));
    // 72 and 28, which are 5 rows; 40 are 7 rows: two trays, alone three
    let forecast = grower.forecast();
    assert_eq!(stand(&forecast, "2027-04-01"), (2, 140));
    assert_eq!(maps(&forecast), [vec![(ids[0].0, 1, 5), (ids[1].0, 6, 12)]]);
    let mut plants: Vec<u32> = forecast.on(day("2027-04-01")).map(|stay| stay.plants).collect();
    plants.sort_unstable();
    assert_eq!(plants, [68, 72]);
    // a full tray shares with nobody
    let mut full = room();
    sorts(&mut full, 3, 72);
    assert_eq!((stand(&full.forecast(), "2027-04-01"), maps(&full.forecast()).len()), ((3, 216), 0));
}

#[test]
fn fives_fill_a_tray_of_50_and_elevens_want_three_rows_each() {
    let fifty = |plants: u32| {
        let mut grower = room();
        for _ in 0..5 {
            grower.sow(plants, &[stage("sheet of 50", SOWN)], OUT);
        }
        stand(&grower.forecast(), "2027-04-01")
    };
    // 10 rows of 5: two rows each
    assert_eq!(fifty(10), (1, 50));
    // three rows each: three of them in one tray, two in the next
    assert_eq!(fifty(11), (2, 55));
}

/// How many trays two sowings of six stand in, the second made so.
fn beside(sown: &str, out: &str, manner: Manner, change: impl FnOnce(&mut Sowing)) -> usize {
    let mut grower = Grower::growing(
        1,
        &flatwright::season::Shelf { zones: vec![zone(ZoneKind::Heat, "44 x 22 in")], ..shelf("44 x 22 in") },
    );
    sorts(&mut grower, 1, 6);
    let id = grower.sow_so(6, &[stage("sheet of 72", sown)], out, manner);
    grower.change(id, change);
    stand(&grower.forecast(), "2027-04-01").0
}

#[test]
fn other_warmth_days_or_containers_stand_apart() {
    let plain = Manner::default();
    let as_it_is = |_: &mut Sowing| {};
    assert_eq!(beside(SOWN, OUT, plain, as_it_is), 1);
    assert_eq!(beside("2027-03-04", OUT, plain, as_it_is), 1, "three days after");
    assert_eq!(beside("2027-03-05", OUT, plain, as_it_is), 2, "four days after");
    assert_eq!(beside(SOWN, "2027-05-08", plain, as_it_is), 1, "out a week later");
    assert_eq!(beside(SOWN, "2027-05-09", plain, as_it_is), 2, "out eight days later");
    assert_eq!(beside(SOWN, OUT, Manner { bottom_heat: true, ..plain }, as_it_is), 2);
    assert_eq!(beside(SOWN, OUT, Manner { stack: Some(Stack { days: 2, high: 4 }), ..plain }, as_it_is), 2);
    assert_eq!(beside(SOWN, OUT, plain, |sowing| sowing.steps[0].container.0 = "sheet of 50".into()), 2);
    assert_eq!(beside(SOWN, OUT, plain, |sowing| sowing.steps[0].per_tray = Some(60)), 2);
    assert_eq!(beside(SOWN, OUT, plain, |sowing| sowing.alone = true), 2, "taken out");
}

/// A tray is out or in as a whole: four tomatoes beside six peppers of a week later stood in until the day on which they
/// were planted.
#[test]
fn what_hardens_off_on_other_days_stands_apart() {
    for (out, trays) in [(OUT, 1), ("2027-05-02", 2), ("2027-05-08", 2)] {
        let mut grower = room();
        let frame = grower.place(Role::Hardening);
        grower.rack(frame, 1, &shelf("44 x 22 in"));
        let ids = [OUT, out].map(|out| grower.sow(6, &[stage("sheet of 72", SOWN)], out));
        let forecast = grower.forecast();
        assert_eq!(stand(&forecast, "2027-04-01").0, trays, "out on {OUT} and {out}");
        for id in ids {
            let outside = forecast.stays.iter().filter(|stay| stay.needs.role == Role::Hardening);
            let first = outside.filter(|stay| forecast.is_in(id, stay)).map(|stay| stay.span.from()).min();
            assert_eq!(first, Some(date_of(&forecast, id, What::Hardening)), "out as a whole");
        }
    }
}

#[test]
fn one_that_is_taken_out_has_its_own_tray_and_the_others_close_up() {
    let mut grower = room();
    let ids = sorts(&mut grower, 12, 6);
    grower.change(ids[4], |sowing| sowing.alone = true);
    let forecast = grower.forecast();
    assert_eq!(stand(&forecast, "2027-04-01"), (2, 72));
    assert_eq!(maps(&forecast)[0].len(), 11);
    assert!(maps(&forecast)[0].iter().all(|(id, ..)| *id != ids[4].0));
}

/// Three sorts of six in one tray, from 29 March in flats of 18 pots, three lots to the flat.
fn moved_on() -> (Grower, Vec<SowingId>, Vec<StepId>) {
    let mut grower = room();
    grower.sheet("flat of 18", FLAT, 18);
    let ids: Vec<_> =
        (0..3).map(|_| grower.sow(6, &[stage("sheet of 72", SOWN), stage("flat of 18", "2027-03-29")], OUT)).collect();
    let steps = ids.iter().map(|id| grower.season.sowing(*id).expect("a sowing").steps[1].id).collect();
    (grower, ids, steps)
}

#[test]
fn they_share_what_they_are_moved_on_into_and_come_from_one_tray() {
    let (grower, ..) = moved_on();
    let forecast = grower.forecast();
    assert_eq!([stand(&forecast, "2027-03-28"), stand(&forecast, "2027-03-29")], [(1, 18), (1, 18)]);
    let trays: Vec<TrayKey> = forecast.shared.keys().copied().collect();
    let [first, then] = trays[..] else { panic!("{trays:?}") };
    assert_eq!(forecast.moved_on_from(first), [then]);
    assert_eq!(forecast.origins[&then], [first]);
}

#[test]
fn a_sort_of_which_nothing_came_up_leaves_its_rows_empty() {
    let mut grower = room();
    let ids = sorts(&mut grower, 12, 6);
    grower.see(ids[3], "2027-03-10", Observed::Up { plants: Some(0) });
    grower.see(ids[4], "2027-03-20", Observed::Lost { plants: 2, why: Loss::NotKnown });
    let forecast = grower.forecast();
    let found = ["2027-03-09", "2027-03-10", "2027-03-20"].map(|date| stand(&forecast, date));
    assert_eq!(found, [(1, 72), (1, 66), (1, 64)]);
    assert_eq!(maps(&forecast)[0].len(), 12, "nobody is moved into them");
}

#[test]
fn one_that_is_moved_on_early_leaves_and_the_tray_stands_for_the_last() {
    let (mut grower, ids, steps) = moved_on();
    grower.see(ids[0], "2027-03-20", Observed::MovedOn(steps[0]));
    let forecast = grower.forecast();
    // its own flat from the 20th, the old tray for the other two until the 29th, then a flat of both
    let found = ["2027-03-19", "2027-03-20", "2027-03-28", "2027-03-29"].map(|date| stand(&forecast, date));
    assert_eq!(found, [(1, 18), (2, 18), (2, 18), (2, 18)]);
    let sown = forecast.shared.values().find(|tray| tray.places == 72).expect("the tray they were sown in");
    assert_eq!(
        sown.parts.iter().map(|part| part.until).collect::<Vec<_>>()[..2],
        [day("2027-03-20"), day("2027-03-29")]
    );
    // nine days before the others: said of none, as two stay together
    assert!(!forecast.problems.iter().any(|problem| matches!(problem, Problem::SharesUnlike { .. })));
    grower.see(ids[1], "2027-03-20", Observed::MovedOn(steps[1]));
    let forecast = grower.forecast();
    let alone = Unlike::StandsOn { others: day("2027-03-20"), until: day("2027-03-29") };
    let told = |problem: &&Problem| matches!(problem, Problem::SharesUnlike { sowing, how, .. } if (*sowing, *how) == (ids[2], alone));
    let problem = forecast.problems.iter().find(told).expect("it stands there alone");
    let said = words(&grower, |words| words.problem(problem));
    assert!(
        said.ends_with("Se 1 stands for it alone from 20 Mar, when the others have left it, until 29 Mar"),
        "{said}"
    );
}

#[test]
fn one_that_was_sown_later_than_the_others_does_not_stand_with_them() {
    let mut grower = room();
    let ids = sorts(&mut grower, 3, 6);
    grower.see(ids[0], "2027-03-05", Observed::Sown { cells: None });
    let forecast = grower.forecast();
    assert_eq!([stand(&forecast, "2027-03-04"), stand(&forecast, "2027-03-05")], [(1, 12), (2, 18)]);
    assert_eq!(maps(&forecast), [vec![(ids[1].0, 1, 1), (ids[2].0, 2, 2)]]);
}

#[test]
fn cells_that_were_really_sown_decide_how_many_rows_they_are() {
    let mut grower = room();
    let ids = sorts(&mut grower, 2, 6);
    grower.see(ids[0], SOWN, Observed::Sown { cells: Some(14) });
    assert_eq!(maps(&grower.forecast()), [vec![(ids[0].0, 1, 3), (ids[1].0, 4, 4)]]);
}

#[test]
fn who_is_the_worse_for_the_others_is_said() {
    let mut grower = room();
    let tall = Crop {
        key: CropKey::new("tall"),
        name: "tall".to_owned(),
        heights: Sourced::own(vec![GrowthPoint { week: 10.0, mm: 700.0 }]),
        ..seedling()
    };
    grower.edit(&Op::PutCrop(Box::new(tall)).into());
    let ids = sorts(&mut grower, 2, 6);
    grower.change(ids[1], |sowing| sowing.crop = CropKey::new("tall"));
    grower.see(ids[1], "2027-03-10", Observed::Up { plants: None });
    let forecast = grower.forecast();
    assert_eq!(stand(&forecast, "2027-04-01").0, 1);
    let said: Vec<String> = words(&grower, |words| {
        let of_sharing = |problem: &&Problem| matches!(problem, Problem::SharesUnlike { .. });
        forecast.problems.iter().filter(of_sharing).map(|problem| words.problem(problem)).collect()
    });
    // the first are up on 5 March; 10 mm a day, 60 days after sowing
    assert_eq!(
        said,
        [
            "tall: shares Mix 1, which comes to the light on 5 Mar, when the first in it are up; it is up only on 10 Mar",
            "seedling: shares Mix 1 with tall, which is 600 mm taller on 30 Apr and keeps the lamp that much higher",
        ]
    );
}

#[test]
fn the_map_is_said_row_by_row() {
    let mut grower = room();
    let ids = sorts(&mut grower, 2, 9);
    for (id, variety) in ids.iter().zip(["Early", "Late"]) {
        grower.change(*id, |sowing| sowing.variety = variety.to_owned());
    }
    let (tray, shares) = words(&grower, |words| {
        let (tray, shared) = words.forecast.shared.first_key_value().expect("a shared tray");
        (words.who_shares(*tray, shared), words.shares(ids[1]))
    });
    assert_eq!(
        tray,
        "Se 1 (12 rows of 6): rows 1–2: seedling ‘Early’, 9 cells; rows 3–4: seedling ‘Late’, 9 cells; 8 rows free"
    );
    assert_eq!(
        shares.into_iter().map(|(_, said)| said).collect::<Vec<_>>(),
        ["shares Se 1 (rows 3–4) with seedling ‘Early’"]
    );
}

#[test]
fn what_a_sowing_would_come_to_counts_the_tray_it_shares() {
    let mut grower = room();
    let ids = sorts(&mut grower, 1, 6);
    let mut fuller = grower.clone();
    let would_mean = |more: &Grower, plants: u32| {
        let mut with = more.clone();
        let id = sorts(&mut with, 1, plants)[0];
        let sowing = with.season.sowing(id).expect("it was sown").clone();
        let found = with_one(&more.season, &Library::default(), &sowing);
        words(more, |words| words.would_mean("seedling", &sowing, &found))
    };
    assert_eq!(
        would_mean(&grower, 6),
        "6 plants of seedling: sown Mon 1 Mar 2027 into 6 cells of a sheet of 72 shared with seedling; out Sat 1 May \
         2027; while they grow on the shelves hold most in the week of 1 Mar: 1 tray, theirs shared with others"
    );
    // a full one, and the rest of 28 beside the first
    let said = would_mean(&grower, 100);
    assert!(said.contains("into 1 tray of sheet of 72 and 28 cells of one shared with seedling; "), "{said}");
    assert!(said.ends_with("2 trays, 1 of them theirs"), "{said}");
    fuller.change(ids[0], |sowing| sowing.alone = true);
    assert!(would_mean(&fuller, 6).contains("into 1 tray of sheet of 72; "), "nobody to share with");
}

/// Plants, days from the first sowing, days in the tray, tray, whether it stands alone.
type Drawn = (u32, u64, u64, u8, bool);

fn drawn() -> impl Strategy<Value = Vec<Drawn>> {
    vec((1..150_u32, 0..8_u64, 10..30_u64, 0..3_u8, prop::bool::weighted(0.1)), 1..14)
}

fn build(drawn: &[Drawn], shares: bool) -> (Grower, Vec<SowingId>) {
    let mut grower = room();
    let sow = |&(plants, from, days, tray, alone): &Drawn| {
        let from = days_after(day(SOWN), from);
        let tray = ["sheet of 72", "sheet of 50", "sheet of 38"][usize::from(tray)];
        let id = grower.sow(plants, &[stage(tray, &from.to_string())], &days_after(from, days).to_string());
        grower.change(id, |sowing| sowing.alone = alone || !shares);
        id
    };
    let ids = drawn.iter().map(sow).collect();
    (grower, ids)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_cell_is_used_twice_no_plant_counted_twice_and_no_tray_is_one_more(drawn in drawn()) {
        let ((shares, ids), (alone, _)) = (build(&drawn, true), build(&drawn, false));
        let (shared, apart) = (shares.forecast(), alone.forecast());
        prop_assert!(apart.shared.is_empty());
        for date in (0..40).map(|days| days_after(day(SOWN), days).to_string()) {
            let (one, other) = (stand(&shared, &date), stand(&apart, &date));
            prop_assert_eq!(one.1, other.1, "plants on {}", date);
            prop_assert!(one.0 <= other.0, "trays on {}", date);
        }
        let mut parts: BTreeMap<SowingId, u32> = BTreeMap::new();
        for (tray, map) in &shared.shared {
            let mut rows = BTreeSet::new();
            for part in &map.parts {
                prop_assert!(part.rows.clone().all(|row| row < map.rows && rows.insert(row)), "{:?}", map);
                let room = (part.rows.end - part.rows.start) * map.places / map.rows;
                prop_assert!((1..=room).contains(&part.places), "{:?}", map);
                *parts.entry(part.sowing).or_insert(0) += part.places;
            }
            prop_assert!(map.parts.len() > 1);
            let most = shared.stays_of(*tray).map(|stay| stay.plants).max();
            prop_assert!(most <= Some(map.parts.iter().map(|part| part.places).sum()));
        }
        for (id, (plants, ..)) in ids.iter().zip(&drawn) {
            let own: BTreeMap<_, _> = shared
                .stays
                .iter()
                .filter(|stay| stay.sowing == Some(*id))
                .filter_map(|stay| Some((stay.tray()?, stay.plants)))
                .collect();
            let all = own.values().sum::<u32>() + parts.get(id).copied().unwrap_or(0);
            prop_assert_eq!(all, *plants);
        }
    }

    #[test]
    fn a_sowing_more_moves_none_of_the_others(drawn in drawn()) {
        let (all, fewer) = (build(&drawn, true).0.forecast(), build(&drawn[..drawn.len() - 1], true).0.forecast());
        for (tray, before) in &fewer.shared {
            let now = all.shared.get(tray).map(|tray| &tray.parts[..before.parts.len()]);
            prop_assert_eq!(now, Some(&before.parts[..]));
        }
    }
}
