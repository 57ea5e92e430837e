use super::*;
use crate::season::Op;
use crate::store::disk::faulty::{Fault, FaultyDisk};
use crate::store::{RealDisk, library, sample};

const FILE: &str = "/plans/spring.ron";
/// Among the versions from the start.
const OLDEST: &str = "/plans/.spring.ron.versions/1970-01-12T13-46-40-000.ron";
/// What the file holds at the start, once it is saved over: it was written a second later.
const BEFORE: &str = "/plans/.spring.ron.versions/1970-01-12T13-46-41-000.ron";

fn named(name: &str) -> (Season, Vec<u8>) {
    let mut season = sample();
    season.apply(&Op::Rename(name.to_owned()).into()).unwrap();
    let text = file::to_text(&season).into_bytes();
    (season, text)
}

/// With two versions of the season on it.
fn disk() -> (FaultyDisk, [Vec<u8>; 2]) {
    let (oldest, old) = (named("Oldest").1, named("Old").1);
    (FaultyDisk::new(&[(FILE, &old), (OLDEST, &oldest)]), [oldest, old])
}

fn operations_of_a_save() -> usize {
    let (disk, _) = disk();
    save_to(&disk, Path::new(FILE), &named("New").0).unwrap();
    disk.operations()
}

#[test]
fn a_power_cut_at_any_moment_leaves_the_old_file_or_the_new_one() {
    let (season, new) = named("New");
    for at in 0..=operations_of_a_save() {
        for kept in [0, 5, 10] {
            let (disk, [oldest, old]) = disk();
            disk.fail(Fault::PowerCut(at));
            let saved = save_to(&disk, Path::new(FILE), &season);
            let found = disk.after_power_cut(kept);
            let (file, before) = (found.bytes(FILE).unwrap(), found.bytes(BEFORE));
            assert!(file == old || file == new, "operation {at}, {kept} of 10 kept");
            assert!(before.is_none() || before.as_ref() == Some(&old), "operation {at}, {kept} of 10 kept");
            assert_eq!(found.bytes(OLDEST), Some(oldest), "operation {at}, {kept} of 10 kept");
            assert!(saved.is_err() || file == new, "operation {at}: said to be saved, and is not");
            assert!(file == old || before.is_some(), "operation {at}: the version before is gone");
        }
    }
}

#[test]
fn a_first_save_that_is_cut_off_leaves_nothing_or_the_whole_file() {
    let (season, new) = named("New");
    for at in 0..=operations_of_a_save() {
        let disk = FaultyDisk::new(&[]);
        disk.fail(Fault::PowerCut(at));
        let saved = save_to(&disk, Path::new(FILE), &season);
        let file = disk.after_power_cut(0).bytes(FILE);
        assert!(file.is_none() || file.as_ref() == Some(&new), "operation {at}");
        assert!(saved.is_err() || file.is_some(), "operation {at}");
    }
}

#[test]
fn an_operation_that_fails_leaves_the_old_file_and_no_rubbish() {
    let (season, new) = named("New");
    for at in 0..operations_of_a_save() {
        for kind in [io::ErrorKind::StorageFull, io::ErrorKind::PermissionDenied] {
            let (disk, [_, old]) = disk();
            disk.fail(Fault::Once(at, kind));
            let saved = save_to(&disk, Path::new(FILE), &season);
            let wanted = if saved.is_ok() { &new } else { &old };
            assert_eq!(disk.bytes(FILE).as_ref(), Some(wanted), "operation {at}");
            assert!(disk.names().iter().all(|name| [OLDEST, BEFORE, FILE].contains(&name.as_str())), "operation {at}");
        }
    }
}

