//! When output is coloured. No meaning is in colour alone, so that any answer is right.

use std::ffi::OsStr;
use std::io::IsTerminal;

use clap::ValueEnum;

/// What `--color` says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Color {
    /// In a terminal, unless `NO_COLOR` is set or `TERM` is `dumb`.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

impl Color {
    /// Whether to colour what goes to `stream`.
    pub fn wanted(self, stream: &impl IsTerminal) -> bool {
        let no_color = std::env::var_os("NO_COLOR");
        let term = std::env::var_os("TERM");
        self.decides(no_color.as_deref(), term.as_deref(), stream.is_terminal())
    }

    fn decides(self, no_color: Option<&OsStr>, term: Option<&OsStr>, terminal: bool) -> bool {
        match self {
            Color::Always => true,
            Color::Never => false,
            Color::Auto => {
                terminal && no_color.is_none_or(OsStr::is_empty) && term.is_none_or(|term| term != "dumb")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The rules of no-color.org: set and not empty turns colour off unless the user asks for it on the command line.
    #[test]
    fn the_command_line_rules_then_no_color_then_term_then_the_terminal() {
        let set = Some(OsStr::new("1"));
        let empty = Some(OsStr::new(""));
        let dumb = Some(OsStr::new("dumb"));
        assert!(Color::Always.decides(set, dumb, false));
        assert!(!Color::Never.decides(None, None, true));
        assert!(Color::Auto.decides(None, None, true));
        assert!(Color::Auto.decides(empty, Some(OsStr::new("xterm")), true));
        assert!(!Color::Auto.decides(set, None, true));
        assert!(!Color::Auto.decides(None, dumb, true));
        assert!(!Color::Auto.decides(None, None, false));
    }
}
