//! What a search has met, told apart word by word.

/// Rows of words in one long list, and a table of where each begins and ends.
#[derive(Default)]
pub(super) struct Seen {
    words: Vec<u64>,
    table: Vec<(u32, u32)>,
    number: usize,
}

const FREE: (u32, u32) = (0, 0);

impl Seen {
    /// Whether a row of at least one word is new; from then on it isn't.
    pub(super) fn insert(&mut self, row: impl IntoIterator<Item = u64>) -> bool {
        if 2 * self.number >= self.table.len() {
            self.grow();
        }
        let begin = self.words.len();
        self.words.extend(row);
        let at = self.find(&self.words[begin..]);
        let index = |at: usize| u32::try_from(at).ok();
        let is_new = self.table[at] == FREE;
        match index(begin).zip(index(self.words.len())) {
            Some(entry) if is_new => {
                self.table[at] = entry;
                self.number += 1;
            }
            // known, or too much to remember
            _ => self.words.truncate(begin),
        }
        is_new
    }

    /// All is new again.
    pub(super) fn clear(&mut self) {
        self.words.clear();
        self.table.fill(FREE);
        self.number = 0;
    }

    fn grow(&mut self) {
        let larger = vec![FREE; (2 * self.table.len()).max(64)];
        for entry in std::mem::replace(&mut self.table, larger).into_iter().filter(|entry| *entry != FREE) {
            let at = self.find(self.row(entry));
            self.table[at] = entry;
        }
    }

    fn row(&self, (begin, end): (u32, u32)) -> &[u64] {
        &self.words[begin as usize..end as usize]
    }

    /// Where it is in the table, or may go.
    fn find(&self, row: &[u64]) -> usize {
        let mix = |hash: u64, word: &u64| (hash ^ word).wrapping_mul(0x9E37_79B9_7F4A_7C15).rotate_left(29);
        let last = self.table.len() - 1;
        let mut at = row.iter().fold(0, mix) as usize & last;
        while self.table[at] != FREE && self.row(self.table[at]) != row {
            at = (at + 1) & last;
        }
        at
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_row_is_new_once_whatever_its_length() {
        let mut seen = Seen::default();
        for again in [false, true, false] {
            if !again {
                seen.clear();
            }
            for first in 0..200 {
                for length in 1..4 {
                    assert_eq!(seen.insert(first..first + length), !again, "{length} from {first}");
                }
            }
        }
    }
}