#[test]
fn a_disk_that_stays_full_or_read_only_keeps_what_it_has_and_says_so() {
    for (fault, why) in [(Fault::Full, "the disk is full"), (Fault::ReadOnly, "this disk can only be read")] {
        let (disk, [oldest, old]) = disk();
        disk.fail(fault);
        for _ in 0..2 {
            let refused = save_to(&disk, Path::new(FILE), &named("New").0).unwrap_err();
            assert_eq!(refused.to_string(), format!("{FILE}: it could not be saved: {why}"));
        }
        let found = disk.after_power_cut(0);
        assert_eq!((found.bytes(FILE), found.bytes(OLDEST)), (Some(old), Some(oldest)), "{fault:?}");
        assert_eq!(found.names(), [OLDEST, FILE], "{fault:?}");
        // A first save there leaves nothing behind either.
        let disk = FaultyDisk::new(&[]);
        disk.fail(fault);
        save_to(&disk, Path::new(FILE), &named("New").0).unwrap_err();
        assert_eq!(disk.names(), <[String; 0]>::default(), "{fault:?}");
    }
}

#[test]
fn what_was_saved_over_stays_among_the_versions_once() {
    let (disk, [_, old]) = disk();
    let (season, new) = named("New");
    for _ in 0..2 {
        save_to(&disk, Path::new(FILE), &season).unwrap();
        assert_eq!((disk.bytes(FILE), disk.bytes(BEFORE)), (Some(new.clone()), Some(old.clone())));
    }
    let files = versions::versions(&disk, Path::new(FILE)).unwrap().into_iter().map(|version| version.file);
    assert_eq!(files.collect::<Vec<_>>(), [Path::new(BEFORE), Path::new(OLDEST)]);
}

#[test]
fn of_many_saves_a_few_versions_are_kept() {
    let (disk, _) = disk();
    for n in 0..30 {
        save_to(&disk, Path::new(FILE), &named(&format!("Save {n}")).0).unwrap();
    }
    let kept = versions::versions(&disk, Path::new(FILE)).unwrap();
    let names: Vec<String> =
        kept.iter().map(|kept| load_from(&disk, &kept.file, library()).unwrap().name().to_owned()).collect();
    // The newest five, and before them the last of that day.
    assert_eq!(names, ["Save 28", "Save 27", "Save 26", "Save 25", "Save 24", "Save 23"]);
}

#[test]
fn only_what_is_expected_is_saved_over() {
    let (disk, [_, old]) = disk();
    let (season, new) = named("New");
    let save = |expected| save_over(&disk, Path::new(FILE), &season, expected);
    let only = |bytes: Option<&[u8]>| Expected::Only(bytes.map(Content::of));
    let found = Content::of(&old);
    for expected in [only(Some(b"other")), only(None)] {
        assert!(matches!(save(expected), Err(NotSaved::Elsewhere(Elsewhere::Changed(now))) if now == found));
    }
    assert_eq!(disk.bytes(FILE), Some(old.clone()));
    assert_eq!(save(only(Some(&old))).unwrap(), Content::of(&new));
    // The same is no other, whatever was expected.
    assert_eq!(save(only(Some(&old))).unwrap(), Content::of(&new));
    disk.remove(Path::new(FILE)).unwrap();
    assert!(matches!(save(only(Some(&new))), Err(NotSaved::Elsewhere(Elsewhere::Gone))));
    assert_eq!(disk.bytes(FILE), None);
    assert_eq!(save(only(None)).unwrap(), Content::of(&new));
}

#[test]
fn a_protected_file_is_not_replaced() {
    let (disk, [_, old]) = disk();
    disk.protect(FILE);
    let refused = save_to(&disk, Path::new(FILE), &named("New").0).unwrap_err();
    assert_eq!(refused.to_string(), "/plans/spring.ron: it could not be saved: this file is protected against writing");
    assert_eq!(disk.bytes(FILE), Some(old));
}

#[test]
fn a_link_stays_and_what_it_leads_to_is_saved() {
    let (disk, _) = disk();
    disk.link("/desk/today.ron", FILE);
    let (season, new) = named("New");
    save_to(&disk, Path::new("/desk/today.ron"), &season).unwrap();
    assert_eq!(disk.bytes(FILE), Some(new));
    assert_eq!(disk.names(), [OLDEST, BEFORE, FILE]);
}

