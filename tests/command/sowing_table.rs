use std::fs;
use std::path::{Path, PathBuf};

use crate::args;
use crate::tools::{fields, json, list, refuses, says, text};

struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        let folder = Self(tempfile::tempdir().unwrap());
        let season = "(format: \"flatwright season\", version: 1, name: \"Garden 2008\", \
            settings: (frost: (date: \"2008-05-01\", later_in_ten: 5, temperature: \"0 °C\")))";
        fs::write(folder.path("season.ron"), season).unwrap();
        folder
    }

    fn path(&self, name: &str) -> PathBuf {
        Path::new(self.0.path()).join(name)
    }

    fn table(&self, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path("table.csv");
        fs::write(&path, bytes).unwrap();
        path
    }

    #[track_caller]
    fn refuses(&self, bytes: impl AsRef<[u8]>, parts: &[&str]) {
        let table = self.table(bytes);
        refuses(args!["take", self.path("season.ron"), "--sowings", &table, "-o", self.path("out.ron")], parts);
        assert!(!self.path("out.ron").exists());
    }
}

#[test]
fn a_table_is_taken_in_and_its_odd_row_pointed_out() {
    let folder = Folder::new();
    let table = folder.table(
        "Crop,Variety,Plants,Days,Weeks from frost,Set out\n\
         Onion,Brown,120,49,-4,3 Apr\n\
         Pea,,36,21,6 to 8 weeks before,15 Mar\n",
    );
    let (season, out) = (folder.path("season.ron"), folder.path("out.ron"));
    let said = says(args!["take", &season, "--sowings", &table, "-o", &out], 0);
    for part in [
        "Garden 2008: 2 rows taken in\n",
        "- Set out: out\n",
        "Onion (bulb, from seed) ‘Brown’",
        "4 weeks before the frost date",
        "table.csv:3:6: Pea: Sat 15 Mar 2008 is 47 days before the frost date of Thu 1 May 2008, 6.7 weeks",
    ] {
        assert!(said.contains(part), "no {part:?} in {said}");
    }
    let saved = fs::read_to_string(&out).unwrap();
    assert!(saved.contains("rule: Frost(days: -28)") && saved.contains("plants: 120"), "{saved}");
}

#[test]
fn a_preview_saves_nothing_and_columns_can_be_named() {
    let folder = Folder::new();
    let table = folder.table("Légume;Jours;Repiquage\nOnion;49;2008-04-03\n");
    let season = folder.path("season.ron");
    let ask = args![
        "take",
        &season,
        "--sowings",
        &table,
        "--preview",
        "--json",
        "--column",
        "crop=Légume",
        "--column",
        "days=Jours",
        "--column",
        "out=Repiquage"
    ];
    let answer = json(ask, 0);
    assert_eq!(fields(&answer), ["columns", "odd", "season", "taken"]);
    let taken = &list(&answer, "taken")[0];
    assert_eq!((text(taken, "sow"), text(taken, "out")), ("2008-02-14", "2008-04-03"));
    assert_eq!(list(&answer, "columns").len(), 3);
    assert_eq!(fs::read_dir(folder.0.path()).unwrap().count(), 2, "the season and the table");
}

#[test]
fn rows_that_cannot_be_read_are_left_out_with_their_place() {
    let folder = Folder::new();
    let table = folder.table(
        "crop,days,out\nOnion,49,2008-04-03\nOnyon,49,2008-04-03\nLeek,many,2008-04-03\nLeek,49,2008-02-30\nLeek,,\n",
    );
    let said = says(args!["take", folder.path("season.ron"), "--sowings", &table, "--preview"], 0);
    for part in [
        "1 row taken in",
        "table.csv:3:1: Onyon: ",
        "onion",
        "table.csv:4:2: Leek: found \"many\"; write a whole number; the row is left out",
        "table.csv:5:3: Leek: found \"2008-02-30\", a day that the calendar doesn't have; the row is left out",
        "table.csv:6:3: Leek: no day out, and nothing that it follows from; the row is left out",
    ] {
        assert!(said.contains(part), "no {part:?} in {said}");
    }
}

#[test]
fn bad_tables_are_refused_with_their_place() {
    let folder = Folder::new();
    folder.refuses("", &["table.csv: the file is empty"]);
    folder.refuses(b"crop,out\nOnion,\xff\n", &["table.csv:2:7: this is not text in UTF-8"]);
    folder.refuses("a,b\n1,2\n", &["1:1: found the headings \"a\", \"b\"", "Crop"]);
    folder.refuses("crop,plant,out\nOnion,x,1 May\n", &["1:2: two columns are taken for the crop"]);
    folder.refuses("crop,out\n", &["headings only"]);
    folder.refuses("crop,out\nOnyon,1 May 2008\n", &["no row could be read", "2:1"]);
    let table = folder.table("crop,out\nOnion,1 May 2008\n");
    let season = folder.path("season.ron");
    let out = folder.path("out.ron");
    refuses(args!["take", &season, "--sowings", &table, "-o", &out, "--column", "out=Nowhere"], &["1:2", "Nowhere"]);
    refuses(args!["take", &season, "--sowings", &table, "-o", &out, "--column", "when=out"], &["when"]);
    refuses(args!["take", &season, "--sowings", folder.path("none.csv"), "-o", &out], &["none.csv"]);
    refuses(args!["take", &season, "--sowings", &table], &["--output"]);
}
