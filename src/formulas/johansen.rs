//! Bolts through wood by the ways they can give (Johansen's modes): characteristic force per shear plane.
//!
//! EN 1995-1-1 8.2.2 and 8.2.3, read in full in an open implementation. In each mode but those in which only the
//! wood gives, the bolt is drawn tight like a rope, which adds a quarter of what holds it lengthwise, at most
//! a quarter of the rest (bolts).

/// What is known of a bolt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fastener {
    /// mm, its diameter.
    pub d: f64,
    /// N mm, the moment at which it yields.
    pub yield_moment: f64,
    /// N, what holds it lengthwise (characteristic): the lesser of its own tension and its washers' pull-through;
    /// 0 leaves the rope out.
    pub axial: f64,
}

/// One way a joint can give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mode {
    /// Its letter in EN 1995-1-1 8.2; a blank where there is no mode.
    pub letter: char,
    /// N, at which it gives: characteristic, per shear plane.
    pub force: f64,
}

/// A steel plate beside wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Plate {
    /// Not above half the bolt's diameter: the bolt turns in it.
    Thin,
    /// Not below the bolt's diameter, with a close hole: the bolt is clamped in it.
    Thick,
    /// mm: thin, thick or in between by its thickness.
    Of(f64),
}

/// The mode that gives first, the earlier of two alike. A blank letter and no force if there is none.
pub fn governing(modes: &[Mode]) -> Mode {
    let least = modes.iter().copied().min_by(|a, b| a.force.total_cmp(&b.force));
    least.unwrap_or(Mode { letter: ' ', force: 0.0 })
}

/// A steel plate on one side of wood `t1` mm thick with embedment `f_h` N/mm2: modes a, b with a thin plate and
/// c, d, e with a thick one (eq. 8.9, 8.10). In between there is one mode: the governing forces of both,
/// interpolated by the plate's thickness, with the letter of the lesser.
pub fn steel_wood(plate: Plate, f_h: f64, t1: f64, bolt: &Fastener) -> Vec<Mode> {
    let thin = vec![mode('a', 0.4 * f_h * t1 * bolt.d), mode('b', bolt.roped(bolt.hinge_with_thin(f_h)))];
    between(plate, bolt.d, thin, clamped(['c', 'd', 'e'], f_h, t1, bolt))
}

/// A steel plate of any thickness between two pieces of wood, the thinner `t1` mm with embedment `f_h` N/mm2, per
/// shear plane: modes f, g, h (eq. 8.11).
pub fn steel_between(f_h: f64, t1: f64, bolt: &Fastener) -> Vec<Mode> {
    clamped(['f', 'g', 'h'], f_h, t1, bolt)
}

/// Steel plates on both sides of wood `t2` mm thick with embedment `f_h` N/mm2, per shear plane: modes j, k with
/// thin plates and l, m with thick ones (eq. 8.12, 8.13); in between as in [`steel_wood`].
pub fn steel_outside(plate: Plate, f_h: f64, t2: f64, bolt: &Fastener) -> Vec<Mode> {
    let wood = 0.5 * f_h * t2 * bolt.d;
    let thin = vec![mode('j', wood), mode('k', bolt.roped(bolt.hinge_with_thin(f_h)))];
    let thick = vec![mode('l', wood), mode('m', bolt.roped(bolt.hinge_with_thick(f_h)))];
    between(plate, bolt.d, thin, thick)
}

/// Two pieces of wood, embedments N/mm2 and thicknesses mm: modes a to f (eq. 8.6).
pub fn wood_wood(f_h1: f64, t1: f64, f_h2: f64, t2: f64, bolt: &Fastener) -> Vec<Mode> {
    let ratio = f_h2 / f_h1;
    // Both pieces' thicknesses as forces, at the first one's embedment.
    let (one, two) = (f_h1 * t1 * bolt.d, f_h1 * t2 * bolt.d);
    let squares = ratio * one.powi(2)
        + 2.0 * ratio.powi(2) * (one.powi(2) + one * two + two.powi(2))
        + ratio.powi(3) * two.powi(2);
    let turned = (squares.sqrt() - ratio * (one + two)) / (1.0 + ratio);
    // The second piece's hinge: the first one's formula seen from the other side.
    let hinge_two = 1.05 / (1.0 + 2.0 * ratio)
        * ((2.0 * ratio.powi(2) * (1.0 + ratio) * two.powi(2)
            + 4.0 * ratio * (1.0 + 2.0 * ratio) * bolt.bend(f_h1))
        .sqrt()
            - ratio * two);
    vec![
        mode('a', one),
        mode('b', ratio * two),
        mode('c', bolt.roped(turned)),
        mode('d', bolt.roped(bolt.hinge_in_first(f_h1, t1, ratio))),
        mode('e', bolt.roped(hinge_two)),
        mode('f', bolt.roped(bolt.hinges_in_both(f_h1, ratio))),
    ]
}

