use flatwright::units::{Length, LengthUnit, Volume};

use crate::{check, close};

#[test]
fn the_dry_quart() {
    check("1 US dry quart is 67.200625 in³", "NIST Handbook 44, appendix C");
    assert_eq!(Volume::parse("1 dry quart"), Volume::parse("67.200625 in³"));
}

#[test]
fn the_inch() {
    check("1 in is 25.4 mm exactly", "international yard and pound agreement, 1959");
    assert_eq!(Length::parse("1 in", None), Length::parse("25.4", Some(LengthUnit::Millimetre)));
}

#[test]
fn the_class_of_the_number_one_container() {
    check("152 to 251 in³ are 2491 to 4113 ml", "ANSI Z60.1-2004, container class #1");
    for (inches, ml) in [("152 in³", 2491.0), ("251 in³", 4113.0)] {
        close(Volume::parse(inches).unwrap().to_ml(), ml, 0.5);
    }
}
