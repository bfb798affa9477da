"""Inspecting models: reading them, their bodies, their axis, and the verdict on them."""
