//! What the example households are told: findings with remedies run through real years, and the hand balance beside them.

use std::convert::Infallible;
use std::path::Path;

use larderloop::balance::{compare, hand_balance};
use larderloop::change::{Change, ChangeError};
use larderloop::finding::{Answer, Finding, Question, findings};
use larderloop::household::{CoolerUnit, Household};
use larderloop::plant::Plant;
use larderloop::resolution::Resolution;
use larderloop::scenario;
use larderloop::simulate::simulate;
use larderloop::year::Year;

const SCENARIOS: [&str; 4] = ["basement-chicago", "cider-shed", "couple-no-dump", "grower-po-plain"];

fn household(name: &str) -> Household {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(format!("{name}.yaml"));
    scenario::read(&path).unwrap_or_else(|failure| panic!("{}", failure.render(false)))
}

fn year_of(household: &Household) -> Year {
    simulate(&Plant::new(household), &Resolution::default(), &mut ()).expect("a checked household can be run")
}

/// Findings whose remedies are run through the year.
fn told(household: &Household) -> Vec<Finding> {
    answered(household, &|change| match change.apply(household) {
        Ok(changed) => Some(year_of(&changed)),
        Err(ChangeError::Refused { .. }) => None,
        Err(impossible) => panic!("{impossible}"),
    })
}

fn answered(household: &Household, trial: &(dyn Fn(&Change) -> Option<Year> + Sync)) -> Vec<Finding> {
    let trial = |change: &Change| Ok::<_, Infallible>(trial(change));
    findings(household, &Plant::new(household), &year_of(household), &trial)
        .unwrap_or_else(|never| match never {})
}

fn one<'a>(findings: &'a [Finding], code: &str) -> &'a Finding {
    findings.iter().find(|finding| finding.code == code).unwrap_or_else(|| panic!("no finding {code}"))
}

#[test]
fn every_example_household_is_answered_every_question() {
    for name in SCENARIOS {
        let household = household(name);
        let found = answered(&household, &|_| None);
        for question in [
            Question::Food,
            Question::PumpSize,
            Question::HotWaterUsed,
            Question::Dump,
            Question::Settings,
            Question::EnoughHotWater,
            Question::Harm,
        ] {
            assert!(found.iter().any(|finding| finding.question == question), "{name}: {question:?}");
        }
        for finding in &found {
            assert!(finding.value.is_finite(), "{name} {}", finding.code);
            assert!(
                !["NaN", "inf ", "-inf"].iter().any(|word| finding.text.contains(word)),
                "{name} {}: {}",
                finding.code,
                finding.text
            );
        }
    }
}

#[test]
fn remedies_help_are_few_and_spare_the_food() {
    let household = household("basement-chicago");
    for finding in told(&household) {
        assert!(finding.remedies.len() <= 3, "{}", finding.code);
        assert!(finding.answer != Answer::Yes || finding.remedies.is_empty(), "{}", finding.code);
        for remedy in &finding.remedies {
            // The share that the cold room supplies should rise, and so should the hours of a pump that is far too big;
            // everything else should fall.
            let helps = if ["F201", "F602"].contains(&finding.code) {
                remedy.after > remedy.before
            } else {
                remedy.after < remedy.before
            };
            assert!(helps, "{}: {} to {}", finding.code, remedy.before, remedy.after);
            assert_eq!(remedy.before, finding.value, "{}", finding.code);
        }
    }
}

#[test]
fn a_dump_shut_in_summer_is_found_and_opening_it_mends_the_summer() {
    let mut household = household("basement-chicago");
    let dump = household.dump.as_mut().expect("the basement has a dump");
    dump.months = std::array::from_fn(|month| month == 0);
    let found = told(&household);
    let refused = one(&found, "F104");
    assert_eq!(refused.answer, Answer::No);
    let opened = &refused.remedies[0];
    assert!(opened.change.contains("let the dump open"), "{}", opened.change);
    assert!(opened.after < 0.05 * opened.before, "{} to {}", opened.before, opened.after);
}

#[test]
fn a_flammable_refrigerant_without_a_charge_makes_the_household_unsafe() {
    let mut household = household("couple-no-dump");
    let CoolerUnit::HeatPump(unit) = &mut household.cooler;
    assert!(unit.charge.is_some(), "the couple's propane charge is given");
    unit.charge = None;
    let found = answered(&household, &|_| None);
    assert_eq!(one(&found, "F701").answer, Answer::No);
}

#[test]
fn every_month_agrees_with_the_month_by_hand_or_is_explained() {
    // Two ways to one number: monthly means on paper, and the hours of the year. A tenth is what is left to the paper.
    for name in SCENARIOS {
        let household = household(name);
        let plant = Plant::new(&household);
        let year = year_of(&household);
        for difference in compare(&plant, &hand_balance(&plant), &year) {
            assert!(!difference.flagged, "{name}, month {}: {difference:?}", difference.month + 1);
        }
    }
}
