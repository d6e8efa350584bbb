//! Checks against published tables, worked examples and figures, one module for each source or theme.

mod draw_patterns;
mod produce;
