//! A program that is killed while it saves, on a real disk.

use std::io::{BufRead as _, BufReader, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use flatwright::season::Op;
use flatwright::store::{RealDisk, load, sample, save, versions};

const FILE: &str = "FLATWRIGHT_TEST_SAVES_TO";
const NAME: &str = "killed::a_child_that_saves_until_it_is_killed";

/// Does nothing unless the test below starts it.
#[test]
fn a_child_that_saves_until_it_is_killed() {
    let Some(path) = std::env::var_os(FILE) else { return };
    let mut season = sample();
    let mut out = std::io::stdout();
    for n in 0.. {
        season.apply(&Op::SetNote(format!("Saved {n} times. ").repeat(500)).into()).unwrap();
        save(Path::new(&path), &season).unwrap();
        writeln!(out, "saved").unwrap();
    }
}

/// So many, or as many as `FLATWRIGHT_KILLS` says.
const KILLS: usize = 20;

#[expect(clippy::print_stdout, reason = "the counts are what is asked for")]
#[test]
fn a_program_killed_while_saving_leaves_the_file_whole() {
    let kills = std::env::var("FLATWRIGHT_KILLS").map_or(KILLS, |kills| kills.parse().unwrap());
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("spring.ron");
    let mut broken = Vec::new();
    for kill in 0..kills {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", NAME, "--nocapture"])
            .env(FILE, &path)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        // Open until the end: a child that can't tell any more would end by itself.
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        let saves = 1 + kill % 5;
        let seen = lines.by_ref().filter(|line| line.ends_with("saved")).take(saves).count();
        // Somewhere in the save that follows, each time elsewhere.
        let begun = Instant::now();
        while begun.elapsed() < Duration::from_micros((kill as u64 * 379) % 9000) {}
        child.kill().unwrap();
        child.wait().unwrap();
        assert_eq!(seen, saves, "it was still saving");
        let kept = versions(&RealDisk, &path).unwrap();
        assert!(kill == 0 || !kept.is_empty(), "kill {kill}: no version is kept");
        let files = kept.into_iter().map(|version| version.file).chain([path.clone()]);
        broken.extend(files.filter_map(|file| load(&file).err()).map(|why| format!("kill {kill}: {why}")));
    }
    // What was being written is left behind, under the number of its program, and swept away an hour later.
    let names = std::fs::read_dir(folder.path()).unwrap().filter_map(Result::ok);
    let parts = names.filter(|name| name.path().extension().is_some_and(|end| end == "part")).count();
    println!("{kills} kills, {} broken files, {parts} of them in the middle of writing", broken.len());
    assert!(broken.is_empty(), "{broken:#?}");
}
