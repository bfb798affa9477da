"""Products: read, fitted, proven, drawn."""
