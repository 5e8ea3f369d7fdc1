//! Answers the page's browser: the page, the newest state, what it speaks of, and a line whenever there is a newer one.
//!
//! Bound to this machine. Names of other hosts are refused, so that no page from elsewhere can ask under a name of its own; no
//! path of a request is ever a path on disk. One request writes: the button that makes the set.

use super::super::args::DesignArguments;
use super::super::{Output, make};
use super::board::{Board, State};
use super::http::{self, Request};
use crate::abreast::STACK;
use crate::live::{ON_REQUEST, page_file};
use serde_json::json;
use std::io::{self, Write};
use std::net::{TcpListener, TcpStream};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::Scope;
use std::time::Duration;

/// Connections at a time; more are turned away.
const MOST_CONNECTIONS: usize = 200;
/// How often a browser that listens is told that there is nothing new, so that one that is gone is noticed.
const HEARTBEAT: Duration = Duration::from_secs(10);
/// The header that the page's own button sends, which no form of another page can.
const BUTTON: (&str, &str) = ("x-baywright", "make");
/// Nothing from elsewhere, nothing within the text.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; \
                      base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// See the module.
pub(super) struct Server {
    listener: TcpListener,
    port: u16,
    board: Arc<Board>,
    design: DesignArguments,
    /// Held while a set is made.
    making: Mutex<()>,
    connections: AtomicUsize,
}

/// An answer before it is sent.
struct Answer {
    status: u16,
    kind: &'static str,
    body: Vec<u8>,
    /// Whether it may be kept for ever: its path says what is in it.
    lasting: bool,
}

fn text(status: u16, words: &str) -> Answer {
    let body = format!("{words}\n").into_bytes();
    Answer { status, kind: "text/plain; charset=utf-8", body, lasting: false }
}

impl Server {
    /// Serves what the board shows.
    pub(super) fn new(listener: TcpListener, port: u16, board: Arc<Board>, design: DesignArguments) -> Self {
        Server { listener, port, board, design, making: Mutex::new(()), connections: AtomicUsize::new(0) }
    }

    /// Answers for ever, each connection by a thread of its own.
    pub(super) fn serve<'scope, 'env>(&'env self, scope: &'scope Scope<'scope, 'env>) {
        for stream in self.listener.incoming() {
            // A browser that went away before it was answered is no fault of ours.
            let Ok(stream) = stream else { continue };
            if self.connections.fetch_add(1, Ordering::Relaxed) < MOST_CONNECTIONS {
                let answer = move || {
                    self.connection(stream);
                    self.connections.fetch_sub(1, Ordering::Relaxed);
                };
                let thread = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, answer);
                if thread.is_ok() {
                    continue;
                }
            }
            self.connections.fetch_sub(1, Ordering::Relaxed);
        }
    }

    /// Reads one request and answers it. Who has gone away misses nothing.
    fn connection(&self, mut stream: TcpStream) {
        let Ok(request) = http::read(&mut stream) else { return };
        if self.is_own(&request) && request.method == "GET" && request.path == "/events" {
            self.tell_of_states(stream);
        } else {
            let answer = self.answer(&request);
            send(&mut stream, &answer, request.method == "HEAD").ok();
        }
    }

    /// Whether a request is meant for this server under a name of this machine.
    fn is_own(&self, request: &Request) -> bool {
        let port = self.port;
        let host = request.header("host");
        [format!("127.0.0.1:{port}"), format!("localhost:{port}")].iter().any(|own| host == Some(own))
    }

    fn answer(&self, request: &Request) -> Answer {
        if !self.is_own(request) {
            return text(
                403,
                "this page is served to this machine alone; open it by the address that was printed",
            );
        }
        match (request.method.as_str(), request.path.as_str()) {
            ("POST", "/make") => self.make(request),
            ("GET" | "HEAD", path) => self.file(path),
            _ => text(405, "this page is only read"),
        }
    }

    fn file(&self, path: &str) -> Answer {
        let State { json, files, .. } = self.board.state();
        if path == "/state" {
            let body = json.as_bytes().to_vec();
            return Answer { status: 200, kind: "application/json", body, lasting: false };
        }
        if let Some(file) = page_file(path) {
            return Answer {
                status: 200,
                kind: file.kind,
                body: file.text.as_bytes().to_vec(),
                lasting: false,
            };
        }
        let Some(bytes) = files.get(path) else { return text(404, "there is no such page") };
        let kind = if path.starts_with("/front/") { "image/svg+xml" } else { "model/gltf-binary" };
        // The model that is made on request is called by what it is made from, which another program may do otherwise.
        Answer { status: 200, kind, body: bytes.to_vec(), lasting: !path.starts_with(ON_REQUEST) }
    }

    /// Makes the set, as the command `make` does.
    fn make(&self, request: &Request) -> Answer {
        let origin = request.header("origin");
        let foreign = origin.is_some_and(|origin| {
            ["127.0.0.1", "localhost"].iter().all(|host| origin != format!("http://{host}:{}", self.port))
        });
        if foreign || request.header(BUTTON.0) != Some(BUTTON.1) {
            return text(403, "only the page's own button makes a set");
        }
        let _one_at_a_time = self.making.lock().unwrap_or_else(PoisonError::into_inner);
        let made = make::run(&Output::quiet(), &self.design).and_then(|run| match &run.built.finished {
            Some(finished) => make::written(finished, &run, None).map(Some),
            None => Ok(None),
        });
        let said = match made {
            Ok(Some((folder, files))) => {
                json!({"ok": true, "folder": folder.display().to_string(), "files": files})
            }
            Ok(None) => json!({"ok": false, "message": "the design has errors; nothing was written"}),
            Err(error) => json!({"ok": false, "message": error.to_string()}),
        };
        Answer { status: 200, kind: "application/json", body: said.to_string().into_bytes(), lasting: false }
    }

    /// A line for each new state, until the browser is gone.
    fn tell_of_states(&self, mut stream: TcpStream) {
        let mut seen = self.board.state().number;
        let head = [("Content-Type", "text/event-stream"), ("Cache-Control", "no-store")];
        let mut told = http::send_head(&mut stream, 200, &head, None)
            .and_then(|()| stream.write_all(format!("data: {seen}\n\n").as_bytes()));
        while told.is_ok() {
            let newest = self.board.wait_for_state(seen, HEARTBEAT);
            let line = if newest > seen { format!("data: {newest}\n\n") } else { ":\n\n".to_owned() };
            told = stream.write_all(line.as_bytes());
            seen = newest;
        }
    }
}

fn send(stream: &mut TcpStream, answer: &Answer, head_only: bool) -> io::Result<()> {
    let caching = if answer.lasting { "private, max-age=31536000, immutable" } else { "no-store" };
    let headers = [
        ("Content-Type", answer.kind),
        ("Cache-Control", caching),
        ("Content-Security-Policy", POLICY),
        ("X-Content-Type-Options", "nosniff"),
        ("Referrer-Policy", "no-referrer"),
    ];
    http::send_head(stream, answer.status, &headers, Some(answer.body.len()))?;
    if head_only { Ok(()) } else { stream.write_all(&answer.body) }
}
