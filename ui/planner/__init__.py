"""What the page Planner edits and shows."""
