//! Which bolt, washers and nut hold a stack of given thickness.
//!
//! Length rule: what the head clamps (washers, panels, metal), the nut and one to three threads proud of it,
//! from the nominal length series of the head's standard. Where no length falls into that window, another kind
//! of nut is tried, then further plain washers, at last no washer under a nut on metal.

use super::{Catalogue, Head, HeadKind, Nut, NutKind, Thread, Washer, WasherKind};
use crate::geom::tolerance::SAME_LENGTH;

/// Most and least threads that may stand proud of a nut. Fewer and a lock nut's insert does not hold; more and
/// the end catches what moves. Common practice, no source (one code asks for three).
const PROUD_THREADS: (f64, f64) = (1.0, 3.0);

/// Most plain washers added under a nut to bring the thread's end into the window.
const MOST_EXTRA_WASHERS: usize = 3;

/// What lies under a head or a nut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Bearing {
    /// Wood or plastic: a large washer (outside diameter at least three times the bolt's).
    Board,
    /// Metal: a plain washer.
    Metal,
    /// A slide's channel: no washer, unless the thread's end wants one and there is room.
    Channel,
}

impl Bearing {
    fn washer(self) -> Option<WasherKind> {
        match self {
            Bearing::Board => Some(WasherKind::Large),
            Bearing::Metal => Some(WasherKind::Plain),
            Bearing::Channel => None,
        }
    }
}

/// What a bolt has to hold.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Need<'a> {
    /// Form of the head, where it need not lie flush.
    pub(crate) head: HeadKind,
    /// Thread size.
    pub(crate) size: &'a str,
    /// mm of panels and metal between the bearing faces of head (or its washer) and nut (or its washer).
    pub(crate) stack: f64,
    /// Whether the head must lie flush in the board: a countersunk one.
    pub(crate) flush: bool,
    /// Under the head, if it is not flush.
    pub(crate) under_head: Bearing,
    /// Under the nut.
    pub(crate) under_nut: Bearing,
    /// Kinds of nut, in order of preference.
    pub(crate) nuts: &'a [NutKind],
    /// mm that washer, nut and thread may stand out at most, if there is a limit.
    pub(crate) room: Option<f64>,
}

/// Nuts where a joint stays closed: prevailing torque, the low form first.
pub(crate) const LOCK_NUTS: &[NutKind] = &[NutKind::LowLock, NutKind::Lock];

/// Nuts where little room is: low lock nuts, then plain ones, which want thread lock.
pub(crate) const LOW_NUTS: &[NutKind] = &[NutKind::LowLock, NutKind::Hex, NutKind::Lock];

/// Nuts inside a slide's channel.
pub(crate) const CHANNEL_NUTS: &[NutKind] = &[NutKind::Thin];

/// A bolt with all that belongs to it.
#[derive(Clone, Debug)]
pub(crate) struct Hardware {
    /// Its thread.
    pub(crate) thread: Thread,
    /// Its head.
    pub(crate) head: Head,
    /// Nominal length, mm, as its standard measures it.
    pub(crate) length: f64,
    /// Under the head.
    pub(crate) head_washer: Option<Washer>,
    /// Under the nut, from the panel outwards.
    pub(crate) nut_washers: Vec<Washer>,
    /// Its nut; `None` where it goes into a thread of the vehicle.
    pub(crate) nut: Option<Nut>,
    /// mm of thread beyond the nut, or in the vehicle's thread.
    pub(crate) proud: f64,
}

impl Hardware {
    /// mm that head and washer stand out over the panel's face; 0 for a flush head.
    pub(crate) fn head_height(&self) -> f64 {
        if self.head.length_is_overall {
            0.0
        } else {
            self.head.height + self.head_washer.as_ref().map_or(0.0, |washer| washer.thickness)
        }
    }

    /// mm that washers, nut, its ring and the thread stand out over the face on the nut's side.
    pub(crate) fn nut_height(&self) -> f64 {
        let nut = self.nut.as_ref().map_or(0.0, |nut| (nut.height + self.proud).max(nut.ring.unwrap_or(0.0)));
        self.nut_washers.iter().map(|washer| washer.thickness).sum::<f64>() + nut
    }

    /// mm. Radius of the largest of head and washer.
    pub(crate) fn head_radius(&self) -> f64 {
        self.head_washer.as_ref().map_or(0.0, |washer| washer.outer).max(self.head.width) / 2.0
    }