#[track_caller]
fn check_refused(path: &Path, kind: io::ErrorKind, message: &str) {
    let disk = FaultyDisk::new(&[]);
    disk.fail(Fault::Once(2, kind));
    let refused = save_to(&disk, path, &named("New").0).unwrap_err();
    assert_eq!(refused.to_string(), format!("{}: it could not be saved: {message}", path.display()));
}

#[test]
fn why_a_season_was_not_saved_is_said_in_plain_words() {
    let file = Path::new(FILE);
    check_refused(file, io::ErrorKind::StorageFull, "the disk is full");
    check_refused(file, io::ErrorKind::PermissionDenied, "you may not write here");
    check_refused(file, io::ErrorKind::ReadOnlyFilesystem, "this disk can only be read");
    check_refused(file, io::ErrorKind::NotFound, "there is no such folder");
    check_refused(Path::new("/"), io::ErrorKind::Other, "this is a folder; give a file's name");
}

#[test]
fn the_real_disk_saves_and_loads() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("spring.ron");
    let (old, text) = named("Old");
    save_to(&RealDisk, &path, &old).unwrap();
    save_to(&RealDisk, &path, &named("New").0).unwrap();
    assert_eq!(load_from(&RealDisk, &path, library()).unwrap().name(), "New");
    let versions = versions::versions(&RealDisk, &path).unwrap();
    assert_eq!(versions.iter().map(|version| std::fs::read(&version.file).unwrap()).collect::<Vec<_>>(), [text]);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2);
    let refused = save_to(&RealDisk, &folder.path().join("nowhere/spring.ron"), &old).unwrap_err();
    assert!(refused.to_string().ends_with("it could not be saved: there is no such folder"), "{refused}");
    let refused = save_to(&RealDisk, folder.path(), &old).unwrap_err();
    assert!(refused.to_string().ends_with("this is a folder; give a file's name"), "{refused}");
    let refused = load_from(&RealDisk, folder.path(), library()).unwrap_err();
    assert!(refused.to_string().ends_with("this is a folder; a season is one file"), "{refused}");
    let refused = load_from(&RealDisk, &folder.path().join("autumn.ron"), library()).unwrap_err();
    assert!(refused.to_string().ends_with("autumn.ron: there is no such file"), "{refused}");
}

#[test]
fn a_huge_file_is_refused_before_it_fills_the_memory() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("film.ron");
    std::fs::File::create(&path).unwrap().set_len(Document::Season.most_bytes() + 1).unwrap();
    let refused = load_from(&RealDisk, &path, library()).unwrap_err();
    assert!(refused.to_string().ends_with("this file is larger than 64 MB, too large for a season"), "{refused}");
}

#[cfg(unix)]
#[test]
fn rights_and_links_survive_on_the_real_disk() {
    use std::os::unix::fs::{PermissionsExt as _, symlink};
    let folder = tempfile::tempdir().unwrap();
    let (path, link) = (folder.path().join("spring.ron"), folder.path().join("today.ron"));
    symlink("spring.ron", &link).unwrap();
    save_to(&RealDisk, &link, &named("Old").0).unwrap();
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o600)).unwrap();
    save_to(&RealDisk, &link, &named("New").0).unwrap();
    assert!(std::fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(load_from(&RealDisk, &path, library()).unwrap().name(), "New");
    let version = versions::versions(&RealDisk, &path).unwrap().remove(0).file;
    for file in [&path, &version] {
        assert_eq!(std::fs::metadata(file).unwrap().permissions().mode() & 0o777, 0o600, "{}", file.display());
    }
    symlink("round.ron", folder.path().join("round.ron")).unwrap();
    assert!(save_to(&RealDisk, &folder.path().join("round.ron"), &named("New").0).is_err());
}
