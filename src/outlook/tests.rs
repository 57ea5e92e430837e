//! Moves on one shelf, 1200 by 450 mm: three trays of 300 by 400 mm and a gap of 3 mm.

use chrono::NaiveDate;

use crate::forecast::{Forecast, forecast};
use crate::season::{
    Edit, EditLabel, Guest, GuestId, Library, Light, Op, PartOfDay, Place, PlaceId, Rack, RackId, Reach, Role, Season,
    Shelf, ShelfId, Spot, SpotFrom, Temperatures, TrayKey,
};
use crate::trade::Outline;
use crate::units::{DateSpan, Length, LengthUnit, Measure, Size};

use super::*;

const SHELF: ShelfId = ShelfId(3);

fn day(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, 3, day).unwrap()
}

fn mm(mm: i64) -> Length {
    Length::from_mm(mm)
}

fn tray(n: u32) -> TrayKey {
    TrayKey::Guest { guest: GuestId(4), n }
}

fn spot(n: u32, x: i64) -> Spot {
    Spot {
        tray: tray(n),
        from: SpotFrom::Start,
        until: None,
        shelf: SHELF,
        x: mm(x),
        y: mm(0),
        quarter_turns: 0,
        pinned: false,
    }
}

/// With the first trays at these places along the shelf.
fn season(at: &[i64]) -> Season {
    let mut season = Season::new("moves");
    let place = Place {
        id: PlaceId(1),
        name: "Room".to_owned(),
        role: Role::Growing,
        open: Vec::new(),
        part: PartOfDay::Whole,
        temperatures: Temperatures::default(),
        light: Light::default(),
        floor: None,
    };
    let shelf = Shelf {
        id: SHELF,
        rack: RackId(2),
        tier: 1,
        width: Measure::mm(1200),
        depth: Measure::mm(450),
        clear_height: None,
        reach: Reach::OneSide,
        closed: Vec::new(),
        zones: Vec::new(),
        overhang: Measure::mm(0),
        allowance_percent: 0,
        load_grams: None,
        light: None,
    };
    let guest = Guest {
        id: GuestId(4),
        name: "Cuttings".to_owned(),
        size: Size { width: Measure::mm(300), depth: Measure::mm(400) },
        height: None,
        number: 3,
        span: DateSpan::new(day(1), day(21)).unwrap(),
        role: Role::Growing,
        light: false,
        grams: None,
    };
    let rack = Rack { id: RackId(2), place: PlaceId(1), name: "Rack".to_owned(), position: 0, stands: None };
    let mut ops = vec![Op::PutPlace(place), Op::PutRack(rack), Op::PutShelf(shelf), Op::PutGuest(guest)];
    ops.extend((1..).zip(at).map(|(n, x)| Op::PutSpot(spot(n, *x))));
    season.apply(&Edit::new(EditLabel::Rename, ops)).unwrap();
    season
}

fn on<'a>(season: &'a Season, forecast: &'a Forecast, number: u32) -> OnDay<'a> {
    OnDay { season, forecast, day: day(number), from_day: false }
}

fn spots_in(edit: &Edit) -> Vec<(TrayKey, i64, u8)> {
    let spot = |op: &Op| match op {
        Op::PutSpot(spot) => Some((spot.tray, spot.x.units() / 8000, spot.quarter_turns)),
        _ => None,
    };
    edit.ops.iter().filter_map(spot).collect()
}

#[test]
fn a_landing_says_what_is_in_the_way_and_from_when_it_counts() {
    let season = season(&[0, 303]);
    let forecast = forecast(&season, &Library::default());
    let at = on(&season, &forecast, 5);
    let stay = at.stay_of(tray(3)).unwrap();
    assert_eq!(landing(&at, stay, spot(3, 605)), Err(Obstacle::Tray(tray(2))), "a gap is kept");
    let free = landing(&at, stay, spot(3, 606)).unwrap();
    assert_eq!((free.until, free.counts), (None, Counts::Since(day(1))));
    // the gap may lie in the air past the shelf's edge, the tray may not
    assert!(landing(&at, stay, spot(3, 900)).is_ok());
    assert_eq!(landing(&at, stay, spot(3, 901)), Err(Obstacle::Edge { by: mm(1) }));
    let from_day = OnDay { from_day: true, ..at };
    assert_eq!(from_day.counts_from(stay), SpotFrom::On(day(5)));
    let moved = landing(&from_day, stay, Spot { from: SpotFrom::On(day(5)), ..spot(3, 606) }).unwrap();
    assert_eq!(moved.counts, Counts::MovesOn(day(5)));
}

