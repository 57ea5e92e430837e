//! The folder in which every window keeps a copy of its unsaved work.
//!
//! A window's copy is `4711-1.ron`; its first line tells of which file it is. Beside it lies
//! `4711-1.lives`, which the window holds locked for as long as it lives: whoever gets that lock
//! knows that nobody works on the copy, and is its owner from then on. What was thrown away lies in
//! `thrown` for thirty days more.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use super::disk::{Claim, Disk, Rights, Thing};
use super::write::{replace, sweep};

/// So long lies what was thrown away.
const THROWN_FOR: Duration = Duration::from_hours(30 * 24);
const THROWN: &str = "thrown";
const COPY: &str = "ron";
const LIVES: &str = "lives";
const OF: &str = "// of: ";
/// Windows of one program number, dead ones with work that nobody has taken up among them.
const MOST: u32 = 10_000;

/// Holds one copy against all other windows, until it is dropped.
#[derive(Debug)]
pub(super) struct Owner {
    disk: Arc<dyn Disk>,
    pub(super) copy: PathBuf,
    _claim: Box<dyn Claim>,
}

impl Owner {
    /// Of a copy that is not there yet; makes the folder where it is missing.
    pub(super) fn anew(disk: &Arc<dyn Disk>, folder: &Path) -> io::Result<Self> {
        disk.create_folder(folder)?;
        for number in 1..MOST {
            let copy = folder.join(format!("{}-{number}.{COPY}", std::process::id()));
            if let Some(owner) = Self::of(disk, copy)?
                // Not one that died with work in it.
                && disk.what(&owner.copy)?.is_none()
                // Nor one that somebody has just tidied away.
                && disk.what(&owner.copy.with_extension(LIVES))?.is_some()
            {
                return Ok(owner);
            }
        }
        Err(io::ErrorKind::AlreadyExists.into())
    }

    /// `None` while another window holds it.
    pub(super) fn of(disk: &Arc<dyn Disk>, copy: PathBuf) -> io::Result<Option<Self>> {
        let claim = disk.claim(&copy.with_extension(LIVES))?;
        Ok(claim.map(|claim| Self { disk: Arc::clone(disk), copy, _claim: claim }))
    }

    pub(super) fn keep(&self, of: Option<&Path>, text: &str) -> io::Result<()> {
        let text = format!("{OF}{}\n{text}", of.map(escaped).unwrap_or_default());
        replace(&*self.disk, &self.copy, text.as_bytes(), Rights::Private)
    }

    /// The work is safe elsewhere.
    pub(super) fn remove(&self) {
        // At worst it is looked at once more, and found to be the same as its file.
        self.disk.remove(&self.copy).ok();
    }

    /// Lays the work aside for thirty days.
    pub(super) fn throw(&self, text: &[u8]) -> io::Result<()> {
        let folder = thrown_folder(&self.copy);
        self.disk.create_folder(&folder)?;
        let stem = self.copy.file_stem().unwrap_or_default().to_string_lossy();
        for number in 1..MOST {
            let aside = folder.join(format!("{stem}-{number}.{COPY}"));
            if self.disk.what(&aside)?.is_none() {
                // Written anew, not renamed: the days count from now.
                replace(&*self.disk, &aside, text, Rights::Private)?;
                sweep(&*self.disk, &aside);
                self.remove();
                forget_old(&*self.disk, &folder, &aside);
                return Ok(());
            }
        }
        Err(io::ErrorKind::AlreadyExists.into())
    }
}

impl Drop for Owner {
    fn drop(&mut self) {
        if matches!(self.disk.what(&self.copy), Ok(None)) {
            // While the lock is held: of nobody else.
            self.disk.remove(&self.copy.with_extension(LIVES)).ok();
        }
    }
}

fn forget_old(disk: &dyn Disk, folder: &Path, newest: &Path) {
    let (Ok(now), Ok(files)) = (disk.modified(newest), disk.list(folder)) else { return };
    for file in files {
        let age = disk.modified(&file).ok().and_then(|thrown| now.duration_since(thrown).ok());
        if age.is_some_and(|age| age > THROWN_FOR) {
            disk.remove(&file).ok(); // or at the next time
        }
    }
}

