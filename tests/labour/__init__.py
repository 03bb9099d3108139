"""The labour that there is, by hand."""
