//! A disk in memory that can fail at one operation, or stop for good as in a power cut. What was
//! not flushed by then is lost.

use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, Weak};
use std::time::{Duration, SystemTime};

use super::{Claim, Disk, Rights, Thing, Unwritable};

#[derive(Debug, Default)]
pub(in crate::store) struct FaultyDisk(Mutex<State>);

#[derive(Clone, Debug, Default)]
struct State {
    files: BTreeMap<PathBuf, Content>,
    links: BTreeMap<PathBuf, PathBuf>,
    devices: BTreeSet<PathBuf>,
    claims: BTreeMap<PathBuf, Weak<Held>>,
    operations: usize,
    fault: Option<Fault>,
    ticks: u64,
}

#[derive(Clone, Debug)]
struct Content {
    bytes: Vec<u8>,
    flushed: bool,
    protected: bool,
    time: SystemTime,
}

#[derive(Debug)]
struct Held;

impl Claim for Arc<Held> {}

/// Counted in operations, from 0.
#[derive(Clone, Copy, Debug)]
pub(in crate::store) enum Fault {
    /// This one fails; those after it work.
    Once(usize, io::ErrorKind),
    /// This one is not finished, and none after it is begun.
    PowerCut(usize),
    /// From now on no new byte finds room; names can be changed.
    Full,
    /// From now on nothing at all can be changed.
    ReadOnly,
}

impl FaultyDisk {
    pub(in crate::store) fn new(files: &[(&str, &[u8])]) -> Self {
        let disk = Self::default();
        for (path, bytes) in files {
            disk.put(path, bytes);
        }
        disk
    }

    /// Puts a file there without counting an operation.
    pub(in crate::store) fn put(&self, path: &str, bytes: &[u8]) {
        let mut state = self.state();
        let content = Content { bytes: bytes.to_vec(), flushed: true, protected: false, time: state.tick() };
        state.files.insert(path.into(), content);
    }

    pub(in crate::store) fn age(&self, path: &str, by: Duration) {
        if let Some(content) = self.state().files.get_mut(Path::new(path)) {
            content.time -= by;
        }
    }

    pub(in crate::store) fn protect(&self, path: &str) {
        if let Some(content) = self.state().files.get_mut(Path::new(path)) {
            content.protected = true;
        }
    }

    pub(in crate::store) fn link(&self, from: &str, to: &str) {
        self.state().links.insert(from.into(), to.into());
    }

    /// Puts a device there, or a pipe.
    pub(in crate::store) fn device(&self, path: &str) {
        self.state().devices.insert(path.into());
    }

    pub(in crate::store) fn fail(&self, fault: Fault) {
        let mut state = self.state();
        state.operations = 0;
        state.fault = Some(fault);
    }

    pub(in crate::store) fn operations(&self) -> usize {
        self.state().operations
    }

    /// The disk as it is found when the power is back; of what was not flushed, `kept` in ten parts.
    pub(in crate::store) fn after_power_cut(&self, kept: usize) -> Self {
        let mut state = self.state().clone();
        state.fault = None;
        state.claims.clear();
        for content in state.files.values_mut().filter(|content| !content.flushed) {
            content.bytes.truncate(content.bytes.len() * kept / 10);
        }
        Self(Mutex::new(state))
    }

    pub(in crate::store) fn bytes(&self, path: &str) -> Option<Vec<u8>> {
        self.state().files.get(Path::new(path)).map(|content| content.bytes.clone())
    }

    pub(in crate::store) fn names(&self) -> Vec<String> {
        self.state().files.keys().map(|path| path.display().to_string()).collect()
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().expect("no test panics inside")
    }

    fn begin(&self) -> io::Result<MutexGuard<'_, State>> {
        let mut state = self.state();
        let (now, fault) = (state.operations, state.fault);
        state.operations += 1;
        match fault {
            Some(Fault::Once(at, kind)) if at == now => Err(kind.into()),
            Some(Fault::PowerCut(at)) if at <= now => Err(io::Error::other("the power is off")),
            _ => Ok(state),
        }
    }
}

