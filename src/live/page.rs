//! The page's own files, from within the program: it needs nothing else.

/// A file of the page.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PageFile {
    /// What it is, as HTTP calls it.
    pub(crate) kind: &'static str,
    /// What is in it.
    pub(crate) text: &'static str,
}

/// Files by their path, with what they are.
macro_rules! files {
    ($($path:literal: $kind:expr),* $(,)?) => {
        &[$((concat!("/", $path), PageFile { kind: $kind, text: include_str!(concat!("page/", $path)) })),*]
    };
}

const HTML: &str = "text/html; charset=utf-8";
const STYLE: &str = "text/css; charset=utf-8";
const SCRIPT: &str = "text/javascript; charset=utf-8";

const FILES: &[(&str, PageFile)] = files! {
    "index.html": HTML,
    "live.css": STYLE,
    "camera.js": SCRIPT,
    "controls.js": SCRIPT,
    "dom.js": SCRIPT,
    "edges.js": SCRIPT,
    "feed.js": SCRIPT,
    "findings.js": SCRIPT,
    "glb.js": SCRIPT,
    "live.js": SCRIPT,
    "merged.js": SCRIPT,
    "parts.js": SCRIPT,
    "pose.js": SCRIPT,
    "shaders.js": SCRIPT,
    "sheets.js": SCRIPT,
    "solids.js": SCRIPT,
    "strip.js": SCRIPT,
    "viewer.js": SCRIPT,
};

/// The file at a path; `/` is the page itself.
pub(crate) fn page_file(path: &str) -> Option<PageFile> {
    let path = if path == "/" { "/index.html" } else { path };
    FILES.iter().find(|(own, _)| *own == path).map(|(_, file)| *file)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A script that is written and not listed would be missing from the page.
    #[test]
    fn every_file_of_the_page_is_listed() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/live/page");
        let names = std::fs::read_dir(folder).unwrap();
        let mut names: Vec<String> =
            names.map(|entry| format!("/{}", entry.unwrap().file_name().to_string_lossy())).collect();
        let mut listed: Vec<&str> = FILES.iter().map(|(path, _)| *path).collect();
        names.sort();
        listed.sort_unstable();
        assert_eq!(names, listed);
    }
}
