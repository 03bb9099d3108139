"""The finding side: large-neighbourhood search over candidates."""
