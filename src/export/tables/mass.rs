//! What every part weighs, the sum of each carcase and that of the kit.

use super::{LENGTH_DECIMALS, csv};
use crate::finished::Finished;
use crate::geom::{Point3, VehicleFrame};
use crate::mass::MASS_DECIMALS;
use crate::number::fixed;

const HEAD: [&str; 8] = [
    "part",
    "kind",
    "carcase",
    "moves with",
    "mass (kg)",
    "centre x forward (mm)",
    "centre y left (mm)",
    "centre z up (mm)",
];

/// Every part in the kit's order, then the sums. The sums are those of the masses as printed.
pub(crate) fn mass(finished: &Finished) -> String {
    let masses = &finished.masses;
    let parts = masses.parts.iter().map(|part| {
        let body = finished.kit.layout.body(part.body);
        let words = [&part.name, part.kind.word(), &body.carcase, &body.name];
        row(words, part.mass, part.centre)
    });
    let carcases =
        masses.carcases.iter().map(|(id, sum)| row([id, "sum of carcase", id, ""], sum.mass, sum.centre));
    let total = row(["kit", "sum of kit", "", ""], masses.total.mass, masses.total.centre);
    csv(HEAD, parts.chain(carcases).chain([total]))
}

fn row(words: [&str; 4], mass: f64, centre: Point3<VehicleFrame>) -> [String; 8] {
    let [part, kind, carcase, body] = words.map(str::to_owned);
    let mm = |length: f64| fixed(length, LENGTH_DECIMALS);
    [part, kind, carcase, body, fixed(mass, MASS_DECIMALS), mm(centre.x), mm(centre.y), mm(centre.z)]
}

#[cfg(test)]
mod tests {
    use super::super::tests::rows;
    use super::*;
    use crate::example_kits::{ALL, finished};

    #[test]
    fn printed_rows_add_up_to_printed_sums_exactly() {
        for text in ALL {
            let rows = rows(&mass(&finished(text)));
            // Milligrams as whole numbers: no rounding can hide.
            let milligrams = |row: &Vec<String>| row[4].replace('.', "").parse::<u64>().unwrap();
            let is_sum = |row: &&Vec<String>| row[1].starts_with("sum");
            let parts: u64 = rows.iter().filter(|row| !is_sum(row)).map(milligrams).sum();
            let total = rows.last().unwrap();
            assert_eq!((total[1].as_str(), milligrams(total)), ("sum of kit", parts));
            for sum in rows.iter().filter(|row| row[1] == "sum of carcase") {
                let own = rows.iter().filter(|row| !is_sum(row) && row[2] == sum[0]);
                assert_eq!(own.map(milligrams).sum::<u64>(), milligrams(sum));
            }
        }
    }
}
