//! The versions that a season's file had before, dated, a few of them.
//!
//! Saving puts what the file held into the folder `.season.ron.versions` beside it, under the moment
//! it had been written. Of those the newest stay, and before them the last one of each day.

use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use chrono::{DateTime, NaiveDate, NaiveDateTime, Utc};

use super::disk::{Disk, Rights, Thing};
use super::write::{replace, sweep};

/// Kept whatever their days. Our choice, no source.
const NEWEST: usize = 5;
/// Days before those, of which the last version is kept. Our choice, no source.
const DAYS: usize = 7;
/// Sorts by time; UTC, to the millisecond.
const NAME: &str = "%Y-%m-%dT%H-%M-%S-%3f";

/// What a file held at some time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Version {
    pub file: PathBuf,
    /// When it had been written.
    pub at: SystemTime,
}

/// The earlier versions of the season in `path`, newest first.
///
/// # Errors
/// Their folder is there and cannot be read.
pub fn versions(disk: &dyn Disk, path: &Path) -> io::Result<Vec<Version>> {
    let files = match disk.list(&folder_of(&disk.resolve(path)?)?) {
        Ok(files) => files,
        Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(why) => return Err(why),
    };
    let mut found: Vec<Version> = files.into_iter().filter_map(version).collect();
    found.sort_by(|a, b| b.file.cmp(&a.file));
    Ok(found)
}

/// Puts what `target` holds, `bytes`, among the versions, and lets those go that are too many.
pub(super) fn keep(disk: &dyn Disk, target: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = folder_of(target)?;
    let at = DateTime::<Utc>::from(disk.modified(target)?);
    let file = folder.join(format!("{}.ron", at.format(NAME)));
    if disk.what(&folder)? != Some(Thing::Folder) {
        disk.create_folder(&folder)?;
    }
    replace(disk, &file, bytes, Rights::Of(target))?;
    sweep(disk, &file);
    // What could not be let go is let go by a later save.
    for surplus in surplus(versions(disk, target).unwrap_or_default()) {
        if surplus.file != file {
            disk.remove(&surplus.file).ok();
        }
    }
    Ok(())
}

/// `.season.ron.versions` beside `season.ron`.
fn folder_of(target: &Path) -> io::Result<PathBuf> {
    let mut name = OsString::from(".");
    name.push(target.file_name().ok_or(io::ErrorKind::IsADirectory)?);
    name.push(".versions");
    Ok(target.with_file_name(name))
}

fn version(file: PathBuf) -> Option<Version> {
    let name = file.file_name()?.to_str()?.strip_suffix(".ron")?;
    let at = NaiveDateTime::parse_from_str(name, NAME).ok()?.and_utc().into();
    Some(Version { file, at })
}

/// Of `versions`, newest first, those that are not kept.
fn surplus(versions: Vec<Version>) -> Vec<Version> {
    let mut days: Vec<NaiveDate> = Vec::new();
    let older = versions.into_iter().skip(NEWEST);
    let goes = older.filter(|version| {
        let day = DateTime::<Utc>::from(version.at).date_naive();
        let stays = !days.contains(&day) && days.len() < DAYS;
        if stays {
            days.push(day);
        }
        !stays
    });
    goes.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(day: u32, hour: u32) -> Version {
        version(format!("/plans/.spring.ron.versions/2027-03-{day:02}T{hour:02}-00-00-000.ron").into()).unwrap()
    }

    #[test]
    fn the_newest_stay_and_before_them_the_last_of_each_of_seven_days() {
        // Today at 9, 8, … 0; of each of the 14 days before at 18 and at 6.
        let today = (0..10).rev().map(|hour| of(20, hour));
        let before = (6..20).rev().flat_map(|day| [of(day, 18), of(day, 6)]);
        let all: Vec<Version> = today.chain(before).collect();
        let gone = surplus(all.clone());
        let kept: Vec<Version> = all.into_iter().filter(|version| !gone.contains(version)).collect();
        // 9 to 5 as the newest, 4 as today's last before them, and six days.
        let days = (14..20).rev().map(|day| of(day, 18));
        let expected: Vec<Version> = (4..10).rev().map(|hour| of(20, hour)).chain(days).collect();
        assert_eq!(kept, expected);
    }

    #[test]
    fn other_files_in_the_folder_are_no_versions() {
        for name in ["notes.ron", "2027-03-01.ron", "2027-03-01T10-00-00-000.txt", ".2027.ron.7.part"] {
            assert_eq!(version(Path::new("/plans/.spring.ron.versions").join(name)), None, "{name}");
        }
    }
}
