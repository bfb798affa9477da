"""Words and numbers as people and programs read them: quoting, units, templates."""
