//! The program itself, ended from outside in every way there is, on a display of its own.

use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use flatwright::store;

#[derive(Clone, Copy, Debug, PartialEq)]
enum End {
    /// `TERM`, `HUP` and what the keys `Ctrl` `C` of a terminal send.
    Told(&'static str),
    /// No program hears of this one.
    Killed,
    DisplayGoes,
}

struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        self.0.kill().ok(); // it may have ended by itself
        self.0.wait().ok();
    }
}

fn display() -> (Running, String) {
    let arguments = ["-displayfd", "1", "-screen", "0", "1280x800x24", "-noreset"];
    let mut server =
        Command::new("Xvfb").args(arguments).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("it starts");
    let mut number = String::new();
    BufReader::new(server.stdout.take().expect("a pipe")).read_line(&mut number).expect("its number");
    (Running(server), format!(":{}", number.trim()))
}

fn xdotool(display: &str, arguments: &str) -> String {
    let mut command = Command::new("timeout");
    let done =
        command.args(["60", "xdotool"]).args(arguments.split(' ')).env("DISPLAY", display).output().expect("it runs");
    assert!(done.status.success(), "xdotool {arguments}");
    String::from_utf8_lossy(&done.stdout).trim().to_owned()
}

fn copy_in(home: &Path) -> Option<PathBuf> {
    let files = std::fs::read_dir(home.join("flatwright/unsaved")).into_iter().flatten().filter_map(Result::ok);
    files.map(|file| file.path()).find(|path| path.extension().is_some_and(|end| end == "ron"))
}

/// What is left of the name that was written at the end.
fn left_after(end: End) -> Option<String> {
    let home = tempfile::tempdir().expect("a folder");
    let (mut server, display) = display();
    let mut program = Command::new(env!("CARGO_BIN_EXE_flatwright"));
    program.env("DISPLAY", &display).env_remove("WAYLAND_DISPLAY").env("LIBGL_ALWAYS_SOFTWARE", "1");
    for name in ["HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME"] {
        program.env(name, home.path());
    }
    let mut program = Running(program.stderr(Stdio::null()).spawn().expect("there"));
    let pid = program.0.id();
    let window = xdotool(&display, &format!("search --sync --onlyvisible --pid {pid} --name Flatwright"));
    let window = window.lines().last().unwrap_or_default();
    xdotool(&display, &format!("windowfocus --sync {window} sleep 2 key ctrl+n sleep 1"));
    // The field for the season's name; written again and again, without a pause of three seconds.
    let begun = Instant::now();
    for n in 0.. {
        let keys = format!("mousemove 300 335 click 1 sleep 0.1 key ctrl+a type Kept{n}");
        xdotool(&display, &keys);
        xdotool(&display, "key Return sleep 0.2");
        if end != End::Killed || begun.elapsed() > Duration::from_millis(3500) {
            break;
        }
    }
    match end {
        End::Told(signal) => drop(Command::new("kill").args([&format!("-{signal}"), &pid.to_string()]).status()),
        End::Killed => program.0.kill().expect("it runs"),
        End::DisplayGoes => server.0.kill().expect("it runs"),
    }
    let status = program.0.wait().expect("it ends");
    assert!(!status.success(), "{end:?}: it did not end by this");
    copy_in(home.path()).map(|copy| store::load(&copy).expect("whole").name().to_owned())
}

#[test]
#[ignore = "needs Xvfb and xdotool"]
fn whatever_ends_the_program_what_was_not_saved_is_kept() {
    for end in [End::Told("TERM"), End::Told("HUP"), End::Told("INT"), End::DisplayGoes] {
        assert_eq!(left_after(end).as_deref(), Some("Kept0"), "{end:?}");
    }
    let left = left_after(End::Killed);
    assert!(left.as_ref().is_some_and(|name| name.starts_with("Kept")), "{left:?}");
}
