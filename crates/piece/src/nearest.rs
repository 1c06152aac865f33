//! The word a person most likely meant.

/// The known word nearest to `typed`, if one is near enough to be meant.
pub fn nearest<'a>(typed: &str, known: &[&'a str]) -> Option<&'a str> {
    // Nobody mistypes a word of the format into a whole line; comparing those would only cost time.
    if typed.chars().count() > 40 {
        return None;
    }
    let folded = fold(typed);
    known
        .iter()
        .map(|word| (strsim::damerau_levenshtein(&folded, &fold(word)), *word))
        .filter(|(distance, word)| {
            let length = folded.chars().count().max(fold(word).chars().count());
            *distance * 3 <= length.max(3)
        })
        // The first of equals, so that the answer does not depend on anything but the order of `known`.
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, word)| word)
}

/// Case, spaces, hyphens and underscores are no difference; neither is the other spelling of colour.
fn fold(word: &str) -> String {
    let plain: String =
        word.to_lowercase().chars().filter(|c| !matches!(c, ' ' | '-' | '_')).collect();
    plain.replace("color", "colour").replace("meter", "metre")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_taken_for_the_word_it_is_nearest_to() {
        let known = ["colour", "coats", "circumference", "part"];
        assert_eq!(nearest("color", &known), Some("colour"));
        assert_eq!(nearest("circumfrence", &known), Some("circumference"));
        assert_eq!(nearest("COAT", &known), Some("coats"));
        assert_eq!(nearest("paint", &known), None);
        assert_eq!(nearest(&"x".repeat(100_000), &known), None);
    }
}
