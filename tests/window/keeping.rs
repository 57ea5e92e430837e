//! What becomes of work when somebody else writes its file, or the program ends without being asked.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use flatwright::season::Season;
use flatwright::store::{self, RealDisk};
use flatwright::window::App;
use flatwright::words;
use flatwright::words::files as said;

use crate::desktop::{Dialogs, Fake};
use crate::hand::{ask_to_close, rename};
use crate::{Window, day, menu, press, sized, until, window_beside};

struct Trial {
    fake: Fake,
    own: PathBuf,
    folder: tempfile::TempDir,
}

/// A folder with a season called `Own`.
fn trial() -> Trial {
    let folder = tempfile::tempdir().expect("a folder");
    let own = folder.path().join("own.ron");
    store::save(&own, &Season::new("Own")).expect("written");
    Trial { fake: Fake::new(folder.path(), Dialogs::Cancel), own, folder }
}

impl Trial {
    fn window(&self) -> Window {
        window_beside(&self.fake, Some(&self.own))
    }

    fn name_in_file(&self) -> String {
        store::load(&self.own).expect("a season").name().to_owned()
    }

    fn edit_by_hand(&self, name: &str) {
        let text = std::fs::read_to_string(&self.own).expect("read");
        std::fs::write(&self.own, text.replace("\"Own\"", &format!("\"{name}\""))).expect("written");
    }

    fn thrown(&self) -> Vec<String> {
        let thrown = store::thrown_away(&RealDisk, &self.folder.path().join("unsaved"), Some(&self.own));
        let names = thrown.expect("read").into_iter().map(|thrown| store::load(&thrown.file).expect("whole"));
        names.map(|season| season.name().to_owned()).collect()
    }
}

/// As a window that was killed leaves it.
pub(crate) fn leave_work(folder: &Path, copy: &str, of: Option<&Path>, season: &Season) -> PathBuf {
    let folder = folder.join("unsaved");
    std::fs::create_dir_all(&folder).expect("made");
    let copy = folder.join(copy).with_extension("ron");
    let of = of.map_or(String::new(), |of| of.display().to_string());
    std::fs::write(&copy, format!("// of: {of}\n{}", store::to_text(season))).expect("written");
    copy
}

fn save(window: &mut Window) {
    window.key_press_modifiers(Modifiers::COMMAND, Key::S);
    window.run();
}

/// As when another window was in front for a while.
fn come_back(window: &mut Window) {
    for focused in [false, true] {
        window.input_mut().focused = focused;
        window.run();
    }
}

fn shows(window: &Window, text: &str) -> bool {
    window.query_all_by_label_contains(text).next().is_some()
}

fn name(window: &Window) -> String {
    window.state().history().season().name().to_owned()
}

/// Two windows on one file wrote over each other.
#[test]
fn of_two_windows_on_one_file_the_second_to_save_is_asked() {
    let trial = trial();
    let (mut one, mut two) = (trial.window(), trial.window());
    rename(&mut one, "One");
    rename(&mut two, "Two");
    save(&mut one);
    assert_eq!(trial.name_in_file(), "One");
    save(&mut two);
    assert_eq!(trial.name_in_file(), "One", "nothing is written before the answer");
    two.get_by_label("What differs there: another name");
    press(&mut two, said::CANCEL);
    assert_eq!((trial.name_in_file(), name(&two)), ("One".to_owned(), "Two".to_owned()));
    save(&mut two);
    press(&mut two, said::KEEP_MINE);
    assert_eq!(trial.name_in_file(), "Two");
    let before = store::versions(&RealDisk, &trial.own).unwrap();
    assert_eq!(store::load(&before[0].file).unwrap().name(), "One", "what was written over stays");
    come_back(&mut one);
    assert!(shows(&one, &said::changed_elsewhere(&trial.own)));
    press(&mut one, said::DECIDE);
    press(&mut one, said::TAKE_THEIRS);
    assert_eq!(name(&one), "Two");
    assert!(!shows(&one, &said::changed_elsewhere(&trial.own)));
}

#[test]
fn taking_theirs_lays_mine_aside_and_another_name_leaves_theirs() {
    let trial = trial();
    let (mut one, mut two) = (trial.window(), trial.window());
    rename(&mut one, "One");
    rename(&mut two, "Two");
    trial.edit_by_hand("Hand");
    save(&mut one);
    press(&mut one, said::TAKE_THEIRS);
    assert_eq!(name(&one), "Hand");
    drop(one);
    assert_eq!(trial.thrown(), ["One"]);
    let other = trial.own.with_file_name("other.ron");
    trial.fake.will(Dialogs::Answer(other.clone()));
    save(&mut two);
    press(&mut two, said::ANOTHER_NAME);
    assert_eq!(store::load(&other).unwrap().name(), "Two");
    assert_eq!(trial.name_in_file(), "Hand");
}

