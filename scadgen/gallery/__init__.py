"""What makers look at before they read: stills and section drawings."""
