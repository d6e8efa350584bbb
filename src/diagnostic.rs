//! A fault or warning with its place in a file, and how it is shown.

use std::ops::Range;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use serde::Serialize;

/// How serious a diagnostic is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// The scenario cannot be used.
    Error,
    /// The scenario can be used, but this is probably not meant.
    Warning,
}

/// One fault or warning about a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Diagnostic {
    /// Stable code, `S` and three digits.
    pub code: &'static str,
    /// How serious it is.
    pub severity: Severity,
    /// The file, as the household named it.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The bytes of the file that it is about.
    pub span: Range<usize>,
    /// What is wrong.
    pub what: String,
    /// What is allowed.
    pub allowed: Option<String>,
    /// How to mend it.
    pub help: Option<String>,
}

impl Diagnostic {
    /// Text with the place in the source drawn under it.
    ///
    /// `source` is the text of the file; `styled` adds colour for a terminal.
    pub fn render(&self, source: &str, styled: bool) -> String {
        let level = match self.severity {
            Severity::Error => Level::ERROR,
            Severity::Warning => Level::WARNING,
        };
        let snippet = Snippet::source(source)
            .path(self.file.as_str())
            .annotation(AnnotationKind::Primary.span(on_boundaries(source, &self.span)));
        let mut group: Group<'_> = level.primary_title(self.what.as_str()).id(self.code).element(snippet);
        if let Some(allowed) = &self.allowed {
            group = group.element(Level::NOTE.with_name("allowed").message(allowed.as_str()));
        }
        if let Some(help) = &self.help {
            group = group.element(Level::HELP.message(help.as_str()));
        }
        let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
        renderer.decor_style(DecorStyle::Ascii).render(&[group])
    }
}

/// The span cut to the text and to whole characters, as the drawing needs it.
fn on_boundaries(source: &str, span: &Range<usize>) -> Range<usize> {
    let mut start = span.start.min(source.len());
    while !source.is_char_boundary(start) {
        start -= 1;
    }
    let mut end = span.end.clamp(start, source.len());
    while !source.is_char_boundary(end) {
        end += 1;
    }
    start..end
}

/// All diagnostics of one file, one after another, with an empty line between.
pub fn render_all(diagnostics: &[Diagnostic], source: &str, styled: bool) -> String {
    let texts: Vec<_> = diagnostics.iter().map(|diagnostic| diagnostic.render(source, styled)).collect();
    texts.join("\n\n")
}

/// Puts diagnostics in the order of their places; at one place errors come first, then lower codes.
pub fn sort_by_place(diagnostics: &mut [Diagnostic]) {
    diagnostics.sort_by(|a, b| {
        (&a.file, a.span.start, a.span.end, a.severity, a.code, &a.what).cmp(&(
            &b.file,
            b.span.start,
            b.span.end,
            b.severity,
            b.code,
            &b.what,
        ))
    });
}

/// Line and column (in characters), both from 1, of a byte of the text.
pub fn line_and_column(source: &str, byte: usize) -> (usize, usize) {
    let start = on_boundaries(source, &(byte..byte)).start;
    let before = &source[..start];
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn about(span: Range<usize>, code: &'static str) -> Diagnostic {
        Diagnostic {
            code,
            severity: Severity::Error,
            file: "cellar.yaml".to_owned(),
            line: 2,
            column: 8,
            span,
            what: "`95 degC` is above the allowed range".to_owned(),
            allowed: Some("-10 degC to 15 degC".to_owned()),
            help: Some("lower `thermostat.set`".to_owned()),
        }
    }

    #[test]
    fn the_place_is_drawn_under_the_line() {
        let source = "thermostat:\n  set: 95 degC\n";
        insta::assert_snapshot!(about(19..26, "S108").render(source, false), @r"
        error[S108]: `95 degC` is above the allowed range
         --> cellar.yaml:2:8
          |
        2 |   set: 95 degC
          |        ^^^^^^^
          |
          = allowed: -10 degC to 15 degC
          = help: lower `thermostat.set`
        ");
    }

    #[test]
    fn a_span_beyond_the_text_or_inside_a_letter_is_drawn_all_the_same() {
        for span in [0..0, 3..99, 50..60, 2..3, 1..2] {
            assert!(about(span, "S108").render("é: ü", false).contains("error[S108]"));
        }
    }

    #[test]
    fn diagnostics_are_sorted_by_place_then_by_code() {
        let mut all = vec![about(9..12, "S104"), about(3..5, "S110"), about(3..5, "S106")];
        sort_by_place(&mut all);
        let order: Vec<_> = all.iter().map(|one| (one.span.start, one.code)).collect();
        assert_eq!(order, [(3, "S106"), (3, "S110"), (9, "S104")]);
    }

    #[test]
    fn columns_are_counted_in_letters() {
        assert_eq!(line_and_column("ab\nöä: 3", "ab\nöä".len()), (2, 3));
        assert_eq!(line_and_column("", 7), (1, 1));
    }
}
