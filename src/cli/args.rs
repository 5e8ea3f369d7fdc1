//! What can be typed, with its help. Nothing is looked up or opened here.

use std::path::PathBuf;

use clap::builder::PossibleValuesParser;
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use super::nest::Sheet;
use super::new::{TEMPLATES, VEHICLE};
use crate::import::drawing::Unit;
use crate::sweep::{Shard, Vary};

/// From one YAML spec to a drawer system for a vehicle's load bay that can be cut, bolted, weighed and driven.
#[derive(Debug, Parser)]
#[command(
    name = "baywright",
    version,
    arg_required_else_help = true,
    after_help = "\
Examples:
  baywright new kit                write kit.yaml, a small spec to start from
  baywright make kit.yaml          write panels, sheets and lists to out/kit
  baywright check kit.yaml         only say what is wrong
  baywright live kit.yaml          a page that shows the kit and follows each save
  baywright compare out/kit kit.yaml
                                   say what changed since the set was made
  baywright sweep kit.yaml --vary carcases.main.height=300..400:20
                                   build it in several heights and plot what comes of them
  baywright explain outside-bay    say what a finding means
  baywright nest parts.csv --sheet 2440x1220
                                   lay a cut list on sheets, without a kit

Exit codes: 0 done, 1 the design or the parts have errors (nothing is written), 2 could not run."
)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Make a set from a spec: cut files, lists, report.
    ///
    /// Reads the spec and the vehicle and workshop files that it points to, and writes one folder, whole or not
    /// at all. A set that stands there is replaced; a folder with anything else in it is left alone. With errors
    /// in the design nothing is written.
    #[command(after_help = "\
Examples:
  baywright make kit.yaml
  baywright make kit.yaml --out /media/stick/kit
  baywright make kit.yaml --vehicle other-van.yaml --workshop shop.yaml")]
    Make {
        #[command(flatten)]
        design: DesignArguments,
        /// The set's own folder; out/ and the design's name if left out.
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
    },
    /// Say what is wrong with a spec, and what it would come to, without writing anything.
    #[command(after_help = "\
Examples:
  baywright check kit.yaml
  baywright check kit.yaml --format json")]
    Check {
        #[command(flatten)]
        design: DesignArguments,
    },
    /// Show the kit on a page that follows the spec: model, sheets, masses, cost, findings, anew at each save.
    ///
    /// Prints the page's address; any browser on this machine opens it. With errors in the design the last good kit stays
    /// and the findings stand beside it. Nothing is written but by the page's own button, which does what `make` does.
    #[command(after_help = "\
Examples:
  baywright live kit.yaml
  baywright live kit.yaml --port 8080")]
    Live {
        #[command(flatten)]
        design: DesignArguments,
        /// Port of this machine to serve the page on; 0 takes any that is free.
        #[arg(long, default_value_t = 0, value_name = "PORT")]
        port: u16,
    },
    /// Say what changed from one kit to another: panels to cut again, hardware, sheets, mass, cost, findings.
    ///
    /// Each KIT is a spec, which is built without writing anything, a folder that `make` wrote, or its kit.json. Two
    /// kits are told line by line; more stand side by side, with what differs from the first. A panel is to be cut again
    /// if any number that decides how it is cut differs, as kit.json prints it; a panel that only lies elsewhere is not.
    /// Whether anything differs does not change the exit code.
    #[command(after_help = "\
Examples:
  baywright compare out/kit kit.yaml           what was made against the spec as it is now
  baywright compare old/kit.json kit.yaml --all
  baywright compare short.yaml long.yaml high.yaml --page compared.html")]
    Compare {
        /// Specs, folders or kit.json files; the first is the one that the others are compared with.
        #[arg(required = true, num_args = 2.., value_name = "KIT")]
        kits: Vec<PathBuf>,
        /// Name the unchanged panels too, not only their number.
        #[arg(long)]
        all: bool,
        /// Write a page as well, with pictures of all kits in one scale beside their figures; whole or not at all. A page of an
        /// earlier comparison is replaced, any other file is left alone.
        #[arg(long, value_name = "FILE.html")]
        page: Option<PathBuf>,
        /// How to print: text for people, or JSON on standard output for other software.
        #[arg(long, default_value = "text")]
        format: Format,
    },
    /// Build a spec in many variants and tabulate what comes of each: mass, sheets, cost, margins, findings.
    ///
    /// A variant is the spec with other numbers in it, so every rule applies as for `make`; a variant with errors has a row that
    /// says which. What is varied is a named size, or any number written in the spec, by its path: keys and ids with points
    /// between, entries of lists by id or by number from 0. Several --vary give all combinations, the first one slowest.
    ///
    /// Writes one folder, whole or not at all: sweep.csv, and for one or two varied things sweep.svg. Ctrl-C keeps what is done.
    #[command(after_help = "\
