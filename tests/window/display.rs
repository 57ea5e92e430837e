//! The program itself on a real display, with real keys; `.ci/run` brings both.

use std::process::{Child, Command};
use std::time::{Duration, Instant};

struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        self.0.kill().ok(); // it may have ended by itself
        self.0.wait().ok();
    }
}

/// Asks again and again for a minute.
fn soon<T>(what: &str, mut ask: impl FnMut() -> Option<T>) -> T {
    let deadline = Instant::now() + Duration::from_mins(1);
    loop {
        if let Some(found) = ask() {
            return found;
        }
        assert!(Instant::now() < deadline, "no {what} within a minute");
        std::thread::sleep(Duration::from_millis(100));
    }
}

fn xdotool(arguments: &[&str]) -> Option<String> {
    let done = Command::new("xdotool").args(arguments).output().ok()?;
    done.status.success().then(|| String::from_utf8_lossy(&done.stdout).trim().to_owned())
}

#[test]
#[ignore = "needs a display, and xdotool"]
fn the_program_opens_its_window_and_leaves_by_the_keys() {
    let home = tempfile::tempdir().expect("a folder of its own");
    let program = Command::new(env!("CARGO_BIN_EXE_flatwright"))
        .env("HOME", home.path())
        .env("XDG_DATA_HOME", home.path())
        .spawn();
    let mut program = Running(program.expect("the program starts"));
    let window = soon("window", || xdotool(&["search", "--name", "Flatwright"]).filter(|id| !id.is_empty()));
    let window = window.lines().last().unwrap_or_default().to_owned();
    let left = soon("end after Ctrl+Q", || {
        xdotool(&["windowfocus", &window]);
        xdotool(&["key", "ctrl+q"]);
        program.0.try_wait().ok().flatten()
    });
    assert!(left.success(), "{left}");
}
