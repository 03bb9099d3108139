"""Where one unit more of something saves most."""
