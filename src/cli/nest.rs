//! `nest`: a cut list or a folder of drawings to sheets on disk, without a kit.

use std::path::{Path, PathBuf};
use std::time::Duration;

use serde_json::{Value, json};

use super::args::{Format, NestArguments};
use super::error::Error;
use super::progress::Bar;
use super::summary::{counts_in_words, group_json, sheets};
use super::table::counted;
use super::{Output, input, publish, set};
use crate::diag::{self, At, Counts, Finding, Findings, Sources, Span};
use crate::export::{self, InputFile};
use crate::import::cut_list::{self, Body, Grain, MOST_PARTS, Row};
use crate::import::drawing::{self, MOST_BYTES, Reading, Unit};
use crate::invariants;
use crate::loose::{self, LooseParts, Wanted};
use crate::nest::{Effort, Stock};
use crate::number::decimal;
use crate::sheets;
use crate::spec::{self, HoldingMethod, Text, Workshop};

/// A size of sheet as typed: `2440x1220`, with how many there are and what one costs: `2440x1220*3@58.50`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sheet(Stock);

/// mm. Longest side of a sheet.
const LONGEST_SHEET: f64 = 100_000.0;

impl std::str::FromStr for Sheet {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let shape = "a sheet is LENGTHxWIDTH in mm, e.g. 2440x1220, if need be with *QUANTITY and @PRICE: 2440x1220*3@58.50";
        let wrong = |what: &str| format!("{what}; {shape}");
        let (rest, price) = text.split_once('@').map_or((text, None), |(rest, price)| (rest, Some(price)));
        let (size, quantity) = rest.split_once('*').map_or((rest, None), |(size, n)| (size, Some(n)));
        let (length, width) =
            size.split_once(['x', 'X']).ok_or_else(|| wrong("there is no `x` in the size"))?;
        let plain = |text: &str| {
            let number = text.trim().parse::<f64>().ok().filter(|number| number.is_finite());
            number.filter(|_| text.trim().bytes().all(|byte| byte.is_ascii_digit() || byte == b'.'))
        };
        let side = |text: &str| {
            let number = plain(text).filter(|&mm| mm > 0.0 && mm <= LONGEST_SHEET);
            number.ok_or_else(|| wrong(&format!("`{text}` is no length from 0 to {LONGEST_SHEET} mm")))
        };
        let (length, width) = (side(length)?, side(width)?);
        let quantity = quantity.map(|n| match n.trim().parse::<usize>() {
            Ok(n) if (1..=MOST_PARTS).contains(&n) => Ok(n),
            _ => Err(wrong(&format!("`{n}` is no quantity from 1 to {MOST_PARTS}"))),
        });
        let price = price.map(|price| plain(price).ok_or_else(|| wrong(&format!("`{price}` is no price"))));
        let name = format!("{}x{}", decimal(length, 3), decimal(width, 3));
        let (quantity, price) = (quantity.transpose()?, price.transpose()?);
        Ok(Sheet(Stock { name, length, width, price, quantity, ..Stock::default() }))
    }
}

/// What was read and found so far.
#[derive(Default)]
struct Read {
    findings: Findings,
    sources: Sources,
    /// Path and hash of every file.
    inputs: Vec<(String, String)>,
}

/// Nests parts. Whether there was no error in them.
pub(super) fn nest(output: &mut Output, arguments: &NestArguments) -> Result<bool, Error> {
    let mut read = Read::default();
    let name = input::design_name(&arguments.parts);
    let mut bar = Bar::new(output);
    let laid = lay(&mut read, arguments, &name, &mut bar);
    bar.clear();
    let laid = laid?;
    let inputs: Vec<InputFile<'_>> =
        read.inputs.iter().map(|(path, sha256)| InputFile { path, sha256 }).collect();
    let findings = read.findings.sorted();
    let folder = arguments.out.clone().unwrap_or_else(|| PathBuf::from("out").join(&name));
    let mut written = None;
    if let Some(loose) = &laid {
        let bundle = export::loose_bundle(loose, &findings, &read.sources, &inputs);
        let broken = invariants::broken_loose(loose, &bundle);
        if !broken.is_empty() {
            return Err(Error::Broken(broken));
        }
        publish::publish(&folder, &bundle.files, &set::paths_of)?;
        written = Some((folder.as_path(), bundle.files.len()));
    }
    if arguments.format == Format::Text {
        output.tell(&diag::human(&findings, &read.sources, output.colour));
        output.print(&text(arguments, laid.as_ref(), &findings, written))?;
    } else {
        let json = machine(arguments, laid.as_ref(), (&findings, &read.sources), written);
        output.print(&format!("{json:#}\n"))?;
    }
    Ok(laid.is_some())
}

