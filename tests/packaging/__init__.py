"""Tests of what a person installs and lives with: the wheel, OpenSCAD's library, the shell."""