impl FaultyDisk {
    fn begin_change(&self) -> io::Result<MutexGuard<'_, State>> {
        let state = self.begin()?;
        if matches!(state.fault, Some(Fault::ReadOnly)) {
            Err(io::ErrorKind::ReadOnlyFilesystem.into())
        } else {
            Ok(state)
        }
    }
}

impl State {
    fn tick(&mut self) -> SystemTime {
        self.ticks += 1;
        SystemTime::UNIX_EPOCH + Duration::from_secs(1_000_000 + self.ticks)
    }

    fn get(&mut self, path: &Path) -> io::Result<&mut Content> {
        self.files.get_mut(path).ok_or(io::ErrorKind::NotFound.into())
    }
}

impl Disk for FaultyDisk {
    fn read(&self, path: &Path, at_most: u64) -> io::Result<Vec<u8>> {
        let bytes = self.begin()?.get(path)?.bytes.clone();
        if bytes.len() as u64 <= at_most { Ok(bytes) } else { Err(io::ErrorKind::FileTooLarge.into()) }
    }

    fn write_new(&self, path: &Path, bytes: &[u8], _: Rights<'_>) -> io::Result<()> {
        let (now, fault) = (self.operations(), self.state().fault);
        let running = !matches!(fault, Some(Fault::PowerCut(at)) if at < now);
        let begun = match fault {
            Some(Fault::Full) => Err(io::ErrorKind::StorageFull.into()),
            _ => self.begin_change().map(drop),
        };
        if matches!(fault, Some(Fault::ReadOnly)) {
            return begun;
        }
        let mut state = self.state();
        if state.files.contains_key(path) {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        // A write that fails has written a part of it.
        let written = if begun.is_ok() { bytes.len() } else { bytes.len() / 2 };
        if running {
            let content =
                Content { bytes: bytes[..written].to_vec(), flushed: false, protected: false, time: state.tick() };
            state.files.insert(path.to_owned(), content);
        }
        begun
    }

    fn sync(&self, path: &Path) -> io::Result<()> {
        self.begin()?.get(path)?.flushed = true;
        Ok(())
    }

    fn sync_folder(&self, _: &Path) -> io::Result<()> {
        self.begin().map(drop)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let mut state = self.begin_change()?;
        let content = state.files.remove(from).ok_or(io::ErrorKind::NotFound)?;
        state.files.insert(to.to_owned(), content);
        Ok(())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.begin_change()?.files.remove(path).map(drop).ok_or(io::ErrorKind::NotFound.into())
    }

    fn what(&self, path: &Path) -> io::Result<Option<Thing>> {
        let state = self.begin()?;
        Ok(if state.files.contains_key(path) {
            Some(Thing::File)
        } else if state.devices.contains(path) {
            Some(Thing::Other)
        } else if path.file_name().is_none() {
            Some(Thing::Folder)
        } else {
            None
        })
    }

    fn modified(&self, path: &Path) -> io::Result<SystemTime> {
        Ok(self.begin()?.get(path)?.time)
    }

    fn may_write(&self, path: &Path) -> io::Result<()> {
        if self.begin()?.get(path)?.protected { Err(io::Error::other(Unwritable::Protected)) } else { Ok(()) }
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        Ok(self.begin()?.files.keys().filter(|path| path.parent() == Some(folder)).cloned().collect())
    }

    fn create_folder(&self, _: &Path) -> io::Result<()> {
        self.begin_change().map(drop)
    }

    fn claim(&self, path: &Path) -> io::Result<Option<Box<dyn Claim>>> {
        let mut state = self.begin_change()?;
        if state.claims.get(path).is_some_and(|held| held.strong_count() > 0) {
            return Ok(None);
        }
        let held = Arc::new(Held);
        state.claims.insert(path.to_owned(), Arc::downgrade(&held));
        let time = state.tick();
        let empty = Content { bytes: Vec::new(), flushed: true, protected: false, time };
        state.files.entry(path.to_owned()).or_insert(empty);
        Ok(Some(Box::new(held)))
    }

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        Ok(self.begin()?.links.get(path).cloned().unwrap_or_else(|| path.to_owned()))
    }
}
