//! The texts that a design is read from, and places in them.

/// Number of a text in [`Sources`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct SourceId(pub(crate) u32);

/// A stretch of one text, in bytes. An empty stretch at offset 0 speaks of the file as a whole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Span {
    /// Which text.
    pub(crate) source: SourceId,
    /// First byte.
    pub(crate) start: u32,
    /// One past the last byte.
    pub(crate) end: u32,
}

/// A value together with its place in the spec.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct At<T> {
    /// The value.
    pub(crate) value: T,
    /// Where it stands.
    pub(crate) span: Span,
}

impl<T> At<T> {
    /// The value at a place.
    pub(crate) fn new(value: T, span: Span) -> Self {
        At { value, span }
    }

    /// Another value at the same place.
    pub(crate) fn map<U>(self, f: impl FnOnce(T) -> U) -> At<U> {
        At { value: f(self.value), span: self.span }
    }
}

/// The texts of a run: the design file, and the vehicle and workshop files it points to.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sources {
    files: Vec<(String, String)>,
}

impl Sources {
    /// Adds a text under the name that findings show (the path as the user gave it).
    pub(crate) fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> SourceId {
        let id = u32::try_from(self.files.len()).unwrap_or(u32::MAX);
        self.files.push((name.into(), text.into()));
        SourceId(id)
    }

    /// Name of a text.
    pub(crate) fn name(&self, id: SourceId) -> &str {
        self.get(id).map_or("", |file| &file.0)
    }

    /// The text itself.
    pub(crate) fn text(&self, id: SourceId) -> &str {
        self.get(id).map_or("", |file| &file.1)
    }

    /// Line and column (both from 1, the column in characters) of the start of a span.
    pub(crate) fn line_and_column(&self, span: Span) -> (usize, usize) {
        let text = self.text(span.source);
        let mut start = (span.start as usize).min(text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        let before = &text[..start];
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
        (line, column)
    }

    /// The text of a span.
    pub(crate) fn snippet(&self, span: Span) -> &str {
        self.text(span.source).get(span.start as usize..span.end as usize).unwrap_or("")
    }

    fn get(&self, id: SourceId) -> Option<&(String, String)> {
        self.files.get(id.0 as usize)
    }
}
