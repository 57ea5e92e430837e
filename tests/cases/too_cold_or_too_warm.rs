//! Plants where it is too cold, too warm, or chilled for too long; seed in a mix that it does not come up in.
//!
//! Sown on Monday 3 March 2025, up on the 7th, out on 21 April, unless a test says otherwise. The crops are
//! invented: each is the plain seedling with one figure of its own.

use chrono::NaiveDate;
use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::forecast::{Phase, Problem, What};
use flatwright::outlook::{
    Effort, Keep, Obstacle, Reason, Standing, Verdict, layout_problems, look_ahead, problems, spot_of, standing,
};
use flatwright::season::{
    Chill, Crop, GerminationTemperatures, Hardening, Hardiness, Library, MovingOn, Op, PartOfDay, Place, PlaceId, Role,
    Rule, Shelf, ShelfId, Sourced, SowingId, Spot, SpotFrom, Temperatures, ThermalTime, TrayKey,
};
use flatwright::trade::Harm;
use flatwright::units::{DateSpan, Length, LengthUnit, Temperature, Typed};
use flatwright::words::{Words, problem_kind};

use crate::support::{Grower, Looked, date_of, day, out_on, seedling, shelf, stage};

const SOWN: &str = "2025-03-03";
const UP: &str = "2025-03-07";
const OUT: &str = "2025-04-21";

#[track_caller]
fn at(celsius: f64) -> Temperature {
    Temperature::try_from_celsius(celsius).expect("a temperature")
}

#[track_caller]
fn typed(celsius: i32) -> Typed<Temperature> {
    Typed::parse_temperature(&format!("{celsius} °C")).expect("a temperature")
}

#[track_caller]
fn grower(crop: Crop) -> Grower {
    let mut grower = Grower::new();
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
    grower
}

/// Comes in below 10 °C.
fn tender() -> Crop {
    Crop { come_in: Sourced::own(typed(10)), ..seedling() }
}

/// So warm by day and by night, with one shelf for four sheets.
#[track_caller]
fn place(grower: &mut Grower, name: &str, role: Role, (by_day, by_night): (i32, i32)) -> (PlaceId, ShelfId) {
    let id = grower.place(role);
    let temperatures = Temperatures { day: Some(typed(by_day)), night: Some(typed(by_night)), mat: None };
    let found = grower.season.place(id).cloned().expect("it was made");
    grower.edit(&Op::PutPlace(Place { name: name.to_owned(), temperatures, ..found }).into());
    (id, grower.rack(id, 1, &shelf("48 x 24 in"))[0])
}

/// Two sheets of 72.
#[track_caller]
fn two_sheets(grower: &mut Grower) -> SowingId {
    grower.sow(144, &[stage("sheet of 72", SOWN)], OUT)
}

#[track_caller]
fn sheet(grower: &Grower, sowing: SowingId, n: u32) -> TrayKey {
    let sowing = grower.season.sowing(sowing).expect("it was sown");
    TrayKey::Own { lot: sowing.lots[0].id, step: sowing.steps[0].id, n }
}

fn spot(tray: TrayKey, shelf: ShelfId) -> Spot {
    Spot {
        tray,
        from: SpotFrom::Start,
        until: None,
        shelf,
        x: Length::ZERO,
        y: Length::ZERO,
        quarter_turns: 0,
        pinned: false,
    }
}

/// Every stay past coming up stands on that shelf.
#[track_caller]
fn grow_on(looked: &Looked, shelf: ShelfId) {
    for stay in looked.forecast.stays.iter().filter(|stay| stay.phase == Phase::Plugs) {
        let found = spot_of(&looked.season, stay, stay.span.from()).map(|spot| spot.shelf);
        assert_eq!(found, Some(shelf), "{:?} from {}", stay.trays, stay.span.from());
    }
}

const OF_WARMTH: [&str; 6] =
    ["too_cold_to_harden", "bolts", "too_warm", "no_place_bears", "harmed_there", "wont_come_up"];

