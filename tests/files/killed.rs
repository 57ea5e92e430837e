//! A program that is killed while it saves, on a real disk.

use std::io::{BufRead as _, BufReader, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};

use flatwright::season::Op;
use flatwright::store::{load, previous_of, sample, save};

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

#[test]
fn a_program_killed_while_saving_leaves_the_file_whole() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("spring.ron");
    for saves in 1..=20 {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", NAME, "--nocapture"])
            .env(FILE, &path)
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let seen = lines.map_while(Result::ok).filter(|line| line.ends_with("saved")).take(saves).count();
        child.kill().unwrap();
        child.wait().unwrap();
        assert_eq!(seen, saves, "it was still saving");
        load(&path).unwrap();
        if saves > 1 {
            load(&previous_of(&path)).unwrap();
        }
    }
}
