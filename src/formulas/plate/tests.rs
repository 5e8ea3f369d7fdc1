//! Plates beside tables, single series and a plainer double series.

use super::*;
use crate::beam::Strip;
use crate::near::{close, printed};
use proptest::prelude::*;

/// b/a, alpha, beta of the short span, beta of the long span, alpha of a force in the middle, for nu = 0.3.
/// Worked out anew with single series; the first two equal the well-known table by Timoshenko (from memory).
const TABLE: [[f64; 5]; 7] = [
    [1.0, 0.00406, 0.0479, 0.0479, 0.01160],
    [1.2, 0.00565, 0.0627, 0.0501, 0.01356],
    [1.4, 0.00708, 0.0755, 0.0502, 0.01487],
    [1.5, 0.00772, 0.0812, 0.0498, 0.01533],
    [1.6, 0.00831, 0.0862, 0.0493, 0.01570],
    [2.0, 0.01013, 0.1017, 0.0464, 0.01652],
    [3.0, 0.01223, 0.1189, 0.0406, 0.01693],
];

/// b/a, deflection and stress factors of a spread load, as read in Roark's table for this case.
const ROARK: [[f64; 3]; 6] = [
    [1.0, 0.0444, 0.2874],
    [1.2, 0.0616, 0.3762],
    [1.4, 0.0770, 0.4530],
    [1.6, 0.0906, 0.5172],
    [2.0, 0.1110, 0.6102],
    [3.0, 0.1335, 0.7134],
];

/// Deflection of an isotropic plate under a spread load, over q a^4 / D: a single series (Levy, textbook).
fn levy_alpha(b_over_a: f64) -> f64 {
    let term = |i: i32| {
        let m = f64::from(2 * i + 1);
        let half = m * PI * b_over_a / 2.0;
        let inner = 1.0 - (half * half.tanh() + 2.0) / (2.0 * half.cosh());
        if i % 2 == 0 { inner / m.powi(5) } else { -inner / m.powi(5) }
    };
    4.0 / PI.powi(5) * (0..60).map(term).sum::<f64>()
}

/// Deflection under a force in the middle, over P a^2 / D: a single series (Levy, textbook).
fn levy_point_alpha(b_over_a: f64) -> f64 {
    let term = |i: i32| {
        let m = f64::from(2 * i + 1);
        let half = m * PI * b_over_a / 2.0;
        // half / cosh^2 without an overflow of the cosh.
        (half.tanh() - half * (1.0 - half.tanh().powi(2))) / m.powi(3)
    };
    (0..2000).map(term).sum::<f64>() / (2.0 * PI.powi(3))
}

/// An isotropic plate with D = 1, a = 1 along x, b along y.
fn unit(b: f64) -> Plate {
    Plate::isotropic(1.0, b, 1.0, 12.0 * 0.91, 0.3)
}

fn at_middle(plate: &Plate, force: f64, size: (f64, f64)) -> Load {
    Load::Patch { force, middle: (plate.a / 2.0, plate.b / 2.0), size }
}

#[test]
fn the_isotropic_tables() {
    for [b, alpha, beta, beta_long, alpha_point] in TABLE {
        let bent = unit(b).bent(&Load::Spread(1.0));
        assert!((bent.deflection - alpha).abs() < 0.6e-5, "{b}: {bent:?}");
        assert!((bent.mx - beta).abs() < 0.6e-4 && (bent.my - beta_long).abs() < 0.6e-4, "{b}: {bent:?}");
        let point = unit(b).bent(&at_middle(&unit(b), 1.0, (0.0, 0.0)));
        assert!((point.deflection - alpha_point).abs() < 0.6e-5, "{b}: {point:?}");
    }
}

#[test]
fn roarks_table() {
    for [b, alpha, beta] in ROARK {
        let bent = unit(b).bent(&Load::Spread(1.0));
        close(12.0 * 0.91 * bent.deflection, alpha, 7e-3);
        close(6.0 * bent.mx, beta, 7e-3);
    }
    // Read in the same book: a force in the middle.
    for (b, alpha) in [(1.0, 0.1267), (2.0, 0.1805)] {
        close(12.0 * 0.91 * unit(b).bent(&at_middle(&unit(b), 1.0, (0.0, 0.0))).deflection, alpha, 7e-3);
    }
}

