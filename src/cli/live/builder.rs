//! Builds the newest state of the files, and nothing older.
//!
//! Three rounds: without sheets, which is quick; with sheets laid at little effort; with the effort that the design asks for.
//! A change of files ends a round at once and begins anew.

use super::super::args::DesignArguments;
use super::super::make;
use super::board::Board;
use super::watch::Watch;
use crate::build::Laying;
use crate::finished::Finished;
use crate::live::{self, Shown};
use crate::spec::NestingEffort;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::ops::ControlFlow;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

/// Editors write in several steps: so long nothing more must happen before what came of the files is put up.
const QUIET: Duration = Duration::from_millis(12);
/// How often times and sizes of files are looked at where nothing is told.
const LOOK: Duration = Duration::from_millis(700);

/// How long cores are left to the browser between two rounds, at least and at most; in between it is twice as long as the round
/// took, since where that is slow the browser is, too.
const REST: [Duration; 2] = [Duration::from_millis(150), Duration::from_secs(1)];

/// Rounds from quick to thorough.
const ROUNDS: [Laying; 3] = [Laying::None, Laying::With(NestingEffort::Quick), Laying::AsAsked];

/// What is known of the design so far.
struct Known {
    /// The kit that the page shows, and the state of the inputs that it was made from.
    good: Option<(Shown, String)>,
    /// The last good kit from other inputs: what changes are held against.
    before: Option<Shown>,
    /// Triangles of its shapes.
    shapes: live::Known,
}

/// Follows the files for ever.
pub(super) fn follow(board: &Board, design: &DesignArguments, mut watch: Watch) {
    let mut known = Known { good: None, before: None, shapes: live::Known::default() };
    let mut seen = 0;
    loop {
        let change = next_change(board, &watch, seen);
        seen = change.seen;
        for laying in ROUNDS {
            let began = Instant::now();
            let Some(go_on) = round(board, design, (laying, &change), &mut watch, &mut known) else { break };
            // The browser draws what it was told before all cores are taken again.
            let rest = (2 * began.elapsed()).clamp(REST[0], REST[1]);
            if !go_on || board.wait_for_change(seen, rest) != seen {
                break;
            }
        }
    }
}

/// Files that have changed.
struct Change {
    /// How often they have.
    seen: u64,
    at: Instant,
}

impl Change {
    /// Whether it is still the newest once it has been quiet for long enough. The first stages of a round go by meanwhile.
    fn is_settled(&self, board: &Board) -> bool {
        board.wait_for_change(self.seen, QUIET.saturating_sub(self.at.elapsed())) == self.seen
    }
}

/// Waits for a change.
fn next_change(board: &Board, watch: &Watch, seen: u64) -> Change {
    let mut now = board.changes();
    while now == seen {
        now = board.wait_for_change(seen, LOOK);
        if now == seen && watch.differs() {
            board.changed();
        }
    }
    Change { seen: now, at: Instant::now() }
}

/// One round. Whether another is worth while; nothing if files changed meanwhile.
fn round(
    board: &Board,
    design: &DesignArguments,
    (laying, change): (Laying, &Change),
    watch: &mut Watch,
    known: &mut Known,
) -> Option<bool> {
    let is_newest = || board.changes() == change.seen;
    let mut tried = BTreeSet::new();
    let mut stop = |_: &str, _| if is_newest() { ControlFlow::Continue(()) } else { ControlFlow::Break(()) };
    let run = make::read_and_build(design, laying, &mut stop, &mut |path| {
        tried.insert(path.to_owned());
    });
    follow_files(watch, &tried, laying);
    if !change.is_settled(board) {
        return None;
    }
    let spec = design.spec.display().to_string();
    let (findings, good) = match run {
        Ok(mut run) => {
            let finished = run.built.finished.take().map(Arc::new);
            (live::findings(&run.built.findings, &run.built.sources), keep(known, finished.as_ref(), laying))
        }
        Err(error) => (live::fault(&spec, &error.to_string()), false),
    };
    put_up(board, known, &spec, &findings, good);
    Some(good)
}

/// Files are followed once a run has said which they are.
fn follow_files(watch: &mut Watch, tried: &BTreeSet<PathBuf>, laying: Laying) {
    if laying == Laying::None {
        watch.follow(tried);
    }
}

/// Keeps a kit as the one that is shown. Whether there is one.
fn keep(known: &mut Known, finished: Option<&Arc<Finished>>, laying: Laying) -> bool {
    let Some(finished) = finished else { return false };
    let inputs = &finished.edition.inputs;
    if known.good.as_ref().is_none_or(|(_, earlier)| earlier != inputs) {
        known.before = known.good.take().map(|(shown, _)| shown);
    }
    let shown = live::shown(finished, laying, known.before.as_ref(), &mut known.shapes);
    known.good = Some((shown, inputs.clone()));
    true
}

fn put_up(board: &Board, known: &Known, spec: &str, findings: &Value, good: bool) {
    let shown = known.good.as_ref().map(|(shown, _)| shown);
    let files = shown.map(|shown| shown.files.clone()).unwrap_or_default();
    let (name, edition) = shown.map(|shown| shown.head.clone()).unwrap_or_default();
    let kit = shown.map_or(Value::Null, |shown| shown.json.clone());
    let text = |number| {
        json!({
            "number": number, "name": name, "edition": edition, "spec": spec,
            "good": good, "kit": kit, "findings": findings,
        })
        .to_string()
    };
    board.put_up(text, files);
}
