"""A plan changed by hand: is a move legal, what does it cost, who is in the way."""
