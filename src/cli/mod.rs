//! The command line: arguments, files, terminal. The only place that touches the outside.
//!
//! Turns what was typed into a run of the stages, and what came of it into text, files and an exit code: 0 done,
//! 1 the design or the parts have errors, 2 could not run. Decides nothing about designs.

mod args;
mod compare;
mod compared;
mod error;
mod explain;
mod input;
mod listing;
mod live;
mod make;
mod nest;
mod new;
mod progress;
mod publish;
mod set;
mod summary;
mod sweep;
mod swept;
mod table;

use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;
use std::thread;

use crate::abreast::STACK;

use clap::{CommandFactory, Parser};

use args::{Arguments, Command, SchemaOf};
use error::Error;

/// Runs the program with the process's arguments.
pub fn run() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(fault) => {
            // Help goes to standard output, faults to standard error; a reader that is gone is no fault.
            fault.print().ok();
            return if fault.use_stderr() { ExitCode::from(2) } else { ExitCode::SUCCESS };
        }
    };
    let answer = || {
        let mut output = Output::new();
        match command(&mut output, &arguments.command) {
            Ok(true) => ExitCode::SUCCESS,
            Ok(false) => ExitCode::from(1),
            Err(error) if error.is_closed_pipe() => ExitCode::SUCCESS,
            Err(error) => {
                output.tell(&format!("error: {error}\n"));
                ExitCode::from(2)
            }
        }
    };
    thread::scope(|scope| {
        let worker = thread::Builder::new().stack_size(STACK).spawn_scoped(scope, answer);
        match worker.map(thread::ScopedJoinHandle::join) {
            Ok(Ok(code)) => code,
            // It has told of its panic as it came.
            Ok(Err(_)) => ExitCode::from(101),
            Err(error) => {
                Output::new().tell(&format!("error: cannot begin the work: {error}\n"));
                ExitCode::from(2)
            }
        }
    })
}

/// Runs one command. Whether it found no errors in a design.
fn command(output: &mut Output, command: &Command) -> Result<bool, Error> {
    let text = match command {
        Command::Make { design, out } => return make::make(output, design, out.as_deref()),
        Command::Check { design } => return make::check(output, design),
        Command::Live { design, port } => return live::live(output, design, *port),
        Command::Compare { kits, all, page, format } => {
            return compare::compare(output, kits, (*all, page.as_deref()), *format);
        }
        Command::Sweep(arguments) => return sweep::sweep(output, arguments),
        Command::Nest(arguments) => return nest::nest(output, arguments),
        Command::New { list: true, .. } => new::list(),
        Command::New { name, template, list: false } => new::write(name, template.as_deref())?,
        Command::MeasuringSheet => new::MEASURING_SHEET.to_owned(),
        Command::Explain { rule } => explain::text(rule.as_deref())?,
        Command::Schema { of } => schema(*of),
        Command::Catalogue { section, workshop, format } => {
            match listing::catalogue(output, workshop.as_deref())? {
                Some(catalogue) => listing::text(&catalogue, *section, *format),
                None => return Ok(false),
            }
        }
        Command::Completions { shell } => completions(*shell),
    };
    output.print(&text)?;
    Ok(true)
}

fn schema(of: SchemaOf) -> String {
    let schema = match of {
        SchemaOf::Design => crate::spec::schema(),
        SchemaOf::Vehicle => crate::spec::vehicle_schema(),
        SchemaOf::Workshop => crate::spec::workshop_schema(),
        SchemaOf::Stock => crate::spec::stock_schema(),
        SchemaOf::Kit => crate::export::kit_json::schema(),
        SchemaOf::Comparison => crate::compare::schema(),
    };
    format!("{schema:#}\n")
}

fn completions(shell: clap_complete::Shell) -> String {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "baywright", &mut script);
    String::from_utf8_lossy(&script).into_owned()
}

/// Standard output and standard error.
struct Output {
    /// Whether findings are shown in colour: on a terminal, unless `NO_COLOR` is set.
    colour: bool,
    /// Whether standard error is a terminal, so that a line may be written over.
    terminal: bool,
}

impl Output {
    fn new() -> Self {
        let wanted = std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
        let terminal = io::stderr().is_terminal();
        Output { colour: wanted && terminal, terminal }
    }

    /// Prints findings plainly, and shows no progress.
    fn quiet() -> Self {
        Output { colour: false, terminal: false }
    }

    /// Prints what was asked for.
    #[expect(clippy::unused_self, reason = "what prints holds the terminal, so that nothing else does")]
    fn print(&mut self, text: &str) -> Result<(), Error> {
        let mut out = io::stdout().lock();
        out.write_all(text.as_bytes())?;
        out.flush()?;
        Ok(())
    }

    /// Tells what is wrong. If nobody can read it there is nobody to tell.
    #[expect(clippy::unused_self, reason = "what tells holds the terminal, so that nothing else does")]
    fn tell(&mut self, text: &str) {
        io::stderr().lock().write_all(text.as_bytes()).ok();
    }
}
