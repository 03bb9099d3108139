"""Who works where: crews by aircraft, skill, day and shift, from a slot plan."""
