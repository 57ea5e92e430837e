//! Files that nobody made in earnest: spoilt ones by the thousand, and far too large ones, with little memory.
//!
//! They take minutes: `cargo test --test command hostile -- --ignored --nocapture`; `FLATWRIGHT_SPOILT` says how
//! many spoilt files are made of each example.

use std::fs;
use std::panic::catch_unwind;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use flatwright::forecast::forecast;
use flatwright::store;

use crate::tools::example;

/// A generator of George Marsaglia's (xorshift64, 2003): the same files every time.
struct Spoiler(u64);

impl Spoiler {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(most.max(1)).unwrap()).unwrap()
    }

    fn spoil(&mut self, text: &[u8]) -> Vec<u8> {
        const NUMBERS: [&[u8]; 8] = [b"0", b"1", b"7", b"12", b"30", b"99", b"400", b"65535"];
        const WORDS: [&[u8]; 12] = [
            b"0",
            b"-1",
            b"4294967295",
            b"99999999999999999999",
            b"NaN",
            b"\"\"",
            b"(",
            b")",
            b"[]",
            b"\xFF",
            b"\"9999-12-31\"",
            b"\\u{1b}",
        ];
        let mut spoilt = text.to_vec();
        for _ in 0..=self.below(2) {
            let at = self.below(spoilt.len());
            let end = (at + self.below(40)).min(spoilt.len());
            match self.below(12) {
                0 => drop(spoilt.drain(at..end)),
                1 => {
                    let again = spoilt[at..end].to_vec();
                    spoilt.splice(at..at, again);
                }
                other @ 2..=8 => {
                    // mostly what may still be a season
                    let word =
                        if other < 8 { NUMBERS[self.below(NUMBERS.len())] } else { WORDS[self.below(WORDS.len())] };
                    // where a number or a word stands, else anywhere
                    let from = spoilt[at..].iter().position(u8::is_ascii_digit).map_or(at, |more| at + more);
                    let length = spoilt[from..].iter().take_while(|byte| byte.is_ascii_digit()).count();
                    spoilt.splice(from..from + length, word.iter().copied());
                }
                9 | 10 if at < spoilt.len() => spoilt[at] ^= 1 << self.below(8),
                _ => spoilt.truncate(at.max(1)),
            }
        }
        spoilt
    }
}

#[test]
#[ignore = "takes minutes"]
#[expect(clippy::print_stdout, reason = "counts, for who asks with --nocapture")]
fn spoilt_seasons_are_read_or_refused() {
    let number: usize = std::env::var("FLATWRIGHT_SPOILT").ok().and_then(|number| number.parse().ok()).unwrap_or(1_000);
    let folder = tempfile::tempdir().unwrap();
    let (mut read, mut refused) = (0, 0);
    for name in ["community-room.ron", "roomy.ron", "southern.ron"] {
        let text = fs::read(example(name)).unwrap();
        let mut spoiler = Spoiler(0x9E37_79B9_7F4A_7C15);
        for _ in 0..number {
            let spoilt = spoiler.spoil(&text);
            let file = folder.path().join("spoilt.ron");
            fs::write(&file, &spoilt).unwrap();
            let went = catch_unwind(|| match store::load(&file) {
                Ok(season) => {
                    drop(forecast(&season, store::library()));
                    true
                }
                Err(why) => {
                    let said = why.to_string();
                    assert!(said.contains("spoilt.ron") && said.lines().count() == 1, "{said}");
                    false
                }
            });
            match went {
                Ok(true) => read += 1,
                Ok(false) => refused += 1,
                Err(why) => panic!("{why:?} on {}", String::from_utf8_lossy(&spoilt)),
            }
        }
    }
    println!("{} spoilt seasons: {read} read, {refused} refused, no panic", read + refused);
    assert!(read > number / 10 && refused > number / 10, "{read} read, {refused} refused");
}

fn season(shelves: &str, sowings: &str, guests: &str) -> String {
    format!(
        "(format: \"flatwright season\", version: 2, name: \"Large\", places: [(id: 1, name: \"Room\", role: Growing)], \
         racks: [(id: 2, place: 1, name: \"Rack\")], shelves: [{shelves}], sowings: [{sowings}], guests: [{guests}])"
    )
}

