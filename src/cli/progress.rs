//! The line that shows how far the nesting is, on standard error and only on a terminal.
//!
//! Takes what the nesting tells between its rounds, writes one line over and over, and takes it away at the end.
//! Decides nothing.

use super::Output;
use crate::export::words;
use crate::nest::Progress;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// The line.
pub(super) struct Bar {
    bar: ProgressBar,
}

impl Bar {
    /// A line that is not shown before there is something to tell, and never off a terminal.
    pub(super) fn new(output: &Output) -> Self {
        let target =
            if output.terminal { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() };
        let bar = ProgressBar::with_draw_target(None, target);
        if let Ok(style) = ProgressStyle::with_template("{bar:24} {percent:>3} % {msg}") {
            bar.set_style(style);
        }
        Bar { bar }
    }

    /// Shows where one material is.
    pub(super) fn show(&mut self, material: &str, progress: &Progress) {
        self.bar.set_length(u64::try_from(progress.steps).unwrap_or(u64::MAX));
        self.bar.set_position(u64::try_from(progress.done).unwrap_or(u64::MAX));
        self.bar.set_message(format!("{material}: {}", words::progress(progress)));
    }

    /// Takes the line away.
    pub(super) fn clear(&mut self) {
        self.bar.finish_and_clear();
    }
}
