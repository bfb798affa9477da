"""Pictures, drawings and the page, looked at as a reader would."""
