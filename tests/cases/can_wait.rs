//! How many days a work can wait before a day is short of room, worked out by hand in small rooms, and held against
//! the same slip written down as an ordinary edit.

use std::num::NonZero;

use chrono::NaiveDate;
use flatwright::fit::{Cancel, Cancelled, Memory, Progress};
use flatwright::forecast::{Prepared, Problem, Stay, What, forecast};
use flatwright::outlook::slack::{CanWait, End, Overflow, Slack, Work, can_wait, can_wait_of};
use flatwright::outlook::ways_out::Standing;
use flatwright::outlook::{Effort, Keep, Outlook, PoolKind, Verdict, look_ahead};
use flatwright::season::{
    Crop, Delays, Hardening, Library, Lot, LotId, Observed, Op, OutRule, Role, Rule, Season, Sourced, Sowing, SowingId,
};
use flatwright::store;
use flatwright::units::DateSpan;
use proptest::prelude::*;

use crate::support::{FLAT, GROWING, Grower, day, days_after, shelf, stage};

fn outlook(season: &Season, library: &Library) -> Outlook {
    let forecast = forecast(season, library);
    let (progress, cancel) = (Progress::default(), Cancel::default());
    look_ahead(season, &forecast, Keep::Pinned, Effort::default(), &mut Memory::default(), &progress, &cancel)
        .unwrap_or_else(|_| panic!("nobody cancelled it"))
}

fn asked(season: &Season, library: &Library, threads: Option<usize>, cancel: &Cancel) -> Result<CanWait, Cancelled> {
    let (forecast, outlook) = (forecast(season, library), outlook(season, library));
    let of = Standing { season, library, forecast: &forecast, outlook: &outlook, today: None };
    can_wait(&of, threads.and_then(NonZero::new), &Progress::default(), cancel)
}

#[track_caller]
fn found(season: &Season) -> CanWait {
    asked(season, &Library::default(), None, &Cancel::default()).unwrap_or_else(|_| panic!("nobody cancelled it"))
}

#[track_caller]
fn of(found: &CanWait, sowing: SowingId, work: Work) -> &Slack {
    let slack = found.all.iter().find(|slack| slack.sowing == sowing && slack.work == work);
    slack.unwrap_or_else(|| panic!("{work:?} of {sowing} among {:#?}", found.all))
}

/// Until then; done on the next day, so many are short on that day where none were.
#[track_caller]
fn overflows(slack: &Slack, until: &str, to: &str, (short, pool, on): (u32, PoolKind, &str)) {
    assert_eq!(slack.until, day(until), "{slack:?}");
    let End::Short(over) = &slack.end else { panic!("{slack:?}") };
    let Overflow { to: then, day: first, pools, short: least, short_at_most, before, .. } = over;
    assert_eq!((*then, *first), (day(to), day(on)), "{over:?}");
    assert_eq!((*least, *short_at_most, *before), (short, short, 0), "{over:?}");
    assert_eq!(pools.iter().map(|pool| pool.kind).collect::<Vec<_>>(), [pool]);
}

#[track_caller]
fn ruled(slack: &Slack, until: &str, is_so: impl Fn(&Problem) -> bool) {
    assert_eq!(slack.until, day(until), "{slack:?}");
    assert!(matches!(&slack.end, End::Rule { problem, .. } if is_so(problem)), "{slack:?}");
}

/// A shelf for four flats. Three stand until 19 April, two come on the 25th.
fn one_after_the_other() -> (Grower, SowingId, SowingId) {
    let mut grower = Grower::growing(1, &shelf("48 x 22 in"));
    let first = grower.sow(150, &[stage("sheet of 50", "2025-03-01")], "2025-04-20");
    let second = grower.sow(100, &[stage("sheet of 50", "2025-04-25")], "2025-06-12");
    (grower, first, second)
}

