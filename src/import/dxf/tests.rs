//! Drawings as other programs write them, faults of every kind, and our own files read back.

use super::*;
