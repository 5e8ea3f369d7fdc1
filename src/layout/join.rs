//! Which rule decides how two boards are joined: the drawer's before its carcase's before the kit's, and an
//! exception by name before a default.

use super::carcase::Builder;
use super::meeting::{ContactLine, Cover, FaceMeeting, JointPlan, Meeting, contact_lines, joint_name};
use super::{BoardId, defaults};
use crate::diag::{At, Finding, Span};
use crate::geom::{Aabb, Vector3, VehicleFrame};
use crate::spec::{Bolts, Carcase, Design, Drawer, JointKind, Joints};

/// The rules that apply to a joint, the narrowest first.
pub(super) struct JointRules<'a> {
    joints: Vec<&'a Joints>,
    bolts: Vec<&'a Bolts>,
    angle: &'static str,
    /// Whether what `joints: corner` says reaches here.
    corners: bool,
    span: Span,
}

impl<'a> JointRules<'a> {
    /// For the boards of a carcase.
    pub(super) fn of_carcase(design: &'a Design, carcase: &'a Carcase) -> Self {
        JointRules {
            joints: vec![&carcase.joints, &design.joints],
            bolts: vec![&carcase.bolts, &design.bolts],
            angle: defaults::CARCASE_ANGLE,
            corners: true,
            span: carcase.span,
        }
    }

    /// For a wing beside a carcase, asked for at `span`: on an angle whatever the corners of the carcase are.
    pub(super) fn of_wing(design: &'a Design, carcase: &'a Carcase, span: Span) -> Self {
        JointRules { corners: false, span, ..JointRules::of_carcase(design, carcase) }
    }

    /// For the boards of a drawer. The kit's and the carcase's choice of angle and bolt size are for their own
    /// heavier boards and do not reach into drawers; their choice of the kind of joint does.
    pub(super) fn of_drawer(design: &'a Design, carcase: &'a Carcase, drawer: &'a Drawer) -> Self {
        JointRules {
            joints: vec![&drawer.joints, &carcase.drawer_joints, &carcase.joints, &design.joints],
            bolts: Vec::new(),
            angle: defaults::DRAWER_ANGLE,
            corners: true,
            span: drawer.span,
        }
    }

    /// The kind of the joint called `name`.
    pub(super) fn kind(&self, name: &str) -> At<JointKind> {
        let named = self.named(name).find_map(|exception| exception.kind);
        let default = || self.joints.iter().filter(|_| self.corners).find_map(|joints| joints.corner);
        named.or_else(default).unwrap_or(At::new(JointKind::Angle, self.span))
    }

    /// Name of the angle section for the joint called `name`, at the place that asks for it.
    fn angle(&self, name: &str) -> At<String> {
        let named = self.named(name).find_map(|exception| exception.angle.clone());
        let own = if self.bolts.is_empty() { 2 } else { self.joints.len() };
        let default = || self.joints.iter().take(own).find_map(|joints| joints.angle.clone());
        named.or_else(default).unwrap_or_else(|| At::new(self.angle.to_owned(), self.span))
    }

    /// Exceptions that match the joint called `name`; of those at one level the last comes first.
    fn named(&self, name: &str) -> impl Iterator<Item = &'a crate::spec::NamedJoint> {
        let name = name.to_owned();
        self.joints
            .clone()
            .into_iter()
            .flat_map(|joints| joints.named.iter().rev())
            .filter(move |exception| matches_joint(&exception.pattern.value, &name))
    }
}

/// Whether a pattern names a joint, in either order of the two panels.
pub(super) fn matches_joint(pattern: &str, joint: &str) -> bool {
    let turned = joint.split_once('+').map(|(a, b)| format!("{b}+{a}"));
    matches(pattern, joint) || turned.is_some_and(|turned| matches(pattern, &turned))
}

/// Whether `text` is spelled by `pattern`, in which each `*` stands for any run of characters.
pub(super) fn matches(pattern: &str, text: &str) -> bool {
    let mut pieces = pattern.split('*');
    let first = pieces.next().unwrap_or("");
    let Some(mut rest) = text.strip_prefix(first) else { return false };
    let mut pieces: Vec<&str> = pieces.collect();
    let Some(last) = pieces.pop() else { return rest.is_empty() };
    for piece in pieces {
        let Some(found) = rest.find(piece) else { return false };
        rest = &rest[found + piece.len()..];
    }
    rest.ends_with(last)
}