#[test]
fn what_was_not_free_before_counts_from_the_day_asked_about() {
    let mut season = season(&[0, 303]);
    season.apply(&Op::LiftTray { tray: tray(1), from: SpotFrom::Start }.into()).unwrap();
    season.apply(&Op::PutSpot(Spot { until: Some(day(4)), ..spot(1, 0) }).into()).unwrap();
    let forecast = forecast(&season, &Library::default());
    let at = on(&season, &forecast, 5);
    let stay = at.stay_of(tray(3)).unwrap();
    let found = landing(&at, stay, spot(3, 0)).unwrap();
    assert!(found.not_before);
    assert_eq!((found.spot.from, found.counts), (SpotFrom::On(day(5)), Counts::MovesOn(day(5))));
}

#[test]
fn a_turn_goes_about_the_corner_then_the_middle_then_back_from_the_edge() {
    let turn = |at: &[i64]| {
        let season = season(at);
        let forecast = forecast(&season, &Library::default());
        let at = on(&season, &forecast, 5);
        let one = at.stay_of(tray(1)).unwrap();
        let now = *at.placed().iter().find(|placed| placed.id.tray == tray(1)).unwrap().spot.unwrap();
        turned(&at, one, &now).map(|landing| (landing.spot.x, landing.spot.y))
    };
    assert_eq!(turn(&[0]), Ok((mm(0), mm(0))));
    assert_eq!(turn(&[900]), Ok((mm(800), mm(0))), "pushed back from the right edge");
    assert_eq!(turn(&[0, 303]), Err(Obstacle::Tray(tray(2))));
}

#[test]
fn a_free_spot_lies_beside_the_neighbours_and_is_none_where_there_is_none() {
    let mut room = season(&[0, 303]);
    let forecast_of = |season: &Season| forecast(season, &Library::default());
    let forecast = forecast_of(&room);
    let at = on(&room, &forecast, 5);
    let found = free_spot(&at, at.stay_of(tray(3)).unwrap(), None).unwrap();
    assert_eq!((found.shelf, found.x, found.y), (SHELF, mm(606), mm(0)));
    room.apply(&Op::PutSpot(spot(2, 450)).into()).unwrap();
    let forecast = forecast_of(&room);
    let at = on(&room, &forecast, 5);
    assert!(free_spot(&at, at.stay_of(tray(3)).unwrap(), Some(SHELF)).is_some());
    assert!(free_spot(&at, at.stay_of(tray(3)).unwrap(), Some(ShelfId(99))).is_none());
}

#[test]
fn several_go_together_or_none_does() {
    let season = season(&[0, 303, 606]);
    let forecast = forecast(&season, &Library::default());
    let at = on(&season, &forecast, 5);
    let all = at.placed();
    let edit = group::moved(&at, &all, mm(100), mm(0)).unwrap();
    assert_eq!(edit.label, EditLabel::MoveTrays(3));
    assert_eq!(spots_in(&edit), [(tray(1), 100, 0), (tray(2), 403, 0), (tray(3), 706, 0)]);
    // each would land where the next one stood: together that is no hindrance; over the edge is
    let why = group::moved(&at, &all, mm(303), mm(0)).unwrap_err();
    assert!(matches!(why, WhyNone::InTheWay { stay, of: Obstacle::Edge { by } }
        if stay.tray() == Some(tray(3)) && by == mm(9)));
    assert!(group::turned(&at, &all).is_err(), "turned, they would stand on one another");
    let first = &all[..1];
    assert_eq!(group::moved(&at, first, mm(0), mm(1)).unwrap().label, EditLabel::MoveTray(tray(1)));
}

#[test]
fn two_swap_and_one_or_three_do_not() {
    let season = season(&[0, 303, 606]);
    let forecast = forecast(&season, &Library::default());
    let at = on(&season, &forecast, 5);
    let all = at.placed();
    let edit = group::swapped(&at, &all[..2]).unwrap();
    assert_eq!(spots_in(&edit), [(tray(1), 303, 0), (tray(2), 0, 0)]);
    assert_eq!(group::swapped(&at, &all), Err(WhyNone::NotTwo));
}

#[test]
fn pins_and_lifts_are_of_those_on_a_shelf() {
    let mut season = season(&[0, 303]);
    season.apply(&Op::Pin { tray: tray(1), from: SpotFrom::Start, pinned: true }.into()).unwrap();
    let forecast = forecast(&season, &Library::default());
    let at = on(&season, &forecast, 5);
    let all = at.placed();
    assert_eq!(all.len(), 3);
    assert_eq!(group::pinned(&all).unwrap().label, EditLabel::PinTrays(1), "the one that is not pinned yet");
    let first: Vec<_> = all.iter().filter(|one| one.id.tray == tray(1)).copied().collect();
    assert_eq!(group::pinned(&first).unwrap().label, EditLabel::UnpinTrays(1));
    assert_eq!(group::lifted(&at, &all).unwrap().label, EditLabel::LiftTrays(2));
    let waiting: Vec<_> = all.into_iter().filter(|one| one.spot.is_none()).collect();
    assert_eq!((group::pinned(&waiting), group::lifted(&at, &waiting)), (None, None));
    assert!(matches!(group::moved(&at, &waiting, mm(1), mm(0)), Err(WhyNone::NoSpotYet(_))));
}

