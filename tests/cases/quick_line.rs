//! What to grow in one line, and the containers it usually goes through.

use chrono::NaiveDate;
use flatwright::season::{Crop, CropKey, Frost, FrostChance};
use flatwright::store;
use flatwright::trade::{
    Again, AgainError, Amount, QuickLine, QuickLineError, UsualStep, chain_for, out_after_frost, usual_days,
};
use flatwright::units::{DateError, Temperature, Typed};

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date of a test")
}

fn read(line: &str) -> Result<QuickLine, QuickLineError> {
    QuickLine::read(
        line,
        store::library().crops.values(),
        store::library().containers.values(),
        date("2027-01-10"),
        None,
    )
}

#[track_caller]
fn check(line: &str, plants: u32, crop: &str, variety: &str, out: &str, sow: Option<&str>) {
    let wanted = QuickLine {
        amount: Amount::Plants(plants),
        fills: 1,
        again: None,
        until: None,
        crop: CropKey::new(crop),
        variety: variety.into(),
        sown_in: None,
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

/// However it is put, wherever it stands in the line; the day is that of the first.
#[test]
fn the_same_again_some_days_apart() {
    let three = Some(Again { times: 3, days_apart: 21 });
    for line in [
        "144 lettuce, 3 sowings 3 weeks apart, out from 1 April",
        "144 lettuce, out from 1 April, 3 sowings 21 days apart",
        "144 lettuce every 21 days, 3 times, out 1 Apr",
        "144 lettuce out 1 Apr every 3 weeks 3 sowings",
        "144 lettuce, three sowings three weeks apart, out 1 Apr",
        "144 lettuce in 3 sowings, 3 weeks apart, out 1 Apr",
        "144 lettuce as 3 sowings 21 days apart, out 1 Apr",
        "144 lettuce, 3 sowings every 3 weeks, first out 1 April",
        "144 lettuce, Three sowings, 3 weeks apart, the first out on 1 April",
        "144 lettuce, 3 sowings, out from 1 Apr, 3 weeks apart",
    ] {
        let found = read(line).unwrap_or_else(|why| panic!("{line}: {why}"));
        let said = (found.amount, found.again, found.crop.0.as_ref(), found.variety.as_str(), found.out);
        assert_eq!(said, (Amount::Plants(144), three, "lettuce", "", date("2027-04-01")), "{line}");
        assert_eq!(found.sown_in, None, "{line}");
    }
    let twelve = read("48 lettuce in 128, in twelve sowings a week apart, first out 1 Apr").expect("a line");
    assert_eq!(twelve.again, Some(Again { times: 12, days_apart: 7 }));
    assert_eq!(twelve.sown_in.map(|tray| tray.key.to_string()), Some("plug_128".to_owned()));
    let named = read("54 lettuce 'Crisp', every 1 week, 10 times, sow 1 Mar, out 12 Apr").expect("a line");
    assert_eq!((named.again, named.variety.as_str()), (Some(Again { times: 10, days_apart: 7 }), "Crisp"));
    assert_eq!(named.sow, Some(date("2027-03-01")));
    let out_of_range = |found: &str| QuickLineError::Again(AgainError::OutOfRange(found.to_owned()));
    for (line, why) in [
        ("144 lettuce, 1 sowings 3 weeks apart, out 1 Apr", out_of_range("1 sowings 3 weeks apart")),
        ("144 lettuce, every 0 days, 3 times, out 1 Apr", out_of_range("every 0 days 3 times")),
        ("144 lettuce, 51 sowings 1 day apart, out 1 Apr", out_of_range("51 sowings 1 day apart")),
        ("144 lettuce, 3 sowings 60 weeks apart, out 1 Apr", out_of_range("3 sowings 60 weeks apart")),
        ("5 fills of 6 trays lettuce, 3 sowings 3 weeks apart, sow 1 Mar", QuickLineError::FillsAndAgain),
    ] {
        assert_eq!(read(line), Err(why), "{line}");
    }
}

/// Half of what is needed for several sowings is asked for, and is no name of a variety.
#[test]
fn sowings_without_the_days_between_them_are_no_variety() {
    let example = "Write it as “3 sowings 3 weeks apart”";
    let range = "from 2 to 50 sowings, 1 to 366 days apart: “3 sowings 3 weeks apart”";
    for (line, said) in [
        ("48 lettuces, 3 sowings, out from 10 Apr", format!("3 sowings how far apart? {example}")),
        ("48 lettuces in three sowings, out 10 Apr", format!("three sowings how far apart? {example}")),
        ("48 lettuce 'Crisp', as 3 sowings, out 10 Apr", format!("3 sowings how far apart? {example}")),
        ("48 lettuce Crisp 3 times, out 10 Apr", format!("3 times how far apart? {example}")),
        ("48 lettuces, 3 weeks apart, out 10 Apr", format!("how many sowings 3 weeks apart? {example}")),
        ("48 lettuces every week, out 10 Apr", format!("how many sowings every week? {example}")),
        ("48 lettuces, several sowings, out 10 Apr", format!("found “several sowings”; {range}")),
        ("48 lettuces, 0 sowings, out 10 Apr", format!("found “0 sowings”; {range}")),
        ("48 sowings", format!("found “sowings”; {range}")),
    ] {
        assert_eq!(read(line).map_err(|why| why.to_string()), Err(said), "{line}");
    }
    let one = read("48 lettuce, 1 sowing, out 10 Apr").expect("a line");
    assert_eq!((one.again, one.variety.as_str()), (None, ""));
    let quoted = read("48 lettuce '3 sowings', out 10 Apr").expect("a line");
    assert_eq!((quoted.again, quoted.variety.as_str()), (None, "3 sowings"));
    let first = read("48 lettuce Early First, out 10 Apr").expect("a line");
    assert_eq!(first.variety, "Early First");
}

/// What was not found is quoted only where something was.
#[test]
fn nothing_is_quoted_where_nothing_stands() {
    for line in [
        "",
        ",",
        ", tomato",
        "72 ,",
        "72 tomato in",
        "72 tomato in, out 16 May",
        "72 tomato 'Red' in , out 16 May",
        "72 tomato out",
        "72 tomato, sow, out 16 May",
        "72 tomato, out 16 May, until",
        "72 tomato, sold",
        "3 fills of , lettuce",
        "48 lettuce in 3 sowings",
        "48, sowings, out 10 Apr",
        "72 tomato in in 3 sowings 3 weeks apart, out 10 Apr",
    ] {
        let said = read(line).expect_err(line).to_string();
        assert!(!said.contains("“”") && !said.contains("\"\""), "{line}: {said}");
    }
    let said = read("72 tomato in, out 16 May").expect_err("no tray").to_string();
    assert_eq!(said, "in what? Write the tray or pot behind “in”: “flat”, “72” or a name from the library");
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
        (
            "72 tomato in the bath, out 16 May",
            "no tray or pot “the bath”; “flat”, “72” or a name from the library will do",
        ),
        ("72 tomato, out 1 May, out 2 May", "“out” stands here twice"),
        ("72 tomato, sow 1 Jun 2027, out 16 May 2027", "sown Tue 1 Jun 2027, it can't be out Sun 16 May 2027"),
    ] {
        assert_eq!(read(line).map_err(|why| why.to_string()), Err(said.to_owned()), "{line}");
    }
    let year = |line| read(line).expect_err("a year out of range");
    assert_eq!(year("72 tomato, out 1 May 1900"), QuickLineError::Date { word: "out", why: DateError::Year(1900) });
}

fn chain_in(crop: &str, days: Option<u16>) -> Vec<String> {
    let library = store::library();
    let crop: &Crop = &library.crops[&CropKey::new(crop)];
    chain_for(crop, days, library).iter().map(|step| step.container.to_string()).collect()
}

fn chain(crop: &str) -> Vec<String> {
    chain_in(crop, None)
}

#[test]
fn crops_go_through_their_usual_containers() {
    assert_eq!(chain("tomato"), ["plug_72", "sq_4_18ct"]);
    assert_eq!(chain("pepper"), ["plug_72", "sq_4_18ct"]);
    assert_eq!(chain("marigold"), ["plug_72", "sq_3"]);
    assert_eq!(chain("lettuce"), ["plug_128"]);
}

#[test]
fn a_line_may_name_what_it_is_sown_in() {
    let library = store::library();
    let chain = |line: &str| {
        let line = read(line).expect("a good line");
        let steps = line.sowing(&library.crops[&line.crop], library).steps;
        (line.variety, steps.iter().map(|step| step.container.to_string()).collect::<Vec<_>>())
    };
    let plain = |containers: &[&str]| (String::new(), containers.iter().map(|&one| one.to_owned()).collect());
    assert_eq!(chain("600 onion in 288, out 11 Apr"), plain(&["plug_288"]));
    assert_eq!(chain("60 lettuce in open flat, out 11 Apr"), plain(&["flat_1020"]));
    assert_eq!(chain("72 tomato, in 128 cells, out 16 May"), plain(&["plug_128", "sq_4_18ct"]));
    assert_eq!(chain("72 tomato out 16 May in flat"), plain(&["flat_1020", "sq_4_18ct"]), "pricked out from it");
    assert_eq!(chain("72 tomato in sq_3, out 16 May"), plain(&["sq_3"]));
    let (variety, containers) = chain("72 zinnia Lady in Red, out 16 May");
    assert_eq!((variety.as_str(), containers), ("Lady in Red", chain_in("zinnia", None)));
}

#[test]
fn what_stays_in_its_cells_gets_no_pot() {
    for crop in [
        "broccoli",
        "cabbage",
        "cauliflower",
        "brussels_sprouts",
        "kale",
        "collards",
        "swiss_chard",
        "parsley",
        "celery",
    ] {
        assert_eq!(chain(crop), ["plug_72"], "{crop}");
    }
}

#[test]
fn what_resents_moving_stands_in_its_largest_usual_cells() {
    for crop in [
        "cucumber",
        "muskmelon",
        "watermelon",
        "summer_squash",
        "winter_squash",
        "pumpkin",
        "sweet_corn",
        "pea",
        "snap_bean",
        "dill",
        "cilantro",
        "okra",
        "sunflower",
        "nasturtium",
    ] {
        assert_eq!(chain(crop), ["plug_50"], "{crop}");
    }
    // four weeks in cells of 50, five in a pot, by the library
    assert_eq!(chain_in("cucumber", Some(28)), ["plug_50"]);
    assert_eq!(chain_in("cucumber", Some(35)), ["sq_4_18ct"], "no cell does for five weeks");
}

#[test]
fn onions_leeks_and_chives_are_sown_thick_in_an_open_flat() {
    for crop in ["onion", "leek", "chives", "bunching_onion"] {
        assert_eq!(chain(crop), ["flat_1020"], "{crop}");
    }
}

/// Tomatoes are due after 28 days, by the library: 42 days leave two weeks to root through a pot.
#[test]
fn no_pot_is_planned_without_two_weeks_to_root_through_it() {
    assert_eq!(chain_in("tomato", Some(42)), ["plug_72", "sq_4_18ct"]);
    assert_eq!(chain_in("tomato", Some(41)), ["plug_72"]);
    let library = store::library();
    let line = read("24 tomato, sow 10 Apr, out 16 May").expect("a line");
    let crop = &library.crops[&line.crop];
    assert_eq!(line.sowing(crop, library).steps.len(), 1, "36 days from seed to garden");
    for crop in library.crops.values() {
        let moved_on = chain_for(crop, None, library).len() > 1;
        let left = usual_days(crop, true).saturating_sub(crop.moving_on.value.days.likely);
        assert!(!moved_on || left >= 14, "{}: {left} days in its pot", crop.key);
    }
}

#[test]
fn every_crop_has_a_usual_chain_whose_pots_hold_enough() {
    let library = store::library();
    for crop in library.crops.values() {
        let chain = chain_for(crop, None, library);
        assert!(!chain.is_empty(), "{}", crop.key);
        let volume = |key| flatwright::trade::cell_volume(&library.containers[key]);
        if let [UsualStep { container, .. }] = chain.as_slice() {
            assert!(crop.in_open_flat.is_some() || volume(container).is_some(), "{}: {container}", crop.key);
            continue;
        }
        let volumes: Vec<_> = chain.iter().map(|step| volume(&step.container).expect("it has a volume")).collect();
        for pair in volumes.windows(2) {
            assert!(flatwright::trade::holds_enough(pair[0], pair[1]), "{}: {volumes:?}", crop.key);
        }
    }
}

#[test]
fn without_a_day_it_goes_out_by_the_last_frost() {
    let out = |line: &str| {
        let frost = Frost::on(date("2027-05-09"));
        QuickLine::read(
            line,
            store::library().crops.values(),
            store::library().containers.values(),
            date("2027-01-10"),
            Some(&frost),
        )
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

#[test]
fn trays_and_a_sowing_day_are_read_forwards() {
    let tomato = &store::library().crops[&CropKey::new("tomato")];
    let line = read("10 trays tomato, sown 2 March").unwrap();
    assert_eq!((line.amount, line.fills, line.sow), (Amount::Trays(10), 1, Some(date("2027-03-02"))));
    // six to eight weeks, and two of them for moving on as it usually is
    let days = u64::from(usual_days(tomato, true));
    assert_eq!(line.out, date("2027-03-02") + chrono::Days::new(days));
    assert!(!line.by_frost);
    let line = read("4 flats of lettuce, sow 20 Dec").unwrap();
    assert_eq!((line.amount, line.sow), (Amount::Trays(4), Some(date("2026-12-20"))), "the nearest such day");
    let line = read("5 fills of 6 trays lettuce, sown 2 Mar, until 1 Oct").unwrap();
    assert_eq!((line.fills, line.amount, line.until), (5, Amount::Trays(6), Some(date("2027-10-01"))));
    let line = read("3 fills of 84 lettuce, sow 10 Feb, out 10 Mar").unwrap();
    assert_eq!((line.fills, line.amount, line.out), (3, Amount::Plants(84), date("2027-03-10")));
    // plants sown on a day, where no frost says when they go out
    let line = read("72 tomato, sow 2 Mar").unwrap();
    assert_eq!(line.out, date("2027-03-02") + chrono::Days::new(days));
}

#[test]
fn trays_and_fills_have_their_bounds() {
    for (line, said) in [
        ("0 trays lettuce, sow 2 Mar", "found 0 trays; it must be from 1 to 10000"),
        ("20000 trays lettuce, sow 2 Mar", "found 20000 trays; it must be from 1 to 10000"),
        ("1 fill of 6 trays lettuce, sow 2 Mar", "found 1 fills; it must be from 2 to 50"),
        ("70000 fills of 6 trays lettuce, sow 2 Mar", "found 70000 fills; it must be from 2 to 50"),
        ("3 fills of lettuce, sow 2 Mar", "found “lettuce” where the number of plants goes"),
        ("3 trays", "which crop?"),
        ("5 trays lettuce, sow 30 Feb", "sow: "),
    ] {
        let why = read(line).expect_err(line).to_string();
        assert!(why.starts_with(said), "{line}: {why}");
    }
}
