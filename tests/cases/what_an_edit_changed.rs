//! What an edit changed is named, shortly, and all of it where somebody looks.

use flatwright::forecast::{Moved, Problem, What, forecast};
use flatwright::outlook::{Changed, RoomLeft, WeekChanged};
use flatwright::season::TrayKey;
use flatwright::store;
use flatwright::units::{LengthUnit, shifted};
use flatwright::words::Words;

use crate::support::day;

#[test]
fn the_first_thing_and_two_works_are_named_and_the_others_counted() {
    let (season, library) = (store::sample(), store::library());
    let forecast = forecast(&season, library);
    let words = Words { season: &season, library, forecast: &forecast, unit: LengthUnit::Inch };
    let sowings: Vec<_> = season.sowings().map(|sowing| sowing.id).take(5).collect();
    let moved = |(at, sowing): (usize, &_)| {
        let lot = season.sowing(*sowing).expect("it").lots[0].id;
        let from = shifted(day("2027-04-12"), i64::try_from(at).expect("few"));
        Moved { sowing: *sowing, lot, what: What::Spaced, from, to: shifted(from, if at == 0 { -1 } else { 3 }) }
    };
    let trays: Vec<TrayKey> = forecast.marks.keys().copied().take(2).collect();
    let shelf = season
        .racks()
        .iter()
        .find_map(|rack| season.shelves_of(rack.id).first().map(|shelf| shelf.id))
        .expect("a shelf");
    let clash = Problem::Clash { one: trays[0], other: trays[1], shelf, day: day("2027-04-04"), pinned: false };
    let fits = RoomLeft::Fits { spare: Some(3) };
    let changed = |moved: Vec<Moved>, others: Vec<Problem>| Changed {
        before: fits,
        after: fits,
        weeks: Vec::<WeekChanged>::new(),
        moved,
        to_see_to: Vec::new(),
        others,
    };
    let moved: Vec<Moved> = sowings.iter().enumerate().map(moved).collect();
    let (first, second) = (words.which(sowings[0]), words.which(sowings[1]));
    let told = words.changed(None, &changed(moved.clone(), Vec::new()));
    let two = format!("{first} spaced out 1 day earlier, 11 Apr; {second} 3 days later, 16 Apr");
    assert_eq!(told.short, format!("It still fits. {two}, and 3 more"));
    assert!(told.whole.contains(&format!("{} 3 days later, 19 Apr", words.which(sowings[4]))), "{}", told.whole);
    let named = words.problem(&clash);
    assert!(named.contains("stand in the same place"), "{named}");
    let told = words.changed(None, &changed(moved, vec![clash, Problem::NoShelves, Problem::NothingSown]));
    assert!(told.short.starts_with(&format!("It still fits. {named}, and 2 more")), "{}", told.short);
    let number = told.short.split_whitespace().count();
    assert!(number <= 30, "{number} words: {}", told.short);
    assert!(told.whole.contains(&words.problem(&Problem::NothingSown)), "{}", told.whole);
}
