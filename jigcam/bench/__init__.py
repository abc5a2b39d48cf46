"""The bench for guide bushings: sums, pairs, tolerance, test coupons, corrections from a test cut."""
