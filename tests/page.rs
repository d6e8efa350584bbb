//! The report page: whole, quiet, valid, readable without script, and fit for a phone.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use html5ever::tendril::TendrilSink;
use html5ever::{ParseOpts, parse_document};
use markup5ever_rcdom::{Handle, NodeData, RcDom};
use serde_json::Value;

const SCENARIOS: [&str; 6] = [
    "basement-chicago",
    "cider-shed",
    "couple-no-dump",
    "family-own-uses",
    "grower-po-plain",
    "market-garden",
];
/// Largest page, bytes.
const LARGEST: usize = 400_000;

/// The page of a scenario in metric units, and its JSON document from the same run.
fn written(scenario: &str, folder: &Path) -> (PathBuf, Value) {
    let page = folder.join(format!("{scenario}.html"));
    let done = Command::new(env!("CARGO_BIN_EXE_larderloop"))
        .args(["check", &format!("scenarios/{scenario}.yaml"), "--json", "--html"])
        .arg(&page)
        .output()
        .expect("it can be run");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    (page, serde_json::from_slice(&done.stdout).expect("a JSON document"))
}

/// Every number of a document, sorted.
fn numbers_of(document: &Value) -> Vec<f64> {
    fn walk(value: &Value, numbers: &mut Vec<f64>) {
        match value {
            Value::Number(number) => numbers.extend(number.as_f64()),
            Value::Array(items) => items.iter().for_each(|item| walk(item, numbers)),
            Value::Object(entries) => entries.values().for_each(|item| walk(item, numbers)),
            _ => {}
        }
    }
    let mut numbers = Vec::new();
    walk(document, &mut numbers);
    // How far a point of the pump's curve may be off is told there as a share.
    for key in ["cop_by_inlet", "cop_by_room"] {
        for point in document[key].as_array().into_iter().flatten() {
            for (value, share) in [("cop", "cop_band_frac"), ("heat_to_water_w", "heat_to_water_band_frac")] {
                numbers.extend(
                    point[value].as_f64().zip(point[share].as_f64()).map(|(value, share)| value * share),
                );
            }
        }
    }
    // A table's last row sums up months that stand in the document by themselves.
    for months in document.as_object().into_iter().flatten().filter_map(|(_, value)| value.as_array()) {
        let keys = months.first().and_then(Value::as_object).into_iter().flat_map(|month| month.keys());
        numbers.extend(keys.map(|key| months.iter().filter_map(|month| month[key].as_f64()).sum::<f64>()));
    }
    numbers.sort_by(f64::total_cmp);
    numbers
}

/// Whether a printed number is one of the document's, to its last digit, in the document's unit or a plain multiple of it (hours, minutes, shares,
/// days); `last_digits` more may be lost where rounded months are added up.
fn is_told(printed: &str, numbers: &[f64], last_digits: f64) -> bool {
    let value: f64 = printed.parse().expect("a number");
    let decimals = printed.split_once('.').map_or(0, |(_, after)| after.len() as i32);
    let digit = 10_f64.powi(-decimals);
    [1.0, 0.01, 1000.0, 0.001, 1.0 / 60.0, 60.0, 1.0 / 3600.0, 24.0, 1.0 / 24.0].iter().any(|factor| {
        let (middle, reach) = (value * factor, (0.51 + last_digits) * digit * factor + 1e-12);
        let from = numbers.partition_point(|number| *number < middle - reach);
        numbers.get(from).is_some_and(|number| *number <= middle + reach)
    })
}

