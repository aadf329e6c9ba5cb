"""A night opened: plan, site and kit brought together, everything that depends on the sky worked out once."""
