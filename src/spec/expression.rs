//! Arithmetic in the spec: `bay.width - 2 * gap` to a number.
//!
//! Takes a text and the values of names, gives a number or one fault with its place in the text. Only operations
//! whose last bit is the same on every machine: `+ - * /`, whole powers, `min max abs floor ceil round sqrt`.
//! Bounded in length and depth; never gives a value that is not finite.

use std::ops::Range;

/// Longest text, bytes. A formula beyond it cannot be checked by eye and belongs into named sizes.
const LONGEST_TEXT: usize = 400;
/// Deepest nesting of parentheses, signs and powers; keeps the recursion small.
const DEEPEST_NESTING: usize = 40;
/// Largest exponent: powers are made by repeated multiplication.
const LARGEST_EXPONENT: f64 = 32.0;
/// The functions that are understood; no size may be called like one.
pub(crate) const FUNCTIONS: [&str; 7] = ["min", "max", "abs", "floor", "ceil", "round", "sqrt"];

/// The bay's readings at a height, as functions of one value.
pub(crate) const READINGS: [&str; 4] = ["bay.length_at", "bay.width_at", "bay.left_at", "bay.right_at"];

/// What names stand for.
pub(crate) trait Known {
    /// The value of a name.
    fn value(&self, name: &str) -> Option<f64>;
    /// The value of one of [`READINGS`] at a height.
    fn reading(&self, name: &str, height: f64) -> Option<f64>;
}

/// What is wrong with an expression.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Fault {
    /// Bytes of the expression's text.
    pub(crate) at: Range<usize>,
    /// Lower case, no full stop.
    pub(crate) message: String,
}

/// An expression that has been read.
#[derive(Clone, Debug)]
pub(crate) struct Expression {
    root: Node,
    names: Vec<(String, Range<usize>)>,
}

#[derive(Clone, Debug)]
struct Node {
    at: Range<usize>,
    kind: Kind,
}

#[derive(Clone, Debug)]
enum Kind {
    Number(f64),
    Name(String),
    Negative(Box<Node>),
    Binary(u8, Box<Node>, Box<Node>),
    Call(String, Vec<Node>),
    Reading(String, Box<Node>),
}

impl Expression {
    /// Reads a text.
    pub(crate) fn parse(text: &str) -> Result<Self, Fault> {
        if text.len() > LONGEST_TEXT {
            let message =
                format!("this expression has {} characters; {LONGEST_TEXT} is the limit", text.len());
            return Err(Fault { at: 0..text.len(), message });
        }
        let mut parser =
            Parser { tokens: tokens(text)?, next: 0, depth: 0, end: text.len(), names: Vec::new() };
        let root = parser.sum()?;
        match parser.peek() {
            None => Ok(Expression { root, names: parser.names }),
            Some(_) => Err(parser.unexpected("an operator")),
        }
    }

    /// The names in it and where they stand, in the order of the text; readings are among them.
    pub(crate) fn names(&self) -> &[(String, Range<usize>)] {
        &self.names
    }

    /// Its value. A name that is not known is a fault.
    pub(crate) fn value(&self, known: &dyn Known) -> Result<f64, Fault> {
        value(&self.root, known)
    }
}

#[derive(Clone, Debug, PartialEq)]
enum Token {
    Number(f64),
    Name(String),
    Sign(u8),
}

type Placed = (Token, Range<usize>);

fn tokens(text: &str) -> Result<Vec<Placed>, Fault> {
    let bytes = text.as_bytes();
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(&byte) = bytes.get(at) {
        let start = at;
        match byte {
            b' ' | b'\t' | b'\n' | b'\r' => at += 1,
            b'0'..=b'9' | b'.' => {
                at = end_of_number(bytes, at);
                let message = || format!("`{}` is not a number", &text[start..at]);
                let number = text[start..at].parse().ok().filter(|n: &f64| n.is_finite());
                let number = number.ok_or_else(|| Fault { at: start..at, message: message() })?;
                found.push((Token::Number(number), start..at));
            }
            b'a'..=b'z' | b'A'..=b'Z' | b'_' => {
                while bytes.get(at).is_some_and(|b| b.is_ascii_alphanumeric() || matches!(b, b'_' | b'.')) {
                    at += 1;
                }
                found.push((Token::Name(text[start..at].to_owned()), start..at));
            }
            b'+' | b'-' | b'*' | b'/' | b'^' | b'(' | b')' | b',' => {
                at += 1;
                found.push((Token::Sign(byte), start..at));
            }
            _ => {
                let sign = text[start..].chars().next().unwrap_or('?');
                let message = format!("`{}` has no meaning in an expression", sign.escape_debug());
                return Err(Fault { at: start..start + sign.len_utf8(), message });
            }
        }
    }
    Ok(found)
}

