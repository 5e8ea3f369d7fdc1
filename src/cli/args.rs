//! What can be typed, with its help. Nothing is looked up or opened here.

use std::path::PathBuf;

use clap::builder::PossibleValuesParser;
use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

use super::new::{TEMPLATES, VEHICLE};

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
  baywright explain outside-bay    say what a finding means

Exit codes: 0 done, 1 the design has errors (nothing is written), 2 could not run."
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
#[derive(Args, Debug)]
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
    /// The kit.json of a set.
    Kit,
}

fn template_names() -> PossibleValuesParser {
    PossibleValuesParser::new(TEMPLATES.iter().chain([&VEHICLE]).map(|template| template.name))
}
