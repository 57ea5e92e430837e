//! Plants that stand there already: the forecast goes on from their stage.
//!
//! Reckoned by hand from the library's tomato: up after 7 days, 3 true leaves after 28, so a leaf
//! every 7 days; 4 in square pots stand 18 to a flat.

use std::path::Path;

use flatwright::forecast::{Event, Forecast, Phase, Problem, What, Why, forecast};
use flatwright::season::{ContainerKey, CropKey, Season, Stage, StepId};
use flatwright::store;
use flatwright::trade::{chain_from, days_to_stage};
use flatwright::units::Length;

use crate::support::day;

/// 72 tomatoes in a tray of 72 cells on 3 April 2027, out on 16 May.
fn season(stage: &str) -> Season {
    let text = format!(
        r#"(format: "flatwright season", version: 1, name: "middle",
        places: [(id: 1, name: "room", role: Growing)], racks: [(id: 2, place: 1, name: "r")],
        shelves: [(id: 3, rack: 2, size: "96 x 48 in")],
        sowings: [(id: 20, crop: "tomato", begun: (on: "2027-04-03", stage: {stage}),
        wanted: [(date: "2027-05-16", plants: 72)], steps: [(id: 22, container: "plug_72"),
        (id: 23, container: "sq_4_18ct", carried_in: "flat_1020")], lots: [(id: 21)], bottom_heat: false)])"#
    );
    match store::parse(&text, Path::new("middle.ron")) {
        Ok(season) => season,
        Err(why) => panic!("{why}"),
    }
}

fn found(stage: &str) -> Forecast {
    forecast(&season(stage), store::library())
}

fn event(found: &Forecast, what: What) -> Option<&Event> {
    found.courses[0].events.iter().find(|event| event.what == what)
}

fn on(found: &Forecast, date: &str, phase: Phase) -> usize {
    found.on(day(date)).filter(|stay| stay.phase == phase).count()
}

#[test]
fn nothing_is_asked_for_before_the_day_and_nothing_for_seed_that_fails() {
    let found = found("TrueLeaves(2)");
    assert_eq!(found.on(day("2027-04-02")).count(), 0);
    assert_eq!(on(&found, "2027-04-03", Phase::Plugs), 1, "72 plants fill one tray of 72, whatever the packet says");
    let course = &found.courses[0];
    assert_eq!((course.sow.on_average, course.sow.sure), (72, 72));
    assert_eq!(course.trays, [(StepId(22), 1), (StepId(23), 4)]);
    assert_eq!(event(&found, What::Sown), None);
    assert_eq!(event(&found, What::Up), None, "that is over");
}

#[test]
fn the_next_move_is_reckoned_from_the_stage() {
    // two leaves are 7 + 2 × 7 = 21 days: as if sown on 13 March, due 28 days later
    let found = found("TrueLeaves(2)");
    let begun = event(&found, What::Begun).expect("it is told");
    assert_eq!(begun.date, day("2027-04-03"));
    assert_eq!(begun.why, Why::Stage { days: 21, stage: Stage::TrueLeaves(2) });
    assert_eq!(found.courses[0].sown(), Some(day("2027-03-13")));
    let due = event(&found, What::Due).expect("still to come");
    assert_eq!((due.date, due.range), (day("2027-04-10"), Some((day("2027-04-06"), day("2027-04-17")))));
    assert_eq!(found.courses[0].date(What::MovedOn(StepId(23))), Some(day("2027-04-10")));
    assert_eq!([on(&found, "2027-04-09", Phase::Plugs), on(&found, "2027-04-10", Phase::Pots)], [1, 4]);
    // six weeks at most in cells of that size
    assert_eq!(found.courses[0].date(What::Latest(StepId(22))), Some(day("2027-04-24")));
    assert_eq!(on(&found, "2027-05-15", Phase::Pots), 4);
    assert_eq!(found.on(day("2027-05-16")).count(), 0);
}

