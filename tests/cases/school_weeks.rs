//! A school's weeks, and nobody there in the holidays.

use chrono::{Datelike as _, NaiveDate};
use flatwright::forecast::{About, Problem, What};
use flatwright::outlook::{WeekLabel, week_label};
use flatwright::season::{Away, ContainerKind, Op, OutRule, RimShape, Role, Rule, SowingId, WeekLabels};
use flatwright::units::DateSpan;
use flatwright::words::Words;

use crate::support::{Grower, date_of, day, out_by, pot, shelf};

const HOLIDAYS: [(i64, i64); 5] = [(8, 8), (16, 17), (24, 24), (31, 32), (39, 39)];

fn monday(week: i64) -> NaiveDate {
    day("2009-09-07") + chrono::TimeDelta::weeks(week - 1)
}

fn school() -> Grower {
    let mut grower = Grower::new();
    let growing = grower.place(Role::Growing);
    grower.rack(growing, 2, &shelf("48 x 24 in"));
    grower.container("tub", ContainerKind::Pot(pot(RimShape::Square, "2 in")));
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Square, "3.25 in")));
    grower.settings(|settings| {
        settings.weeks = WeekLabels::From(day("2009-09-07"));
    });
    for &(first, last) in &HOLIDAYS {
        grower.away("holiday", DateSpan::new(monday(first), monday(last + 1)).expect("in order"), true);
    }
    grower
}

/// Sown in week 25, pricked out in 28, potted on in 31, out in 38.
fn tomatoes(grower: &mut Grower) -> SowingId {
    let out = OutRule::Week { week: 38, weekday: chrono::Weekday::Mon };
    let steps = [
        ("sheet of 200", Rule::On(day("2010-02-22"))),
        ("tub", Rule::DaysAfterSowing(21)),
        ("pot", Rule::DaysAfterSowing(42)),
    ];
    let sowing = grower.sow_by(12, &steps, out_by(out, "2010-01-01"));
    let none = flatwright::season::Slack { early: 0, late: 0 };
    grower.change(sowing, |sowing| sowing.steps[2].slack = Some(none));
    sowing
}

#[test]
fn weeks_are_counted_from_the_first_day_of_term() {
    let grower = school();
    for (date, week) in
        [("2009-11-02", 9), ("2010-01-05", 18), ("2010-02-22", 25), ("2010-04-19", 33), ("2010-06-07", 40)]
    {
        assert_eq!(week_label(&grower.season, day(date)), WeekLabel::Own(week), "{date}");
    }
}

#[test]
fn school_weeks_iso_weeks_and_dates_agree() {
    let grower = school();
    assert_eq!(week_label(&grower.season, day("2010-02-22")), WeekLabel::Own(25));
    assert_eq!(day("2010-02-22").iso_week().week(), 8);
    let iso = Grower::new();
    assert_eq!(week_label(&iso.season, day("2010-02-22")), WeekLabel::Iso { year: 2010, week: 8 });
}

