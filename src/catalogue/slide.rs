//! Drawer slides, side mounted.
//!
//! Takes rows of `data/slides.yaml`, gives [`Slide`]s. A rating belongs to one row and is never computed for
//! another length. Does not place slides or say which one a drawer needs.

use serde::Deserialize;

/// One slide in one length; a drawer takes a pair.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Slide {
    /// What a spec calls it: family and length, e.g. `heavy-800`.
    pub(crate) id: String,
    /// The family, e.g. `heavy`.
    pub(crate) family: String,
    /// mm. Length closed.
    pub(crate) length: f64,
    /// mm. How far the moving member comes out.
    pub(crate) travel: f64,
    /// mm. How far it lowers what it carries once it is fully open; 0 for all but drop slides.
    pub(crate) drop: f64,
    /// mm. Side space that one slide takes between drawer and carcase.
    pub(crate) thickness: f64,
    /// mm. Height of the profile.
    pub(crate) height: f64,
    /// kg. Gross load (drawer, front and contents) for the pair at this length, if its source gives one.
    pub(crate) rating_pair: Option<f64>,
    /// mm. Fixing holes of the fixed member, from its front end, on its centre line, rising.
    pub(crate) fixed: Vec<f64>,
    /// mm. Fixing holes of the moving member, from its front end, on its centre line, rising.
    pub(crate) moving: Vec<f64>,
    /// Thread size of the bolts through those holes.
    pub(crate) bolt: String,
    /// mm. Thickness of the member's sheet under a bolt's head.
    pub(crate) wall: f64,
    /// mm. Height that is free for a bolt's head inside a member.
    pub(crate) head_room: f64,
    /// kg. Mass of the pair.
    pub(crate) mass_pair: f64,
    /// Where the row comes from.
    pub(crate) source: String,
}