/// One past the digits, point and exponent that start at `at`.
fn end_of_number(bytes: &[u8], mut at: usize) -> usize {
    while bytes.get(at).is_some_and(|b| b.is_ascii_digit() || *b == b'.') {
        at += 1;
    }
    if bytes.get(at).is_some_and(|b| matches!(b, b'e' | b'E')) {
        let sign = usize::from(bytes.get(at + 1).is_some_and(|b| matches!(b, b'+' | b'-')));
        if bytes.get(at + 1 + sign).is_some_and(u8::is_ascii_digit) {
            at += 1 + sign;
            while bytes.get(at).is_some_and(u8::is_ascii_digit) {
                at += 1;
            }
        }
    }
    at
}

/// Recursive descent: a sum of products of signed powers of atoms.
struct Parser {
    tokens: Vec<Placed>,
    next: usize,
    depth: usize,
    end: usize,
    names: Vec<(String, Range<usize>)>,
}

impl Parser {
    fn peek(&self) -> Option<&Token> {
        self.tokens.get(self.next).map(|(token, _)| token)
    }

    fn take_sign(&mut self, wanted: &[u8]) -> Option<u8> {
        match self.peek() {
            Some(Token::Sign(sign)) if wanted.contains(sign) => {
                let sign = *sign;
                self.next += 1;
                Some(sign)
            }
            _ => None,
        }
    }

    fn unexpected(&self, wanted: &str) -> Fault {
        match self.tokens.get(self.next) {
            None => Fault {
                at: self.end..self.end,
                message: format!("the expression stops where {wanted} is due"),
            },
            Some((token, at)) => {
                let found = match token {
                    Token::Number(_) => "a number".to_owned(),
                    Token::Name(name) => format!("`{name}`"),
                    Token::Sign(sign) => format!("`{}`", char::from(*sign)),
                };
                Fault { at: at.clone(), message: format!("found {found} where {wanted} is due") }
            }
        }
    }

    /// Runs `part` one level deeper.
    fn deeper(&mut self, part: fn(&mut Self) -> Result<Node, Fault>) -> Result<Node, Fault> {
        if self.depth == DEEPEST_NESTING {
            let message = format!("nested deeper than {DEEPEST_NESTING} levels");
            return Err(Fault { message, ..self.unexpected("") });
        }
        self.depth += 1;
        let node = part(self);
        self.depth -= 1;
        node
    }

    fn sum(&mut self) -> Result<Node, Fault> {
        let mut left = self.product()?;
        while let Some(sign) = self.take_sign(b"+-") {
            left = binary(sign, left, self.product()?);
        }
        Ok(left)
    }

    fn product(&mut self) -> Result<Node, Fault> {
        let mut left = self.signed()?;
        while let Some(sign) = self.take_sign(b"*/") {
            left = binary(sign, left, self.signed()?);
        }
        Ok(left)
    }

    /// A minus binds less than a power: `-2^2` is -4.
    fn signed(&mut self) -> Result<Node, Fault> {
        let start = self.tokens.get(self.next).map_or(self.end, |(_, at)| at.start);
        if self.take_sign(b"-").is_some() {
            let inner = self.deeper(Self::signed)?;
            return Ok(Node { at: start..inner.at.end, kind: Kind::Negative(Box::new(inner)) });
        }
        let base = self.atom()?;
        if self.take_sign(b"^").is_some() {
            let exponent = self.deeper(Self::signed)?;
            return Ok(binary(b'^', base, exponent));
        }
        Ok(base)
    }

    fn atom(&mut self) -> Result<Node, Fault> {
        let wanted = "a number, a name or `(`";
        let Some((token, at)) = self.tokens.get(self.next).cloned() else {
            return Err(self.unexpected(wanted));
        };
        match token {
            Token::Number(number) => {
                self.next += 1;
                Ok(Node { at, kind: Kind::Number(number) })
            }
            Token::Name(name) if FUNCTIONS.contains(&name.as_str()) => {
                self.next += 1;
                self.call(name, at.start)
            }
            Token::Name(name) if READINGS.contains(&name.as_str()) => {
                self.next += 1;
                self.names.push((name.clone(), at.clone()));
                self.reading(name, at.start)
            }
            Token::Name(name) => {
                self.next += 1;
                self.names.push((name.clone(), at.clone()));
                if name.starts_with("bay.") && self.peek() == Some(&Token::Sign(b'(')) {
                    let message = format!("the bay has no reading `{name}`; it has {}", READINGS.join(", "));
                    return Err(Fault { at, message });
                }
                Ok(Node { at, kind: Kind::Name(name) })
            }
            Token::Sign(b'(') => {
                self.next += 1;
                let inner = self.deeper(Self::sum)?;
                let end = self.close()?;
                Ok(Node { at: at.start..end, kind: inner.kind })
            }
            Token::Sign(_) => Err(self.unexpected(wanted)),
        }
    }

