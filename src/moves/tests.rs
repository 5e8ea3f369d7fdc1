//! Whole kits on their way in and out, held against sums by hand.
