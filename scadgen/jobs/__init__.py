"""What a maker asks for: jobs out of TOML, what they may hold, their JSON Schema."""
