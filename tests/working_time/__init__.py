"""Working-time rules over hand-made rosters and over crews."""