#[test]
fn an_arrangement_is_made_again_by_trays_of_the_same_size() {
    let season = season(&[0]);
    let forecast = forecast(&season, &Library::default());
    let at = on(&season, &forecast, 5);
    assert_eq!(arrange(&at, &[], Some(SHELF)), Err(NotArranged::NothingCopied));
    let copied = arrangement(&at.placed());
    assert_eq!(copied.len(), 1);
    assert_eq!(arrange(&at, &copied, None), Err(NotArranged::WhichShelf));
    assert!(matches!(arrange(&at, &copied, Some(SHELF)), Err(NotArranged::NoRoom { .. })), "it stands there itself");
    let beside: Vec<_> = copied.iter().map(|one| Arranged { x: mm(400), ..*one }).collect();
    assert_eq!(spots_in(&arrange(&at, &beside, Some(SHELF)).unwrap()), [(tray(2), 400, 0)]);
    let others: Vec<_> = copied.iter().map(|one| Arranged { width: mm(299), ..*one }).collect();
    assert_eq!(arrange(&at, &others, Some(SHELF)), Err(NotArranged::NoneLeft));
}

#[test]
fn shelves_of_one_size_are_counted_together() {
    let mut season = season(&[]);
    let first = season.shelf(SHELF).unwrap().clone();
    let below = Shelf { id: ShelfId(20), tier: 2, ..first.clone() };
    let wide = Shelf { id: ShelfId(21), tier: 3, width: Measure::mm(1500), ..first };
    let ops = [&below, &wide].map(|shelf| Op::PutShelf(shelf.clone()));
    season.apply(&Edit::new(EditLabel::AddShelf, ops.to_vec())).unwrap();
    let found = alike_shelves(&season);
    let numbers: Vec<_> = found.iter().map(|one| (one.first, one.number)).collect();
    assert_eq!(numbers, [(SHELF, 2), (ShelfId(21), 1)]);
    let outline = Outline::Rectangle { width: mm(300), depth: mm(450) };
    let held =
        |grams| found.iter().map(|one| one.hold(outline, grams, LengthUnit::Millimetre).fits).collect::<Vec<_>>();
    assert_eq!(held(1_000), [4, 5]);
    let rated = Shelf { id: ShelfId(20), load_grams: Some(7_000), ..season.shelf(ShelfId(20)).unwrap().clone() };
    season.apply(&Op::PutShelf(rated).into()).unwrap();
    let found = alike_shelves(&season);
    let held = |one: &AlikeShelves, grams| one.hold(outline, grams, LengthUnit::Millimetre);
    // 7 kg are three of 2 kg, and no three of 2334 g; a rated shelf is not like the one beside it
    let rated = found.iter().find(|one| one.first == ShelfId(20)).unwrap();
    assert_eq!(held(rated, 2_000), OnEach { fits: 3, by_weight: true });
    assert_eq!(held(rated, 2_334), OnEach { fits: 2, by_weight: true });
    assert_eq!(held(rated, 1_000), OnEach { fits: 4, by_weight: false });
    assert_eq!(held(&found[0], 2_000), OnEach { fits: 4, by_weight: false });
}

#[test]
fn several_let_go_together_keep_their_places_and_the_others_line_up() {
    let season = season(&[0, 303]);
    let forecast = forecast(&season, &Library::default());
    let at = on(&season, &forecast, 5);
    let all = at.placed();
    let places = |lead: usize, x: i64, quarter_turns: u8| {
        let to = LetGo { lead: all[lead], shelf: SHELF, x: mm(x), y: mm(10), quarter_turns };
        let there = let_go::beside(&at, &all, &to, |_| None);
        let of = |(one, spot): &(Placed<'_>, Spot)| (one.id.tray, spot.x.units() / 8000, spot.y.units() / 8000);
        there.iter().map(of).collect::<Vec<_>>()
    };
    // the second keeps its place beside the first; the third, without a spot, lines up behind the first
    assert_eq!(places(0, 100, 0), [(tray(1), 100, 10), (tray(2), 403, 10), (tray(3), 403, 10)]);
    // no room to the right of it: in the next row
    assert_eq!(places(0, 850, 0).last(), Some(&(tray(3), 850, 413)));
    let lifted = let_go::alone(&season, &all, &all[0]);
    assert!(lifted.spot(tray(2), SpotFrom::Start).is_none() && lifted.spot(tray(1), SpotFrom::Start).is_some());
}
