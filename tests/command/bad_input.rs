use std::fs;

use flatwright::{command, words};

use crate::args;
use crate::tools::{crowded, example, refuses, roomy, run, says};

#[test]
fn files_that_are_no_seasons_are_named() {
    let folder = tempfile::tempdir().unwrap();
    let missing = folder.path().join("missing.ron");
    for command in ["check", "weeks"] {
        refuses(args![command, &missing], &["missing.ron: "]);
        refuses(args![command, folder.path()], &[&*folder.path().to_string_lossy()]);
        refuses(args![command, &missing, "--json"], &["missing.ron: "]);
    }
    let broken = folder.path().join("broken.ron");
    fs::write(&broken, "(\n    format: \"flatwright season\",\n    version: 1,\n    name: ,\n)\n").unwrap();
    refuses(args!["check", &broken], &["broken.ron:4:"]);
    let other = folder.path().join("other.ron");
    fs::write(&other, "(format: \"something else\", version: 1)").unwrap();
    refuses(args!["check", &other], &["other.ron"]);
    let bytes = folder.path().join("bytes.ron");
    fs::write(&bytes, [0xFF, 0xFE, 0, 1]).unwrap();
    refuses(args!["check", &bytes], &["bytes.ron"]);
    fs::write(&bytes, "").unwrap();
    refuses(args!["check", &bytes], &["bytes.ron"]);
}

#[test]
fn days_on_which_a_place_is_open_twice_are_refused_where_they_stand() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("twice.ron");
    let spans = "[(from: \"2027-03-01\", until: \"2027-05-01\"), (from: \"2027-04-01\", until: \"2027-06-01\")]";
    let text = "(format: \"flatwright season\", version: 2, name: \"Twice\",\nplaces: [(id: 1, name: \"Frame\",";
    fs::write(&file, format!("{text} role: Hardening, open: {spans})])\n")).unwrap();
    for command in ["check", "make-room"] {
        refuses(args![command, &file], &["twice.ron:2:10: ", "place 1 (\"Frame\")", "open days must not overlap"]);
    }
}

#[test]
fn a_mistyped_command_is_answered_with_the_commands() {
    let commands = words::listed(&command::names());
    refuses(["chek"], &["\"chek\"", &commands]);
    refuses(args!["chek", crowded()], &["\"chek\"", &commands]);
    refuses(args![crowded(), roomy()], &["one season"]);
    refuses(["check"], &["FILE"]);
    refuses(args!["check", crowded(), "--jsn"], &["--jsn"]);
    refuses(args!["place", crowded()], &["-o"]);
    refuses(args!["draw", crowded(), "-o", "x.svg"], &["--on"]);
}

#[test]
fn sizes_and_containers_are_refused_with_a_reason() {
    refuses(["holds", "48", "flat"], &["the shelf", "48 x 18 in"]);
    refuses(["holds", "48 x 18", "flat"], &["the shelf", "without a unit", "mm, cm, m, in, ft"]);
    refuses(["holds", "48 furlongs x 18 in", "flat"], &["furlongs"]);
    refuses(["holds", "48 x 0 in", "flat"], &["side of the shelf", "50 mm"]);
    refuses(["holds", "200 x 200 m", "flat"], &["side of the shelf", "100 m"]);
    refuses(["holds", "", "flat"], &["the shelf"]);
    refuses(["holds", "48 x 18 in", "flatt"], &["\"flatt\"", "flat_1020"]);
    refuses(["holds", "48 x 18 in", "zzz"], &["\"zzz\"", "7 cm"]);
    refuses(["holds", "48 x 18 in", ""], &["tray or pot"]);
    refuses(["holds", "48 x 18 in", "plug"], &["\"plug\"", "plug_128"]);
    refuses(["holds", "48 x 18 in", "7 parsecs"], &["parsecs"]);
    refuses(["holds", "48 x 18 in", "0 cm"], &["5 mm"]);
    refuses(["holds", "48 x 18 in", "99 m"], &["5 m"]);
    refuses(["holds", "48 x 18 in", "-7 cm"], &["\"-7 cm\"", "must be from 0"]);
    refuses(["holds", "-48 x 18 in", "flat"], &["the shelf", "\"-48", "must be from 0"]);
    refuses(["holds", "48 x 18 in", "flat", "--overhang", "-1 in"], &["the overhang", "\"-1 in\"", "must be from 0"]);
    refuses(["holds", "48 x 18 in", "flat", "--overhang", "far"], &["the overhang"]);
    refuses(["holds", "48 x 18 in", "flat", "--overhang", "3 m"], &["the overhang", "1 m"]);
    refuses(["holds", "9999999999999999999999 x 1 m", "flat"], &["the shelf"]);
}

