//! From a finished kit to bytes. An exporter sees the model only; none opens a file, and none can fail.

pub(crate) mod cutfile;
pub(crate) mod drawn;
pub(crate) mod dxf;
#[cfg(test)]
pub(crate) mod example;
pub(crate) mod hardware;
pub(crate) mod picture;
pub(crate) mod report;
pub(crate) mod svg;
