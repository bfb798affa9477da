"""What a hinge is: fields with bounds, rules, derived values, registry, what kinds share."""
