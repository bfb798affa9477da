"""The proof of a hinge: its verdict, the fleet of printers that make it, what gives way."""
