/// The one of `known` that was most likely meant by `found`; `None` if all are far from it.
///
/// Nearest by single letters changed, added or left out (Levenshtein 1966); at most one in three.
pub fn nearest<'a>(found: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let length = found.chars().count();
    // Longer than any name: not worth the quadratic time.
    if length > 100 {
        return None;
    }
    let allowed = (length / 3).max(1);
    known
        .into_iter()
        .filter(|known| known.chars().count().abs_diff(length) <= allowed)
        .map(|known| (distance(found, known), known))
        .filter(|&(distance, _)| distance <= allowed)
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, known)| known)
}

fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, from) in a.chars().enumerate() {
        let mut next = Vec::with_capacity(row.len());
        next.push(i + 1);
        let mut left = i + 1;
        for (&to, pair) in b.iter().zip(row.windows(2)) {
            let &[diagonal, above] = pair else { continue };
            left = (diagonal + usize::from(from != to)).min(above + 1).min(left + 1);
            next.push(left);
        }
        row = next;
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distance_counts_single_letters() {
        for (a, b, wanted) in
            [("", "", 0), ("abc", "", 3), ("", "abc", 3), ("kitten", "sitting", 3), ("plug_72", "plug_73", 1)]
        {
            assert_eq!(distance(a, b), wanted, "{a} {b}");
        }
    }

    #[test]
    fn only_what_is_near_is_offered() {
        let known = ["tomato", "pepper", "plug_72", "plug_128"];
        assert_eq!(nearest("tomatto", known), Some("tomato"));
        assert_eq!(nearest("plug_73", known), Some("plug_72"));
        assert_eq!(nearest("Tomato", known), Some("tomato"));
        assert_eq!(nearest("leek", known), None);
        assert_eq!(nearest("", known), None);
    }
}
