//! Keeps unsaved work beside the file, off the window's thread.
//!
//! Only the newest state is written, once the changes pause. Nobody waits for it, except at the
//! end: dropping the [`Autosave`] writes what is still to be written.

use std::path::PathBuf;
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::{Duration, SystemTime};
use std::{fmt, io};

use crate::season::Season;

use super::disk::{Disk, Rights};
use super::file::{FileError, FileErrorKind, to_text};
use super::write::replace;

/// Changes after which one is written even though no pause came.
const AT_MOST_UNWRITTEN: u32 = 50;

/// Where a season's unsaved work is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Home {
    /// `.season.ron.autosave.ron` beside the file `season.ron`.
    Beside(PathBuf),
    /// For a season that was never saved; one file for each running program.
    Folder(PathBuf),
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum AutosaveStatus {
    /// Nothing was written yet, or what was is not needed any more.
    #[default]
    Idle,
    Saved {
        file: PathBuf,
        at: SystemTime,
    },
    Failed {
        why: NotKept,
    },
}

/// Why unsaved work is not kept.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotKept {
    #[error("autosave has stopped; save the season yourself")]
    Stopped,
    /// What the disk said of the file.
    #[error("{0}")]
    Disk(String),
}

pub struct Autosave {
    sender: Option<Sender<Message>>,
    status: Arc<Mutex<AutosaveStatus>>,
    thread: Option<JoinHandle<()>>,
}

enum Message {
    Changed(Home, Box<Season>),
    Settled(Home),
}

impl Autosave {
    /// Starts the thread; `wake` is called there after every change of the status.
    ///
    /// # Errors
    /// The system has no thread left.
    pub fn start(disk: Arc<dyn Disk>, pause: Duration, wake: impl Fn() + Send + 'static) -> io::Result<Self> {
        let (sender, inbox) = mpsc::channel();
        let status = Arc::<Mutex<AutosaveStatus>>::default();
        let thread = thread::Builder::new().name("autosave".to_owned()).spawn({
            let status = Arc::clone(&status);
            move || {
                let report = |new| {
                    *status.lock().unwrap_or_else(PoisonError::into_inner) = new;
                    wake();
                };
                run(&*disk, pause, &inbox, report);
            }
        })?;
        Ok(Self { sender: Some(sender), status, thread: Some(thread) })
    }

    /// Takes note of a new state; returns at once.
    pub fn changed(&self, home: Home, season: &Season) {
        self.send(Message::Changed(home, Box::new(season.clone())));
    }

    /// The season was saved, or its changes were given up: its autosave is taken away.
    pub fn settled(&self, home: Home) {
        self.send(Message::Settled(home));
    }

    pub fn status(&self) -> AutosaveStatus {
        self.status.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    fn send(&self, message: Message) {
        if self.sender.as_ref().is_none_or(|sender| sender.send(message).is_err()) {
            *self.status.lock().unwrap_or_else(PoisonError::into_inner) =
                AutosaveStatus::Failed { why: NotKept::Stopped };
        }
    }
}

impl Drop for Autosave {
    fn drop(&mut self) {
        drop(self.sender.take());
        if let Some(thread) = self.thread.take() {
            thread.join().ok(); // a panic there was reported when it happened
        }
    }
}

impl fmt::Debug for Autosave {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Autosave").field("status", &self.status()).finish_non_exhaustive()
    }
}

impl Home {
    /// The file that holds the unsaved work.
    ///
    /// # Errors
    /// A symbolic link cannot be followed, or `Beside` names no file.
    pub fn file(&self, disk: &dyn Disk) -> io::Result<PathBuf> {
        match self {
            Self::Beside(path) => {
                let path = disk.resolve(path)?;
                let mut name = std::ffi::OsString::from(".");
                name.push(path.file_name().ok_or(io::ErrorKind::IsADirectory)?);
                name.push(ENDING);
                Ok(path.with_file_name(name))
            }
            Self::Folder(folder) => Ok(folder.join(format!("{UNSAVED}{}{ENDING}", std::process::id()))),
        }
    }
}

pub(super) const UNSAVED: &str = ".unsaved-";
pub(super) const ENDING: &str = ".autosave.ron";

/// A state that is not written yet, and how many changes led there.
struct Pending {
    home: Home,
    season: Box<Season>,
    changes: u32,
}

fn run(disk: &dyn Disk, pause: Duration, inbox: &Receiver<Message>, report: impl Fn(AutosaveStatus)) {
    let mut pending: Option<Pending> = None;
    let write = |pending: Option<Pending>| {
        if let Some(Pending { home, season, .. }) = pending {
            report(write(disk, &home, &season));
        }
    };
    loop {
        let message = match &pending {
            Some(_) => inbox.recv_timeout(pause),
            None => inbox.recv().map_err(RecvTimeoutError::from),
        };
        match message {
            Ok(Message::Changed(home, season)) => {
                let changes = match pending.take() {
                    Some(same) if same.home == home => same.changes + 1,
                    other => {
                        write(other);
                        1
                    }
                };
                let new = Some(Pending { home, season, changes });
                if changes < AT_MOST_UNWRITTEN { pending = new } else { write(new) }
            }
            Ok(Message::Settled(home)) => {
                pending = pending.filter(|pending| pending.home != home);
                report(match take_away(disk, &home) {
                    Ok(()) => AutosaveStatus::Idle,
                    Err(why) => AutosaveStatus::Failed { why },
                });
            }
            Err(RecvTimeoutError::Timeout) => write(pending.take()),
            Err(RecvTimeoutError::Disconnected) => return write(pending),
        }
    }
}

fn write(disk: &dyn Disk, home: &Home, season: &Season) -> AutosaveStatus {
    let written = home.file(disk).and_then(|file| {
        let like = match home {
            Home::Beside(path) => {
                Some(disk.resolve(path)?).filter(|path| disk.what(path).is_ok_and(|there| there.is_some()))
            }
            Home::Folder(folder) => {
                disk.create_folder(folder)?;
                None
            }
        };
        replace(disk, &file, to_text(season).as_bytes(), like.as_deref().map_or(Rights::Private, Rights::Of))?;
        let at = disk.modified(&file)?;
        Ok(AutosaveStatus::Saved { file, at })
    });
    written.unwrap_or_else(|why| AutosaveStatus::Failed { why: not_kept(home, why) })
}

fn take_away(disk: &dyn Disk, home: &Home) -> Result<(), NotKept> {
    match home.file(disk).and_then(|file| disk.remove(&file)) {
        Err(why) if why.kind() != io::ErrorKind::NotFound => Err(not_kept(home, why)),
        _ => Ok(()),
    }
}

fn not_kept(home: &Home, why: io::Error) -> NotKept {
    let (Home::Beside(path) | Home::Folder(path)) = home;
    NotKept::Disk(FileError::new(path, FileErrorKind::Write(why)).to_string())
}

#[cfg(test)]
mod tests;
