"""Stills and section drawings."""
