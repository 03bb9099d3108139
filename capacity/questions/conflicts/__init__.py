"""Why rules leave a check no slot: the fewest rules that conflict, and ways out."""
