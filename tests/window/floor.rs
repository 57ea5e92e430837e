//! The floor of a place: racks where they stand, by hand, by keys and by their figures.

use egui::{Key, Modifiers, Pos2, Role, vec2};
use egui_kittest::kittest::Queryable as _;
use flatwright::season::{Door, EditLabel, Floor, Op, Place, Rack, Role as PlaceRole, Season, Stands, Wall, make};
use flatwright::units::{Length, Measure, Size};
use flatwright::words::{self, cautions::Care, floor as said, places};

use crate::hand::{choose, field, opened, press, saved_and_read, season, settle, undo, value};
use crate::{Window, drag, take};

fn measure(text: &str) -> Measure {
    Measure::parse_length(text, None).expect("a length")
}

/// A room of 4 × 3 m with a door of 90 cm at the left of its front wall, and three racks of 120 × 45 cm: the first
/// stands in the back left corner, the second 2 m before the back wall.
fn room() -> Season {
    let mut season = Season::new("Test");
    let size = Size { width: measure("120 cm"), depth: measure("45 cm") };
    for name in ["Bench 1", "Bench 2", "Bench 3"] {
        let place = season.places().next().map(|place| place.id);
        let place = place.map_or_else(
            || make::InPlace::New { name: "Room".to_owned(), role: PlaceRole::Growing },
            make::InPlace::There,
        );
        let new = make::NewRack {
            name: name.to_owned(),
            place,
            tiers: 1,
            size: size.clone(),
            clear_height: None,
            overhang: None,
            lamp: false,
        };
        season.apply(&new.edit(&season).0).expect("a rack");
    }
    let place = season.places().next().expect("a place").clone();
    let door = Door { wall: Wall::Front, along: Measure::mm(0), width: measure("90 cm") };
    let floor = Some(Floor { width: measure("4 m"), depth: measure("3 m"), doors: vec![door], barrow: None });
    season.apply(&Op::PutPlace(Place { floor, ..place }).into()).expect("a floor");
    for (at, y) in [(0, 0), (1, 2_000)] {
        let rack = season.racks()[at].clone();
        let stands = Some(Stands { x: Measure::mm(0), y: Measure::mm(y), quarter_turns: 0 });
        season.apply(&Op::PutRack(Rack { stands, ..rack }).into()).expect("it stands there");
    }
    season
}

fn rack(window: &Window, at: usize) -> Rack {
    season(window).racks()[at].clone()
}

fn stands(window: &Window, at: usize) -> Option<(Length, Length, u8)> {
    rack(window, at).stands.map(|stands| (stands.x.value(), stands.y.value(), stands.quarter_turns))
}

const fn mm(x: i64, y: i64, quarter_turns: u8) -> (Length, Length, u8) {
    (Length::from_mm(x), Length::from_mm(y), quarter_turns)
}

fn on_screen(window: &Window, at: usize) -> egui::Rect {
    let rack = rack(window, at);
    window.get_by_label(&said::rack_said(&rack, &rack.stands.clone().expect("it is on the floor"))).rect()
}

/// Points to a metre.
fn metre(window: &Window) -> f32 {
    on_screen(window, 0).width() / 1.2
}

fn undo_label(window: &Window) -> Option<EditLabel> {
    window.state().history().undo_label().cloned()
}

#[test]
fn a_rack_is_dragged_to_the_right_millimetre_in_one_step() {
    let mut window = opened(room(), said::OPEN);
    let (from, metre) = (on_screen(&window, 1).center(), metre(&window));
    drag(&mut window, from, from + vec2(1.30, -0.50) * metre);
    let (x, y, _) = stands(&window, 1).expect("it stands");
    // on whole centimetres, and no further from where the hand let go than a point of the screen
    assert_eq!((x.units() % Length::from_mm(10).units(), y.units() % Length::from_mm(10).units()), (0, 0));
    let point = 1_000.0 / f64::from(metre) + 5.0;
    assert!((x.to_mm() - 1_300.0).abs() <= point && (y.to_mm() - 1_500.0).abs() <= point, "{x:?}, {y:?}");
    assert_eq!(undo_label(&window), Some(EditLabel::MoveRack("Bench 2".to_owned())));
    undo(&mut window);
    assert_eq!(stands(&window, 1), Some(mm(0, 2_000, 0)));
    assert_eq!(&saved_and_read(&window), season(&window));
}

#[test]
fn walls_and_other_racks_draw_it() {
    let mut window = opened(room(), said::OPEN);
    let (from, metre) = (on_screen(&window, 1).center(), metre(&window));
    // a little off the front of the first, and off the left wall
    drag(&mut window, from, from + vec2(0.03, -1.52) * metre);
    assert_eq!(stands(&window, 1), Some(mm(0, 450, 0)));
    let from = on_screen(&window, 1).center();
    drag(&mut window, from, from + vec2(5.0, 0.0) * metre - vec2(2.0 * metre, 0.0));
    assert_eq!(stands(&window, 1), Some(mm(2_800, 450, 0)), "at the right wall, not beyond it");
}