/// Numbers in a text, thousands joined.
fn numbers_in(text: &str) -> Vec<String> {
    let mut found = vec![String::new()];
    let signs: Vec<char> = text.chars().collect();
    for (index, &sign) in signs.iter().enumerate() {
        let digit_follows = signs.get(index + 1).is_some_and(char::is_ascii_digit);
        let open = found.last_mut().expect("one is always open");
        match sign {
            '0'..='9' => open.push(sign),
            '.' if !open.is_empty() && !open.contains('.') && digit_follows => open.push(sign),
            ',' if !open.is_empty() && digit_follows => {}
            '-' if open.is_empty() && digit_follows && (index == 0 || signs[index - 1] == ' ') => {
                open.push(sign)
            }
            _ if !open.is_empty() => found.push(String::new()),
            _ => {}
        }
    }
    found.retain(|number| !number.is_empty());
    found
}

fn text_of(handle: &Handle) -> String {
    match &handle.data {
        NodeData::Text { contents } => contents.borrow().to_string(),
        _ => handle.children.borrow().iter().map(text_of).collect(),
    }
}

struct Element {
    name: String,
    attributes: Vec<(String, String)>,
    /// All text within.
    text: String,
    children: Vec<Element>,
}

impl Element {
    fn of(handle: &Handle) -> Option<Self> {
        let NodeData::Element { name, attrs, .. } = &handle.data else { return None };
        let attributes =
            attrs.borrow().iter().map(|one| (one.name.local.to_string(), one.value.to_string())).collect();
        let children = handle.children.borrow().iter().filter_map(Self::of).collect();
        Some(Self { name: name.local.to_string(), attributes, text: text_of(handle), children })
    }

    fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(key, _)| key == name).map(|(_, value)| value.as_str())
    }

    fn each(&self, visit: &mut dyn FnMut(&Element)) {
        visit(self);
        for child in &self.children {
            child.each(visit);
        }
    }
}

/// The tree of a page, by a parser that follows the HTML standard and notes every error of it.
fn parsed(html: &str) -> Element {
    let dom = parse_document(RcDom::default(), ParseOpts::default()).one(html);
    assert_eq!(dom.errors.borrow().len(), 0, "{:?}", dom.errors.borrow());
    dom.document.children.borrow().iter().find_map(Element::of).expect("an html element")
}

#[test]
fn every_scenario_s_page_is_valid_quiet_and_small() {
    let folder = tempfile::tempdir().expect("a folder");
    for scenario in SCENARIOS {
        let (page, document) = written(scenario, folder.path());
        let html = fs::read_to_string(page).expect("the page");
        assert!(html.len() < LARGEST, "{scenario}: {} bytes", html.len());
        let root = parsed(&html);
        let (mut ids, mut links, mut drawings, mut headings) = (Vec::new(), Vec::new(), 0, Vec::new());
        root.each(&mut |element| {
            assert!(
                !["script", "link", "img", "iframe", "object", "base"].contains(&element.name.as_str()),
                "{}",
                element.name
            );
            ids.extend(element.attribute("id").map(str::to_owned));
            for (key, value) in &element.attributes {
                assert!(!key.starts_with("on"), "{key}");
                assert!(!value.contains("http:") || key == "xmlns", "{key}={value}");
                if key == "href" {
                    links.push(value.clone());
                }
            }
            if element.name == "svg" {
                drawings += 1;
                assert_eq!(element.attribute("role"), Some("img"));
                assert!(element.attribute("viewBox").is_some());
                assert!(
                    element.children.iter().any(|child| child.name == "title"),
                    "a drawing without a title"
                );
                let shapes = element.children.iter().filter(|child| child.name != "title").count();
                assert!(shapes > 10, "an empty drawing");
            }
            if let Some(level) = element.name.strip_prefix('h').and_then(|level| level.parse::<u8>().ok()) {
                headings.push(level);
            }
            if element.name == "th" {
                assert!(element.attribute("scope").is_some());
            }
        });
        let count = ids.len();
        ids.sort();
        ids.dedup();
        assert_eq!(ids.len(), count, "an id twice");
        for link in links {
            assert!(
                link.strip_prefix('#').is_some_and(|id| ids.iter().any(|own| own == id)),
                "{link} leads nowhere"
            );
        }
        assert!(drawings >= 8, "{scenario}: {drawings} drawings");
        assert_eq!((headings[0], headings.iter().filter(|&&level| level == 1).count()), (1, 1));
        assert!(
            headings.windows(2).all(|pair| pair[1] <= pair[0] + 1),
            "{scenario}: a level of headings left out"
        );
        assert!(!html.contains("NaN") && !html.contains(">inf"), "{scenario}");
        every_number_is_in_the_document(scenario, &root, &document);
    }
}

