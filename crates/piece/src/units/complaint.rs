//! What is wrong with a value as it was typed, in words.

/// What is wrong with one typed value, before it is known where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Complaint {
    /// What was found and what was expected.
    pub message: String,
    /// What to do, one sentence each.
    pub hints: Vec<String>,
}

impl Complaint {
    /// A complaint without hints.
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), hints: Vec::new() }
    }

    /// The same with one more hint.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(hint.into());
        self
    }
}

/// `a, b or c`.
pub fn or_list(words: &[impl AsRef<str>]) -> String {
    let quoted: Vec<_> = words.iter().map(|word| format!("`{}`", word.as_ref())).collect();
    match quoted.split_last() {
        None => "nothing".to_owned(),
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}

/// Typed text for a message: one line, at most 40 characters.
pub fn shorten(text: &str) -> String {
    let mut shown: String =
        text.chars().take(40).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(40).is_some() {
        shown.push('…');
    }
    shown
}
