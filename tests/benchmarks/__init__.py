"""A script that measures speed, as ratios; its own tests measure nothing."""
