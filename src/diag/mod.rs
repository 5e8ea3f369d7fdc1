//! What is wrong with a design, where in the spec, and what to do about it.
//!
//! Three kinds of failure, three mechanisms: the designer's fault is a [`Finding`]; the machine's (disk,
//! arguments) is an error of `cli`; our own is an assertion with a message. Whoever finds a fault states facts;
//! only the renderer knows columns and colour.

mod render;
mod source;
mod suggest;

pub(crate) use render::{human, json};
pub(crate) use source::{At, SourceId, Sources, Span};
pub(crate) use suggest::{did_you_mean, nearest};

/// A kind of fault: its name, and all that `baywright explain` says about it.
///
/// A finding cannot be made without its rule, and every rule stands in the table that `explain` lists, so no
/// finding is without an explanation.
#[derive(Debug)]
pub(crate) struct Rule {
    /// Named for the fault, kebab-case, e.g. `slide-longer-than-bay`. Stable.
    pub(crate) name: &'static str,
    /// What it comes as. Errors stop a `make` and cannot be accepted.
    pub(crate) severity: Severity,
    /// What the rule finds, one or two sentences.
    pub(crate) finds: &'static str,
    /// Why it matters in the workshop or on the road.
    pub(crate) why: &'static str,
    /// A small spec (or part of one) that the rule finds fault with.
    pub(crate) failing: &'static str,
    /// The same, mended.
    pub(crate) passing: &'static str,
    /// Where the rule or its numbers come from: a standard, a page, or `common practice, no source`.
    pub(crate) source: &'static str,
}

impl Rule {
    /// Whether its findings stop a `make`.
    pub(crate) fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }
}

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Severity {
    /// The kit must not be cut: nothing is written.
    Error,
    /// The kit can be cut, but somebody should look; can be accepted in the spec with a reason.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word that people and machines read.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

/// One fault at one place.
#[derive(Clone, Debug)]
pub(crate) struct Finding {
    /// The kind of fault.
    pub(crate) rule: &'static Rule,
    /// The text in the spec that caused it.
    pub(crate) at: Span,
    /// Name of the part, joint or bolt that it is about; what `accept: on:` names. May be empty.
    pub(crate) on: String,
    /// Lower case, no full stop, the numbers with units.
    pub(crate) message: String,
    /// What to change.
    pub(crate) help: Option<String>,
    /// Other places that belong to it, each with a short note.
    pub(crate) also: Vec<(Span, String)>,
    /// The reason with which the spec accepts this warning.
    pub(crate) accepted: Option<String>,
}

impl Finding {
    /// A finding of `rule` at a place in the spec.
    pub(crate) fn new(rule: &'static Rule, at: Span, message: impl Into<String>) -> Self {
        Finding {
            rule,
            at,
            on: String::new(),
            message: message.into(),
            help: None,
            also: Vec::new(),
            accepted: None,
        }
    }

    /// The same finding, about the named part, joint or bolt.
    pub(crate) fn on(mut self, name: impl Into<String>) -> Self {
        self.on = name.into();
        self
    }

    /// The same finding with its remedy.
    pub(crate) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// The same finding with a further place.
    pub(crate) fn also(mut self, at: Span, note: impl Into<String>) -> Self {
        self.also.push((at, note.into()));
        self
    }

    /// Whether it stops a `make`.
    pub(crate) fn is_error(&self) -> bool {
        self.rule.is_error()
    }
}

/// How many findings of each kind there are; accepted ones count as such only.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Counts {
    /// That stop a `make`.
    pub(crate) errors: usize,
    /// That somebody should look at.
    pub(crate) warnings: usize,
    /// That the spec accepts.
    pub(crate) accepted: usize,
    /// Worth knowing.
    pub(crate) notes: usize,
}

impl Counts {
    /// Counts them.
    pub(crate) fn of(findings: &[Finding]) -> Self {
        let count = |severity| {
            let open = |finding: &&Finding| finding.rule.severity == severity && finding.accepted.is_none();
            findings.iter().filter(open).count()
        };
        Counts {
            errors: count(Severity::Error),
            warnings: count(Severity::Warning),
            accepted: findings.iter().filter(|finding| finding.accepted.is_some()).count(),
            notes: count(Severity::Note),
        }
    }
}

/// The findings of a run, in any order until [`Findings::sorted`].
#[derive(Clone, Debug, Default)]
pub(crate) struct Findings(Vec<Finding>);

impl Findings {
    /// Adds a finding.
    pub(crate) fn push(&mut self, finding: Finding) {
        self.0.push(finding);
    }

    /// Whether any of them stops a `make`.
    pub(crate) fn has_errors(&self) -> bool {
        self.0.iter().any(Finding::is_error)
    }

    /// The findings so far, in the order in which they were made.
    pub(crate) fn iter(&self) -> impl Iterator<Item = &Finding> {
        self.0.iter()
    }

    /// The findings so far, to be marked as accepted.
    pub(crate) fn iter_mut(&mut self) -> impl Iterator<Item = &mut Finding> {
        self.0.iter_mut()
    }

    /// All findings by place (file, offset), then rule, then message; a finding made twice stands once.
    pub(crate) fn sorted(mut self) -> Vec<Finding> {
        let key = |f: &Finding| (f.at, f.rule.name, f.on.clone(), f.message.clone());
        self.0.sort_by_key(key);
        self.0.dedup_by_key(|f| key(f));
        self.0
    }
}
