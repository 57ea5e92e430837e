use super::{Edit, EditError, EditLabel, Season};

/// A season with everything that was done to it, both ways, without limit.
///
/// Whole seasons are kept; their maps share what did not change, so each costs what the edit
/// touched.
#[derive(Clone, Debug)]
pub struct History {
    now: Season,
    undo: Vec<Step>,
    redo: Vec<Step>,
    revision: u64,
    /// The highest that was given.
    last_revision: u64,
}

/// A season that can be come back to, and what was done from or to it.
#[derive(Clone, Debug)]
struct Step {
    label: EditLabel,
    season: Season,
    revision: u64,
}

impl History {
    pub const fn new(season: Season) -> Self {
        Self { now: season, undo: Vec::new(), redo: Vec::new(), revision: 0, last_revision: 0 }
    }

    pub const fn season(&self) -> &Season {
        &self.now
    }

    /// The number of the season as it is now: another after every change, the same again where undo or redo lead back
    /// to it.
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// # Errors
    /// A refused edit leaves no trace.
    pub fn commit(&mut self, edit: &Edit) -> Result<(), EditError> {
        let mut next = self.now.clone();
        next.apply(edit)?;
        if next == self.now {
            return Ok(());
        }
        let season = std::mem::replace(&mut self.now, next);
        self.undo.push(Step { label: edit.label.clone(), season, revision: self.revision });
        self.is_another();
        Ok(())
    }

    fn is_another(&mut self) {
        self.redo.clear();
        self.last_revision += 1;
        self.revision = self.last_revision;
    }

    /// Goes to the season of the step; gives the one that it was, to come back to.
    fn go_to(&mut self, step: Step) -> Step {
        let Step { label, season, revision } = step;
        let season = std::mem::replace(&mut self.now, season);
        let revision = std::mem::replace(&mut self.revision, revision);
        Step { label, season, revision }
    }

    /// Does it as a part of the step done last, so that one undo takes both back.
    ///
    /// # Errors
    /// A refused edit leaves no trace.
    pub fn add_to_last(&mut self, edit: &Edit) -> Result<(), EditError> {
        if self.undo.is_empty() {
            return self.commit(edit);
        }
        self.now.apply(edit)?;
        self.is_another();
        Ok(())
    }

    /// What `undo` would take back.
    pub fn undo_label(&self) -> Option<&EditLabel> {
        self.undo.last().map(|step| &step.label)
    }

    /// What `redo` would do again.
    pub fn redo_label(&self) -> Option<&EditLabel> {
        self.redo.last().map(|step| &step.label)
    }

    /// False when there is nothing to take back.
    pub fn undo(&mut self) -> bool {
        let Some(step) = self.undo.pop() else { return false };
        let came_from = self.go_to(step);
        self.redo.push(came_from);
        true
    }

    /// False when there is nothing to do again.
    pub fn redo(&mut self) -> bool {
        let Some(step) = self.redo.pop() else { return false };
        let came_from = self.go_to(step);
        self.undo.push(came_from);
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::Op;

    #[test]
    fn a_season_that_is_come_back_to_has_its_number_again_and_no_other_has() {
        let mut history = History::new(Season::new("a"));
        let rename = |history: &mut History, name: &str| {
            history.commit(&Op::Rename(name.to_owned()).into()).unwrap();
            history.revision()
        };
        let (first, second) = (history.revision(), rename(&mut history, "b"));
        assert!(history.undo());
        assert_eq!(history.revision(), first);
        assert!(history.redo());
        assert_eq!(history.revision(), second);
        history.undo();
        let third = rename(&mut history, "c");
        assert!(![first, second].contains(&third), "another season than the one that was taken back");
    }
}
