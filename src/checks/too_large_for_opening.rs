//! A carcase that does not go in through any measured opening.

use crate::diag::{Finding, Findings, Rule, Severity};
use crate::finished::Finished;
use crate::moves::{Lack, Module, Stuck, WayIn};
use crate::number::decimal;

pub(super) static RULE: Rule = Rule {
    name: "too-large-for-opening",
    severity: Severity::Error,
    finds: "A carcase as it is put together, drawers in, bolt heads and nuts counted, for which no way in is found: not \
            straight through the rear (seen from behind, at any lift and sideways place, over or between the wheel arches \
            and down at its place), not on its back and tilted up inside, not through a side door. `clearances: {opening: \
            ..}` is to be spared in the opening's width and in its height. Nothing is looked for where neither an opening \
            nor a side door was measured.",
    why: "A kit that is right inside and does not go through the door is taken apart on the street.",
    failing: "\
bay: {width: 1100, depth: 1050, height: 800, opening: {height: 780, widths: [{z: 0, width: 1060}]}}
carcases:
  - {id: main, width: 1080, depth: 900, height: 300, panel: birch-12, columns: [{open: {}}, {open: {}}]}
",
    passing: "\
bay: {width: 1100, depth: 1050, height: 800, opening: {height: 780, widths: [{z: 0, width: 1060}]}}
carcases:
  - {id: left, width: 530, depth: 900, height: 300, at: {y: 265}, panel: birch-12, cell: {open: {}}}
  - {id: right, width: 530, depth: 900, height: 300, at: {y: -265}, panel: birch-12, cell: {open: {}}}
",
    source: "geometry; 15 mm to spare is common practice, no source",
};

pub(super) fn run(finished: &Finished, findings: &mut Findings) {
    let bay = &finished.design.vehicle.bay;
    for module in &finished.moves.modules {
        let WayIn::Stuck(stuck) = &module.way else { continue };
        let spare = decimal(finished.design.clearances.opening.value, 1);
        let mut said = vec![match &stuck.straight {
            Some(lack) => straight(module, lack, &spare),
            None => "no opening at the rear was measured".to_owned(),
        }];
        if bay.opening.is_some() {
            said.push(format!("tilted up inside it needs {} mm under the roof", decimal(stuck.diagonal, 1)));
        }
        if !bay.side_doors.is_empty() {
            said.push("it passes no side door".to_owned());
        }
        let message = format!("`{}` does not go in: {}", module.id, said.join("; "));
        let finding = Finding::new(&RULE, module.span, message).on(&module.id).help(remedy(stuck));
        let span = bay.opening.as_ref().map_or(bay.span, |opening| opening.span);
        findings.push(finding.also(span, "the opening is given here"));
    }
}

fn straight(module: &Module, lack: &Lack, spare: &str) -> String {
    let mut said = Vec::new();
    let short = |(with, bare): (f64, f64)| {
        let [with, bare] = [with, bare].map(|length| decimal(length, 1));
        format!("{bare} mm too much, {with} mm with the {spare} mm to spare")
    };
    if lack.width.0 > 0.0 {
        let what = if lack.arch { "opening and wheel arches" } else { "the opening" };
        said.push(format!(
            "with {} mm over all it is too wide for {what}, {} mm above the floor: {}",
            decimal(module.size.y, 1),
            decimal(lack.z, 1),
            short(lack.width)
        ));
    }
    if lack.height.0 > 0.0 {
        said.push(format!(
            "with {} mm over all it is too high between sill and upper edge: {}",
            decimal(module.size.z, 1),
            short(lack.height)
        ));
    }
    if said.is_empty() {
        said.push(
            "it passes the opening, but not the sides, the roof or the seat back on to its place".to_owned(),
        );
    }
    said.join("; ")
}

fn remedy(stuck: &Stuck) -> String {
    let up = |length: f64| decimal((length * 10.0).ceil() / 10.0, 1);
    let mut ways = Vec::new();
    if let Some(lack) = &stuck.straight {
        let sides = [(lack.width.0, "narrower"), (lack.height.0, "less high")];
        let smaller = sides.into_iter().filter(|(length, _)| *length > 0.0);
        let smaller: Vec<String> = smaller.map(|(length, how)| format!("{} mm {how}", up(length))).collect();
        if !smaller.is_empty() {
            ways.push(format!("make it {}", smaller.join(" and ")));
        }
    }
    let fits: Vec<String> =
        stuck.dividers.iter().filter(|(_, fits)| *fits).map(|(name, _)| format!("`{name}`")).collect();
    ways.push(match (fits.as_slice(), stuck.dividers.len()) {
        ([], 0) => "make two carcases of it".to_owned(),
        ([], _) => {
            "make three carcases or more of it: split at a divider, one of the pieces does not go in either"
                .to_owned()
        }
        (fits, _) => format!("split it at {}: both pieces go in", fits.join(" or ")),
    });
    ways.join(", or ")
}

