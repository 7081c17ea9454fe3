"""A lot: which sets to keep, complete or break, who gives what to whom, what to bid (contract §9)."""
