"""Comparisons with something outside, one file for each subject; see ``compared.py``."""