/// Numbers in the cells of the page's tables stand in the document, or are part of a word of it (`R134a`, a data sheet's line).
fn every_number_is_in_the_document(scenario: &str, root: &Element, document: &Value) {
    let (numbers, words) = (numbers_of(document), document.to_string());
    let (mut cells, mut strange) = (0, Vec::new());
    root.each(&mut |row| {
        if row.name != "tr" {
            return;
        }
        let sums_up = row.children.first().is_some_and(|first| ["Year", "all"].contains(&first.text.trim()));
        for cell in row.children.iter().filter(|cell| cell.name == "td") {
            for number in numbers_in(&cell.text) {
                cells += 1;
                // Sums of what is printed, down a column or along a row.
                let last = row.children.last().is_some_and(|last| std::ptr::eq(last, cell));
                let last_digits = if sums_up || last { 6.0 } else { 0.0 };
                if !is_told(&number, &numbers, last_digits) && !words.contains(&number) {
                    strange.push(format!("{number} in `{}`", cell.text));
                }
            }
        }
    });
    // So do those written into the drawing of the installation.
    let mut drawn = 0;
    root.each(&mut |section| {
        if section.attribute("id") != Some("installation") {
            return;
        }
        section.each(&mut |text| {
            if text.name == "text" {
                for number in numbers_in(&text.text) {
                    drawn += 1;
                    // Drawn with three digits, four where the first is small.
                    let value: f64 = number.parse().expect("a number");
                    let last_digits = f64::max(6.0, 0.005 * value.abs());
                    if !is_told(&number, &numbers, last_digits) && !words.contains(&number) {
                        strange.push(format!("{number} in the drawing's `{}`", text.text));
                    }
                }
            }
        });
    });
    assert!(drawn > 5, "{scenario}: {drawn} numbers in the drawing");
    assert!(cells > 500, "{scenario}: {cells} numbers");
    assert!(strange.is_empty(), "{scenario}: not in the document: {strange:?}");
}

/// Colours of the style sheet's two looks: every text stands on its ground with a contrast of 4.5 at least.
///
/// Source: Web Content Accessibility Guidelines 2.1, 1.4.3 and the definition of relative luminance. From memory, to be verified.
#[test]
fn every_text_has_contrast_enough() {
    let style = fs::read_to_string("src/page/style.css").expect("the style sheet");
    let looks: Vec<&str> =
        style.split(":root{").skip(1).map(|rest| rest.split('}').next().unwrap()).collect();
    assert_eq!(looks.len(), 2, "light and dark");
    for look in looks {
        let colour = |name: &str| {
            let value = look.split(&format!("--{name}:")).nth(1).unwrap_or_else(|| panic!("--{name}"));
            luminance(value.split(';').next().unwrap())
        };
        for (text, grounds) in [
            ("ink", &["paper", "card", "rule"][..]),
            ("soft", &["paper", "card"]),
            ("link", &["paper", "card"]),
            ("bad", &["bad-bg"]),
            ("attention", &["attention-bg"]),
            ("good", &["good-bg"]),
            ("paper", &["bad"]),
        ] {
            for ground in grounds {
                let (one, other) = (colour(text), colour(ground));
                let contrast = (one.max(other) + 0.05) / (one.min(other) + 0.05);
                assert!(contrast >= 4.5, "{text} on {ground}: {contrast:.2}");
            }
        }
    }
}