fn thrown_folder(copy: &Path) -> PathBuf {
    copy.with_file_name(THROWN)
}

/// All copies in a folder that no window holds, each held by us from now on, or why it can't be.
pub(super) fn left_behind(disk: &Arc<dyn Disk>, folder: &Path) -> io::Result<Vec<Result<Owner, (PathBuf, io::Error)>>> {
    let held = |copy: PathBuf| Owner::of(disk, copy.clone()).map_err(|why| (copy, why)).transpose();
    Ok(copies_in(&**disk, folder)?.into_iter().filter_map(held).collect())
}

/// What was thrown away in the last thirty days.
pub(super) fn thrown(disk: &dyn Disk, folder: &Path) -> io::Result<Vec<PathBuf>> {
    copies_in(disk, &folder.join(THROWN))
}

fn copies_in(disk: &dyn Disk, folder: &Path) -> io::Result<Vec<PathBuf>> {
    let files = match disk.list(folder) {
        Ok(files) => files,
        Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(why) => return Err(why),
    };
    let is_copy = |file: &PathBuf| {
        let is_shown = file.file_name().is_some_and(|name| !name.as_encoded_bytes().starts_with(b"."));
        is_shown && file.extension().is_some_and(|ending| ending == COPY)
    };
    Ok(files.into_iter().filter(is_copy).filter(|file| matches!(disk.what(file), Ok(Some(Thing::File)))).collect())
}

/// The file that a copy's text says it is of.
pub(super) fn of_file(text: &[u8]) -> Option<PathBuf> {
    let line = text.strip_prefix(OF.as_bytes())?.split(|&byte| byte == b'\n').next()?;
    unescaped(std::str::from_utf8(line).ok()?)
}

/// In one line of plain letters, whatever the name: bytes that are none as `%0A`.
fn escaped(path: &Path) -> String {
    let mut text = String::new();
    for &byte in path.as_os_str().as_encoded_bytes() {
        if byte.is_ascii_graphic() && byte != b'%' {
            text.push(char::from(byte));
        } else {
            text.extend(['%', digit(byte >> 4), digit(byte & 0xF)]);
        }
    }
    text
}

fn digit(half: u8) -> char {
    char::from_digit(u32::from(half), 16).unwrap_or_default().to_ascii_uppercase()
}

fn unescaped(text: &str) -> Option<PathBuf> {
    let mut bytes = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find('%') {
        bytes.extend_from_slice(rest.get(..at)?.as_bytes());
        bytes.push(u8::from_str_radix(rest.get(at + 1..at + 3)?, 16).ok()?);
        rest = rest.get(at + 3..)?;
    }
    bytes.extend_from_slice(rest.as_bytes());
    (!bytes.is_empty()).then(|| path_of(bytes))
}

#[cfg(unix)]
fn path_of(bytes: Vec<u8>) -> PathBuf {
    use std::os::unix::ffi::OsStringExt as _;
    std::ffi::OsString::from_vec(bytes).into()
}

/// Elsewhere names are text.
#[cfg(not(unix))]
fn path_of(bytes: Vec<u8>) -> PathBuf {
    String::from_utf8_lossy(&bytes).into_owned().into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_name_of_a_file_stands_in_one_line() {
        for name in ["/plans/spring.ron", "/plans/50 % off.ron", "/a\nb\".ron", "/весна.ron"] {
            let line = escaped(Path::new(name));
            assert!(line.bytes().all(|byte| byte.is_ascii_graphic()), "{line}");
            assert_eq!(of_file(format!("{OF}{line}\n(name: \"x\")").as_bytes()), Some(name.into()));
        }
        for text in ["// of: \n(", "// of: %4", "(", "// of: %ZZ\n"] {
            assert_eq!(of_file(text.as_bytes()), None, "{text}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_name_that_is_no_text_is_kept_too() {
        let path = path_of(b"/plans/\xFF.ron".to_vec());
        assert_eq!(of_file(format!("{OF}{}", escaped(&path)).as_bytes()), Some(path));
    }
}