#[test]
fn what_is_in_the_hand_is_shown_and_given_up_with_escape() {
    let mut window = opened(room(), said::OPEN);
    let before = season(&window).clone();
    let (from, metre) = (on_screen(&window, 1).center(), metre(&window));
    take(&mut window, from, from + vec2(0.0, -1.75) * metre);
    window.get_by_label("0 mm from the left, 250 mm from the back; in the way of Bench 1");
    assert_eq!(season(&window), &before, "only shown");
    window.key_press(Key::Escape);
    settle(&mut window);
    window.drop_at(from);
    settle(&mut window);
    assert_eq!(season(&window), &before);
    window.get_by_label(&floor_said(&window));
}

fn floor_said(window: &Window) -> String {
    let place = season(window).places().next().expect("a place");
    let floor = place.floor.as_ref().expect("a floor");
    let on = season(window).racks().iter().filter(|rack| rack.stands.is_some()).count();
    said::floor_said(&place.name, &floor.width, &floor.depth, on)
}

#[test]
fn it_turns_in_the_hand_about_where_it_is_held() {
    let mut window = opened(room(), said::OPEN);
    let (from, metre) = (on_screen(&window, 1).center(), metre(&window));
    let to = from + vec2(1.5, -0.725) * metre;
    take(&mut window, from, to);
    window.key_press(Key::R);
    settle(&mut window);
    assert_eq!(stands(&window, 1), Some(mm(0, 2_000, 0)), "only shown");
    window.drop_at(to);
    settle(&mut window);
    // its middle is where the hand is: 2100 mm from the left and 1500 from the back
    let (x, y, turns) = stands(&window, 1).expect("it stands");
    assert!(
        (x.to_mm() - 1_875.0).abs() < 15.0 && (y.to_mm() - 900.0).abs() < 15.0 && turns == 1,
        "{x:?}, {y:?}, {turns}"
    );
    undo_by_key(&mut window);
    assert_eq!(stands(&window, 1), Some(mm(0, 2_000, 0)), "one step");
}

#[test]
fn keys_nudge_turn_and_take_off_what_is_chosen() {
    let mut window = opened(room(), said::OPEN);
    let at = on_screen(&window, 1).center();
    click(&mut window, at);
    window.key_press(Key::ArrowRight);
    window.step();
    window.key_press_modifiers(Modifiers::SHIFT, Key::ArrowUp);
    settle(&mut window);
    assert_eq!(stands(&window, 1), Some(mm(10, 1_900, 0)));
    undo_by_key(&mut window);
    assert_eq!(stands(&window, 1), Some(mm(0, 2_000, 0)), "keys one after the other are one step");
    window.key_press(Key::R);
    settle(&mut window);
    // 120 cm do not fit between there and the front wall: it moves into the room
    assert_eq!(stands(&window, 1), Some(mm(0, 1_800, 1)));
    assert_eq!(undo_label(&window), Some(EditLabel::TurnRack("Bench 2".to_owned())));
    window.key_press(Key::PageDown);
    settle(&mut window);
    window.key_press(Key::Delete);
    settle(&mut window);
    assert_eq!((stands(&window, 0), undo_label(&window)), (None, Some(EditLabel::RackOffPlan("Bench 1".to_owned()))));
}

fn click(window: &mut Window, at: Pos2) {
    window.hover_at(at);
    settle(window);
    window.drag_at(at);
    settle(window);
    window.drop_at(at);
    settle(window);
}

fn undo_by_key(window: &mut Window) {
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    settle(window);
}

#[test]
fn what_is_typed_is_kept_as_it_was_typed() {
    let mut window = opened(room(), said::OPEN);
    let at = on_screen(&window, 0).center();
    click(&mut window, at);
    field(&mut window, said::FROM_LEFT, "4 ft 1 in");
    assert_eq!(rack(&window, 0).stands.map(|stands| stands.x.typed().to_owned()).as_deref(), Some("4 ft 1 in"));
    field(&mut window, said::FROM_BACK, "600 m");
    assert_eq!(value(&window, said::FROM_BACK), "600 m");
    window.get_by_label("how far a rack is from the back wall must be from 0 mm to 500 m, found 600 m");
    field(&mut window, said::WIDTH, "5 m");
    field(&mut window, said::DEPTH, "3.5 m");
    field(&mut window, said::BARROW, "60 cm");
    let floor =
        |window: &Window| season(window).places().next().and_then(|place| place.floor.clone()).expect("a floor");
    let now = floor(&window);
    assert_eq!((now.width.typed(), now.depth.typed()), ("5 m", "3.5 m"));
    assert_eq!(now.barrow.as_ref().map(Measure::typed), Some("60 cm"));
    assert_eq!(undo_label(&window), Some(EditLabel::ChangeFloor("Room".to_owned())));
    press(&mut window, said::ADD_DOOR);
    let along = said::door_field(1, words::field(flatwright::season::FieldId::DoorAlong(1)));
    field(&mut window, &along, "4.5 m");
    window.get_by_label("a door must end within its wall of 5 m, found 4.5 m along it and 90 cm wide");
    field(&mut window, &along, "4.1 m");
    let door = Door { wall: Wall::Front, along: measure("4.1 m"), width: measure("90 cm") };
    assert_eq!(floor(&window).doors.get(1), Some(&door));
    window.get_by_label(&said::door_said(1, &door));
    press(&mut window, &said::remove_door(0));
    assert_eq!(floor(&window).doors, [door]);
    choose(&mut window, "right wall");
    assert_eq!(rack(&window, 0).stands.map(|stands| stands.faces()), Some(Wall::Right));
}

