//! Packs published irregular pieces on strips and holds the densities against published ones.
//!
//! `cargo bench --bench irregular`, after `--`: `seconds=60` (for each instance), `threads=2` (streams of the
//! search, one to a thread), `seed=1`, `only=swim`, `moves=N` (repeatable: no time limit). Every packing is checked by a second piece
//! of code, which shares nothing with the engine: `geo`'s intersections, and crossings of sides in whole numbers.
#![expect(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use baywright_nest::bench_support::{StripAnswer, StripKind, StripQuestion, strip};
use geo::{Area, BooleanOps, BoundingRect, Coord, Intersects, LineString, Polygon};
use serde_json::Value;
use std::path::Path;
use std::time::{Duration, Instant};

/// Densities in percent: Elkeran 2013, "A new approach for sheet nesting problem using guided cuckoo search and
/// pairwise clustering"; from memory, and beaten since.
const PUBLISHED: [(&str, f64); 10] = [
    ("albano", 89.58),
    ("dagli", 89.51),
    ("fu", 92.41),
    ("mao", 85.44),
    ("marques", 90.59),
    ("shapes0", 68.79),
    ("shapes1", 76.73),
    ("shirts", 88.96),
    ("swim", 75.94),
    ("trousers", 91.00),
];

/// Share of the published density that is to be reached.
const TARGET: f64 = 0.95;

fn main() {
    let (mut seconds, mut threads, mut seed, mut moves, mut only) = (60.0, 2, 1, None, String::new());
    // cargo itself adds `--bench`.
    for argument in std::env::args().skip(1).filter(|argument| argument != "--bench") {
        match argument.split_once('=') {
            Some(("seconds", value)) => seconds = value.parse().expect("seconds: a number"),
            Some(("threads", value)) => threads = value.parse().expect("threads: a number"),
            Some(("seed", value)) => seed = value.parse().expect("seed: a number"),
            Some(("moves", value)) => moves = Some(value.parse().expect("moves: a number")),
            Some(("only", value)) => value.clone_into(&mut only),
            _ => panic!("`{argument}`: see the head of tests/benches/irregular.rs"),
        }
    }
    println!("instance   pieces  density  published  target  met  of published  seconds  verified");
    for (name, published) in PUBLISHED.into_iter().filter(|(name, _)| name.starts_with(&only)) {
        let instance = Instance::read(name);
        let begun = Instant::now();
        let answer = strip(&StripQuestion {
            kinds: &instance.kinds,
            height: instance.height,
            seed,
            moves: moves.unwrap_or(usize::MAX / 2),
            streams: threads,
            time_limit: moves.is_none().then(|| Duration::from_secs_f64(seconds)),
        })
        .expect("every piece goes on the strip");
        let took = begun.elapsed().as_secs_f64();
        let density = 100.0 * instance.area() / (instance.height * answer.0);
        let verdict = instance.verdict(&answer);
        let met = if density >= TARGET * published { "yes" } else { "no" };
        println!(
            "{name:<9} {:7} {density:8.2} {published:10.2} {:7.2} {met:>4} {:13.4} {took:8.1}  {verdict}",
            answer.1.len(),
            TARGET * published,
            density / published
        );
    }
}

/// A published instance.
struct Instance {
    height: f64,
    /// Corners, number and allowed quarter turns of each kind of piece.
    kinds: Vec<StripKind>,
}

