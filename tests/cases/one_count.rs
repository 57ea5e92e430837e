//! Whatever is said of a day and a place is said with the same numbers: in the list of what is short, in
//! the weeks, over the strip's bars and at the terminal.

use flatwright::fit::{self, Cancel, Memory, Progress};
use flatwright::forecast::{Forecast, forecast};
use flatwright::outlook::{Crunch, Effort, Keep, Outlook, PoolKind, Verdict, Week, look_ahead};
use flatwright::season::{
    ContainerKind, Library, Op, Place, PlaceId, RimShape, Role, Season, Shelf, Sowing, Zone, ZoneKind,
};
use flatwright::store;
use flatwright::trade::QuickLine;
use flatwright::units::{DateSpan, LengthUnit, shifted};
use flatwright::words::{self, Words, commands};
use proptest::prelude::*;

use crate::properties;
use crate::support::{GROWING, Grower, day, days_after, length, pot, shelf, stage, zone};

fn span(week: &Week) -> DateSpan {
    DateSpan::new(week.from, shifted(week.from, 7)).expect("a week has days")
}

/// The figures as they are said, without the rest of the sentence.
fn said(short: u32, at_most: u32, needed: u32, held: u32) -> [String; 3] {
    [
        format!("{needed} wanted"),
        format!("room for {}", words::held_of(needed, held, short, at_most)),
        words::short_of(short, at_most),
    ]
}

/// What of the season does not say the same in every place.
#[derive(Default)]
struct Disagreements(Vec<String>);

impl Disagreements {
    /// Who fills a week adds up to what the week counts.
    fn whose_they_are(&mut self, outlook: &Outlook) {
        for week in &outlook.weeks {
            let sum: u32 = week.who.iter().map(|stands| stands.number).sum();
            if sum != week.needed {
                self.0.push(format!("{}: {} wanted, and {sum} are somebody's", week.from, week.needed));
            }
        }
    }

    fn of(outlook: &Outlook, words: &Words<'_>) -> Vec<String> {
        let mut found = Self::default();
        found.whose_they_are(outlook);
        for crunch in &outlook.crunches {
            found.in_the_list(outlook, crunch, &words.crunch(crunch));
        }
        for week in &outlook.weeks {
            found.in_a_week(outlook, week, &words::weeks::of_week(week, None, true));
        }
        if let Some((_, worst)) = outlook.worst() {
            let headline = words.headline(outlook);
            found.expect(headline.contains(&words::short(worst)), format!("{headline}: {}", words.crunch(worst)));
            found.expect(outlook.crunches.iter().all(|other| other.short <= worst.short), headline);
        }
        found.0
    }

    fn expect(&mut self, holds: bool, what: String) {
        if !holds {
            self.0.push(what);
        }
    }

    fn in_the_list(&mut self, outlook: &Outlook, crunch: &Crunch, list: &str) {
        let of = |crunch: &Crunch| (crunch.needed, crunch.held, crunch.short, crunch.short_at_most);
        let (needed, held, short, at_most) = of(crunch);
        let day = crunch.worst_day;
        self.expect(needed == held + short && short >= 1 && short <= at_most, format!("{list}: {needed} − {held}"));
        self.expect(
            said(short, at_most, needed, held).iter().all(|part| list.contains(part)),
            format!("{list}: no {crunch:?}"),
        );
        let proven = (crunch.proven.needed, crunch.proven.needed - crunch.proven.held);
        self.expect(proven.0 <= needed && proven.1 <= short, format!("{list}: proven by {proven:?}"));
        for pool in &crunch.pools {
            let Some(week) = outlook.weeks_of(pool.kind).find(|week| span(week).contains(day)) else {
                self.expect(false, format!("{list}: no week of {pool:?}"));
                continue;
            };
            // another day of the same week may be as bad or worse
            let same = of(crunch) == (week.needed, week.held, week.short, week.short_at_most);
            let other = week.worst_day != day && (week.short, week.needed) >= (short, needed);
            self.expect((same || other) && week.verdict == Verdict::Crunch, format!("{list}: its week says {week:?}"));
        }
    }

