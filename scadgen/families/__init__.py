"""One file for each hinge family; a file put here is found by itself."""
