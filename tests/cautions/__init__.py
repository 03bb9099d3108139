"""Cautions, incompatible work and critical work of one person."""
