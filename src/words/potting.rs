//! The word for going into a larger container, as the season has it.

use crate::season::{ContainerKey, ContainerKind, Potting, StepId};

use super::Words;

/// The forms of a verb: `pot on`, `pots on`, `potted on`, `potting on`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Verb {
    pub to_do: &'static str,
    pub does: &'static str,
    pub done: &'static str,
    pub doing: &'static str,
}

pub const fn potting(word: Potting) -> Verb {
    match word {
        Potting::PotOn => Verb { to_do: "pot on", does: "pots on", done: "potted on", doing: "potting on" },
        Potting::PotUp => Verb { to_do: "pot up", does: "pots up", done: "potted up", doing: "potting up" },
        Potting::MoveOn => Verb { to_do: "move on", does: "moves on", done: "moved on", doing: "moving on" },
    }
}

impl Words<'_> {
    /// The season's verb for pots; cells and flats are moved on into, whatever the country.
    pub(super) fn verb_into(&self, step: StepId) -> Verb {
        let sowing = self.season.sowing_with(step);
        let step = sowing.and_then(|sowing| sowing.steps.iter().find(|found| found.id == step));
        step.map_or_else(|| self.verb(), |step| self.verb_for(&step.container))
    }

    pub(super) fn verb_for(&self, container: &ContainerKey) -> Verb {
        match self.season.container(self.library, container).map(|container| &container.kind) {
            Some(ContainerKind::Plug(_) | ContainerKind::Flat(_)) => potting(Potting::MoveOn),
            _ => self.verb(),
        }
    }

    pub(super) fn verb(&self) -> Verb {
        potting(self.season.settings().potting)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_word_has_its_forms() {
        let forms = |word| {
            let Verb { to_do, does, done, doing } = potting(word);
            [to_do, does, done, doing]
        };
        assert_eq!(forms(Potting::PotOn), ["pot on", "pots on", "potted on", "potting on"]);
        assert_eq!(forms(Potting::PotUp), ["pot up", "pots up", "potted up", "potting up"]);
        assert_eq!(forms(Potting::MoveOn), ["move on", "moves on", "moved on", "moving on"]);
    }
}