Examples:
  baywright sweep kit.yaml --vary gap=2..6:0.5
  baywright sweep kit.yaml --vary carcases.main.height=300..400:10 --vary bay.width=1000..1100:20
  baywright sweep kit.yaml --vary carcases.main.columns.0.size=400..600:5 --shard 1/2 --out part-1
  baywright sweep --merge part-1 part-2 --out out/kit-sweep")]
    Sweep(SweepArguments),
    /// Lay the parts of a cut list or of drawings on sheets, without a kit.
    ///
    /// PARTS is a cut list (CSV), a folder of DXF or SVG files, each one part, or one such file. Writes one folder,
    /// whole or not at all: sheets and parts as DXF and SVG, a cut list that says what lies where, a report.
    ///
    /// A cut list has a first row that names its columns, in any order, separated by commas, semicolons or tabs:
    /// name, length and width (mm) or outline (a DXF or SVG file beside the list), and if wanted quantity (1), grain (free;
    /// kept: length along the sheet; across), turn (yes; no: not even by half a turn), face (up; either: may be laid
    /// face down), material, thickness. Each material and thickness has sheets of its own.
    #[command(after_help = "\
Examples:
  baywright nest parts.csv --sheet 2440x1220
  baywright nest parts.csv --sheet 2440x1220*2@58.50 --sheet 3050x1525@91 --gap 8 --trim 10
  baywright nest drawings/ --sheet 1250x2500 --units mm --quick
  baywright nest parts.csv --sheet 2800x2070 --saw --kerf 3.2")]
    Nest(NestArguments),
    /// Start a spec from a template.
    ///
    /// Writes NAME.yaml. A file that is there already is left as it is.
    #[command(after_help = "\
Examples:
  baywright new kit
  baywright new tower --template tall-tower
  baywright new vehicle            a vehicle file, with how each number is measured
  baywright new --list")]
    New {
        /// Name of the design.
        #[arg(default_value = "kit")]
        name: String,
        /// The template to start from; `minimal` if left out, for the name `vehicle` a vehicle file.
        #[arg(long, value_name = "TEMPLATE", value_parser = template_names())]
        template: Option<String>,
        /// List the templates.
        #[arg(long)]
        list: bool,
    },
    /// Print a sheet to measure a load bay with: one A4 page as SVG, with blanks for every dimension.
    ///
    /// Its letters are those of the file that `new vehicle` writes.
    #[command(after_help = "\
Example:
  baywright measuring-sheet > measuring-sheet.svg")]
    MeasuringSheet,
    /// Say what a rule finds, why it matters, and show an example; without a rule list them all.
    #[command(after_help = "\
Examples:
  baywright explain
  baywright explain hole-too-near-edge")]
    Explain {
        /// Name of the rule, as findings show it in brackets.
        rule: Option<String>,
    },
    /// Print the JSON Schema of a file that is read or written.
    ///
    /// An editor that knows YAML schemas completes and checks a spec while it is typed.
    #[command(after_help = "\
Example:
  baywright schema design > design.schema.json")]
    Schema {
        /// Of which file.
        #[arg(default_value = "design")]
        of: SchemaOf,
    },
    /// List what a spec can name: materials, slides, angles, fasteners.
    #[command(after_help = "\
Examples:
  baywright catalogue slides
  baywright catalogue materials --workshop shop.yaml --format json")]
    Catalogue {
        /// Only these.
        section: Option<Section>,
        /// Workshop file whose own rows are listed too.
        #[arg(long, value_name = "FILE")]
        workshop: Option<PathBuf>,
        /// How to print.
        #[arg(long, default_value = "text")]
        format: Format,
    },
    /// Print a script that lets a shell complete the commands.
    #[command(after_help = "\
