//! What a frame of the window costs: the program's own time, from the input to triangles ready to be drawn, over the
//! invented nursery that ships (400 sowings), grown to 72 benches and 2,000 trays on its fullest day, all with a spot.
//! What the graphics card does with them is not in it.
//!
//! `cargo bench --bench frames`; each row says how many frames, the median and the 99th percentile of the time that the
//! window's thread had the processor, the same by the clock (which other programs have a part in), and the median as a
//! ratio to that of the same window with nothing sown, in the same run.

use std::fmt::Write as _;
use std::io::Write as _;
use std::time::{Duration, Instant};

use chrono::{Days, NaiveDate};
use cpu_time::ThreadTime;
use eframe::App as _;
use egui::{
    Context, CursorIcon, Event, Modifiers, MouseWheelSource, MouseWheelUnit, PointerButton, Pos2, RawInput, Rect,
    TouchPhase, pos2, vec2,
};
use flatwright::fit::{Cancel, Memory, Progress};
use flatwright::forecast::{Stay, forecast};
use flatwright::outlook::{Effort, Keep, look_ahead};
use flatwright::season::make::{InPlace, NewRack};
use flatwright::season::{Op, Season};
use flatwright::store;
use flatwright::units::Size;
use flatwright::window::App;

const FRAMES: usize = 400;
const SIZE: egui::Vec2 = vec2(1280.0, 800.0);
/// From one picture of a screen to the next.
const SCREEN: Duration = Duration::from_micros(16_667);

/// One frame.
#[derive(Clone, Copy)]
struct Took {
    own: Duration,
    clock: Duration,
}

struct Driven {
    app: App,
    ctx: Context,
    frame: eframe::Frame,
    time: f64,
    /// Over a bar of the plan it is a hand.
    cursor: CursorIcon,
}

impl Driven {
    fn new(season: Season, today: NaiveDate) -> Self {
        let mut new = Self {
            app: App::new(season, None, today),
            ctx: Context::default(),
            frame: eframe::Frame::_new_kittest(),
            time: 0.0,
            cursor: CursorIcon::Default,
        };
        for _ in 0..8 {
            new.frame(Vec::new());
        }
        new
    }

    /// Until the shelves have answered and what is likely is known, so that all of it is drawn.
    fn settle(&mut self) {
        let end = Instant::now() + Duration::from_mins(3);
        while (self.app.outlook().is_none() || self.app.chance().is_none()) && Instant::now() < end {
            self.frame(Vec::new());
            std::thread::sleep(Duration::from_millis(20));
        }
        self.frame(Vec::new());
    }

    fn frame(&mut self, events: Vec<Event>) -> Took {
        self.time += 1.0 / 60.0;
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, SIZE)),
            time: Some(self.time),
            events,
            ..RawInput::default()
        };
        let (start, clock) = (ThreadTime::now(), Instant::now());
        let Self { app, ctx, frame, .. } = self;
        let mut output = ctx.run_ui(input, |ui| {
            app.logic(ui.ctx(), frame);
            app.ui(ui, frame);
        });
        output.textures_delta.clear();
        let triangles = ctx.tessellate(output.shapes, output.pixels_per_point);
        std::hint::black_box(triangles);
        self.cursor = output.platform_output.cursor_icon;
        Took { own: start.elapsed(), clock: clock.elapsed() }
    }

    /// Frames as a screen wants them, so that what works beside them has the time that it has there.
    fn frames(&mut self, events: impl Fn(usize) -> Vec<Event>) -> Vec<Took> {
        let one = |n: usize| {
            let took = self.frame(events(n));
            std::thread::sleep(SCREEN.saturating_sub(took.clock));
            took
        };
        (0..FRAMES).map(one).collect()
    }

    fn click(&mut self, at: Pos2) {
        self.frame(vec![Event::PointerMoved(at)]);
        for pressed in [true, false] {
            self.frame(vec![button(at, pressed)]);
        }
        self.frame(Vec::new());
    }
}

const fn button(pos: Pos2, pressed: bool) -> Event {
    Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE }
}

fn wheel(by: f32) -> Event {
    Event::MouseWheel {
        unit: MouseWheelUnit::Point,
        delta: vec2(0.0, by),
        phase: TouchPhase::Move,
        source: MouseWheelSource::Wheel,
        modifiers: Modifiers::NONE,
    }
}

/// Median and 99th percentile, in milliseconds.
fn figures(took: &[Took], of: fn(&Took) -> Duration) -> [f64; 2] {
    let mut times: Vec<Duration> = took.iter().map(of).collect();
    times.sort_unstable();
    let at = |part: f64| times[((times.len() - 1) as f64 * part) as usize].as_secs_f64() * 1e3;
    [at(0.5), at(0.99)]
}

/// From left to right over the strip, with the button down.
fn scrubbed(window: &mut Driven) -> Vec<Took> {
    let at = |part: f32| pos2(240.0 + 700.0 * part, 700.0);
    window.frame(vec![Event::PointerMoved(at(0.0))]);
    window.frame(vec![button(at(0.0), true)]);
    let times = window.frames(|n| vec![Event::PointerMoved(at(n as f32 / FRAMES as f32))]);
    window.frame(vec![button(at(1.0), false)]);
    times
}

fn scrolled(window: &mut Driven) -> Vec<Took> {
    window.frame(vec![Event::PointerMoved(pos2(500.0, 350.0))]);
    window.frames(|n| vec![wheel(if n < FRAMES / 2 { -40.0 } else { 40.0 })])
}

