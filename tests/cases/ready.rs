//! Plants that leave before they are ready: too young, not rooted through, not hardened off, out at night
//! too soon. All dates are counted by hand.

use chrono::NaiveDate;
use flatwright::forecast::{Forecast, Hurried, NotReady, Problem, Sooner, What, Why, forecast, missing};
use flatwright::season::{
    Crop, CropKey, DayRange, Frost, FrostChance, Hardening, Hardiness, LatestWeeks, Library, MovingOn, Observed, Op,
    Place, PlaceId, Role, Rule, Season, Sourced, SowingId, StepId, Temperatures, Wanted,
};
use flatwright::store;
use flatwright::trade::{QuickLine, nights_from, safe_night};
use flatwright::units::{DateSpan, LengthUnit, Temperature, Typed};
use flatwright::words::Words;

use crate::support::{Grower, date_of, day, out_on, seedling, shelf, stage};

fn degrees(text: &str) -> Typed<Temperature> {
    Typed::parse_temperature(text).unwrap_or_else(|why| panic!("{text}: {why}"))
}

/// One growing shelf, and a frame that is always open.
fn with_frame() -> (Grower, PlaceId) {
    let mut grower = Grower::growing(1, &shelf("96 x 48 in"));
    let frame = grower.place(Role::Hardening);
    grower.rack(frame, 1, &shelf("96 x 48 in"));
    (grower, frame)
}

fn change_crop(grower: &mut Grower, change: impl FnOnce(&mut Crop)) {
    let own = grower.season.own_crops().find(|crop| crop.key == CropKey::new("seedling"));
    let mut crop = own.cloned().unwrap_or_else(seedling);
    change(&mut crop);
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
}

fn change_place(grower: &mut Grower, id: PlaceId, change: impl FnOnce(&mut Place)) {
    let Some(mut place) = grower.season.place(id).cloned() else { panic!("no place {id}") };
    change(&mut place);
    grower.edit(&Op::PutPlace(place).into());
}

fn not_ready(forecast: &Forecast) -> Vec<NotReady> {
    let of = |problem: &Problem| match problem {
        Problem::NotReady { why, .. } => Some(*why),
        _ => None,
    };
    forecast.problems.iter().filter_map(of).collect()
}

/// What is said of what is not ready, in inches.
fn said(season: &Season, library: &Library) -> Vec<String> {
    let forecast = forecast(season, library);
    let words = Words { season, library, forecast: &forecast, unit: LengthUnit::Inch };
    let ours = |problem: &&Problem| matches!(problem, Problem::NotReady { .. } | Problem::NowhereToHarden { .. });
    forecast.problems.iter().filter(ours).map(|problem| words.problem(problem)).collect()
}

fn says(grower: &Grower) -> Vec<String> {
    said(&grower.season, &Library::default())
}

fn event(forecast: &Forecast, sowing: SowingId, what: What) -> Option<(NaiveDate, Why)> {
    let mut events = forecast.courses_of(sowing).flat_map(|course| &course.events);
    events.find(|event| event.what == what).map(|event| (event.date, event.why))
}

fn step(grower: &Grower, sowing: SowingId, at: usize) -> StepId {
    grower.season.sowing(sowing).unwrap_or_else(|| panic!("no sowing {sowing}")).steps[at].id
}

/// A quick line in a season with a frame, of the library's crop.
#[track_caller]
fn by_line(line: &str) -> Vec<String> {
    let (mut grower, _) = with_frame();
    let library = store::library();
    let read = QuickLine::read(line, library.crops.values(), library.containers.values(), day("2027-02-01"), None);
    let read = read.unwrap_or_else(|why| panic!("{line}: {why}"));
    let sowing = read.sowing(&library.crops[&read.crop], library).renumbered(grower.season.next_id());
    grower.edit(&Op::PutSowing(sowing).into());
    said(&grower.season, library)
}

