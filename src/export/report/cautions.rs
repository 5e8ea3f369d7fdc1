//! What every reader of a report must be told: the kit rides behind people.

use super::body::{Block, Body};

/// A heading and what it stands for. Methods and sources: the project's notes on loads and restraint.
const CAUTIONS: [(&str, &str); 8] = [
    (
        "What these figures are",
        "Sums, areas and products of what you entered. They are no engineer's certificate, no crash rating and no \
         proof that any law or standard is met.",
    ),
    (
        "What governs",
        "The vehicle maker's limits, the compliance plate and the law where the vehicle is registered. Where they and \
         this report differ, they are right.",
    ),
    (
        "Hands off",
        "Leave seats, seat belts, child seat anchors and airbags alone unless a licensed engineer works with you. The \
         same goes for holes near fuel lines and wiring, for a changed number of seats, and for a loaded kit that is \
         heavier than its tie-down points are rated for.",
    ),
    (
        "Braking is not crashing",
        "Where a load case of 0.8 g or 0.5 g is named, it stands for hard braking or cornering. A crash can be twenty \
         times gravity and more. Nobody should sit in line with a load that could come loose; where people sit ahead \
         of cargo, fit a rated barrier.",
    ),
    (
        "Gas, mains, batteries",
        "Gas installations, mains voltage and fixed batteries are for people licensed for them where you live, from the \
         design to the test. An opening in a panel is only an opening.",
    ),
    (
        "Weigh it",
        "Put the finished vehicle on a scale, each axle by itself, with people, fuel and load as it will be driven. A \
         calculated mass is a guide for planning.",
    ),
    (
        "Before driving",
        "Latch every drawer, and look again. A kit that is not bolted to the vehicle can tip: then open one loaded \
         drawer at a time.",
    ),
    (
        "Tighten again",
        "Timber settles under bolts. Go over all of them after the first 100 km and at every service.",
    ),
];

/// All cautions.
pub(super) fn cautions() -> Body {
    let term = |(head, text): &(&str, &str)| ((*head).to_owned(), (*text).to_owned(), String::new());
    Block::Terms { class: "cautions", terms: CAUTIONS.iter().map(term).collect() }.into()
}
