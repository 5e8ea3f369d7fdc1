//! The one writer of numbers: every number in every file we make goes through here.

/// A number with at most `decimals` decimals, trailing zeros and a bare point dropped, never `-0`.
///
/// `decimal(12.5, 3)` is `12.5`, `decimal(-0.0001, 3)` is `0`.
pub fn decimal(value: f64, decimals: usize) -> String {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// A number with exactly `decimals` decimals, as tables show it, never `-0.00`.
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(digits) if digits.bytes().all(|b| matches!(b, b'0' | b'.')) => digits.to_owned(),
        _ => text,
    }
}

/// A value rounded to `decimals` decimals, for number fields of JSON: the nearest float to the printed text.
pub fn rounded(value: f64, decimals: usize) -> f64 {
    decimal(value, decimals).parse().unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_one_spelling() {
        for (value, decimals, text) in [
            (12.5, 3, "12.5"),
            (100.0, 3, "100"),
            (-0.0001, 3, "0"),
            (0.1 + 0.2, 4, "0.3"),
            (-1.25, 1, "-1.2"),
            (1200.0, 0, "1200"),
        ] {
            assert_eq!(decimal(value, decimals), text);
        }
        assert_eq!(fixed(-0.001, 2), "0.00");
        assert_eq!(fixed(3.0, 2), "3.00");
    }
}