#[test]
fn tomatoes_two_weeks_old_and_celery_three_weeks_old_do_not_go_out_without_a_word() {
    // tomato 5 weeks at least, celery 10 (the published ranges are 5 to 7 and 10 to 12)
    let tomato = "Tomato: 14 days old when it goes out on 16 May, and wants 35 at least; sow 21 days earlier or plant out on 6 Jun or later";
    assert!(by_line("72 tomato, sow 2 May, out 16 May").contains(&tomato.to_owned()));
    let celery = "Celery: 21 days old when it goes out on 12 May, and wants 70 at least; sow 49 days earlier or plant out on 30 Jun or later";
    assert!(by_line("50 celery, sow 21 Apr, out 12 May").contains(&celery.to_owned()));
    for in_time in ["72 tomato, out 16 May", "50 celery, out 12 May", "54 basil, out 1 Jun", "30 zinnia, out 24 May"] {
        assert_eq!(by_line(in_time), Vec::<String>::new(), "{in_time}");
    }
}

#[test]
fn one_day_decides_whether_it_is_old_enough() {
    // 6 weeks at least: 42 days before 2 June is 21 April
    for (sown, days) in [("2025-04-21", None), ("2025-04-22", Some(41))] {
        let (mut grower, _) = with_frame();
        grower.sow(72, &[stage("sheet of 72", sown)], "2025-06-02");
        let found = not_ready(&grower.forecast());
        let young = |days| NotReady::TooYoung {
            out: day("2025-06-02"),
            days,
            least: 42,
            to_sell: false,
            in_flower: false,
            sow_earlier: true,
        };
        assert_eq!(found, days.map(young).into_iter().collect::<Vec<_>>(), "sown {sown}");
    }
}

#[test]
fn what_is_sown_already_can_only_go_out_later_and_what_has_gone_is_not_told() {
    let (mut grower, _) = with_frame();
    let id = grower.sow(72, &[stage("sheet of 72", "2025-05-03")], "2025-06-02");
    grower.see(id, "2025-05-03", Observed::Sown { cells: Some(72) });
    let text = "seedling: 30 days old when it goes out on 2 Jun, and wants 42 at least; plant out on 14 Jun or later";
    assert_eq!(says(&grower), [text]);
    grower.see(id, "2025-06-02", Observed::PutOut(72));
    assert_eq!(says(&grower), Vec::<String>::new());
}

#[test]
fn what_is_sold_in_flower_takes_longer_than_what_is_planted_out() {
    // 6 to 8 weeks to planting size, 9 to 11 to flower: the middle of that is 10, 70 days before 2 June
    let (mut grower, _) = with_frame();
    change_crop(&mut grower, |crop| crop.weeks_to_sale = Some(Sourced::own((9, 11))));
    let planted = grower.sow_by(72, &[("sheet of 72", Rule::WhenDue)], out_on("2025-06-02"));
    let to_sell = Wanted { to_sell: true, ..out_on("2025-06-02") };
    let sold = grower.sow_by(72, &[("sheet of 72", Rule::WhenDue)], to_sell);
    let forecast = grower.forecast();
    assert_eq!(date_of(&forecast, planted, What::Sown), day("2025-04-14"));
    assert_eq!(date_of(&forecast, sold, What::Sown), day("2025-03-24"));
    assert_eq!(not_ready(&forecast), []);
    // 50 days old it may be planted out, and is not in flower
    grower.change(planted, |sowing| sowing.steps[0].start = Rule::On(day("2025-04-13")));
    assert_eq!(says(&grower), Vec::<String>::new());
    grower.change(planted, |sowing| sowing.wanted[0].to_sell = true);
    let said = says(&grower);
    let ways = "sow 13 days earlier or sell on 15 Jun or later";
    let text = format!("50 days old when it is sold on 2 Jun, and wants 63 at least to be in flower; {ways}");
    assert!(said.len() == 1 && said[0].ends_with(&text), "{said:?}");
    // a crop that is sold green
    change_crop(&mut grower, |crop| crop.weeks_to_sale = None);
    assert_eq!(says(&grower), Vec::<String>::new());
}

