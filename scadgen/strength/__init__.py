"""Strength of hinges: pure functions of floats or arrays, each with its source and its limits."""
