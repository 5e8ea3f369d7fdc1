//! Goldens: files under `tests/golden/` that hold what was written when somebody last looked.
//!
//! Takes a name and bytes; fails if the file differs or is missing. Only `BLESS=1 cargo test` writes.

use std::path::PathBuf;

/// Compares `bytes` with the golden `name` (a path under `tests/golden/`).
pub(crate) fn check(name: &str, bytes: &[u8]) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name);
    if std::env::var_os("BLESS").is_some_and(|value| value == "1") {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, bytes).unwrap();
        return;
    }
    let golden = std::fs::read(&path).unwrap_or_else(|error| panic!("{name}: {error}; BLESS=1 writes it"));
    assert!(golden.len() < 20 * 1024, "{name}: a golden stays below 20 KiB");
    if golden != bytes {
        let (old, new) = (String::from_utf8_lossy(&golden), String::from_utf8_lossy(bytes));
        let at = old.lines().zip(new.lines()).take_while(|(a, b)| a == b).count();
        let line = |text: &str| text.lines().nth(at).unwrap_or("(end)").to_owned();
        panic!("{name} differs from line {}: `{}` became `{}`", at + 1, line(&old), line(&new));
    }
}
