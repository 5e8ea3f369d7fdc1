//! How tests compare numbers: by a relative difference, or by the digits a source prints.

/// Fails unless `got` is `want` within the relative difference `share`.
#[track_caller]
pub(crate) fn close(got: f64, want: f64, share: f64) {
    let apart = (got - want).abs();
    assert!(apart <= share * want.abs().max(1e-12), "{got} is not {want} within {share}");
}

/// Fails unless `got` rounds to what is printed: half a unit of its last digit either way.
#[track_caller]
pub(crate) fn printed(got: f64, want: &str) {
    let value: f64 = want.parse().unwrap();
    let decimals = want.split_once('.').map_or(0, |(_, tail)| tail.len());
    let unit = 10_f64.powi(-i32::try_from(decimals).unwrap());
    assert!((got - value).abs() <= 0.5001 * unit, "{got} is not printed {want}");
}

#[test]
fn a_last_digit_off_by_one_is_seen() {
    printed(353.164, "353.16");
    close(1.0, 1.000_000_9, 1e-6);
    assert!(std::panic::catch_unwind(|| printed(353.166, "353.16")).is_err());
    assert!(std::panic::catch_unwind(|| close(1.0, 1.1, 1e-6)).is_err());
}