#[test]
fn what_goes_out_late_is_in_the_way_of_what_comes_next() {
    let (grower, first, second) = one_after_the_other();
    let found = found(&grower.season);
    // out on the 26th three stand there on the 25th, beside two, on ground for four
    overflows(of(&found, first, Work::Out), "2025-04-25", "2025-04-26", (1, GROWING, "2025-04-25"));
    assert_eq!(found.first().map(|slack| (slack.sowing, slack.work)), Some((first, Work::Out)));
    // six weeks are the least: sown 9 March and 1 May
    let young = |problem: &Problem| matches!(problem, Problem::NotReady { .. });
    ruled(of(&found, first, Work::Sown), "2025-03-09", young);
    ruled(of(&found, second, Work::Sown), "2025-05-01", young);
    // nothing comes after it
    let last = of(&found, second, Work::Out);
    assert_eq!((&last.end, last.days()), (&End::Never, 28));
}

/// What is said of a work of it on its own page.
fn said(grower: &Grower, sowing: SowingId, work: Work) -> String {
    let (library, forecast) = (Library::default(), forecast(&grower.season, &Library::default()));
    let unit = flatwright::units::LengthUnit::Centimetre;
    let words = flatwright::words::Words { season: &grower.season, library: &library, forecast: &forecast, unit };
    words.last_safe_day(of(&found(&grower.season), sowing, work))
}

/// Sown on 9 March it is 42 days old on 20 April, as it wants to be; what is said is of the day after.
#[test]
fn the_reason_is_of_the_day_after_and_says_which_that_is() {
    let (grower, first, _) = one_after_the_other();
    assert_eq!(
        said(&grower, first, Work::Sown),
        "May be sown until 9 Mar (8 days later), and no later: sown on 10 Mar it would be 41 days old when it goes out \
         on 20 Apr, and wants 42"
    );
    let mut grower = Grower::growing(1, &shelf("48 x 22 in"));
    let stages = [stage("sheet of 38", "2025-03-01"), stage("sheet of 72", "2025-03-22")];
    let moved = grower.sow(72, &stages, "2025-04-20");
    let early = said(&grower, moved, Work::Sown);
    assert_eq!(
        early,
        "May be sown until 8 Mar (7 days later), and no later: sown on 9 Mar it would be moved on 22 Mar, before its \
         leaves are likely to be there, about 23 Mar"
    );
}

/// Every rule that ends a work of the sample: the day that is spoken of is the one after the last, in the conditional.
#[test]
fn every_rule_is_said_of_the_day_on_which_it_would_be_broken() {
    let (sample, library) = (store::sample(), store::library());
    let told = asked(&sample, library, None, &Cancel::default()).unwrap_or_else(|_| panic!("nobody cancelled it"));
    let planned = forecast(&sample, library);
    let unit = flatwright::units::LengthUnit::Inch;
    let words = flatwright::words::Words { season: &sample, library, forecast: &planned, unit };
    let mut rules = 0;
    for slack in &told.all {
        let End::Rule { to, .. } = &slack.end else { continue };
        let said = words.may_wait(slack);
        let (_, reason) = said.split_once(": ").unwrap_or_else(|| panic!("{said}"));
        let on = format!(" on {} ", flatwright::words::day(*to));
        let (work, rest) = reason.split_once(&on).unwrap_or_else(|| panic!("{said}"));
        assert!(words.work_done(slack).starts_with(work), "{said}");
        assert!(rest.contains(" would ") && !said.contains(" on on "), "{said}");
        rules += 1;
    }
    assert!(rules > 0);
}

#[test]
fn what_waits_in_more_trays_than_it_moves_on_into_is_in_the_way() {
    let mut grower = Grower::growing(1, &shelf("48 x 22 in"));
    // two sheets of 38 become one of 72
    let stages = [stage("sheet of 38", "2025-03-01"), stage("sheet of 72", "2025-03-22")];
    let moved = grower.sow(72, &stages, "2025-04-20");
    grower.sow(150, &[stage("sheet of 50", "2025-03-25")], "2025-05-12");
    let step = grower.season.sowing(moved).map_or_else(|| panic!("it is there"), |sowing| sowing.steps[1].id);
    let found = found(&grower.season);
    overflows(of(&found, moved, Work::MovedOn(step)), "2025-03-25", "2025-03-26", (1, GROWING, "2025-03-25"));
    // leaves are there a fortnight after sowing, and moving on keeps the day that was set
    ruled(of(&found, moved, Work::Sown), "2025-03-08", |problem| matches!(problem, Problem::MovedEarly { .. }));
}

