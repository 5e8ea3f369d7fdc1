//! Random numbers that are the same on every machine.
//!
//! Takes a seed, gives a stream of numbers; never reads a clock or the system's randomness. The generator is
//! xoshiro256++ seeded by splitmix64 (Blackman and Vigna, public domain, from memory). A page of our own stands
//! here rather than a crate because the stream is part of what makes a nesting repeatable: an update of a crate
//! that changes it would change every kit.

/// A stream of random numbers.
#[derive(Clone, Debug)]
pub(super) struct Random {
    state: [u64; 4],
}

impl Random {
    /// The stream of a seed. Seeds that differ by one give unrelated streams: splitmix64 stirs them.
    pub(super) fn new(seed: u64) -> Self {
        let mut counter = seed;
        let mut next = || {
            counter = counter.wrapping_add(0x9E37_79B9_7F4A_7C15);
            let mut mixed = counter;
            mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
            mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
            mixed ^ (mixed >> 31)
        };
        Random { state: [next(), next(), next(), next()] }
    }

    /// The next 64 bits.
    pub(super) fn bits(&mut self) -> u64 {
        let [a, b, c, d] = self.state;
        let result = a.wrapping_add(d).rotate_left(23).wrapping_add(a);
        let (c, d) = (c ^ a, d ^ b);
        self.state = [a ^ d, b ^ c, c ^ (b << 17), d.rotate_left(45)];
        result
    }

    /// A whole number from 0 up to, not including, `end`; 0 if `end` is 0. By multiplying and shifting: the
    /// bias is below one in 2^32 for the sizes here and of no consequence to a search.
    pub(super) fn below(&mut self, end: usize) -> usize {
        let high = u128::from(self.bits()) * (end as u128);
        usize::try_from(high >> 64).unwrap_or(0)
    }

    /// True in `parts` of `whole` cases.
    pub(super) fn chance(&mut self, parts: usize, whole: usize) -> bool {
        self.below(whole) < parts
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// xoshiro256++ from the state 1, 2, 3, 4. The first is plain arithmetic: rotl(1 + 4, 23) + 1.
    #[test]
    fn the_stream_is_that_of_the_generator() {
        let mut random = Random { state: [1, 2, 3, 4] };
        let first = [random.bits(), random.bits(), random.bits()];
        assert_eq!(first, [41_943_041, 58_720_359, 3_588_806_011_781_223]);
    }

    /// splitmix64 from 0 begins with this number.
    #[test]
    fn seeds_are_stirred() {
        assert_eq!(Random::new(0).state[0], 0xE220_A839_7B1D_CDAF);
        assert_ne!(Random::new(1).state, Random::new(2).state);
    }

    #[test]
    fn numbers_below_an_end_are_spread_evenly() {
        let mut random = Random::new(7);
        let mut counts = [0; 5];
        (0..10_000).for_each(|_| counts[random.below(5)] += 1);
        assert!(counts.iter().all(|count| (1850..2150).contains(count)), "{counts:?}");
        assert_eq!(random.below(0), 0);
        assert!((0..100).all(|_| random.chance(1, 1) && !random.chance(0, 3)));
    }
}
