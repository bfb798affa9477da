"""Coupons: small prints of a family's interface at stepped values, and what is learnt from them."""
