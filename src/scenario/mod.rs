//! s
pub mod codes;
mod fault;
mod tree;
