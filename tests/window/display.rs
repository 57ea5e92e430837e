//! The program itself on a real display, with real keys; `.ci/run` brings both.

use std::io::Read as _;
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::{Mutex, PoisonError, mpsc};
use std::thread;
use std::time::Duration;

/// One at a time: they share the keys.
static DISPLAY: Mutex<()> = Mutex::new(());

struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        self.0.kill().ok(); // it may have ended by itself
        self.0.wait().ok();
    }
}

/// Waits for its end, which is brought about after a minute if it doesn't come by itself.
fn ended(child: &mut Child) -> ExitStatus {
    let (over, patience) = mpsc::channel::<()>();
    let pid = child.id().to_string();
    let watch = thread::Builder::new().spawn(move || {
        if patience.recv_timeout(Duration::from_mins(1)) == Err(mpsc::RecvTimeoutError::Timeout) {
            Command::new("kill").arg(pid).status().ok(); // it may have ended just now
        }
    });
    let status = child.wait().expect("it can be waited for");
    drop(over);
    watch.expect("a thread").join().expect("no panic");
    status
}

fn xdotool(arguments: &[&str]) -> Option<String> {
    let done = Command::new("xdotool").args(arguments).output().ok()?;
    done.status.success().then(|| String::from_utf8_lossy(&done.stdout).trim().to_owned())
}

/// The program with settings of its own; the window is on the screen.
fn start(home: &Path) -> (Running, String) {
    let program = Command::new(env!("CARGO_BIN_EXE_flatwright"))
        .env("HOME", home)
        .env("XDG_DATA_HOME", home)
        .env("XDG_CONFIG_HOME", home)
        .env("WINIT_X11_SCALE_FACTOR", "1.5")
        .spawn();
    let mut program = Running(program.expect("the program starts"));
    let pid = program.0.id().to_string();
    let search = ["search", "--sync", "--onlyvisible", "--pid", &pid, "--name", "Flatwright"];
    let mut search = Command::new("xdotool").args(search).stdout(Stdio::piped()).spawn().expect("xdotool is there");
    let found = ended(&mut search);
    assert!(found.success(), "no window within a minute; ended: {:?}", program.0.try_wait());
    let mut windows = String::new();
    search.stdout.take().expect("a pipe").read_to_string(&mut windows).expect("numbers");
    (program, windows.lines().last().unwrap_or_default().to_owned())
}

fn quit((mut program, window): (Running, String)) {
    xdotool(&["windowfocus", "--sync", &window]).expect("it can have the keys");
    xdotool(&["key", "ctrl+q"]).expect("a key");
    let left = ended(&mut program.0);
    assert!(left.success(), "{left}");
}

/// Position and size as the display has them.
fn geometry(window: &str) -> String {
    xdotool(&["getwindowgeometry", "--shell", window])
        .expect("a window has its place")
        .lines()
        .filter(|line| ["X=", "Y=", "WIDTH=", "HEIGHT="].iter().any(|name| line.starts_with(name)))
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
#[ignore = "needs a display, and xdotool"]
fn the_program_opens_its_window_and_leaves_by_the_keys() {
    let _alone = DISPLAY.lock().unwrap_or_else(PoisonError::into_inner);
    let home = tempfile::tempdir().expect("a folder of its own");
    quit(start(home.path()));
}

#[test]
#[ignore = "needs a display, and xdotool"]
fn ten_starts_move_nothing_and_a_window_that_was_left_outside_comes_back() {
    let _alone = DISPLAY.lock().unwrap_or_else(PoisonError::into_inner);
    let home = tempfile::tempdir().expect("a folder of its own");
    let first = start(home.path());
    xdotool(&["windowmove", "--sync", &first.1, "40", "30"]).expect("it can be moved");
    let expected = geometry(&first.1);
    assert!(expected.starts_with("X=40 Y=30 "), "{expected}");
    quit(first);
    for start_number in 2..=10 {
        let again = start(home.path());
        assert_eq!(geometry(&again.1), expected, "start {start_number}");
        quit(again);
    }
    let settings = home.path().join("flatwright/app.ron");
    let text = std::fs::read_to_string(&settings).expect("settings are kept");
    let outside = text.replace("x:40.0,y:30.0", "x:-5000.0,y:30.0");
    assert_ne!(outside, text, "the place is kept in pixels");
    std::fs::write(&settings, outside).expect("written");
    quit(start(home.path()));
    let text = std::fs::read_to_string(&settings).expect("settings are kept");
    assert!(!text.contains("x:-5000"), "it was left where it came back to: {text}");
    let back = start(home.path());
    assert!(!geometry(&back.1).starts_with("X=-"), "{}", geometry(&back.1));
    quit(back);
}

#[test]
#[ignore = "needs a display"]
fn without_opengl_one_sentence_says_so_and_names_what_works_without() {
    let home = tempfile::tempdir().expect("a folder of its own");
    let ended = Command::new(env!("CARGO_BIN_EXE_flatwright"))
        .env("HOME", home.path())
        .env("XDG_DATA_HOME", home.path())
        .env("LIBGL_DRIVERS_PATH", "/nonexistent")
        .env("__EGL_VENDOR_LIBRARY_DIRS", "/nonexistent")
        .output()
        .expect("the program starts");
    assert_eq!(ended.status.code(), Some(1));
    // The driver may have had its say before.
    let said = String::from_utf8_lossy(&ended.stderr);
    let last = said.lines().last().unwrap_or_default();
    assert!(last.starts_with("no window could be opened: OpenGL, which it is drawn with, is missing"), "{said}");
    let commands = flatwright::words::listed(&flatwright::command::names());
    assert!(last.ends_with(&format!("the commands {commands} need none")), "{said}");
}
