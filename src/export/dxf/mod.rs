//! DXF writer: a cut file in, bytes out, in the oldest version that machines read and in the oldest with
//! polylines of one entity.
//!
//! The `dxf` crate writes entities and tables, [`repair`] makes of its pairs what strict readers take. Closed
//! contours are polylines with true arcs, bores are circles, text stands on the layer for notes; layer 0 stays
//! empty. Same input, same bytes: no times, no random identifiers.

mod entities;
mod pairs;
mod repair;

use super::cutfile::{CutFile, LayerNames};
use super::drawn::Drawn;

/// Which DXF is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DxfVersion {
    /// AC1015: contours are LWPOLYLINE.
    R2000,
    /// AC1009, for old controllers: contours are POLYLINE with VERTEX.
    R12,
}

/// The cut file as the bytes of a DXF: millimetres, 1:1, coordinates with six decimals, line ends CRLF.
pub(crate) fn write(file: &CutFile, layers: &LayerNames, version: DxfVersion) -> Vec<u8> {
    let drawing = entities::drawing(&Drawn::new(file, layers), file.size, version);
    let mut raw = Vec::new();
    assert!(drawing.save(&mut raw).is_ok(), "a drawing is written to memory, which takes every byte");
    pairs::to_bytes(&repair::repaired(&pairs::from_bytes(&raw), version))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::export::cutfile::examples::{layer_names, small_panel};
    use crate::golden;
    use ::dxf::Drawing;
    use ::dxf::entities::EntityType;
    use std::collections::BTreeSet;

    fn read(version: DxfVersion) -> Drawing {
        let bytes = write(&small_panel(), &layer_names(), version);
        Drawing::load(&mut bytes.as_slice()).unwrap()
    }

    #[test]
    fn the_golden_stays() {
        golden::check("cutfile/small-panel.dxf", &write(&small_panel(), &layer_names(), DxfVersion::R2000));
    }

    #[test]
    fn a_second_run_gives_the_same_bytes() {
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            let once = write(&small_panel(), &layer_names(), version);
            assert_eq!(once, write(&small_panel(), &layer_names(), version));
            assert!(once.is_ascii());
        }
    }

    #[test]
    fn contours_read_back_as_they_were() {
        let of_r2000: Vec<Vec<[f64; 3]>> = read(DxfVersion::R2000)
            .entities()
            .filter_map(|entity| match &entity.specific {
                EntityType::LwPolyline(line) => {
                    assert!(line.is_closed());
                    Some(line.vertices.iter().map(|v| [v.x, v.y, v.bulge]).collect())
                }
                _ => None,
            })
            .collect();
        let of_r12: Vec<Vec<[f64; 3]>> = read(DxfVersion::R12)
            .entities()
            .filter_map(|entity| match &entity.specific {
                EntityType::Polyline(line) => {
                    assert!(line.is_closed());
                    Some(line.vertices().map(|v| [v.location.x, v.location.y, v.bulge]).collect())
                }
                _ => None,
            })
            .collect();
        assert_eq!(of_r2000, of_r12);
        assert_eq!(of_r2000.len(), 3);
        assert_eq!(of_r2000[2], [[0.0, 0.0, 0.0], [170.0, 0.0, 1.0], [170.0, 60.0, 0.0], [0.0, 60.0, 0.0]]);
    }

    #[test]
    fn entities_are_on_declared_layers_and_none_on_layer_0() {
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            let drawing = read(version);
            let declared: BTreeSet<&str> = drawing.layers().map(|layer| layer.name.as_str()).collect();
            let all = BTreeSet::from(["0", "board", "hole", "part", "remark", "sink_3_72", "window"]);
            assert_eq!(declared, all);
            assert_eq!(drawing.entities().count(), 7);
            for entity in drawing.entities() {
                let layer = entity.common.layer.as_str();
                assert!(declared.contains(layer) && layer != "0", "{layer}");
                assert_eq!(matches!(entity.specific, EntityType::Text(_)), layer == "remark");
            }
        }
    }

    #[test]
    fn units_and_extents_are_in_the_head() {
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            let bytes = write(&small_panel(), &layer_names(), version);
            let text = String::from_utf8(bytes).unwrap().replace("\r\n", "|").replace(' ', "");
            for pair in [
                "9|$INSUNITS|70|4|",
                "9|$MEASUREMENT|70|1|",
                "9|$EXTMIN|10|0.0|20|0.0|30|0.0|",
                "9|$EXTMAX|10|200.0|20|60.0|30|0.0|",
                "9|$LIMMAX|10|200.0|20|60.0|",
            ] {
                assert!(text.contains(pair), "{version:?}: {pair}");
            }
        }
    }
}
