//! Where documents go, and whether a file dialog can be had at all, from what the session says.
//!
//! Reads nothing by itself: variables and files are handed in.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// The folder for documents, or else the home folder.
///
/// On Unix the one in `user-dirs.dirs` (the XDG user directories), if it is there.
pub(super) fn documents(
    variable: impl Fn(&str) -> Option<OsString>,
    read: impl Fn(&Path) -> Option<String>,
    is_folder: impl Fn(&Path) -> bool,
) -> Option<PathBuf> {
    let path = |name| variable(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let home = path("HOME").or_else(|| path("USERPROFILE"))?;
    let config = path("XDG_CONFIG_HOME").unwrap_or_else(|| home.join(".config"));
    let named = read(&config.join("user-dirs.dirs")).and_then(|text| documents_in(&text, &home));
    let found = named.into_iter().chain([home.join("Documents")]).find(|folder| is_folder(folder));
    Some(found.unwrap_or(home))
}

fn documents_in(text: &str, home: &Path) -> Option<PathBuf> {
    let line = text.lines().find_map(|line| line.trim().strip_prefix("XDG_DOCUMENTS_DIR="))?;
    let value = line.trim().trim_matches('"');
    match value.strip_prefix("$HOME") {
        Some(rest) => Some(home.join(rest.trim_start_matches('/'))),
        None => Some(PathBuf::from(value)).filter(|path| path.is_absolute()),
    }
}

/// Why no dialog can come up: nobody on the bus to ask for one, and no helper program either.
pub(super) fn no_dialog(
    variable: impl Fn(&str) -> Option<OsString>,
    exists: impl Fn(&Path) -> bool,
) -> Option<&'static str> {
    let some = |name| variable(name).filter(|value| !value.is_empty());
    let bus = some("DBUS_SESSION_BUS_ADDRESS").is_some()
        || some("XDG_RUNTIME_DIR").is_some_and(|folder| exists(&Path::new(&folder).join("bus")));
    let helper =
        some("PATH").is_some_and(|paths| std::env::split_paths(&paths).any(|folder| exists(&folder.join("zenity"))));
    (!bus && !helper).then_some(crate::words::files::NO_DIALOG_SERVICE)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn session<'a>(variables: &'a [(&str, &str)]) -> impl Fn(&str) -> Option<OsString> + 'a {
        |name| variables.iter().find(|(known, _)| *known == name).map(|(_, value)| value.into())
    }

    #[track_caller]
    fn check_documents(dirs: Option<&str>, folders: &[&str], expected: &str) {
        let read =
            |path: &Path| dirs.filter(|_| path == Path::new("/home/g/.config/user-dirs.dirs")).map(str::to_owned);
        let is_folder = |path: &Path| folders.iter().any(|folder| path == Path::new(folder));
        let found = documents(session(&[("HOME", "/home/g")]), read, is_folder);
        assert_eq!(found.as_deref(), Some(Path::new(expected)));
    }

    #[test]
    fn documents_are_where_the_session_says() {
        let dirs = "# made by a tool\nXDG_MUSIC_DIR=\"$HOME/Musik\"\nXDG_DOCUMENTS_DIR=\"$HOME/Dokumente\"\n";
        check_documents(Some(dirs), &["/home/g/Dokumente", "/home/g/Documents"], "/home/g/Dokumente");
        check_documents(Some(dirs), &["/home/g/Documents"], "/home/g/Documents");
        check_documents(Some("XDG_DOCUMENTS_DIR=\"/data/docs\""), &["/data/docs"], "/data/docs");
        check_documents(Some("XDG_DOCUMENTS_DIR=\"docs\""), &["docs"], "/home/g");
        check_documents(None, &["/home/g/Documents"], "/home/g/Documents");
        check_documents(None, &[], "/home/g");
        assert_eq!(documents(session(&[]), |_| None, |_| true), None);
    }

    #[track_caller]
    fn check_dialog(variables: &[(&str, &str)], there: &[&str], can_come: bool) {
        let found = no_dialog(session(variables), |path| there.iter().any(|one| path == Path::new(one)));
        assert_eq!(found.is_none(), can_come, "{variables:?} {there:?}");
    }

    #[cfg(unix)]
    #[test]
    fn without_bus_and_helper_no_dialog_is_waited_for() {
        check_dialog(&[], &[], false);
        check_dialog(&[("DBUS_SESSION_BUS_ADDRESS", "unix:path=/run/bus")], &[], true);
        check_dialog(&[("DBUS_SESSION_BUS_ADDRESS", "")], &[], false);
        check_dialog(&[("XDG_RUNTIME_DIR", "/run/user/1")], &["/run/user/1/bus"], true);
        check_dialog(&[("XDG_RUNTIME_DIR", "/run/user/1")], &[], false);
        check_dialog(&[("PATH", "/bin:/usr/bin")], &["/usr/bin/zenity"], true);
        check_dialog(&[("PATH", "/bin:/usr/bin")], &["/opt/zenity"], false);
    }
}