/// A frame for three trays: two harden off for ten days before 20 May, two before 2 June.
#[test]
fn a_frame_is_wanted_by_who_comes_next() {
    let mut grower = Grower::growing(4, &shelf("48 x 24 in"));
    let frame = grower.place(Role::Hardening);
    grower.rack(frame, 1, &shelf("33 x 22 in"));
    let hardening = Sourced::own(Hardening { days: 10, first_night_after: 0 });
    let mut crop = grower.season.own_crops().next().map_or_else(|| panic!("the seedling"), Crop::clone);
    crop.hardening = hardening;
    grower.edit(&Op::PutCrop(Box::new(crop)).into());
    let first = grower.sow(100, &[stage("sheet of 50", "2025-04-01")], "2025-05-20");
    let second = grower.sow(100, &[stage("sheet of 50", "2025-04-15")], "2025-06-02");
    let found = found(&grower.season);
    // the second come into it on 23 May
    let frame = PoolKind::Of(Role::Hardening);
    overflows(of(&found, first, Work::Out), "2025-05-23", "2025-05-24", (1, frame, "2025-05-23"));
    assert_eq!(found.first().map(|slack| (slack.sowing, slack.work)), Some((first, Work::Out)));
    assert_eq!(of(&found, second, Work::Out).end, End::Never);
}

#[test]
fn over_new_year_and_south_of_the_equator_days_are_days() {
    let mut grower = Grower::growing(1, &shelf("48 x 22 in"));
    let first = grower.sow(150, &[stage("sheet of 50", "2025-11-08")], "2025-12-28");
    grower.sow(100, &[stage("sheet of 50", "2026-01-02")], "2026-02-20");
    overflows(of(&found(&grower.season), first, Work::Out), "2026-01-02", "2026-01-03", (1, GROWING, "2026-01-02"));
}

#[test]
fn where_days_are_short_already_a_slip_is_safe_while_no_day_gets_worse() {
    let mut grower = Grower::growing(1, &shelf("48 x 22 in"));
    let three = grower.sow(150, &[stage("sheet of 50", "2025-03-01")], "2025-04-20");
    let two = grower.sow(100, &[stage("sheet of 50", "2025-04-01")], "2025-05-20");
    // six trays on ground for four until 5 April, then five
    let one = grower.sow(50, &[stage("sheet of 50", "2025-02-15")], "2025-04-05");
    let found = found(&grower.season);
    let End::Short(over) = &of(&found, one, Work::Out).end else { panic!("{:?}", of(&found, one, Work::Out)) };
    assert_eq!((over.day, over.short, over.before), (day("2025-04-05"), 2, 1));
    let End::Short(over) = &of(&found, three, Work::Out).end else { panic!("{:?}", of(&found, three, Work::Out)) };
    assert_eq!((over.day, over.short, over.before), (day("2025-04-20"), 1, 0));
    // sown later it is out of the others' way for longer
    ruled(of(&found, two, Work::Sown), "2025-04-08", |problem| matches!(problem, Problem::NotReady { .. }));
    assert_eq!(of(&found, two, Work::Out).end, End::Never);
}

#[test]
fn what_was_seen_has_no_days_to_slip_and_days_away_are_passed_over() {
    let (mut grower, first, second) = one_after_the_other();
    grower.see(first, "2025-03-01", Observed::Sown { cells: None });
    let span = DateSpan::new(day("2025-04-25"), day("2025-04-26")).unwrap_or_else(|why| panic!("{why}"));
    grower.away("a day out", span, false);
    let found = found(&grower.season);
    assert!(!found.all.iter().any(|slack| slack.sowing == first && slack.work == Work::Sown));
    // nobody is there on the 25th
    overflows(of(&found, first, Work::Out), "2025-04-24", "2025-04-26", (1, GROWING, "2025-04-25"));
    grower.see(first, "2025-04-20", Observed::PutOut(150));
    let gone = self::found(&grower.season);
    assert!(gone.all.iter().all(|slack| slack.sowing == second), "{gone:#?}");
}

