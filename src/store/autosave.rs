//! Keeps a copy of unsaved work, off the window's thread.
//!
//! The newest state is written soon after the first change that is not in the copy, however many
//! follow. Nobody waits for it, except at the end: [`Keeper::keep_now`] and dropping the
//! [`Autosave`] write what is still to be written.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender, SyncSender};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};
use std::{fmt, io};

use crate::season::Season;

use super::copies::Owner;
use super::disk::Disk;
use super::document::Document;
use super::file::{FileError, FileErrorKind, to_text};

/// A program that is told to end waits no longer for a disk.
const PATIENCE: Duration = Duration::from_secs(5);

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum AutosaveStatus {
    /// Nothing was written yet, or what was is not needed any more.
    #[default]
    Idle,
    Kept {
        file: PathBuf,
    },
    /// It is tried again by itself.
    Failed {
        why: NotKept,
    },
}

/// Why unsaved work is not kept.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotKept {
    #[error("autosave has stopped; save the season yourself")]
    Stopped,
    #[error("no folder for it is known here; save the season yourself")]
    NoFolder,
    /// What the disk said of the file.
    #[error("{0}")]
    Disk(String),
}

pub struct Autosave {
    sender: Option<Sender<Message>>,
    status: Arc<Mutex<AutosaveStatus>>,
    thread: Option<JoinHandle<()>>,
}

/// Reaches an [`Autosave`] from wherever the end of the program is seen first.
#[derive(Clone, Debug)]
pub struct Keeper(Sender<Message>);

#[derive(Debug)]
enum Message {
    Changed { of: Option<PathBuf>, season: Box<Season> },
    Settled,
    GivenUp,
    KeepNow(SyncSender<()>),
    End,
}

impl Autosave {
    /// Starts the thread. The copy is in `folder`, at most `after` a first change; `wake` is called
    /// there with every new status.
    ///
    /// # Errors
    /// The system has no thread left.
    pub fn start(
        disk: Arc<dyn Disk>,
        folder: Option<PathBuf>,
        after: Duration,
        wake: impl Fn(&AutosaveStatus) + Send + 'static,
    ) -> io::Result<Self> {
        let (sender, inbox) = mpsc::channel();
        let status = Arc::<Mutex<AutosaveStatus>>::default();
        let thread = thread::Builder::new().name("autosave".to_owned()).spawn({
            let status = Arc::clone(&status);
            move || {
                let report = |new| {
                    *status.lock().unwrap_or_else(PoisonError::into_inner) = AutosaveStatus::clone(&new);
                    wake(&new);
                };
                Work { disk, folder, owner: None, after, pending: None }.run(&inbox, &report);
            }
        })?;
        Ok(Self { sender: Some(sender), status, thread: Some(thread) })
    }

    /// Takes note of a new state of the season in that file, or in none; returns at once.
    pub fn changed(&self, of: Option<&Path>, season: &Season) {
        self.send(Message::Changed { of: of.map(Path::to_owned), season: Box::new(season.clone()) });
    }

    /// The season is as in its file: the copy is taken away.
    pub fn settled(&self) {
        self.send(Message::Settled);
    }

    /// What is not saved is not wanted: it is kept for thirty days more.
    pub fn given_up(&self) {
        self.send(Message::GivenUp);
    }

    pub fn status(&self) -> AutosaveStatus {
        self.status.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    pub fn keeper(&self) -> Option<Keeper> {
        self.sender.clone().map(Keeper)
    }

    fn send(&self, message: Message) {
        if self.sender.as_ref().is_none_or(|sender| sender.send(message).is_err()) {
            *self.status.lock().unwrap_or_else(PoisonError::into_inner) =
                AutosaveStatus::Failed { why: NotKept::Stopped };
        }
    }
}

impl Keeper {
    /// Returns when what is not saved is kept, or can't be.
    pub fn keep_now(&self) {
        let (done, kept) = mpsc::sync_channel(1);
        if self.0.send(Message::KeepNow(done)).is_ok() {
            kept.recv_timeout(PATIENCE).ok(); // either way this is the end
        }
    }
}

impl Drop for Autosave {
    fn drop(&mut self) {
        // Keepers may outlive it: it has to be told.
        self.send(Message::End);
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

/// A state that is not in the copy.
#[derive(Debug)]
struct Pending {
    of: Option<PathBuf>,
    season: Box<Season>,
    /// When it is to be written.
    due: Instant,
}

struct Work {
    disk: Arc<dyn Disk>,
    folder: Option<PathBuf>,
    /// From the first copy on.
    owner: Option<Owner>,
    after: Duration,
    pending: Option<Pending>,
}

impl Work {
    fn run(&mut self, inbox: &Receiver<Message>, report: &impl Fn(AutosaveStatus)) {
        loop {
            let message = match &self.pending {
                Some(pending) => inbox.recv_timeout(pending.due.saturating_duration_since(Instant::now())),
                None => inbox.recv().map_err(RecvTimeoutError::from),
            };
            match message {
                Ok(Message::Changed { of, season }) => {
                    let due = self.pending.take().map_or_else(|| Instant::now() + self.after, |first| first.due);
                    self.pending = Some(Pending { of, season, due });
                }
                Ok(Message::Settled) => {
                    self.pending = None;
                    self.owner.iter().for_each(Owner::remove);
                    report(AutosaveStatus::Idle);
                }
                Ok(Message::GivenUp) => {
                    self.throw();
                    report(AutosaveStatus::Idle);
                }
                Ok(Message::KeepNow(done)) => {
                    self.write(report);
                    done.send(()).ok(); // who asked has waited long enough
                }
                Err(RecvTimeoutError::Timeout) => self.write(report),
                Ok(Message::End) | Err(RecvTimeoutError::Disconnected) => return self.write(report),
            }
        }
    }

    fn write(&mut self, report: &impl Fn(AutosaveStatus)) {
        let Some(Pending { of, season, .. }) = self.pending.take() else { return };
        match self.keep(of.as_deref(), &season) {
            Ok(file) => report(AutosaveStatus::Kept { file }),
            Err(why) => {
                // Tried again until it is kept.
                self.pending = Some(Pending { of, season, due: Instant::now() + self.after });
                report(AutosaveStatus::Failed { why });
            }
        }
    }

    fn keep(&mut self, of: Option<&Path>, season: &Season) -> Result<PathBuf, NotKept> {
        let folder = self.folder.clone().ok_or(NotKept::NoFolder)?;
        let not_kept = |why| NotKept::Disk(FileError::new(&folder, FileErrorKind::Write(why)).to_string());
        let owner = match self.owner.take() {
            Some(owner) => owner,
            None => Owner::anew(&self.disk, &folder).map_err(not_kept)?,
        };
        let owner = self.owner.insert(owner);
        owner.keep(of, &to_text(season)).map_err(not_kept)?;
        Ok(owner.copy.clone())
    }

    /// What can't be laid aside stays in its copy, to be offered again; the next work gets another.
    fn throw(&mut self) {
        // What is thrown away is the newest state too.
        if let Some(Pending { of, season, .. }) = self.pending.take() {
            self.keep(of.as_deref(), &season).ok();
        }
        let thrown = |owner: &Owner| {
            self.disk.read(&owner.copy, Document::Season.most_bytes()).and_then(|text| owner.throw(&text)).is_ok()
        };
        self.owner = self.owner.take().filter(thrown);
    }
}

#[cfg(test)]
mod tests;
