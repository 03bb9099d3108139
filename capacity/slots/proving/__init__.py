"""The proving side: dual bounds."""
