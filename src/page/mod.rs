//! The report as one page of HTML that needs no script, no network and no other file.

mod blocks;
mod diagram;
mod plots;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::caution::{Caution, Severity, Who, who_acts};
use crate::household::Household;
use crate::report::{Assessment, Block, Sections};
use plots::{INKS, Plot, plots};

/// The look of the page.
const STYLE: &str = include_str!("style.css");

/// The whole page.
pub fn page(assessment: &Assessment, household: &Household) -> String {
    let units = household.units;
    let Sections { lead, short, answers, to_do, tables, cautions: _, closing } =
        Sections::of(assessment, units);
    let (alarms, lead): (Vec<_>, Vec<_>) =
        lead.into_iter().partition(|block| matches!(block, Block::Alarm(_)));
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (household.name) " - a year of the cold room" }
                style { (PreEscaped(STYLE)) (PreEscaped(inks())) }
            }
            body {
                header {
                    @for alarm in &alarms { (blocks::one(alarm)) }
                    h1 { (household.name) }
                    @for block in &lead { (blocks::one(block)) }
                }
                nav aria-label="Parts of this page" {
                    ul {
                        li { a href="#short" { "In short" } }
                        li { a href="#answers" { "Answers" } }
                        li { a href="#installation" { "Installation" } }
                        li { a href="#year" { "The year" } }
                        li { a href="#cautions" { "Cautions" } }
                        @if !assessment.dump.parts.is_empty() { li { a href="#parts" { "Parts" } } }
                        li { a href="#measure" { "What to measure" } }
                        li { a href="#tables" { "Tables" } }
                        li { a href="#assumed" { "Assumed" } }
                    }
                }
                main {
                    section #short { h2 { "In short" } @for block in short.iter().skip(1) { (blocks::one(block)) } }
                    section #answers { h2 { "Answers" } (questions(&answers)) }
                    section #installation {
                        h2 { "The installation and its year" }
                        figure.drawing { (diagram::diagram(household, &assessment.year)) }
                    }
                    section #year { h2 { "The year in pictures" } div.plots { @for plot in plots(assessment, units) { (figure(&plot)) } } }
                    section #cautions { h2 { "Cautions, by who acts" } (by_who(&assessment.cautions)) }
                    @if !assessment.dump.parts.is_empty() {
                        section #parts {
                            h2 { "Parts for the dump" }
                            ul { @for part in &assessment.dump.parts { li { (blocks::with_code(part)) } } }
                        }
                    }
                    section #measure { h2 { "What to measure" } (blocks::sections(&to_do)) }
                    section #tables { h2 { "Tables" } (blocks::sections(&tables)) }
                    section #assumed { h2 { "Assumed, and the books" } (blocks::sections(&closing)) }
                }
                footer {
                    p {
                        "Calculated by larderloop " (env!("CARGO_PKG_VERSION")) " from " code { (assessment.scenario) } ". Every number here stands in the document that "
                        code { "--json" } " prints. It does not replace local codes, nor a licensed plumber, electrician or refrigeration technician."
                    }
                }
            }
        }
    };
    page.into_string()
}

/// Every question with its answers.
fn questions(answers: &[Block]) -> Markup {
    html! {
        @for block in answers {
            @match block {
                Block::Heading(question) => h3 { (question) },
                other => (blocks::one(other)),
            }
        }
    }
}

fn figure(plot: &Plot) -> Markup {
    // The drawing gets its name from the caption that follows it.
    let svg = plot.svg.replacen("<svg ", "<svg role=\"img\" ", 1);
    let named = match svg.find('>') {
        Some(end) => {
            let (open, rest) = svg.split_at(end + 1);
            let title = html! { title { (plot.title) } }.into_string();
            format!("{open}{title}{rest}")
        }
        None => svg,
    };
    html! {
        figure.plot {
            figcaption { strong { (plot.title) } " " span { (plot.says) } }
            (PreEscaped(named))
            ul.legend { @for (ink, name) in &plot.legend { li { span.{ "ink s" (ink) } {} (name) } } }
        }
    }
}

/// The cautions under the one who is to be called first for each.
fn by_who(cautions: &[Caution]) -> Markup {
    html! {
        @for who in Who::ALL {
            @let of: Vec<&Caution> = cautions.iter().filter(|caution| who_acts(caution.code).first() == Some(&who)).collect();
            @if !of.is_empty() {
                section.who {
                    h3 { (who.name()) }
                    @for caution in of { (boxed(caution)) }
                }
            }
        }
    }
}

fn boxed(caution: &Caution) -> Markup {
    let (tone, words) = match caution.severity {
        Severity::StopWork => ("bad", "stop work"),
        Severity::FixFirst => ("attention", "fix first"),
        Severity::Know => ("neutral", "know"),
    };
    let others: Vec<&str> = who_acts(caution.code).iter().skip(1).map(|who| who.name()).collect();
    html! {
        article.entry.(tone) {
            h4 { strong.verdict { (words) } " " (caution.title) " " span.mark { (caution.code) } }
            p { (blocks::with_code(&caution.text)) }
            @if !others.is_empty() { p.note { "Also: " (others.join(", ")) "." } }
            p.note { "Source: " (caution.source) }
        }
    }
}

/// The inks of the plots as classes of the legend, and brighter ones for the dark.
fn inks() -> String {
    const BRIGHT: [&str; INKS.len()] = [
        "#6cc3e6", "#f0956f", "#9ccb6c", "#c99be0", "#e0bb55", "#a9b4bc", "#ee93b8", "#63cdbf", "#cfa57f",
        "#9fb0ff",
    ];
    let (mut light, mut dark) = (String::new(), String::new());
    for (index, (ink, bright)) in INKS.iter().zip(BRIGHT).enumerate() {
        let hex = format!("#{:02X}{:02X}{:02X}", ink.0, ink.1, ink.2);
        light += &format!(".s{index}{{background:{hex}}}");
        dark += &format!(
            ".s{index}{{background:{bright}}}.plot [fill=\"{hex}\"]{{fill:{bright}}}.plot [stroke=\"{hex}\"]{{stroke:{bright}}}"
        );
    }
    format!("{light}@media (prefers-color-scheme:dark){{{dark}}}")
}