#[test]
fn one_crop_alone_is_in_nobodys_way() {
    let mut grower = Grower::growing(1, &shelf("48 x 22 in"));
    grower.sow(150, &[stage("sheet of 50", "2025-03-01")], "2025-04-20");
    let found = found(&grower.season);
    assert_eq!(found.all.len(), 2);
    assert!(found.first().is_none(), "{found:?}");
    assert!(self::found(&Grower::new().season).all.is_empty());
}

#[test]
fn one_sowing_asked_by_itself_is_told_the_same() {
    let (grower, first, _) = one_after_the_other();
    let library = Library::default();
    let (forecast, outlook) = (forecast(&grower.season, &library), outlook(&grower.season, &library));
    let of =
        Standing { season: &grower.season, library: &library, forecast: &forecast, outlook: &outlook, today: None };
    let one = can_wait_of(&of, first, &Progress::default(), &Cancel::default()).map(|found| found.all);
    let whole: Vec<Slack> = found(&grower.season).all.into_iter().filter(|slack| slack.sowing == first).collect();
    assert_eq!(one, Ok(whole));
}

#[test]
fn the_sample_is_told_the_same_on_any_number_of_threads_and_stops_when_told() {
    let (sample, cancel) = (store::sample(), Cancel::default());
    let told = |threads| asked(&sample, store::library(), Some(threads), &cancel);
    let one = told(1);
    assert!(one.as_ref().is_ok_and(|found| found.all.len() > 50));
    for threads in [2, 8] {
        assert_eq!(told(threads), one);
    }
    cancel.cancel();
    assert_eq!(told(2), Err(Cancelled));
}

/// What a season with that sowing comes to by what was worked out once, and anew.
#[track_caller]
fn is_as_worked_out_anew(season: &Season, library: &Library, all: impl Iterator<Item = Sowing>) {
    let planned = forecast(season, library).stays;
    let prepared = Prepared::of(season, library);
    for put in all {
        let redone = prepared.with(&put);
        let kept = planned.iter().filter(|stay| !stay.trays.iter().any(|tray| redone.redoes(*tray)));
        let mut stays: Vec<Stay> = kept.chain(&redone.stays).cloned().collect();
        stays.sort_by(|one, other| (one.span, &one.trays).cmp(&(other.span, &other.trays)));
        let mut then = season.clone();
        then.apply(&Op::PutSowing(put.clone()).into()).unwrap_or_else(|why| panic!("{why:?}"));
        assert_eq!(stays, forecast(&then, library).stays, "{put:?}");
    }
}

fn with(sowing: &Sowing, change: impl FnOnce(&mut Sowing)) -> Sowing {
    let mut other = sowing.clone();
    change(&mut other);
    other
}

#[test]
fn a_sowing_of_the_sample_otherwise_is_as_the_whole_forecast_has_it() {
    let (sample, library) = (store::sample(), store::library());
    let planned = forecast(&sample, library);
    let others = sample.sowings().flat_map(|sowing| {
        let sown = planned.courses_of(sowing.id).find_map(|course| course.date(What::Sown)).into_iter();
        let later = sown.flat_map(|sown| {
            [1, 3, 8].map(|days| with(sowing, |sowing| sowing.steps[0].start = Rule::On(days_after(sown, days))))
        });
        let alone = with(sowing, |sowing| sowing.alone = !sowing.alone);
        later.chain([alone]).collect::<Vec<_>>()
    });
    is_as_worked_out_anew(&sample, library, others);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    #[test]
    fn a_sowing_otherwise_is_as_the_whole_forecast_has_it(
        lots in prop::collection::vec((5_u32..70, 0_u64..6, 42_u64..52, any::<bool>(), 1_usize..4), 2..7),
        by_hand in any::<bool>(),
        days in 0_u64..5,
        plants in 5_u32..70,
    ) {
        let mut grower = Grower::growing(2, &shelf("96 x 22 in"));
        grower.rows("rows", FLAT, (10, 5));
        let mut ids = Vec::new();
        for &(plants, sown, stands, moves, batches) in &lots {
            let [sown, out] = [sown, sown + stands].map(|days| days_after(day("2025-03-01"), days).to_string());
            let moved = days_after(day(&sown), 15).to_string();
            let stages = [stage("rows", &sown), stage("rows", &moved)];
            let id = grower.sow(plants, if moves { &stages } else { &stages[..1] }, &out);
            let first = grower.season.next_id();
            grower.change(id, |sowing| {
                let more = (1..batches).zip(first..).map(|(at, id)| {
                    let later = u16::try_from(2 * at).unwrap_or(0);
                    Lot { later, delays: Delays::MovingOn, ..Lot::new(LotId(id)) }
                });
                sowing.lots.extend(more);
            });
            ids.push(id);
        }
        if by_hand {
            grower.share_a_tray(&ids[..2]);
        }
        let others = grower.season.sowings().flat_map(|sowing| [
            with(sowing, |sowing| sowing.steps[0].start = Rule::On(days_after(day("2025-03-01"), days))),
            with(sowing, |sowing| sowing.wanted[0].plants = plants),
            with(sowing, |sowing| sowing.alone = true),
            with(sowing, |sowing| sowing.wanted[0].date = days_after(day("2025-04-16"), days)),
            sowing.renumbered(grower.season.next_id()),
        ]);
        is_as_worked_out_anew(&grower.season, &Library::default(), others);
    }
}