fn shelves(number: usize) -> String {
    let one = |i| format!("(id: {}, rack: 2, tier: {}, size: \"48 x 24 in\"),", 3 + i, 1 + i % 200);
    (0..number).map(one).collect()
}

fn sowings(number: usize, plants: usize) -> String {
    let one = |i| {
        let id = 300_000 + 4 * i;
        format!(
            "(id: {id}, crop: \"tomato\", wanted: [(date: \"2027-05-16\", plants: {plants})], steps: [(id: {}, container: \
             \"plug_72\"), (id: {}, container: \"sq_3_5\", carried_in: \"flat_1020\")], lots: [(id: {})]),",
            id + 1,
            id + 2,
            id + 3
        )
    };
    (0..number).map(one).collect()
}

fn guests(entries: usize, number: usize) -> String {
    let one = |i| {
        format!(
            "(id: {}, name: \"Fuchsia\", size: \"8 x 8 in\", number: {number}, span: (from: \"2027-01-01\", until: \
             \"2027-06-01\"), role: Growing),",
            900_000 + i
        )
    };
    (0..entries).map(one).collect()
}

/// Each within a minute and 512 MB; the exit code says whether it was answered.
#[test]
#[ignore = "takes minutes"]
#[cfg(target_os = "linux")]
#[expect(clippy::print_stdout, reason = "times, for who asks with --nocapture")]
fn what_is_too_much_is_answered_or_refused() {
    let folder = tempfile::tempdir().unwrap();
    let run = |name: &str, file: &Path, rest: &[&str], refused: Option<&str>| {
        let started = Instant::now();
        let program = env!("CARGO_BIN_EXE_flatwright");
        let mut command = Command::new("sh");
        command.args(["-c", "ulimit -v 524288; exec \"$@\"", "sh", program, rest[0]]).arg(file).args(&rest[1..]);
        let done = command.output().unwrap();
        let (took, said) = (started.elapsed(), String::from_utf8_lossy(&done.stderr).into_owned());
        println!(
            "{name}, {}: exit {:?} in {:.1} s {}",
            rest.join(" "),
            done.status.code(),
            took.as_secs_f32(),
            said.trim_end()
        );
        assert!(took < Duration::from_mins(1), "{name}: {took:?}");
        match refused {
            Some(limit) => assert!(done.status.code() == Some(2) && said.contains(limit), "{name}: {said}"),
            None => assert!(matches!(done.status.code(), Some(0 | 1)) && said.is_empty(), "{name}: {said}"),
        }
    };
    for (name, text, refused) in [
        ("a million plants", season(&shelves(1), &sowings(1, 1_000_000), ""), None),
        ("a million plants in ten", season(&shelves(1), &sowings(10, 100_000), ""), None),
        (
            "over a million plants",
            season(&shelves(1), &sowings(2, 1_000_000), ""),
            Some("1000000 in all, found 2000000"),
        ),
        ("2,000 shelves", season(&shelves(2_000), &sowings(20, 500), ""), None),
        ("10,000 shelves", season(&shelves(10_000), &sowings(1, 72), ""), Some("2000 in all, found 2001")),
        ("100,000 guests", season(&shelves(1), &sowings(1, 72), &guests(10, 10_000)), None),
        ("guests in 100,000 entries", season(&shelves(1), "", &guests(100_000, 1)), Some("20000 in all, found 20001")),
        ("20,000 sowings", season(&shelves(4), &sowings(20_000, 6), ""), None),
    ] {
        let file = folder.path().join("large.ron");
        fs::write(&file, text).unwrap();
        run(name, &file, &["check"], refused);
    }
    for name in ["community-room.ron", "roomy.ron", "southern.ron", "nursery.ron"] {
        run(name, &example(name), &["check"], None);
        run(name, &example(name), &["weeks"], None);
    }
    run("nursery.ron", &example("nursery.ron"), &["weeks", "--draws", "20000"], None);
}