/// A bar in the middle of the rows, to and fro; its season is shown as it would be.
fn dragged(window: &mut Driven) -> Vec<Took> {
    let all = (0..14).flat_map(|row| (0..60).map(move |at| pos2(240.0 + 12.0 * at as f32, 190.0 + 28.0 * row as f32)));
    let over_a_bar = |at: &Pos2| {
        window.frame(vec![Event::PointerMoved(*at)]);
        window.frame(Vec::new());
        window.cursor == CursorIcon::Grab
    };
    let from = all.into_iter().find(over_a_bar).expect("a bar in view");
    window.frame(vec![button(from, true)]);
    let to = |n: usize| from + vec2((n as f32 / 12.0).sin() * 60.0, 0.0);
    let times = window.frames(|n| vec![Event::PointerMoved(to(n))]);
    window.frame(vec![Event::Key {
        key: egui::Key::Escape,
        physical_key: None,
        pressed: true,
        repeat: false,
        modifiers: Modifiers::NONE,
    }]);
    window.frame(vec![button(from, false)]);
    times
}

fn idle(window: &mut Driven) -> Vec<Took> {
    window.frames(|_| Vec::new())
}

const BENCHES: usize = 72;
const TRAYS: u64 = 2_000;

/// The nursery with more benches like its first and more plants of every sowing; its fullest day, and the trays then.
fn grown(mut season: Season) -> (Season, NaiveDate, usize) {
    let racks = season.racks();
    let (place, there) = (racks.first().expect("a bench").place, racks.len());
    let shelf = season.shelves_of(racks.first().expect("a bench").id).first().map(|shelf| (*shelf).clone());
    let shelf = shelf.expect("a shelf");
    for bench in there..BENCHES {
        let size = Size { width: shelf.width.clone(), depth: shelf.depth.clone() };
        let (clear_height, overhang) = (shelf.clear_height.clone(), Some(shelf.overhang.clone()));
        let lamp = !shelf.zones.is_empty();
        let name = format!("Bench {}", bench + 1);
        let new = NewRack { name, place: InPlace::There(place), tiers: 1, size, clear_height, overhang, lamp };
        let (edit, _) = new.edit(&season);
        season.apply(&edit).expect("a bench more");
    }
    let fullest = |season: &Season| {
        let stays = forecast(season, store::library()).stays;
        let on = |day: NaiveDate| stays.iter().filter(|stay| stay.span.contains(day)).count();
        stays.iter().map(|stay: &Stay| stay.span.from()).map(|day| (on(day), day)).max().expect("stays")
    };
    let (before, _) = fullest(&season);
    for sowing in season.sowings().cloned().collect::<Vec<_>>() {
        let mut more = sowing;
        for wanted in &mut more.wanted {
            wanted.plants = u32::try_from(u64::from(wanted.plants) * TRAYS / before as u64).unwrap_or(u32::MAX);
        }
        season.apply(&Op::PutSowing(more).into()).expect("more plants");
    }
    let now = forecast(&season, store::library());
    let (progress, cancel) = (Progress::default(), Cancel::default());
    let found = look_ahead(&season, &now, Keep::Spots, Effort::default(), &mut Memory::default(), &progress, &cancel);
    let layout = Op::SetLayout(found.expect("nobody cancels").layout);
    season.apply(&layout.into()).expect("spots");
    let (trays, day) = fullest(&season);
    (season, day, trays)
}

type Does = fn(&mut Driven) -> Vec<Took>;

fn main() {
    let today = NaiveDate::default().checked_add_days(Days::new(20_930)).unwrap_or_default();
    let nursery = store::load(std::path::Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/nursery.ron")));
    let mut empty = Driven::new(Season::new("Empty"), today);
    let [baseline, _] = figures(&idle(&mut empty), |took| took.own);
    let (season, day, trays) = grown(nursery.expect("the nursery ships"));
    let mut window = Driven::new(season, day);
    window.settle();
    let room = pos2(256.0, 17.0);
    let plan = pos2(301.0, 17.0);
    let mut table = format!("{BENCHES} benches, {trays} trays on {day}\n");
    let heads = ["frames", "own ms", "99 %", "clock ms", "99 %", "ratio"];
    writeln!(table, "{:<24}{}", "", heads.map(|head| format!("{head:>10}")).concat()).ok();
    writeln!(table, "{:<24}{FRAMES:>10}{baseline:>10.2}{:>40}", "nothing sown", "1").ok();
    let rows: [(&str, Pos2, Does); 5] = [
        ("room, redrawn", room, idle),
        ("room, days scrubbed", room, scrubbed),
        ("plan, redrawn", plan, idle),
        ("plan, rows scrolled", plan, scrolled),
        ("plan, a bar dragged", plan, dragged),
    ];
    for (name, tab, does) in rows {
        window.click(tab);
        let took = does(&mut window);
        let [own, own_late] = figures(&took, |took| took.own);
        let [clock, clock_late] = figures(&took, |took| took.clock);
        let ratio = own / baseline;
        writeln!(
            table,
            "{name:<24}{FRAMES:>10}{own:>10.2}{own_late:>10.2}{clock:>10.2}{clock_late:>10.2}{ratio:>10.1}"
        )
        .ok();
    }
    std::io::stdout().write_all(table.as_bytes()).ok(); // nobody reads it
}