    fn in_a_week(&mut self, outlook: &Outlook, week: &Week, hover: &str) {
        let running = || outlook.crunches.iter().filter(|crunch| crunch.concerns(week.pool.kind, span(week)));
        match week.verdict {
            Verdict::Crunch => {
                self.expect(week.needed == week.held + week.short, format!("{hover}: {week:?}"));
                let figures = said(week.short, week.short_at_most, week.needed, week.held);
                self.expect(
                    hover.contains(&figures[0]) && hover.contains(&format!("{}, {}", figures[1], figures[2])),
                    hover.to_owned(),
                );
                let bar = [words::weeks::short(week), commands::room(week)];
                self.expect(bar.iter().all(|bar| *bar == figures[2]), format!("{hover}: {bar:?}"));
                let listed = running().any(|crunch| crunch.short >= week.short);
                self.expect(listed, format!("{hover}: in no list"));
            }
            Verdict::Fits => {
                self.expect((week.short, week.short_at_most) == (0, 0), format!("{hover}: {week:?}"));
                self.expect(week.held == week.needed + week.spare, format!("{hover}: {week:?}"));
            }
            Verdict::Unsettled => self.expect(week.short == 0 && week.short_at_most > 0, format!("{hover}: {week:?}")),
        }
        let crunch = running().next();
        self.expect(crunch.is_none() || week.verdict == Verdict::Crunch, format!("{hover}: {crunch:?}"));
    }
}

#[track_caller]
fn check(season: &Season) -> (Forecast, Outlook) {
    let library = store::library();
    let forecast = forecast(season, library);
    let (mut memory, progress, cancel) = (Memory::default(), Progress::default(), Cancel::default());
    let outlook = look_ahead(season, &forecast, Keep::Pinned, Effort::default(), &mut memory, &progress, &cancel);
    let outlook = outlook.unwrap_or_else(|_| panic!("nobody cancelled it"));
    let words = Words { season, library, forecast: &forecast, unit: LengthUnit::Inch };
    assert_eq!(Disagreements::of(&outlook, &words), Vec::<String>::new());
    (forecast, outlook)
}

#[test]
fn the_sample_says_the_same_everywhere() {
    let season = store::sample();
    let (forecast, outlook) = check(&season);
    let words = Words { season: &season, library: store::library(), forecast: &forecast, unit: LengthUnit::Inch };

    // some of the 28 stand on mats that lie on shelves which the others want: one row less, 27 is the most
    let week = |pool| {
        let mut weeks = outlook.weeks_of(pool);
        weeks.find(|week: &&Week| week.from == day("2027-05-03")).expect("something stands there")
    };
    let figures = |week: &Week| (week.verdict, week.needed, week.held, week.short, week.short_at_most);
    let both = (Verdict::Crunch, 28, 27, 1, 1);
    assert_eq!((figures(week(GROWING)), figures(week(PoolKind::BottomHeat))), (both, both));
    let on_the_day = forecast.on(day("2027-05-06")).filter(|stay| stay.needs.role != Role::Hardening).count();
    assert_eq!(on_the_day, 28, "trays that are indoors");
    let listed = outlook.crunches.iter().find(|crunch| crunch.worst_day == day("2027-05-06")).expect("it is listed");
    assert_eq!(listed.pools.iter().map(|pool| pool.kind).collect::<Vec<_>>(), [GROWING, PoolKind::BottomHeat]);
    assert_eq!((listed.needed, listed.held, listed.short), (28, 27, 1));
    assert!(words.crunch(listed).contains("growing shelves (Community room) and bottom heat (Community room)"));
    assert!(
        words::weeks::of_week(week(PoolKind::BottomHeat), None, true)
            .contains("28 wanted together with growing shelves, room for 27, 1 short")
    );

    let worst = outlook.worst().expect("it is too full").1;
    // the lettuce of 19 April wants light to sprout: its two trays are no stack
    let indoors = forecast.on(day("2027-04-20")).filter(|stay| stay.needs.role == Role::Growing).count();
    assert_eq!((worst.worst_day, worst.needed as usize), (day("2027-04-20"), indoors));
    let hover = outlook.weeks_of(GROWING).find(|week| week.from == day("2027-04-19")).expect("something stands there");
    assert_eq!((hover.needed, hover.held, hover.short), (worst.needed, worst.held, worst.short));
}