#[test]
fn single_series_say_the_same() {
    for b in [1.0, 1.25, 1.5, 2.0, 3.0, 5.0] {
        close(unit(b).bent(&Load::Spread(1.0)).deflection, levy_alpha(b), 1e-6);
        close(unit(b).bent(&at_middle(&unit(b), 1.0, (0.0, 0.0))).deflection, levy_point_alpha(b), 1e-5);
    }
    // By hand: a very long plate bends as a strip, 5/384, and has a moment of 1/8.
    let long = unit(10.0).bent(&Load::Spread(1.0));
    close(long.deflection, 5.0 / 384.0, 1e-4);
    close(long.mx, 0.125, 1e-3);
}

// Worked out by hand from the formulas above, and found within 1 % by finite elements.
#[test]
fn an_isotropic_deck() {
    let deck = Plate::isotropic(900.0, 600.0, 15.0, 9000.0, 0.3);
    printed(deck.dx, "2781593");
    let bent = deck.bent(&Load::Spread(0.002));
    printed(bent.deflection, "0.71976");
    printed(bent.my * 6.0 / 225.0, "1.558");
    printed(deck.bent(&at_middle(&deck, 500.0, (0.0, 0.0))).deflection, "0.99220");
}

// Worked out with the formulas above, and found within 1 % by finite elements; the moduli of birch plywood are
// from memory, so these numbers test the series and not the board.
#[test]
fn a_birch_deck_by_its_grain() {
    let cases = [
        (12.0, 10_719.0, 6_781.0, "2.84178", "2.14375"),
        (15.0, 10_316.0, 7_184.0, "1.40673", "1.12527"),
        (18.0, 10_048.0, 7_452.0, "0.79643", "0.66219"),
    ];
    for (thickness, with, across, long, short) in cases {
        let grain_long = Plate::orthotropic(900.0, 600.0, thickness, with, across, 620.0, 0.05);
        printed(grain_long.bent(&Load::Spread(0.002)).deflection, long);
        // Poisson's number belongs to a stress along the grain, wherever the grain lies.
        let grain_short = Plate::orthotropic(600.0, 900.0, thickness, with, across, 620.0, 0.05);
        printed(grain_short.bent(&Load::Spread(0.002)).deflection, short);
        // A strip across the short span is on the safe side.
        for (plate, modulus) in [(grain_long, across), (grain_short, with)] {
            let strip = Strip { width: 1.0, thickness, modulus };
            let plate = plate.bent(&Load::Spread(0.002));
            assert!(plate.deflection < strip.spread_deflection(0.002, 600.0));
        }
    }
}

/// The double series written out plainly with many terms: deflection and moments under a patch's middle.
fn plain(plate: &Plate, middle: (f64, f64), size: (f64, f64), terms: i32) -> Bending {
    let shape = |m: f64, at: f64, length: f64, side: f64| {
        let half = m * PI * length / (2.0 * side);
        (m * PI * at / side).sin().powi(2) * if length > 0.0 { half.sin() / half } else { 1.0 }
    };
    let columns: Vec<f64> = (1..=terms).map(|n| shape(f64::from(n), middle.1, size.1, plate.b)).collect();
    let mut sums = [0.0; 3];
    for m in 1..=terms {
        let (p, share) = (f64::from(m) * PI / plate.a, shape(f64::from(m), middle.0, size.0, plate.a));
        for n in 1..=terms {
            let q = f64::from(n) * PI / plate.b;
            let stiff = plate.dx * p.powi(4) + 2.0 * plate.h * (p * q).powi(2) + plate.dy * q.powi(4);
            let w = 4.0 / (plate.a * plate.b) * share * columns[usize::try_from(n).unwrap() - 1] / stiff;
            sums[0] += w;
            sums[1] += w * (plate.dx * p * p + plate.nu.1 * plate.dx * q * q);
            sums[2] += w * (plate.dy * q * q + plate.nu.0 * plate.dy * p * p);
        }
    }
    Bending { deflection: sums[0], mx: sums[1], my: sums[2] }
}

#[test]
fn patches_and_lines_settle() {
    let board = Plate::orthotropic(900.0, 600.0, 15.0, 10_316.0, 7_184.0, 620.0, 0.05);
    let turned = Plate::orthotropic(500.0, 1100.0, 15.0, 10_316.0, 7_184.0, 620.0, 0.05);
    let cases = [
        (board, (450.0, 300.0), (45.0, 45.0)),
        (board, (300.0, 200.0), (100.0, 40.0)),
        (turned, (200.0, 900.0), (30.0, 60.0)),
        (board, (400.0, 250.0), (500.0, 0.0)),
        (turned, (250.0, 400.0), (0.0, 700.0)),
        (board, (300.0, 300.0), (60.0, 0.0)),
    ];
    for (plate, middle, size) in cases {
        let load = match size {
            (length, 0.0) => Load::Line { force: 1.0, middle, length, along_x: true },
            (0.0, length) => Load::Line { force: 1.0, middle, length, along_x: false },
            _ => Load::Patch { force: 1.0, middle, size },
        };
        let (got, want) = (plate.bent(&load), plain(&plate, middle, size, 4000));
        close(got.deflection, want.deflection, 1e-5);
        close(got.mx, want.mx, 5e-3);
        close(got.my, want.my, 5e-3);
    }
}

