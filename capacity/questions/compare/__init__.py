"""Two plans of one base side by side."""
