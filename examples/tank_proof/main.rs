//! Writes `docs/TANK.md`: what the tank's scheme gives where the answer is known exactly.
//!
//!     cargo run --example tank_proof                     prints the page
//!     cargo run --example tank_proof -- docs/TANK.md     writes it
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

mod proof;

fn main() -> std::io::Result<()> {
    let page = proof::page();
    match std::env::args_os().nth(1) {
        Some(path) => std::fs::write(path, page),
        None => {
            print!("{page}");
            Ok(())
        }
    }
}
