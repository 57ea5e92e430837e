use super::{Edit, EditError, EditLabel, Season};

/// A season with everything that was done to it, both ways, without limit.
///
/// Whole seasons are kept; their maps share what did not change, so each costs what the edit
/// touched.
#[derive(Clone, Debug)]
pub struct History {
    now: Season,
    undo: Vec<(EditLabel, Season)>,
    redo: Vec<(EditLabel, Season)>,
    revision: u64,
}

impl History {
    pub const fn new(season: Season) -> Self {
        Self { now: season, undo: Vec::new(), redo: Vec::new(), revision: 0 }
    }

    pub const fn season(&self) -> &Season {
        &self.now
    }

    /// Raised by every change, undo and redo.
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
        let before = std::mem::replace(&mut self.now, next);
        self.undo.push((edit.label.clone(), before));
        self.redo.clear();
        self.revision += 1;
        Ok(())
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
        self.redo.clear();
        self.revision += 1;
        Ok(())
    }

    /// What `undo` would take back.
    pub fn undo_label(&self) -> Option<&EditLabel> {
        self.undo.last().map(|(label, _)| label)
    }

    /// What `redo` would do again.
    pub fn redo_label(&self) -> Option<&EditLabel> {
        self.redo.last().map(|(label, _)| label)
    }

    /// False when there is nothing to take back.
    pub fn undo(&mut self) -> bool {
        let Some((label, before)) = self.undo.pop() else { return false };
        let after = std::mem::replace(&mut self.now, before);
        self.redo.push((label, after));
        self.revision += 1;
        true
    }

    /// False when there is nothing to do again.
    pub fn redo(&mut self) -> bool {
        let Some((label, after)) = self.redo.pop() else { return false };
        let before = std::mem::replace(&mut self.now, after);
        self.undo.push((label, before));
        self.revision += 1;
        true
    }
}