/// Ctrl+S in a window without changes wrote over what was edited by hand meanwhile.
#[test]
fn a_window_without_changes_writes_nothing() {
    let trial = trial();
    let mut window = trial.window();
    let written = |path: &Path| (std::fs::metadata(path).unwrap().modified().unwrap(), std::fs::read(path).unwrap());
    let before = written(&trial.own);
    save(&mut window);
    assert!(shows(&window, "Nothing to save"));
    assert_eq!(written(&trial.own), before);
    trial.edit_by_hand("Hand");
    let before = written(&trial.own);
    save(&mut window);
    press(&mut window, said::CANCEL);
    assert_eq!(written(&trial.own), before);
    ask_to_close(&mut window);
    assert!(!shows(&window, said::SAVE_CHANGES));
    drop(window);
    assert_eq!(written(&trial.own), before);
    assert!(!trial.folder.path().join("unsaved").exists(), "nor any copy");
}

/// A season whose file was gone still said "saved", and quit without a question.
#[test]
fn a_season_whose_file_is_gone_is_not_saved() {
    let trial = trial();
    let mut window = trial.window();
    assert!(shows(&window, "Own · saved ·"));
    std::fs::remove_file(&trial.own).unwrap();
    come_back(&mut window);
    assert!(shows(&window, "Own · in no file, but kept safe ·") && shows(&window, &said::is_gone(&trial.own)));
    ask_to_close(&mut window);
    assert!(shows(&window, said::SAVE_CHANGES));
    press(&mut window, said::CANCEL);
    save(&mut window);
    press(&mut window, said::KEEP_MINE);
    assert_eq!(trial.name_in_file(), "Own");
    assert!(shows(&window, "Own · saved ·"));
    // Nobody has looked since, and the window is closed.
    std::fs::remove_file(&trial.own).unwrap();
    ask_to_close(&mut window);
    press(&mut window, said::SAVE);
    assert!(window.state().is_leaving());
    assert_eq!(trial.name_in_file(), "Own");
}

/// A season that no file had ever held was called "saved".
#[test]
fn a_season_that_no_file_holds_says_so_and_that_it_is_kept() {
    let trial = trial();
    let mut window = window_beside(&trial.fake, None);
    menu(&mut window, words::menu::SEASON, words::menu::NEW);
    let states = ["· saved ·", "· not saved ·", "· not in a file yet ·", "· in no file, but kept safe ·"];
    let says = |window: &Window| states.map(|state| shows(window, state));
    assert_eq!(says(&window), [false, false, true, false]);
    rename(&mut window, "Mine");
    assert_eq!(says(&window), [false, false, false, true]);
    menu(&mut window, words::menu::SEASON, words::menu::SAVE_IN_FOLDER);
    assert_eq!(says(&window), [true, false, false, false]);
    rename(&mut window, "Mine too");
    assert_eq!(says(&window), [false, true, false, false]);
    press(&mut window, words::menu::SEASON);
    assert!(shows(&window, &words::menu::changed_since("another name")));
}

/// Nobody gives the window the focus: it looks by itself.
#[test]
fn a_file_that_changes_while_the_window_is_in_front_is_seen() {
    let trial = trial();
    let mut window = trial.window();
    let frames = window.state().frames();
    trial.edit_by_hand("Hand");
    let changed = said::changed_elsewhere(&trial.own);
    until(&mut window, |window| shows(window, &changed));
    assert!(window.state().frames() - frames < 12, "{} frames", window.state().frames() - frames);
}

#[test]
fn notes_written_by_hand_are_asked_about_before_they_go() {
    let trial = trial();
    let text = std::fs::read_to_string(&trial.own).unwrap();
    std::fs::write(&trial.own, format!("// ordered on Monday\n{text}")).unwrap();
    let mut window = trial.window();
    rename(&mut window, "Changed");
    save(&mut window);
    assert!(shows(&window, said::HAS_COMMENTS));
    assert!(std::fs::read_to_string(&trial.own).unwrap().contains("ordered on Monday"));
    press(&mut window, said::SAVE_WITHOUT);
    assert_eq!(trial.name_in_file(), "Changed");
    let before = &store::versions(&RealDisk, &trial.own).unwrap()[0];
    assert!(std::fs::read_to_string(&before.file).unwrap().contains("ordered on Monday"));
    rename(&mut window, "Again");
    save(&mut window);
    assert_eq!(trial.name_in_file(), "Again", "asked once");
}

#[test]
fn an_earlier_version_is_opened_from_the_menu() {
    let trial = trial();
    let mut window = trial.window();
    rename(&mut window, "Later");
    save(&mut window);
    menu(&mut window, words::menu::SEASON, said::EARLIER_MENU);
    window.get_by_label("another name");
    window.get_by_label_contains("As saved on").click();
    window.run();
    assert_eq!((name(&window), trial.name_in_file()), ("Own".to_owned(), "Later".to_owned()));
    assert!(shows(&window, "Own · not saved ·"));
    save(&mut window);
    assert_eq!(trial.name_in_file(), "Own");
}