    fn call(&mut self, name: String, start: usize) -> Result<Node, Fault> {
        if self.take_sign(b"(").is_none() {
            return Err(self.unexpected(&format!("the `(` of `{name}`")));
        }
        let mut values = vec![self.deeper(Self::sum)?];
        while self.take_sign(b",").is_some() {
            values.push(self.deeper(Self::sum)?);
        }
        let end = self.close()?;
        let many = matches!(name.as_str(), "min" | "max");
        if many != (values.len() > 1) {
            let wanted = if many { "at least two values" } else { "one value" };
            let message = format!("`{name}` takes {wanted}, not {}", values.len());
            return Err(Fault { at: start..end, message });
        }
        Ok(Node { at: start..end, kind: Kind::Call(name, values) })
    }

    fn reading(&mut self, name: String, start: usize) -> Result<Node, Fault> {
        if self.take_sign(b"(").is_none() {
            return Err(self.unexpected(&format!("the height in parentheses of `{name}`")));
        }
        let height = self.deeper(Self::sum)?;
        let end = self.close()?;
        Ok(Node { at: start..end, kind: Kind::Reading(name, Box::new(height)) })
    }

    /// Takes the closing parenthesis; gives where it ends.
    fn close(&mut self) -> Result<usize, Fault> {
        match self.take_sign(b")") {
            Some(_) => Ok(self.tokens[self.next - 1].1.end),
            None => Err(self.unexpected("an operator or `)`")),
        }
    }
}

fn binary(sign: u8, left: Node, right: Node) -> Node {
    Node { at: left.at.start..right.at.end, kind: Kind::Binary(sign, Box::new(left), Box::new(right)) }
}

fn value(node: &Node, known: &dyn Known) -> Result<f64, Fault> {
    let fault = |message: String| Fault { at: node.at.clone(), message };
    let result = match &node.kind {
        Kind::Number(number) => *number,
        Kind::Name(name) => known.value(name).ok_or_else(|| fault(format!("`{name}` has no value")))?,
        Kind::Reading(name, height) => {
            let height = value(height, known)?;
            known.reading(name, height).ok_or_else(|| fault(format!("`{name}` has no value")))?
        }
        Kind::Negative(inner) => -value(inner, known)?,
        Kind::Binary(sign, left, right) => {
            let (a, b) = (value(left, known)?, value(right, known)?);
            match sign {
                b'+' => a + b,
                b'-' => a - b,
                b'*' => a * b,
                b'/' if b == 0.0 => return Err(fault("divides by zero".to_owned())),
                b'/' => a / b,
                _ => power(a, b).map_err(fault)?,
            }
        }
        Kind::Call(name, inner) => {
            let values = inner.iter().map(|n| value(n, known)).collect::<Result<Vec<f64>, Fault>>()?;
            call(name, &values).map_err(fault)?
        }
    };
    if result.is_finite() {
        Ok(result)
    } else {
        Err(fault("comes to more than a number can hold".to_owned()))
    }
}

/// Whole powers only, by multiplication: the library's power differs in the last bit between machines.
fn power(base: f64, exponent: f64) -> Result<f64, String> {
    if exponent.fract() != 0.0 || exponent.abs() > LARGEST_EXPONENT {
        return Err(format!(
            "the exponent must be a whole number from -{LARGEST_EXPONENT} to {LARGEST_EXPONENT}, not {exponent}"
        ));
    }
    let (mut product, mut count) = (1.0, exponent.abs());
    while count > 0.0 {
        product *= base;
        count -= 1.0;
    }
    match (exponent < 0.0, product == 0.0) {
        (true, true) => Err("divides by zero".to_owned()),
        (true, false) => Ok(1.0 / product),
        (false, _) => Ok(product),
    }
}

