"""Charts as pure functions: plan values in, an Altair chart out. None of them knows a page."""
