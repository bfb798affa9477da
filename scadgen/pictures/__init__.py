"""Stills, section drawings and models for a viewer."""
