"""Strength: formulas against figures from outside, and what must always hold."""
