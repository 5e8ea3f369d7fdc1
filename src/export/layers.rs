//! Which layer each operation is drawn on: the workshop's own names, and defaults where it gives none.

use super::cutfile::LayerNames;
use crate::diag::At;
use crate::spec::Layers;

/// What stands for the depth, in mm, in the name of a layer.
const DEPTH: &str = "_{depth}";

/// The names of a workshop's layers. The depth of a countersink or of a skin is always put behind its name, so that every
/// depth has a layer of its own.
pub(crate) fn names(layers: &Layers) -> LayerNames {
    let named = |given: &Option<At<String>>, default: &str| {
        given.as_ref().map_or_else(|| default.to_owned(), |name| name.value.clone())
    };
    LayerNames {
        outline: named(&layers.outline, "OUTLINE_THROUGH"),
        skin: named(&layers.skin, "OUTLINE_SKIN") + DEPTH,
        tab: named(&layers.tab, "TAB"),
        opening: named(&layers.opening, "OPENING_THROUGH"),
        bore: named(&layers.bore, "BORE_THROUGH"),
        countersink: named(&layers.countersink, "COUNTERSINK") + DEPTH,
        engraving: named(&layers.engraving, "ENGRAVE"),
        note: named(&layers.note, "NOTE"),
        stock: named(&layers.stock, "STOCK"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Span;
    use crate::export::cutfile::Operation;

    #[test]
    fn given_names_stand_and_depths_are_added() {
        let layers =
            Layers { countersink: Some(At::new("sink".into(), Span::default())), ..Layers::default() };
        let names = names(&layers);
        assert_eq!(names.of(Operation::Countersink { depth: 2.85 }), "sink_2_85");
        assert_eq!(names.of(Operation::Outline), "OUTLINE_THROUGH");
    }
}
