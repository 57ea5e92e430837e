use super::*;
use crate::season::Op;
use crate::store::disk::faulty::{Fault, FaultyDisk};
use crate::store::{RealDisk, library, sample};

const FILE: &str = "/plans/spring.ron";
const BEFORE: &str = "/plans/spring.ron~";

fn named(name: &str) -> (Season, Vec<u8>) {
    let mut season = sample();
    season.apply(&Op::Rename(name.to_owned()).into()).unwrap();
    let text = file::to_text(&season).into_bytes();
    (season, text)
}

/// With two versions of the season on it.
fn disk() -> (FaultyDisk, [Vec<u8>; 2]) {
    let (oldest, old) = (named("Oldest").1, named("Old").1);
    (FaultyDisk::new(&[(FILE, &old), (BEFORE, &oldest)]), [oldest, old])
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
            let (file, before) = (found.bytes(FILE).unwrap(), found.bytes(BEFORE).unwrap());
            assert!(file == old || file == new, "operation {at}, {kept} of 10 kept");
            assert!(before == oldest || before == old, "operation {at}, {kept} of 10 kept");
            assert!(saved.is_err() || file == new, "operation {at}: said to be saved, and is not");
            assert!(file == old || before == old, "operation {at}: the version before is gone");
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
            assert_eq!(disk.names(), [FILE, BEFORE], "operation {at}");
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
        assert_eq!((found.bytes(FILE), found.bytes(BEFORE)), (Some(old), Some(oldest)), "{fault:?}");
        assert_eq!(found.names(), [FILE, BEFORE], "{fault:?}");
        // A first save there leaves nothing behind either.
        let disk = FaultyDisk::new(&[]);
        disk.fail(fault);
        save_to(&disk, Path::new(FILE), &named("New").0).unwrap_err();
        assert_eq!(disk.names(), <[String; 0]>::default(), "{fault:?}");
    }
}

#[test]
fn the_version_before_stays_beside_until_something_else_is_saved() {
    let (disk, [_, old]) = disk();
    let (season, new) = named("New");
    for _ in 0..2 {
        save_to(&disk, Path::new(FILE), &season).unwrap();
        assert_eq!((disk.bytes(FILE), disk.bytes(BEFORE)), (Some(new.clone()), Some(old.clone())));
    }
    assert_eq!(previous_of(Path::new(FILE)), Path::new(BEFORE));
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
    assert_eq!(disk.names(), [FILE, BEFORE]);
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
    assert_eq!(std::fs::read(previous_of(&path)).unwrap(), text);
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
    std::fs::File::create(&path).unwrap().set_len(LARGEST + 1).unwrap();
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
    for file in [&path, &previous_of(&path)] {
        assert_eq!(std::fs::metadata(file).unwrap().permissions().mode() & 0o777, 0o600, "{}", file.display());
    }
    symlink("round.ron", folder.path().join("round.ron")).unwrap();
    assert!(save_to(&RealDisk, &folder.path().join("round.ron"), &named("New").0).is_err());
}
