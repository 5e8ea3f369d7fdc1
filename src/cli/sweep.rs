//! `sweep`: one spec in many variants, side by side on all cores, to one folder with a table and a plot; and pieces of such a
//! table joined.
//!
//! Results stand in the order of the variants, whichever thread made them. Stopped by Ctrl-C, what is done is written as a piece.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use super::args::{DesignArguments, SweepArguments, SweepEffort};
use super::error::Error;
use super::input::{self, Given};
use super::progress::Count;
use super::{Output, make, publish, set, swept};
use crate::abreast;
use crate::build::{Built, Laying, build};
use crate::diag::{Findings, Sources};
use crate::export::{self, InputFile};
use crate::finished::SHOWN_DIGITS;
use crate::sheets::unwatched;
use crate::spec::{self, Input, NestingEffort, Numbers, Text};
use crate::sweep::{self, Piece, Row, Table, Variants, Vary};

/// The table's file.
const TABLE: &str = "sweep.csv";
/// The plot's file.
const PLOT: &str = "sweep.svg";
/// Most bytes of a piece: some times what the most variants take.
const MOST_BYTES: u64 = 256 << 20;
/// Exit code of a program that Ctrl-C ends, as shells know it.
const INTERRUPTED: i32 = 130;

/// What a sweep is read from.
struct Base {
    given: Given,
    followed: Followed,
}

/// Files that the spec names, read once: a file that changes meanwhile is the same for all variants.
#[derive(Default)]
struct Followed(Mutex<BTreeMap<(String, String), Opened>>);

/// Name and text of a file, or why it cannot be read.
type Opened = Result<(String, String), String>;

impl Followed {
    fn open(&self, from: &str, path: &str) -> Opened {
        let mut known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (from.to_owned(), path.to_owned());
        known.entry(key).or_insert_with(|| input::beside(Path::new(from), path)).clone()
    }

    /// Names and texts of those that could be read.
    fn files(&self) -> Vec<(String, String)> {
        let known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        known.values().filter_map(|read| read.clone().ok()).collect()
    }
}

impl Base {
    /// What a variant with this text is read from.
    fn input<'a>(&'a self, text: &'a str) -> Input<'a> {
        let input = self.given.input();
        Input { design: Text { text, ..input.design }, ..input }
    }

    /// Reads all that the spec names, whatever is wrong with it, so that the inputs are known.
    fn follow(&self) {
        let (mut findings, mut sources) = (Findings::default(), Sources::default());
        let mut open = |from: &str, path: &str| self.followed.open(from, path);
        spec::read(&mut findings, &mut sources, &self.given.input(), &mut open);
    }

    /// Names and texts of all that was read.
    fn files(&self) -> Vec<(String, String)> {
        let given = self.given.files().map(|file| (file.name.clone(), file.text.clone()));
        given.chain(self.followed.files()).collect()
    }

    /// Digits that tell this sweep from others: over what its files say, whatever they are called, and over what is varied.
    fn sweep(&self, arguments: &SweepArguments) -> String {
        let mut hashes: Vec<String> = self.files().iter().map(|(_, text)| export::text_hash(text)).collect();
        hashes.sort_unstable();
        hashes.extend(arguments.vary.iter().map(Vary::to_string));
        hashes.push(format!("{:?}", arguments.effort));
        export::inputs_hash(&hashes).chars().take(SHOWN_DIGITS).collect()
    }
}

/// Runs a sweep, or joins the pieces of one. Whether the spec can be read.
pub(super) fn sweep(output: &mut Output, arguments: &SweepArguments) -> Result<bool, Error> {
    let Some(path) = arguments.spec.as_deref().filter(|_| arguments.merge.is_empty()) else {
        return merge(output, arguments);
    };
    let given = Given::read(path, arguments.vehicle.as_deref(), arguments.workshop.as_deref())?;
    let base = Base { given, followed: Followed::default() };
    let spec = base.given.input().design;
    let (mut findings, mut sources) = (Findings::default(), Sources::default());
    let Some(numbers) = Numbers::read(&mut findings, &mut sources, spec) else {
        let built = Built { sources, findings: findings.sorted(), finished: None };
        let design = DesignArguments {
            spec: path.to_owned(),
            vehicle: None,
            workshop: None,
            format: arguments.format,
        };
        make::report(output, &design, &built, None)?;
        return Ok(false);
    };
    let variants = Variants::new(spec.text, &numbers, &arguments.vary).map_err(Error::Other)?;
    let folder = arguments.out.clone().unwrap_or_else(|| own_folder(&base, &numbers, arguments));
    // Asked now, and not after hours.
    publish::may_publish(&folder, &set::paths_of)?;
    base.follow();
    run(output, arguments, &base, &variants, &folder)?;
    Ok(true)
}

