//! Names of season files: those used last, and one that is free for a new one.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

const KEPT: usize = 10;
/// Of a file's name; most disks allow 255 bytes.
const LONGEST: usize = 120;

/// Newest first, none twice.
pub(in crate::window) fn remember(recent: &mut Vec<PathBuf>, path: &Path) {
    recent.retain(|known| known != path);
    recent.insert(0, path.to_owned());
    recent.truncate(KEPT);
}

/// Seasons used before, as they are shown.
#[derive(Clone, Copy)]
pub(in crate::window) struct Recent<'a> {
    pub(in crate::window) paths: &'a [PathBuf],
    /// What the season in each is called, by its path in text.
    pub(in crate::window) names: &'a BTreeMap<String, String>,
}

impl Recent<'_> {
    /// The season's name, or that of its file where it is not known.
    pub(in crate::window) fn name(&self, path: &Path) -> String {
        let known = self.names.get(&key(path)).filter(|name| !name.is_empty());
        known.cloned().unwrap_or_else(|| path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned())
    }
}

/// Remembers what the season in that file is called, and forgets those that are not among the last.
pub(in crate::window) fn remember_name(
    names: &mut BTreeMap<String, String>,
    recent: &[PathBuf],
    path: &Path,
    name: String,
) {
    names.insert(key(path), name);
    names.retain(|known, _| recent.iter().any(|path| key(path) == *known));
}

fn key(path: &Path) -> String {
    path.display().to_string()
}

/// `spring-2027.ron` for "Spring 2027!".
pub(in crate::window) fn file_name(season: &str) -> String {
    let mut name = String::new();
    for c in season.chars().flat_map(char::to_lowercase) {
        let c = if c.is_alphanumeric() { c } else { '-' };
        if name.len() + c.len_utf8() > LONGEST {
            break;
        }
        if c != '-' || !(name.is_empty() || name.ends_with('-')) {
            name.push(c);
        }
    }
    let name = name.trim_matches('-');
    format!("{}.ron", if name.is_empty() { "season" } else { name })
}

/// That name in that folder, or `spring-2027-2.ron` where it is taken by another file.
pub(in crate::window) fn free_name(folder: &Path, season: &str, taken: impl Fn(&Path) -> bool) -> PathBuf {
    let name = file_name(season);
    let stem = name.strip_suffix(".ron").unwrap_or(&name);
    let numbered = (2..10_000).map(|number| folder.join(format!("{stem}-{number}.ron")));
    let mut names = std::iter::once(folder.join(&name)).chain(numbered);
    names.find(|path| !taken(path)).unwrap_or_else(|| folder.join(&name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_file_comes_first_and_none_twice() {
        let mut recent = Vec::new();
        for n in 0..12 {
            remember(&mut recent, Path::new(&format!("/{n}.ron")));
        }
        remember(&mut recent, Path::new("/5.ron"));
        let found: Vec<String> = recent.iter().map(|path| path.display().to_string()).collect();
        assert_eq!(found.first().map(String::as_str), Some("/5.ron"));
        assert_eq!((found.len(), found.iter().filter(|path| *path == "/5.ron").count()), (10, 1));
        assert!(!found.contains(&"/0.ron".to_owned()), "the oldest went");
    }

    #[test]
    fn a_seasons_name_gives_a_files_name() {
        for (season, expected) in [
            ("Spring 2027!", "spring-2027.ron"),
            ("  ../etc/passwd ", "etc-passwd.ron"),
            ("Томат / 番茄", "томат-番茄.ron"),
            ("…", "season.ron"),
            ("", "season.ron"),
        ] {
            assert_eq!(file_name(season), expected);
        }
        assert!(file_name(&"ё".repeat(500)).len() < 130);
    }

    #[test]
    fn a_taken_name_gets_a_number() {
        let folder = Path::new("/plans");
        assert_eq!(free_name(folder, "Spring", |_| false), Path::new("/plans/spring.ron"));
        let taken = |path: &Path| !path.ends_with("spring-3.ron");
        assert_eq!(free_name(folder, "Spring", taken), Path::new("/plans/spring-3.ron"));
    }
}
