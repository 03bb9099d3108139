"""Several bases planned together: who takes the aircraft that any of them could take."""
