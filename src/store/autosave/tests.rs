use super::*;
use crate::season::{Difference, Op, Part};
use crate::store::copies::left_behind;
use crate::store::disk::faulty::{Fault, FaultyDisk};
use crate::store::{LeftBehind, Recovery, left_work, library, load_from, sample, save_to, thrown_away};

const FILE: &str = "/plans/spring.ron";
const FOLDER: &str = "/unsaved";
/// So long that only what the test does sets anything off.
const NEVER: Duration = Duration::from_secs(100_000);

fn named(name: &str) -> Season {
    let mut season = sample();
    season.apply(&Op::Rename(name.to_owned()).into()).unwrap();
    season
}

fn start(disk: &Arc<FaultyDisk>, after: Duration) -> (Autosave, Receiver<AutosaveStatus>) {
    let (sender, woken) = mpsc::channel();
    let wake = move |status: &AutosaveStatus| sender.send(status.clone()).unwrap();
    (Autosave::start(Arc::clone(disk) as _, Some(FOLDER.into()), after, wake).unwrap(), woken)
}

fn left(disk: &Arc<FaultyDisk>) -> LeftBehind {
    let disk: Arc<dyn Disk> = Arc::clone(disk) as _;
    left_work(&disk, Path::new(FOLDER), library()).unwrap()
}

fn names(work: &[Recovery]) -> Vec<&str> {
    work.iter().map(|work| work.season.name()).collect()
}

/// What a window leaves that ends without a word.
fn leave(disk: &FaultyDisk, copy: &str, of: &str, season: &Season) {
    disk.put(&format!("{FOLDER}/{copy}.ron"), format!("// of: {of}\n{}", to_text(season)).as_bytes());
}

#[test]
fn a_change_is_kept_and_said_to_be() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let (autosave, woken) = start(&disk, Duration::ZERO);
    assert_eq!(autosave.status(), AutosaveStatus::Idle);
    autosave.changed(Some(Path::new(FILE)), &named("New"));
    let AutosaveStatus::Kept { file } = woken.recv().unwrap() else { panic!("not kept") };
    assert_eq!(load_from(&*disk, &file, library()).unwrap(), named("New"));
}

/// Changes that never paused were never kept.
#[test]
fn what_changes_without_a_pause_is_kept_soon_after_the_first_change() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let (autosave, woken) = start(&disk, Duration::from_millis(20));
    let begun = Instant::now();
    let mut n = 0;
    while woken.try_recv().is_err() {
        autosave.changed(None, &named(&format!("Change {n}")));
        n += 1;
        assert!(begun.elapsed() < Duration::from_secs(30), "{n} changes, and none was kept");
    }
    drop(autosave);
}

#[test]
fn dropping_it_and_being_told_to_keep_the_newest_do() {
    for told in [false, true] {
        let disk = Arc::new(FaultyDisk::new(&[]));
        let (autosave, woken) = start(&disk, NEVER);
        for n in 1..=30 {
            autosave.changed(Some(Path::new(FILE)), &named(&format!("Change {n}")));
        }
        let keeper = autosave.keeper().unwrap();
        if told {
            keeper.keep_now();
        } else {
            drop(autosave);
        }
        let AutosaveStatus::Kept { file } = woken.recv().unwrap() else { panic!("not kept") };
        assert_eq!(load_from(&*disk, &file, library()).unwrap(), named("Change 30"), "told: {told}");
        assert!(woken.try_recv().is_err(), "written once");
        keeper.keep_now();
    }
}

#[test]
fn what_is_settled_leaves_nothing() {
    for kept_before in [false, true] {
        let disk = Arc::new(FaultyDisk::new(&[]));
        let (autosave, _woken) = start(&disk, NEVER);
        autosave.changed(None, &named("New"));
        if kept_before {
            autosave.keeper().unwrap().keep_now();
        }
        autosave.settled();
        drop(autosave);
        assert_eq!(disk.names(), <[String; 0]>::default(), "kept before: {kept_before}");
    }
}

