//! Publishing on a disk that fails, or whose process is killed, at every step in turn.

use std::cell::{Cell, RefCell};
use std::fs;

use super::*;

/// Process of the first run; it does not run any more when the second one looks.
const FIRST: u32 = 4_000_001;
/// Process of the second run.
const SECOND: u32 = 4_000_002;

/// What happens at the chosen step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Trouble {
    /// That step fails, those after it succeed.
    Fails,
    /// Nothing happens any more from that step on, as after a kill or a power cut.
    Killed,
}

/// The real disk, with trouble at one step of those that change something.
struct Faulty {
    trouble: Trouble,
    at: Option<usize>,
    step: Cell<usize>,
    exchanges: bool,
    acts: RefCell<Vec<&'static str>>,
}

impl Faulty {
    fn new(trouble: Trouble, at: Option<usize>, exchanges: bool) -> Self {
        Faulty { trouble, at, step: Cell::new(0), exchanges, acts: RefCell::default() }
    }

    fn act(&self, act: &'static str) -> io::Result<()> {
        let step = self.step.replace(self.step.get() + 1);
        self.acts.borrow_mut().push(act);
        let troubled = match self.trouble {
            Trouble::Fails => self.at == Some(step),
            Trouble::Killed => self.at.is_some_and(|at| step >= at),
        };
        if troubled { Err(io::ErrorKind::StorageFull.into()) } else { Ok(()) }
    }
}

impl Disk for Faulty {
    fn kind(&self, path: &Path) -> io::Result<Kind> {
        Real.kind(path)
    }

    fn names(&self, folder: &Path) -> io::Result<Vec<String>> {
        Real.names(folder)
    }

    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        Real.read(path)
    }

    fn make_folder(&self, path: &Path) -> io::Result<()> {
        self.act("make_folder")?;
        Real.make_folder(path)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        if let Err(error) = self.act("write") {
            // A full disk takes a part.
            fs::write(path, &bytes[..bytes.len() / 2])?;
            return Err(error);
        }
        Real.write(path, bytes)
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        self.act("sync_folder")?;
        Real.sync_folder(path)
    }

    fn exchange(&self, a: &Path, b: &Path) -> io::Result<()> {
        if !self.exchanges {
            return Err(io::ErrorKind::Unsupported.into());
        }
        self.act("exchange")?;
        // Not every machine that runs the tests can exchange; here nothing comes between the steps.
        let aside = b.with_file_name("exchanging");
        fs::rename(b, &aside)?;
        fs::rename(a, b)?;
        fs::rename(aside, a)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.act("rename")?;
        Real.rename(from, to)
    }

    fn remove(&self, folder: &Path) -> io::Result<()> {
        self.act("remove")?;
        Real.remove(folder)
    }

    fn runs(&self, process: u32) -> bool {
        process != FIRST
    }
}

/// A set whose manifest lists its files, one to a line.
fn set(content: &str) -> Files {
    let text = |text: &str| text.as_bytes().to_vec();
    let manifest = "ours\nsheets/a.dxf\nkit.json";
    Files::from([
        ("sheets/a.dxf".to_owned(), text(content)),
        ("kit.json".to_owned(), text(content)),
        (MANIFEST.to_owned(), text(manifest)),
    ])
}

fn ours(manifest: &[u8]) -> Option<Paths> {
    let text = std::str::from_utf8(manifest).unwrap();
    let mut lines = text.lines();
    (lines.next() == Some("ours")).then(|| lines.map(str::to_owned).collect())
}

/// What stands in a folder, all the way down; `None` if there is no such folder.
fn found(folder: &Path) -> Option<Files> {
    let mut files = Files::new();
    let mut names = Vec::new();
    if !folder.is_dir() {
        return None;
    }
    Publisher { disk: &Real, process: SECOND, ours: &ours }.list(folder, "", &mut names).unwrap();
    for name in names {
        files.insert(name.clone(), fs::read(folder.join(&name)).unwrap());
    }
    Some(files)
}

fn run(disk: &Faulty, process: u32, folder: &Path, content: &str) -> Result<(), Fault> {
    Publisher { disk, process, ours: &ours }.publish(folder, &set(content))
}

