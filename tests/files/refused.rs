//! What is refused names the field that is wrong, so that no form has to guess.

use flatwright::season::{
    Away, AwayId, ContainerKey, ContainerKind, Crop, CropKey, DayRange, Door, Edit, EditError, FieldId, Floor,
    FrostChance, GrowthPoint, Observation, Observed, Op, Place, PlaceId, Pot, Rack, RackId, RecordId, Refusal, Season,
    Settings, Shelf, Sourced, Stands, Wall, WeekLabels,
};
use flatwright::units::{DateSpan, Measure, Size, Temperature, Typed};
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

    let mut crop = store::library().crops.values().next().expect("it has crops").clone();
    crop.in_open_flat = Some(Sourced::own(0));
    check(
        &season,
        Op::PutCrop(Box::new(crop)),
        FieldId::CropInOpenFlat,
        "plants to an open flat must be from 1 to 10000, found 0",
    );

    let settings = Settings { water_every: 0, ..Settings::default() };
    check(
        &season,
        Op::SetSettings(settings),
        FieldId::WaterEvery,
        "days between waterings must be from 1 to 60, found 0",
    );
}

#[test]
fn floors_that_cannot_be_are_refused() {
    let season = edits::start();
    let typed = |text: &str| Measure::parse_length(text, None).expect("a length");
    let place = season.places().next().expect("it has places").clone();
    let floor = Floor { width: typed("38 ft"), depth: typed("60 ft"), doors: Vec::new(), barrow: None };
    let with = |floor: Floor| Op::PutPlace(Place { floor: Some(floor), ..place.clone() });
    season.may(&with(floor.clone()).into()).expect("it can be");
    check(
        &season,
        with(Floor { depth: typed("2 in"), ..floor.clone() }),
        FieldId::RoomDepth,
        "a floor's depth must be from 3.94 in to 1640.42 ft, found 2 in",
    );
    let door = Door { wall: Wall::Left, along: typed("57 ft"), width: typed("3 ft") };
    season.may(&with(Floor { doors: vec![door.clone()], ..floor.clone() }).into()).expect("it ends at the corner");
    let past = Door { width: typed("37 in"), ..door.clone() };
    check(
        &season,
        with(Floor { doors: vec![door.clone(), past], ..floor.clone() }),
        FieldId::DoorAlong(1),
        "a door must end within its wall of 60 ft, found 57 ft along it and 37 in wide",
    );
    check(
        &season,
        with(Floor { doors: vec![door; 21], ..floor.clone() }),
        FieldId::Doors,
        "doors: 20 at most, found 21",
    );
    check(
        &season,
        with(Floor { barrow: Some(typed("11 m")), ..floor }),
        FieldId::Barrow,
        "a barrow's width must be from 10 mm to 10 m, found 11 m",
    );
    let rack = season.racks()[0].clone();
    let far = Stands { x: typed("501 m"), y: typed("0 m"), quarter_turns: 0 };
    check(
        &season,
        Op::PutRack(Rack { stands: Some(far), ..rack }),
        FieldId::RackX,
        "how far a rack is from the left wall must be from 0 mm to 500 m, found 501 m",
    );
}

#[test]
fn of_racks_on_one_floor_there_are_so_many_at_most() {
    let mut season = edits::start();
    let like = season.racks()[0].clone();
    let stands = Some(Stands { x: Measure::mm(0), y: Measure::mm(0), quarter_turns: 0 });
    let one_more = |season: &Season| Rack { id: RackId(season.next_id()), stands: stands.clone(), ..like.clone() };
    for _ in 0..100 {
        let rack = one_more(&season);
        season.apply(&Op::PutRack(rack).into()).expect("there is room for it");
    }
    let last = season.racks().into_iter().find(|rack| rack.stands.is_some()).expect("a hundred").clone();
    season.may(&Op::PutRack(last).into()).expect("it is one of them");
    check(&season, Op::PutRack(one_more(&season)), FieldId::RacksOnPlan, "racks on one floor: 100 at most, found 101");
}

#[test]
fn a_rack_that_goes_to_another_place_stands_nowhere_there_yet() {
    let mut season = edits::start();
    let rack = season.racks()[0].clone();
    let stands = Some(Stands { x: Measure::mm(0), y: Measure::mm(100), quarter_turns: 7 });
    let rack = Rack { stands, ..rack };
    season.apply(&Op::PutRack(rack.clone()).into()).expect("it can stand there");
    let there = season.rack(rack.id).expect("it is there").clone();
    assert_eq!(there.stands.as_ref().map(|stands| stands.quarter_turns), Some(3));
    let place = season.places().next().expect("it has places").clone();
    let other = Place { id: PlaceId(season.next_id()), ..place };
    season.apply(&Op::PutPlace(other.clone()).into()).expect("another place");
    season.apply(&Op::PutRack(Rack { place: other.id, ..there }).into()).expect("it may go there");
    assert_eq!(season.rack(rack.id).expect("it is there").stands, None);
}

#[test]
fn days_that_overlap_are_refused() {
    let season = edits::start();
    let days = |from: &str, until: &str| DateSpan::new(from.parse().expect("a day"), until.parse().expect("a day"));
    let [one, next, over] = [("2027-03-01", "2027-04-01"), ("2027-04-01", "2027-05-01"), ("2027-04-30", "2027-06-01")]
        .map(|(from, until)| days(from, until).expect("days"));
    let mut place = season.places().next().expect("it has places").clone();
    place.open = vec![next, one];
    season.may(&Op::PutPlace(place.clone()).into()).expect("they touch");
    place.open = vec![over, one, next];
    check(
        &season,
        Op::PutPlace(place),
        FieldId::PlaceOpen,
        "open days must not overlap, found Thu 1 Apr 2027 to Sat 1 May 2027 and Fri 30 Apr 2027 to Tue 1 Jun 2027; \
         make one of the two",
    );
    let closed = vec![one, one];
    let shelf = Shelf { closed, ..season.shelves().next().expect("it has shelves").clone() };
    check(
        &season,
        Op::PutShelf(shelf),
        FieldId::ShelfClosed,
        "closed days must not overlap, found Mon 1 Mar 2027 to Thu 1 Apr 2027 and Mon 1 Mar 2027 to Thu 1 Apr 2027; \
         make one of the two",
    );
}