/// All that is said of its warmth, and why days are too full.
#[track_caller]
fn said(grower: &Grower) -> Vec<String> {
    let (forecast, library) = (grower.forecast(), Library::default());
    let work = (&mut Memory::default(), &Progress::default(), &Cancel::default());
    let outlook = look_ahead(&grower.season, &forecast, Keep::Pinned, Effort::default(), work.0, work.1, work.2);
    let outlook = outlook.unwrap_or_else(|_| panic!("nobody cancelled it"));
    let words = Words { season: &grower.season, library: &library, forecast: &forecast, unit: LengthUnit::Millimetre };
    let crunches = outlook.crunches.iter().map(|crunch| words.reason(crunch));
    let problems = problems(&grower.season, &forecast, Some(&outlook));
    let of_warmth = problems.iter().filter(|problem| OF_WARMTH.contains(&problem_kind(problem)));
    of_warmth.map(|problem| words.problem(problem)).chain(crunches).collect()
}

/// The tunnel stands first, and would hold them all.
#[test]
fn peppers_stand_on_the_rack_and_not_in_a_tunnel_with_nights_of_1_degree() {
    let mut grower = grower(tender());
    let (_, tunnel) = place(&mut grower, "Tunnel", Role::Growing, (18, 1));
    let (_, rack) = place(&mut grower, "Room", Role::Growing, (21, 17));
    let sowing = two_sheets(&mut grower);
    let looked = grower.look().fits();
    grow_on(&looked, rack);
    assert_eq!(said(&grower), Vec::<String>::new());
    let refused = standing(&grower.season, &looked.forecast, &spot(sheet(&grower, sowing, 1), tunnel), day(UP));
    let harm = Harm::TooCold { at: at(1.0), least: at(10.0) };
    assert_eq!(refused, Standing::Refused(Obstacle::Harms(harm)));
}

#[test]
fn a_tray_that_was_put_into_the_cold_tunnel_is_said_from_the_day_it_is_up() {
    let mut grower = grower(tender());
    let (_, tunnel) = place(&mut grower, "Tunnel", Role::Growing, (18, 1));
    place(&mut grower, "Room", Role::Growing, (21, 17));
    let sowing = two_sheets(&mut grower);
    let tray = sheet(&grower, sowing, 1);
    grower.edit(&Op::PutSpot(spot(tray, tunnel)).into());
    let harm = Harm::TooCold { at: at(1.0), least: at(10.0) };
    let found = layout_problems(&grower.season, &grower.forecast());
    assert_eq!(found, [Problem::HarmedThere { tray, shelf: tunnel, day: day(UP), harm }]);
    let sentence = "Se 1 (seedling) stands too cold on rack from 7 Mar: 1 °C there, and it comes in below 10 °C; move \
                    it to a warmer place";
    assert_eq!(said(&grower), [sentence]);
}

#[test]
fn with_nights_of_6_degrees_and_no_other_place_nothing_fits_and_that_is_proven() {
    let mut grower = grower(tender());
    place(&mut grower, "Tunnel", Role::Growing, (18, 6));
    two_sheets(&mut grower);
    let looked = grower.look();
    let crunch = looked.crunch(2, 0, 2);
    assert_eq!((crunch.span.from(), crunch.span.until()), (day(UP), day(OUT)));
    assert!(matches!(crunch.reason, Reason::Warmth { .. }), "{:?}", crunch.reason);
    assert_eq!(
        said(&grower),
        [
            "No place is warm enough for Se 1 (seedling) and 1 other 7 Mar – 20 Apr; Tunnel has 6 °C there, and it comes \
             in below 10 °C: heat it, find a warmer place or start later",
            "2 trays on 7 Mar have no place of the right warmth: Tunnel comes nearest to what they bear, and harms them",
        ]
    );
}

#[test]
fn as_cold_as_it_bears_is_no_harm() {
    let mut grower = grower(tender());
    place(&mut grower, "Tunnel", Role::Growing, (18, 10));
    two_sheets(&mut grower);
    grower.look().fits();
}