fn healthy(exchanges: bool) -> Faulty {
    Faulty::new(Trouble::Fails, None, exchanges)
}

/// Publishes over an old set, or over nothing, with trouble at every step in turn; each time `judge` looks at
/// the folder, the result and the disk. Gives the number of steps.
fn at_every_step(
    trouble: Trouble,
    exchanges: bool,
    has_old: bool,
    judge: impl Fn(&Path, Result<(), Fault>, &Faulty),
) -> usize {
    for at in 0.. {
        let scratch = tempfile::tempdir().unwrap();
        let folder = scratch.path().join("kit");
        if has_old {
            run(&healthy(exchanges), FIRST, &folder, "old").unwrap();
        }
        let disk = Faulty::new(trouble, Some(at), exchanges);
        let result = run(&disk, FIRST, &folder, "new");
        let is_past_the_end = disk.step.get() <= at;
        judge(&folder, result, &disk);
        if is_past_the_end {
            return at;
        }
    }
    unreachable!("the loop has no end of its own")
}

/// Names beside the set's folder.
fn beside(folder: &Path) -> Vec<String> {
    let mut names = Real.names(folder.parent().unwrap()).unwrap();
    names.retain(|name| name != "kit");
    names
}

#[test]
fn a_killed_run_leaves_the_old_or_the_new_set_and_the_next_run_mends_the_rest() {
    for exchanges in [true, false] {
        for has_old in [true, false] {
            let steps = at_every_step(Trouble::Killed, exchanges, has_old, |folder, _, disk| {
                let (old, new) = (has_old.then(|| set("old")), Some(set("new")));
                let left = found(folder);
                if exchanges || !has_old {
                    assert!(left == old || left == new, "{:?}", disk.acts);
                } else if left != old && left != new {
                    // Between the two renames the old set stands aside, whole.
                    assert_eq!(left, None);
                    let aside = folder.with_file_name(format!(".kit.baywright-old-{FIRST}"));
                    assert_eq!(found(&aside), old, "{:?}", disk.acts);
                    // A run that comes to nothing puts it back too.
                    let next = Faulty::new(Trouble::Fails, Some(2), false);
                    run(&next, SECOND, folder, "newer").unwrap_err();
                    assert_eq!(found(folder), old);
                }
                run(&healthy(exchanges), SECOND, folder, "newer").unwrap();
                assert_eq!(found(folder), Some(set("newer")));
                assert_eq!(beside(folder), Vec::<String>::new(), "{:?}", disk.acts);
            });
            assert!(steps >= 9, "only {steps} steps were tried");
        }
    }
}

#[test]
fn a_failing_step_leaves_the_old_set_or_completes_the_new_one() {
    for exchanges in [true, false] {
        for has_old in [true, false] {
            at_every_step(Trouble::Fails, exchanges, has_old, |folder, result, disk| {
                let expected = if result.is_ok() { Some(set("new")) } else { has_old.then(|| set("old")) };
                assert_eq!(found(folder), expected, "{:?}", disk.acts);
                run(&healthy(exchanges), SECOND, folder, "newer").unwrap();
                assert_eq!(found(folder), Some(set("newer")));
                assert_eq!(beside(folder), Vec::<String>::new(), "{:?}", disk.acts);
            });
        }
    }
}

#[test]
fn a_swap_that_cannot_be_undone_says_where_the_old_set_is() {
    let scratch = tempfile::tempdir().unwrap();
    let folder = scratch.path().join("kit");
    run(&healthy(false), FIRST, &folder, "old").unwrap();
    let counted = healthy(false);
    run(&counted, FIRST, &folder, "old").unwrap();
    let second_rename = counted.acts.borrow().iter().rposition(|act| *act == "rename").unwrap();
    let disk = Faulty::new(Trouble::Killed, Some(second_rename), false);
    let fault = run(&disk, FIRST, &folder, "new").unwrap_err();
    let aside = scratch.path().join(format!(".kit.baywright-old-{FIRST}"));
    let said = fault.to_string();
    assert!(said.contains(&aside.display().to_string()) && said.contains("puts it back"), "{said}");
    assert_eq!(found(&aside), Some(set("old")));
}