    /// mm. Radius of the largest of nut (across its corners) and washers.
    pub(crate) fn nut_radius(&self) -> f64 {
        let nut = self.nut.as_ref().map_or(0.0, |nut| nut.across_corners().max(nut.ring.unwrap_or(0.0)));
        self.nut_washers.iter().map(|washer| washer.outer).fold(nut, f64::max) / 2.0
    }

    /// kg of bolt, washers and nut.
    pub(crate) fn mass(&self) -> f64 {
        let washers = self.head_washer.iter().chain(&self.nut_washers).map(Washer::mass).sum::<f64>();
        self.head.mass(self.length) + washers + self.nut.as_ref().map_or(0.0, |nut| nut.mass)
    }
}

/// The shortest set of hardware that holds the stack, or the shortest length that would be needed if the
/// catalogue has none in the window.
pub(crate) fn choose(catalogue: &Catalogue, need: Need<'_>) -> Result<Hardware, f64> {
    let kind = if need.flush { HeadKind::Countersunk } else { need.head };
    let (Some(thread), Some(head)) = (catalogue.thread(need.size), catalogue.head(kind, need.size)) else {
        return Err(0.0);
    };
    let washer =
        |bearing: Bearing| bearing.washer().and_then(|kind| catalogue.washer(kind, need.size)).cloned();
    let head_washer = if need.flush { None } else { washer(need.under_head) };
    let clamped = need.stack + head_washer.as_ref().map_or(0.0, |washer| washer.thickness);
    let own = washer(need.under_nut);
    let plain = catalogue.washer(WasherKind::Plain, need.size).cloned();
    let mut shortest = f64::INFINITY;
    for nut_washers in washer_stacks(need.under_nut, own, plain) {
        for nut in need.nuts.iter().filter_map(|&kind| catalogue.nut(kind, need.size)) {
            let beyond = nut_washers.iter().map(|washer| washer.thickness).sum::<f64>() + nut.height;
            let least = clamped + beyond + PROUD_THREADS.0 * thread.pitch;
            shortest = shortest.min(least);
            let Some(length) = head.length_from(least - SAME_LENGTH) else { continue };
            let proud = length - clamped - beyond;
            let nut_washers = nut_washers.clone();
            let in_window = proud <= PROUD_THREADS.1 * thread.pitch + SAME_LENGTH;
            let in_room = need.room.is_none_or(|room| beyond + proud <= room + SAME_LENGTH);
            if in_window && in_room {
                return Ok(Hardware {
                    thread: thread.clone(),
                    head: head.clone(),
                    length,
                    head_washer,
                    nut_washers,
                    nut: Some(nut.clone()),
                    proud,
                });
            }
        }
    }
    Err(shortest)
}

/// What may lie under a nut, in order of preference.
fn washer_stacks(under: Bearing, own: Option<Washer>, plain: Option<Washer>) -> Vec<Vec<Washer>> {
    if under == Bearing::Channel {
        return vec![Vec::new(), plain.into_iter().collect()];
    }
    let own: Vec<Washer> = own.into_iter().collect();
    let with =
        |extra| own.iter().cloned().chain(std::iter::repeat_n(plain.clone(), extra).flatten()).collect();
    let mut stacks: Vec<Vec<Washer>> = (0..=MOST_EXTRA_WASHERS).map(with).collect();
    if under == Bearing::Metal {
        stacks.push(Vec::new());
    }
    stacks
}

/// A bolt along a panel's mid-plane into a nut held in a slot of that panel.
///
/// `before` is what lies between head and slotted panel (washer not counted), `to_nut` the least distance from
/// the edge to the nut. Reach: washer + mating panel + distance to the nut + nut + one pitch.
pub(crate) fn choose_captive(
    catalogue: &Catalogue,
    size: &str,
    before: f64,
    to_nut: f64,
    flush: bool,
) -> Result<Hardware, f64> {
    let kind = if flush { HeadKind::Countersunk } else { HeadKind::Button };
    let (Some(thread), Some(head), Some(nut)) =
        (catalogue.thread(size), catalogue.head(kind, size), catalogue.nut(NutKind::Hex, size))
    else {
        return Err(0.0);
    };
    let head_washer = if flush { None } else { catalogue.washer(WasherKind::Large, size).cloned() };
    let clamped = before + to_nut + head_washer.as_ref().map_or(0.0, |washer| washer.thickness);
    let least = clamped + nut.height + thread.pitch;
    let length = head.length_from(least - SAME_LENGTH).ok_or(least)?;
    let proud = length - clamped - nut.height;
    Ok(Hardware {
        thread: thread.clone(),
        head: head.clone(),
        length,
        head_washer,
        nut_washers: Vec::new(),
        nut: Some(nut.clone()),
        proud,
    })
}