#[cfg(test)]
mod tests {
    use crate::example_kits;

    /// Message and help of the finding about a carcase 1056 wide, whose base and deck reach 12 over on each side: 1080
    /// over all, and no bolt head stands out. Without fronts it is 488 deep.
    fn found(opening: &str, height: f64, columns: &str) -> Vec<(String, String)> {
        let spec = format!(
            "bay: {{width: 1140, depth: 1300, height: 1000, {opening}}}\nworkshop: {{tool: {{diameter: 3}}}}\n\
             carcases:\n  - {{id: main, width: 1056, depth: 500, height: {height}, panel: birch-12, overhang: 12, back: \
             {{inset: 12}}, joints: {{corner: captive-nut}}, {columns}}}\n"
        );
        let findings = example_kits::built(&spec).findings;
        let ours = findings.into_iter().filter(|finding| finding.rule.name == "too-large-for-opening");
        ours.map(|finding| (finding.message, finding.help.unwrap())).collect()
    }

    const TWO: &str = "columns: [{open: {}}, {open: {}}]";

    #[test]
    fn a_carcase_1080_wide_lacks_20_mm_in_an_opening_of_1060_and_goes_in_split() {
        // Base and deck are 1080 wide over their overhang, in an opening 1060 wide: 20, and 15 to spare make 35.
        let found = found("opening: {height: 900, widths: [{z: 0, width: 1060}]}", 300.0, TWO);
        assert_eq!(found.len(), 1);
        let (message, help) = &found[0];
        assert!(message.contains("with 1080 mm over all it is too wide for the opening"), "{message}");
        assert!(message.contains(": 20 mm too much, 35 mm with the 15 mm to spare"), "{message}");
        assert_eq!(help, "make it 35 mm narrower, or split it at `main-divider-1`: both pieces go in");
    }

    #[test]
    fn without_a_divider_that_helps_it_says_so() {
        let small = "opening: {height: 900, widths: [{z: 0, width: 500}]}";
        // 1080 lacks 580, and 15; halves of some 550 do not pass 500 either.
        let found = self::found(small, 300.0, TWO);
        assert!(
            found[0].1.starts_with("make it 595 mm narrower, or make three carcases or more"),
            "{found:?}"
        );
        assert!(self::found(small, 300.0, "cell: {open: {}}")[0].1.ends_with("or make two carcases of it"));
    }

    #[test]
    fn what_is_too_high_to_go_straight_in_is_tilted_up_if_the_roof_lets_it() {
        // The opening is 700 high: 800 does not pass it upright, 488 does on its back. Tilted up it needs
        // sqrt(800^2 + 488^2) = 937.1 and 15 under the roof of 1000, and 800 + 488 of the length of 1300.
        let opening = "opening: {height: 700, widths: [{z: 0, width: 1120}]}";
        assert_eq!(found(opening, 800.0, TWO), []);
        // 860 high: sqrt(860^2 + 488^2) = 988.8, with 15 more than the roof lets.
        let high = found(opening, 860.0, TWO);
        assert_eq!(high.len(), 1);
        let said = "with 860 mm over all it is too high between sill and upper edge: 160 mm too much, 175 mm with the 15 mm \
                    to spare; tilted up inside it needs 1003.8 mm under the roof";
        assert!(high[0].0.ends_with(said), "{high:?}");
        // 815 + 488 is more than the length, though sqrt(815^2 + 488^2) + 15 = 964.9 is not too high.
        assert_eq!(found(opening, 815.0, TWO).len(), 1);
    }

    #[test]
    fn a_side_door_lets_in_what_the_rear_does_not() {
        let rear = "opening: {height: 900, widths: [{z: 0, width: 900}]}";
        assert_eq!(found(rear, 300.0, TWO).len(), 1);
        // 488 deep, with 15 to spare: through a door 504 wide; not through one 502 wide.
        let door = |width: f64| {
            format!("{rear}, side_doors: [{{side: left, from: 400, width: {width}, height: 800}}]")
        };
        assert_eq!(found(&door(504.0), 300.0, TWO), []);
        let narrow = found(&door(502.0), 300.0, TWO);
        assert!(narrow[0].0.ends_with("it passes no side door"), "{narrow:?}");
    }
}
