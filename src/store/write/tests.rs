use super::*;
use crate::store::disk::faulty::{Fault, FaultyDisk};

const FILE: &str = "/plans/spring.ron";

fn disk() -> FaultyDisk {
    FaultyDisk::new(&[(FILE, b"Old")])
}

#[test]
fn only_old_leftovers_of_this_file_are_swept_away() {
    let disk = disk();
    let gone = ["/plans/.spring.ron.1.part", "/plans/.spring.ron.22.part"];
    let stay = [
        "/plans/.spring.ron.part",
        "/plans/.spring.ron.x.part",
        "/plans/.spring.ron2.3.part",
        "/plans/.spring.ron.4.part",
    ];
    for path in gone.into_iter().chain(stay) {
        disk.put(path, b"(");
        disk.age(path, if path.ends_with("4.part") { LEFTOVER / 2 } else { LEFTOVER * 2 });
    }
    write_to(&disk, Path::new(FILE), b"New").unwrap();
    let names = disk.names();
    assert!(gone.iter().all(|path| !names.iter().any(|name| name == path)), "{names:?}");
    assert!(stay.iter().all(|path| names.iter().any(|name| name == path)), "{names:?}");
}

#[test]
fn a_leftover_of_the_same_number_is_no_obstacle() {
    let disk = disk();
    disk.put(&part_of(Path::new(FILE)).unwrap().display().to_string(), b"(");
    write_to(&disk, Path::new(FILE), b"New").unwrap();
    assert_eq!(disk.names(), [FILE]);
}

#[test]
fn a_device_is_never_replaced_and_nothing_is_left_beside_it() {
    let disk = disk();
    disk.device("/dev/null");
    disk.link("/plans/map.svg", "/dev/null");
    for path in ["/dev/null", "/plans/map.svg"] {
        let refused = write_to(&disk, Path::new(path), b"New").unwrap_err();
        let why = "it could not be saved: this is not a file but a device or a pipe; give a file's name";
        assert_eq!(refused.to_string(), format!("{path}: {why}"));
    }
    assert_eq!(disk.names(), [FILE]);
}

#[test]
fn every_operation_that_fails_leaves_the_old_file_and_no_part() {
    let whole = disk();
    write_to(&whole, Path::new(FILE), b"New").unwrap();
    assert!(whole.operations() > 5);
    for at in 0..whole.operations() {
        let disk = disk();
        disk.fail(Fault::Once(at, io::ErrorKind::StorageFull));
        let wanted: &[u8] = if write_to(&disk, Path::new(FILE), b"New").is_ok() { b"New" } else { b"Old" };
        assert_eq!(disk.bytes(FILE).as_deref(), Some(wanted), "operation {at}");
        assert_eq!(disk.names(), [FILE], "operation {at}");
    }
}

#[cfg(unix)]
#[test]
fn a_link_to_a_device_and_a_pipe_stay_what_they_are_on_the_real_disk() {
    use std::os::unix::fs::{FileTypeExt as _, symlink};
    let folder = tempfile::tempdir().unwrap();
    let (link, socket) = (folder.path().join("map.svg"), folder.path().join("socket"));
    symlink("/dev/null", &link).unwrap();
    let _listener = std::os::unix::net::UnixListener::bind(&socket).unwrap();
    for path in [link.as_path(), &socket, Path::new("/dev/null")] {
        let refused = write(path, b"New").unwrap_err();
        assert!(refused.to_string().ends_with("this is not a file but a device or a pipe; give a file's name"));
    }
    assert!(std::fs::metadata("/dev/null").unwrap().file_type().is_char_device());
    assert!(std::fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2);
}

/// Only who may give files away can see another owner stay; everybody else sees their own stay.
#[cfg(unix)]
#[test]
fn mode_and_owner_stay_on_the_real_disk() {
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _, chown};
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("map.svg");
    std::fs::write(&path, "Old").unwrap();
    chown(&path, Some(4711), Some(4712)).ok(); // refused to all but the system's own user
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o640)).unwrap();
    let seen = |path: &Path| {
        let found = std::fs::metadata(path).unwrap();
        (found.uid(), found.gid(), found.permissions().mode() & 0o7777)
    };
    let before = seen(&path);
    write(&path, b"New").unwrap();
    assert_eq!((seen(&path), std::fs::read(&path).unwrap()), (before, b"New".to_vec()));
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o440)).unwrap();
    let refused = write(&path, b"Newer").unwrap_err();
    assert!(refused.to_string().ends_with("it could not be saved: this file is protected against writing"));
    assert_eq!(std::fs::read(&path).unwrap(), b"New");
}
