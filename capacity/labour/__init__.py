"""Man-hours there are: the calendar, the shifts on their cycle, the crews' hours."""