#[test]
fn an_earlier_version_is_opened_where_the_file_cannot_be() {
    let trial = trial();
    store::save(&trial.own, &Season::new("Later")).unwrap();
    std::fs::write(&trial.own, "(broken").unwrap();
    let why = store::load(&trial.own).unwrap_err().to_string();
    let (own, fake) = (trial.own.clone(), trial.fake.clone());
    let mut at_the_start =
        sized(1280.0, 800.0).build_eframe(move |_| App::in_trouble(why, own, day(2, 1)).on(Arc::new(fake)));
    at_the_start.run();
    assert!(shows(&at_the_start, words::notices::NOT_OPENED));
    press(&mut at_the_start, said::EARLIER_MENU);
    let mut later = window_beside(&trial.fake, None);
    trial.fake.will(Dialogs::Answer(trial.own.clone()));
    later.key_press_modifiers(Modifiers::COMMAND, Key::O);
    later.run();
    press(&mut later, said::EARLIER_MENU);
    for window in [&mut at_the_start, &mut later] {
        window.get_by_label_contains("As saved on").click();
        window.run();
        assert_eq!(name(window), "Own");
        save(window);
        assert_eq!(trial.name_in_file(), "Own");
        std::fs::write(&trial.own, "(broken").unwrap();
    }
}

/// What was not wanted when the window was closed.
#[test]
fn work_that_was_given_up_is_among_the_earlier_versions() {
    let trial = trial();
    let mut window = trial.window();
    rename(&mut window, "Given up");
    ask_to_close(&mut window);
    press(&mut window, said::DO_NOT_SAVE);
    drop(window);
    let mut window = trial.window();
    menu(&mut window, words::menu::SEASON, said::EARLIER_MENU);
    window.get_by_label_contains("Discarded on").click();
    window.run();
    assert_eq!(name(&window), "Given up");
}

#[test]
fn what_windows_left_behind_is_offered_one_after_another_without_a_file_too() {
    let trial = trial();
    leave_work(trial.folder.path(), "1-1", Some(&trial.own), &Season::new("Of a file"));
    std::fs::write(trial.folder.path().join("unsaved/1-2.ron"), "(").unwrap();
    leave_work(trial.folder.path(), "1-3", None, &Season::new("Of none"));
    let mut window = window_beside(&trial.fake, None);
    assert!(shows(&window, "Work that was never saved was found (1 of 2)"));
    assert!(shows(&window, "“Of none”"), "of no file, as this window");
    // Another window is not asked about the same.
    let other = window_beside(&trial.fake, None);
    assert!(!shows(&other, "Work that was never saved"));
    press(&mut window, said::NOT_NOW);
    assert!(shows(&window, "“Of a file”"));
    press(&mut window, said::RESUME);
    assert_eq!(name(&window), "Of a file");
    assert!(shows(&window, "Of a file · not saved ·"));
    save(&mut window);
    assert_eq!(trial.name_in_file(), "Of a file");
    drop((window, other));
    let window = trial.window();
    assert!(shows(&window, "“Of none”"), "not now, but later");
    assert!(shows(&window, "1-2.ron"), "what can't be read is named");
}

#[test]
fn work_of_a_window_that_runs_is_not_offered() {
    let trial = trial();
    let mut one = trial.window();
    rename(&mut one, "One");
    let copies = trial.folder.path().join("unsaved");
    let has_copy = || {
        let files = std::fs::read_dir(&copies).into_iter().flatten().filter_map(Result::ok);
        files.into_iter().any(|file| file.path().extension().is_some_and(|end| end == "ron"))
    };
    let begun = std::time::Instant::now();
    while !has_copy() {
        assert!(begun.elapsed() < std::time::Duration::from_secs(20), "no copy was made");
        std::thread::yield_now();
    }
    let two = trial.window();
    assert!(!shows(&two, "Work that was never saved"));
    drop(two);
    assert!(has_copy(), "and it is not taken away");
    drop(one);
    assert!(shows(&trial.window(), "“One”"));
}

#[test]
fn not_kept_stays_on_screen_until_it_is_kept_again() {
    let trial = trial();
    let unsaved = trial.folder.path().join("unsaved");
    std::fs::write(&unsaved, "no folder").unwrap();
    let mut window = trial.window();
    rename(&mut window, "Changed");
    until(&mut window, |window| shows(window, "Not kept!"));
    rename(&mut window, "Changed again");
    assert!(shows(&window, "Not kept!"));
    std::fs::remove_file(&unsaved).unwrap();
    until(&mut window, |window| !shows(window, "Not kept!"));
    save(&mut window);
}
