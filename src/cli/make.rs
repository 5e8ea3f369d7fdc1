//! `make` and `check`: a design from its files to a set on disk, or to its findings only.

use std::path::{Path, PathBuf};

use super::args::{DesignArguments, Format};
use super::error::Error;
use super::input::{self, Given, TextFile};
use super::progress::Bar;
use super::summary::{self, Outcome};
use super::{Output, publish, set};
use crate::build::{Built, Laying, build};
use crate::diag;
use crate::export::{self, Bundle, InputFile};
use crate::finished::Finished;
use crate::invariants;
use crate::sheets::Watch;

/// What a design is read from, and what came of it.
pub(super) struct Run {
    /// Every file that was read, in that order.
    inputs: Vec<TextFile>,
    /// What was found and made.
    pub(super) built: Built,
}

/// Makes a set. Whether the design is without errors.
pub(super) fn make(output: &mut Output, design: &DesignArguments, out: Option<&Path>) -> Result<bool, Error> {
    let run = run(output, design)?;
    let Some(finished) = &run.built.finished else {
        report(output, design, &run.built, None)?;
        return Ok(false);
    };
    match written(finished, &run, out) {
        Ok((folder, files)) => report(output, design, &run.built, Some((&folder, files)))?,
        Err(error @ Error::Publish(_)) => {
            // What was found is worth reading even if the disk is full.
            report_findings(output, design.format, &run.built);
            return Err(error);
        }
        Err(error) => return Err(error),
    }
    Ok(true)
}

/// Writes the set of a finished design; gives its folder and how many files are in it.
pub(super) fn written(finished: &Finished, run: &Run, out: Option<&Path>) -> Result<(PathBuf, usize), Error> {
    let files = sound_bundle(finished, run)?.files;
    let folder = out.map_or_else(|| PathBuf::from("out").join(&finished.design.name.value), Path::to_owned);
    publish::publish(&folder, &files, &set::paths_of)?;
    Ok((folder, files.len()))
}

/// Checks a design. Whether it is without errors.
pub(super) fn check(output: &mut Output, design: &DesignArguments) -> Result<bool, Error> {
    let run = run(output, design)?;
    if let Some(finished) = &run.built.finished {
        sound_bundle(finished, &run)?;
    }
    report(output, design, &run.built, None)?;
    Ok(run.built.finished.is_some())
}

/// The files of a finished design, once everything that must hold does.
pub(super) fn sound_bundle(finished: &Finished, run: &Run) -> Result<Bundle, Error> {
    let hashes: Vec<String> = run.inputs.iter().map(|file| export::sha256(file.text.as_bytes())).collect();
    let named = run.inputs.iter().zip(&hashes);
    let inputs: Vec<InputFile<'_>> =
        named.map(|(file, sha256)| InputFile { path: &file.name, sha256 }).collect();
    let bundle = export::bundle(finished, &run.built.findings, &run.built.sources, &inputs);
    let broken = invariants::broken(finished, &bundle);
    if broken.is_empty() { Ok(bundle) } else { Err(Error::Broken(broken)) }
}

/// Reads and builds a design, telling how far the nesting is.
pub(super) fn run(output: &Output, arguments: &DesignArguments) -> Result<Run, Error> {
    let mut bar = Bar::new(output);
    let mut show = |material: &str, progress| bar.show(material, &progress);
    let run = read_and_build(arguments, Laying::AsAsked, &mut show, &mut |_| ());
    bar.clear();
    run
}

/// Reads and builds a design. `tried` is told the path of every file before it is read.
pub(super) fn read_and_build(
    arguments: &DesignArguments,
    laying: Laying,
    watch: &mut Watch<'_>,
    tried: &mut dyn FnMut(&Path),
) -> Result<Run, Error> {
    let DesignArguments { spec, vehicle, workshop, .. } = arguments;
    [Some(spec), vehicle.as_ref(), workshop.as_ref()].into_iter().flatten().for_each(|path| tried(path));
    let given = Given::read(spec, vehicle.as_deref(), workshop.as_deref())?;
    let mut followed = Vec::new();
    let mut open = |from: &str, path: &str| {
        tried(&input::path_beside(Path::new(from), path));
        let (name, text) = input::beside(Path::new(from), path)?;
        followed.push(TextFile { name: name.clone(), text: text.clone() });
        Ok((name, text))
    };
    let built = build(&given.input(), &mut open, laying, watch);
    let inputs = given.into_files().chain(followed).collect();
    Ok(Run { inputs, built })
}

/// Findings and summary, for people or for machines.
pub(super) fn report(
    output: &mut Output,
    design: &DesignArguments,
    built: &Built,
    written: Option<(&Path, usize)>,
) -> Result<(), Error> {
    report_findings(output, design.format, built);
    let spec = design.spec.display().to_string();
    let outcome = Outcome { spec: &spec, built, written };
    match design.format {
        Format::Text => output.print(&summary::text(&outcome)),
        Format::Json => output.print(&format!("{:#}\n", summary::json(&outcome))),
    }
}

/// The findings for people. Machines get them with the summary.
pub(super) fn report_findings(output: &mut Output, format: Format, built: &Built) {
    if format == Format::Text {
        output.tell(&diag::human(&built.findings, &built.sources, output.colour));
    }
}