/// Where nobody says how warm it is, nobody says that it is too cold.
#[test]
fn a_place_without_figures_harms_nothing() {
    let mut grower = grower(tender());
    let place = grower.place(Role::Growing);
    grower.rack(place, 1, &shelf("48 x 24 in"));
    two_sheets(&mut grower);
    grower.look().fits();
}

#[test]
fn the_warm_rack_shut_for_nine_days_leaves_the_cold_tunnel_and_a_crunch_of_nine_days() {
    let mut grower = grower(tender());
    place(&mut grower, "Tunnel", Role::Growing, (18, 1));
    let (_, rack) = place(&mut grower, "Room", Role::Growing, (21, 17));
    let shut = DateSpan::new(day("2025-04-01"), day("2025-04-10")).expect("nine days");
    let open = grower.season.shelf(rack).cloned().expect("it was made");
    grower.edit(&Op::PutShelf(Shelf { closed: vec![shut], ..open }).into());
    two_sheets(&mut grower);
    let looked = grower.look();
    assert_eq!(looked.crunch(2, 0, 2).span, shut);
}

/// Four leaves at 40 °C·d each above 10 °C: 16 days at 20 °C, 40 at 14 °C.
fn grows_by_warmth() -> Crop {
    let warmth = ThermalTime { base: at(10.0), degree_days: 40.0, low: at(12.0), high: at(30.0) };
    let moving_on = MovingOn { true_leaves: Some(4), ..seedling().moving_on.value };
    Crop { leaf_warmth: Some(Sourced::own(warmth)), moving_on: Sourced::own(moving_on), ..seedling() }
}

#[track_caller]
fn moves_on_when_due(grower: &mut Grower) -> SowingId {
    let steps = [("sheet of 72", Rule::On(day(SOWN))), ("sheet of 38", Rule::WhenDue)];
    grower.sow_by(72, &steps, out_on("2025-06-01"))
}

/// Up on 7 March, and 16 days more; the greenhouse comes first in the file.
#[test]
fn a_cold_greenhouse_does_not_slow_what_stands_on_the_rack() {
    let mut grower = grower(grows_by_warmth());
    place(&mut grower, "Greenhouse", Role::Growing, (14, 14));
    let (_, rack) = place(&mut grower, "Room", Role::Growing, (20, 20));
    let sowing = moves_on_when_due(&mut grower);
    assert_eq!(date_of(&grower.forecast(), sowing, What::Due), day("2025-03-23"));
    grow_on(&grower.look().fits(), rack);
}

/// Up on 7 March, and 40 days more.
#[test]
fn what_stands_in_the_cold_greenhouse_grows_as_slowly_as_that() {
    let mut grower = grower(grows_by_warmth());
    let (_, greenhouse) = place(&mut grower, "Greenhouse", Role::Growing, (14, 14));
    place(&mut grower, "Room", Role::Growing, (20, 20));
    let sowing = moves_on_when_due(&mut grower);
    grower.edit(&Op::PutSpot(spot(sheet(&grower, sowing, 1), greenhouse)).into());
    assert_eq!(date_of(&grower.forecast(), sowing, What::Due), day("2025-04-16"));
}

/// A house that would harm it is none for its clock either: its mean of (16 × 30 + 8 × 2) ∕ 24 = 20.7 °C is the
/// warmest.
#[test]
fn a_house_with_cold_nights_is_none_to_reckon_with() {
    let mut grower = grower(Crop { come_in: Sourced::own(typed(10)), ..grows_by_warmth() });
    place(&mut grower, "Tunnel", Role::Growing, (30, 2));
    place(&mut grower, "Room", Role::Growing, (20, 20));
    let sowing = moves_on_when_due(&mut grower);
    assert_eq!(date_of(&grower.forecast(), sowing, What::Due), day("2025-03-23"));
}

