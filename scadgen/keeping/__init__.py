"""Files written whole or not at all, and a maker's edits that are never lost."""
