//! Every way out, with nothing changed, with changes, and with a season that was never saved.

use std::path::{Path, PathBuf};

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use flatwright::season::{Op, Season};
use flatwright::store;
use flatwright::words;

use crate::desktop::{Dialogs, Fake};
use crate::hand::{ask_to_close, rename};
use crate::keeping::leave_work;
use crate::{Window, menu, press, window_beside, write};

#[derive(Clone, Copy, Debug, PartialEq)]
enum Exit {
    /// Also what Alt+F4 and logging out come in as.
    CloseButton,
    QuitKey,
    QuitMenu,
    NewKey,
    NewMenu,
    Sample,
    Open,
    Recent,
    Drop,
}

const EXITS: [Exit; 9] = [
    Exit::CloseButton,
    Exit::QuitKey,
    Exit::QuitMenu,
    Exit::NewKey,
    Exit::NewMenu,
    Exit::Sample,
    Exit::Open,
    Exit::Recent,
    Exit::Drop,
];

#[derive(Clone, Copy, Debug, PartialEq)]
enum Before {
    Clean,
    Changed,
    NeverSaved,
}

#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|why| why.to_string())
    }
}

/// Whether the window sends itself away.
fn closes(window: &mut Window) -> bool {
    window.run();
    window.state().is_leaving()
}

struct Trial {
    window: Window,
    fake: Fake,
    /// What is opened on the way out.
    other: PathBuf,
    own: PathBuf,
    _folder: tempfile::TempDir,
}

fn trial(before: Before) -> Trial {
    let folder = tempfile::tempdir().expect("written");
    let (own, other) = (folder.path().join("own.ron"), folder.path().join("other.ron"));
    store::save(&own, &Season::new("Own")).expect("written");
    store::save(&other, &Season::new("Other")).expect("written");
    let fake = Fake::new(folder.path(), Dialogs::Answer(other.clone()));
    let mut window = window_beside(&fake, (before != Before::NeverSaved).then_some(own.as_path()));
    // Into the list of files used before, and back.
    for path in [&other, &own] {
        if before != Before::NeverSaved {
            fake.will(Dialogs::Answer(path.clone()));
            window.key_press_modifiers(Modifiers::COMMAND, Key::O);
            window.run();
        }
    }
    if before == Before::NeverSaved {
        fake.will(Dialogs::Answer(other.clone()));
        window.key_press_modifiers(Modifiers::COMMAND, Key::O);
        window.run();
        menu(&mut window, words::menu::SEASON, words::menu::NEW);
    }
    if before != Before::Clean {
        rename(&mut window, "Changed");
    }
    Trial { window, fake, other, own, _folder: folder }
}

/// Takes the way out; whether the window closes by it at once.
fn leave(trial: &mut Trial, exit: Exit) -> bool {
    let window = &mut trial.window;
    match exit {
        Exit::CloseButton => return ask_to_close(window),
        Exit::QuitKey => window.key_press_modifiers(Modifiers::COMMAND, Key::Q),
        Exit::NewKey => window.key_press_modifiers(Modifiers::COMMAND, Key::N),
        Exit::Open => {
            trial.fake.will(Dialogs::Answer(trial.other.clone()));
            window.key_press_modifiers(Modifiers::COMMAND, Key::O);
        }
        Exit::QuitMenu | Exit::NewMenu | Exit::Sample => {
            press(window, words::menu::SEASON);
            let name = match exit {
                Exit::QuitMenu => words::menu::QUIT,
                Exit::NewMenu => words::menu::NEW,
                _ => words::menu::SAMPLE,
            };
            window.get_by_label_contains(name).click();
        }
        Exit::Recent => {
            press(window, words::menu::SEASON);
            window.get_by_label_contains(words::menu::OPEN_RECENT).click();
            window.run();
            window.get_by_label_contains("other.ron in ").click();
        }
        Exit::Drop => window.input_mut().dropped_files.push(std::sync::Arc::new(Dropped(trial.other.clone()))),
    }
    let closed = closes(&mut trial.window);
    trial.window.input_mut().dropped_files.clear();
    closed
}

/// Whether the way out was gone to its end.
#[track_caller]
fn check_gone(trial: &Trial, exit: Exit, closed: bool) {
    let name = trial.window.state().history().season().name();
    match exit {
        Exit::CloseButton | Exit::QuitKey | Exit::QuitMenu => assert!(closed, "{exit:?}"),
        Exit::NewKey | Exit::NewMenu => assert_eq!(name, words::menu::NEW, "{exit:?}"),
        Exit::Sample => assert_eq!(name, "Community room 2027"),
        Exit::Open | Exit::Recent | Exit::Drop => assert_eq!(name, "Other", "{exit:?}"),
    }
}

fn asked(trial: &Trial) -> bool {
    trial.window.query_by_label(words::files::SAVE_CHANGES).is_some()
}

