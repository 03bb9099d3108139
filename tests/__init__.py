"""The tests; each folder mirrors one of the package, and three more stand beside them."""
