//! The few things that saving asks of a disk, so that a test can let each of them fail.

use std::fmt;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

#[cfg(test)]
pub(super) mod faulty;

/// Symbolic links followed before they are taken for a circle.
const LINKS: usize = 40;

/// Why nothing is written there, beside what the system says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub(super) enum Unwritable {
    #[error("its symbolic links lead in a circle")]
    Circle,
    #[error("this file is protected against writing")]
    Protected,
    /// A device, a pipe: a rename would put a file in its place.
    #[error("this is not a file but a device or a pipe; give a file's name")]
    NoFile,
    #[error("this file belongs to someone else, which saving would change; use another name")]
    NotYours,
}

/// What has a name on the disk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thing {
    File,
    Folder,
    /// A device, a pipe.
    Other,
}

/// Who may read and write a new file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rights<'a> {
    /// As the system has it.
    Usual,
    /// Owner, group and mode of a file that is there.
    Of(&'a Path),
    /// Its owner alone.
    Private,
}

/// A file that is held, until this is dropped.
pub trait Claim: fmt::Debug + Send + Sync {}

impl Claim for File {}

pub trait Disk: fmt::Debug + Send + Sync {
    /// # Errors
    /// `Unsupported` for what is no file, such as a pipe, `FileTooLarge` for more than `at_most` bytes.
    fn read(&self, path: &Path, at_most: u64) -> io::Result<Vec<u8>>;

    /// Writes a file that must not exist.
    ///
    /// # Errors
    /// Also where its owner can't be made the one that `rights` ask for.
    fn write_new(&self, path: &Path, bytes: &[u8], rights: Rights<'_>) -> io::Result<()>;

    /// Returns when the file's bytes would survive a power cut.
    fn sync(&self, path: &Path) -> io::Result<()>;

    /// The same for the names in a folder.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;

    /// In one step, also over a file that is there.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    fn remove(&self, path: &Path) -> io::Result<()>;

    /// What is there, at the end of any links; `None` for nothing.
    fn what(&self, path: &Path) -> io::Result<Option<Thing>>;

    fn modified(&self, path: &Path) -> io::Result<SystemTime>;

    /// # Errors
    /// The file is shut against writing, or against writing by us. It is left as it is.
    fn may_write(&self, path: &Path) -> io::Result<()>;

    /// The files in a folder.
    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>>;

    /// Makes a folder, and those above it, where they are missing.
    fn create_folder(&self, folder: &Path) -> io::Result<()>;

    /// Holds a file of ours, made where it is missing, against everybody else until the claim is
    /// dropped; `None` while somebody holds it. A claim ends with the program that has it.
    fn claim(&self, path: &Path) -> io::Result<Option<Box<dyn Claim>>>;

    /// Where a symbolic link leads, whether or not something is there; the path itself if it is none.
    fn resolve(&self, path: &Path) -> io::Result<PathBuf>;
}

/// The computer's own.
#[derive(Clone, Copy, Debug, Default)]
pub struct RealDisk;

impl Disk for RealDisk {
    fn read(&self, path: &Path, at_most: u64) -> io::Result<Vec<u8>> {
        let meta = fs::metadata(path)?;
        if meta.is_dir() {
            return Err(io::ErrorKind::IsADirectory.into());
        }
        // a pipe without a writer would never open
        if !meta.is_file() {
            return Err(io::ErrorKind::Unsupported.into());
        }
        let mut bytes = Vec::new();
        File::open(path)?.take(at_most.saturating_add(1)).read_to_end(&mut bytes)?;
        // What was read counts, not what the folder says: a pipe has no length.
        if u64::try_from(bytes.len()).is_ok_and(|length| length <= at_most) {
            Ok(bytes)
        } else {
            Err(io::ErrorKind::FileTooLarge.into())
        }
    }

