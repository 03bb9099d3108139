"""The crew plan as a CP-SAT model: variables that are asked, a rule a function, goals in turn."""
