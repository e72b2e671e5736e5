//! Words that begin a sentence.

/// The words with their first letter a capital.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::capital;

    #[test]
    fn only_the_first_letter_changes() {
        assert_eq!(capital("eggs, her seen"), "Eggs, her seen");
        assert_eq!(capital("été"), "Été");
        assert_eq!(capital("2 looks"), "2 looks");
        assert_eq!(capital(""), "");
    }
}
