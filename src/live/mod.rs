//! What the live page is told of a kit: its model, parts, sheets and figures, and what changed since the last good state.
//!
//! Takes finished designs, gives files and JSON. Opens nothing and knows nothing of servers; `cli/live` does.

mod changes;
mod figures;
mod page;
mod parts;
mod sheets;
#[cfg(test)]
mod tests;

pub(crate) use page::page_file;

use crate::abreast;
use crate::build::Laying;
use crate::diag::{self, Finding, Sources};
pub(crate) use crate::export::model3d::glb::Meshes;
use crate::export::model3d::{self, Scene};
use crate::export::{self, picture};
use crate::finished::Finished;
use changes::{Changes, Seen};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock, Mutex, PoisonError};

/// Files that the page asks for, by path.
pub(crate) type Files = BTreeMap<String, Arc<File>>;

/// Folder of what is made when it is asked for, called by what it is made from.
pub(crate) const ON_REQUEST: &str = "/fine/";

/// What is in a file; some are made when they are asked for.
pub(crate) type File = LazyLock<Vec<u8>, Box<dyn FnOnce() -> Vec<u8> + Send>>;

/// Triangles of shapes that earlier states had: they save time and change nothing else.
#[derive(Debug)]
pub(crate) struct Known {
    plain: Meshes,
    fine: Arc<Mutex<Meshes>>,
}

impl Default for Known {
    fn default() -> Self {
        Known { plain: Meshes::coarse(), fine: Arc::new(Mutex::new(Meshes::coarse())) }
    }
}

/// A kit as the page shows it.
#[derive(Debug)]
pub(crate) struct Shown {
    /// What stands under `kit` in the state.
    pub(crate) json: Value,
    /// Its name and which state of it this is.
    pub(crate) head: (String, String),
    /// Its model, plain and fine, its bay and its view from the tailgate.
    pub(crate) files: Files,
    /// What the next state is held against.
    seen: Seen,
}

/// A finished kit, with what changed since `before`, the last good one from other files.
pub(crate) fn shown(
    finished: &Arc<Finished>,
    laying: Laying,
    before: Option<&Shown>,
    known: &mut Known,
) -> Shown {
    let scene = Scene::plain(finished);
    let earlier = before.map(|before| &before.seen);
    // Somebody waits for this: what takes longest beside all the rest.
    let rest = || {
        let vehicle = &finished.design.vehicle;
        let bay = file("bay", "glb", model3d::bay::write(&vehicle.bay, &finished.design.clearances));
        let front = file("front", "svg", picture::from_tailgate(finished).into_bytes());
        let seen = Seen::of(finished, figures::figures(finished));
        let changes = Changes::between(earlier, &seen);
        (bay, front, seen, changes)
    };
    let plain = &mut known.plain;
    let model = || file("model", "glb", model3d::glb::write(&scene, plain));
    let ((bay, front, seen, changes), model) = abreast::both(rest, model);
    let fine = fine(finished, known);
    let json = json!({
        "nesting": if laying == Laying::AsAsked { "done" } else { "improving" },
        "model": model.0,
        "fine": fine.0,
        "bay": bay.0,
        "front": front.0,
        "parts": parts::parts(finished, &scene, &changes),
        "gone": changes.gone,
        "sheets": if laying == Laying::None { Value::Null } else { sheets::sheets(finished, &changes) },
        "figures": figures::json(&seen.figures, earlier.map(|earlier| &earlier.figures)),
    });
    let head = (finished.design.name.value.clone(), finished.edition.words());
    Shown { json, head, files: Files::from([model, fine, bay, front]), seen }
}

/// What is in a file, under a path that says so.
fn file(folder: &str, ending: &str, bytes: Vec<u8>) -> (String, Arc<File>) {
    let path = format!("/{folder}/{}.{ending}", export::sha256(&bytes));
    let file = File::new(Box::new(|| bytes));
    LazyLock::force(&file);
    (path, Arc::new(file))
}

/// The model with every hole, made when somebody looks so closely: under a path that says from which inputs.
fn fine(finished: &Arc<Finished>, known: &Known) -> (String, Arc<File>) {
    let path = format!("{ON_REQUEST}{}.glb", finished.edition.inputs);
    let (finished, known) = (Arc::clone(finished), Arc::clone(&known.fine));
    let make = move || {
        let known: &mut Meshes = &mut known.lock().unwrap_or_else(PoisonError::into_inner);
        model3d::glb::write(&Scene::of(&finished), known)
    };
    (path, Arc::new(File::new(Box::new(make))))
}

/// Findings as the page lists them: as other software gets them, with the line that each is about; what is accepted comes as
/// that, with its reason.
pub(crate) fn findings(findings: &[Finding], sources: &Sources) -> Value {
    let mut told = diag::json(findings, sources);
    for (told, finding) in told.as_array_mut().into_iter().flatten().zip(findings) {
        let (line, _) = sources.line_and_column(finding.at);
        let text = sources.text(finding.at.source);
        told["excerpt"] = json!(text.lines().nth(line.saturating_sub(1)).unwrap_or(""));
        if let Some(reason) = &finding.accepted {
            told["severity"] = json!("accepted");
            told["help"] = json!(reason);
        }
    }
    told
}

/// A fault that is not in the design: a file that cannot be read, for one.
pub(crate) fn fault(file: &str, message: &str) -> Value {
    json!([{
        "severity": "error", "rule": "", "message": message, "help": Value::Null,
        "file": file, "line": 1, "column": 1, "excerpt": "",
    }])
}
