"""What holds of every setting that the rules of a family let through, proven on boxes of them."""