Example:
  baywright completions bash > ~/.local/share/bash-completion/completions/baywright")]
    Completions {
        /// Which shell.
        shell: Shell,
    },
}

/// What a design is read from and how it is told.
#[derive(Args, Clone, Debug)]
pub(super) struct DesignArguments {
    /// The design file.
    pub(super) spec: PathBuf,
    /// Vehicle file to use instead of the design's own vehicle.
    #[arg(long, value_name = "FILE")]
    pub(super) vehicle: Option<PathBuf>,
    /// Workshop file to use instead of the design's own workshop.
    #[arg(long, value_name = "FILE")]
    pub(super) workshop: Option<PathBuf>,
    /// How to print: text for people, or JSON on standard output for other software.
    #[arg(long, default_value = "text")]
    pub(super) format: Format,
}

/// What is varied, and how; or which pieces are joined.
#[derive(Args, Debug)]
pub(super) struct SweepArguments {
    /// The design file.
    #[arg(required_unless_present = "merge")]
    pub(super) spec: Option<PathBuf>,
    /// A named size, or the path of a number in the spec, with the values that it takes, in the units of the spec. Give several
    /// for all combinations.
    #[arg(long, value_name = "NAME=FROM..TO:STEP", required_unless_present = "merge")]
    pub(super) vary: Vec<Vary>,
    /// The result's own folder; out/ and the design's name with -sweep if left out.
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// Vehicle file to use instead of the design's own vehicle.
    #[arg(long, value_name = "FILE")]
    pub(super) vehicle: Option<PathBuf>,
    /// Workshop file to use instead of the design's own workshop.
    #[arg(long, value_name = "FILE")]
    pub(super) workshop: Option<PathBuf>,
    /// How long the sheets of each variant are looked at, whatever the spec says.
    #[arg(long, default_value = "quick")]
    pub(super) effort: SweepEffort,
    /// Build only every N-th variant, from the I-th on: a piece, to be merged with the others.
    #[arg(long, value_name = "I/N")]
    pub(super) shard: Option<Shard>,
    /// How many variants are built at once; changes nothing but the time [default: one for each core].
    #[arg(long, value_name = "N", value_parser = jobs)]
    pub(super) jobs: Option<usize>,
    /// Join these pieces (folders that --shard wrote, or their sweep.csv) instead.
    #[arg(
        long,
        value_name = "DIR|CSV",
        num_args = 1..,
        requires = "out",
        conflicts_with_all = ["spec", "vary", "vehicle", "workshop", "shard", "jobs", "effort"]
    )]
    pub(super) merge: Vec<PathBuf>,
    /// How to print: text for people, or JSON on standard output for other software.
    #[arg(long, default_value = "text")]
    pub(super) format: Format,
}

/// How long layouts are looked for in each variant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum SweepEffort {
    /// The first layout as it is.
    Quick,
    /// What a kit ordinarily gets.
    Standard,
}