/// Comes up by 65 °C·d above 5 °C, up to 24 °C: 5 days at 18 °C.
fn cool_seed() -> Crop {
    let warmth = ThermalTime { base: at(5.0), degree_days: 65.0, low: at(6.0), high: at(30.0) };
    let limits = GerminationTemperatures { min: Some(at(5.0)), best_low: None, best_high: None, max: Some(at(24.0)) };
    Crop {
        emergence_warmth: Some(Sourced::own(warmth)),
        germination_temperatures: Some(Sourced::own(limits)),
        ..seedling()
    }
}

#[test]
fn seed_that_a_chamber_is_too_warm_for_comes_up_in_the_room() {
    let mut grower = grower(cool_seed());
    let (_, chamber) = place(&mut grower, "Chamber", Role::Germinating, (28, 28));
    let (_, room) = place(&mut grower, "Room", Role::Growing, (18, 18));
    let sowing = two_sheets(&mut grower);
    let looked = grower.look().fits();
    assert_eq!(date_of(&looked.forecast, sowing, What::Up), day("2025-03-08"));
    let seed = looked.forecast.stays.iter().find(|stay| stay.phase == Phase::Germinating).expect("it was sown");
    assert_eq!(spot_of(&looked.season, seed, day(SOWN)).map(|spot| spot.shelf), Some(room));
    assert_eq!(said(&grower), Vec::<String>::new());
    grower.edit(&Op::PutSpot(spot(sheet(&grower, sowing, 1), chamber)).into());
    let sentence = "Se 1 (seedling) stands too warm on rack from 3 Mar: a mix of 28 °C there, and its seed bears 24 °C \
                    at most; move it to a cooler place";
    assert!(said(&grower).contains(&sentence.to_owned()), "{:?}", said(&grower));
}

/// It stands somewhere, and does not come up: that is said, and the shelves have room.
#[test]
fn seed_that_every_place_is_too_warm_for_is_said_not_to_come_up() {
    let mut grower = grower(cool_seed());
    place(&mut grower, "Chamber", Role::Germinating, (28, 28));
    place(&mut grower, "Room", Role::Growing, (26, 26));
    let sowing = two_sheets(&mut grower);
    let looked = grower.look().fits();
    let told = Problem::WontComeUp { sowing, at: at(28.0), limit: Some(at(24.0)) };
    assert!(looked.forecast.problems.contains(&told), "{:?}", looked.forecast.problems);
}

/// Seven days of hardening, the nights out from the third on: 14 and 17 April.
#[track_caller]
fn hardened(frame: (i32, i32)) -> (Grower, SowingId) {
    let mut grower = grower(tender());
    place(&mut grower, "Room", Role::Growing, (21, 17));
    place(&mut grower, "Frame", Role::Hardening, frame);
    let sowing = two_sheets(&mut grower);
    (grower, sowing)
}

/// The parts of the day for which it is outside, with the first day of each.
fn outside(looked: &Looked) -> Vec<(PartOfDay, NaiveDate)> {
    let mut parts: Vec<_> = looked
        .forecast
        .stays
        .iter()
        .filter(|stay| stay.phase == Phase::Hardening)
        .map(|stay| (stay.part, stay.span.from()))
        .collect();
    parts.sort_unstable();
    parts.dedup();
    parts
}

#[test]
fn a_frame_that_is_warm_enough_takes_them_for_the_nights() {
    let looked = hardened((15, 10)).0.look().fits();
    assert_eq!(outside(&looked), [(PartOfDay::Whole, day("2025-04-17")), (PartOfDay::Days, day("2025-04-14"))]);
}

#[test]
fn a_frame_with_nights_of_minus_6_hardens_by_day_and_the_nights_are_spent_indoors() {
    let (grower, sowing) = hardened((15, -6));
    let looked = grower.look().fits();
    assert_eq!(outside(&looked), [(PartOfDay::Days, day("2025-04-14"))]);
    let indoors = looked.forecast.stays.iter().filter(|stay| stay.phase == Phase::Plugs).map(|stay| stay.span.until());
    assert_eq!(indoors.max(), Some(day(OUT)));
    assert_eq!(looked.event(sowing, What::FirstNightOut), None);
    let sentence = "seedling: Frame has -6 °C at night, and it comes in below 10 °C: it hardens off there by day alone \
                    and keeps its spot indoors for the nights, from 17 Apr until it goes out";
    assert_eq!(said(&grower), [sentence]);
}