/// Where a sweep goes if nothing is said; each share of it has a folder of its own.
fn own_folder(base: &Base, numbers: &Numbers<'_>, arguments: &SweepArguments) -> PathBuf {
    let name = numbers.name().unwrap_or(base.given.input().fallback_name);
    let name = input::design_name(Path::new(&format!("{name}.yaml")));
    let share =
        arguments.shard.map_or_else(String::new, |shard| format!("-{}-of-{}", shard.number, shard.of));
    PathBuf::from("out").join(format!("{name}-sweep{share}"))
}

/// Builds the variants and writes what came of them.
fn run(
    output: &mut Output,
    arguments: &SweepArguments,
    base: &Base,
    variants: &Variants<'_>,
    folder: &Path,
) -> Result<(), Error> {
    let wanted: Vec<usize> = (0..variants.total)
        .filter(|&variant| arguments.shard.is_none_or(|shard| shard.has(variant)))
        .collect();
    let stop = stop_on_interrupt();
    let bar = Count::new(output, wanted.len());
    let effort = match arguments.effort {
        SweepEffort::Quick => NestingEffort::Quick,
        SweepEffort::Standard => NestingEffort::Standard,
    };
    let one = |variant: usize| {
        let values = variants.values(variant);
        let text = variants.text(&values);
        let mut open = |from: &str, path: &str| base.followed.open(from, path);
        let built = || build(&base.input(&text), &mut open, Laying::With(effort), &mut unwatched);
        let cells = sweep::measured(built);
        bar.one_more();
        Row { variant, values, cells }
    };
    let threads = arguments.jobs.unwrap_or_else(abreast::cores);
    let rows = abreast::until(&stop, threads, wanted.len(), |i| one(wanted[i]));
    bar.clear();
    let done = rows.len();
    let piece = (done < variants.total || arguments.shard.is_some())
        .then(|| Piece { total: variants.total, sweep: base.sweep(arguments) });
    let table = Table { varied: variants.headings(), piece, rows };
    let inputs = base.files();
    if done == 0 && done < wanted.len() {
        return Err(Error::Other("stopped before a variant was done; nothing is written".to_owned()));
    }
    write(output, arguments, (base.given.input().design.name, &table), &inputs, folder)?;
    if done < wanted.len() {
        return Err(Error::Other(format!(
            "stopped: {done} of {} variants are done; {TABLE} is a piece, to be merged with the rest",
            wanted.len()
        )));
    }
    Ok(())
}

/// Joins pieces to the whole.
fn merge(output: &mut Output, arguments: &SweepArguments) -> Result<bool, Error> {
    let mut pieces = Vec::new();
    let mut inputs = Vec::new();
    for path in &arguments.merge {
        let file = if path.is_dir() { path.join(TABLE) } else { path.clone() };
        let name = file.display().to_string();
        let text = input::bytes(&file, MOST_BYTES);
        let text =
            text.and_then(|bytes| String::from_utf8(bytes).map_err(|_| "it is not UTF-8 text".to_owned()));
        let text = text.map_err(|why| Error::Other(format!("cannot read `{name}`: {why}")))?;
        let table = Table::read_piece(&text).map_err(|why| {
            Error::Other(format!("cannot merge `{name}`: {why}; give what `sweep --shard` wrote"))
        })?;
        inputs.push((name.clone(), text));
        pieces.push((name, table));
    }
    let table = sweep::merge(pieces).map_err(Error::Other)?;
    let folder = arguments.out.clone().unwrap_or_else(|| PathBuf::from("out").join("sweep"));
    write(output, arguments, ("merged", &table), &inputs, &folder)?;
    Ok(true)
}

/// Writes the folder, whole or not at all, and says what is in it. A piece has no plot, nor has what needs more than paper.
fn write(
    output: &mut Output,
    arguments: &SweepArguments,
    (name, table): (&str, &Table),
    inputs: &[(String, String)],
    folder: &Path,
) -> Result<(), Error> {
    let mut files = BTreeMap::from([(TABLE.to_owned(), table.csv().into_bytes())]);
    let plot = if table.piece.is_some() { None } else { sweep::plot(table) };
    let has_plot = plot.is_some();
    files.extend(plot.map(|svg| (PLOT.to_owned(), svg.into_bytes())));
    let hashed: Vec<(&str, String)> =
        inputs.iter().map(|(path, text)| (path.as_str(), export::sha256(text.as_bytes()))).collect();
    let inputs: Vec<InputFile<'_>> = hashed.iter().map(|(path, sha256)| InputFile { path, sha256 }).collect();
    let bundle = export::sweep_bundle(files, &inputs);
    publish::publish(folder, &bundle.files, &set::paths_of)?;
    let told = swept::Told { name, table, folder, files: bundle.files.len(), has_plot };
    output.print(&swept::say(&told, arguments.format))
}

/// Set once Ctrl-C is pressed. A second one ends the program at once.
fn stop_on_interrupt() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    let pressed = Arc::clone(&stop);
    let handler = move || {
        if pressed.swap(true, Ordering::Relaxed) {
            std::process::exit(INTERRUPTED);
        }
    };
    // Without a handler Ctrl-C ends the program, and nothing is written.
    ctrlc::set_handler(handler).ok();
    stop
}
