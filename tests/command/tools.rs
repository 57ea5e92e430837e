use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// How a call ended.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

#[track_caller]
pub(crate) fn run<A: AsRef<OsStr>>(args: impl IntoIterator<Item = A>) -> Ran {
    let mut command = Command::new(env!("CARGO_BIN_EXE_flatwright"));
    let done = command
        .args(args)
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .output()
        .expect("the program starts");
    Ran {
        code: done.status.code().expect("the program ends by itself"),
        out: String::from_utf8(done.stdout).expect("stdout is UTF-8"),
        err: String::from_utf8(done.stderr).expect("stderr is UTF-8"),
    }
}

/// Runs, and expects that exit code and a quiet stderr.
#[track_caller]
pub(crate) fn says<A: AsRef<OsStr>>(args: impl IntoIterator<Item = A>, code: i32) -> String {
    let ran = run(args);
    assert_eq!((ran.code, ran.err.as_str()), (code, ""), "{}", ran.out);
    ran.out
}

#[track_caller]
pub(crate) fn json<A: AsRef<OsStr>>(args: impl IntoIterator<Item = A>, code: i32) -> Value {
    let out = says(args, code);
    serde_json::from_str(&out).unwrap_or_else(|why| panic!("{why} in {out}"))
}

/// Bad input: exit code 2, nothing on stdout, and a line on stderr that has all of `parts`.
#[track_caller]
pub(crate) fn refuses<A: AsRef<OsStr>>(args: impl IntoIterator<Item = A>, parts: &[&str]) {
    let ran = run(args);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.err);
    for part in parts {
        assert!(ran.err.contains(part), "no {part:?} in {:?}", ran.err);
    }
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
}

pub(crate) fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)
}

/// A season in which everything fits, and one in which not everything does.
pub(crate) fn roomy() -> PathBuf {
    example("roomy.ron")
}

pub(crate) fn crowded() -> PathBuf {
    example("community-room.ron")
}

/// `["check", FILE]` and the like, of mixed types.
#[macro_export]
macro_rules! args {
    ($($arg:expr),* $(,)?) => { [$(std::ffi::OsString::from($arg)),*] };
}

/// The names of an object's fields, in order.
#[track_caller]
pub(crate) fn fields(value: &Value) -> Vec<&str> {
    value.as_object().unwrap_or_else(|| panic!("no object: {value}")).keys().map(String::as_str).collect()
}

#[track_caller]
pub(crate) fn list<'a>(value: &'a Value, name: &str) -> &'a [Value] {
    value.get(name).and_then(Value::as_array).unwrap_or_else(|| panic!("no list {name} in {value}"))
}

#[track_caller]
pub(crate) fn text<'a>(value: &'a Value, name: &str) -> &'a str {
    value.get(name).and_then(Value::as_str).unwrap_or_else(|| panic!("no text {name} in {value}"))
}

#[track_caller]
pub(crate) fn number(value: &Value, name: &str) -> i64 {
    value.get(name).and_then(Value::as_i64).unwrap_or_else(|| panic!("no number {name} in {value}"))
}
