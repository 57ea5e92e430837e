//! Opening and saving where the system's dialogs answer, fail, break or stay away.

use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use flatwright::season::Season;
use flatwright::store;
use flatwright::window::Purpose;
use flatwright::words;

use crate::desktop::{Dialogs, Fake};
use crate::{Window, menu, press, window_beside, write};

fn open(window: &mut Window) {
    window.key_press_modifiers(Modifiers::COMMAND, Key::O);
    window.run();
}

/// Until the window would have asked for its next frame, for so many seconds of its clock.
fn pass(window: &mut Window, seconds: u32) {
    for _ in 0..seconds * 4 {
        window.step();
    }
}

#[test]
fn what_the_dialog_answers_is_opened_and_its_folder_is_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let elsewhere = tempfile::tempdir().unwrap();
    let path = elsewhere.path().join("spring.ron");
    store::save(&path, &Season::new("Spring")).unwrap();
    let fake = Fake::new(folder.path(), Dialogs::Answer(path));
    let mut window = window_beside(&fake, None);
    open(&mut window);
    assert_eq!(window.state().history().season().name(), "Spring");
    menu(&mut window, words::menu::SEASON, words::menu::NEW);
    fake.will(Dialogs::Cancel);
    open(&mut window);
    let asked = fake.asked();
    assert_eq!(asked.iter().map(|one| one.purpose).collect::<Vec<_>>(), [Purpose::Open; 2]);
    let folders: Vec<_> = asked.iter().filter_map(|one| one.folder.clone()).collect();
    assert_eq!(folders, [folder.path(), elsewhere.path()], "the first time ours is not there yet");
}

#[test]
fn a_dialog_given_up_changes_nothing_and_says_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Cancel), None);
    let season = window.state().history().season().clone();
    open(&mut window);
    assert!(window.query_by_label(words::files::PATH).is_none());
    assert_eq!(*window.state().history().season(), season);
}

#[test]
fn a_dialog_that_cannot_come_up_gives_way_to_a_field_with_the_reason() {
    let folder = tempfile::tempdir().unwrap();
    for (dialogs, why) in [
        (Dialogs::FailAtOnce, "No file dialog came up"),
        (Dialogs::Break, "file dialog failed"),
        (Dialogs::Missing, "There is no dialog service"),
        (Dialogs::CannotBeAsked, "could not be asked: out of memory"),
    ] {
        let mut window = window_beside(&Fake::new(folder.path(), dialogs.clone()), None);
        open(&mut window);
        window.get_by_label_contains(why);
        window.get_by_label(words::files::PATH);
        window.key_press(Key::Escape);
        window.run();
        assert!(window.query_by_label(words::files::PATH).is_none(), "{dialogs:?}");
    }
}

#[test]
fn a_dialog_that_never_answers_gets_a_field_beside_it_and_may_still_answer() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("late.ron");
    store::save(&path, &Season::new("Late")).unwrap();
    let fake = Fake::new(folder.path(), Dialogs::NeverAnswer);
    let mut window = window_beside(&fake, None);
    open(&mut window);
    assert!(window.query_by_label(words::files::PATH).is_none(), "it has two seconds");
    pass(&mut window, 3);
    window.get_by_label_contains("If no file dialog has come up by now");
    window.key_press(Key::Escape);
    window.run();
    pass(&mut window, 3);
    assert!(window.query_by_label(words::files::PATH).is_none(), "it was given up");
    fake.answer(&path);
    window.run();
    assert_eq!(window.state().history().season().name(), "Late");
}

#[test]
fn while_a_dialog_is_in_front_no_field_comes_up_behind_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::NeverAnswer), None);
    open(&mut window);
    window.input_mut().focused = false;
    pass(&mut window, 10);
    assert!(window.query_by_label(words::files::PATH).is_none());
    window.input_mut().focused = true;
    pass(&mut window, 3);
    window.get_by_label(words::files::PATH);
}

#[test]
fn a_path_can_be_written_without_any_dialog_and_is_refused_beside_the_field() {
    let folder = tempfile::tempdir().unwrap();
    let fake = Fake::new(folder.path(), Dialogs::NeverAnswer);
    let (there, missing) = (folder.path().join("spring.ron"), folder.path().join("missing.ron"));
    store::save(&there, &Season::new("Spring")).unwrap();
    std::fs::create_dir(folder.path().join("old plans")).unwrap();
    std::fs::write(folder.path().join("old plans/last.ron"), "(").unwrap();
    let mut window = window_beside(&fake, None);
    menu(&mut window, words::menu::SEASON, words::menu::OPEN_BY_PATH);
    write(&mut window, words::files::PATH, &missing.display().to_string());
    window.key_press(Key::Enter);
    window.run();
    window.get_by_label_contains("missing.ron: there is no such file");
    assert_eq!(
        window.get_by_label(words::files::PATH).value(),
        Some(missing.display().to_string()),
        "it stays in its field"
    );
    window.get_by_label_contains("old plans/").click();
    window.run();
    window.get_by_label("last.ron").click();
    window.run();
    window.get_by_label_contains("last.ron: this is not a season file");
    window.get_by_label_contains("the folder above").click();
    window.run();
    window.get_by_label("spring.ron").click();
    window.run();
    assert_eq!(window.state().history().season().name(), "Spring");
    assert!(window.query_by_label(words::files::PATH).is_none());
    assert!(fake.asked().is_empty());
}