fn call(name: &str, values: &[f64]) -> Result<f64, String> {
    let first = values.first().copied().unwrap_or_default();
    Ok(match name {
        "min" => values.iter().copied().fold(first, f64::min),
        "max" => values.iter().copied().fold(first, f64::max),
        "abs" => first.abs(),
        "floor" => first.floor(),
        "ceil" => first.ceil(),
        "round" => first.round(),
        _ if first < 0.0 => return Err("takes the square root of a negative number".to_owned()),
        _ => first.sqrt(),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// A bay 1100 long that loses a quarter of a millimetre for each one of height.
    struct Example;

    impl Known for Example {
        fn value(&self, name: &str) -> Option<f64> {
            match name {
                "bay.width" => Some(1040.0),
                "gap" => Some(3.0),
                _ => None,
            }
        }

        fn reading(&self, name: &str, height: f64) -> Option<f64> {
            (name == "bay.length_at").then_some(1100.0 - height / 4.0)
        }
    }

    fn run(text: &str) -> Result<f64, String> {
        let place = |f: Fault| format!("{}..{} {}", f.at.start, f.at.end, f.message);
        Expression::parse(text).and_then(|e| e.value(&Example)).map_err(place)
    }

    #[test]
    fn values() {
        for (text, value) in [
            ("bay.width - 2 * gap", 1034.0),
            ("1 + 2 * 3 ^ 2", 19.0),
            ("2 ^ 3 ^ 2", 512.0),
            ("-2 ^ 2", -4.0),
            ("2 ^ -1", 0.5),
            ("10 - 4 - 3", 3.0),
            ("24 / 4 / 3", 2.0),
            ("2 - -gap", 5.0),
            ("max(1, min(2, 3), -8)", 2.0),
            ("min(5, 1) * min(2, 7)", 2.0),
            ("abs(-1.5) + floor(1.9) + ceil(1.1) + round(2.5) + sqrt(16)", 11.5),
            ("(1.5e2)/.5", 300.0),
            ("bay.length_at(100 * gap) - 12", 1013.0),
            ("bay.length_at(bay.length_at(0))", 825.0),
        ] {
            assert_eq!(run(text), Ok(value), "{text}");
        }
    }

    #[test]
    fn faults_have_a_place() {
        for (text, fault) in [
            ("", "0..0 the expression stops where a number, a name or `(` is due"),
            ("1 +", "3..3 the expression stops where a number, a name or `(` is due"),
            ("12 mm", "3..5 found `mm` where an operator is due"),
            ("12,5", "2..3 found `,` where an operator is due"),
            ("(1", "2..2 the expression stops where an operator or `)` is due"),
            ("1)", "1..2 found `)` where an operator is due"),
            ("1 ° 2", "2..4 `°` has no meaning in an expression"),
            ("1.2.3", "0..5 `1.2.3` is not a number"),
            ("1e999", "0..5 `1e999` is not a number"),
            ("min(1)", "0..6 `min` takes at least two values, not 1"),
            ("abs(1, 2)", "0..9 `abs` takes one value, not 2"),
            ("abs 3", "4..5 found a number where the `(` of `abs` is due"),
            ("2 + 1 / (gap - 3)", "4..17 divides by zero"),
            ("0 ^ -1", "0..6 divides by zero"),
            ("2 ^ 0.5", "0..7 the exponent must be a whole number from -32 to 32, not 0.5"),
            ("1e300 * 1e300", "0..13 comes to more than a number can hold"),
            ("sqrt(-1)", "0..8 takes the square root of a negative number"),
            ("gab", "0..3 `gab` has no value"),
            (
                "bay.length_at",
                "13..13 the expression stops where the height in parentheses of `bay.length_at` is due",
            ),
            ("bay.length_at(1, 2)", "15..16 found `,` where an operator or `)` is due"),
            ("bay.width_at(3)", "0..15 `bay.width_at` has no value"),
            (
                "bay.lenght_at(3)",
                "0..13 the bay has no reading `bay.lenght_at`; it has bay.length_at, bay.width_at, bay.left_at, \
                 bay.right_at",
            ),
        ] {
            assert_eq!(run(text), Err(fault.to_owned()), "{text}");
        }
    }

    #[test]
    fn length_and_depth_are_bounded() {
        assert!(run(&"(".repeat(300)).is_err_and(|f| f.contains("nested deeper than 40")));
        assert!(run(&"-".repeat(300)).is_err_and(|f| f.contains("nested deeper than 40")));
        assert!(run(&format!("1{}", "^1".repeat(150))).is_err_and(|f| f.contains("nested deeper than 40")));
        assert!(run(&"1+".repeat(300)).is_err_and(|f| f.contains("600 characters; 400 is the limit")));
        assert_eq!(run(&format!("1{}", "+1".repeat(199))), Ok(200.0));
        assert_eq!(run(&format!("{}1{}", "(".repeat(40), ")".repeat(40))), Ok(1.0));
    }

    proptest! {
        #[test]
        fn no_text_panics_and_values_are_finite(text in "[-+*/^(),. 0-9a-zé]{0,60}") {
            if let Ok(value) = run(&text) {
                prop_assert!(value.is_finite());
            }
        }
    }
}
