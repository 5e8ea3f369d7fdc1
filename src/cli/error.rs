//! Why a command could not run: the machine's faults and our own, never the designer's.

use std::fmt;
use std::io;

use super::input::Unreadable;
use super::publish::Fault;

/// What ends a run with exit code 2, or quietly.
#[derive(Debug)]
pub(super) enum Error {
    /// A file cannot be read.
    Input(Unreadable),
    /// The set cannot be written.
    Publish(Fault),
    /// Output cannot be printed; a reader that has gone away is fine.
    Print(io::Error),
    /// What would have been written contradicts itself: our fault.
    Broken(Vec<String>),
    /// Anything else, as a sentence.
    Other(String),
}

impl Error {
    /// Whether the reader of our output has gone away, which is the reader's affair.
    pub(super) fn is_closed_pipe(&self) -> bool {
        matches!(self, Error::Print(error) if error.kind() == io::ErrorKind::BrokenPipe)
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Error::Input(fault) => write!(f, "{fault}"),
            Error::Publish(fault) => write!(f, "{fault}"),
            Error::Print(error) => write!(f, "cannot print: {error}"),
            Error::Broken(faults) => {
                writeln!(f, "this is a fault of baywright, not of the design; nothing was written")?;
                for fault in faults {
                    writeln!(f, "  {fault}")?;
                }
                write!(f, "please report it together with the spec")
            }
            Error::Other(sentence) => write!(f, "{sentence}"),
        }
    }
}

impl From<Unreadable> for Error {
    fn from(fault: Unreadable) -> Self {
        Error::Input(fault)
    }
}

impl From<Fault> for Error {
    fn from(fault: Fault) -> Self {
        Error::Publish(fault)
    }
}

impl From<io::Error> for Error {
    fn from(error: io::Error) -> Self {
        Error::Print(error)
    }
}