    fn write_new(&self, path: &Path, bytes: &[u8], rights: Rights<'_>) -> io::Result<()> {
        let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
        // Before the bytes: a private season is never open to all, not for a moment.
        give_rights(&file, rights)?;
        file.write_all(bytes)?;
        file.flush()
    }

    fn sync(&self, path: &Path) -> io::Result<()> {
        // Opened for writing, as some systems flush nothing else.
        OpenOptions::new().write(true).open(path)?.sync_all()
    }

    #[cfg(unix)]
    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        File::open(or_here(folder))?.sync_all()
    }

    /// Elsewhere a folder cannot be opened as a file is; its names are written through.
    #[cfg(not(unix))]
    fn sync_folder(&self, _: &Path) -> io::Result<()> {
        Ok(())
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn what(&self, path: &Path) -> io::Result<Option<Thing>> {
        match fs::metadata(path) {
            Ok(found) if found.is_file() => Ok(Some(Thing::File)),
            Ok(found) if found.is_dir() => Ok(Some(Thing::Folder)),
            Ok(_) => Ok(Some(Thing::Other)),
            Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(why) => Err(why),
        }
    }

    fn modified(&self, path: &Path) -> io::Result<SystemTime> {
        fs::metadata(path)?.modified()
    }

    fn may_write(&self, path: &Path) -> io::Result<()> {
        if fs::metadata(path)?.permissions().readonly() {
            return Err(io::Error::other(Unwritable::Protected));
        }
        OpenOptions::new().write(true).open(path).map(drop)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        fs::read_dir(or_here(folder))?.map(|entry| entry.map(|entry| folder.join(entry.file_name()))).collect()
    }

    fn create_folder(&self, folder: &Path) -> io::Result<()> {
        fs::create_dir_all(or_here(folder))
    }

    fn claim(&self, path: &Path) -> io::Result<Option<Box<dyn Claim>>> {
        let file = OpenOptions::new().write(true).create(true).truncate(false).open(path)?;
        match file.try_lock() {
            Ok(()) => Ok(Some(Box::new(file))),
            Err(TryLockError::WouldBlock) => Ok(None),
            // A disk without locks: better offered twice than never.
            Err(TryLockError::Error(why)) if why.kind() == io::ErrorKind::Unsupported => Ok(Some(Box::new(file))),
            Err(TryLockError::Error(why)) => Err(why),
        }
    }

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        let mut path = path.to_owned();
        for _ in 0..LINKS {
            match fs::symlink_metadata(&path) {
                Ok(meta) if meta.is_symlink() => {
                    let target = fs::read_link(&path)?;
                    path = path.parent().unwrap_or(Path::new("")).join(target);
                }
                Ok(_) => return Ok(path),
                Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(path),
                Err(why) => return Err(why),
            }
        }
        Err(io::Error::other(Unwritable::Circle))
    }
}

/// A bare file name has the empty path for its folder.
fn or_here(folder: &Path) -> &Path {
    if folder.as_os_str().is_empty() { Path::new(".") } else { folder }
}

#[cfg(unix)]
fn give_rights(file: &File, rights: Rights<'_>) -> io::Result<()> {
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _, fchown};
    let mode = match rights {
        Rights::Usual => return Ok(()),
        Rights::Private => 0o600,
        Rights::Of(like) => {
            let (wanted, own) = (fs::metadata(like)?, file.metadata()?);
            if (wanted.uid(), wanted.gid()) != (own.uid(), own.gid()) {
                fchown(file, Some(wanted.uid()), Some(wanted.gid())).map_err(|why| match why.kind() {
                    io::ErrorKind::PermissionDenied => io::Error::other(Unwritable::NotYours),
                    _ => why,
                })?;
            }
            wanted.permissions().mode()
        }
    };
    // Last, as another owner takes some of it away.
    file.set_permissions(fs::Permissions::from_mode(mode))
}

/// Elsewhere a file has the rights of its folder.
#[cfg(not(unix))]
fn give_rights(_: &File, _: Rights<'_>) -> io::Result<()> {
    Ok(())
}