fn luminance(hex: &str) -> f64 {
    let digits = hex.trim_start_matches('#');
    let long: String = if digits.len() == 3 {
        digits.chars().flat_map(|digit| [digit, digit]).collect()
    } else {
        digits.to_owned()
    };
    let linear = |at: usize| {
        let share = f64::from(u8::from_str_radix(&long[at..at + 2], 16).expect("a colour")) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * linear(0) + 0.7152 * linear(2) + 0.0722 * linear(4)
}

/// Chromium, if the machine has one; on a machine that runs this for everybody it has to be there.
fn chromium() -> Option<&'static str> {
    let found = ["chromium", "chromium-browser", "google-chrome"]
        .into_iter()
        .find(|name| Command::new(name).arg("--version").output().is_ok_and(|done| done.status.success()));
    assert!(found.is_some() || std::env::var_os("CI").is_none(), "no Chromium to open the page with");
    found
}

/// In a real browser at the widths of a phone and of a desk, light and dark, without script: nothing is wider than the window, no plot is flat,
/// nothing is told to the console.
#[test]
fn a_browser_shows_the_page_at_every_width() {
    // A machine without a browser has no page to open; `.ci/run` puts one there first.
    let Some(chromium) = chromium() else { return };
    let folder = tempfile::tempdir().expect("a folder");
    for scenario in SCENARIOS {
        let (page, _) = written(scenario, folder.path());
        for (width, dark) in [(390, false), (390, true), (1280, false)] {
            let said = measured(chromium, &page, width, dark);
            let numbers: Vec<i64> =
                said.split_whitespace().map(|word| word.parse().expect("a number")).collect();
            let [sticks_out, flat, drawings] = numbers[..] else { panic!("{scenario} at {width}: `{said}`") };
            assert_eq!(sticks_out, 0, "{scenario}: the page is wider than {width}");
            assert_eq!(flat, 0, "{scenario} at {width}: plots without size");
            assert!(drawings >= 8, "{scenario}");
        }
    }
}

/// What a frame around the page measures in it: how much sticks out of its width, drawings without size, drawings.
/// The frame's own script looks; in the page itself scripts are off.
fn measured(chromium: &str, page: &Path, width: u32, dark: bool) -> String {
    let folder = page.parent().expect("its folder");
    let frame = folder.join("frame.html");
    let name = page.file_name().expect("its name").to_string_lossy();
    let script = "const d=document.querySelector('iframe').contentDocument,s=[...d.querySelectorAll('svg')];\
         const flat=s.filter(e=>{const r=e.getBoundingClientRect();return r.width<100||r.height<100}).length;\
         const e=d.documentElement;document.title=[e.scrollWidth-e.clientWidth,flat,s.length].join(' ')";
    let html = format!(
        "<!DOCTYPE html><meta charset=utf-8><iframe sandbox=allow-same-origin src={name} style='width:{width}px;height:3000px;border:0'></iframe>\
         <script>addEventListener('load',()=>{{{script}}})</script>"
    );
    fs::write(&frame, html).expect("the frame");
    let profile = folder.join("profile");
    let mut command = Command::new(chromium);
    command.args([
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--allow-file-access-from-files",
        "--enable-logging=stderr",
        "--window-size=1400,1000",
        "--virtual-time-budget=2000",
        "--dump-dom",
    ]);
    if dark {
        command.arg("--blink-settings=preferredColorScheme=0");
    }
    command.arg(format!("--user-data-dir={}", profile.display()));
    let done = command.arg(format!("file://{}", frame.display())).output().expect("Chromium runs");
    let log = String::from_utf8_lossy(&done.stderr);
    assert!(!log.contains("CONSOLE"), "{log}");
    let dom = String::from_utf8_lossy(&done.stdout).into_owned();
    let title = dom.split("<title>").nth(1).and_then(|rest| rest.split("</title>").next());
    title.unwrap_or_else(|| panic!("{dom:.300}\n{log}")).to_owned()
}