#[test]
fn figures_of_a_crop_that_contradict_each_other_are_refused() {
    let season = edits::start();
    let tomato = store::library().crops.get(&CropKey::new("tomato")).expect("it is there");
    let check = |change: &dyn Fn(&mut Crop), field, said: &str| {
        let mut crop = tomato.clone();
        change(&mut crop);
        check(&season, Op::PutCrop(Box::new(crop)), field, said);
    };
    check(
        &|crop| crop.weeks_to_planting_out.value = (13, 14),
        FieldId::CropLatest,
        "ready after 91 days at the earliest, but no container holds it longer than 84",
    );
    check(
        &|crop| crop.latest.value.medium = Some(3),
        FieldId::CropLatest,
        "weeks at most in a container must not fall, found 4 to 3",
    );
    check(
        &|crop| crop.moving_on.value.days.early = 4,
        FieldId::CropMovingOn,
        "moved on after 4 days, before it is up after 6",
    );
    check(
        &|crop| crop.moving_on.value.days = DayRange { early: 50, likely: 60, late: 70 },
        FieldId::CropMovingOn,
        "moved on after 50 days, when it went out after 49",
    );
    check(
        &|crop| crop.hardening.value.days = 60,
        FieldId::CropHardening,
        "days of hardening off must be 49 at most, found 60",
    );
    check(
        &|crop| crop.weeks_to_sale = Some(Sourced::own((3, 4))),
        FieldId::CropWeeksToSale,
        "sold after 4 weeks, before it has the size for planting out after 5",
    );
    let warm = Temperature::try_from_celsius(36.0);
    let colder = |crop: &mut Crop| {
        if let Some(figure) = &mut crop.germination_temperatures {
            figure.value.best_low = warm;
        }
    };
    // best from 36 °C, to 29.4
    check(&colder, FieldId::CropGerminates(2), "temperatures must not fall, found 36 °C to 29.4 °C");
}

#[test]
fn figures_of_a_container_that_contradict_each_other_are_refused() {
    let season = edits::start();
    let container = |key: &str| store::library().containers.get(&ContainerKey::new(key)).expect("it is there").clone();
    let size = |text: &str| Sourced::own(Size::parse(text, None).expect("a size"));
    let mut flat = container("flat_1020");
    if let ContainerKind::Flat(flat) = &mut flat.kind {
        flat.floor = Some(size("50 x 30 cm"));
    }
    let said = "a floor must fit into 21.44 × 10.94 in, found 50 × 30 cm";
    check(&season, Op::PutContainer(flat), FieldId::FloorWidth, said);
    let with = |change: &dyn Fn(&mut Pot)| {
        let mut pot = container("sq_4_18ct");
        if let ContainerKind::Pot(pot) = &mut pot.kind {
            change(pot);
        }
        Op::PutContainer(pot)
    };
    let volume = |text: &str| Typed::parse_volume(text).ok().map(Sourced::own);
    let base = with(&|pot| pot.bottom = Some(Sourced::own(Measure::mm(90))));
    check(&season, base, FieldId::PotBase, "a pot's base must fit into 83 mm, found 90 mm");
    let fill = with(&|pot| pot.volume = volume("500 ml"));
    check(&season, fill, FieldId::PotVolume, "a volume must fit into 473 ml, found 500 ml");
    // 83 × 83 × 89 mm
    let brim = with(&|pot| pot.brim = volume("2 l"));
    check(&season, brim, FieldId::PotVolume, "a volume must fit into its outer size (613 ml), found 2 l");
    let mut tray = container("plug_72");
    if let ContainerKind::Plug(plug) = &mut tray.kind {
        plug.cell_top = Some(Measure::mm(60));
    }
    let said = "a cell's width must fit into 21.44 × 10.94 in, found 12 × 60 mm";
    check(&season, Op::PutContainer(tray), FieldId::CellWidth, said);
    let mut covered = container("flat_1020_dome");
    covered.dome = Some(Measure::mm(50));
    let said = "the height under a dome must be from 60 mm to 5 m, found 50 mm";
    check(&season, Op::PutContainer(covered), FieldId::ContainerDome, said);
}

/// Nothing that comes with the program contradicts itself, nor is refused where a season keeps it.
#[test]
fn what_is_shipped_agrees_with_itself() {
    let season = edits::start();
    for crop in store::library().crops.values() {
        let put = Op::PutCrop(Box::new(crop.clone()));
        assert_eq!(season.may(&put.into()), Ok(()), "{}", crop.key);
    }
    for container in store::library().containers.values() {
        let put = Op::PutContainer(container.clone());
        assert_eq!(season.may(&put.into()), Ok(()), "{}", container.key);
    }
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
        let record = Observation { id, date: day("2027-03-09"), what: Observed::TrueLeaves(2), lot: None };
        season.apply(&Op::PutRecord(sowing, record).into()).unwrap();
    }
    let later = Observation { id: one, date: day("2027-03-12"), what: Observed::TrueLeaves(2), lot: None };
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