/// In cells from 3 March, potted on 18 May, out on 22 May.
fn potted_late() -> (Grower, SowingId) {
    let (mut grower, _) = with_frame();
    change_crop(&mut grower, |crop| crop.hardening = Sourced::own(Hardening { days: 0, first_night_after: 0 }));
    let stages = [stage("sheet of 72", "2025-03-03"), stage("sheet of 50", "2025-05-18")];
    let id = grower.sow(50, &stages, "2025-05-22");
    (grower, id)
}

#[test]
fn four_days_in_its_last_pot_are_too_few() {
    let (mut grower, id) = potted_late();
    let begin =
        "seedling: moved on into sheet of 50 on 18 May and out on 22 May, 4 of the 14 days in which it roots through; ";
    // its leaves are there on 17 March, so all that is needed is to move it on
    assert_eq!(says(&grower), [format!("{begin}move it on 10 days earlier or plant out on 1 Jun or later")]);

    // the cells of 72 may hold it for 12 weeks from 3 March, to 26 May
    let latest = LatestWeeks {
        small: Some(12),
        medium: Some(12),
        large: Some(12),
        pot: Some(12),
        litre: Some(12),
        gallon: Some(12),
        in_days: false,
    };
    change_crop(&mut grower, |crop| crop.latest = Sourced::own(latest));
    grower.container(
        "sheet of 72",
        flatwright::season::ContainerKind::Plug(flatwright::season::Plug {
            outer: Sourced::own(crate::support::size(crate::support::FLAT)),
            cells: 72,
            grid: None,
            cell_top: None,
            cell_volume: Some(Sourced::own(Typed::parse_volume("40 ml").unwrap_or_else(|why| panic!("{why}")))),
        }),
    );
    let ways = "move it on 10 days earlier, plant out on 1 Jun or later or leave it in sheet of 72";
    assert_eq!(says(&grower), [format!("{begin}{ways}")]);

    // leaves on 10 May at the earliest, 68 days from sowing: moving on 10 days earlier is no way out
    let days = DayRange { early: 68, likely: 70, late: 75 };
    change_crop(&mut grower, |crop| {
        crop.weeks_to_planting_out = Sourced::own((6, 12));
        crop.moving_on = Sourced::own(MovingOn { true_leaves: None, days });
    });
    let ways = "sow 10 days earlier, plant out on 1 Jun or later or leave it in sheet of 72";
    assert_eq!(says(&grower), [format!("{begin}{ways}")]);

    let into = step(&grower, id, 1);
    grower.see(id, "2025-05-18", Observed::MovedOn(into));
    assert_eq!(says(&grower), [format!("{begin}plant out on 1 Jun or later")]);
}

#[test]
fn fourteen_days_are_enough_or_as_many_as_the_grower_says() {
    let told = |out: &str, rooting: Option<u16>| {
        let (mut grower, id) = potted_late();
        grower.change(id, |sowing| sowing.wanted[0].date = day(out));
        change_crop(&mut grower, |crop| crop.rooting_days = rooting.map(Sourced::own));
        not_ready(&grower.forecast()).len()
    };
    assert_eq!([told("2025-05-31", None), told("2025-06-01", None)], [1, 0]);
    assert_eq!([told("2025-05-27", Some(10)), told("2025-05-28", Some(10))], [1, 0]);
}

#[test]
fn nor_is_it_moved_on_again_before_it_has_rooted_through() {
    let (mut grower, id) = potted_late();
    grower.change(id, |sowing| {
        let mut between = sowing.steps[1].clone();
        between.id = StepId(900);
        between.start = Rule::On(day("2025-04-12"));
        sowing.steps[1].start = Rule::On(day("2025-04-20"));
        sowing.steps.insert(1, between);
        sowing.wanted[0].date = day("2025-06-01");
    });
    let text = "seedling: moved on into sheet of 50 on 12 Apr and again on 20 Apr, 8 of the 14 days in which it roots through; move it on 6 days earlier or move it on again on 26 Apr or later";
    assert_eq!(says(&grower), [text]);
}