fn lay(
    read: &mut Read,
    arguments: &NestArguments,
    name: &str,
    bar: &mut Bar,
) -> Result<Option<LooseParts>, Error> {
    let Some(workshop) = workshop(read, arguments)? else { return Ok(None) };
    let workshop = as_typed(workshop, arguments)?;
    let stock: Vec<Stock> = arguments.sheet.iter().map(|Sheet(stock)| stock.clone()).collect();
    room(&stock, &workshop)?;
    let Some((rows, folder)) = rows(read, &arguments.parts)? else { return Ok(None) };
    let effort = |parts: usize| effort(arguments, parts);
    let wanted = Wanted {
        name,
        workshop,
        stock,
        effort: &effort,
        turn: !arguments.no_turn,
        reading: Reading { unit: arguments.units.map(Unit::from), layers: &arguments.layer },
    };
    let Read { findings, inputs, .. } = read;
    let mut open = |file: &str| {
        let path = folder.join(file);
        let bytes = input::bytes(&path, MOST_BYTES as u64)?;
        inputs.push((path.display().to_string(), export::sha256(&bytes)));
        Ok(bytes)
    };
    let laid = loose::lay(findings, rows, &mut open, wanted, &mut |material, progress| {
        bar.show(material, &progress)
    });
    laid.map(skin_known).transpose()
}

/// A skin is left of a thickness, which has to be known.
fn skin_known(loose: LooseParts) -> Result<LooseParts, Error> {
    let skin = loose.workshop.holding.method.value == HoldingMethod::Skin;
    match loose.groups.iter().find(|group| skin && group.material.thickness.is_none()) {
        None => Ok(loose),
        Some(group) => Err(Error::Other(format!(
            "the workshop holds small parts by a skin, and nobody says how thick `{}` is; give the list a column `thickness`",
            group.material.id
        ))),
    }
}

/// The workshop file, or one that says nothing. `None` if it has errors.
fn workshop(read: &mut Read, arguments: &NestArguments) -> Result<Option<Workshop>, Error> {
    let file = arguments.workshop.as_deref().map(input::read).transpose()?;
    let text = match &file {
        Some(file) => {
            read.inputs.push((file.name.clone(), export::sha256(file.text.as_bytes())));
            Text { name: &file.name, text: &file.text }
        }
        None => Text { name: "defaults", text: "{}" },
    };
    Ok(spec::read_workshop(&mut read.findings, &mut read.sources, text))
}

/// The workshop with what is typed in place of what it says.
fn as_typed(mut workshop: Workshop, arguments: &NestArguments) -> Result<Workshop, Error> {
    if arguments.saw {
        workshop.cutting.value = spec::Cutting::Saw;
    }
    let saw = workshop.cutting.value == spec::Cutting::Saw;
    let refused = match (saw, arguments.gap, arguments.kerf.is_some() || arguments.stages.is_some()) {
        (true, Some(_), _) => Some("--gap is for a router; between sawn parts the blade takes its --kerf"),
        (false, _, true) => Some("--kerf and --stages are for a saw; say --saw"),
        _ => None,
    };
    if let Some(refused) = refused {
        return Err(Error::Other(refused.to_owned()));
    }
    if let Some(gap) = arguments.gap {
        // No wider tool goes through it.
        let tool = workshop.tool.diameter.value.min(gap);
        (workshop.tool.diameter.value, workshop.tool.margin.value) = (tool, gap - tool);
    }
    workshop.saw.kerf.value = arguments.kerf.unwrap_or(workshop.saw.kerf.value);
    let stages = arguments.stages.and_then(|stages| u32::try_from(stages).ok());
    workshop.saw.stages.value = stages.unwrap_or(workshop.saw.stages.value);
    workshop.trim.value = arguments.trim.unwrap_or(workshop.trim.value);
    Ok(workshop)
}

/// Each sheet must have room for something.
fn room(stock: &[Stock], workshop: &Workshop) -> Result<(), Error> {
    let (gap, trim) = (sheets::gap(workshop), workshop.trim.value);
    for Stock { name, length, width, .. } in stock {
        let (gap_told, trim_told) = (decimal(gap, 3), decimal(trim, 3));
        if 2.0 * trim >= length.min(*width) {
            let told =
                format!("a trim of {trim_told} mm along every edge leaves nothing of a sheet of {name}");
            return Err(Error::Other(told));
        }
        if gap >= length.min(*width) {
            return Err(Error::Other(format!("a gap of {gap_told} mm is larger than a sheet of {name}")));
        }
    }
    Ok(())
}

fn effort(arguments: &NestArguments, parts: usize) -> Effort {
    let ordinary = Effort::ordinary(parts);
    Effort {
        steps: if arguments.quick { 0 } else { arguments.effort.unwrap_or(ordinary.steps) },
        seed: arguments.seed.unwrap_or(ordinary.seed),
        time_limit: arguments.time_limit.map(Duration::from_secs_f64),
        ..ordinary
    }
}

