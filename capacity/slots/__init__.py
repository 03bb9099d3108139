"""From checks to slots: candidates, the program over them, and the search."""