/// What is nested, on what, and how.
#[derive(Args, Debug)]
pub(super) struct NestArguments {
    /// A cut list (CSV), a folder of DXF or SVG files, or one such file.
    pub(super) parts: PathBuf,
    /// A size of sheet in mm, length (along the grain) first; *N says how many there are, @PRICE what one costs. Give
    /// several if there are. Without it the sheets of the materials that the list names.
    #[arg(long, value_name = "LxW[*N][@PRICE]")]
    pub(super) sheet: Vec<Sheet>,
    /// mm between two parts: tool diameter plus margin [default: 8, or the workshop's].
    #[arg(long, value_name = "MM", value_parser = millimetres)]
    pub(super) gap: Option<f64>,
    /// mm along each edge of a sheet that are not used [default: 10, or the workshop's].
    #[arg(long, value_name = "MM", value_parser = millimetres)]
    pub(super) trim: Option<f64>,
    /// Take the first packing, without looking for better ones.
    #[arg(long, conflicts_with_all = ["effort", "time_limit"])]
    pub(super) quick: bool,
    /// Steps of the search; more may find fewer sheets [default: by the number of parts].
    #[arg(long, value_name = "STEPS", value_parser = steps)]
    pub(super) effort: Option<usize>,
    /// Where the search's random numbers start: another seed may find another packing [default: 1].
    #[arg(long, value_name = "N")]
    pub(super) seed: Option<u64>,
    /// Seconds after which the search stops. The result then depends on the machine.
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(super) time_limit: Option<f64>,
    /// Lay parts so that a panel saw can cut them: every cut from edge to edge.
    #[arg(long)]
    pub(super) saw: bool,
    /// mm that the saw's blade takes [default: 3.2, or the workshop's].
    #[arg(long, value_name = "MM", value_parser = millimetres)]
    pub(super) kerf: Option<f64>,
    /// Most times that the saw's cuts change direction [default: 3, or the workshop's].
    #[arg(long, value_name = "N", value_parser = stages)]
    pub(super) stages: Option<usize>,
    /// Turn no part: each lies as it is drawn, or across where the list says so.
    #[arg(long)]
    pub(super) no_turn: bool,
    /// Unit of the drawings, whatever they say themselves.
    #[arg(long, value_name = "UNIT")]
    pub(super) units: Option<Units>,
    /// Read only this layer of the drawings (in an SVG, this group); give several if there are. Without it all.
    #[arg(long, value_name = "NAME")]
    pub(super) layer: Vec<String>,
    /// Workshop file: tool, trim, layer names, DXF version, own materials and their sheets.
    #[arg(long, value_name = "FILE")]
    pub(super) workshop: Option<PathBuf>,
    /// The set's own folder; out/ and the name of PARTS if left out.
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// How to print: text for people, or JSON on standard output for other software.
    #[arg(long, default_value = "text")]
    pub(super) format: Format,
}

/// A unit of length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// Millimetres.
    Mm,
    /// Inches of 25.4 mm.
    Inch,
}

impl From<Units> for Unit {
    fn from(units: Units) -> Self {
        match units {
            Units::Mm => Unit::Millimetre,
            Units::Inch => Unit::Inch,
        }
    }
}

/// For people or for machines.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For people.
    Text,
    /// For other software.
    Json,
}

/// A part of the catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Section {
    /// Sheet materials.
    Materials,
    /// Drawer slides.
    Slides,
    /// Aluminium angles.
    Angles,
    /// Fittings that are set into panels.
    Fittings,
    /// Fridges, tanks, batteries and their like.
    Equipment,
    /// Threads, bolts, washers and nuts.
    Fasteners,
}

/// A file with a schema.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum SchemaOf {
    /// The design file.
    Design,
    /// A vehicle file.
    Vehicle,
    /// A workshop file.
    Workshop,
    /// A workshop's stock file, as offcuts.yaml of a set is.
    Stock,
    /// The kit.json of a set.
    Kit,
    /// What `compare` says as JSON.
    Comparison,
}

/// A number within limits.
fn number(text: &str, most: f64, unit: &str) -> Result<f64, String> {
    let number = text.parse::<f64>().ok().filter(|number| (0.0..=most).contains(number));
    number.ok_or_else(|| format!("a number from 0 to {most}{unit} is needed"))
}

fn millimetres(text: &str) -> Result<f64, String> {
    number(text, 10_000.0, " mm")
}

fn seconds(text: &str) -> Result<f64, String> {
    number(text, 1e6, " seconds")
}

fn steps(text: &str) -> Result<usize, String> {
    let steps = text.parse().ok().filter(|&steps| steps <= 1_000_000_000);
    steps.ok_or_else(|| "a whole number of steps, at most 1000000000, is needed".to_owned())
}

fn jobs(text: &str) -> Result<usize, String> {
    let jobs = text.parse().ok().filter(|jobs| (1..=1000).contains(jobs));
    jobs.ok_or_else(|| "a whole number from 1 to 1000 is needed".to_owned())
}

fn stages(text: &str) -> Result<usize, String> {
    let stages = text.parse().ok().filter(|stages| (2..=20).contains(stages));
    stages.ok_or_else(|| "a whole number from 2 to 20 is needed".to_owned())
}

fn template_names() -> PossibleValuesParser {
    PossibleValuesParser::new(TEMPLATES.iter().chain([&VEHICLE]).map(|template| template.name))
}
