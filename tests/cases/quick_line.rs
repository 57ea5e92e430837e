//! What to grow in one line, and the containers it usually goes through.

use chrono::NaiveDate;
use flatwright::season::{Crop, CropKey, Frost, FrostChance};
use flatwright::store;
use flatwright::trade::{QuickLine, QuickLineError, chain_for, out_after_frost};
use flatwright::units::{DateError, Temperature, Typed};

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date of a test")
}

fn read(line: &str) -> Result<QuickLine, QuickLineError> {
    QuickLine::read(line, store::library().crops.values(), date("2027-01-10"), None)
}

#[track_caller]
fn check(line: &str, plants: u32, crop: &str, variety: &str, out: &str, sow: Option<&str>) {
    let wanted = QuickLine {
        plants,
        crop: CropKey::new(crop),
        variety: variety.into(),
        out: date(out),
        by_frost: false,
        to_sell: false,
        sow: sow.map(date),
    };
    assert_eq!(read(line), Ok(wanted), "{line}");
}

#[test]
fn lines_are_read_as_growers_write_them() {
    check("72 tomato, out 16 May", 72, "tomato", "", "2027-05-16", None);
    check("72 tomatoes out on 16 May", 72, "tomato", "", "2027-05-16", None);
    check("72 Tomatoes out May 16th", 72, "tomato", "", "2027-05-16", None);
    check("72 TOMATO 'Early Red' out 16 May 2028", 72, "tomato", "Early Red", "2028-05-16", None);
    check("72 tomato ‘Farmer’s Red’, out 2027-05-16", 72, "tomato", "Farmer’s Red", "2027-05-16", None);
    check("72 tomato Early Red, out 16 May", 72, "tomato", "Early Red", "2027-05-16", None);
    check("1,200 onions, sow 7 Feb, out 12 Apr", 1200, "onion", "", "2027-04-12", Some("2027-02-07"));
    check("200 onion, out 5 Jan, sow 7 Nov", 200, "onion", "", "2028-01-05", Some("2027-11-07"));
    check("12 x pak choi by 1 April", 12, "pak_choi", "", "2027-04-01", None);
    check("5 coriander, out 1 Jun", 5, "cilantro", "", "2027-06-01", None);
    check("5 zucchini out 1 Jun", 5, "summer_squash", "", "2027-06-01", None);
    check("40 brocc out 1 Apr", 40, "broccoli", "", "2027-04-01", None);
    check("40 beans out 1 Jun", 40, "snap_bean", "", "2027-06-01", None);
}

#[test]
fn what_was_not_understood_is_named() {
    for (line, said) in [
        ("", "nothing is written here"),
        ("tomato, out 16 May", "found “tomato” where the number of plants goes"),
        ("2.5 tomato, out 16 May", "found “2.5” where the number of plants goes"),
        ("-4 tomato", "found “-4” where the number of plants goes"),
        ("0 tomato, out 16 May", "found 0 plants; it must be from 1 to 1000000"),
        ("99999999999 tomato, out 16 May", "found 99999999999 plants; it must be from 1 to 1000000"),
        ("72", "which crop?"),
        ("72, out 16 May", "which crop?"),
        ("72 tomatto, out 16 May", "no crop “tomatto”; did you mean tomato?"),
        ("72 qqqq, out 16 May", "no crop “qqqq”"),
        ("72 squash, out 16 May", "“squash” may be summer squash / zucchini, winter squash"),
        ("72 tomato", "out when? Add a day, such as “, out 16 May”, or give the season its last frost"),
        ("72 tomato 'Early Red, out 16 May", "the variety has no closing quotation mark"),
        ("72 tomato, out 1 May, out 2 May", "“out” stands here twice"),
        ("72 tomato, sow 1 Jun 2027, out 16 May 2027", "sown 2027-06-01, it can't be out 2027-05-16"),
    ] {
        assert_eq!(read(line).map_err(|why| why.to_string()), Err(said.to_owned()), "{line}");
    }
    let year = |line| read(line).expect_err("a year out of range");
    assert_eq!(year("72 tomato, out 1 May 1900"), QuickLineError::Date { word: "out", why: DateError::Year(1900) });
}