#[test]
fn without_changes_every_way_out_is_gone_without_a_question() {
    for exit in EXITS {
        let mut trial = trial(Before::Clean);
        let closed = leave(&mut trial, exit);
        assert!(!asked(&trial), "{exit:?}");
        check_gone(&trial, exit, closed);
    }
}

#[test]
fn cancel_stays_and_loses_nothing_on_every_way_out() {
    for before in [Before::Changed, Before::NeverSaved] {
        for exit in EXITS {
            let mut trial = trial(before);
            assert!(!leave(&mut trial, exit), "{exit:?}");
            assert!(asked(&trial), "{exit:?}, {before:?}");
            trial.window.get_by_label(words::files::CANCEL).click();
            assert!(!closes(&mut trial.window), "{exit:?}, {before:?}: Cancel closed it");
            assert!(!asked(&trial));
            assert_eq!(trial.window.state().history().season().name(), "Changed", "{exit:?}, {before:?}");
            assert_eq!(store::load(&trial.own).unwrap().name(), "Own");
        }
    }
}

#[test]
fn changes_not_wanted_are_given_up_on_every_way_out() {
    for before in [Before::Changed, Before::NeverSaved] {
        for exit in EXITS {
            let mut trial = trial(before);
            leave(&mut trial, exit);
            trial.window.get_by_label(words::files::DO_NOT_SAVE).click();
            let closed = closes(&mut trial.window);
            check_gone(&trial, exit, closed);
            assert_eq!(store::load(&trial.own).unwrap().name(), "Own", "{exit:?}, {before:?}");
        }
    }
}

#[test]
fn changes_are_saved_first_on_every_way_out() {
    for before in [Before::Changed, Before::NeverSaved] {
        for exit in EXITS {
            let mut trial = trial(before);
            leave(&mut trial, exit);
            let new = trial.own.with_file_name("new.ron");
            trial.fake.will(Dialogs::Answer(new.clone()));
            trial.window.get_by_label(words::files::SAVE).click();
            let closed = closes(&mut trial.window);
            check_gone(&trial, exit, closed);
            let path = if before == Before::Changed { &trial.own } else { &new };
            assert_eq!(store::load(path).unwrap().name(), "Changed", "{exit:?}, {before:?}");
        }
    }
}

#[test]
fn a_save_that_is_given_up_or_fails_keeps_the_window_open() {
    for exit in EXITS {
        for dialogs in [Dialogs::Cancel, Dialogs::Answer("/nowhere/at/all.ron".into())] {
            let mut trial = trial(Before::NeverSaved);
            leave(&mut trial, exit);
            trial.fake.will(dialogs);
            trial.window.get_by_label(words::files::SAVE).click();
            assert!(!closes(&mut trial.window), "{exit:?}");
            assert_eq!(trial.window.state().history().season().name(), "Changed", "{exit:?}");
        }
    }
}

#[test]
fn what_is_being_written_counts_when_the_window_is_closed() {
    for by_key in [true, false] {
        let mut trial = trial(Before::Clean);
        crate::go(&mut trial.window, words::menu::START);
        write(&mut trial.window, "Name of the season", "Half written");
        let closed = leave(&mut trial, if by_key { Exit::QuitKey } else { Exit::CloseButton });
        assert!(!closed && asked(&trial), "by key: {by_key}");
        trial.window.get_by_label(words::files::SAVE).click();
        assert!(closes(&mut trial.window));
        assert_eq!(store::load(&trial.own).unwrap().name(), "Half written", "by key: {by_key}");
    }
}

#[test]
fn unsaved_work_is_offered_with_its_date_and_what_differs() {
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("own.ron");
    let mut season = store::sample();
    store::save(&own, &season).unwrap();
    let sowing = season.sowings().next().expect("a sowing").id;
    season.apply(&Op::RemoveSowing(sowing).into()).unwrap();
    season.apply(&Op::Rename("Kept".to_owned()).into()).unwrap();
    let copy = leave_work(folder.path(), "1-1", Some(&own), &season);
    let fake = Fake::new(folder.path(), Dialogs::Cancel);
    let kept = std::fs::metadata(copy).and_then(|found| found.modified()).unwrap();
    let kept = chrono::DateTime::<chrono::Local>::from(kept).format("“Kept”, kept on %-d %b %Y at %H:%M").to_string();
    // At the start, and where the file is opened later.
    for opened in [false, true] {
        let mut window = window_beside(&fake, (!opened).then_some(own.as_path()));
        if opened {
            fake.will(Dialogs::Answer(own.clone()));
            window.key_press_modifiers(Modifiers::COMMAND, Key::O);
            window.run();
        }
        window.get_by_label("What differs from the file: another name, 1 sowing removed");
        window.get_by_label(&kept);
        if !opened {
            assert!(ask_to_close(&mut window), "without an answer it stays, to be offered again");
        }
        if opened {
            press(&mut window, words::files::RESUME);
            assert_eq!(*window.state().history().season(), season);
            window.key_press_modifiers(Modifiers::COMMAND, Key::S);
            window.run();
            assert_eq!(store::load(&own).unwrap(), season);
        }
    }
}
