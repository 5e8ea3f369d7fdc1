//! `compare`: specs, folders and kit.json files to what differs between them. Writes nothing but the page that is asked for.

use std::path::{Path, PathBuf};

use serde_json::json;

use super::args::{DesignArguments, Format};
use super::error::Error;
use super::summary::{self, Outcome};
use super::{Output, compared, input, make, publish};
use crate::compare::{self, Given};
use crate::export::{KIT, report};

/// Most bytes of a kit.json: many times what the largest kit has.
const MOST_BYTES: u64 = 256 << 20;

/// A kit, or a design that is none because of its errors.
enum Read {
    Kit(Box<Given>),
    Faulty(DesignArguments, Box<make::Run>),
}

/// Compares kits with the first of them. Whether all of them are kits.
pub(super) fn compare(
    output: &mut Output,
    kits: &[PathBuf],
    (all, page): (bool, Option<&Path>),
    format: Format,
) -> Result<bool, Error> {
    // Asked before anything is built.
    page.map(may_replace).transpose()?;
    let mut given = Vec::new();
    let mut faulty = Vec::new();
    for path in kits {
        match read(output, path, format)? {
            Read::Kit(kit) => given.push(*kit),
            Read::Faulty(design, run) => faulty.push((design, run)),
        }
    }
    if !faulty.is_empty() {
        tell(output, &faulty, format)?;
        return Ok(false);
    }
    let compared = compare::compare(&given);
    if let Some(file) = page {
        publish::file(file, compared::page(&compared, &given).as_bytes())?;
        output.tell(&format!("written to {}\n", file.display()));
    }
    let text = match format {
        Format::Text => compared::text(&compared, all),
        Format::Json => format!("{:#}\n", serde_json::to_value(&compared).unwrap_or_default()),
    };
    output.print(&text)?;
    Ok(true)
}

/// Whether a page may be written there: nothing stands there, or a page of an earlier comparison.
fn may_replace(file: &Path) -> Result<(), Error> {
    let said = |why: &str| Error::Other(format!("cannot write `{}`: {why}", file.display()));
    if !file.exists() {
        return Ok(());
    }
    let text = input::bytes(file, MOST_BYTES).map_err(|why| said(&why))?;
    let ours = std::str::from_utf8(&text).is_ok_and(report::is_comparison);
    if ours { Ok(()) } else { Err(said("it is no page of `baywright compare`, and would be lost")) }
}

/// The kit of a folder or kit.json, or of a spec, which is built. Both come from the same text, so that there is one way.
fn read(output: &Output, path: &Path, format: Format) -> Result<Read, Error> {
    let of = path.display().to_string();
    let is_json = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json"));
    if !path.is_dir() && !is_json {
        let design = DesignArguments { spec: path.to_owned(), vehicle: None, workshop: None, format };
        let run = make::run(output, &design)?;
        let Some(finished) = &run.built.finished else { return Ok(Read::Faulty(design, Box::new(run))) };
        let bundle = make::sound_bundle(finished, &run)?;
        return kit(of, bundle.get(KIT).unwrap_or_default());
    }
    let file = if path.is_dir() { path.join(KIT) } else { path.to_owned() };
    if path.is_dir() && !file.is_file() {
        return Err(Error::Other(format!(
            "cannot compare `{of}`: it holds no {KIT}; give a folder that `make` wrote"
        )));
    }
    let text = input::bytes(&file, MOST_BYTES);
    kit(of.clone(), &text.map_err(|why| Error::Other(format!("cannot read `{of}`: {why}")))?)
}

fn kit(of: String, text: &[u8]) -> Result<Read, Error> {
    match compare::read(text) {
        Ok(kit) => Ok(Read::Kit(Box::new(Given { of, kit }))),
        Err(why) => Err(Error::Other(format!("cannot compare `{of}`: {why}"))),
    }
}

/// The findings of designs with errors, as `check` tells them.
fn tell(
    output: &mut Output,
    faulty: &[(DesignArguments, Box<make::Run>)],
    format: Format,
) -> Result<(), Error> {
    let mut told = Vec::new();
    for (design, run) in faulty {
        make::report_findings(output, format, &run.built);
        let spec = design.spec.display().to_string();
        let outcome = Outcome { spec: &spec, built: &run.built, written: None };
        match format {
            Format::Text => {
                let counts = summary::counts_in_words(&run.built.findings);
                output
                    .print(&format!("{spec}: {counts}; nothing is compared until the errors are gone\n"))?;
            }
            Format::Json => told.push(summary::json(&outcome)),
        }
    }
    if format == Format::Json {
        output.print(&format!("{:#}\n", json!({"faulty": told})))?;
    }
    Ok(())
}
