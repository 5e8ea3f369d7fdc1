//! What the threads share: the newest state, and whether files have changed since.

use crate::live::Files;
use serde_json::json;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// The newest state.
#[derive(Clone, Debug)]
pub(super) struct State {
    /// Rises by one from state to state.
    pub(super) number: u64,
    /// As the page reads it.
    pub(super) json: Arc<String>,
    /// What it speaks of by hash.
    pub(super) files: Files,
}

#[derive(Debug)]
struct Shared {
    state: State,
    /// Rises whenever a file changes.
    changes: u64,
}

/// See the module.
#[derive(Debug)]
pub(super) struct Board {
    shared: Mutex<Shared>,
    /// Rung at a new state and at a change of files.
    bell: Condvar,
}

impl Default for Board {
    fn default() -> Self {
        let nothing = json!({"number": 0, "name": "", "edition": "", "spec": "", "good": true, "kit": null, "findings": []});
        let state = State { number: 0, json: Arc::new(nothing.to_string()), files: Files::new() };
        Board { shared: Mutex::new(Shared { state, changes: 1 }), bell: Condvar::new() }
    }
}

impl Board {
    /// Nobody leaves it half written, so a thread that fell over has not spoilt it.
    fn lock(&self) -> MutexGuard<'_, Shared> {
        self.shared.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Says that a file has changed.
    pub(super) fn changed(&self) {
        self.lock().changes += 1;
        self.bell.notify_all();
    }

    /// How often files have changed.
    pub(super) fn changes(&self) -> u64 {
        self.lock().changes
    }

    /// Waits until files have changed more often than that, but no longer than `most`; how often they have.
    pub(super) fn wait_for_change(&self, seen: u64, most: Duration) -> u64 {
        let waiting = |shared: &mut Shared| shared.changes == seen;
        let (shared, _) =
            self.bell.wait_timeout_while(self.lock(), most, waiting).unwrap_or_else(PoisonError::into_inner);
        shared.changes
    }

    /// Puts up a state; `json` is given its number.
    pub(super) fn put_up(&self, json: impl FnOnce(u64) -> String, files: Files) {
        let mut shared = self.lock();
        let number = shared.state.number + 1;
        shared.state = State { number, json: Arc::new(json(number)), files };
        self.bell.notify_all();
    }

    /// The newest state.
    pub(super) fn state(&self) -> State {
        self.lock().state.clone()
    }

    /// Waits for a state newer than that, but no longer than `most`; the newest number.
    pub(super) fn wait_for_state(&self, seen: u64, most: Duration) -> u64 {
        let waiting = |shared: &mut Shared| shared.state.number <= seen;
        let (shared, _) =
            self.bell.wait_timeout_while(self.lock(), most, waiting).unwrap_or_else(PoisonError::into_inner);
        shared.state.number
    }
}
