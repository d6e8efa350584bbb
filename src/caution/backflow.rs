use super::{Caution, Severity};
use crate::explanation::Explanation;
use crate::household::{Destination, Household};
use crate::plant::{DAY_S, Plant};
use crate::wording::{MONTHS, Wording};
use crate::year::Year;

/// Longest that an atmospheric vacuum breaker may stand under pressure, share of a day: 12 h in any 24 h.
/// Source: a Texas city's irrigation ordinance. Checked: original read; plumbing codes say "not under continuous pressure".
const VACUUM_BREAKER_UNDER_PRESSURE_FRAC: f64 = 0.5;

const SOURCE: &str = "Irrigation: IRC P2902.5.3, CSA B64.10 (Second hand: inspection page; ministry ruling). 12 hours under \
    pressure: a city's irrigation ordinance (Checked: original read). Drain: Ontario Building Code 7.4.2.1 (Checked: original \
    read). Barrel: Common practice, no source.";

/// What `explain` and the page of cautions say of it.
pub(super) const EXPLANATION: Explanation = Explanation {
    code: "C005",
    title: "Backflow from the dump line",
    says: "How the dump line must be kept apart from what it leads to.",
    why: "When the pressure in the house fails, water runs backward: soil, fertiliser or sewage \
        into the drinking water.",
    what_to_do: "A licensed plumber fits a backflow preventer of the kind that the local code asks for, \
        or an air gap.",
    silent: Some(
        "Without a dump line. An atmospheric vacuum breaker is ruled out only when the line is \
        open more than half of the time.",
    ),
    source: Some(SOURCE),
};

/// C005, dump line connected to something dirty.
///
/// Limits: [`VACUUM_BREAKER_UNDER_PRESSURE_FRAC`] and the clauses named in the caution.
pub fn caution(household: &Household, _plant: &Plant, year: &Year) -> Option<Caution> {
    let dump = household.dump.as_ref()?;
    let told: Vec<(Severity, String)> = [Destination::Irrigation, Destination::Drain, Destination::Barrel]
        .into_iter()
        .filter(|&kind| dump.leads_to(kind))
        .map(|kind| of_kind(kind, household, year))
        .collect();
    let severity = told.iter().map(|(severity, _)| *severity).max()?;
    let texts: Vec<String> = told.into_iter().map(|(_, text)| text).collect();
    let text = texts.join(" ");
    Some(EXPLANATION.raised(severity, text))
}

fn of_kind(kind: Destination, household: &Household, year: &Year) -> (Severity, String) {
    match kind {
        Destination::Irrigation => (Severity::FixFirst, irrigation(year, Wording(household.units))),
        Destination::Drain => (
            Severity::Know,
            "The dump line leads hot drinking water to a drain. It must end above the drain with an air break, never \
             piped into it: in a failure of pressure the house would suck sewage. A licensed plumber knows the gap and \
             the trap size that your local code asks for."
                .to_owned(),
        ),
        Destination::Barrel => (
            Severity::Know,
            "The dump line fills a barrel. Let it end above the barrel's rim, at least two pipe diameters clear of the \
             highest water, so that barrel water can never be sucked back into the house, and give the barrel an \
             overflow."
                .to_owned(),
        ),
    }
}

fn irrigation(year: &Year, say: Wording) -> String {
    let open_frac = |month: usize| year.months[month].mean(year.months[month].dump_open_s);
    let worst = (0..12).max_by(|&a, &b| open_frac(a).total_cmp(&open_frac(b))).unwrap_or(0);
    let per_day = say.duration(open_frac(worst) * DAY_S);
    let breaker = if open_frac(worst) > VACUUM_BREAKER_UNDER_PRESSURE_FRAC {
        "A simple atmospheric vacuum breaker will not do: it may not stand under pressure more than 12 hours in 24"
    } else {
        "A simple atmospheric vacuum breaker needs every valve ahead of it and may not stand under pressure more than 12 \
         hours in 24"
    };
    format!(
        "The dump line connects drinking water with the garden; in {} it is open {per_day} a day. It needs a backflow \
         preventer against soil and fertiliser, fitted by a licensed plumber. {breaker}; the other kinds are the pressure \
         vacuum breaker and, with a fertiliser feed, the reduced-pressure device. Your local code says which, how high, \
         and how often it is tested; ask also for its temperature rating.",
        MONTHS[worst],
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::caution::example::{household, plant, year};

    fn with(leads_to: Option<Destination>, open_frac: f64) -> Option<Caution> {
        let (mut household, mut year) = (household(), year());
        match leads_to {
            Some(leads_to) => household.dump.as_mut().unwrap().destinations[0].kind = leads_to,
            None => household.dump = None,
        }
        year.months[6].dump_open_s = open_frac * year.months[6].duration_s;
        caution(&household, &plant(), &year)
    }

    #[test]
    fn without_a_dump_line_it_is_silent() {
        assert_eq!(with(None, 0.0), None);
    }

    #[test]
    fn just_below_and_at_twelve_hours_a_day_a_vacuum_breaker_is_conceivable() {
        for open_frac in [0.499, 0.5] {
            let caution = with(Some(Destination::Irrigation), open_frac).unwrap();
            assert_eq!(caution.severity, Severity::FixFirst);
            assert!(
                !caution.text.contains("will not do") && caution.text.contains("July"),
                "{}",
                caution.text
            );
        }
    }

    #[test]
    fn above_twelve_hours_a_day_it_is_ruled_out() {
        assert!(with(Some(Destination::Irrigation), 0.501).unwrap().text.contains("will not do"));
    }

    #[test]
    fn each_kind_of_place_is_told_of_and_the_most_urgent_counts() {
        let (mut household, year) = (household(), year());
        let places = &mut household.dump.as_mut().unwrap().destinations;
        places.push(places[0].clone());
        (places[0].kind, places[1].kind) = (Destination::Drain, Destination::Irrigation);
        let caution = caution(&household, &plant(), &year).unwrap();
        assert_eq!(caution.severity, Severity::FixFirst);
        assert!(caution.text.contains("garden") && caution.text.contains("air break"), "{}", caution.text);
    }

    #[test]
    fn a_drain_gets_an_air_break_and_no_backflow_device() {
        let caution = with(Some(Destination::Drain), 0.1).unwrap();
        assert_eq!(caution.severity, Severity::Know);
        assert!(caution.text.contains("air break") && !caution.text.contains("vacuum"), "{}", caution.text);
        assert!(with(Some(Destination::Barrel), 0.1).unwrap().text.contains("rim"));
    }
}