/// 100 cucumbers are sown in the cells they stay in, nine times in ten enough with 124 of them: three trays of 50
/// more, and no shelf for any of them. The sample alone has 28 for 27 on 6 May, mats and all.
#[test]
fn more_on_top_is_counted_once_too() {
    let (mut season, library) = (store::sample(), store::library());
    let alone =
        forecast(&season, library).on(day("2027-04-25")).filter(|stay| stay.needs.role == Role::Growing).count();
    let alone = u32::try_from(alone).expect("some dozens");
    let line = QuickLine::read(
        "100 cucumber, out 16 May",
        library.crops.values(),
        library.containers.values(),
        day("2027-02-01"),
        None,
    );
    let line = line.expect("a good line");
    let sowing = line.sowing(&library.crops[&line.crop], library).renumbered(season.next_id());
    let sowing = Sowing { bottom_heat: Some(true), ..sowing };
    season.apply(&Op::PutSowing(sowing).into()).expect("a good sowing");
    let (forecast, outlook) = check(&season);
    let (_, worst) = outlook.worst().expect("it is too full");
    let figures = (worst.worst_day, worst.needed, worst.held, worst.short, worst.short_at_most);
    assert_eq!(figures, (day("2027-04-25"), alone + 3, 28, alone + 3 - 28, alone + 3 - 28));
    let bar = |from| outlook.weeks_of(GROWING).find(|week| week.from == from).map(|week| (week.needed, week.short));
    assert_eq!(bar(day("2027-04-19")), Some((alone + 3, alone + 3 - 28)));
    assert_eq!(bar(day("2027-05-03")), Some((28 + 3, 1 + 3)));
    let words = Words { season: &season, library, forecast: &forecast, unit: LengthUnit::Inch };
    let headline = words.headline(&outlook);
    let pools = "growing shelves (Community room) and bottom heat (Community room)";
    assert!(headline.ends_with(&format!("{pools}: {} short", alone + 3 - 28)), "{headline}");
}

/// Round pots of 7 cm that touch, on one bench of 100 × 60 cm.
#[track_caller]
fn bench(pots: u32, zones: Vec<Zone>) -> Outlook {
    let mut grower = Grower::growing(1, &Shelf { zones, ..shelf("100 x 60 cm") });
    grower.container("pot", ContainerKind::Pot(pot(RimShape::Round, "7 cm")));
    grower.sow(pots, &[stage("pot", "2025-03-31")], "2025-05-19");
    let (outlook, forecast, library) = (grower.look().outlook, grower.forecast(), Library::default());
    let words = Words { season: &grower.season, library: &library, forecast: &forecast, unit: LengthUnit::Millimetre };
    assert_eq!(Disagreements::of(&outlook, &words), Vec::<String>::new());
    outlook
}

/// Rows of 8 along the depth, the shifted ones too (8 × 7 cm, and 3.5 cm more, is under 60), each row
/// 7 × √3 ∕ 2 = 6.06 cm from the next: 1 + ⌊(100 − 7) ∕ 6.06⌋ = 16 rows, 128 pots.
#[test]
fn weeks_hold_as_many_round_pots_as_rows_of_them_do() {
    let outlook = bench(100, Vec::new());
    assert_eq!(fit::count_round(length("100 cm").units(), length("60 cm").units(), length("7 cm").units()), 128);
    let week = outlook.weeks_of(GROWING).find(|week| week.needed == 100).expect("they stand there");
    assert_eq!((week.verdict, week.held, week.spare), (Verdict::Fits, 128, 28));
}

/// No proof leaves fewer than Oler's bound: 2 ∕ √3 × 93 ∕ 7 × 53 ∕ 7 + (93 + 53) ∕ 7 + 1 = 138.01.
#[test]
fn a_shortage_of_round_pots_is_a_range_from_the_bound_to_what_rows_hold() {
    let outlook = bench(200, Vec::new());
    let (_, crunch) = outlook.worst().expect("too many");
    assert_eq!((crunch.needed, crunch.held, crunch.short, crunch.short_at_most), (200, 138, 62, 72));
    let week = outlook.weeks_of(GROWING).find(|week| week.verdict == Verdict::Crunch).expect("too many");
    assert_eq!((week.needed, week.held, week.short, week.short_at_most), (200, 138, 62, 72));
    assert!(words::weeks::of_week(week, None, true).contains("200 wanted, room for 128 to 138, 62 to 72 short"));
}

/// On 50 cm of it 8 rows of 8: 1 + ⌊(50 − 7) ∕ 6.06⌋ = 8.
#[test]
fn a_lamp_serves_single_pots_and_not_blocks_of_them() {
    let outlook = bench(100, vec![zone(ZoneKind::Lamp, "50 x 60 cm")]);
    let week = outlook.weeks_of(GROWING).find(|week| week.over_lit > 0).expect("half of the bench is dark");
    assert_eq!((week.lit, week.over_lit), (Some(64), 36));
}