/// A piece of wood (2) between two alike (1), embedments N/mm2 and thicknesses mm, per shear plane: modes g, h, j, k
/// (eq. 8.7).
pub fn wood_wood_double(f_h1: f64, t1: f64, f_h2: f64, t2: f64, bolt: &Fastener) -> Vec<Mode> {
    let ratio = f_h2 / f_h1;
    vec![
        mode('g', f_h1 * t1 * bolt.d),
        mode('h', 0.5 * f_h2 * t2 * bolt.d),
        mode('j', bolt.roped(bolt.hinge_in_first(f_h1, t1, ratio))),
        mode('k', bolt.roped(bolt.hinges_in_both(f_h1, ratio))),
    ]
}

/// A mode by its letter.
fn mode(letter: char, force: f64) -> Mode {
    Mode { letter, force }
}

/// The three modes of a bolt clamped in steel on one side of the wood.
fn clamped(letters: [char; 3], f_h: f64, t1: f64, bolt: &Fastener) -> Vec<Mode> {
    let wood = f_h * t1 * bolt.d;
    // f_h t1 d (sqrt(2 + 4 M / (f_h d t1^2)) - 1), with the factor drawn in.
    let one_hinge = (2.0 * wood.powi(2) + 4.0 * bolt.bend(f_h)).sqrt() - wood;
    vec![
        mode(letters[0], wood),
        mode(letters[1], bolt.roped(one_hinge)),
        mode(letters[2], bolt.roped(bolt.hinge_with_thick(f_h))),
    ]
}

/// The modes by how thick the plate is for a bolt of `d` mm.
fn between(plate: Plate, d: f64, thin: Vec<Mode>, thick: Vec<Mode>) -> Vec<Mode> {
    let share = match plate {
        Plate::Thin => 0.0,
        Plate::Thick => 1.0,
        Plate::Of(thickness) => (thickness / (0.5 * d) - 1.0).clamp(0.0, 1.0),
    };
    if share <= 0.0 {
        return thin;
    }
    if share >= 1.0 {
        return thick;
    }
    let ends = [governing(&thin), governing(&thick)];
    let force = ends[0].force + share * (ends[1].force - ends[0].force);
    vec![mode(governing(&ends).letter, force)]
}

impl Fastener {
    /// N2: `M_y f_h d`, what two plastic hinges come from.
    fn bend(&self, f_h: f64) -> f64 {
        self.yield_moment * f_h * self.d
    }

    /// N: a mode's force with the rope on top.
    fn roped(&self, part: f64) -> f64 {
        part + (self.axial / 4.0).min(part / 4.0)
    }

    /// N: one hinge, in the wood, with a thin plate.
    fn hinge_with_thin(&self, f_h: f64) -> f64 {
        1.15 * (2.0 * self.bend(f_h)).sqrt()
    }

    /// N: two hinges, in the wood and at a thick plate.
    fn hinge_with_thick(&self, f_h: f64) -> f64 {
        2.3 * self.bend(f_h).sqrt()
    }

    /// N: modes d and j. The bolt turns in the first piece and has its hinge in the second.
    fn hinge_in_first(&self, f_h1: f64, t1: f64, ratio: f64) -> f64 {
        let wood = f_h1 * t1 * self.d;
        let squares =
            2.0 * ratio * (1.0 + ratio) * wood.powi(2) + 4.0 * ratio * (2.0 + ratio) * self.bend(f_h1);
        1.05 / (2.0 + ratio) * (squares.sqrt() - ratio * wood)
    }

