"""What is given away: the built package, its pins, and the licences of what it needs."""