/// Least thread that a bolt has in the vehicle's, in diameters: as much as a nut is high. Common practice, no source.
const LEAST_ENGAGED: f64 = 1.0;

/// A hexagon bolt with a spreader washer through `stack` mm into a thread of the vehicle that is `depth` mm deep. The error
/// is the least length that would be needed, mm.
pub(crate) fn choose_into_thread(
    catalogue: &Catalogue,
    size: &str,
    stack: f64,
    depth: f64,
) -> Result<Hardware, f64> {
    let (Some(thread), Some(head)) = (catalogue.thread(size), catalogue.head(HeadKind::Hex, size)) else {
        return Err(0.0);
    };
    let head_washer = Some(catalogue.washer(WasherKind::Spreader, size).cloned().ok_or(0.0)?);
    let clamped = stack + head_washer.as_ref().map_or(0.0, |washer| washer.thickness);
    let least = clamped + LEAST_ENGAGED * thread.diameter;
    let length = head.length_from(least - SAME_LENGTH).ok_or(least)?;
    let engaged = length - clamped;
    if engaged > depth + SAME_LENGTH {
        return Err(least);
    }
    Ok(Hardware {
        thread: thread.clone(),
        head: head.clone(),
        length,
        head_washer,
        nut_washers: Vec::new(),
        nut: None,
        proud: engaged,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn need(size: &str, stack: f64) -> Need<'_> {
        Need {
            head: HeadKind::Button,
            size,
            stack,
            flush: false,
            under_head: Bearing::Metal,
            under_nut: Bearing::Metal,
            nuts: &[NutKind::Lock],
            room: None,
        }
    }

    #[test]
    fn lengths_follow_the_published_rule() {
        // M6, 36 mm, two washers 1.6, lock nut 8.0, one pitch: 49.2 -> 50 is within the window (0.8 proud of the
        // two pitches meant there); grip + washers + nut + 2P -> next nominal length (a generic rule, worked by hand).
        // M5, 24, two washers 1.0, nut 6.8: 34.4 -> 35; M6, 24: 37.2 -> 40.
        for (size, stack, length) in [("M6", 36.0, 50.0), ("M5", 24.0, 35.0), ("M6", 24.0, 40.0)] {
            let chosen = choose(Catalogue::built_in(), need(size, stack)).unwrap();
            assert!((chosen.length - length).abs() < 1e-9, "{size} {stack}: {}", chosen.length);
        }
        // 12 + 12, two washers 1.6, nut 6.0 (low form), at least 1.0 proud: 34.2 -> 35, 1.8 proud (common
        // practice, no source).
        let low =
            choose(Catalogue::built_in(), Need { nuts: &[NutKind::LowLock], ..need("M6", 24.0) }).unwrap();
        assert!((low.length - 35.0).abs() < 1e-9 && (low.proud - 1.8).abs() < 1e-9, "{low:?}");
    }

    #[test]
    fn a_bolt_into_the_vehicle_has_a_diameter_of_thread_and_does_not_reach_the_bottom() {
        // M8 through 12 of birch and a washer of 3: 15 + 8 = 23 -> 25, which goes 10 in.
        let bolt = choose_into_thread(Catalogue::built_in(), "M8", 12.0, 15.0).unwrap();
        assert!((bolt.length - 25.0).abs() < 1e-9 && (bolt.proud - 10.0).abs() < 1e-9, "{bolt:?}");
        assert!(bolt.nut.is_none() && bolt.nut_height().abs() < 1e-9);
        // Only 9 deep: the next shorter one, 20, would have no more than 5 of thread.
        let least = choose_into_thread(Catalogue::built_in(), "M8", 12.0, 9.0).unwrap_err();
        assert!((least - 23.0).abs() < 1e-9, "{least}");
    }

    #[test]
    fn the_thread_stands_one_to_three_pitches_proud_or_nothing_is_chosen() {
        for tenths in 30..900 {
            let stack = f64::from(tenths) / 10.0;
            if let Ok(h) = choose(Catalogue::built_in(), need("M5", stack)) {
                let threads = h.proud / h.thread.pitch;
                assert!((0.999..=3.001).contains(&threads), "stack {stack}: {threads}");
                assert!(h.nut_washers.len() <= 4);
            }
        }
        assert!(choose(Catalogue::built_in(), need("M5", 900.0)).is_err());
    }
}