#[test]
fn what_is_given_up_lies_aside_for_thirty_days() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let day = Duration::from_hours(24);
    disk.put("/unsaved/thrown/old.ron", b"(");
    disk.age("/unsaved/thrown/old.ron", 31 * day);
    disk.put("/unsaved/thrown/newer.ron", b"(");
    disk.age("/unsaved/thrown/newer.ron", 29 * day);
    let (autosave, _woken) = start(&disk, NEVER);
    autosave.changed(Some(Path::new(FILE)), &named("Given up"));
    autosave.given_up();
    drop(autosave);
    let thrown = thrown_away(&*disk, Path::new(FOLDER), Some(Path::new(FILE))).unwrap();
    let [thrown] = thrown.as_slice() else { panic!("{thrown:?}") };
    assert_eq!(load_from(&*disk, &thrown.file, library()).unwrap(), named("Given up"));
    assert_eq!(thrown_away(&*disk, Path::new(FOLDER), None).unwrap().len(), 1, "the other one is of no file");
    assert!(disk.bytes("/unsaved/thrown/old.ron").is_none());
    assert_eq!(names(&left(&disk).work), <[&str; 0]>::default(), "it is not offered");
}

#[test]
fn a_failure_stays_until_it_is_kept_again_by_itself() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    disk.fail(Fault::Full);
    let (autosave, woken) = start(&disk, Duration::from_millis(1));
    autosave.changed(None, &named("New"));
    let why = NotKept::Disk("/unsaved: it could not be saved: the disk is full".to_owned());
    for _ in 0..3 {
        assert_eq!(woken.recv().unwrap(), AutosaveStatus::Failed { why: why.clone() });
    }
    disk.fail(Fault::Once(usize::MAX, io::ErrorKind::Other));
    let kept = woken.iter().find(|status| matches!(status, AutosaveStatus::Kept { .. }));
    assert!(kept.is_some() && autosave.status() == kept.unwrap());
}

#[test]
fn without_a_folder_it_says_that_nothing_is_kept() {
    let (sender, woken) = mpsc::channel();
    let wake = move |status: &AutosaveStatus| sender.send(status.clone()).unwrap();
    let autosave = Autosave::start(Arc::new(FaultyDisk::new(&[])), None, Duration::ZERO, wake).unwrap();
    autosave.changed(None, &named("New"));
    assert_eq!(woken.recv().unwrap(), AutosaveStatus::Failed { why: NotKept::NoFolder });
}

#[test]
fn work_of_a_window_that_lives_is_offered_to_nobody_and_each_window_has_its_own() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let windows: Vec<_> = ["One", "Two"].map(|name| (name, start(&disk, NEVER))).into();
    for (name, (autosave, _)) in &windows {
        autosave.changed(Some(Path::new(FILE)), &named(name));
        autosave.keeper().unwrap().keep_now();
    }
    assert_eq!(names(&left(&disk).work), <[&str; 0]>::default());
    drop(windows);
    let found = left(&disk);
    assert_eq!(names(&found.work), ["Two", "One"], "the newest first");
    assert_eq!(names(&left(&disk).work), <[&str; 0]>::default(), "somebody is asked about them");
    drop(found);
    assert_eq!(names(&left(&disk).work), ["Two", "One"], "not now");
    let (autosave, _woken) = start(&disk, NEVER);
    autosave.changed(None, &named("Three"));
    drop(autosave);
    assert_eq!(names(&left(&disk).work), ["Three", "Two", "One"], "dead work is not written over");
}

#[test]
fn it_is_offered_with_what_differs_and_gone_when_it_is_done_with() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    save_to(&*disk, Path::new(FILE), &sample()).unwrap();
    let mut season = named("New");
    let sowing = season.sowings().next().unwrap().id;
    season.apply(&Op::RemoveSowing(sowing).into()).unwrap();
    leave(&disk, "7-1", FILE, &season);
    let mut found = left(&disk).work;
    let found = found.remove(0);
    assert_eq!((&found.season, found.of.as_deref()), (&season, Some(Path::new(FILE))));
    let renamed = Difference { part: Part::Name, added: 0, changed: 1, gone: 0 };
    let removed = Difference { part: Part::Sowings, added: 0, changed: 0, gone: 1 };
    assert_eq!(found.differs, [renamed, removed]);
    found.done();
    assert_eq!(disk.names(), [FILE]);
}

