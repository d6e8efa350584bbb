//! What the room does to each crop, and what one room cannot serve together.

use super::{Answer, Case, Finding, Question, sentences};
use crate::stored::{BORNE_DK, CropYear, Mixed, crops};
use crate::wording::{Wording, decimals, list, months};

/// How many times as fast as advised a crop has to breathe to be told of.
const FASTER_TOLD: f64 = 1.05;
/// Warmest that milk, meat, fish, eggs and cooked food may be, K: 40 °F. Source: US federal food-safety advice. Second hand: county and press
/// copies of it.
const PERISHABLE_K: f64 = 277.594;

pub(super) const CROPS_SOURCE: &str = "Advised temperature, freezing, injury by cold, weeks, respiration and transpiration: the crop table, each \
    cell with its own source and trust word (mostly USDA Agriculture Handbook 66 and extension pages, Second hand; many values From memory, to be \
    verified). One degree C as borne: Common practice, no source.";
pub(super) const MIXED_SOURCE: &str = "Ethylene: leaflet HIL-800 Part IV of N. Carolina State University and a page of Penn State Extension \
    (Checked: original read). Milk and meat: US federal food-safety advice (Second hand: county and press copies). Rest: the crop table.";

pub(super) fn findings(case: &Case<'_>) -> Vec<Finding> {
    let crops = crops(case.household, case.year);
    vec![each(case, &crops), together(case, &crops)]
}

fn answer_of(crop: &CropYear) -> Answer {
    if crop.is_frozen_in_some_month() || crop.is_chilled_in_some_month() {
        Answer::No
    } else if crop.off_dk().abs() > BORNE_DK {
        Answer::Barely
    } else {
        Answer::Yes
    }
}

/// F106: crop by crop.
fn each(case: &Case<'_>, crops: &[CropYear]) -> Finding {
    let answers: Vec<Answer> = crops.iter().map(answer_of).collect();
    let answer = [Answer::No, Answer::Barely, Answer::Yes]
        .into_iter()
        .find(|answer| answers.contains(answer))
        .unwrap_or(Answer::Unknown);
    let text = if crops.is_empty() {
        "Nothing is stored that the crop table knows.".to_owned()
    } else {
        let head = match answers.iter().filter(|answer| **answer != Answer::Yes).count() {
            0 => "All that you store is stored as advised, to a degree.".to_owned(),
            off => format!("Stored otherwise than advised: {off} of {} crops.", crops.len()),
        };
        let mut told = vec![head];
        told.extend(crops.iter().filter_map(|crop| harmed_words(case, crop)));
        told.extend(kinds(case, crops));
        told.push("Crop by crop it stands under \"What you store\".".to_owned());
        sentences(&told)
    };
    Finding {
        code: "F106",
        question: Question::Food,
        answer,
        value: answers.iter().filter(|answer| **answer != Answer::Yes).count() as f64,
        unit: "1",
        limit: Some(0.0),
        text,
        source: CROPS_SOURCE,
        remedies: Vec::new(),
    }
}

/// A crop that freezes or is injured by cold.
fn harmed_words(case: &Case<'_>, crop: &CropYear) -> Option<String> {
    let (say, name) = (case.say, capital(crop.crop.name()));
    if crop.is_frozen_in_some_month() {
        let when = months(|month| crop.is_frozen_in(month));
        return Some(format!(
            "{name} freezes below {}, which happens in {when}.",
            say.temperature(crop.crop.freezing_k())
        ));
    }
    let limit_k = crop.crop.chilling_k().filter(|_| crop.is_chilled_in_some_month())?;
    let when = months(|month| crop.is_chilled_in(month));
    Some(format!(
        "{name} is injured by cold below {}, in {when}: it does not belong in this room but at {}.",
        say.temperature(limit_k),
        advice_words(say, crop)
    ))
}

/// Temperatures that are advised for a crop.
fn advice_words(say: Wording, crop: &CropYear) -> String {
    let (low_k, high_k) = crop.crop.store_k();
    if low_k < high_k {
        format!("{} to {}", say.temperature(low_k), say.temperature(high_k))
    } else {
        say.temperature(low_k)
    }
}

/// The crops that nothing harms, by how the room's temperature suits them.
fn kinds(case: &Case<'_>, crops: &[CropYear]) -> Vec<String> {
    let say = case.say;
    let unharmed: Vec<&CropYear> = crops
        .iter()
        .filter(|crop| !crop.is_frozen_in_some_month() && !crop.is_chilled_in_some_month())
        .collect();
    let of = |wanted: &dyn Fn(f64) -> bool| -> Vec<&CropYear> {
        unharmed.iter().copied().filter(|crop| wanted(crop.off_dk())).collect()
    };
    let names = |crops: &[&CropYear]| {
        capital(&list(&crops.iter().map(|crop| crop.crop.name().to_owned()).collect::<Vec<_>>()))
    };
    let most = |crops: &[&CropYear]| crops.iter().map(|crop| crop.off_dk().abs()).fold(0.0, f64::max);
    let (suited, warm, cold) =
        (of(&|off| off.abs() <= BORNE_DK), of(&|off| off > BORNE_DK), of(&|off| off < -BORNE_DK));
    let mut told = Vec::new();
    if !warm.is_empty() {
        let faster = warm.iter().filter_map(|crop| crop.breathes_times()).fold(1.0, f64::max);
        let breathes = if faster > FASTER_TOLD {
            format!(", breathing up to {} times as fast", decimals(faster, 1))
        } else {
            String::new()
        };
        let keep = if warm.len() == 1 { "it keeps" } else { "they keep" };
        told.push(format!(
            "{}: up to {} warmer than advised{breathes}; {keep} less long than as advised, and no source says how long.",
            names(&warm),
            say.difference(most(&warm))
        ));
    }
    if !cold.is_empty() {
        told.push(format!(
            "{}: up to {} colder than advised, without harm by cold.",
            names(&cold),
            say.difference(most(&cold))
        ));
    }
    if !suited.is_empty() {
        told.push(format!("{}: as advised.", names(&suited)));
    }
    told
}

fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// F107: what one room cannot serve.
fn together(case: &Case<'_>, crops: &[CropYear]) -> Finding {
    let mixed = Mixed::of(crops);
    let names = |names: &[&str]| list(&names.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>());
    let quarrel = |(ones, others): &(Vec<&str>, Vec<&str>), words: &dyn Fn(&str, &str) -> String| {
        if ones.is_empty() { String::new() } else { words(&names(ones), &names(others)) }
    };
    let answer = match () {
        () if crops.is_empty() => Answer::Unknown,
        () if !mixed.cold.0.is_empty() => Answer::No,
        () if !mixed.is_at_peace() => Answer::Barely,
        () => Answer::Yes,
    };
    let peace = match answer {
        Answer::Yes => "What you store bears each other.",
        Answer::Unknown => "Nothing is stored that the crop table knows.",
        _ => "",
    };
    let text = sentences(&[
        peace.to_owned(),
        quarrel(&mixed.cold, &|ones, others| {
            format!(
                "{} near freezing and {others}, which cold injures, cannot be served by one room.",
                capital(ones)
            )
        }),
        quarrel(&mixed.ethylene, &|ones, others| {
            format!(
                "Ethylene from {ones} harms {others}: they turn yellow, soft or bitter. Give the fruit a room or a well aired \
                 box of its own; the colder, the less it matters."
            )
        }),
        quarrel(&mixed.humidity, &|ones, others| {
            format!(
                "Damper air than suits {others} is what {ones} should have: box the latter with lids, or store the others elsewhere.",
            )
        }),
        perishables(case),
    ]);
    let quarrels = [&mixed.cold, &mixed.ethylene, &mixed.humidity];
    Finding {
        code: "F107",
        question: Question::Food,
        answer,
        value: quarrels.iter().filter(|(ones, _)| !ones.is_empty()).count() as f64,
        unit: "1",
        limit: Some(0.0),
        text,
        source: MIXED_SOURCE,
        remedies: Vec::new(),
    }
}

/// Whether what is no produce may be kept here.
fn perishables(case: &Case<'_>) -> String {
    let warmest_k = case.year.total.food_k.max;
    let verdict = if warmest_k > PERISHABLE_K {
        "too warm for them: keep them in a refrigerator."
    } else {
        "no warmer on paper; only a refrigerator with an alarm of its own is made for them."
    };
    format!(
        "Milk, meat, fish, eggs and cooked food are no produce: they have to stay at {} or colder for safety. The contents of this \
         room reach {}, {verdict}",
        case.say.temperature(PERISHABLE_K),
        case.say.temperature(warmest_k)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example;
    use crate::finding::tests::{all, one};
    use crate::household::Household;
    use crate::room::Crop;

    fn storing(names: &[&str]) -> Household {
        let mut household = example::household();
        let sample = household.room.produce[0].clone();
        household.room.produce = names
            .iter()
            .map(|name| crate::household::StoredProduce {
                crop: Crop::by_name(name).expect("a crop of the table"),
                ..sample.clone()
            })
            .collect();
        household
    }

    fn told(names: &[&str], code: &str) -> Finding {
        one(&all(&storing(names), &example::plant(), &example::year(), &|_| None), code)
    }

    /// The example's contents are at 3.5 to 4.5 °C all year.
    #[test]
    fn each_crop_is_told_how_the_room_suits_it() {
        let potato = told(&["potato"], "F106");
        assert_eq!((potato.answer, potato.value), (Answer::Yes, 0.0));
        assert!(potato.text.contains("Potato: as advised."), "{}", potato.text);
        let carrot = told(&["carrot", "beet", "potato"], "F106");
        assert_eq!((carrot.answer, carrot.value), (Answer::Barely, 2.0));
        assert!(
            carrot.text.contains("Carrot and beet: up to 4 degrees C warmer than advised"),
            "{}",
            carrot.text
        );
        assert!(carrot.text.contains("times as fast"), "{}", carrot.text);
        let squash = told(&["potato", "winter squash"], "F106");
        assert_eq!((squash.answer, squash.value), (Answer::No, 1.0));
        assert!(
            squash.text.contains("Winter squash is injured by cold below 10 °C, in every month"),
            "{}",
            squash.text
        );
        assert!(!squash.text.contains("squash: as advised"));
    }

    #[test]
    fn what_one_room_cannot_serve_is_told_with_both_sides() {
        let fruit = told(&["apple", "carrot", "parsnip"], "F107");
        assert_eq!(fruit.answer, Answer::Barely);
        assert!(fruit.text.contains("Ethylene from apple harms carrot and parsnip"), "{}", fruit.text);
        let squash = told(&["beet", "winter squash"], "F107");
        assert_eq!((squash.answer, squash.value), (Answer::No, 2.0));
        assert!(squash.text.contains("Beet near freezing and winter squash"), "{}", squash.text);
        let roots = told(&["carrot", "beet"], "F107");
        assert_eq!((roots.answer, roots.value), (Answer::Yes, 0.0));
        assert!(roots.text.contains("Milk, meat, fish, eggs and cooked food"), "{}", roots.text);
        assert!(roots.text.contains("4.4 °C or colder for safety"), "{}", roots.text);
        assert!(roots.text.contains("reach 4.5 °C, too warm for them"), "{}", roots.text);
        assert_eq!(told(&[], "F107").answer, Answer::Unknown);
    }
}
