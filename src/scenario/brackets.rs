//! Brackets and braces in a text that is no YAML, for a help that names the one that is not closed.
//!
//! The parser often stops lines later than the mistake, and before it tells of the bracket at all.

use std::iter::Peekable;
use std::str::CharIndices;

use crate::diagnostic::line_and_column;

/// What to look at when the parser stopped at byte `at`; `None` where no bracket is to blame.
pub(super) fn help(text: &str, at: usize) -> Option<String> {
    if let Some(start) = unclosed(text, at) {
        let line = line_and_column(text, start).0;
        return Some(format!("is the `{}` on line {line} closed?", text[start..].chars().next()?));
    }
    let here = text[at..].chars().next()?;
    matches!(here, ']' | '}').then(|| format!("this `{here}` closes nothing: is it one too many?"))
}

/// The innermost bracket that is open at byte `at`, or stands there.
fn unclosed(text: &str, at: usize) -> Option<usize> {
    if text[at..].starts_with(['[', '{']) {
        return Some(at);
    }
    let mut open = Vec::new();
    let mut before = '\n';
    let mut signs = text[..at].char_indices().peekable();
    while let Some((place, sign)) = signs.next() {
        let begins = before.is_whitespace() || matches!(before, '[' | '{' | ',');
        match sign {
            '#' if before.is_whitespace() => skip_to(&mut signs, '\n'),
            '"' | '\'' if begins => skip_to(&mut signs, sign),
            '[' | '{' if begins => open.push(place),
            ']' | '}' => {
                open.pop();
            }
            _ => {}
        }
        before = sign;
    }
    open.last().copied()
}

/// Goes past the next such sign.
fn skip_to(signs: &mut Peekable<CharIndices<'_>>, last: char) {
    while signs.next().is_some_and(|(_, sign)| sign != last) {}
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The byte of `^`, which is taken out of the text.
    fn helped(marked: &str) -> Option<String> {
        let at = marked.find('^').expect("a mark");
        help(&marked.replacen('^', "", 1), at)
    }

    #[test]
    fn the_innermost_open_bracket_is_named() {
        assert_eq!(helped("a: {b: 1\nc:^ 2").unwrap(), "is the `{` on line 1 closed?");
        assert_eq!(helped("a: {b: 1,\n  c: [1, 2\n^d: 2").unwrap(), "is the `[` on line 2 closed?");
        assert_eq!(helped("a: {b: [1, 2]\n^d: 2").unwrap(), "is the `{` on line 1 closed?");
        assert_eq!(helped("a: 1\nb: ^{c: 1]").unwrap(), "is the `{` on line 2 closed?");
    }

    #[test]
    fn brackets_within_words_quotes_and_comments_do_not_count() {
        for text in ["a: b[c\n^", "a: \"[\"\n^", "a: '{'\n^", "a: 1 # {\n^", "# [\n^", "a: [1]\n^", "^"] {
            assert_eq!(helped(text), None, "{text}");
        }
        assert_eq!(helped("a: # no [\n  {b: '}',\n^").unwrap(), "is the `{` on line 2 closed?");
    }

    #[test]
    fn one_that_closes_nothing_is_told() {
        assert_eq!(helped("a: {b: 1}^}\n").unwrap(), "this `}` closes nothing: is it one too many?");
    }
}