/// Leaves 14 days from sowing, 10 at the earliest, 2 to 3 weeks to planting out.
fn quick() -> Grower {
    let (mut grower, _) = with_frame();
    let days = DayRange { early: 10, likely: 14, late: 20 };
    change_crop(&mut grower, |crop| {
        crop.weeks_to_planting_out = Sourced::own((2, 3));
        crop.moving_on = Sourced::own(MovingOn { true_leaves: Some(3), days });
        crop.hardening = Sourced::own(Hardening { days: 5, first_night_after: 3 });
    });
    grower
}

#[test]
fn it_is_sown_so_early_that_it_roots_through() {
    // 14 days until the leaves and 14 to root are 28, a week more than the crop's 3
    let mut grower = quick();
    let steps = [("sheet of 200", Rule::WhenDue), ("sheet of 50", Rule::WhenDue)];
    let id = grower.sow_by(40, &steps, out_on("2025-06-01"));
    let forecast = grower.forecast();
    let why = Why::RootsByOut { moved_on: 14, rooting: 14 };
    assert_eq!(event(&forecast, id, What::Sown), Some((day("2025-05-04"), why)));
    assert_eq!(date_of(&forecast, id, What::MovedOn(step(&grower, id, 1))), day("2025-05-18"));
    assert_eq!(not_ready(&forecast), []);

    // once more into a larger one, 14 days later
    let mut grower = quick();
    let steps = [("sheet of 200", Rule::WhenDue), ("sheet of 72", Rule::WhenDue), ("sheet of 38", Rule::WhenDue)];
    let id = grower.sow_by(30, &steps, out_on("2025-06-01"));
    let forecast = grower.forecast();
    assert_eq!(date_of(&forecast, id, What::Sown), day("2025-04-20"));
    assert_eq!(not_ready(&forecast), []);

    // 4 weeks are enough, and what stays in its cells roots in them
    for (weeks, cells) in [((2, 4), 2), ((2, 3), 1)] {
        let mut grower = quick();
        change_crop(&mut grower, |crop| crop.weeks_to_planting_out = Sourced::own(weeks));
        let id = grower.sow_by(40, &steps[..cells], out_on("2025-06-01"));
        let why = event(&grower.forecast(), id, What::Sown).map(|(_, why)| why);
        assert!(matches!(why, Some(Why::WeeksBeforeOut(_))), "{weeks:?}: {why:?}");
    }
}

#[test]
fn a_late_sowing_is_moved_on_as_early_as_its_leaves_may_be_there() {
    // due 14 days from sowing, 10 at the earliest; 14 days before 1 June is 18 May
    for (sown, moved_on, days, rooted) in [
        ("2025-05-04", "2025-05-18", 0, 14),
        ("2025-05-06", "2025-05-18", 2, 14),
        ("2025-05-08", "2025-05-18", 4, 14),
        ("2025-05-11", "2025-05-21", 4, 11),
    ] {
        let mut grower = quick();
        let steps = [("sheet of 200", Rule::On(day(sown))), ("sheet of 50", Rule::WhenDue)];
        let id = grower.sow_by(40, &steps, out_on("2025-06-01"));
        let forecast = grower.forecast();
        let why = if days > 0 { Why::ToRoot { days } } else { Why::Leaves(3) };
        let into = step(&grower, id, 1);
        assert_eq!(event(&forecast, id, What::MovedOn(into)), Some((day(moved_on), why)), "sown {sown}");
        assert!(!forecast.problems.iter().any(|problem| matches!(problem, Problem::MovedEarly { .. })));
        let told = not_ready(&forecast).into_iter().map(|why| match why {
            NotReady::NotRooted { from, until, least, sooner, .. } => ((until - from).num_days(), least, sooner),
            why => panic!("{why:?}"),
        });
        let wanted = (rooted < 14).then_some((rooted, 14, Some(Sooner::Sown)));
        assert_eq!(told.collect::<Vec<_>>(), wanted.into_iter().collect::<Vec<_>>(), "sown {sown}");
    }
}

