"""TOML documents that people write, read within bounds."""
