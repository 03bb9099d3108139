"""The line between the search and its two sides."""