/// Nobody wrote the corner's noughts; the one that is typed stays.
#[test]
fn a_zero_that_nobody_wrote_is_shown_in_the_unit_of_the_season() {
    for (units, sign) in [(words::menu::INCHES, "0 in"), (words::menu::MILLIMETRES, "0 mm")] {
        let mut window = opened(room(), said::OPEN);
        let at = on_screen(&window, 0).center();
        press(&mut window, words::menu::VIEW);
        window.get_by_label(units).click();
        settle(&mut window);
        click(&mut window, at);
        assert_eq!([said::FROM_LEFT, said::FROM_BACK].map(|name| value(&window, name)), [sign; 2]);
        field(&mut window, said::FROM_LEFT, "0 cm");
        assert_eq!(value(&window, said::FROM_LEFT), "0 cm", "as typed");
    }
}

#[test]
fn a_way_too_narrow_is_said_and_leads_here() {
    let mut window = opened(room(), said::OPEN);
    // the second before the first leaves 40 cm, and the barrow comes round it by the right
    let at = on_screen(&window, 1).center();
    click(&mut window, at);
    field(&mut window, said::FROM_BACK, "85 cm");
    field(&mut window, said::BARROW, "50 cm");
    let sentence = "A barrow 500 mm wide doesn’t get to Bench 1: the way to it is 400 mm at the narrowest";
    window.get_by_label(sentence);
    let place = season(&window).places().next().expect("a place").id;
    press(&mut window, &words::menu::back_to(words::menu::ROOM));
    crate::go(&mut window, words::menu::WORTH_A_LOOK);
    press(&mut window, &words::fields::with_aside(sentence, words::worth_a_look::NEW));
    window.get_by_label(&floor_said(&window));
    window.get_by_role_and_label(Role::TextInput, said::FROM_LEFT);
    assert_eq!(season(&window).places().next().map(|place| place.id), Some(place));
    field(&mut window, said::BARROW, "40 cm");
    assert!(window.query_by_label(sentence).is_none());
    window.get_by_label(said::ALL_IN_ORDER);
}

#[test]
fn what_is_not_on_the_floor_yet_is_dragged_or_put_there() {
    let mut window = opened(room(), said::OPEN);
    let from = window.get_by_label(&said::drag_on("Bench 3")).rect().center();
    let room = on_screen(&window, 0);
    let metre = metre(&window);
    drag(&mut window, from, room.min + vec2(2.6, 1.5) * metre);
    let (x, y, turns) = stands(&window, 2).expect("it stands");
    assert!((x.to_mm() - 2_000.0).abs() < 20.0 && (y.to_mm() - 1_275.0).abs() < 20.0 && turns == 0, "{x:?}, {y:?}");
    undo(&mut window);
    assert_eq!(stands(&window, 2), None);
    press(&mut window, &said::put_on("Bench 3"));
    assert_eq!(stands(&window, 2), Some(mm(1_200, 0, 0)), "beside the first, at the wall");
    assert!(window.query_by_label(said::NOT_YET).is_none());
}

#[test]
fn a_floor_is_drawn_from_its_place() {
    let mut season = room();
    let place = season.places().next().expect("a place").clone();
    season.apply(&Op::PutPlace(Place { floor: None, ..place.clone() }).into()).expect("no floor");
    let mut window = opened(season, words::menu::PLACES);
    press(&mut window, &places::place_said(&place.name, place.role));
    press(&mut window, said::ITS_FLOOR);
    press(&mut window, said::DRAW);
    let of = |window: &Window| crate::hand::season(window).place(place.id).and_then(|place| place.floor.clone());
    let floor = of(&window).expect("a floor");
    assert_eq!((floor.width.typed(), floor.depth.typed(), floor.doors.len()), ("4 m", "3 m", 1));
    window.get_by_label(&floor_said(&window));
    window.get_by_label(Care::Ways.title());
    press(&mut window, said::FORGET);
    assert_eq!(of(&window), None);
}

#[test]
fn a_season_without_a_place_says_so() {
    let window = opened(Season::new("Test"), said::OPEN);
    window.get_by_label(said::NO_PLACE);
}
