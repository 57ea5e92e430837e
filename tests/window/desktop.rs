//! A desktop whose dialogs do what a test wants, and whose folders are its own.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use flatwright::window::{Answer, Desktop, Question, Reply};

#[derive(Clone, Debug)]
pub(crate) enum Dialogs {
    Answer(PathBuf),
    Cancel,
    FailAtOnce,
    /// Ends without a word.
    Break,
    NeverAnswer,
    /// Known beforehand.
    Missing,
    CannotBeAsked,
}

#[derive(Clone)]
pub(crate) struct Fake(Arc<Mutex<State>>);

struct State {
    dialogs: Dialogs,
    folder: PathBuf,
    asked: Vec<Question>,
    /// Of dialogs that are still open.
    replies: Vec<Reply>,
    opened: Vec<PathBuf>,
}

impl std::fmt::Debug for Fake {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Fake")
    }
}

impl Fake {
    pub(crate) fn new(folder: &Path, dialogs: Dialogs) -> Self {
        let state =
            State { dialogs, folder: folder.to_owned(), asked: Vec::new(), replies: Vec::new(), opened: Vec::new() };
        Self(Arc::new(Mutex::new(state)))
    }

    fn state(&self) -> std::sync::MutexGuard<'_, State> {
        self.0.lock().expect("no test panics inside")
    }

    pub(crate) fn will(&self, dialogs: Dialogs) {
        self.state().dialogs = dialogs;
    }

    pub(crate) fn asked(&self) -> Vec<Question> {
        self.state().asked.clone()
    }

    pub(crate) fn opened(&self) -> Vec<PathBuf> {
        self.state().opened.clone()
    }

    /// The dialog left open answers after all.
    pub(crate) fn answer(&self, path: &Path) {
        let reply = self.state().replies.pop().expect("a dialog that is still open");
        reply(Answer::Chosen(path.to_owned()));
    }
}

impl Desktop for Fake {
    fn no_dialog(&self) -> Option<String> {
        matches!(self.state().dialogs, Dialogs::Missing).then(|| "There is no dialog service".to_owned())
    }

    fn ask(&self, question: &Question, reply: Reply) -> io::Result<()> {
        let mut state = self.state();
        state.asked.push(question.clone());
        match state.dialogs.clone() {
            Dialogs::Answer(path) => reply(Answer::Chosen(path)),
            Dialogs::Cancel => reply(Answer::Nothing { after: Duration::from_secs(5) }),
            Dialogs::FailAtOnce => reply(Answer::Nothing { after: Duration::from_millis(4) }),
            Dialogs::Break | Dialogs::Missing => drop(reply),
            Dialogs::NeverAnswer => state.replies.push(reply),
            Dialogs::CannotBeAsked => return Err(io::ErrorKind::OutOfMemory.into()),
        }
        Ok(())
    }

    fn open_folder(&self, folder: &Path) -> io::Result<()> {
        self.state().opened.push(folder.to_owned());
        if folder.is_dir() { Ok(()) } else { Err(io::ErrorKind::NotFound.into()) }
    }

    fn seasons_folder(&self) -> Option<PathBuf> {
        Some(self.state().folder.join("Flatwright"))
    }

    fn unsaved_folder(&self) -> Option<PathBuf> {
        Some(self.state().folder.join("unsaved"))
    }
}
