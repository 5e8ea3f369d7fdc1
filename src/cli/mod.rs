//! x
/// x
pub fn run() {}
