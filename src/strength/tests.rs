//! Kits whose strength can be worked out by hand.
