"""From a duty to values: candidates from small to large, and the smallest that bears it."""
