//! A bench of four trays filled again and again, each fill sown when the one before leaves. A grower's report, restated.

use flatwright::forecast::{fills, forecast, in_trays};
use flatwright::outlook::Verdict;
use flatwright::season::{Library, Op, Season, Sowing};
use flatwright::store::library;
use flatwright::trade::QuickLine;
use statrs::distribution::{Binomial, DiscreteCDF as _};

use crate::support::{FLAT, Grower, day, days_after, shelf, stage};

/// Four trays of three and a half six-packs, four weeks on the bench.
fn bench(plants: u32) -> (Grower, Sowing) {
    let mut grower = Grower::growing(1, &shelf("48 x 24 in"));
    grower.sheet("half six-packs", FLAT, 21);
    let id = grower.sow(plants, &[stage("half six-packs", "2025-02-10")], "2025-03-10");
    let first = grower.season.sowing(id).cloned().expect("it was sown");
    (grower, first)
}

#[test]
fn three_fills_of_84_follow_one_another_without_a_day_between() {
    let (mut grower, first) = bench(84);
    let fills = fills(&grower.season, &Library::default(), &first, 3);
    let days: Vec<_> = fills.iter().map(|fill| (fill.sown, fill.leaves)).collect();
    let expected = [("2025-02-10", "2025-03-10"), ("2025-03-10", "2025-04-07"), ("2025-04-07", "2025-05-05")];
    assert_eq!(days, expected.map(|(sown, leaves)| (day(sown), day(leaves))));
    for fill in fills {
        grower.edit(&Op::PutSowing(fill.sowing).into());
    }
    let plants: u32 = grower.season.sowings().map(Sowing::plants_wanted).sum();
    assert_eq!(plants, 252);
    let looked = grower.look().fits();
    assert_eq!([looked.places_on("2025-03-09"), looked.places_on("2025-03-10")], [4, 4]);
}

#[test]
fn a_fill_too_large_for_the_bench_is_short_every_time() {
    let (mut grower, first) = bench(85);
    for fill in fills(&grower.season, &Library::default(), &first, 3) {
        grower.edit(&Op::PutSowing(fill.sowing).into());
    }
    grower.look().crunch(5, 4, 1);
}

#[test]
fn days_away_leave_slack_between_fills() {
    let (mut grower, first) = bench(84);
    grower.settings(|settings| settings.frost = None);
    let planned = fills(&grower.season, &Library::default(), &first, 2);
    let leaves = planned[0].leaves;
    assert_eq!(planned[1].sown, leaves, "one after the other");
    // nobody is there on the day on which the next would be sown, and on two more
    let home = days_after(leaves, 3);
    grower.away("at a fair", flatwright::units::DateSpan::new(leaves, home).unwrap(), false);
    let fills = fills(&grower.season, &Library::default(), &first, 2);
    assert_eq!((fills[0].leaves, fills[1].sown), (leaves, home), "{fills:?}");
}

fn of_line(line: &str, season: &Season) -> (Sowing, u32) {
    let library = library();
    let line = QuickLine::read(line, season.crops(library), season.containers(library), day("2027-01-10"), None);
    let line = line.unwrap_or_else(|why| panic!("{why}"));
    let crop = season.crop(library, &line.crop).expect("the line names it");
    let sowing = line.sowing(crop, library).renumbered(season.next_id());
    let flatwright::trade::Amount::Trays(trays) = line.amount else { panic!("no trays") };
    (sowing, trays)
}

#[test]
fn ten_full_trays_give_as_many_as_the_law_of_chance_says() {
    let grower = Grower::growing(9, &shelf("48 x 24 in"));
    let (mut sowing, trays) = of_line("10 trays tomato in 72, sown 2 March", &grower.season);
    sowing.germination_percent = Some(85);
    let held = in_trays(&grower.season, library(), &sowing, trays).unwrap();
    assert_eq!((held.cells, held.on_average, held.sure_percent), (720, 612, 90));
    let law = Binomial::new(0.85, 720).unwrap();
    let chance = |at_least: u32| law.sf(u64::from(at_least) - 1);
    assert!(chance(held.sure) >= 0.9 && chance(held.sure + 1) < 0.9, "{held:?}");
    // as many wanted fill as many trays
    sowing.wanted.iter_mut().for_each(|wanted| wanted.plants = held.sure);
    let mut season = grower.season.clone();
    season.apply(&Op::PutSowing(sowing.clone()).into()).unwrap();
    let course = forecast(&season, library()).courses_of(sowing.id).next().cloned().unwrap();
    assert_eq!(course.trays.first().map(|(_, trays)| *trays), Some(10));
    assert_eq!(course.date(flatwright::forecast::What::Sown), Some(day("2027-03-02")));
}

#[test]
fn loose_pots_are_not_counted_by_the_tray() {
    let (grower, mut first) = bench(84);
    assert_eq!(in_trays(&grower.season, &Library::default(), &first, 4).map(|held| held.sure), Some(84));
    first.steps.clear();
    assert_eq!(in_trays(&grower.season, &Library::default(), &first, 4), None);
    assert_eq!(grower.look().outlook.verdict, Verdict::Fits);
}
