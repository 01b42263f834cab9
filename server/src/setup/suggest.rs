//! What somebody may have meant.

/// Letters that may differ: a slip of the finger or two, and less than half of the word.
const SLIPS: usize = 2;

/// The word nearest to `found`, if it is near enough to be meant.
pub(crate) fn meant<'w>(found: &str, words: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let length = found.chars().count();
    // Words of another length cannot be near. Comparing costs the product of both lengths, and what was found
    // may be as long as the file.
    let near_in_length = |word: &&str| word.chars().count().abs_diff(length) <= SLIPS;
    words
        .into_iter()
        .filter(near_in_length)
        .map(|word| (strsim::damerau_levenshtein(&found.to_lowercase(), &word.to_lowercase()), word))
        .filter(|(slips, word)| *slips <= SLIPS && 2 * *slips < word.len())
        .min()
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_understood_and_a_guess_is_not_made() {
        let words = ["count", "mass"];
        assert_eq!(meant("cuont", words), Some("count"));
        assert_eq!(meant("Mass", words), Some("mass"));
        assert_eq!(meant("weight", words), None);
        assert_eq!(meant("leg", ["key"]), None);
        assert_eq!(meant("", ["a"]), None);
    }
}