impl Builder<'_> {
    /// How the joint called `name` is to be made. An unknown angle is a finding; the joint then goes without.
    pub(super) fn plan(&mut self, rules: &JointRules<'_>, name: &str) -> JointPlan {
        let kind = rules.kind(name);
        let angle = match kind.value {
            JointKind::Angle => self.catalogue.find_angle(self.findings, &rules.angle(name)),
            JointKind::CaptiveNut | JointKind::Face => None,
        };
        let exceptions = rules.named(name).map(|exception| &exception.bolts);
        let bolts: Vec<&Bolts> = exceptions.chain(rules.bolts.iter().copied()).collect();
        let spacing = bolts.iter().find_map(|bolts| bolts.spacing);
        JointPlan {
            kind: kind.value,
            angle,
            size: bolts.iter().find_map(|bolts| bolts.size.clone()),
            spacing: spacing.map_or(defaults::BOLT_SPACING, |spacing| spacing.value),
            at: bolts.iter().find_map(|bolts| bolts.at.clone()),
            span: kind.span,
        }
    }

    /// Two boards meet, the first with an edge, joined by the given rules: once for each piece of the line along
    /// which they touch. Boards that do not touch have none.
    pub(super) fn meet_by(
        &mut self,
        rules: &JointRules<'_>,
        edge: BoardId,
        face: BoardId,
        inside: &[Vector3<VehicleFrame>],
    ) {
        let lines = contact_lines(self.layout, edge, face, None);
        self.meet_along(rules, (edge, face), inside, lines);
    }

    /// The same for an edge that may also lie up to `beside` mm past the face.
    pub(super) fn meet_beside(
        &mut self,
        rules: &JointRules<'_>,
        (edge, face): (BoardId, BoardId),
        inside: &[Vector3<VehicleFrame>],
        beside: f64,
    ) {
        let lines = contact_lines(self.layout, edge, face, Some(beside));
        self.meet_along(rules, (edge, face), inside, lines);
    }

    fn meet_along(
        &mut self,
        rules: &JointRules<'_>,
        (edge, face): (BoardId, BoardId),
        inside: &[Vector3<VehicleFrame>],
        lines: Vec<ContactLine>,
    ) {
        for (number, line) in lines.into_iter().enumerate() {
            let ContactLine { start, along, length, into_edge, cover } = line;
            let name = joint_name(self.layout, edge, face);
            let plan = self.corner_plan(rules, &name, cover == Cover::Whole);
            let name = if number == 0 { name } else { format!("{name}.{}", number + 1) };
            let (face_from, inside) = match cover {
                Cover::Whole | Cover::Part => (0.0, inside.to_vec()),
                Cover::Beside { from, towards } => (from, vec![towards]),
            };
            self.layout.meetings.push(Meeting {
                name,
                edge,
                face,
                start,
                along,
                length,
                into_edge,
                face_from,
                inside,
                plan,
            });
        }
    }

    /// How an edge is joined to a face that covers its whole thickness, or only a part of it.
    fn corner_plan(&mut self, rules: &JointRules<'_>, name: &str, covered: bool) -> JointPlan {
        let mut plan = self.plan(rules, name);
        if plan.kind == JointKind::CaptiveNut && !covered {
            // Half a tab needs no slot but a notch, and the bolt would split the face's edge: an angle holds there.
            if rules.named(name).any(|exception| exception.kind.is_some()) {
                self.partly_covered(&plan, name);
            }
            plan.kind = JointKind::Angle;
            plan.angle = self.catalogue.find_angle(self.findings, &rules.angle(name));
            plan.size = None;
        }
        plan
    }

    /// Captive nuts asked for by name where they cannot be.
    fn partly_covered(&mut self, plan: &JointPlan, name: &str) {
        let message = "the face covers only a part of this edge's thickness, so a tab would stand beside it";
        self.findings.push(
            Finding::new(&super::rules::CAPTIVE_NUT_AT_PART_OF_EDGE, plan.span, message)
                .on(name)
                .help("take `angle` here, or `fronts: {style: inset}`"),
        );
    }

    /// Two boards lie face to face, bolted through both with the heads on the first.
    pub(super) fn meet_faces(&mut self, rules: &JointRules<'_>, head: BoardId, nut: BoardId) {
        let (a, b) = (self.layout.board(head).aabb, self.layout.board(nut).aabb);
        let contact = Aabb { low: a.low.max(b.low), high: a.high.min(b.high) };
        self.meet_on(rules, (head, nut), contact, None);
    }

    /// The same where they share only `contact` of their faces, with bolts of `size` unless the rules have another.
    pub(super) fn meet_faces_on(
        &mut self,
        rules: &JointRules<'_>,
        boards: (BoardId, BoardId),
        contact: Aabb,
        size: At<String>,
    ) {
        self.meet_on(rules, boards, contact, Some(size));
    }

    fn meet_on(
        &mut self,
        rules: &JointRules<'_>,
        (head, nut): (BoardId, BoardId),
        contact: Aabb,
        size: Option<At<String>>,
    ) {
        let name = joint_name(self.layout, head, nut);
        let mut plan = self.plan(rules, &name);
        plan.kind = JointKind::Face;
        let asked = rules.named(&name).find_map(|exception| exception.bolts.size.clone());
        plan.size = if size.is_some() { asked.or(size) } else { plan.size };
        self.layout.face_meetings.push(FaceMeeting { name, head, nut, contact, plan });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_star_stands_for_any_run_of_characters() {
        for (pattern, joint, expected) in [
            ("main-back+main-side-left", "main-back+main-side-left", true),
            ("main-side-left+main-back", "main-back+main-side-left", true),
            ("main-shelf-*", "main-divider-1+main-shelf-2", true),
            ("*+*", "a+b", true),
            ("main-*-left+x", "main-side-right+x", false),
            ("main", "main-back+main-side-left", false),
            ("*-left", "main-back+main-side-left", true),
        ] {
            assert_eq!(matches_joint(pattern, joint), expected, "{pattern} on {joint}");
        }
    }
}
