"""What was held against what it must be: findings from measures, and how a page shows them."""
