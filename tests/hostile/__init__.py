"""Files made to hurt, and valid ones damaged at random: each is read or refused within bounds."""