/// `data/slides.yaml` as written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SlideFile {
    families: Vec<SlideGroup>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SlideGroup {
    family: String,
    thickness_mm: f64,
    height_mm: f64,
    wall_mm: f64,
    head_room_mm: f64,
    bolt: String,
    slides: Vec<SlideRow>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SlideRow {
    id: String,
    length_mm: f64,
    travel_mm: f64,
    #[serde(default)]
    drop_mm: f64,
    rating_pair_kg: Option<f64>,
    mass_pair_kg: f64,
    fixed_mm: Vec<f64>,
    moving_mm: Vec<f64>,
    source: String,
}

impl SlideFile {
    /// One [`Slide`] a length, what its family shares copied into it.
    pub(super) fn rows(self) -> Vec<Slide> {
        self.families.into_iter().flat_map(SlideGroup::rows).collect()
    }
}

impl SlideGroup {
    fn rows(mut self) -> Vec<Slide> {
        let slides = std::mem::take(&mut self.slides);
        slides
            .into_iter()
            .map(|row| Slide {
                id: row.id,
                family: self.family.clone(),
                length: row.length_mm,
                travel: row.travel_mm,
                drop: row.drop_mm,
                thickness: self.thickness_mm,
                height: self.height_mm,
                rating_pair: row.rating_pair_kg,
                fixed: row.fixed_mm,
                moving: row.moving_mm,
                bolt: self.bolt.clone(),
                wall: self.wall_mm,
                head_room: self.head_room_mm,
                mass_pair: row.mass_pair_kg,
                source: row.source,
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::{Catalogue, HeadKind};

    fn lengths(family: &str) -> Vec<u32> {
        let millimetres = |slide: &&std::sync::Arc<Slide>| format!("{}", slide.length).parse().unwrap();
        Catalogue::built_in().slide_family(family).iter().map(millimetres).collect()
    }

    #[test]
    fn families_have_their_lengths() {
        assert_eq!(lengths("ordinary"), (300..=700).step_by(50).collect::<Vec<_>>());
        let heavy: Vec<u32> = (300..=800).step_by(50).chain((900..=1200).step_by(100)).collect();
        assert_eq!(lengths("heavy"), heavy);
    }

    #[test]
    fn rows_are_sound() {
        for slide in Catalogue::built_in().slides.values() {
            let id = &slide.id;
            assert_eq!(*id, format!("{}-{}", slide.family, slide.length));
            let beyond = slide.travel - slide.length;
            let extends_fully = ["ordinary", "heavy"].contains(&slide.family.as_str());
            assert!(if extends_fully { beyond.abs() < 1e-9 } else { beyond > 0.0 }, "{id}");
            assert!((slide.drop > 0.0) == (slide.family == "drop"), "{id}");
            assert!(2.0 * (slide.wall + slide.head_room) < slide.thickness, "{id}: two members side by side");
            assert!(slide.thickness < slide.height && slide.height < slide.length, "{id}");
            assert!((0.3..15.0).contains(&slide.mass_pair), "{id}");
        }
    }

    /// Common practice, no source: 3 fixings to 500 mm, 4 to 800, 5 above; front, middle, rear.
    #[test]
    fn fixings_stand_on_the_grid_within_the_member() {
        for slide in Catalogue::built_in().slides.values() {
            let count = if slide.length <= 500.0 {
                3
            } else if slide.length <= 800.0 {
                4
            } else {
                5
            };
            for (holes, front, rear) in [(&slide.fixed, 35.0, 20.0..52.0), (&slide.moving, 51.0, 45.0..77.0)]
            {
                let id = &slide.id;
                assert_eq!(holes.len(), count, "{id}");
                assert!((holes[0] - front).abs() < 1e-9, "{id}");
                for hole in holes {
                    let pitches = (hole - front) / 32.0;
                    assert!((pitches - pitches.round()).abs() < 1e-9, "{id}: {hole} is off the grid");
                }
                let left = slide.length - holes[count - 1];
                assert!(rear.contains(&left), "{id}: the last hole is not the rearmost, {left}");
                let even = (holes[count - 1] - holes[0]) / (count - 1) as f64;
                for pair in holes.windows(2) {
                    let step = pair[1] - pair[0];
                    assert!(step > 0.0 && (step - even).abs() <= 32.0, "{id}: holes bunch, {step}");
                }
            }
        }
    }

    #[test]
    fn the_bolts_of_both_members_fit_in_the_closed_slide() {
        for slide in Catalogue::built_in().slides.values() {
            let head = Catalogue::built_in().head(HeadKind::Button, &slide.bolt).unwrap();
            assert!(head.height < slide.head_room, "{}", slide.id);
            assert!(head.width < slide.height, "{}", slide.id);
            for fixed in &slide.fixed {
                for moving in &slide.moving {
                    assert!((fixed - moving).abs() > head.width, "{}: heads face", slide.id);
                }
            }
        }
    }

    #[test]
    fn ratings_do_not_rise_with_length() {
        for (family, first, last) in [("ordinary", 45.0, 35.0), ("heavy", 150.0, 70.0)] {
            let ratings: Vec<f64> = Catalogue::built_in()
                .slide_family(family)
                .iter()
                .filter_map(|slide| slide.rating_pair)
                .collect();
            assert_eq!(ratings.len(), lengths(family).len());
            assert_eq!((ratings.first(), ratings.last()), (Some(&first), Some(&last)));
            assert!(ratings.windows(2).all(|pair| pair[0] >= pair[1] && pair[1] > 0.0), "{family}");
        }
    }

    #[test]
    fn a_slide_may_lack_a_rating() {
        let text = "families: [{family: own, thickness_mm: 13, height_mm: 45, wall_mm: 1.2, head_room_mm: 3, \
                    bolt: M5, slides: [{id: own-400, length_mm: 400, travel_mm: 300, mass_pair_kg: 1, \
                    fixed_mm: [35, 355], moving_mm: [35, 355], source: data sheet}]}]";
        let slides = serde_yaml::from_str::<SlideFile>(text).unwrap().rows();
        assert_eq!(slides[0].rating_pair, None);
        assert_eq!(slides[0].id, "own-400");
    }
}