#[test]
fn a_patch_all_over_is_a_spread_load() {
    let board = Plate::orthotropic(900.0, 600.0, 15.0, 10_316.0, 7_184.0, 620.0, 0.05);
    let spread = board.bent(&Load::Spread(0.002));
    for size in [(900.0, 600.0), (5000.0, 5000.0)] {
        let patch = board.bent(&at_middle(&board, 0.002 * 900.0 * 600.0, size));
        close(patch.deflection, spread.deflection, 1e-6);
        close(patch.mx, spread.mx, 1e-4);
        close(patch.my, spread.my, 1e-4);
    }
    let beside = Load::Patch { force: 9.0, middle: (2000.0, 300.0), size: (100.0, 100.0) };
    assert_eq!(board.bent(&beside), Bending { deflection: 0.0, mx: 0.0, my: 0.0 });
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_board_alike_both_ways_is_isotropic(
        a in 200.0..1500.0_f64, b in 200.0..1500.0_f64, e in 2e3..2e5_f64, nu in 0.0..0.4_f64
    ) {
        let board = Plate::orthotropic(a, b, 12.0, e, e, e / (2.0 * (1.0 + nu)), nu);
        let sheet = Plate::isotropic(a, b, 12.0, e, nu);
        close(board.h, sheet.h, 1e-10);
        let (board, sheet) = (board.bent(&Load::Spread(0.002)), sheet.bent(&Load::Spread(0.002)));
        close(board.deflection, sheet.deflection, 1e-10);
        close(board.mx, sheet.mx, 1e-10);
        close(board.my, sheet.my, 1e-10);
    }

    #[test]
    fn stiffer_with_the_thickness_cubed_and_alike_when_turned(
        a in 200.0..1500.0_f64, b in 200.0..1500.0_f64, t in 3.0..30.0_f64, x in 0.1..0.9_f64
    ) {
        let load = Load::Patch { force: 100.0, middle: (a * x, b * 0.3), size: (a * 0.1, b * 0.2) };
        let thin = Plate::orthotropic(a, b, t, 10_000.0, 7_000.0, 600.0, 0.05).bent(&load);
        let thick = Plate::orthotropic(a, b, 2.0 * t, 10_000.0, 7_000.0, 600.0, 0.05).bent(&load);
        close(thin.deflection, 8.0 * thick.deflection, 1e-9);
        close(thin.mx, thick.mx, 1e-9);
        let load = Load::Patch { force: 100.0, middle: (b * 0.3, a * x), size: (b * 0.2, a * 0.1) };
        let nu = 0.05 * 0.7;
        let turned = Plate::orthotropic(b, a, t, 7_000.0, 10_000.0, 600.0, nu).bent(&load);
        close(turned.deflection, thin.deflection, 1e-5);
        close(turned.my, thin.mx, 5e-3);
        close(turned.mx, thin.my, 5e-3);
    }
}

/// How long one call takes: run by hand with `--ignored --nocapture`.
#[test]
#[ignore = "a measurement, not a check"]
fn how_long_it_takes() {
    let board = Plate::orthotropic(900.0, 600.0, 15.0, 10_316.0, 7_184.0, 620.0, 0.05);
    let line = Load::Line { force: 9.0, middle: (400.0, 250.0), length: 500.0, along_x: true };
    let aside = Load::Patch { force: 9.0, middle: (400.0, 250.0), size: (100.0, 40.0) };
    let middle = at_middle(&board, 9.0, (100.0, 40.0));
    for (name, load) in
        [("spread", Load::Spread(0.002)), ("middle", middle), ("patch", aside), ("line", line)]
    {
        let start = std::time::Instant::now();
        let sum: f64 = (0..200).map(|_| std::hint::black_box(&board).bent(&load).deflection).sum();
        println!("{name}: {:.1} us ({sum:.3})", start.elapsed().as_secs_f64() * 1e6 / 200.0);
    }
}
