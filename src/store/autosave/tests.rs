use std::path::Path;

use super::*;
use crate::season::{Difference, Op, Part};
use crate::store::disk::faulty::{Fault, FaultyDisk};
use crate::store::{discard, library, load_from, recovery, sample, save_to, unsaved};

const FILE: &str = "/plans/spring.ron";
const AUTOSAVE: &str = "/plans/.spring.ron.autosave.ron";
/// So long that only what the test does sets anything off.
const NEVER: Duration = Duration::from_secs(100_000);

fn named(name: &str) -> Season {
    let mut season = sample();
    season.apply(&Op::Rename(name.to_owned()).into()).unwrap();
    season
}

fn beside() -> Home {
    Home::Beside(FILE.into())
}

fn start(disk: &Arc<FaultyDisk>, pause: Duration) -> (Autosave, Receiver<()>) {
    let (sender, woken) = mpsc::channel();
    let disk = Arc::clone(disk);
    (Autosave::start(disk, pause, move || sender.send(()).unwrap()).unwrap(), woken)
}

#[test]
fn a_change_is_written_after_a_pause_and_said_to_be() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let (autosave, woken) = start(&disk, Duration::ZERO);
    assert_eq!(autosave.status(), AutosaveStatus::Idle);
    autosave.changed(beside(), &named("New"));
    woken.recv().unwrap();
    let at = disk.modified(Path::new(AUTOSAVE)).unwrap();
    assert_eq!(autosave.status(), AutosaveStatus::Saved { file: AUTOSAVE.into(), at });
    assert_eq!(load_from(&*disk, Path::new(AUTOSAVE), library()).unwrap(), named("New"));
}

#[test]
fn only_the_newest_of_many_changes_is_written_and_dropping_writes_it() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let (autosave, woken) = start(&disk, NEVER);
    for n in 1..AT_MOST_UNWRITTEN {
        autosave.changed(beside(), &named(&format!("Change {n}")));
    }
    drop(autosave);
    assert_eq!(woken.iter().count(), 1);
    assert_eq!(load_from(&*disk, Path::new(AUTOSAVE), library()).unwrap(), named("Change 49"));
}

#[test]
fn changes_without_a_pause_are_written_too() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let (autosave, woken) = start(&disk, NEVER);
    for n in 1..=AT_MOST_UNWRITTEN {
        autosave.changed(beside(), &named(&format!("Change {n}")));
    }
    woken.recv().unwrap();
    assert!(matches!(autosave.status(), AutosaveStatus::Saved { .. }));
}

#[test]
fn a_season_that_moves_leaves_what_it_had_where_it_was() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let (autosave, _woken) = start(&disk, NEVER);
    autosave.changed(Home::Folder("/unsaved".into()), &named("First"));
    autosave.changed(beside(), &named("Second"));
    drop(autosave);
    let found = unsaved(&*disk, Path::new("/unsaved"), library()).unwrap();
    assert_eq!(found.iter().map(|found| found.season.name()).collect::<Vec<_>>(), ["First"]);
    assert!(disk.bytes(AUTOSAVE).is_some());
    discard(&*disk, &found[0]).unwrap();
    assert_eq!(unsaved(&*disk, Path::new("/unsaved"), library()).unwrap(), []);
}

#[test]
fn what_is_settled_leaves_no_autosave() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let (autosave, woken) = start(&disk, NEVER);
    autosave.changed(beside(), &named("New"));
    autosave.settled(beside());
    woken.recv().unwrap();
    assert_eq!(autosave.status(), AutosaveStatus::Idle);
    drop(autosave);
    assert_eq!(disk.names(), <[String; 0]>::default());
}

#[test]
fn a_failure_is_reported_and_the_next_change_tries_again() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    disk.fail(Fault::Once(3, io::ErrorKind::StorageFull));
    let (autosave, woken) = start(&disk, Duration::ZERO);
    autosave.changed(beside(), &named("New"));
    woken.recv().unwrap();
    let why = "/plans/spring.ron: it could not be saved: the disk is full".to_owned();
    assert_eq!(autosave.status(), AutosaveStatus::Failed { why: NotKept::Disk(why) });
    autosave.changed(beside(), &named("Newer"));
    woken.recv().unwrap();
    assert!(matches!(autosave.status(), AutosaveStatus::Saved { .. }));
}

#[test]
fn newer_work_is_offered_with_what_differs() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    save_to(&*disk, Path::new(FILE), &sample()).unwrap();
    let (autosave, _woken) = start(&disk, NEVER);
    let mut season = named("New");
    let sowing = season.sowings().next().unwrap().id;
    season.apply(&Op::RemoveSowing(sowing).into()).unwrap();
    autosave.changed(beside(), &season);
    drop(autosave);
    let found = recovery(&*disk, Path::new(FILE), library()).unwrap().unwrap();
    assert_eq!((&found.season, found.file.as_path()), (&season, Path::new(AUTOSAVE)));
    let renamed = Difference { part: Part::Name, added: 0, changed: 1, gone: 0 };
    let removed = Difference { part: Part::Sowings, added: 0, changed: 0, gone: 1 };
    assert_eq!(found.differs, [renamed, removed]);
    discard(&*disk, &found).unwrap();
    discard(&*disk, &found).unwrap();
    assert_eq!(recovery(&*disk, Path::new(FILE), library()).unwrap(), None);
}

#[test]
fn work_that_is_older_or_the_same_is_not_offered() {
    let text = to_text(&sample()).into_bytes();
    let other = to_text(&named("Other")).into_bytes();
    let same = FaultyDisk::new(&[(FILE, &text), (AUTOSAVE, &text)]);
    assert_eq!(recovery(&same, Path::new(FILE), library()).unwrap(), None);
    let older = FaultyDisk::new(&[(AUTOSAVE, &other), (FILE, &text)]);
    assert_eq!(recovery(&older, Path::new(FILE), library()).unwrap(), None);
    assert_eq!(recovery(&FaultyDisk::new(&[]), Path::new(FILE), library()).unwrap(), None);
}

#[test]
fn work_beside_a_file_that_is_gone_or_broken_is_offered() {
    let text = to_text(&sample()).into_bytes();
    for files in [vec![(AUTOSAVE, text.as_slice())], vec![(FILE, [0; 64].as_slice()), (AUTOSAVE, text.as_slice())]] {
        let disk = FaultyDisk::new(&files);
        let found = recovery(&disk, Path::new(FILE), library()).unwrap().unwrap();
        assert_eq!(found.season, sample());
    }
}

#[test]
fn an_autosave_that_cannot_be_read_is_not_passed_over() {
    let disk = FaultyDisk::new(&[(FILE, b"("), (AUTOSAVE, b"(")]);
    let refused = recovery(&disk, Path::new(FILE), library()).unwrap_err();
    assert_eq!(refused.path, Path::new(AUTOSAVE));
}
