//! What undo takes back.

use crate::season::{EditLabel, TrayKey};

use super::{Words, counted, span};

impl Words<'_> {
    /// `move of To 7`: what undo would take back.
    pub fn edit(&self, label: &EditLabel) -> String {
        let tray = |tray: &TrayKey| self.tray(*tray);
        match label {
            EditLabel::Rename => "new name".to_owned(),
            EditLabel::TakeIn(number) => {
                format!("taking in of {}", counted(*number, "sowing", "sowings"))
            }
            EditLabel::ChangeNote => "change of the note".to_owned(),
            EditLabel::ChangeSettings => "change of settings".to_owned(),
            EditLabel::PutAway(days) => format!("days away, {}", span(*days)),
            EditLabel::RemoveAway => "removal of days away".to_owned(),
            EditLabel::ChangePlace(name) | EditLabel::ChangeRack(name) => format!("change of {name}"),
            EditLabel::RemovePlace(_) => "removal of a place".to_owned(),
            EditLabel::RemoveRack(_) => "removal of a rack".to_owned(),
            EditLabel::ChangeFloor(name) => format!("change of the floor of {name}"),
            EditLabel::MoveRack(name) => format!("move of {name}"),
            EditLabel::TurnRack(name) => format!("turn of {name}"),
            EditLabel::RackOffPlan(name) => format!("taking {name} off the floor"),
            EditLabel::ChangeShelf => "change of a shelf".to_owned(),
            EditLabel::RemoveShelf => "removal of a shelf".to_owned(),
            EditLabel::ChangeCrop(name) | EditLabel::ChangeContainer(name) | EditLabel::ChangeGuest(name) => {
                format!("change of {name}")
            }
            EditLabel::RemoveCrop(key) | EditLabel::RemoveContainer(key) => format!("removal of {key}"),
            EditLabel::ChangeSowing(crop) => format!("change of the {crop} sowing"),
            EditLabel::RemoveSowing(_) => "removal of a sowing".to_owned(),
            EditLabel::RemoveGuest => "removal of other plants".to_owned(),
            EditLabel::ChangeTrayNote(key) => format!("note on {}", tray(key)),
            EditLabel::PlaceTray(key) => format!("placing of {}", tray(key)),
            EditLabel::MoveTray(key) => format!("move of {}", tray(key)),
            EditLabel::TurnTray(key) => format!("turn of {}", tray(key)),
            EditLabel::LiftTray(key) => format!("taking {} off the shelf", tray(key)),
            EditLabel::PinTray(key) => format!("pin on {}", tray(key)),
            EditLabel::UnpinTray(key) => format!("unpinning of {}", tray(key)),
            EditLabel::ScaleSeason(percent) => format!("making the season {percent} % of what it was"),
            EditLabel::MakeRoom(number) => format!("making room by {}", counted(*number, "change", "changes")),
            EditLabel::OtherDays(number) => format!("other days for {number} sowings"),
            EditLabel::WhatIf(name) if name.is_empty() => "what if".to_owned(),
            EditLabel::WhatIf(name) => format!("what if: {name}"),
            EditLabel::FindSpots => "finding spots".to_owned(),
            EditLabel::AddRack(name)
            | EditLabel::AddSowing(name)
            | EditLabel::AddGuest(name)
            | EditLabel::AddContainer(name)
            | EditLabel::AddCrop(name) => format!("adding of {name}"),
            EditLabel::AddShelf => "adding of a shelf".to_owned(),
            EditLabel::MoveTrays(number) => format!("move of {number} trays"),
            EditLabel::TurnTrays(number) => format!("turn of {number} trays"),
            EditLabel::PlaceTrays(number) => format!("placing of {number} trays"),
            EditLabel::LiftTrays(number) => format!("taking {number} trays off the shelf"),
            EditLabel::PinTrays(number) => format!("pins on {number} trays"),
            EditLabel::UnpinTrays(number) => format!("unpinning of {number} trays"),
            EditLabel::AddRecord(what) => format!("record “{what}”"),
            EditLabel::AddRecords(works) => format!("records of {}", counted(*works, "work", "works")),
            EditLabel::ChangeRecord(what) => format!("change of the record “{what}”"),
            EditLabel::RemoveRecord(what) => format!("removal of the record “{what}”"),
            EditLabel::ChangeDay(what) => format!("new day for “{what}”"),
            EditLabel::SwapTrays(one, other) => format!("swap of {} and {}", tray(one), tray(other)),
        }
    }
}
