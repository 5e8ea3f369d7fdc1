//! The page's states against fresh builds of the files, and what the server refuses.

use super::board::Board;
use super::{builder, server, watch};
use crate::build::Laying;
use crate::cli::args::{DesignArguments, Format};
use crate::cli::make;
use crate::live;
use serde_json::Value;
use std::fs;
use std::io::{Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::Path;
use std::sync::Arc;
use std::thread;
use std::time::Duration;

/// A kit whose numbers stand in for `{..}`; some of them make it impossible.
const SPEC: &str = "\
bay: {width: 1040, depth: 1050, height: 800}
nesting: {effort: 40}
carcases:
  - {id: main, width: WIDTH, depth: 900, height: HEIGHT, panel: birch-12, cell: {drawer: {slide: heavy-800}}}
";

fn spec(width: u32, height: u32) -> String {
    SPEC.replace("WIDTH", &width.to_string()).replace("HEIGHT", &height.to_string())
}

fn arguments(spec: &Path) -> DesignArguments {
    DesignArguments { spec: spec.to_owned(), vehicle: None, workshop: None, format: Format::Text }
}

/// A board that follows a spec.
fn followed(spec: &Path) -> Arc<Board> {
    let board = Arc::new(Board::default());
    let watch = watch::Watch::new(&board);
    let (own, design) = (Arc::clone(&board), arguments(spec));
    let work = move || builder::follow(&own, &design, watch);
    thread::Builder::new().stack_size(crate::abreast::STACK).spawn(work).unwrap();
    board
}

/// The first state, from this number on, that satisfies; panics if none comes.
fn state_when(board: &Board, wanted: impl Fn(&Value) -> bool) -> Value {
    let mut seen = 0;
    for _ in 0..600 {
        let state: Value = serde_json::from_str(&board.state().json).unwrap();
        if wanted(&state) {
            return state;
        }
        seen = board.wait_for_state(seen, Duration::from_millis(100));
    }
    panic!("no such state came; the last was {}", board.state().json);
}

/// A state without what depends on earlier ones.
fn timeless(mut kit: Value) -> Value {
    kit["gone"] = Value::Null;
    for part in kit["parts"].as_array_mut().unwrap() {
        part["changed"] = Value::Null;
    }
    for sheet in kit["sheets"].as_array_mut().unwrap() {
        for part in sheet["parts"].as_array_mut().unwrap() {
            part["changed"] = Value::Null;
        }
    }
    for group in kit["figures"].as_array_mut().unwrap() {
        for row in group["rows"].as_array_mut().unwrap() {
            row["before"] = Value::Null;
        }
    }
    kit
}

/// What a fresh build of the files gives: its kit, if it has no errors, and its findings.
fn fresh(spec: &Path) -> (Option<Value>, Value) {
    let mut go_on = |_: &str, _| std::ops::ControlFlow::Continue(());
    let run = make::read_and_build(&arguments(spec), Laying::AsAsked, &mut go_on, &mut |_| ()).unwrap();
    let findings = live::findings(&run.built.findings, &run.built.sources);
    let kit = run.built.finished.map(Arc::new);
    let kit = kit.map(|kit| live::shown(&kit, Laying::AsAsked, None, &mut live::Known::default()).json);
    (kit.map(timeless), findings)
}

#[test]
fn after_two_hundred_edits_in_bursts_the_page_shows_what_a_fresh_build_gives() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("kit.yaml");
    fs::write(&file, spec(1000, 300)).unwrap();
    let board = followed(&file);
    let mut random = 7_u32;
    let mut next = |below: u32| {
        random = random.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (random >> 16) % below
    };
    let (mut edits, mut good, mut wrong) = (0, 0, 0);
    while edits < 200 {
        for _ in 0..=next(8) {
            // Too wide for the bay now and then, and now and then no YAML at all.
            let text = spec(700 + 10 * next(40), 200 + 10 * next(30));
            let text = if next(9) == 0 { text.replace(']', "").replace("cell: {", "cell: ") } else { text };
            if next(2) == 0 {
                fs::write(&file, text).unwrap();
            } else {
                let beside = folder.path().join("kit.yaml.new");
                fs::write(&beside, text).unwrap();
                fs::rename(&beside, &file).unwrap();
            }
            edits += 1;
            thread::sleep(Duration::from_millis(u64::from(next(6))));
        }
        let (kit, findings) = fresh(&file);
        let done = |state: &Value| {
            state["findings"] == findings
                && state["good"] == kit.is_some()
                && kit.as_ref().is_none_or(|kit| {
                    state["kit"]["nesting"] == "done" && timeless(state["kit"].clone()) == *kit
                })
        };
        state_when(&board, done);
        *if kit.is_some() { &mut good } else { &mut wrong } += 1;
    }
    assert!(good > 10 && wrong > 2, "some of the edits were to be right and some wrong: {good}, {wrong}");
}

