"""The only places that import a solver; each takes the program as data."""
