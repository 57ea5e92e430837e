//! What is kept of work that is in no file, and what other windows left behind.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use crate::season::{Library, Season};
use crate::store::{self, Autosave, AutosaveStatus, Keeper, NotKept, RealDisk, Recovery};
use crate::words::files as words;

use super::wake::Waker;

/// So much work can be lost where the program is not even told that it ends. Our choice, no source.
const AT_MOST_UNKEPT: Duration = Duration::from_secs(2);

#[derive(Debug, Default)]
pub(super) struct Kept {
    folder: Option<PathBuf>,
    autosave: Option<Autosave>,
    /// Left by windows that live no more; the first is asked about.
    offered: Vec<Recovery>,
    /// How many were offered since they were looked for.
    found: usize,
    /// What was taken up; thrown away when its season is safe.
    taken: Option<Recovery>,
}

impl Kept {
    /// Says why nothing can be kept at all.
    pub(super) fn start(&mut self, folder: Option<PathBuf>, waker: &Waker) -> Option<String> {
        self.folder.clone_from(&folder);
        let (waker, was_failing) = (waker.clone(), AtomicBool::new(false));
        let autosave = Autosave::start(Arc::new(RealDisk), folder, AT_MOST_UNKEPT, move |status| {
            // Nothing is painted for what goes as it went before.
            let failing = matches!(status, AutosaveStatus::Failed { .. });
            if was_failing.swap(failing, Ordering::Relaxed) != failing {
                waker.wake();
            }
        });
        match autosave {
            Ok(autosave) => self.autosave = Some(autosave),
            Err(why) => return Some(words::not_kept(&why)),
        }
        None
    }

    /// Finds what is offered again: everything, that of `path` first, or only that of it.
    pub(super) fn look(&mut self, path: Option<&Path>, only: bool, library: &Library) -> Option<String> {
        self.autosave.as_ref()?;
        let folder = self.folder.as_ref()?;
        let disk: Arc<dyn store::Disk> = Arc::new(RealDisk);
        let mut found = match store::left_work(&disk, folder, library) {
            Ok(found) => found,
            Err(why) => return Some(words::found_unreadable(why)),
        };
        let path = path.map(full);
        if only {
            found.work.retain(|work| work.of == path);
        } else {
            found.work.sort_by_key(|work| work.of.is_none() || work.of != path);
        }
        self.offered = found.work;
        self.found = self.offered.len();
        let unreadable: Vec<String> = found.unreadable.iter().map(words::found_unreadable).collect();
        (!unreadable.is_empty() && !only).then(|| unreadable.join("\n"))
    }

    pub(super) fn offered(&self) -> Option<&Recovery> {
        self.offered.first()
    }

    /// The how manyth is offered, of how many.
    pub(super) fn place(&self) -> (usize, usize) {
        (self.found + 1 - self.offered.len(), self.found)
    }

    pub(super) fn next_offered(&mut self) -> Option<Recovery> {
        (!self.offered.is_empty()).then(|| self.offered.remove(0))
    }

    /// Others may have what is still offered.
    pub(super) fn leave_offered(&mut self) {
        self.offered.clear();
    }

    pub(super) fn took(&mut self, recovery: Recovery) {
        self.taken = Some(recovery);
    }

    pub(super) fn changed(&self, path: Option<&Path>, season: &Season) {
        if let Some(autosave) = &self.autosave {
            autosave.changed(path.map(full).as_deref(), season);
        }
    }

    /// The season is as in its file.
    pub(super) fn settled(&mut self) {
        self.autosave.iter().for_each(Autosave::settled);
        if let Some(taken) = self.taken.take() {
            taken.done();
        }
    }

    /// What is not saved is not wanted.
    pub(super) fn given_up(&mut self) {
        self.autosave.iter().for_each(Autosave::given_up);
        if let Some(taken) = self.taken.take() {
            taken.throw(&RealDisk).ok(); // at worst it is offered once more
        }
    }

    /// Why what is not saved is not kept either.
    pub(super) fn failure(&self) -> Option<NotKept> {
        match self.autosave.as_ref()?.status() {
            AutosaveStatus::Failed { why } => Some(why),
            _ => None,
        }
    }

    pub(super) fn keeper(&self) -> Option<Keeper> {
        self.autosave.as_ref()?.keeper()
    }

    pub(super) fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }
}

/// From wherever the program is started next time.
pub(super) fn full(path: &Path) -> PathBuf {
    std::fs::canonicalize(path).or_else(|_| std::path::absolute(path)).unwrap_or_else(|_| path.to_owned())
}
