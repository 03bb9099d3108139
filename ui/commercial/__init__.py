"""What the page Commercial asks and shows."""
