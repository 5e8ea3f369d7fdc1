//! The line that shows how far the work is, on standard error and only on a terminal.
//!
//! Takes what the nesting tells between its rounds, or how many of several things are done; writes one line over and over, and takes it away at the end.
//! Decides nothing.

use super::Output;
use crate::export::words;
use crate::nest::Progress;
use std::ops::ControlFlow;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// The line.
pub(super) struct Bar {
    bar: ProgressBar,
}

impl Bar {
    /// A line that is not shown before there is something to tell, and never off a terminal.
    pub(super) fn new(output: &Output) -> Self {
        Bar { bar: line(output, None, "{bar:24} {percent:>3} % {msg}") }
    }

    /// Shows where one material is. It always goes on.
    pub(super) fn show(&mut self, material: &str, progress: &Progress) -> ControlFlow<()> {
        self.bar.set_length(u64::try_from(progress.steps).unwrap_or(u64::MAX));
        self.bar.set_position(u64::try_from(progress.done).unwrap_or(u64::MAX));
        self.bar.set_message(format!("{material}: {}", words::progress(progress)));
        ControlFlow::Continue(())
    }

    /// Takes the line away.
    pub(super) fn clear(&mut self) {
        self.bar.finish_and_clear();
    }
}

/// The line of work that is done one by one, perhaps on several threads, with the time that is left.
pub(super) struct Count {
    bar: ProgressBar,
}

impl Count {
    /// So much to do. Never shown off a terminal.
    pub(super) fn new(output: &Output, of: usize) -> Self {
        let of = u64::try_from(of).ok();
        Count { bar: line(output, of, "{bar:24} {percent:>3} % {pos} of {len}, {eta} left") }
    }

    /// One more is done.
    pub(super) fn one_more(&self) {
        self.bar.inc(1);
    }

    /// Takes the line away.
    pub(super) fn clear(&self) {
        self.bar.finish_and_clear();
    }
}

fn line(output: &Output, of: Option<u64>, template: &str) -> ProgressBar {
    let target = if output.terminal { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() };
    let bar = ProgressBar::with_draw_target(of, target);
    if let Ok(style) = ProgressStyle::with_template(template) {
        bar.set_style(style);
    }
    bar
}
