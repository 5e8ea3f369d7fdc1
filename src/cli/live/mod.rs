//! `live`: a local page that follows a design's files.
//!
//! Three kinds of threads share one board: the builder puts the newest state on it, watchers of files wake the builder, and
//! the server reads it. No state is kept but the last good kit; what is shown comes from the files each time.

mod board;
mod builder;
mod http;
mod server;
#[cfg(test)]
mod tests;
mod watch;

use super::Output;
use super::args::DesignArguments;
use super::error::Error;
use super::input;
use crate::abreast::STACK;
use board::Board;
use std::net::{Ipv4Addr, TcpListener};
use std::sync::Arc;
use std::thread;

/// Follows a design until the program is stopped.
pub(super) fn live(output: &mut Output, design: &DesignArguments, port: u16) -> Result<bool, Error> {
    // A name that was mistyped is told here; a file that goes later, on the page.
    input::read(&design.spec)?;
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port)).map_err(|error| {
        Error::Other(format!("cannot listen on port {port}: {error}; take another with `--port`"))
    })?;
    let port = listener.local_addr().map_err(Error::Print)?.port();
    let board = Arc::new(Board::default());
    let watch = watch::Watch::new(&board);
    let server = server::Server::new(listener, port, Arc::clone(&board), design.clone());
    output.print(&format!("http://127.0.0.1:{port}/\n"))?;
    output.tell(&format!("following {}; stop with Ctrl-C\n", design.spec.display()));
    thread::scope(|scope| {
        let builder = || builder::follow(&board, design, watch);
        let builder = thread::Builder::new().stack_size(STACK).spawn_scoped(scope, builder);
        builder.map_err(|error| Error::Other(format!("cannot begin the work: {error}")))?;
        server.serve(scope);
        Ok(true)
    })
}
