//! A fault while a scenario is being read: as a [`Diagnostic`], but without file, line and column yet.

use std::ops::Range;

use crate::diagnostic::{Diagnostic, Severity, line_and_column};

/// A fault at a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// Code.
    pub code: &'static str,
    /// Severity.
    pub severity: Severity,
    /// Bytes of the file.
    pub span: Range<usize>,
    /// What is wrong.
    pub what: String,
    /// What is allowed.
    pub allowed: Option<String>,
    /// How to mend it.
    pub help: Option<String>,
}

impl Note {
    /// An error.
    pub fn error(code: &'static str, span: Range<usize>, what: String) -> Self {
        Self { code, severity: Severity::Error, span, what, allowed: None, help: None }
    }

    /// The same with what is allowed.
    pub fn allowed(self, allowed: Option<String>) -> Self {
        Self { allowed, ..self }
    }

    /// The same with how to mend it.
    pub fn helped(self, help: Option<String>) -> Self {
        Self { help, ..self }
    }

    /// With file, line and column.
    pub fn in_file(self, file: &str, source: &str) -> Diagnostic {
        let (line, column) = line_and_column(source, self.span.start);
        Diagnostic {
            code: self.code,
            severity: self.severity,
            file: file.to_owned(),
            line,
            column,
            span: self.span,
            what: self.what,
            allowed: self.allowed,
            help: self.help,
        }
    }
}