#[test]
fn a_frame_that_is_too_cold_even_by_day_is_none_to_harden_off_in() {
    let (grower, _) = hardened((3, -6));
    assert_eq!(outside(&grower.look().fits()), []);
    let sentence =
        "seedling: Frame is too cold to harden it off from 14 Apr, even by day: it comes in below 10 °C".to_owned();
    assert!(said(&grower).contains(&sentence), "{:?}", said(&grower));
}

/// Bolts after 10 days below 13 °C; hardens off for 14 days, the nights out from the second on.
#[track_caller]
fn bolting(hardening: u16) -> (Grower, SowingId, PlaceId) {
    let chill = Chill { below: at(13.0), days: 10, words: "when young".to_owned() };
    let hardening = Hardening { days: hardening, first_night_after: 2 };
    let mut grower =
        grower(Crop { bolts: Some(Sourced::own(chill)), hardening: Sourced::own(hardening), ..seedling() });
    place(&mut grower, "Room", Role::Growing, (21, 17));
    let (frame, _) = place(&mut grower, "Frame", Role::Hardening, (12, 4));
    let sowing = two_sheets(&mut grower);
    (grower, sowing, frame)
}

/// Out by day from 7 April: a mean of (16 × 12 + 8 × 17) ∕ 24 = 13.7 °C, which is warm enough. From the 9th by night
/// as well: (16 × 12 + 8 × 4) ∕ 24 = 9.3 °C, on 12 days until 21 April, and the 10th of them is the 18th.
#[test]
fn twelve_nights_in_a_cold_frame_make_it_bolt_on_the_tenth() {
    let (grower, sowing, place) = bolting(14);
    let told = Problem::Bolts { sowing, place, from: day("2025-04-09"), days: 12, reached: day("2025-04-18") };
    assert!(grower.forecast().problems.contains(&told), "{:?}", grower.forecast().problems);
    let sentence = "seedling: 12 days with a mean below 13 °C from 9 Apr on, in Frame; 10 make it bolt, by 18 Apr (when \
                    young): keep it warmer, and harden it off by less water";
    assert_eq!(said(&grower), [sentence]);
}

/// From 10 April by day, from the 12th by night: 9 days.
#[test]
fn nine_nights_do_not() {
    assert_eq!(said(&bolting(11).0), Vec::<String>::new());
}

#[test]
fn a_house_of_38_degrees_by_day_is_said_to_be_too_warm_for_what_has_no_other() {
    let mut grower = grower(Crop { hardiness: Hardiness::Hardy, ..seedling() });
    let (house, _) = place(&mut grower, "House", Role::Growing, (38, 20));
    let sowing = two_sheets(&mut grower);
    // 7 March – 20 April: 25 + 20 days
    let told = Problem::TooWarm { sowing, place: house, from: day(UP), days: 45 };
    let looked = grower.look().fits();
    assert!(looked.forecast.problems.contains(&told), "{:?}", looked.forecast.problems);
    assert_eq!(
        said(&grower),
        ["seedling: 45 days at 38 °C by day in House, from 7 Mar on, and above 30 °C it stops growing well: air or \
          shade the place, or stand it elsewhere"]
    );
    let (_, room) = place(&mut grower, "Room", Role::Growing, (20, 17));
    grow_on(&grower.look().fits(), room);
    assert_eq!(said(&grower), Vec::<String>::new());
}

#[test]
fn plants_of_others_bear_what_their_grower_says_of_nothing() {
    let mut grower = grower(tender());
    place(&mut grower, "Tunnel", Role::Growing, (18, 1));
    grower.guests(2, "10.94 x 21.44 in", SOWN, OUT);
    assert_eq!(grower.look().fits().outlook.verdict, Verdict::Fits);
}
