"""The gallery's page in a real browser. The page is the one in gallery/, opened from the disk."""