#[test]
fn days_away_never_make_it_too_young() {
    // sown 3 weeks before 2 June, on 12 May; away from the 10th to the 12th: a day late, or 3 early
    for (weeks, sown) in [((2, 3), "2025-05-13"), ((3, 3), "2025-05-09")] {
        let mut grower = quick();
        change_crop(&mut grower, |crop| crop.weeks_to_planting_out = Sourced::own(weeks));
        let span = DateSpan::new(day("2025-05-10"), day("2025-05-13")).unwrap_or_else(|why| panic!("{why}"));
        grower.away("fair", span, false);
        let id = grower.sow_by(72, &[("sheet of 72", Rule::WhenDue)], out_on("2025-06-02"));
        let forecast = grower.forecast();
        assert_eq!(date_of(&forecast, id, What::Sown), day(sown), "{weeks:?}");
        assert_eq!(not_ready(&forecast), []);
    }
}

#[test]
fn days_away_never_take_the_days_it_roots_in() {
    // due on 18 May, 14 days before 1 June; away from the 15th to the 18th: 4 days early, not 1 late
    let mut grower = quick();
    let span = DateSpan::new(day("2025-05-15"), day("2025-05-19")).unwrap_or_else(|why| panic!("{why}"));
    grower.away("fair", span, false);
    let steps = [("sheet of 200", Rule::On(day("2025-05-04"))), ("sheet of 50", Rule::WhenDue)];
    let id = grower.sow_by(40, &steps, out_on("2025-06-01"));
    let forecast = grower.forecast();
    assert_eq!(date_of(&forecast, id, What::MovedOn(step(&grower, id, 1))), day("2025-05-14"));
    assert_eq!(not_ready(&forecast), []);
    // where it goes a week later, a day late does no harm
    grower.change(id, |sowing| sowing.wanted[0].date = day("2025-06-08"));
    assert_eq!(date_of(&grower.forecast(), id, What::MovedOn(step(&grower, id, 1))), day("2025-05-19"));
}

#[test]
fn more_is_sown_again_no_later_than_it_roots_through() {
    // at the earliest 10 days until it is moved on, 14 to root: 24 days before 1 June is 8 May
    let mut grower = quick();
    let steps = [("sheet of 200", Rule::WhenDue), ("sheet of 50", Rule::WhenDue)];
    let id = grower.sow_by(40, &steps, out_on("2025-06-01"));
    grower.see(id, "2025-05-07", Observed::Up { plants: Some(10) });
    let (library, forecast) = (Library::default(), grower.forecast());
    let sowing = grower.season.sowing(id).unwrap_or_else(|| panic!("there"));
    let last =
        |today: &str| missing(&grower.season, &library, &forecast, sowing, day(today)).map(|found| found.made_up);
    assert!(matches!(last("2025-05-08").as_deref(), Some([flatwright::forecast::MadeUp::Offered(_)])));
    let late = last("2025-05-09");
    let Some([flatwright::forecast::MadeUp::TooLate { last, .. }]) = late.as_deref() else { panic!("{late:?}") };
    assert_eq!(*last, day("2025-05-08"));
}

