//! What every finding means.

use super::{
    HOURS_SOURCE, dump, enough_hot_water, food, frost_protection, harm, hot_water_used, pump_size, settings,
};
use crate::explanation::Explanation;

const ALWAYS: &str = "Never: the question is answered for every household.";
const WITH_DUMP: &str = "Without a dump.";

const fn finding(
    code: &'static str,
    title: &'static str,
    says: &'static str,
    why: &'static str,
    what_to_do: &'static str,
    silent: &'static str,
    source: &'static str,
) -> Explanation {
    Explanation { code, title, says, why, what_to_do, silent: Some(silent), source: Some(source) }
}

/// What every finding means, in the order of their codes.
pub const EXPLANATIONS: &[Explanation] = &[
    finding(
        "F101",
        "Food too warm",
        "How many hours of the year the stored food is above the warmest that the household allows.",
        "Food that is too warm rots; milk and meat become dangerous.",
        "See whether the pump was refused (F104), is too small (F201), or the dial is too high (F501); each asks for \
         another remedy.",
        ALWAYS,
        HOURS_SOURCE,
    ),
    finding(
        "F102",
        "Food frozen",
        "How many hours the food, else the room's air, else the blown air is below the highest freezing point of what is \
         stored.",
        "Roots and cabbages that froze turn to mush when they thaw.",
        "Turn the thermostat up, narrow its band or hang its probe bare in the air; keep crates out of the blown air.",
        ALWAYS,
        food::FREEZING_SOURCE,
    ),
    finding(
        "F103",
        "Frozen by the winter",
        "How many hours the room freezes although the pump rests: the cold then comes through walls and leaks.",
        "No thermostat helps against it, because the pump can only cool.",
        "Insulate what faces outdoors, close leaks, or warm the room a little in these weeks.",
        ALWAYS,
        food::FREEZING_SOURCE,
    ),
    finding(
        "F104",
        "Cooling refused",
        "How many hours the room wanted cooling and the pump was locked out, and by what.",
        "A tank full of hot water stops the pump, and the food warms just in summer.",
        "Give the heat a way out: use more hot water, a larger tank, a dump that opens earlier or in more months.",
        ALWAYS,
        HOURS_SOURCE,
    ),
    finding(
        "F105",
        "Humidity for the crops",
        "How far the room's humidity is from what each crop is advised, and whether water runs down the walls.",
        "Roots shrivel in dry air, onions sprout and rot in damp air, and mould grows on wet walls.",
        "Cover or box the crops that want it damper, and store the dry ones elsewhere; seal the room against damp air.",
        ALWAYS,
        food::HUMIDITY_SOURCE,
    ),
    finding(
        "F201",
        "Size of the pump",
        "How many hours the pump would have to run on the day of the year on which most heat has to be cooled away, and whether \
         it is too small, right, too big or far too big for that.",
        "A pump without a reserve fails in a hot week; one that is too big starts too often for short runs, which wear it and cost \
         heat.",
        "Lower the load (curtain, insulation, leaks) before buying a larger pump; choose a smaller one where the next is bought.",
        ALWAYS,
        pump_size::SIZE_SOURCE,
    ),
    finding(
        "F202",
        "Starts a day",
        "How often a day the pump starts in the month with most starts.",
        "Every start wears the compressor.",
        "Widen the thermostat's band or put its probe into a bottle of water.",
        ALWAYS,
        pump_size::STARTS_SOURCE,
    ),
    finding(
        "F203",
        "Heat lost to starting",
        "Which share of the pump's heat is lost because it has to build up after each start.",
        "The electricity is drawn from the first second, the heat is not.",
        "As for F202: fewer and longer runs.",
        ALWAYS,
        pump_size::LOSS_SOURCE,
    ),
    finding(
        "F301",
        "Hot water used",
        "Which share of the heat given to the water is dumped; without a dump, how long it keeps the room uncooled.",
        "Heat that nobody uses is paid for twice: to pump it and to get rid of it.",
        "Use hot water in summer, lower the room's load, or accept the dump as the price of cold food.",
        ALWAYS,
        hot_water_used::DUMPED_SOURCE,
    ),
    finding(
        "F401",
        "Water dumped",
        "How many litres a day are dumped in the worst month.",
        "Garden, barrel or drain have to take them.",
        "Choose a place that takes the litres of the worst month, or make use of them.",
        WITH_DUMP,
        dump::LITRES_SOURCE,
    ),
    finding(
        "F402",
        "Flow of the dump",
        "Whether the dump's flow carries away what the pump makes while it runs.",
        "A dump that is too slow lets the tank fill with heat until the pump stops.",
        "Open the valve to the flow that is named, or choose a higher port, where the water is hotter.",
        WITH_DUMP,
        dump::FLOW_SOURCE,
    ),
    finding(
        "F403",
        "No dump",
        "What goes wrong without a dump, in which months, and a dump that would mend it with a reserve.",
        "In summer more hot water is made than used.",
        "Fit the dump that is named, or see in F104 what it costs to do without.",
        "With a dump.",
        HOURS_SOURCE,
    ),
    finding(
        "F501",
        "Dial of the thermostat",
        "Whether the thermostat's band lies between the warmest that the food may become and the freezing point of what is \
         stored.",
        "A dial outside these limits spoils the food however good the pump is.",
        "Turn the dial as the finding says, and check it with a thermometer in a bottle of water.",
        ALWAYS,
        settings::DIAL_SOURCE,
    ),
    finding(
        "F502",
        "Dial of the aquastat",
        "Whether the aquastat opens the dump before the water stops the pump.",
        "If the pump stops first, the dump never helps.",
        "Set the aquastat some degrees below the pump's highest inlet, and put its probe low.",
        WITH_DUMP,
        settings::AQUASTAT_SOURCE,
    ),
    finding(
        "F503",
        "Dumped and boosted",
        "How much heat is dumped in the same month in which the booster has to add some.",
        "The household throws away what it buys again.",
        "Open the dump at a higher temperature or a lower probe, or make the tank larger.",
        "Without a dump or without a booster.",
        settings::WASTE_SOURCE,
    ),
    finding(
        "F504",
        "Frost protection of the unit",
        "How much electricity the unit draws to keep its water from freezing while it rests, and for how long.",
        "Most units protect themselves below 3 to 5 °C of air. In a cold room that may be always: a heater then warms all year what          the pump has to cool again.",
        "Ask the maker whether the protection can be set to act in colder air, or for a type that circulates the water. Never switch          it off or take it out: water that freezes in the resting unit bursts it.",
        "For a unit without a frost protection.",
        frost_protection::SOURCE,
    ),
    finding(
        "F601",
        "Taps run cold",
        "For how long, and with how much water, the taps run colder than wanted.",
        "A cold shower is the first thing that anybody notices.",
        "Set the booster higher, or make the tank larger; without a booster, think of one.",
        ALWAYS,
        enough_hot_water::SHORTFALL_SOURCE,
    ),
    finding(
        "F602",
        "Supplied by the cold room",
        "Which share of the hot water the cold room's heat supplies over the year.",
        "It tells whether the pair is worth its trouble.",
        "A small share in winter is the nature of the thing: the cold room has little heat to give then.",
        ALWAYS,
        enough_hot_water::SUPPLY_SOURCE,
    ),
    finding(
        "F603",
        "Fire of the booster",
        "How often the booster is lit and for how long, its peak, and for how long water hotter than it allows enters it.",
        "A fire of seconds wears what lights it, and a booster made for cold water may be damaged by hot water.",
        "Set a mixing valve between tank and booster no higher than its papers allow.",
        "Without a booster.",
        enough_hot_water::FIRE_SOURCE,
    ),
    finding(
        "F701",
        "Harm",
        "What the cautions come to: how many ask to stop work, how many to put something right first.",
        "A question about comfort never hides one about safety.",
        "Read the cautions; `larderloop explain` followed by the code of one tells more.",
        ALWAYS,
        harm::SOURCE,
    ),
];
