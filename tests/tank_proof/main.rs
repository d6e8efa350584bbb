//! `docs/TANK.md` and its figures are what `examples/tank_proof` writes, and every case on it holds. `UPDATE_DOCS=1 cargo test --test tank_proof` writes it.

use std::fs;
use std::path::Path;

#[path = "../../examples/tank_proof/figures.rs"]
mod figures;
#[path = "../../examples/tank_proof/proof.rs"]
mod proof;

#[test]
fn the_page_is_what_the_program_writes() {
    let docs = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs");
    let figures = figures::figures();
    let mut written = vec![("TANK.md".to_owned(), proof::page(&figures))];
    written.extend(figures.into_iter().map(|figure| (format!("figures/{}", figure.file), figure.svg)));
    for (name, text) in &written {
        let path = docs.join(name);
        if std::env::var_os("UPDATE_DOCS").is_some() {
            fs::create_dir_all(path.parent().expect("a folder")).expect("the folder can be made");
            fs::write(&path, text).expect("it can be written");
        }
        let kept = fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
        assert!(kept == *text, "docs/{name} is out of date: run with UPDATE_DOCS=1");
    }
    let kept = fs::read_dir(docs.join("figures")).expect("the figures' folder").count();
    assert_eq!(kept, written.len() - 1, "docs/figures holds a figure that nobody draws");
}

/// Every figure stands on the page, has titled axes with units, words for whoever does not see it, and colours for a dark screen.
#[test]
fn figures_are_readable() {
    let figures = figures::figures();
    let page = proof::page(&figures);
    assert_eq!(figures.len(), 5);
    for figure in &figures {
        let (svg, file) = (&figure.svg, figure.file);
        assert!(page.contains(&format!("![{}](figures/{file})", figure.alt)), "{file}");
        assert!(
            svg.contains(&format!("<title>{}</title>", figure.alt)) && svg.contains("role=\"img\""),
            "{file}"
        );
        assert!(svg.contains("prefers-color-scheme:dark"), "{file}");
        let titled = svg.matches(", °C").count() + svg.matches(", h").count() + svg.matches(", m\n").count();
        let others = svg.matches("volumes of the tank").count()
            + svg.matches(", K").count()
            + svg.matches("\nparcels\n").count();
        assert!(titled + others >= 2, "{file}: {svg}");
        // No colour is drawn that has no counterpart in the dark.
        for part in svg.split(&['"', '\''][..]).filter(|part| part.len() == 7 && part.starts_with('#')) {
            assert!(svg.contains(&format!("[fill=\"{part}\"]")), "{file}: {part}");
        }
    }
}

#[test]
fn every_case_is_within_what_it_allows() {
    let cases = proof::cases();
    assert_eq!(cases.len(), 7);
    for case in cases {
        assert!(case.rows.len() >= 3, "{}", case.name);
        for row in case.rows {
            let apart = (row.parcels - row.exact).abs();
            assert!(apart <= row.tolerance, "{}, {}: {} for {}", case.name, row.at, row.parcels, row.exact);
        }
    }
}

/// Values worked out outside the program: 54.853 °C after a day (exponential, c = 4181.6 J/(kg K)); 42.294, 31.555 and 21.090 °C
/// after half, one and two volumes; 43.445, 50.443 and 57.986 °C above the step; 0.0847, 0.2074 and 0.4149 m.
/// Derived here with a general library's exponential and error function. Tolerance: the printed digits.
#[test]
fn the_exact_answers_are_exact() {
    let cases = proof::cases();
    let exact = |case: usize| cases[case].rows.iter().map(|row| row.exact).collect::<Vec<_>>();
    assert!((exact(0)[0] - 54.853).abs() < 5.1e-4, "{:?}", exact(0));
    for (found, known) in exact(1).into_iter().zip([42.294, 31.555, 21.090]) {
        assert!((found - known).abs() < 5.1e-4, "{found} {known}");
    }
    for (found, known) in exact(3).into_iter().skip(3).zip([43.445, 50.443, 57.986]) {
        assert!((found - known).abs() < 5.1e-4, "{found} {known}");
    }
    // 15 + 45 exp(-0.25/0.125).
    assert!((exact(6)[2] - 21.090).abs() < 5.1e-4, "{:?}", exact(6));
    for (found, known) in exact(5).into_iter().zip([0.0847, 0.2074, 0.4149]) {
        assert!((found - known).abs() < 5.1e-5, "{found} {known}");
    }
}

/// Twice as many parcels and half the time: each refinement is nearer, and the last is within a tenth of a kelvin.
#[test]
fn finer_is_nearer() {
    let errors_dk: Vec<f64> = proof::REFINED
        .iter()
        .map(|&(parcels, interval_s)| proof::step_error_dk(parcels, interval_s))
        .collect();
    assert!(errors_dk.windows(2).all(|pair| pair[1] < pair[0]), "{errors_dk:?}");
    assert!(errors_dk[3] < 0.1, "{errors_dk:?}");
}
