"""Checks of an output folder. Each takes a Kit and returns a list of faults, empty if there is none."""
