//! Looks from time to time whether a file still holds what it held, and wakes who waits for it.
//!
//! Only while it is told to; else its thread sleeps. It reads and compares, and changes nothing.

use std::io;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender};
use std::thread;
use std::time::Duration;

use super::content::{Content, content};
use super::disk::Disk;

#[derive(Debug)]
pub struct Watch {
    /// The thread ends with it, when it is done with what it looks at: nobody waits for a slow disk.
    sender: Sender<Option<Watched>>,
}

/// A file, and what is known to be in it: nothing, where it is known to be gone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Watched {
    pub path: PathBuf,
    pub holds: Option<Content>,
}

impl Watch {
    /// Starts the thread. `wake` is called there, once for everything that is told to it, when the
    /// file holds something else.
    ///
    /// # Errors
    /// The system has no thread left.
    pub fn start(disk: Arc<dyn Disk>, every: Duration, wake: impl Fn() + Send + 'static) -> io::Result<Self> {
        let (sender, inbox) = mpsc::channel();
        thread::Builder::new().name("watch".to_owned()).spawn(move || run(&*disk, every, &inbox, &wake))?;
        Ok(Self { sender })
    }

    /// Looks at this from now on, or at nothing.
    pub fn look_at(&self, watched: Option<Watched>) {
        // A thread that is gone looks at nothing; what is saved is looked at anyway.
        self.sender.send(watched).ok();
    }
}

fn run(disk: &dyn Disk, every: Duration, inbox: &Receiver<Option<Watched>>, wake: &impl Fn()) {
    let mut watched: Option<Watched> = None;
    loop {
        let told = match &watched {
            Some(_) => inbox.recv_timeout(every),
            None => inbox.recv().map_err(RecvTimeoutError::from),
        };
        match told {
            Ok(other) => watched = other,
            Err(RecvTimeoutError::Disconnected) => return,
            Err(RecvTimeoutError::Timeout) => {
                let is_other =
                    |watched: &Watched| content(disk, &watched.path).is_ok_and(|found| found != watched.holds);
                if watched.as_ref().is_some_and(is_other) {
                    watched = None;
                    wake();
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::disk::faulty::FaultyDisk;

    const FILE: &str = "/plans/spring.ron";

    #[test]
    fn a_change_a_file_that_goes_and_one_that_comes_back_wake_once_each() {
        let disk = Arc::new(FaultyDisk::new(&[(FILE, b"Old")]));
        let (sender, woken) = mpsc::channel();
        let watch =
            Watch::start(Arc::clone(&disk) as _, Duration::from_millis(1), move || sender.send(()).unwrap()).unwrap();
        let holds = |bytes: Option<&[u8]>| Some(Watched { path: FILE.into(), holds: bytes.map(Content::of) });
        disk.put(FILE, b"New");
        watch.look_at(holds(Some(b"Old")));
        woken.recv().unwrap();
        disk.remove(FILE.as_ref()).unwrap();
        watch.look_at(holds(Some(b"New")));
        woken.recv().unwrap();
        disk.put(FILE, b"Old");
        watch.look_at(holds(None));
        woken.recv().unwrap();
        watch.look_at(holds(Some(b"Old")));
        drop(watch);
        assert_eq!(woken.iter().count(), 0, "woken for nothing");
    }
}