#[test]
fn what_was_found_and_is_not_wanted_lies_aside_too() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    leave(&disk, "7-1", "", &named("New"));
    left(&disk).work.remove(0).throw(&*disk).unwrap();
    assert_eq!(names(&left(&disk).work), <[&str; 0]>::default());
    assert_eq!(thrown_away(&*disk, Path::new(FOLDER), None).unwrap().len(), 1);
}

/// A copy that was older than its file was passed over, whatever was in it.
#[test]
fn contents_are_compared_and_never_times() {
    for copy_is_older in [true, false] {
        let disk = Arc::new(FaultyDisk::new(&[]));
        disk.put(FILE, to_text(&sample()).as_bytes());
        leave(&disk, "7-1", FILE, &named("Other"));
        leave(&disk, "7-2", FILE, &sample());
        if copy_is_older {
            disk.age("/unsaved/7-1.ron", Duration::from_hours(1000));
        }
        assert_eq!(names(&left(&disk).work), ["Other"], "older: {copy_is_older}");
        assert!(disk.bytes("/unsaved/7-2.ron").is_none(), "the same as its file");
    }
}

#[test]
fn work_of_a_file_that_is_gone_or_broken_is_offered() {
    for file in [None, Some([0; 64].as_slice())] {
        let disk = Arc::new(FaultyDisk::new(&[]));
        if let Some(bytes) = file {
            disk.put(FILE, bytes);
        }
        leave(&disk, "7-1", FILE, &sample());
        assert_eq!(left(&disk).work[0].season, sample());
    }
}

#[test]
fn one_copy_that_cannot_be_read_hides_no_other() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    leave(&disk, "6-1", "", &named("First"));
    disk.put("/unsaved/7-1.ron", b"(");
    leave(&disk, "8-1", "", &named("Last"));
    let found = left(&disk);
    assert_eq!(names(&found.work), ["Last", "First"]);
    assert_eq!(
        found.unreadable.iter().map(|why| why.path.as_path()).collect::<Vec<_>>(),
        [Path::new("/unsaved/7-1.ron")]
    );
    assert!(disk.bytes("/unsaved/7-1.ron").is_some(), "it stays");
}

#[test]
fn on_the_real_disk_a_copy_is_private_and_held_while_its_window_lives() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path().join("unsaved");
    let disk: Arc<dyn Disk> = Arc::new(crate::store::RealDisk);
    let autosave = Autosave::start(Arc::clone(&disk), Some(folder.clone()), NEVER, |_| {}).unwrap();
    autosave.changed(Some(Path::new("/nowhere/spring.ron")), &named("New"));
    autosave.keeper().unwrap().keep_now();
    let AutosaveStatus::Kept { file } = autosave.status() else { panic!("{:?}", autosave.status()) };
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        assert_eq!(std::fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o600);
    }
    assert!(left_behind(&disk, &folder).unwrap().is_empty());
    drop(autosave);
    let mut found = left_work(&disk, &folder, library()).unwrap().work;
    assert_eq!((names(&found), found[0].file()), (vec!["New"], file.as_path()));
    found.remove(0).done();
    assert_eq!(std::fs::read_dir(&folder).unwrap().count(), 0, "nothing is left");
}

#[test]
fn what_cannot_be_laid_aside_is_not_written_over() {
    let disk = Arc::new(FaultyDisk::new(&[]));
    let (autosave, _woken) = start(&disk, NEVER);
    let keeper = autosave.keeper().unwrap();
    autosave.changed(None, &named("Given up"));
    keeper.keep_now();
    disk.fail(Fault::ReadOnly);
    autosave.given_up();
    keeper.keep_now();
    disk.fail(Fault::Once(usize::MAX, io::ErrorKind::Other));
    autosave.changed(None, &named("Next"));
    drop(autosave);
    assert_eq!(names(&left(&disk).work), ["Next", "Given up"]);
}