#[test]
fn a_written_path_never_replaces_a_file_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("spring.ron");
    store::save(&path, &Season::new("Other")).unwrap();
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Missing), None);
    menu(&mut window, words::menu::SEASON, words::menu::SAVE_BY_PATH);
    write(&mut window, words::files::PATH, &folder.path().join("spring").display().to_string());
    window.key_press(Key::Enter);
    window.run();
    window.get_by_label_contains("spring.ron is there already");
    assert_eq!(store::load(&path).unwrap().name(), "Other");
    press(&mut window, words::files::REPLACE);
    assert_eq!(store::load(&path).unwrap(), *window.state().history().season());
    menu(&mut window, words::menu::SEASON, words::menu::SAVE_BY_PATH);
    write(&mut window, words::files::PATH, &folder.path().join("nowhere/spring.ron").display().to_string());
    press(&mut window, words::files::SAVE);
    window.get_by_label_contains("it could not be saved: there is no such folder");
    window.get_by_label(words::files::PATH);
}

#[test]
fn saving_in_the_seasons_folder_asks_nothing_and_replaces_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let fake = Fake::new(folder.path(), Dialogs::NeverAnswer);
    let name = "community-room-2027";
    for file in [format!("{name}.ron"), format!("{name}-2.ron")] {
        let mut window = window_beside(&fake, None);
        let season = window.state().history().season().clone();
        assert_eq!(season.name(), "Community room 2027");
        menu(&mut window, words::menu::SEASON, words::menu::SAVE_IN_FOLDER);
        let path = folder.path().join("Flatwright").join(&file);
        window.get_by_label_contains(&format!("Saved to {}", path.canonicalize().unwrap().display()));
        assert_eq!(store::load(&path).unwrap(), season);
        menu(&mut window, words::menu::SEASON, words::menu::SAVE_IN_FOLDER);
    }
    assert_eq!(std::fs::read_dir(folder.path().join("Flatwright")).unwrap().count(), 2, "saved twice under one name");
    assert!(fake.asked().is_empty());
}

#[test]
fn the_path_shown_after_saving_can_be_copied_and_its_folder_opened() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("spring.ron");
    let fake = Fake::new(folder.path(), Dialogs::Answer(path.clone()));
    let mut window = window_beside(&fake, None);
    window.key_press_modifiers(Modifiers::COMMAND, Key::S);
    window.run();
    let shown = window.get_by_label_contains("Saved to ").value().unwrap_or_default();
    let shown = std::path::PathBuf::from(shown.strip_prefix("Saved to ").expect("a path"));
    assert!(shown.is_absolute());
    assert_eq!(store::load(&shown).unwrap(), *window.state().history().season());
    window.get_by_label(words::notices::COPY_PATH).click();
    window.step();
    let copied: Vec<_> = window.output().platform_output.commands.clone();
    let said = copied
        .iter()
        .any(|one| matches!(one, egui::OutputCommand::CopyText(text) if *text == shown.display().to_string()));
    press(&mut window, words::notices::OPEN_FOLDER);
    assert_eq!(fake.opened(), [shown.parent().expect("a folder").to_owned()]);
    assert!(said, "{copied:?}");
    std::fs::remove_dir_all(folder.path()).unwrap();
    press(&mut window, words::notices::OPEN_FOLDER);
    window.get_by_label_contains("No program showed the folder");
}

#[test]
fn files_used_before_are_in_the_menu_newest_first_and_can_be_forgotten() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(format!("{name}.ron"));
    let fake = Fake::new(folder.path(), Dialogs::Cancel);
    let mut window = window_beside(&fake, None);
    for name in ["first", "second"] {
        store::save(&path(name), &Season::new(name)).unwrap();
        fake.will(Dialogs::Answer(path(name)));
        open(&mut window);
    }
    let listed = |window: &mut Window| {
        press(window, words::menu::SEASON);
        window.get_by_label_contains(words::menu::OPEN_RECENT).click();
        window.run();
        ["first", "second"]
            .map(|name| window.query_by_label_contains(&format!("{name}.ron in ")).map(|node| node.rect().top()))
    };
    let [first, second] = listed(&mut window);
    assert!(second.expect("it was opened") < first.expect("it was opened"));
    std::fs::remove_file(path("first")).unwrap();
    window.get_by_label_contains("first.ron in ").click();
    window.run();
    window.get_by_label_contains("first.ron: there is no such file");
    assert_eq!(window.state().history().season().name(), "second");
    assert!(listed(&mut window)[0].is_some());
    window.get_by_label_contains("second.ron in ").click();
    window.run();
    listed(&mut window);
    press(&mut window, words::menu::FORGET_RECENT);
    press(&mut window, words::menu::SEASON);
    assert!(
        window.query_by_label_contains(words::menu::OPEN_RECENT).is_none_or(|node| node.accesskit_node().is_disabled())
    );
}

#[test]
fn escape_closes_an_open_menu_and_a_question_closes_it_too() {
    let folder = tempfile::tempdir().unwrap();
    let mut window = window_beside(&Fake::new(folder.path(), Dialogs::Missing), None);
    press(&mut window, words::menu::SEASON);
    assert!(window.query_by_label_contains(words::menu::SAMPLE).is_some());
    window.key_press(Key::Escape);
    window.run();
    assert!(window.query_by_label_contains(words::menu::SAMPLE).is_none());
    press(&mut window, words::menu::SEASON);
    open(&mut window);
    window.get_by_label(words::files::PATH);
    assert!(window.query_by_label_contains(words::menu::SAMPLE).is_none());
}