#[test]
fn a_hardening_cut_short_is_said_with_its_days() {
    // moved on 24 April: outside by day from the 25th, 3 days before the 28th
    let (mut grower, frame) = with_frame();
    change_crop(&mut grower, |crop| crop.rooting_days = Some(Sourced::own(0)));
    let stages = [stage("sheet of 72", "2025-03-03"), stage("sheet of 50", "2025-04-24")];
    let id = grower.sow(50, &stages, "2025-04-28");
    let begin = "seedling: 3 of 7 days of hardening off before it goes out on 28 Apr, as it";
    let ways = "is moved on only on 24 Apr; move it on 4 days earlier or plant out on 2 May or later";
    assert_eq!(says(&grower), [format!("{begin} {ways}")]);
    let into = step(&grower, id, 1);
    grower.see(id, "2025-04-24", Observed::MovedOn(into));
    assert_eq!(says(&grower), [format!("{begin} was moved on only on 24 Apr; plant out on 2 May or later")]);

    let mut early = grower.clone();
    early.change(id, |sowing| {
        sowing.seen.clear();
        sowing.steps[1].start = Rule::On(day("2025-04-20"));
    });
    assert_eq!(says(&early), Vec::<String>::new());

    let open = |grower: &mut Grower, from: &str| {
        let span = DateSpan::new(day(from), day("2025-07-01")).unwrap_or_else(|why| panic!("{why}"));
        change_place(grower, frame, |place| place.open = vec![span]);
    };
    open(&mut early, "2025-04-26");
    let place = "as no place for it is open before 26 Apr; open one from 21 Apr or plant out on 3 May or later";
    assert_eq!(says(&early), [format!("seedling: 2 of 7 days of hardening off before it goes out on 28 Apr, {place}")]);
    open(&mut early, "2025-04-29");
    let none = NotReady::HardenedShort {
        out: day("2025-04-28"),
        days: 0,
        wanted: 7,
        because: Hurried::NoneOpen,
        in_time: true,
    };
    assert_eq!(not_ready(&early.forecast()), [none]);
    let place = "as no place for it is open before then; open one from 21 Apr";
    assert_eq!(says(&early), [format!("seedling: 0 of 7 days of hardening off before it goes out on 28 Apr, {place}")]);
}

/// What was proposed lay before the day that it is.
#[test]
fn what_can_no_longer_be_done_in_time_is_not_proposed() {
    let says_on = |grower: &Grower, today: &str| {
        let forecast = grower.forecast().without_past(day(today));
        let library = Library::default();
        let words = Words { season: &grower.season, library: &library, forecast: &forecast, unit: LengthUnit::Inch };
        let told = forecast.problems.iter().filter(|problem| matches!(problem, Problem::NotReady { .. }));
        told.map(|problem| words.problem(problem)).collect::<Vec<_>>()
    };
    // sown 30 days before it goes out, and to be 42 days old: 12 days sooner is 21 April
    let (mut young, _) = with_frame();
    young.sow(72, &[stage("sheet of 72", "2025-05-03")], "2025-06-02");
    let text = "seedling: 30 days old when it goes out on 2 Jun, and wants 42 at least; ";
    let (sooner, later) = ("sow 12 days earlier or ", "plant out on 14 Jun or later");
    assert_eq!(says_on(&young, "2025-04-21"), [format!("{text}{sooner}{later}")]);
    assert_eq!(says_on(&young, "2025-04-22"), [format!("{text}{later}")]);
    // moved on 24 April, and 4 days sooner is the 20th
    let (mut grower, frame) = with_frame();
    change_crop(&mut grower, |crop| crop.rooting_days = Some(Sourced::own(0)));
    let stages = [stage("sheet of 72", "2025-03-03"), stage("sheet of 50", "2025-04-24")];
    let id = grower.sow(50, &stages, "2025-04-28");
    let text =
        "seedling: 3 of 7 days of hardening off before it goes out on 28 Apr, as it is moved on only on 24 Apr; ";
    let (sooner, later) = ("move it on 4 days earlier or ", "plant out on 2 May or later");
    assert_eq!(says_on(&grower, "2025-04-20"), [format!("{text}{sooner}{later}")]);
    assert_eq!(says_on(&grower, "2025-04-21"), [format!("{text}{later}")]);
    // a place that is to be open from the 21st
    grower.change(id, |sowing| sowing.steps[1].start = Rule::On(day("2025-04-20")));
    for (opens, text, in_time, late) in [
        (
            "2025-04-26",
            "2 of 7",
            "26 Apr; open one from 21 Apr or plant out on 3 May or later",
            "26 Apr; plant out on 3 May or later",
        ),
        ("2025-04-29", "0 of 7", "then; open one from 21 Apr", "then; open one at once"),
    ] {
        let span = DateSpan::new(day(opens), day("2025-07-01")).unwrap_or_else(|why| panic!("{why}"));
        change_place(&mut grower, frame, |place| place.open = vec![span]);
        let of = |way: &str| {
            let days =
                format!("seedling: {text} days of hardening off before it goes out on 28 Apr, as no place for it is");
            [format!("{days} open before {way}")]
        };
        assert_eq!(says_on(&grower, "2025-04-21"), of(in_time));
        assert_eq!(says_on(&grower, "2025-04-22"), of(late));
    }
}