#[test]
fn the_last_good_kit_stays_while_the_files_are_wrong_or_gone() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("kit.yaml");
    fs::write(&file, spec(1000, 300)).unwrap();
    let board = followed(&file);
    let good = state_when(&board, |state| state["kit"]["nesting"] == "done");
    fs::write(&file, spec(1000, 300).replace("birch-12", "birch-99")).unwrap();
    let wrong = state_when(&board, |state| state["good"] == false);
    assert_eq!((&wrong["kit"], &wrong["findings"][0]["line"]), (&good["kit"], &Value::from(4)));
    fs::remove_file(&file).unwrap();
    let gone = state_when(&board, |state| state["findings"][0]["rule"] == "");
    assert!(gone["findings"][0]["message"].as_str().unwrap().contains("no such file"));
    assert_eq!(gone["kit"], good["kit"]);
    fs::write(&file, spec(1000, 280)).unwrap();
    let again = state_when(&board, |state| state["good"] == true && state["kit"]["nesting"] == "done");
    let changed =
        again["kit"]["parts"].as_array().unwrap().iter().filter(|part| part["changed"] == "changed");
    assert!(changed.count() > 3);
}

#[test]
fn a_spec_that_is_not_there_is_told_at_once() {
    let nowhere = arguments(Path::new("no-such-folder/kit.yaml"));
    let told = super::live(&mut crate::cli::Output::quiet(), &nowhere, 0).unwrap_err().to_string();
    assert_eq!(told, "cannot read `no-such-folder/kit.yaml`: there is no such file");
}

/// The status that the server answers a request with.
fn status(port: u16, request: &str) -> u16 {
    let mut stream = TcpStream::connect((Ipv4Addr::LOCALHOST, port)).unwrap();
    stream.write_all(request.as_bytes()).unwrap();
    let mut head = [0; 12];
    stream.read_exact(&mut head).unwrap();
    String::from_utf8_lossy(&head)[9..].parse().unwrap()
}

#[test]
fn the_server_answers_this_machine_alone_and_no_path_leads_to_the_disk() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("kit.yaml");
    fs::write(&file, spec(1000, 300)).unwrap();
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).unwrap();
    let port = listener.local_addr().unwrap().port();
    let server = server::Server::new(listener, port, Arc::new(Board::default()), arguments(&file));
    thread::spawn(move || thread::scope(|scope| server.serve(scope)));
    let own = format!("Host: 127.0.0.1:{port}\r\nConnection: close\r\n");
    let asked = |line: &str, headers: &str| status(port, &format!("{line} HTTP/1.1\r\n{headers}\r\n"));
    assert_eq!(asked("GET /", &own), 200);
    assert_eq!(asked("GET /live.js", &own), 200);
    assert_eq!(asked("GET /state", &format!("Host: localhost:{port}\r\nConnection: close\r\n")), 200);
    for host in ["example.org", "127.0.0.1", "127.0.0.1:1"] {
        for path in ["/", "/state", "/events"] {
            let headers = format!("Host: {host}\r\nConnection: close\r\n");
            assert_eq!(asked(&format!("GET {path}"), &headers), 403, "{host} {path}");
        }
    }
    for path in ["/../kit.yaml", "/kit.yaml", "/%2e%2e/kit.yaml", "//etc/passwd", "/model/../state"] {
        assert_eq!(asked(&format!("GET {path}"), &own), 404, "{path}");
    }
    let button = "X-Baywright: make\r\nContent-Length: 0\r\n";
    assert_eq!(asked("POST /make", &format!("{own}Content-Length: 0\r\n")), 403);
    let foreign = format!("{own}{button}Origin: http://example.org\r\n");
    assert_eq!(asked("POST /make", &foreign), 403);
    assert_eq!(asked("DELETE /state", &own), 405);
    assert_eq!(asked("POST /state", &format!("{own}{button}")), 405);
    let made = fs::read_dir(folder.path()).unwrap().count();
    assert_eq!(made, 1, "nothing was written");
}
