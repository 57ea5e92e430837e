//! A season as it might go, beside the plan.
//!
//! A shelf for six flats: four from 3 March until the frame takes them, four more from 21 April. The frame takes them
//! at night three days after they go outside, a week before they are planted out.

use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::forecast::{Problem, What};
use flatwright::outlook::{Effort, Keep, Otherwise, Verdict, look_ahead, otherwise, what_if_edit};
use flatwright::season::{
    Crop, CropKey, Frost, Library, Op, OutRule, Place, PlaceId, Role, Shift, Shifting, SowingId, Wanted, WhatIf,
};
use flatwright::units::DateSpan;

use crate::support::{Grower, day, seedling, shelf, stage};

fn grower() -> (Grower, [SowingId; 2], PlaceId) {
    let mut grower = Grower::growing(1, &shelf("66 x 22 in"));
    let frame = grower.place(Role::Hardening);
    grower.rack(frame, 1, &shelf("96 x 22 in"));
    let early = Crop { family: "brassica".to_owned(), ..seedling() };
    let late = Crop { key: CropKey::new("late"), family: "herb".to_owned(), ..seedling() };
    grower.edit(&Op::PutCrop(Box::new(early)).into());
    grower.edit(&Op::PutCrop(Box::new(late.clone())).into());
    let first = grower.sow(200, &[stage("sheet of 50", "2025-03-03")], "2025-04-21");
    let second = grower.sow(200, &[stage("sheet of 50", "2025-04-21")], "2025-06-09");
    grower.change(second, |sowing| sowing.crop = late.key.clone());
    (grower, [first, second], frame)
}

fn shift(what: Shifting, days: i16) -> WhatIf {
    WhatIf { name: "so".to_owned(), shifts: vec![Shift { what, days }] }
}

#[track_caller]
fn held(grower: &Grower, what_if: &WhatIf) -> Otherwise {
    let library = Library::default();
    let forecast = grower.forecast();
    let (progress, cancel) = (Progress::default(), Cancel::default());
    let mut memory = Memory::default();
    let ahead = look_ahead(&grower.season, &forecast, Keep::Pinned, Effort::default(), &mut memory, &progress, &cancel);
    let outlook = ahead.unwrap_or_else(|_| panic!("nobody cancelled it"));
    let then = otherwise((&grower.season, &library, None), (&forecast, &outlook), what_if, &mut memory, &cancel);
    then.unwrap_or_else(|_| panic!("nobody cancelled it")).unwrap_or_else(|| panic!("the season takes it"))
}

#[test]
fn as_planned_it_fits_and_three_weeks_later_it_does_not() {
    let (grower, ..) = grower();
    assert_eq!(held(&grower, &WhatIf::default()).outlook.verdict, Verdict::Fits);
    // out on 12 May, at night from 8 May: four and four from 21 April to then
    let then = held(&grower, &shift(Shifting::Out(Some("brassica".to_owned())), 21));
    let crunches: Vec<_> = then.outlook.crunches.iter().map(|crunch| (crunch.span, crunch.short)).collect();
    let span = DateSpan::new(day("2025-04-21"), day("2025-05-08")).unwrap_or_else(|why| panic!("{why}"));
    assert_eq!(crunches, [(span, 2)]);
    // herbs alone are no trouble
    assert_eq!(held(&grower, &shift(Shifting::Out(Some("herb".to_owned())), 21)).outlook.verdict, Verdict::Fits);
}

#[test]
fn sown_three_weeks_sooner_they_meet_too() {
    let (grower, ..) = grower();
    let then = held(&grower, &shift(Shifting::Sowing(Some("herb".to_owned())), -21));
    let crunches: Vec<_> = then.outlook.crunches.iter().map(|crunch| (crunch.span.from(), crunch.short)).collect();
    assert_eq!(crunches, [(day("2025-03-31"), 2)]);
}

#[test]
fn a_frame_that_opens_later_keeps_them_indoors() {
    let (mut grower, [first, _], frame) = grower();
    let Some(place) = grower.season.place(frame).cloned() else { panic!("a frame") };
    let open = DateSpan::new(day("2025-04-01"), day("2025-07-01")).unwrap_or_else(|why| panic!("{why}"));
    grower.edit(&Op::PutPlace(Place { open: vec![open], ..place }).into());
    assert_eq!(held(&grower, &WhatIf::default()).outlook.verdict, Verdict::Fits);
    // the first of them go out before it opens
    let then = held(&grower, &shift(Shifting::Place(frame), 28));
    let is_told = |problem: &Problem| matches!(problem, Problem::NotReady { sowing, .. } if *sowing == first);
    assert!(then.broken.iter().any(is_told), "not hardened off: {:?}", then.broken);
}

#[test]
fn what_follows_the_frost_goes_with_it_and_a_day_that_is_set_does_not() {
    let (mut grower, [first, second], _) = grower();
    grower.settings(|settings| settings.frost = Some(Frost::on(day("2025-04-14"))));
    grower.change(first, |sowing| {
        let rule = OutRule::Frost { days: 7, waits: false };
        sowing.wanted = vec![Wanted { rule, ..sowing.wanted[0] }];
    });
    let edit = what_if_edit(&grower.season, &Library::default(), &shift(Shifting::LastFrost, 10), None);
    let edit = edit.unwrap_or_else(|why| panic!("{why:?}"));
    let mut then = grower.season.clone();
    then.apply(&edit).unwrap_or_else(|why| panic!("{why:?}"));
    let out = |id: SowingId| then.sowing(id).and_then(flatwright::season::Sowing::out);
    assert_eq!([out(first), out(second)], [Some(day("2025-05-01")), Some(day("2025-06-09"))]);
    assert_eq!(then.settings().frost.as_ref().map(|frost| frost.date), Some(day("2025-04-24")));
}

#[test]
fn it_is_what_the_edit_by_hand_would_be() {
    let (grower, ..) = grower();
    let what_if = shift(Shifting::Out(None), 14);
    let then = held(&grower, &what_if);
    let mut by_hand = grower.clone();
    let edit =
        what_if_edit(&grower.season, &Library::default(), &what_if, None).unwrap_or_else(|why| panic!("{why:?}"));
    by_hand.edit(&edit);
    let looked = by_hand.look();
    assert_eq!(looked.outlook.verdict, then.outlook.verdict);
    assert_eq!(looked.outlook.crunches, then.outlook.crunches);
}

/// Sown sooner they would have to be sown before today: they stay as planned, and others are moved.
#[test]
fn nothing_is_moved_to_a_day_that_is_past() {
    let (grower, [first, second], _) = grower();
    let forecast = grower.forecast();
    let sown = |id: SowingId| forecast.courses_of(id).find_map(|course| course.date(What::Sown)).expect("a day");
    let (what_if, library) = (shift(Shifting::Sowing(None), -5), Library::default());
    let moved = |today| {
        let edit = what_if_edit(&grower.season, &library, &what_if, today).unwrap_or_else(|why| panic!("{why:?}"));
        edit.ops.iter().filter(|op| matches!(op, Op::PutSowing(put) if [first, second].contains(&put.id))).count()
    };
    let (soon, late) = (sown(first).min(sown(second)), sown(first).max(sown(second)));
    assert_eq!(moved(None), 2);
    assert_eq!(moved(Some(soon)), usize::from(soon != late));
    assert_eq!(moved(Some(late)), 0);
}
