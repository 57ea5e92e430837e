//! What is refused names the field that is wrong, so that no form has to guess.

use flatwright::season::{Edit, FieldId, GrowthPoint, Op, Refusal, Season, Settings, Sourced};
use flatwright::units::Measure;
use flatwright::{store, words};

use crate::edits;

#[track_caller]
fn check(season: &Season, op: Op, field: FieldId, said: &str) {
    let edit = Edit::from(op);
    let refused = season.may(&edit).expect_err("it is wrong");
    assert_eq!((refused.field, words::refusal(&refused).as_str()), (field, said));
    assert_eq!(season.clone().apply(&edit), Err(refused), "asked and done say the same");
}

#[test]
fn the_field_at_fault_is_named() {
    let season = edits::start();
    let shelf = season.shelves().next().expect("it has shelves").clone();
    let mut low = shelf.clone();
    low.depth = Measure::mm(1);
    check(&season, Op::PutShelf(low), FieldId::ShelfDepth, "a shelf's depth must be from 50 mm to 100 m, found 1 mm");

    let sowing = season.sowings().next().expect("it has sowings").clone();
    let (mut lots, mut days) = (sowing.clone(), sowing);
    lots.lots[0].share = 0;
    let lot = lots.lots[0].id;
    check(&season, Op::PutSowing(lots), FieldId::LotShare(lot), "a lot's share must be from 1 to 1000000, found 0");
    days.wanted.push(days.wanted[0]);
    days.wanted[1].plants = 0;
    check(
        &season,
        Op::PutSowing(days),
        FieldId::OutPlants(1),
        "the number of plants must be from 1 to 1000000, found 0",
    );

    let mut crop = store::library().crops.values().next().expect("it has crops").clone();
    let points = [(0.0, 0.0), (2.0, 30.0), (2.0, 40.0)].map(|(week, mm)| GrowthPoint { week, mm });
    crop.spreads = Sourced::own(points.to_vec());
    check(
        &season,
        Op::PutCrop(Box::new(crop)),
        FieldId::SpreadWeek(2),
        "weeks must rise from point to point, from 0 up, found 2",
    );

    let settings = Settings { water_every: 0, ..Settings::default() };
    check(
        &season,
        Op::SetSettings(settings),
        FieldId::WaterEvery,
        "days between waterings must be from 1 to 60, found 0",
    );
}

/// A form asks in every frame: what would be refused must be known without doing it.
#[test]
fn asking_leaves_the_season_as_it_was() {
    let season = edits::start();
    let before = season.clone();
    season.may(&Op::Rename("Another".to_owned()).into()).expect("a good name");
    assert_eq!(season, before);
    let refused = season.may(&Op::Rename(String::new()).into()).map_err(|why| why.why);
    assert_eq!(refused, Err(Refusal::NoName));
}
