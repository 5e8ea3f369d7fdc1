//! As much of HTTP as a browser on this machine needs: one request a connection, one thread each (RFC 9112).

use std::fmt::Write as _;
use std::io::{self, Read, Write};
use std::net::TcpStream;
use std::time::Duration;

/// Most bytes of a request's head.
const LARGEST_HEAD: usize = 16 * 1024;
/// Most lines of a request's head.
const MOST_HEADERS: usize = 64;
/// How long a browser may take to say what it wants, and to take what it is given.
const PATIENCE: Duration = Duration::from_secs(20);

/// A request without its body, which no request here has.
#[derive(Debug)]
pub(super) struct Request {
    /// `GET`, `POST` and so on.
    pub(super) method: String,
    /// Path and query as they were asked for.
    pub(super) path: String,
    /// Names in small letters, with values.
    headers: Vec<(String, String)>,
}

impl Request {
    /// The value of a header, whose name is given in small letters; nothing if it is not there or there twice.
    pub(super) fn header(&self, name: &str) -> Option<&str> {
        let mut found = self.headers.iter().filter(|(own, _)| own == name);
        let (_, value) = found.next()?;
        found.next().is_none().then_some(value)
    }
}

/// Reads a request's head. An error if it is none, or too long.
pub(super) fn read(stream: &mut TcpStream) -> io::Result<Request> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    let mut head = Vec::new();
    let mut piece = [0; 2048];
    loop {
        let n = stream.read(&mut piece)?;
        head.extend_from_slice(&piece[..n]);
        let mut headers = [httparse::EMPTY_HEADER; MOST_HEADERS];
        let mut request = httparse::Request::new(&mut headers);
        let whole = request.parse(&head).map_err(io::Error::other)?.is_complete();
        if let (true, Some(method), Some(path)) = (whole, request.method, request.path) {
            let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).trim().to_owned();
            let headers = request.headers.iter();
            return Ok(Request {
                method: method.to_owned(),
                path: path.to_owned(),
                headers: headers.map(|own| (own.name.to_ascii_lowercase(), text(own.value))).collect(),
            });
        }
        if n == 0 || head.len() > LARGEST_HEAD {
            return Err(io::Error::other("no request"));
        }
    }
}

/// Sends the head of an answer; `length` is that of its body, if that is known.
pub(super) fn send_head(
    stream: &mut TcpStream,
    status: u16,
    headers: &[(&str, &str)],
    length: Option<usize>,
) -> io::Result<()> {
    let reason = match status {
        200 => "OK",
        403 => "Forbidden",
        404 => "Not Found",
        405 => "Method Not Allowed",
        _ => "Error",
    };
    let mut head = format!("HTTP/1.1 {status} {reason}\r\nConnection: close\r\n");
    for (name, value) in headers {
        let _ = write!(head, "{name}: {value}\r\n");
    }
    if let Some(length) = length {
        let _ = write!(head, "Content-Length: {length}\r\n");
    }
    head.push_str("\r\n");
    stream.write_all(head.as_bytes())
}