#[test]
fn what_is_sown_cannot_root_sooner_than_it_is() {
    // moved on ten days after 11 May, and 11 of 14 days later out: 3 days sooner is 8 May
    let mut grower = quick();
    let steps = [("sheet of 200", Rule::On(day("2025-05-11"))), ("sheet of 50", Rule::WhenDue)];
    grower.sow_by(40, &steps, out_on("2025-06-01"));
    for (today, wanted) in [("2025-05-08", Some(Sooner::Sown)), ("2025-05-09", None)] {
        let found = not_ready(&grower.forecast().without_past(day(today)));
        let [NotReady::NotRooted { sooner, .. }] = found[..] else { panic!("{found:?}") };
        assert_eq!(sooner, wanted, "{today}");
    }
}

#[test]
fn a_season_with_no_place_to_harden_off_in_says_so_once() {
    let mut grower = Grower::growing(1, &shelf("96 x 48 in"));
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-28");
    let one = "No place to harden off in: seedling wants it, from 21 Apr; add a table outdoors, a frame or a porch";
    assert_eq!(says(&grower), [one]);
    grower.sow(72, &[stage("sheet of 72", "2025-03-03")], "2025-04-25");
    let two = "No place to harden off in: 2 sowings want it, seedling, number 2 of 2 first, from 18 Apr; add a table outdoors, a frame or a porch";
    assert_eq!(says(&grower), [two]);
    let mut hard = grower.clone();
    change_crop(&mut hard, |crop| crop.hardening = Sourced::own(Hardening { days: 0, first_night_after: 0 }));
    assert_eq!(says(&hard), Vec::<String>::new());
    grower.place(Role::Hardening);
    assert_eq!(says(&grower), Vec::<String>::new());
}

/// Hardened off for 7 days from 3 May, out at night from the 6th, planted out on the 10th; night by
/// night, whether its indoor spot is still taken.
fn nights(frost: Frost, night: Option<&str>, change: impl FnOnce(&mut Crop)) -> (Option<NaiveDate>, Vec<&'static str>) {
    let (mut grower, frame) = with_frame();
    change_crop(&mut grower, change);
    grower.settings(|settings| settings.frost = Some(frost));
    let temperatures = Temperatures { night: night.map(degrees), ..Temperatures::default() };
    change_place(&mut grower, frame, |place| place.temperatures = temperatures);
    let id = grower.sow(72, &[stage("sheet of 72", "2027-03-08")], "2027-05-10");
    let forecast = grower.forecast();
    assert_eq!(event(&forecast, id, What::Hardening).map(|(date, _)| date), Some(day("2027-05-03")));
    let days = ["2027-05-03", "2027-05-04", "2027-05-05", "2027-05-06", "2027-05-07", "2027-05-08", "2027-05-09"];
    let indoors = |date: &&str| forecast.on(day(date)).any(|stay| stay.needs.role == Role::Growing);
    let first = event(&forecast, id, What::FirstNightOut);
    assert_eq!(
        first.is_some_and(|(_, why)| why == Why::LastFrost),
        first.is_some_and(|(on, _)| on > day("2027-05-06"))
    );
    (first.map(|(date, _)| date), days.into_iter().filter(indoors).collect())
}

