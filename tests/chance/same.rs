//! The same draws everywhere and for good; what is seen no longer varies.

use std::num::NonZero;

use chrono::{Days, NaiveDate};
use flatwright::fit::{Cancel, Cancelled, Progress};
use flatwright::forecast::{self, Scenario, What};
use flatwright::outlook::{Draws, ProblemHash, chance, chance_hash};
use flatwright::season::{Frost, Hardiness, Observation, Observed, Op, RecordId, Season};

use crate::seasons::{drawn, example, known, library};

#[test]
fn any_number_of_threads_gives_the_same_answer() {
    let season = example("community-room");
    let with = |threads| {
        let draws = Draws { first: 0, number: 60, threads: NonZero::new(threads) };
        let (progress, cancel) = (Progress::default(), Cancel::default());
        let found = chance(&season, library(), draws, ProblemHash(7), &progress, &cancel).expect("nobody cancels");
        assert!((progress.share() - 1.0).abs() < 0.01);
        found
    };
    let one = with(1);
    assert_eq!(one.problem, ProblemHash(7));
    for threads in [1, 2, 5] {
        assert_eq!(with(threads), one, "{threads}");
    }
}

#[test]
fn a_draw_is_the_same_whichever_are_drawn_with_it() {
    let season = example("community-room");
    let all = drawn(&season, 0, 30);
    let parts = [drawn(&season, 0, 11), drawn(&season, 11, 19)];
    assert!(all.weeks.iter().any(|week| week.proven > 0), "{:?}", all.weeks);
    for week in &all.weeks {
        let of = parts.iter().flat_map(|part| &part.weeks).filter(|own| own.from == week.from && own.pool == week.pool);
        let (proven, at_most) = of.fold((0, 0), |sum, own| (sum.0 + own.proven, sum.1 + own.at_most));
        assert_eq!((proven, at_most), (week.proven, week.at_most), "{week:?}");
    }
}

#[test]
fn draws_that_nobody_wants_any_more_say_so() {
    let cancel = Cancel::default();
    cancel.cancel();
    let season = example("community-room");
    let stopped = chance(&season, library(), Draws::default(), ProblemHash(0), &Progress::default(), &cancel);
    assert_eq!(stopped, Err(Cancelled));
}

#[test]
fn nothing_varies_in_an_empty_season() {
    let chance = drawn(&Season::new("Empty"), 0, 20);
    assert!(!chance.varies && chance.weeks.is_empty());
}

/// Up, moved on: both seen, so that every draw is the likely season.
#[test]
fn what_was_seen_does_not_vary() {
    let mut season = known(&["lettuce"], 1);
    assert!(drawn(&season, 0, 50).varies);
    let mut sowing = season.sowings().next().expect("one").clone();
    let seen =
        |n, date: &str, what| Observation { id: RecordId(n), date: date.parse().expect("a date"), what, lot: None };
    let step = sowing.steps.last().expect("two").id;
    sowing.seen =
        vec![seen(900, "2027-03-06", Observed::Up { plants: None }), seen(901, "2027-03-31", Observed::MovedOn(step))];
    season.apply(&Op::PutSowing(sowing).into()).expect("two observations");
    let chance = drawn(&season, 0, 50);
    assert!(!chance.varies);
    assert!(chance.weeks.iter().all(|week| [0, 50].contains(&week.proven) && week.proven == week.at_most));
}

#[test]
fn the_question_is_another_if_a_crop_may_be_later() {
    let season = known(&["lettuce"], 1);
    let hash = |season: &Season| chance_hash(season, library(), ProblemHash(0));
    assert_eq!(hash(&season), hash(&known(&["lettuce"], 1)));
    let mut later = season.clone();
    let mut crop = season.own_crops().next().expect("its own").clone();
    crop.moving_on.value.days.late += 1;
    later.apply(&Op::PutCrop(Box::new(crop)).into()).expect("a later crop");
    assert_ne!(hash(&season), hash(&later));
}

/// A frost later than the season reckons with keeps in what it would kill, and nothing else.
#[test]
fn a_late_frost_keeps_tender_plants_in() {
    let mut season = known(&["lettuce"], 1);
    let frost = NaiveDate::from_ymd_opt(2027, 5, 5).expect("a date");
    let mut settings = season.settings().clone();
    settings.frost = Some(Frost::on(frost));
    season.apply(&Op::SetSettings(settings).into()).expect("a frost");
    let ends = |season: &Season, scenario: Scenario| {
        let forecast = forecast::drawn(season, library(), &scenario);
        assert!(forecast.courses.iter().all(|course| course.date(What::Due).is_some()));
        forecast.span().expect("something stands").until()
    };
    let out: NaiveDate = "2027-05-10".parse().expect("a date");
    let late = Scenario::none().with_frost_days(12);
    assert_eq!((ends(&season, Scenario::none()), ends(&season, late)), (out, out));
    let mut crop = season.own_crops().next().expect("its own").clone();
    crop.hardiness = Hardiness::Tender;
    season.apply(&Op::PutCrop(Box::new(crop)).into()).expect("a tender crop");
    assert_eq!(
        (ends(&season, Scenario::none()), Some(ends(&season, late))),
        (out, frost.checked_add_days(Days::new(12)))
    );
}