impl Instance {
    fn read(name: &str) -> Self {
        let file = format!("tests/benches/irregular/{name}.json");
        let text =
            std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(file)).expect("an instance");
        let value: Value = serde_json::from_str(&text).expect("JSON");
        let number = |value: &Value| value.as_f64().expect("a number");
        let list = |value: &Value| value.as_array().expect("a list").clone();
        let kind = |item: &Value| {
            let corners = list(&item["polygon"]).iter().map(|p| (number(&p[0]), number(&p[1]))).collect();
            let turn = |angle: &Value| match angle.as_str() {
                Some("0") => 0,
                Some("90") => 1,
                Some("180") => 2,
                Some("270") => 3,
                _ => panic!("an angle of {angle}"),
            };
            let quantity =
                usize::try_from(item["quantity"].as_u64().expect("a number")).expect("a small one");
            (corners, quantity, list(&item["angles"]).iter().map(turn).collect())
        };
        Instance {
            height: number(&value["board"][1]),
            kinds: list(&value["items"]).iter().map(kind).collect(),
        }
    }

    /// Area of all pieces.
    fn area(&self) -> f64 {
        self.kinds.iter().map(|(corners, count, _)| polygon(corners).unsigned_area() * *count as f64).sum()
    }

    /// Whether all pieces are there, in allowed turns, on the strip, and free of each other.
    fn verdict(&self, (length, placed): &StripAnswer) -> String {
        for (number, (_, count, quarters)) in self.kinds.iter().enumerate() {
            let of_kind: Vec<_> = placed.iter().filter(|piece| piece.0 == number).collect();
            if of_kind.len() != *count || of_kind.iter().any(|piece| !quarters.contains(&piece.3)) {
                return format!("NO: kind {number} is wrong in number or turn");
            }
        }
        let polygons: Vec<Polygon> = placed
            .iter()
            .map(|&(kind, x, y, quarters)| {
                let turned = |&(u, v): &(f64, f64)| match quarters {
                    0 => (u, v),
                    1 => (-v, u),
                    2 => (-u, -v),
                    _ => (v, -u),
                };
                let corner = |p| (turned(p).0 + x, turned(p).1 + y);
                polygon(&self.kinds[kind].0.iter().map(corner).collect::<Vec<_>>())
            })
            .collect();
        for (i, a) in polygons.iter().enumerate() {
            let inside = a.bounding_rect().expect("a piece has corners");
            let (low, high) = (inside.min(), inside.max());
            if low.x < -1e-9 || low.y < -1e-9 || high.x > length + 1e-9 || high.y > self.height + 1e-9 {
                return format!("NO: piece {i} stands out of the strip");
            }
            for (j, b) in polygons.iter().enumerate().skip(i + 1) {
                if a.intersects(b) && (overlap(a, b) || sides_cross(a, b)) {
                    return format!("NO: pieces {i} and {j} overlap");
                }
            }
        }
        "yes".to_owned()
    }
}

fn polygon(corners: &[(f64, f64)]) -> Polygon {
    Polygon::new(LineString::from(corners.to_vec()), vec![])
}

/// Whether the common area is more than the integer grid of `geo`'s booleans can make of a common side.
fn overlap(a: &Polygon, b: &Polygon) -> bool {
    let common = a.intersection(b).unsigned_area();
    common > 1e-7 * a.unsigned_area().min(b.unsigned_area())
}

/// Whether any two sides cross in their middles: exact, in whole thousandths of the data's unit.
fn sides_cross(a: &Polygon, b: &Polygon) -> bool {
    let grid = |p: Coord| {
        #[expect(clippy::cast_possible_truncation, reason = "a few million")]
        ((p.x * 1000.0).round() as i128, (p.y * 1000.0).round() as i128)
    };
    let sides = |polygon: &Polygon| -> Vec<_> {
        polygon.exterior().lines().map(|line| (grid(line.start), grid(line.end))).collect()
    };
    let turn = |a: (i128, i128), b: (i128, i128), c: (i128, i128)| {
        ((b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)).signum()
    };
    let others = sides(b);
    sides(a).into_iter().any(|(p, q)| {
        let crosses = |&(r, s): &((i128, i128), (i128, i128))| {
            turn(p, q, r) * turn(p, q, s) < 0 && turn(r, s, p) * turn(r, s, q) < 0
        };
        others.iter().any(crosses)
    })
}
