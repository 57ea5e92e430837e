//! Days, shelves, trays, sowings and crops are found in sentences by the words that they are always called by, and nothing
//! else is.

use chrono::Datelike as _;
use flatwright::forecast::forecast;
use flatwright::season::{Crop, CropKey, Op, Season, Sowing};
use flatwright::store;
use flatwright::units::LengthUnit;
use flatwright::words::{Named, Words};

/// What is found, as it is written there.
fn found(sentence: &str) -> Vec<(&str, &'static str)> {
    found_in(&store::sample(), sentence)
}

fn found_in<'a>(season: &Season, sentence: &'a str) -> Vec<(&'a str, &'static str)> {
    let library = store::library();
    let forecast = forecast(season, library);
    let words = Words { season, library, forecast: &forecast, unit: LengthUnit::Inch };
    let kind = |named: Named| match named {
        Named::Day(date) => {
            assert_eq!(date.year(), 2027);
            "day"
        }
        Named::Shelf(id) => {
            assert!(sentence.contains(&words.shelf(id)), "{sentence}");
            "shelf"
        }
        Named::Tray(tray) => {
            assert!(sentence.contains(forecast.mark(tray)));
            "tray"
        }
        Named::Sowing(sowing) => {
            assert!(sentence.contains(&words.sowing(sowing)));
            "sowing"
        }
        Named::Crop(key) => {
            assert!(sentence.to_lowercase().contains(&words.crop_name(&key).to_lowercase()));
            "crop"
        }
    };
    words.named_in(sentence).into_iter().map(|(at, named)| (&sentence[at], kind(named))).collect()
}

#[test]
fn days_shelves_and_trays_are_found_by_their_words() {
    assert_eq!(found("6 trays short, 10 Apr – 2 May"), [("10 Apr", "day"), ("2 May", "day")]);
    assert_eq!(found("To 1 waits on Window rack, shelf 2"), [("To 1", "tray"), ("Window rack, shelf 2", "shelf")]);
}

#[test]
fn what_only_looks_like_one_leads_nowhere() {
    // no such day, part of another word, a month without a day, weeks and numbers of things
    assert_eq!(found("week 16 of 20, 116 Apricots, 31 Feb, 4 Mayflowers, 16 April, April"), []);
    assert_eq!(found("To 99 stands on Window rack, shelf 22"), []);
    assert_eq!(found(""), []);
    // of another year than the season's
    assert_eq!(found("20 Dec"), []);
}

#[test]
fn a_sowing_is_found_where_its_name_is_its_alone() {
    let season = store::sample();
    let forecast = forecast(&season, store::library());
    let words = Words { season: &season, library: store::library(), forecast: &forecast, unit: LengthUnit::Inch };
    let sowing = season.sowings().find(|sowing| !sowing.variety.is_empty()).expect("one with a variety");
    let name = words.sowing(sowing.id);
    // of what is no name of a sowing the crop is left
    let crop = words.crop_name(&sowing.crop);
    let all = [(name.as_str(), "sowing"), (crop.as_str(), "crop")];
    assert_eq!(found(&format!("{name} waits, and {name}s do not")), all);
}

#[test]
fn a_crop_is_found_by_its_name_and_a_sowing_called_the_same_wins() {
    // none of the sample is a kale; of its tomatoes each has a variety
    assert_eq!(found("Kale bolts, Kales and kale do not"), [("Kale", "crop")]);
    let sowing = store::sample().sowings().find(|sowing| !sowing.variety.is_empty()).cloned().expect("one");
    let season = store::sample();
    let crop = &season.crop(store::library(), &sowing.crop).expect("known").name;
    let name = flatwright::words::with_variety(crop, &sowing.variety);
    assert_eq!(found(&format!("{name}; {crop}")), [(name.as_str(), "sowing"), (crop.as_str(), "crop")]);
    // the longer of two that overlap
    assert_eq!(found("Scarlet sage, Sage"), [("Scarlet sage", "crop"), ("Sage", "crop")]);
    let mut season = store::sample();
    let plain = Sowing { variety: String::new(), ..sowing };
    season.apply(&Op::PutSowing(plain.clone()).into()).expect("a sowing without a variety");
    let crop = store::library().crops[&plain.crop].name.clone();
    let others = season.sowings().filter(|other| other.crop == plain.crop && other.variety.is_empty()).count();
    assert_eq!(found_in(&season, &crop), [(crop.as_str(), if others == 1 { "sowing" } else { "crop" })]);
}

#[test]
fn a_sentence_begins_with_a_capital_whatever_its_crop_is_called() {
    let mut season = store::sample();
    let kale = &store::library().crops[&CropKey::new("kale")];
    let own = Crop { key: CropKey::new("own"), name: "épinard d’hiver".to_owned(), ..kale.clone() };
    season.apply(&Op::PutCrop(Box::new(own)).into()).expect("a crop of one's own");
    let sentence = "Épinard d’hiver waits, Épinard d’hiver too, and épinard d’hiver";
    assert_eq!(found_in(&season, sentence), [("Épinard d’hiver", "crop"), ("épinard d’hiver", "crop")]);
}

/// A crop's name inside a place's is the place's, and one that both have leads nowhere.
#[test]
fn a_place_or_rack_that_is_called_like_a_crop_is_no_crop() {
    let mut season = store::sample();
    let mut place = season.places().next().cloned().expect("a place");
    place.name = "Kale house".to_owned();
    season.apply(&Op::PutPlace(place.clone()).into()).expect("a name");
    assert_eq!(found_in(&season, "Nothing is warm in Kale house; Kale bolts"), [("Kale", "crop")]);
    place.name = "Kale".to_owned();
    season.apply(&Op::PutPlace(place).into()).expect("a name");
    assert_eq!(found_in(&season, "Nothing is warm in Kale"), []);
    assert_eq!(found_in(&store::sample(), "Nothing is warm in Kale"), [("Kale", "crop")]);
}