#[test]
fn what_a_running_process_builds_is_left_alone() {
    let scratch = tempfile::tempdir().unwrap();
    let folder = scratch.path().join("kit");
    let others = scratch.path().join(format!(".kit.baywright-new-{SECOND}"));
    fs::create_dir(&others).unwrap();
    run(&healthy(true), FIRST, &folder, "new").unwrap();
    assert_eq!(beside(&folder), [format!(".kit.baywright-new-{SECOND}")]);
}

#[test]
fn only_a_set_of_ours_is_replaced() {
    let scratch = tempfile::tempdir().unwrap();
    let at = |name: &str| scratch.path().join(name);
    fs::create_dir_all(at("theirs")).unwrap();
    fs::write(at("theirs/letter.txt"), "dear").unwrap();
    fs::create_dir_all(at("named/a")).unwrap();
    fs::write(at("named/manifest.json"), "theirs").unwrap();
    fs::write(at("file"), "").unwrap();
    fs::create_dir(at("empty")).unwrap();
    run(&healthy(true), FIRST, &at("visited"), "old").unwrap();
    fs::write(at("visited/sheets/notes.txt"), "mine").unwrap();
    let said = |name: &str| run(&healthy(true), FIRST, &at(name), "new").unwrap_err().to_string();
    assert!(said("theirs").contains("no set of ours"));
    assert!(said("named").contains("no set of ours"));
    assert!(said("file").contains("is a file"));
    assert!(said("visited").contains("not part of the set and would be lost: sheets/notes.txt"));
    assert!(said("file/kit").contains("nothing was changed"));
    assert_eq!(fs::read_to_string(at("theirs/letter.txt")).unwrap(), "dear");
    assert_eq!(fs::read_to_string(at("visited/sheets/notes.txt")).unwrap(), "mine");
    run(&healthy(true), FIRST, &at("empty"), "new").unwrap();
    assert_eq!(found(&at("empty")), Some(set("new")));
    for path in [".", "/", "..", "kit/.."] {
        let fault = run(&healthy(true), FIRST, Path::new(path), "new").unwrap_err();
        assert!(matches!(fault, Fault::NoName(_)), "{path}: {fault}");
    }
}

#[cfg(unix)]
#[test]
fn a_link_is_neither_replaced_nor_followed() {
    let scratch = tempfile::tempdir().unwrap();
    let (set_folder, link) = (scratch.path().join("kit"), scratch.path().join("link"));
    run(&healthy(true), FIRST, &set_folder, "old").unwrap();
    std::os::unix::fs::symlink(&set_folder, &link).unwrap();
    for path in [link.clone(), link.join("")] {
        let fault = run(&healthy(true), FIRST, &path, "new").unwrap_err();
        assert!(fault.to_string().contains("symbolic link"), "{fault}");
    }
    assert_eq!(found(&set_folder), Some(set("old")));
}

#[test]
fn paths_that_lead_out_are_our_fault_and_nothing_is_written() {
    for path in ["../x", "/x", "a//b", "a/../b", "", ".", "a\\b", "c:x", "a/"] {
        let scratch = tempfile::tempdir().unwrap();
        let files = Files::from([(path.to_owned(), Vec::new())]);
        let publisher = Publisher { disk: &healthy(true), process: FIRST, ours: &ours };
        let fault = publisher.publish(&scratch.path().join("kit"), &files).unwrap_err();
        assert!(matches!(fault, Fault::BadPath(_)), "{path}");
        assert_eq!(Real.names(scratch.path()).unwrap(), Vec::<String>::new());
    }
}

/// The exchange of the system, where it has one.
#[test]
fn the_real_disk_swaps_sets() {
    let scratch = tempfile::tempdir().unwrap();
    let folder = scratch.path().join("deep/kit");
    publish(&folder, &set("old"), &ours).unwrap();
    publish(&folder, &set("new"), &ours).unwrap();
    assert_eq!(found(&folder), Some(set("new")));
    assert_eq!(beside(&folder), Vec::<String>::new());
    assert!(Real.runs(std::process::id()));
    assert!(!cfg!(unix) || !Real.runs(FIRST * 500));
}