    /// N: modes f and k. A hinge in each piece.
    fn hinges_in_both(&self, f_h1: f64, ratio: f64) -> f64 {
        1.15 * (2.0 * ratio / (1.0 + ratio)).sqrt() * (2.0 * self.bend(f_h1)).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bolt::yield_moment;
    use crate::near::{close, printed};
    use crate::timber::{
        Board, Duration, GAMMA_CONNECTION, ServiceClass, embedment_plywood, embedment_solid, k_mod,
        k90_softwood, pull_through,
    };
    use proptest::prelude::*;

    /// M8 of class 8.8 on a washer of 24 mm.
    fn m8() -> Fastener {
        Fastener { d: 8.0, yield_moment: yield_moment(800.0, 8.0), axial: pull_through(2.5, 24.0, 9.0) }
    }

    fn ply() -> f64 {
        embedment_plywood(8.0, 630.0)
    }

    fn check(modes: &[Mode], want: &[(char, &str)], governs: char) {
        let letters: String = modes.iter().map(|mode| mode.letter).collect();
        assert_eq!(letters, want.iter().map(|mode| mode.0).collect::<String>());
        for (mode, (_, force)) in modes.iter().zip(want) {
            printed(mode.force, force);
        }
        assert_eq!(governing(modes).letter, governs);
    }

    // Worked out by hand: a thin plate, then a thick one, on 15 mm of birch plywood.
    #[test]
    fn steel_on_plywood() {
        let thin = steel_wood(Plate::Thin, ply(), 15.0, &m8());
        check(&thin, &[('a', "3060.3"), ('b', "9223.5")], 'a');
        let factor = k_mod(Board::Plywood, ServiceClass::One, Duration::Short).unwrap();
        printed(governing(&thin).force * factor / GAMMA_CONNECTION, "2118.7");
        let thick = steel_wood(Plate::Thick, ply(), 15.0, &m8());
        check(&thick, &[('c', "7650.7"), ('d', "8117.8"), ('e', "12742.1")], 'c');
        let inside = steel_between(ply(), 15.0, &m8());
        check(&inside, &[('f', "7650.7"), ('g', "8117.8"), ('h', "12742.1")], 'f');
        // Worked out by hand: M6 and a thin plate on 18 mm.
        let m6 = Fastener { d: 6.0, yield_moment: yield_moment(800.0, 6.0), axial: 0.0 };
        printed(steel_wood(Plate::Thin, embedment_plywood(6.0, 630.0), 18.0, &m6)[0].force, "2814.1");
    }

    // Worked out by hand: two boards, with and without the rope, and three.
    #[test]
    fn plywood_on_plywood() {
        let single = wood_wood(ply(), 15.0, ply(), 15.0, &m8());
        let want = [
            ('a', "7650.7"),
            ('b', "7650.7"),
            ('c', "3898.0"),
            ('d', "6344.8"),
            ('e', "6344.8"),
            ('f', "9223.5"),
        ];
        check(&single, &want, 'c');
        let bare = wood_wood(ply(), 15.0, ply(), 15.0, &Fastener { axial: 0.0, ..m8() });
        printed(governing(&bare).force, "3169.0");
        let double = wood_wood_double(ply(), 15.0, ply(), 15.0, &m8());
        check(&double, &[('g', "7650.7"), ('h', "3825.4"), ('j', "6344.8"), ('k', "9223.5")], 'h');
    }

    // Steel plates outside C24 timber, M12 of class 4.6: worked out at three angles to the grain. A textbook on
    // timber design prints 12.7 kN for this joint (read; its angle was not seen), which lies between.
    #[test]
    fn steel_outside_timber() {
        let bolt = Fastener {
            d: 12.0,
            yield_moment: yield_moment(400.0, 12.0),
            axial: pull_through(2.5, 48.0, 13.0),
        };
        for (degrees, force) in [(0.0, "13866"), (30.0, "13029"), (45.0, "12328")] {
            let f_h = embedment_solid(12.0, 350.0, degrees, k90_softwood(12.0));
            let modes = steel_outside(Plate::Thick, f_h, 200.0, &bolt);
            assert_eq!((modes[0].letter, modes[1].letter), ('l', 'm'));
            printed(modes[1].force, force);
            close(modes[0].force, 0.5 * f_h * 200.0 * 12.0, 1e-12);
        }
        // By hand from eq. 8.12: without a rope a thin plate has 1/sqrt 2 of a thick one's second mode.
        let bare = Fastener { axial: 0.0, ..bolt };
        let (thin, thick) =
            (steel_outside(Plate::Thin, 25.0, 99.0, &bare), steel_outside(Plate::Thick, 25.0, 99.0, &bare));
        assert_eq!((thin[0].letter, thin[1].letter), ('j', 'k'));
        close(thin[1].force, thick[1].force / 2.0_f64.sqrt(), 1e-12);
        close(thin[0].force, thick[0].force, 1e-12);
    }

    #[test]
    fn plates_in_between() {
        let force = |plate| governing(&steel_wood(plate, ply(), 15.0, &m8()));
        assert_eq!(force(Plate::Of(4.0)), force(Plate::Thin));
        assert_eq!(force(Plate::Of(8.0)), force(Plate::Thick));
        assert_eq!(force(Plate::Of(1.0)), force(Plate::Thin));
        // By hand: a quarter of the way from half the diameter to all of it.
        let quarter = force(Plate::Of(5.0));
        close(quarter.force, 0.75 * force(Plate::Thin).force + 0.25 * force(Plate::Thick).force, 1e-12);
        assert_eq!(quarter.letter, 'a');
        assert_eq!(governing(&[]), Mode { letter: ' ', force: 0.0 });
    }

    /// All joints of one pair of pieces.
    fn joints(f: (f64, f64), t: (f64, f64), plate: Plate, bolt: &Fastener) -> [Vec<Mode>; 5] {
        [
            steel_wood(plate, f.0, t.0, bolt),
            steel_between(f.0, t.0, bolt),
            steel_outside(plate, f.0, t.0, bolt),
            wood_wood(f.0, t.0, f.1, t.1, bolt),
            wood_wood_double(f.0, t.0, f.1, t.1, bolt),
        ]
    }

    proptest! {
        #[test]
        fn the_least_governs_and_more_is_never_less(
            f in (10.0..80.0_f64, 10.0..80.0_f64), t in (3.0..60.0_f64, 3.0..60.0_f64),
            d in 4.0..16.0_f64, axial in 0.0..2e4_f64, plate in 0.5..20.0_f64,
        ) {
            let bolt = Fastener { d, yield_moment: yield_moment(800.0, d), axial };
            let own = joints(f, t, Plate::Of(plate), &bolt);
            let tougher = Fastener { yield_moment: 1.1 * bolt.yield_moment, ..bolt };
            let stronger = joints(f, t, Plate::Of(plate), &tougher);
            let held = joints(f, t, Plate::Of(plate), &Fastener { axial: axial + 500.0, ..bolt });
            let thicker = joints(f, t, Plate::Of(plate + 1.0), &bolt);
            for (i, modes) in own.iter().enumerate() {
                let least = governing(modes).force;
                prop_assert!(modes.iter().all(|mode| mode.force >= least && mode.force.is_finite()));
                prop_assert!(modes.iter().any(|mode| mode.force <= least) && least > 0.0);
                for other in [&stronger[i], &held[i], &thicker[i]] {
                    prop_assert!(governing(other).force >= least * (1.0 - 1e-12));
                }
                // A rope adds at most a quarter.
                let bare = &joints(f, t, Plate::Of(plate), &Fastener { axial: 0.0, ..bolt })[i];
                prop_assert!(least <= 1.25 * governing(bare).force * (1.0 + 1e-12));
            }
        }

        #[test]
        fn two_pieces_can_be_swapped(
            f in (10.0..80.0_f64, 10.0..80.0_f64), t in (3.0..60.0_f64, 3.0..60.0_f64), d in 4.0..16.0_f64
        ) {
            let bolt = Fastener { d, yield_moment: yield_moment(800.0, d), axial: 2000.0 };
            let (there, back) = (wood_wood(f.0, t.0, f.1, t.1, &bolt), wood_wood(f.1, t.1, f.0, t.0, &bolt));
            for (one, other) in [(0, 1), (2, 2), (3, 4), (5, 5)] {
                close(there[one].force, back[other].force, 1e-9);
                close(there[other].force, back[one].force, 1e-9);
            }
        }
    }
}