fn chain(crop: &str) -> Vec<String> {
    let library = store::library();
    let crop: &Crop = &library.crops[&CropKey::new(crop)];
    chain_for(crop, library).iter().map(|step| step.container.to_string()).collect()
}

#[test]
fn crops_go_through_their_usual_containers() {
    assert_eq!(chain("tomato"), ["plug_72", "sq_4_18ct"]);
    assert_eq!(chain("marigold"), ["plug_72", "sq_3"]);
    assert_eq!(chain("basil"), ["plug_72", "sq_3"]);
    assert_eq!(chain("leek"), ["plug_128"]);
    assert_eq!(chain("lettuce"), ["plug_128"]);
    assert_eq!(chain("celery"), ["plug_200", "sq_4_18ct"]);
    assert_eq!(chain("cucumber"), ["sq_4_18ct"]);
    assert_eq!(chain("dill"), ["sq_3"]);
}

#[test]
fn every_crop_has_a_usual_chain_whose_pots_hold_enough() {
    let library = store::library();
    for crop in library.crops.values() {
        let chain = chain_for(crop, library);
        assert!(!chain.is_empty(), "{}", crop.key);
        let volumes: Vec<_> = chain
            .iter()
            .map(|step| flatwright::trade::cell_volume(&library.containers[&step.container]).expect("it has a volume"))
            .collect();
        for pair in volumes.windows(2) {
            assert!(flatwright::trade::holds_enough(pair[0], pair[1]), "{}: {volumes:?}", crop.key);
        }
    }
}

#[test]
fn without_a_day_it_goes_out_by_the_last_frost() {
    let out = |line: &str| {
        let frost = Frost::on(date("2027-05-09"));
        QuickLine::read(line, store::library().crops.values(), date("2027-01-10"), Some(&frost))
            .map(|read| (read.out, read.by_frost))
    };
    // the library's windows, in weeks: tomato 0 to 2, eggplant 2 to 3, broccoli -4 to -2, spinach -6 to -3
    assert_eq!(out("72 tomato"), Ok((date("2027-05-16"), true)));
    assert_eq!(out("72 eggplant"), Ok((date("2027-05-30"), true)));
    assert_eq!(out("72 broccoli, sow 1 Mar"), Ok((date("2027-04-18"), true)));
    assert_eq!(out("72 spinach"), Ok((date("2027-04-11"), true)));
    assert_eq!(out("72 spinach, out 1 Apr"), Ok((date("2027-04-01"), false)), "the line counts before the frost");
}

#[test]
fn a_frost_at_the_end_of_the_calendar_gives_no_day() {
    let tomato = store::library().crops.values().find(|crop| crop.key == CropKey::new("tomato")).expect("a crop");
    assert_eq!(out_after_frost(tomato, &Frost::on(NaiveDate::MAX)), None);
    let unknown = Crop { planting_out_after_frost: None, ..tomato.clone() };
    assert_eq!(out_after_frost(&unknown, &Frost::on(date("2027-05-09"))), None);
}

#[test]
fn a_tender_crop_waits_for_the_later_of_its_weeks_and_the_risk_chosen() {
    let library = store::library();
    let chance = |later_in_ten, day: &str| FrostChance {
        temperature: Typed::<Temperature>::freezing(),
        later_in_ten,
        date: date(day),
    };
    let with = |day: &str| Frost {
        later_in_ten: 1,
        table: vec![chance(5, "2027-05-09"), chance(1, day)],
        ..Frost::on(date(day))
    };
    let out = |key: &str, frost: &Frost| out_after_frost(&library.crops[&CropKey::new(key)], frost);
    // one week after 9 May is 16 May: tomato waits for 24 May, not for 31 May, and not where 12 May is safe enough
    assert_eq!(out("tomato", &with("2027-05-24")), Some(date("2027-05-24")));
    assert_eq!(out("tomato", &with("2027-05-12")), Some(date("2027-05-16")));
    assert_eq!(out("eggplant", &with("2027-05-24")), Some(date("2027-05-30")));
    // a hardy crop counts from 5 in 10 whatever risk is chosen
    assert_eq!(out("broccoli", &with("2027-05-24")), Some(date("2027-04-18")));
    assert_eq!(out("broccoli", &with("2027-05-12")), Some(date("2027-04-18")));
}
