//! What is refused names the field that is wrong, so that no form has to guess.

use flatwright::season::{
    Away, AwayId, Edit, EditError, FieldId, FrostChance, GrowthPoint, Observation, Observed, Op, RecordId, Refusal,
    Season, Settings, Sourced, WeekLabels,
};
use flatwright::units::{DateSpan, Measure, Typed};
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
    check(&season, Op::PutSowing(lots), FieldId::LotShare(lot), "a batch's share must be from 1 to 1000000, found 0");
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

/// As everywhere else: a grower reads no year-month-day.
#[test]
fn days_are_said_in_full() {
    let day = |text: &str| text.parse().unwrap();
    let settings = Settings { weeks: WeekLabels::From(day("2026-09-08")), ..Settings::default() };
    let monday = "week 1 must start on a Monday, found Tue 8 Sep 2026";
    check(&edits::start(), Op::SetSettings(settings), FieldId::FirstWeek, monday);
    let chance = |date: &str| FrostChance {
        temperature: Typed::parse_temperature("32 °F").unwrap(),
        later_in_ten: 5,
        date: day(date),
    };
    let both = || Box::new([chance("2027-05-10"), chance("2027-05-24")]);
    for (field, why, said) in [
        (
            FieldId::SpotUntil,
            Refusal::NotAfter { from: day("2027-03-02"), found: day("2027-03-01") },
            "the day a tray is taken up must come after the day it is put there, found Tue 2 Mar 2027 to Mon 1 Mar 2027",
        ),
        (
            FieldId::FrostTableRisk,
            Refusal::ChanceTwice(both()),
            "years in 10 in the frost table must be written once, found Mon 10 May 2027 for 5 and Mon 24 May 2027 for 5 \
             at 32 °F",
        ),
        (
            FieldId::FrostTableDate,
            Refusal::ChanceRises(both()),
            "dates in the frost table must be earlier where more years in 10 have a later frost, found Mon 10 May 2027 \
             for 5 and Mon 24 May 2027 for 5 at 32 °F",
        ),
    ] {
        assert_eq!(words::refusal(&EditError { field, why }), said);
    }
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

/// By number, not by name, day or place in a list.
#[test]
fn of_two_that_are_alike_the_one_that_is_meant_goes() {
    let mut season = edits::start();
    let day = |text: &str| text.parse().unwrap();
    let span = DateSpan::new(day("2027-03-12"), day("2027-03-20")).unwrap();
    let first = season.next_id();
    for id in [first, first + 1] {
        let away = Away { id: AwayId(id), name: "trip".to_owned(), span, waters: String::new(), every_year: false };
        season.apply(&Op::PutAway(away).into()).unwrap();
    }
    season.apply(&Op::RemoveAway(AwayId(first)).into()).unwrap();
    assert_eq!(season.away().iter().map(|away| away.id).collect::<Vec<_>>(), [AwayId(first + 1)]);
    let gone = season.may(&Op::RemoveAway(AwayId(first)).into()).map_err(|why| (why.field, why.why));
    assert_eq!(gone, Err((FieldId::Away, Refusal::NotThere(first))));

    let sowing = season.sowings().next().unwrap().id;
    let (one, other) = (RecordId(season.next_id()), RecordId(season.next_id() + 1));
    for id in [one, other] {
        let record = Observation { id, date: day("2027-03-09"), what: Observed::TrueLeaves(2) };
        season.apply(&Op::PutRecord(sowing, record).into()).unwrap();
    }
    let later = Observation { id: one, date: day("2027-03-12"), what: Observed::TrueLeaves(2) };
    season.apply(&Op::PutRecord(sowing, later).into()).unwrap();
    let order = |season: &Season| -> Vec<_> {
        season.sowing(sowing).unwrap().seen.iter().map(|seen| (seen.id, seen.date)).collect()
    };
    assert_eq!(
        order(&season),
        [(other, day("2027-03-09")), (one, day("2027-03-12"))],
        "the same record, by its new day"
    );
    season.apply(&Op::RemoveRecord(sowing, other).into()).unwrap();
    assert_eq!(order(&season), [(one, day("2027-03-12"))]);
}