/// The rows of a list or one for each drawing of a folder, and the folder in which drawings are looked for. `None` if
/// the list has errors.
fn rows(read: &mut Read, parts: &Path) -> Result<Option<(Vec<Row>, PathBuf)>, Error> {
    let folder = || parts.parent().map_or_else(PathBuf::new, Path::to_owned);
    if parts.is_dir() {
        return Ok(Some((drawings(read, parts)?, parts.to_owned())));
    }
    if drawing::is_named(parts) {
        let name = parts.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        return Ok(Some((vec![row(read, parts, &name)], folder())));
    }
    let file = input::read(parts)?;
    read.inputs.push((file.name.clone(), export::sha256(file.text.as_bytes())));
    let source = read.sources.add(&file.name, &file.text);
    Ok(cut_list::read(&mut read.findings, source, &file.text).map(|rows| (rows, folder())))
}

/// One part for each drawing, by name.
fn drawings(read: &mut Read, folder: &Path) -> Result<Vec<Row>, Error> {
    let failed = |error: std::io::Error| Error::Other(format!("cannot read `{}`: {error}", folder.display()));
    let mut names = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(failed)? {
        let path = entry.map_err(failed)?.path();
        if drawing::is_named(&path) && !path.is_dir() {
            names.extend(path.file_name().map(|name| name.to_string_lossy().into_owned()));
        }
    }
    names.sort();
    if names.is_empty() {
        return Err(Error::Other(format!("there is no DXF or SVG file in `{}`", folder.display())));
    }
    if names.len() > MOST_PARTS {
        let n = names.len();
        return Err(Error::Other(format!(
            "`{}` has {n} drawings; at most {MOST_PARTS} parts are nested",
            folder.display()
        )));
    }
    Ok(names.iter().map(|name| row(read, &folder.join(name), name)).collect())
}

/// A drawing as a part of its own, once.
fn row(read: &mut Read, path: &Path, file: &str) -> Row {
    let source = read.sources.add(path.display().to_string(), "");
    let span = Span { source, ..Span::default() };
    let name = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    Row {
        name: At::new(name.to_owned(), span),
        quantity: 1,
        body: Body::Drawing(At::new(file.to_owned(), span)),
        grain: Grain::Free,
        turn: true,
        either_face: false,
        material: None,
        thickness: None,
    }
}

fn text(
    arguments: &NestArguments,
    laid: Option<&LooseParts>,
    findings: &[Finding],
    written: Option<(&Path, usize)>,
) -> String {
    let counts = counts_in_words(findings);
    let Some(loose) = laid else {
        return format!(
            "{}: {counts}; nothing is written until the errors are gone\n",
            arguments.parts.display()
        );
    };
    let pieces: usize = loose.parts.iter().map(|part| part.quantity).sum();
    let mut lines = vec![format!("{}: {}", loose.name, counted(pieces, "part", "parts"))];
    lines.extend(loose.groups.iter().map(|group| format!("  {}", sheets(group, &loose.workshop))));
    lines.push(counts);
    if let Some((folder, n)) = written {
        lines.push(format!("written to {} ({})", folder.display(), counted(n, "file", "files")));
    }
    lines.join("\n") + "\n"
}

fn machine(
    arguments: &NestArguments,
    laid: Option<&LooseParts>,
    (findings, sources): (&[Finding], &Sources),
    written: Option<(&Path, usize)>,
) -> Value {
    let counts = Counts::of(findings);
    let parts = |loose: &LooseParts| {
        json!({
            "name": loose.name,
            "parts": loose.parts.iter().map(|part| part.quantity).sum::<usize>(),
            "materials": loose.groups.iter().map(group_json).collect::<Vec<_>>(),
        })
    };
    json!({
        "parts": arguments.parts.display().to_string(),
        "errors": counts.errors,
        "warnings": counts.warnings,
        "notes": counts.notes,
        "written": written.map(|(folder, _)| folder.display().to_string()),
        "sheets": laid.map(parts),
        "findings": diag::json(findings, sources),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_is_read_with_its_quantity_and_price() {
        let read = |text: &str| {
            text.parse::<Sheet>().map(|Sheet(stock)| (stock.length, stock.width, stock.quantity, stock.price))
        };
        assert_eq!(read("2440x1220"), Ok((2440.0, 1220.0, None, None)));
        assert_eq!(read("2440.5X1220*3@58.50"), Ok((2440.5, 1220.0, Some(3), Some(58.5))));
        assert_eq!(read("1200x600@0"), Ok((1200.0, 600.0, None, Some(0.0))));
        for wrong in [
            "",
            "2440",
            "x",
            "0x5",
            "2440x-1",
            "infx1",
            "1e9x1",
            "1x1*0",
            "1x1*1000000",
            "1x1*",
            "1x1@",
            "1x1@-2",
            "1x1x1",
        ] {
            assert!(read(wrong).is_err(), "{wrong}");
        }
        assert!(read("2440x1,220").unwrap_err().contains("`1,220` is no length"));
    }
}
