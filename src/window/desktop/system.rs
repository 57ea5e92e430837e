//! The real one.

use std::env;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::Instant;

use crate::words::files as words;

use super::folders::{documents, no_dialog};
use super::{Answer, Desktop, Purpose, Question, Reply};

#[derive(Clone, Copy, Debug)]
pub(in crate::window) struct SystemDesktop;

impl Desktop for SystemDesktop {
    fn no_dialog(&self) -> Option<String> {
        // Elsewhere the dialogs are part of the system.
        if cfg!(any(windows, target_os = "macos")) {
            return None;
        }
        no_dialog(|name| env::var_os(name), Path::exists).map(str::to_owned)
    }

    /// The dialog is made on this thread, as some systems ask, and waited for on another.
    fn ask(&self, question: &Question, reply: Reply) -> io::Result<()> {
        let (kind, endings): (_, &[&str]) = match question.purpose {
            Purpose::Open | Purpose::Save => (words::SEASONS, &["ron"]),
            Purpose::Weather => (words::WEATHER_RECORDS, &["csv", "dly", "txt"]),
            Purpose::SowingTable => (words::SOWING_TABLES, &["csv", "tsv", "txt"]),
        };
        let mut dialog = rfd::AsyncFileDialog::new().add_filter(kind, endings);
        if let Some(folder) = &question.folder {
            dialog = dialog.set_directory(folder);
        }
        let started = Instant::now();
        let tell = move |chosen: Option<rfd::FileHandle>| {
            reply(match chosen {
                Some(file) => Answer::Chosen(file.path().to_owned()),
                None => Answer::Nothing { after: started.elapsed() },
            });
        };
        let thread = thread::Builder::new().name("file_dialog".to_owned());
        match question.purpose {
            Purpose::Open | Purpose::Weather | Purpose::SowingTable => {
                let title = match question.purpose {
                    Purpose::Weather => words::CHOOSE_WEATHER,
                    Purpose::SowingTable => words::CHOOSE_TABLE,
                    Purpose::Open | Purpose::Save => words::OPEN_SEASON,
                };
                let asked = dialog.set_title(title).pick_file();
                thread.spawn(move || tell(pollster::block_on(asked)))?;
            }
            Purpose::Save => {
                let asked = dialog.set_title(words::SAVE_SEASON).set_file_name(&question.name).save_file();
                thread.spawn(move || tell(pollster::block_on(asked)))?;
            }
        }
        Ok(())
    }

    fn open_folder(&self, folder: &Path) -> io::Result<()> {
        let program = if cfg!(windows) {
            "explorer"
        } else if cfg!(target_os = "macos") {
            "open"
        } else {
            "xdg-open"
        };
        let mut command = Command::new(program);
        command.arg(folder).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        let mut child = command.spawn()?;
        // Somebody has to hear that it ended.
        thread::Builder::new().name("open_folder".to_owned()).spawn(move || child.wait().ok())?;
        Ok(())
    }

    fn seasons_folder(&self) -> Option<PathBuf> {
        let read = |path: &Path| std::fs::read_to_string(path).ok();
        documents(|name| env::var_os(name), read, Path::is_dir).map(|folder| folder.join(words::FOLDER))
    }

    fn unsaved_folder(&self) -> Option<PathBuf> {
        eframe::storage_dir("flatwright").map(|folder| folder.join("unsaved"))
    }
}