#[test]
fn what_is_due_already_moves_on_the_day_after() {
    // four leaves are 7 + 4 × 7 = 35 days
    let found = found("TrueLeaves(4)");
    assert_eq!(
        event(&found, What::Begun).map(|event| event.why),
        Some(Why::Stage { days: 35, stage: Stage::TrueLeaves(4) })
    );
    let moved = event(&found, What::MovedOn(StepId(23))).expect("it moves on");
    assert_eq!((moved.date, moved.why), (day("2027-04-04"), Why::DueAlready));
    assert!(!found.problems.iter().any(|problem| matches!(problem, Problem::OutOfOrder { .. })));
}

#[test]
fn height_goes_on_from_the_age_of_the_stage() {
    let found = found("TrueLeaves(4)");
    let stay = found.on(day("2027-04-03")).next().expect("one tray");
    let rim = store::library().containers[&ContainerKey::new("plug_72")].height.clone().expect("known").value();
    // in week 5 half way from 100 to 160 mm, and 50 mm to the lamp
    assert_eq!(stay.height, rim + Length::from_mm(130 + 50));
}

#[test]
fn sown_on_the_day_it_comes_up_and_moves_on_by_the_crops_days() {
    let found = found("Sown");
    assert_eq!(event(&found, What::Up).map(|event| event.date), Some(day("2027-04-10")));
    assert_eq!([on(&found, "2027-04-09", Phase::Germinating), on(&found, "2027-04-10", Phase::Plugs)], [1, 1]);
    assert_eq!(found.courses[0].date(What::MovedOn(StepId(23))), Some(day("2027-05-01")));
    let up = crate::middle::found("Up");
    assert_eq!(event(&up, What::Begun).map(|event| event.why), Some(Why::Stage { days: 7, stage: Stage::Up }));
    assert_eq!(up.courses[0].date(What::MovedOn(StepId(23))), Some(day("2027-04-24")));
}

#[test]
fn where_leaves_say_nothing_four_stand_for_the_days_of_moving_on() {
    let onion = store::library().crops.values().find(|crop| crop.moving_on.value.true_leaves.is_none()).expect("one");
    let (up, due) = (onion.emergence.value.likely, onion.moving_on.value.days.likely);
    assert_eq!(days_to_stage(onion, Stage::TrueLeaves(4)), due);
    assert_eq!(days_to_stage(onion, Stage::Up), up);
}

#[test]
fn the_usual_chain_goes_on_from_the_container_they_stand_in() {
    let library = store::library();
    let tomato = &library.crops[&CropKey::new("tomato")];
    let from = |key: &str, days: (u16, u16)| {
        let now = &library.containers[&ContainerKey::new(key)];
        chain_from(tomato, now, days, library).into_iter().map(|step| step.container.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(from("plug_72", (49, 21)), ["plug_72", "sq_4_18ct"]);
    assert_eq!(from("plug_72", (49, 14)), ["plug_72", "sq_4_18ct"], "two weeks to root through");
    assert_eq!(from("plug_72", (49, 13)), ["plug_72"], "no time to root through a pot");
    assert_eq!(from("sq_4_18ct", (49, 21)), ["sq_4_18ct"], "the last one");
    // three times 171 ml is more than a four-inch pot holds, and eight weeks are not too long in such a cell
    assert_eq!(from("plug_24", (49, 21)), ["plug_24"], "large enough to the end");
    let parsley = &library.crops[&CropKey::new("parsley")];
    let cells = &library.containers[&ContainerKey::new("plug_50")];
    assert_eq!(chain_from(parsley, cells, (49, 28), library).len(), 1, "it stays in its cells");
}

#[test]
fn too_many_leaves_are_refused_and_the_file_says_the_same_again() {
    let season = season("TrueLeaves(4)");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("middle.ron");
    store::save(&path, &season).expect("saved");
    assert_eq!(store::load(&path).expect("read back"), season);
    let mut sowing = season.sowings().next().expect("one").clone();
    sowing.begun = sowing.begun.map(|begun| flatwright::season::Begun { stage: Stage::TrueLeaves(51), ..begun });
    assert!(season.clone().apply(&flatwright::season::Op::PutSowing(sowing).into()).is_err());
}