fn tender(crop: &mut Crop) {
    crop.hardiness = Hardiness::Tender;
    crop.come_in = Sourced::own(degrees("7.2 °C"));
}

#[test]
fn the_first_night_out_waits_for_the_last_frost() {
    let frost = |date| Frost::on(day(date));
    let (first, indoors) = nights(frost("2027-05-02"), None, tender);
    assert_eq!((first, indoors.len()), (Some(day("2027-05-06")), 3), "as many days as the crop says");
    let (first, indoors) = nights(frost("2027-05-08"), None, tender);
    assert_eq!((first, indoors.len()), (Some(day("2027-05-08")), 5));
    let (first, indoors) = nights(frost("2027-05-10"), None, tender);
    assert_eq!((first, indoors.len()), (None, 7), "it goes out on the day of the frost, and no night before");
    // one that bears 3 degrees of frost doesn't wait, one that comes in at 2 °C does
    let comes_in = |at: &'static str| move |crop: &mut Crop| crop.come_in = Sourced::own(degrees(at));
    assert_eq!(nights(frost("2027-05-08"), None, comes_in("-3 °C")).0, Some(day("2027-05-06")));
    assert_eq!(nights(frost("2027-05-08"), None, comes_in("2 °C")).0, Some(day("2027-05-08")));
}

#[test]
fn a_table_s_date_for_a_warmer_night_counts_for_what_comes_in_at_it() {
    let entry = |at, later_in_ten, date| FrostChance { temperature: degrees(at), later_in_ten, date: day(date) };
    let table = vec![
        entry("0 °C", 5, "2027-05-02"),
        entry("36 °F", 5, "2027-05-08"),
        entry("36 °F", 1, "2027-05-20"),
        entry("28 °F", 5, "2027-04-20"),
    ];
    let frost = Frost { table, ..Frost::on(day("2027-05-02")) };
    let first = |at| nights_from(&Crop { come_in: Sourced::own(degrees(at)), ..seedling() }, &frost);
    assert_eq!(first("4 °C"), Some(day("2027-05-08")));
    assert_eq!(first("2 °C"), Some(day("2027-05-02")), "36 °F are 2.2 °C");
    assert_eq!(first("0 °C"), Some(day("2027-04-20")), "it bears the frost itself, not 28 °F");
    assert_eq!(first("-2 °C"), Some(day("2027-04-20")));
    assert_eq!(first("-3 °C"), None);
}

#[test]
fn a_frame_with_nights_too_cold_for_it_takes_it_by_day_alone() {
    let frost = || Frost::on(day("2027-04-20"));
    assert_eq!(nights(frost(), Some("8 °C"), tender).0, Some(day("2027-05-06")));
    let (first, indoors) = nights(frost(), Some("6 °C"), tender);
    assert_eq!((first, indoors.len()), (None, 7));
    // cucumbers, melons and squashes: 13 °C, though they are harmed below 10 °C
    let cucumber = |crop: &mut Crop| {
        crop.family = "cucurbit".to_owned();
        crop.come_in = Sourced::own(degrees("10 °C"));
    };
    assert_eq!(nights(frost(), Some("13 °C"), cucumber).0, Some(day("2027-05-06")));
    assert_eq!(nights(frost(), Some("12 °C"), cucumber).0, None);
    let crops = &store::library().crops;
    let cucurbits = crops.values().filter(|crop| crop.family == "cucurbit");
    assert_eq!(cucurbits.filter(|crop| safe_night(crop) >= degrees("13 °C").value()).count(), 6);
}

#[test]
fn the_sample_and_the_other_seasons_say_nothing_silly() {
    let sample = said(&store::sample(), store::library());
    let about = |name: &str| sample.iter().filter(|text| text.starts_with(name)).count();
    assert_eq!((about("Basil"), sample.len()), (0, 2), "{sample:?}");
    assert!(sample.iter().all(|text| text.contains("as no place for it is open before 29 Mar; ")), "{sample:?}");
}