#[track_caller]
fn open(grower: &mut Grower, id: PlaceId, (from, until): (&str, &str)) {
    let place = grower.season.place(id).cloned().expect("it was made");
    let open = vec![DateSpan::new(day(from), day(until)).expect("days")];
    grower.edit(&Op::PutPlace(Place { open, ..place }).into());
}

/// Whatever stands on a shelf when another opens may stand there too from that day.
#[test]
fn a_place_that_opens_while_trays_stand_counts_from_that_day() {
    let mut grower = Grower::growing(1, &shelf("48 x 24 in"));
    let later = grower.place(Role::Growing);
    grower.rack(later, 1, &shelf("48 x 24 in"));
    open(&mut grower, later, ("2025-04-14", "2025-12-01"));
    grower.sow(72, &[stage("sheet of 72", "2025-03-31")], "2025-05-19");
    let looked = grower.look().fits();
    // 4 × 10.94 = 43.76 in: four on each
    assert_eq!((looked.week("2025-04-13").held, looked.week("2025-04-14").held), (4, 8));
}

/// The shelf that the three stand on is closed for ten days; what is open meanwhile is so for no longer.
#[test]
fn out_and_back_are_two_moves_of_each_tray() {
    let mut grower = Grower::new();
    let (home, elsewhere) = (grower.place(Role::Growing), grower.place(Role::Growing));
    let closed = DateSpan::new(day("2025-04-10"), day("2025-04-20")).expect("ten days");
    grower.rack(home, 1, &Shelf { closed: vec![closed], ..shelf("48 x 24 in") });
    grower.rack(elsewhere, 1, &shelf("48 x 24 in"));
    open(&mut grower, elsewhere, ("2025-04-08", "2025-04-22"));
    grower.sow(216, &[stage("sheet of 72", "2025-03-31")], "2025-05-19");
    let looked = grower.look().fits();
    assert_eq!(looked.outlook.moves, 6);
    assert_eq!(looked.season.spots().count(), 9, "there, out, and back");
    assert_eq!(words::verdict_of(&looked.outlook), "Everything fits, with 6 extra moves along the way");
}

/// What makes places get into each other's way, beside what is drawn for every season.
#[derive(Clone, Debug)]
struct Mixed {
    drawn: properties::Drawn,
    /// Of the sowings and of the shelves, which germinate on mats and which have a lamp.
    heated: Vec<bool>,
    lit: Vec<bool>,
    /// A shelf to harden off, from so many days after the first on.
    lawn: Option<u64>,
}

fn mixed() -> impl Strategy<Value = Mixed> {
    let flags = || proptest::collection::vec(any::<bool>(), 4);
    (properties::seasons(), flags(), flags(), proptest::option::of(0..60_u64))
        .prop_map(|(drawn, heated, lit, lawn)| Mixed { drawn, heated, lit, lawn })
}

impl Mixed {
    fn grower(&self) -> Grower {
        let mut grower = properties::build(&self.drawn, 1);
        let sowings: Vec<_> = grower.season.sowings().map(|sowing| sowing.id).collect();
        for (id, heated) in sowings.into_iter().zip(&self.heated) {
            grower.change(id, |sowing| sowing.bottom_heat = Some(*heated));
        }
        let shelves: Vec<Shelf> = grower.season.shelves().cloned().collect();
        for (mut shelf, _) in shelves.into_iter().zip(&self.lit).filter(|(_, lit)| **lit) {
            shelf.zones.push(zone(ZoneKind::Lamp, "36 x 18 in"));
            grower.edit(&Op::PutShelf(shelf).into());
        }
        if let Some(days) = self.lawn {
            let lawn = grower.place(Role::Hardening);
            grower.rack(lawn, 1, &shelf("48 x 24 in"));
            open(&mut grower, lawn, (&days_after(day("2025-03-20"), days).to_string(), "2025-12-01"));
        }
        grower
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn whatever_stands_there_is_counted_once(drawn in mixed()) {
        let looked = drawn.grower().look_with(properties::EFFORT);
        let words = Words {
            season: &looked.season,
            library: &Library::default(),
            forecast: &looked.forecast,
            unit: LengthUnit::Inch,
        };
        prop_assert_eq!(Disagreements::of(&looked.outlook, &words), Vec::<String>::new());
    }
}
