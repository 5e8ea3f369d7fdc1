//! What must always hold, asked of every kit before it is written. A broken invariant is our own fault, never
//! the designer's: it is reported as such, and nothing is written.
//!
//! Takes a finished kit and its files, gives a sentence for each fault. Shares as little as it can with the code
//! that it judges.

mod bores;
mod cuts;
mod plates;
mod read_back;
mod runs;

use crate::export::Bundle;
use crate::finished::Finished;
use crate::loose::LooseParts;

/// Everything that does not hold; empty for a sound kit.
pub(crate) fn broken(finished: &Finished, bundle: &Bundle) -> Vec<String> {
    let mut faults = bores::faults(finished);
    faults.extend(sheets(finished));
    faults.extend(cuts::faults(finished));
    faults.extend(plates::sums(finished));
    faults.extend(plates::solids(finished));
    faults.extend(runs::faults(finished));
    faults.extend(read_back::faults(finished, bundle));
    let is_pdf = |path: &&str| bundle.get(path).is_some_and(|bytes| bytes.starts_with(b"%PDF-"));
    let unprinted = ["report.pdf", "labels.pdf"].into_iter().filter(|path| !is_pdf(path));
    faults.extend(unprinted.map(|path| format!("{path} could not be printed")));
    faults
}

/// Everything that does not hold of loose parts and their files.
pub(crate) fn broken_loose(loose: &LooseParts, bundle: &Bundle) -> Vec<String> {
    let mut faults = Vec::new();
    let mut times = vec![0_usize; loose.parts.len()];
    for group in &loose.groups {
        let material = &group.material.id;
        let found = crate::nest::faults(&group.parts, &group.stock, group.clearances, &group.nesting);
        faults.extend(found.into_iter().map(|fault| format!("sheets of {material}: {fault}")));
        for placed in group.nesting.sheets.iter().flat_map(|sheet| &sheet.placed) {
            let part = group.panels.get(placed.part).and_then(|&part| times.get_mut(part));
            if let Some(times) = part {
                *times += 1;
            }
        }
    }
    for (part, times) in loose.parts.iter().zip(times) {
        if times != part.quantity {
            faults.push(format!("{} is on sheets {times} times instead of {}", part.name, part.quantity));
        }
    }
    faults.extend(read_back::drawing_faults(&loose.workshop.layers, bundle));
    faults
}

