//! Loose parts laid on sheets: grain, turns, materials, names, and the examples of every rule.
