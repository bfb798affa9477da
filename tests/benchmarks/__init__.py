"""Scripts that measure speed; none of them is a test."""