/// What waits for a writer for ever, and what never ends.
#[cfg(unix)]
#[test]
fn pipes_and_devices_are_not_read() {
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe");
    assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let (pipe, device) = (&pipe, std::path::Path::new("/dev/zero"));
    let out = folder.path().join("out.ron");
    for file in [pipe, device] {
        refuses(args!["check", file], &["this is a pipe or a device; a season is a file"]);
        let frost = args!["take", roomy(), "--frost-table", file, "--sense", "later", "-o", &out];
        refuses(frost, &["this is a pipe or a device; a frost table is a file"]);
        refuses(args!["take", roomy(), "--weather", file, "-o", &out], &["pipe or a device; a station's record is"]);
        refuses(
            args!["take", roomy(), "--sowings", file, "-o", &out],
            &["pipe or a device; a table of sowings is a file"],
        );
    }
    let large = folder.path().join("large.txt");
    fs::File::create(&large).unwrap().set_len(1024 * 1024 + 1).unwrap();
    refuses(
        args!["take", roomy(), "--frost-table", &large, "--sense", "later", "-o", &out],
        &["this file is larger than 1 MB, too large for a frost table"],
    );
}

/// Whatever a file or its name holds, a terminal shows it as letters.
#[test]
fn nothing_that_is_printed_steers_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let named = folder.path().join("a\u{1b}[31m\nFits.ron");
    refuses(args!["check", &named], &["a\\u{1b}[31m\\nFits.ron: there is no such file"]);
    refuses(args!["che\u{1b}ck"], &["\"che\\u{1b}ck\""]);
    let stations = folder.path().join("stations.csv");
    let day = |station: &str| format!("{station},2009-04-16,-22\n");
    fs::write(&stations, format!("STATION,DATE,TMIN\n{}{}", day("A\u{1b}[2J"), day("B"))).unwrap();
    let out = folder.path().join("out.ron");
    refuses(args!["take", roomy(), "--weather", &stations, "-o", &out], &["2 stations", "A\\u{1b}[2J, B"]);
    let table = folder.path().join("plan.csv");
    fs::write(&table, "Crop,Variety,\"Out\u{202e}\",Plants,Out\ntomato,\"Early\u{1b}[31m\nRed\",,12,2027-05-16\n")
        .unwrap();
    let ran = run(args!["take", roomy(), "--sowings", &table, "-o", &out]);
    let steers = |c: char| c != '\n' && flatwright::units::breaks_a_line(c);
    assert!(!ran.out.contains(steers) && !ran.err.contains(steers), "{ran:?}");
    assert!(!ran.out.lines().any(|line| line.starts_with("Red")), "{ran:?}");
}

#[test]
fn dates_and_scales_are_refused_with_an_example() {
    for date in ["2027-02-30", "14 April", "", "2027-4", "99999-01-01x"] {
        refuses(args!["draw", crowded(), "--on", date, "-o", "x.svg"], &["2027-04-14"]);
    }
    for scale in ["10", "1:0", "1:5000", "big", "2:1"] {
        refuses(args!["draw", crowded(), "--on", "2027-04-14", "-o", "x.svg", "--scale", scale], &["1:10"]);
    }
}

#[test]
fn an_output_that_cannot_be_is_refused_and_nothing_is_left_behind() {
    let folder = tempfile::tempdir().unwrap();
    let inside = |name: &str| folder.path().join(name);
    let draw = |file: &std::path::Path| args!["draw", crowded(), "--on", "2027-04-14", "-o", file];
    refuses(draw(&inside("map.docx")), &["map.docx", ".svg"]);
    refuses(draw(&inside("map")), &[".svg"]);
    refuses(draw(&inside("no/such/map.svg")), &["map.svg"]);
    refuses(args!["place", crowded(), "-o", inside("season.txt")], &["season.txt", ".ron"]);
    refuses(args!["place", crowded(), "-o", inside("no/such/season.ron")], &["season.ron"]);
    fs::create_dir(inside("folder.svg")).unwrap();
    fs::create_dir(inside("folder.ron")).unwrap();
    refuses(draw(&inside("folder.svg")), &["folder.svg"]);
    refuses(args!["place", crowded(), "-o", inside("folder.ron")], &["folder.ron"]);
    let mut names: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    names.sort();
    assert_eq!(names, ["folder.ron", "folder.svg"]);

    // A drawing that fails leaves the one before it.
    let map = inside("map.svg");
    says(draw(&map), 0);
    let before = fs::read(&map).unwrap();
    refuses(args!["draw", inside("missing.ron"), "--on", "2027-04-14", "-o", &map], &["missing.ron"]);
    assert_eq!(fs::read(&map).unwrap(), before);
}

#[test]
fn help_and_version_are_answers() {
    let out = says(["--help"], 0);
    for command in command::names() {
        assert!(out.contains(&format!("  {command} ")), "{out}");
        assert!(says([command.as_str(), "--help"], 0).contains("--json"), "{command}");
    }
    assert_eq!(says(["--version"], 0), format!("flatwright {}\n", env!("CARGO_PKG_VERSION")));
}

/// Elsewhere a window may open.
#[cfg(target_os = "linux")]
#[test]
fn without_a_window_the_commands_that_need_none_are_named() {
    let commands = words::listed(&command::names());
    for args in [args![].to_vec(), args![example("roomy.ron")].to_vec()] {
        let ran = run(args);
        assert_eq!((ran.code, ran.out.as_str()), (1, ""), "{}", ran.err);
        assert!(ran.err.ends_with(&format!("the commands {commands} need none\n")), "{}", ran.err);
        assert_eq!(ran.err.lines().count(), 1, "{}", ran.err);
    }
}