/// Every panel is on exactly one sheet, and every sheet is as the nesting's own judge wants it.
fn sheets(finished: &Finished) -> Vec<String> {
    let mut times = vec![0_usize; finished.kit.panels.len()];
    let mut faults = Vec::new();
    for group in &finished.groups {
        let material = &group.material.id;
        let nested = &group.parts[..group.nested.min(group.parts.len())];
        let found = crate::nest::faults(nested, &group.stock, group.clearances, &group.nesting);
        faults.extend(found.into_iter().map(|fault| format!("sheets of {material}: {fault}")));
        let frozen = group.frozen.iter().map(|frozen| &frozen.sheet);
        for placed in group.nesting.sheets.iter().chain(frozen).flat_map(|sheet| &sheet.placed) {
            let Some(panel) = group.panels.get(placed.part).copied() else { continue };
            let named = finished.kit.panels.get(panel).map(|panel| panel.name.as_str());
            let part = group.parts.get(placed.part).map(|part| part.name.as_str());
            if named != part {
                faults.push(format!("sheets of {material}: {part:?} stands for the panel {named:?}"));
            }
            if let Some(times) = times.get_mut(panel) {
                *times += 1;
            }
        }
    }
    for (panel, times) in finished.kit.panels.iter().zip(times) {
        if times != 1 {
            faults.push(format!("{} is on {times} sheets", panel.name));
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example_kits::{ALL, ANGLES, CAPTIVE_NUTS, built, finished};
    use crate::export::{self, KIT};
    use crate::geom::Vector3;
    use crate::joints::Countersink;
    use crate::number::rounded;

    fn bundle(text: &str) -> Bundle {
        let built = built(text);
        export::bundle(built.finished.as_ref().unwrap(), &built.findings, &built.sources, &[])
    }

    /// What is found after a fault was planted in the kit, its files made from the spoiled kit.
    fn planted(text: &str, spoil: impl FnOnce(&mut Finished)) -> Vec<String> {
        let mut kit = finished(text);
        spoil(&mut kit);
        let files = export::bundle(&kit, &[], &crate::diag::Sources::default(), &[]);
        broken(&kit, &files)
    }

    fn assert_found(found: &[String], text: &str) {
        assert!(found.iter().any(|fault| fault.contains(text)), "{text}: {found:#?}");
    }

    #[test]
    fn sound_kits_have_no_fault() {
        for text in ALL {
            assert_eq!(broken(&finished(text), &bundle(text)), Vec::<String>::new());
        }
    }

    #[test]
    fn pages_that_could_not_be_printed_are_told() {
        let mut files = bundle(ANGLES);
        files.insert("labels.pdf", Vec::new());
        assert_found(&broken(&finished(ANGLES), &files), "labels.pdf could not be printed");
    }

    #[test]
    fn the_oldest_dxf_reads_back_too() {
        let old = CAPTIVE_NUTS.replace("workshop: {", "workshop: {dxf: {version: R12}, ");
        let files = bundle(&old);
        assert_eq!(broken(&finished(&old), &files), Vec::<String>::new());
        let dxf = String::from_utf8_lossy(files.get("parts/main-base.dxf").unwrap());
        assert!(dxf.contains("AC1009") && !dxf.contains("LWPOLYLINE"));
    }

    #[test]
    fn faults_of_bolts_and_bores_are_found() {
        let moved = planted(ANGLES, |kit| kit.kit.panels[0].bores[3].centre.x += 0.002);
        assert_found(&moved, "off the axis");
        let turned = planted(ANGLES, |kit| kit.kit.bolts[0].direction = Vector3::new(1.0, 0.0, 0.0));
        assert_found(&turned, "not square");
        let forgotten = planted(ANGLES, |kit| {
            let bolt = kit.kit.bolts.iter().position(|bolt| !bolt.panels.is_empty()).unwrap();
            kit.kit.bolts[bolt].panels.pop();
        });
        assert_found(&forgotten, "does not list");
        let missing = planted(ANGLES, |kit| {
            kit.kit.panels[0].bores.remove(0);
        });
        assert_found(&missing, "0 bores");
        let short = planted(ANGLES, |kit| kit.kit.bolts[0].grip -= 1.0);
        assert_found(&short, "outside the grip");
        let through = planted(ANGLES, |kit| {
            let bolt = &mut kit.kit.bolts[0];
            bolt.grip += 2000.0;
            bolt.origin -= bolt.direction * 1000.0;
        });
        assert_found(&through, "passes through");
        let slot = planted(CAPTIVE_NUTS, |kit| {
            let panel = kit.kit.panels.iter_mut().find(|panel| !panel.nut_slots.is_empty()).unwrap();
            panel.nut_slots[0].centre.x += 0.5;
            panel.nut_slots[0].centre.y += 0.5;
        });
        assert_found(&slot, "the nut in");
    }

    #[test]
    fn a_run_through_wood_is_found() {
        let led = ANGLES.replace(
            "carcases:",
            "runs: [{id: feed, kind: cable, bundle: 9, from: {at: {x: 870, y: 300, z: 150}}, to: {at: {x: 870, y: -300, z: 150}}}]\n\
             carcases:",
        );
        assert_eq!(broken(&finished(&led), &bundle(&led)), Vec::<String>::new());
        let closed = planted(&led, |kit| {
            let divider = kit.kit.panels.iter_mut().find(|panel| panel.name == "main-divider-1").unwrap();
            divider.openings.clear();
        });
        assert_found(&closed, "meets the wood of `main-divider-1`");
    }

    #[test]
    fn faults_of_sheets_are_found() {
        let lost = planted(ANGLES, |kit| {
            kit.groups[0].nesting.sheets[0].placed.pop();
        });
        assert_found(&lost, "is on 0 sheets");
        let moved = planted(ANGLES, |kit| {
            kit.groups[0].nesting.sheets[0].placed[0].placement.x -= 50.0;
        });
        assert_found(&moved, "sheets of birch-12");
        let mixed = planted(ANGLES, |kit| kit.groups[0].panels.swap(0, 1));
        assert_found(&mixed, "stands for the panel");
    }

    #[test]
    fn faults_of_cuts_are_found() {
        let sawn = ANGLES.replace("carcases:", "workshop: {cutting: saw}\ncarcases:");
        assert_eq!(broken(&finished(&sawn), &bundle(&sawn)), Vec::<String>::new());
        assert_found(&planted(&sawn, |kit| kit.groups[0].cuts.truncate(1)), "1 cutting lists of birch-12");
        let short = planted(&sawn, |kit| {
            kit.groups[0].cuts[0].cuts.pop();
        });
        assert_found(&short, "left uncut");
        let stages = planted(&sawn, |kit| kit.groups[0].nesting.stages = Some(1));
        assert_found(&stages, "cuts of birch-12 1: ");
        // A router's sheet has none.
        assert_found(
            &planted(ANGLES, |kit| kit.groups[0].cuts.push(crate::nest::CutList::default())),
            "1 cutting lists",
        );
    }

    #[test]
    fn faults_of_masses_are_found() {
        assert_found(&planted(ANGLES, |kit| kit.masses.total.mass += 1e-6), "the parts weigh");
        assert_found(&planted(ANGLES, |kit| kit.masses.carcases[0].1.mass -= 1e-6), "of `main` weigh");
        let wrong = planted(ANGLES, |kit| {
            let part = &mut kit.masses.parts[2];
            part.mass = rounded(part.mass + 1e-4, 6);
        });
        assert_found(&wrong, "its solid");
    }

    #[test]
    fn faults_of_solids_are_found() {
        let outside = planted(ANGLES, |kit| kit.kit.panels[1].bores[0].centre.x = -500.0);
        assert_found(&outside, "has no solid");
        let sunk = planted(ANGLES, |kit| {
            kit.kit.panels[1].bores[0].countersink = Some(Countersink { diameter: 90.0, depth: 40.0 });
        });
        assert_found(&sunk, "has no solid");
    }

    #[test]
    fn faults_of_written_files_are_found() {
        let kit = finished(CAPTIVE_NUTS);
        let sound = bundle(CAPTIVE_NUTS);
        let sheet = |ending: &str| {
            let is = |path: &&String| path.starts_with("sheets/") && path.ends_with(ending);
            sound.files.keys().find(is).unwrap().clone()
        };
        let changed = |path: &str, old: &str, new: &str| {
            let mut files = sound.clone();
            let text = String::from_utf8(files.get(path).unwrap().to_vec()).unwrap();
            assert!(text.contains(old), "{path} has no {old:?}");
            files.insert(path, text.replacen(old, new, 1));
            broken(&kit, &files)
        };
        assert_found(&changed(KIT, "\"version\": 1", "\"version\": 2"), "kit.json does not say");
        assert_found(&changed(KIT, "{", "["), "kit.json cannot be read");
        assert_found(&changed(&sheet(".svg"), "<circle", "<!-- --><ellipse"), "circles");
        assert_found(&changed(&sheet(".dxf"), "CIRCLE", "POINT"), "differ");
        let radius = rounded(kit.kit.panels[0].bores[0].diameter / 2.0, 6).to_string();
        let pair = format!(" 40\r\n{radius}\r\n");
        assert_found(&changed(&sheet(".dxf"), &pair, " 40\r\n9.5\r\n"), "differ");
        assert_found(&changed(&sheet(".dxf"), "LWPOLYLINE", "LINE"), "differ");
        let mut files = sound.clone();
        files.files.remove(&sheet(".dxf"));
        assert_found(&broken(&kit, &files), "is missing");
    }
}
