//! Writes `docs/TANK.md` and its figures: what the tank's scheme gives where the answer is known exactly.
//!
//!     cargo run --example tank_proof                     prints the page
//!     cargo run --example tank_proof -- docs/TANK.md     writes it, and the figures into `figures` beside it
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

mod figures;
mod proof;

use std::fs;
use std::path::PathBuf;

fn main() -> std::io::Result<()> {
    let figures = figures::figures();
    let page = proof::page(&figures);
    let Some(path) = std::env::args_os().nth(1).map(PathBuf::from) else {
        print!("{page}");
        return Ok(());
    };
    let folder = path.with_file_name("figures");
    fs::create_dir_all(&folder)?;
    for figure in figures {
        fs::write(folder.join(figure.file), figure.svg)?;
    }
    fs::write(path, page)
}