#[test]
fn potting_on_in_a_holiday_is_offered_a_week_early_or_two_late() {
    let mut grower = school();
    let sowing = tomatoes(&mut grower);
    let forecast = grower.forecast();
    let steps = &grower.season.sowing(sowing).expect("there").steps;
    assert_eq!(date_of(&forecast, sowing, What::Sown), monday(25));
    assert_eq!(date_of(&forecast, sowing, What::MovedOn(steps[1].id)), monday(28));
    assert_eq!(date_of(&forecast, sowing, What::MovedOn(steps[2].id)), monday(31));
    let told = forecast.problems.iter().find_map(|problem| match problem {
        Problem::NobodyThere { work, date, before: Some(before), after, .. } => Some((*work, *date, *before, *after)),
        _ => None,
    });
    let (work, date, before, after) = told.expect("nobody is there in week 31");
    assert_eq!((work, date), (What::MovedOn(steps[2].id), monday(31)));
    assert_eq!(week_label(&grower.season, before), WeekLabel::Own(30));
    assert_eq!((week_label(&grower.season, after), after), (WeekLabel::Own(33), monday(33)));

    // the knock-on of each choice, in days and in space
    let step = steps[2].id;
    for (choice, week) in [(before, 30), (after, 33)] {
        let mut chosen = grower.clone();
        chosen.change(sowing, |sowing| sowing.steps[2].start = Rule::On(choice));
        let moved = flatwright::forecast::dates_moved(&forecast, &chosen.forecast());
        assert!(moved.moved.iter().any(|moved| (moved.what, moved.to) == (What::MovedOn(step), choice)), "week {week}");
        assert!(moved.kept.iter().any(|kept| matches!(kept.what, What::Out { .. })), "out on the term day still");
        assert!(!chosen.forecast().problems.iter().any(|problem| matches!(problem, Problem::NobodyThere { .. })));
        let pots = |grower: &Grower, date| {
            grower.forecast().on(date).any(
                |stay| matches!(stay.tray(), Some(flatwright::season::TrayKey::Own { step: of, .. }) if of == step),
            )
        };
        assert_eq!(pots(&chosen, monday(31)), week == 30, "the space forecast follows");
    }
}

#[test]
fn with_a_window_the_work_bends_by_itself() {
    let mut grower = school();
    let sowing = tomatoes(&mut grower);
    let step = grower.season.sowing(sowing).expect("there").steps[2].id;
    for (early, late, wanted) in [(7, 0, "2010-04-04"), (0, 14, "2010-04-19"), (3, 3, "2010-04-04")] {
        grower.change(sowing, |sowing| sowing.steps[2].slack = Some(flatwright::season::Slack { early, late }));
        assert_eq!(date_of(&grower.forecast(), sowing, What::MovedOn(step)), day(wanted), "{early} early, {late} late");
    }
}

#[test]
fn two_weeks_without_water_are_listed_unless_somebody_comes() {
    let mut grower = school();
    tomatoes(&mut grower);
    let dry = |grower: &Grower| -> Vec<(DateSpan, usize)> {
        let forecast = grower.forecast();
        let problems = forecast.problems.iter();
        problems
            .filter_map(|problem| match problem {
                Problem::NobodyWaters { span, trays, .. } => Some((*span, trays.len())),
                _ => None,
            })
            .collect()
    };
    let gap = DateSpan::new(monday(31), monday(33)).expect("in order");
    assert_eq!(gap.days(), 14);
    let found = dry(&grower);
    assert!(found.iter().any(|(span, trays)| *span == gap && *trays > 0), "{found:?}");
    let forecast = grower.forecast();
    let problem =
        forecast.problems.iter().find(|problem| matches!(problem, Problem::NobodyWaters { span, .. } if *span == gap));
    let problem = problem.expect("as above");
    let away = grower.season.away().into_iter().find(|away| away.span == gap).expect("as above").id;
    assert_eq!(problem.about(), About::Away(away, monday(31)));
    let library = flatwright::season::Library::default();
    let unit = flatwright::units::LengthUnit::Inch;
    let words = Words { season: &grower.season, library: &library, forecast: &forecast, unit };
    assert!(words.problem(problem).starts_with("Nobody waters 5 Apr – 18 Apr: 14 days"), "{}", words.problem(problem));

    let away = grower.season.away().into_iter().find(|away| away.span == gap).expect("as above").clone();
    grower.edit(&Op::PutAway(Away { waters: "a neighbour".to_owned(), ..away }).into());
    assert!(!dry(&grower).iter().any(|(span, _)| *span == gap));
}

#[test]
fn planting_out_is_pinned_to_a_term_day() {
    let mut grower = school();
    let sowing = tomatoes(&mut grower);
    assert_eq!(date_of(&grower.forecast(), sowing, What::Out { plants: 12 }), monday(38));
    assert_eq!(week_label(&grower.season, monday(38)), WeekLabel::Own(38));
}
