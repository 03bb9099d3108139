"""What the page Base manager asks and shows."""
