//! Times whole runs of `baywright make`: each demo, and generated kits of growing size with the exponent of growth.
//!
//! `cargo bench --bench scale`. Whole processes, files included, the median of several runs; compare figures of
//! one run with each other, never with those of another day.
#![expect(clippy::print_stdout, reason = "a benchmark prints what it measured")]

use std::fmt::Write;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

/// Runs of each kit; the median counts.
const RUNS: usize = 5;

/// Carcases of the generated kits; each has 117 panels.
const SIZES: [usize; 5] = [1, 2, 4, 9, 18];

fn main() {
    let scratch = Path::new(env!("CARGO_TARGET_TMPDIR")).join("scale");
    std::fs::create_dir_all(&scratch).expect("a scratch folder under target");
    println!("whole runs of `make`, median of {RUNS}");
    for demo in ["weir-wagon", "spoke-van", "paddock-ute"] {
        let spec = Path::new("demo-designs").join(demo).join("design.yaml");
        let (seconds, panels) = run(&spec, &scratch.join(demo));
        println!("{demo:>14}: {panels:5} panels  {seconds:7.3} s");
    }
    let mut points = Vec::new();
    for carcases in SIZES {
        let spec = scratch.join(format!("towers-{carcases}.yaml"));
        std::fs::write(&spec, towers(carcases)).expect("a spec in the scratch folder");
        let (seconds, panels) = run(&spec, &scratch.join(format!("towers-{carcases}")));
        println!("{carcases:>7} towers: {panels:5} panels  {seconds:7.3} s");
        points.push(((panels as f64).ln(), seconds.ln()));
    }
    println!("time grows as panels^{:.2} (least squares over the towers)", slope(&points));
}

/// A kit of many tall carcases side by side, sixteen drawers each.
fn towers(carcases: usize) -> String {
    let mut text = "bay: {width: 20000, depth: 1000, height: 2600}
workshop: {tool: {diameter: 4, margin: 4}}
joints: {corner: captive-nut}
carcases:
"
    .to_owned();
    for i in 0..carcases {
        let y = (i as f64 - (carcases - 1) as f64 / 2.0) * 530.0;
        let head = format!(
            "  - {{id: c{i:02}, width: 480, depth: 560, height: 2400, at: {{y: {y}}}, panel: birch-12, "
        );
        let joints = "overhang: 12, back: {inset: 12}, drawers: {panel: birch-9, joints: {corner: angle}}, ";
        let rows = vec!["{drawer: {slide: ordinary-450}}"; 16].join(", ");
        writeln!(text, "{head}{joints}rows: [{rows}]}}").expect("writing to a string");
    }
    text
}

/// Median seconds of a `make`, and the number of panels made.
fn run(spec: &Path, out: &Path) -> (f64, usize) {
    let mut seconds: Vec<f64> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            let output = Command::new(env!("CARGO_BIN_EXE_baywright"))
                .args(["make".as_ref(), spec.as_os_str(), "--out".as_ref(), out.as_os_str()])
                .output()
                .expect("the program starts");
            let elapsed = start.elapsed().as_secs_f64();
            assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
            elapsed
        })
        .collect();
    seconds.sort_by(f64::total_cmp);
    let kit = std::fs::read_to_string(out.join("kit.json")).expect("kit.json");
    let kit: serde_json::Value = serde_json::from_str(&kit).expect("JSON");
    (seconds[RUNS / 2], kit["panels"].as_array().map_or(0, Vec::len))
}

/// Slope of the least-squares line through points.
fn slope(points: &[(f64, f64)]) -> f64 {
    let n = points.len() as f64;
    let (mean_x, mean_y) =
        (points.iter().map(|p| p.0).sum::<f64>() / n, points.iter().map(|p| p.1).sum::<f64>() / n);
    let covariance: f64 = points.iter().map(|p| (p.0 - mean_x) * (p.1 - mean_y)).sum();
    covariance / points.iter().map(|p| (p.0 - mean_x).powi(2)).sum::<f64>()
}