/// The work done on another day, as the grower writes it down.
fn by_hand(season: &Season, slack: &Slack, to: NaiveDate) -> Season {
    let mut then = season.clone();
    let mut sowing = season.sowing(slack.sowing).cloned().unwrap_or_else(|| panic!("it is there"));
    match slack.work {
        Work::Sown => sowing.steps[0].start = Rule::On(to),
        Work::MovedOn(step) => {
            let step = sowing.steps.iter_mut().find(|one| one.id == step);
            step.unwrap_or_else(|| panic!("it is there")).start = Rule::On(to);
        }
        Work::Out => (sowing.wanted[0].date, sowing.wanted[0].rule) = (to, OutRule::Day),
    }
    then.apply(&Op::PutSowing(sowing).into()).unwrap_or_else(|why| panic!("{why:?}"));
    then
}

/// Trays short on a day, by what the whole season is told to be.
fn short_on(outlook: &Outlook, date: NaiveDate) -> bool {
    outlook.crunches.iter().any(|crunch| crunch.span.contains(date))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn a_slip_written_down_by_hand_comes_to_what_was_told(
        trays in prop::collection::vec((1_u32..4, 0_u64..40, 42_u64..60, any::<bool>()), 2..5),
        places in 1_u32..3,
    ) {
        let mut grower = Grower::growing(places, &shelf("48 x 22 in"));
        for (trays, sown, days, moves) in trays {
            let [sown, out] = [sown, sown + days].map(|days| days_after(day("2025-03-01"), days).to_string());
            let moved = days_after(day(&sown), 15).to_string();
            let stages = [stage("sheet of 50", &sown), stage("sheet of 38", &moved)];
            grower.sow(50 * trays, if moves { &stages } else { &stages[..1] }, &out);
        }
        let season = &grower.season;
        let planned = outlook(season, &Library::default());
        for slack in found(season).all {
            let fits = |to| outlook(&by_hand(season, &slack, to), &Library::default());
            if planned.verdict == Verdict::Fits {
                for by in 1..=u64::try_from(slack.days()).unwrap_or(0) {
                    prop_assert_eq!(fits(days_after(slack.on, by)).verdict, Verdict::Fits, "{:?} by {}", slack, by);
                }
            }
            if let End::Short(over) = &slack.end {
                let then = fits(over.to);
                prop_assert!(short_on(&then, over.day), "{:?}: {:?}", slack, then.crunches);
                prop_assert!(over.before > 0 || !short_on(&planned, over.day), "{:?}", slack);
            }
        }
    }
}

#[test]
fn a_guest_in_the_way_counts_as_any_tray() {
    let (mut grower, first, _) = one_after_the_other();
    grower.guests(2, FLAT, "2025-04-22", "2025-04-24");
    overflows(of(&found(&grower.season), first, Work::Out), "2025-04-22", "2025-04-23", (1, GROWING, "2025-04-22"));
}
